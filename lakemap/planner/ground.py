"""The drawing page and its answers: lake, islands, zones and depths of one folder."""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from os import PathLike
from pathlib import Path
from typing import Any, Final

from lakemap.basis.errors import BadInputError, Problem
from lakemap.planner.ground_check import check_answer
from lakemap.planner.ground_data import ground_data
from lakemap.planner.ground_drawing import Drawing, read_drawing
from lakemap.planner.ground_fix import fix_answer, start_answer
from lakemap.planner.ground_page import ground_html
from lakemap.planner.ground_picture import drop_picture, keep_picture, kept_picture
from lakemap.planner.ground_reading import (
    GroundReading,
    lacks_lake,
    read_ground,
    stamp_key,
    stamp_now,
)
from lakemap.planner.ground_save import save_drawing

_READINGS: Final = 4  # kept: pages that are open may rest on older ones


class Ground:
    """The drawing page of one folder.

    Parameters
    ----------
    folder : str or path
        Of a field, or where one is to be.
    """

    def __init__(self, folder: str | PathLike[str]) -> None:
        self._folder = Path(folder)
        self._readings: OrderedDict[str, GroundReading] = OrderedDict()
        self._asks: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
            "ground-check": self._check,
            "ground-fix": fix_answer,
            "ground-start": start_answer,
            "ground-save": self._save,
            "ground-keep": self._keep,
            "ground-drop": self._drop,
            "ground-picture": lambda _body: kept_picture(self._folder),
        }

    @property
    def lacks_lake(self) -> bool:
        """True where the folder has no lake yet, so that it has to be drawn first."""
        return lacks_lake(self._folder)

    def page(self) -> str:
        """Return the page, with the folder as it is now.

        Returns
        -------
        str
            HTML.

        Raises
        ------
        BadInputError
            If what stands in the folder can't be read.
        """
        reading = self._read()
        verb = "Drawing" if reading.assessment is None else "Editing"
        return ground_html(ground_data(reading), f"{verb}: {reading.name}")

    def answer(self, name: str, body: Mapping[str, Any]) -> dict[str, Any]:
        """Answer one ask of the page.

        Parameters
        ----------
        name : str
            Begins with `ground-`.
        body : mapping
            As the page sent it.

        Returns
        -------
        dict
            JSON-able.

        Raises
        ------
        BadInputError
            If the ask is not known, its body is not what it should be, or it can't be done.
        """
        if name not in self._asks:
            raise BadInputError(
                [Problem(code="unknown_ask", text=f"nothing here answers {name!r}")]
            )
        return self._asks[name](body)

    def _read(self) -> GroundReading:
        reading = read_ground(self._folder)
        self._readings[reading.key] = reading
        while len(self._readings) > _READINGS:
            self._readings.popitem(last=False)
        return reading

    def _of(self, body: Mapping[str, Any]) -> GroundReading:
        """The reading that a page rests on; read anew where the planner was started since."""
        wanted = str(body.get("stamp"))
        if wanted in self._readings:
            return self._readings[wanted]
        if stamp_key(stamp_now(self._folder)) == wanted:
            return self._read()
        text = "the files have changed since this page was loaded; load it again"
        raise BadInputError([Problem(code="stale", text=text)])

    def _drawing(self, body: Mapping[str, Any]) -> Drawing:
        given = body.get("drawing")
        return read_drawing(given if isinstance(given, Mapping) else {})

    def _check(self, body: Mapping[str, Any]) -> dict[str, Any]:
        return check_answer(self._drawing(body), self._of(body).assessment)

    def _save(self, body: Mapping[str, Any]) -> dict[str, Any]:
        return save_drawing(self._of(body), self._drawing(body))

    def _keep(self, body: Mapping[str, Any]) -> dict[str, Any]:
        return {"kept": keep_picture(self._folder, body)}

    def _drop(self, _body: Mapping[str, Any]) -> dict[str, Any]:
        drop_picture(self._folder)
        return {}
