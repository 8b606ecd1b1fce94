"""Looking for the best places in a process of its own, so that a drag never waits for it."""

from collections.abc import Callable, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Final

import shapely

from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Field
from lakemap.basis.wording import length_text, measure_text
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.drawn.packed import packed_rings
from lakemap.outputs.drawn.scene import cm
from lakemap.outputs.sites.words import limit_words
from lakemap.planner.asked import changes_of, text_of
from lakemap.planner.planned import Base, kind_of, planned
from lakemap.planner.reading import Reading
from lakemap.replanned import plan_of, replanned
from lakemap.sites import best_places
from lakemap.siting.records import Site, SiteAsk

_COUNT: Final = 12
_LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_FINE_SHARE: Final = 1 / 2500  # of the lake's longer side: under half a pixel of a full screen


class Places:
    """The search for places, one at a time; a new question ends interest in the old one.

    Parameters
    ----------
    folder : Path
        Of the field.
    search : callable, optional
        Does the work; it must be importable by name in another process.
    """

    def __init__(self, folder: Path, search: Callable[..., dict[str, Any]] | None = None) -> None:
        self._folder = folder
        self._search = search or search_places
        self._pool: ProcessPoolExecutor | None = None
        self._asked: tuple[Any, ...] | None = None
        self._work: Future[dict[str, Any]] | None = None

    def answer(self, reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
        """Begin a search, or tell how it stands.

        Parameters
        ----------
        reading : Reading
            The field as saved.
        body : mapping
            `changes`, `like`.

        Returns
        -------
        dict
            JSON-able: `state`, and the places once it is done.

        Raises
        ------
        BadInputError
            If the body is not of that form.
        """
        changes, like = dict(changes_of(body)), text_of(body, "like")
        planned(reading.base, changes)  # tells what can't be read before any work begins
        asked = (reading.key, repr(sorted(changes.items())), like)
        if asked != self._asked or self._work is None:
            self.close()
            self._asked = asked
            self._pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"))
            self._work = self._pool.submit(self._search, self._folder, changes, like)
        return self._state()

    def _state(self) -> dict[str, Any]:
        work = self._work
        if work is None or not work.done():
            return _answer("working", "Looking at the water; a large lake takes a minute or more.")
        error = work.exception()
        if isinstance(error, BadInputError):
            return _answer("failed", "; ".join(problem.text for problem in error.problems))
        if error is not None:
            self.close()
            return _answer("failed", "The search broke off. Ask again.")
        return work.result()

    def close(self) -> None:
        """End the search and its process."""
        pool, self._pool, self._work, self._asked = self._pool, None, None, None
        if pool is not None:
            for process in (pool._processes or {}).values():  # noqa: SLF001 - no public way in 3.11
                process.terminate()
            pool.shutdown(wait=False, cancel_futures=True)


def _answer(
    state: str,
    says: str,
    sites: list[dict[str, Any]] | None = None,
    allowed: Any = None,  # noqa: ANN401 - rings
) -> dict[str, Any]:
    return {"state": state, "says": says, "sites": sites or [], "allowed": allowed or []}


def search_places(folder: Path, changes: Mapping[str, Any], like: str | None) -> dict[str, Any]:
    """Find the best places for a new float in a plan.

    Parameters
    ----------
    folder : Path
        Of the field.
    changes : mapping
        The plan.
    like : str or None
        A float whose kind is looked for; None: the commonest deck.

    Returns
    -------
    dict
        JSON-able, as the page takes it.

    Raises
    ------
    BadInputError
        If the folder can't be read, or has no soundings.
    """
    saved = assess(read_field(folder))
    base = Base(field=saved.field, projection=saved.projection, sounded=saved.surface is not None)
    plan = replanned(plan_of(saved), planned(base, changes).floats, sized=False)
    assessment = assess(plan.assessment.field)
    ask = SiteAsk(like=kind_of(assessment, like), count=_COUNT)
    _, allowed, sites = best_places(assessment, ask)
    west, south, east, north = assessment.water.bounds
    fine = max(east - west, north - south) * _FINE_SHARE
    count = f"{len(sites)} place{'s' * (len(sites) != 1)}, the best first"
    return _answer(
        "done",
        count if sites else "There is no place left where one more float may lie.",
        [_told(one, assessment.field) for one in sites],
        packed_rings(shapely.simplify(allowed, fine)),
    )


def _told(one: Site, field: Field) -> dict[str, Any]:
    units = field.settings.units
    spare = length_text(one.least_spare_m, units, rounding="down")
    limit = one.limited_by
    if limit.startswith("site "):
        limit = f"place {_LETTERS[int(limit.removeprefix('site ')) - 1]}"
    else:
        limit = limit_words(limit, field)
    return {
        "name": _LETTERS[one.rank - 1],
        "x": one.x_m,
        "y": one.y_m,
        "r": cm(one.swing_radius_m),
        "says": f"{measure_text(one.depth_m, units)} deep",
        "then": f"{spare} to spare, limited by {limit}",
    }
