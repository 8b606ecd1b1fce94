"""A field as the planner read it, and the plans that were made of it."""

import hashlib
import json
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from lakemap.basis.records import Float
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.planner.planned import Base, Planned, planned
from lakemap.replanned import Plan, plan_of, replanned
from lakemap.saving.records import Stamp
from lakemap.saving.stamps import stamp_of

_KEPT: Final = 8  # plans at hand, so that a step back is as quick as a step on


@dataclass(frozen=True, slots=True)
class Made:
    """One plan: what was asked for, and the field with it."""

    planned: Planned
    plan: Plan


@dataclass(slots=True)
class Reading:
    """A folder as it was read once; plans are answered from the nearest one at hand."""

    folder: Path
    stamp: Stamp
    saved: Plan
    base: Base
    key: str  # the stamp in one word, by which a page names this reading
    _kept: "OrderedDict[int, Made]" = field(default_factory=OrderedDict)
    _count: int = 0

    @classmethod
    def of(cls, folder: Path) -> "Reading":
        """Read and assess a folder.

        Parameters
        ----------
        folder : Path
            A field's.

        Returns
        -------
        Reading
            Without a plan.

        Raises
        ------
        BadInputError
            As `read_field` and `assess` do.
        """
        stamp = stamp_of(folder)
        assessment = assess(read_field(folder))
        return cls(
            folder=folder,
            stamp=stamp,
            key=_word(stamp),
            saved=plan_of(assessment),
            base=Base(
                field=assessment.field,
                projection=assessment.projection,
                sounded=assessment.surface is not None,
            ),
        )

    def made(self, changes: Mapping[str, Any], *, sized: bool) -> Made:
        """Return the field with a plan's changes.

        Parameters
        ----------
        changes : mapping
            As `planned` takes them.
        sized : bool
            False leaves rigs that changed since the nearest plan at hand as they were.

        Returns
        -------
        Made
            Of these changes.
        """
        wanted = planned(self.base, changes)
        start, differing = self._nearest(wanted)
        if sized:
            differing |= {
                i: wanted.floats.get(i, self._of_file(i))
                for i in start.unsized
                if i not in differing
            }
        made = Made(wanted, replanned(start, differing, sized=sized))
        if sized:
            self._keep(made)
        return made

    def _of_file(self, index: int) -> Float:
        return self.base.field.floats[index]

    def _nearest(self, wanted: Planned) -> tuple[Plan, dict[int, Float]]:
        """The plan at hand that needs the fewest changes, and these."""
        best = self.saved, dict(wanted.floats)
        for made in self._kept.values():
            differing = self._between(made.planned.floats, wanted.floats)
            if differing is not None and len(differing) < len(best[1]):
                best = made.plan, differing
        return best

    def _between(
        self, has: Mapping[int, Float], wanted: Mapping[int, Float]
    ) -> dict[int, Float] | None:
        """What leads from one plan to another; None where a float would have to go."""
        count = len(self.base.field.floats)
        if any(i >= count and i not in wanted for i in has):
            return None
        back = {i: self._of_file(i) for i in has if i not in wanted}
        return back | {i: one for i, one in wanted.items() if has.get(i) != one}

    def _keep(self, made: Made) -> None:
        self._count += 1
        self._kept[self._count] = made
        while len(self._kept) > _KEPT:
            self._kept.popitem(last=False)


def _word(stamp: Stamp) -> str:
    listed = json.dumps(sorted(stamp.files.items()))
    return hashlib.sha256(listed.encode("utf-8")).hexdigest()[:20]
