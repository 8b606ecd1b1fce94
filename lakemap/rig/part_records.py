"""One part of a rig: its strength as far as one is published, and what to know about it."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.errors import RangeError
from lakemap.basis.records import Fitting
from lakemap.rig.fitting_tables import (
    EYE_BOLT_CAREFUL_STEPS,
    EYE_BOLT_STEPS,
    FITTINGS,
    SHACKLE_SIDE_STEPS,
    AngleStep,
    fitting_breaking,
)
from lakemap.rig.hardware import chain_strength
from lakemap.rig.trade import trade_size

# words before the name of a fitting that change nothing in its table
_PLAIN_WORDS: Final = (
    "forged",
    "shoulder",
    "shouldered",
    "galvanised",
    "galvanized",
    "anchor",
    "bow",
    "screw-pin",
    "screw",
    "pin",
)
_KINDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "eye bolt": "eye bolt",
        "eyebolt": "eye bolt",
        "shackle": "shackle",
        "link": "master link",
        "master link": "master link",
        "swivel": "swivel",
        "turnbuckle": "turnbuckle",
    }
)
_OTHER_METALS: Final[Mapping[str, str]] = MappingProxyType(
    {"stainless": "stainless", "bronze": "bronze", "brass": "naval brass", "copper": "copper"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of a line, new."""

    name: str
    size: str
    metal: str  # a key of the galvanic series; galvanised where nothing else is said
    breaking_n: float  # pulled straight; NaN where no strength is published
    factor: float  # of its own standard; NaN where none is published
    reductions: str  # what lowers its strength, in words; blank: nothing
    source: str  # of the strength; blank where none is published
    known: bool  # whether a strength is published
    by_angle: bool = False  # whether the angle of the pull lowers it further
    assumed: bool = False  # nobody gave it


def _steps_text(steps: tuple[AngleStep, ...]) -> str:
    return ", ".join(f"{step.share.value:.0%} to {step.to_deg:g}°" for step in steps).replace(
        "%", " %"
    )


_REDUCTIONS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "eye bolt": (
            f"by the angle from its axis, in the plane of its eye: {_steps_text(EYE_BOLT_STEPS)};"
            f" a more careful scale has {_steps_text(EYE_BOLT_CAREFUL_STEPS)};"
            " out of that plane nothing is rated"
        ),
        "shackle": f"by a pull from the side: {_steps_text(SHACKLE_SIDE_STEPS)}; none counted",
    }
)


def metal_of(name: str) -> str:
    """Return the metal that a part's name tells.

    Parameters
    ----------
    name : str
        As written.

    Returns
    -------
    str
        A key of the galvanic series; galvanised where the name says nothing.
    """
    for word, metal in _OTHER_METALS.items():
        if word in name.lower().split():
            return metal
    return "galvanised"


def kind_of(name: str) -> str | None:
    """Return which table a fitting's name belongs to.

    Parameters
    ----------
    name : str
        As written, such as `anchor shackle`.

    Returns
    -------
    str or None
        A key of `FITTINGS`; None for stainless, plain or bent ones and all else without a table.
    """
    words = [word for word in name.lower().split() if word not in _PLAIN_WORDS]
    return _KINDS.get(" ".join(words))


def fitting_part(fitting: Fitting, *, assumed: bool = False) -> Part:
    """Return one fitting as a part.

    Parameters
    ----------
    fitting : Fitting
        As written; its count doesn't matter here.
    assumed : bool
        Whether nobody gave it.

    Returns
    -------
    Part
        Without a strength where none is published for it.
    """
    kind = kind_of(fitting.name)
    row = None
    if kind is not None:
        row = FITTINGS[kind].get(trade_size(fitting.size).name)
    return Part(
        name=fitting.name,
        size=fitting.size,
        metal=metal_of(fitting.name),
        breaking_n=np.nan if row is None else fitting_breaking(row),
        factor=np.nan if row is None else row.factor,
        reductions="" if row is None else _REDUCTIONS.get(row.kind, ""),
        source="" if row is None else f"{row.breaking.source}, {row.breaking.locator}",
        known=row is not None,
        by_angle=row is not None and row.kind == "eye bolt",
        assumed=assumed,
    )


def chain_part(where: str, size: str, grade: int, *, assumed: bool) -> Part:
    """Return riser or ground chain as a part.

    Parameters
    ----------
    where : str
        `riser` or `ground`.
    size : str
        Trade size.
    grade : int
        30, 43 or 70.
    assumed : bool
        Whether nobody gave the size.

    Returns
    -------
    Part
        Without a strength where none is published for that size and grade.
    """
    try:
        strength = chain_strength(size, grade)
    except RangeError:
        strength = None
    return Part(
        name=f"{where} chain",
        size=f"{size}, grade {grade}",
        metal="galvanised",
        breaking_n=np.nan if strength is None else strength.value,
        factor=np.nan if strength is None else strength.factor,
        reductions="",
        source="" if strength is None else f"{strength.source}, {strength.locator}",
        known=strength is not None,
        assumed=assumed,
    )
