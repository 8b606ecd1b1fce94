"""Strength of chain and cable by trade size, and what of a strength may be used."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published, exact
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.rig.cable_tables import CABLE, CableRow, Finish
from lakemap.rig.chain_tables import CHAIN, CHAIN_FACTOR
from lakemap.rig.trade import TradeSize, newtons, row_of, trade_size

_UFC: Final = "UFC 4-159-03, Moorings, 2005, table 3-7, quasi-static"
_B30: Final = "ASME B30.26-2010, rigging hardware"
CABLE_CONSTRUCTION: Final = "7x19"

# the absorber's own factor; scaffold rope is the only published one for a cable that must not part
ABSORBER_FACTOR: Final = exact(
    10.0,
    "",
    "ours: after WAC 296-870-70085, suspended-scaffold rope, at least 10",
    "absorber cable",
)
# working loads of unlike factors must not be ranked: put the breaking loads on this one first
COMMON_FACTOR: Final = exact(5.0, "", f"ours: that of {_B30}", "to compare unlike parts")
# what others ask of new breaking strength; quasi-static, so none of them covers a snatch
SAFETY_FACTORS: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "mooring chain, straight": exact(3.0, "", _UFC, "chain"),
        "mooring chain, around bends": exact(4.0, "", _UFC, "chain"),
        "mooring wire rope": exact(3.0, "", _UFC, "wire rope"),
        "mooring synthetic rope": exact(3.0, "", _UFC, "synthetic; wet nylon loses 15 %"),
        "chain, grade 30": CHAIN_FACTOR[30],
        "chain, grade 43": CHAIN_FACTOR[43],
        "chain, grade 70": CHAIN_FACTOR[70],
        "shackles and links": exact(5.0, "", _B30, "26-1.2"),
        "wire rope": exact(5.0, "", "Michigan R 408.15226", "at least"),
        "suspended-scaffold rope": exact(10.0, "", "WAC 296-870-70085", "at least"),
        "absorber cable": ABSORBER_FACTOR,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """What a new part breaks at in a straight pull, and what it may carry."""

    value: float  # breaking [N]
    unit: str
    source: str
    locator: str
    factor: float  # of the part's own standard
    working: float  # value over factor [N]


def _strength(printed: Published, factor: Published) -> Strength:
    return Strength(
        value=newtons(printed),
        unit="N",
        source=printed.source,
        locator=printed.locator,
        factor=factor.value,
        working=float(working_load(newtons(printed), factor=factor.value)),
    )


def chain_strength(
    size: str, grade: float, *, link: Literal["short", "long"] = "short"
) -> Strength:
    """Return what a new chain breaks at.

    Source: 49 CFR 393.108 from 1/4 to 5/8 in, the chain makers' specification beyond, times their
    factor (4, Grade 43: 3); catalogue to DIN 766 (short link) and DIN 763 (long) in mm.

    Parameters
    ----------
    size : str
        Trade size, such as `3/8 in` or `10 mm`.
    grade : float
        30, 43 or 70; in mm 30 alone.
    link : {'short', 'long'}
        Of chain in mm.

    Returns
    -------
    Strength
        Breaking and working load [N].

    Raises
    ------
    RangeError
        If no table has that size and grade; names those that exist.
    """
    pattern = "inch" if trade_size(size).unit == "in" else link
    grades = [known for kind, known in CHAIN if kind == pattern]
    if grade not in grades:
        exist = ", ".join(f"{known} ({', '.join(CHAIN[pattern, known])})" for known in grades)
        raise RangeError(
            f"no published strength for chain {trade_size(size).name} of grade {grade:g};"
            f" there are grades {exist}"
        )
    row = row_of(CHAIN[pattern, int(grade)], size, what=f"grade {grade:g} chain")
    return _strength(row.breaking, row.factor)


def cable_strength(size: str, construction: str, finish: str) -> Strength:
    """Return what new, straight cable breaks at, one part of it.

    Source: FAA AC 43.13-1B, 1998, table 7-3 in inches; a catalogue to AS 3569 in mm.

    Parameters
    ----------
    size : str
        Diameter, such as `5/16 in` or `8 mm`.
    construction : str
        `7x19`; no other is in the tables.
    finish : str
        `galvanised` or `stainless`; in mm galvanised alone.

    Returns
    -------
    Strength
        Breaking load [N], and the tenth of it that an absorber may carry.

    Raises
    ------
    RangeError
        If no table has that size, construction and finish; names those that exist.
    """
    if construction.replace("×", "x").replace(" ", "") != CABLE_CONSTRUCTION:
        raise RangeError(
            f"no published strength for {construction} cable; there is {CABLE_CONSTRUCTION}"
        )
    found = _cable_row(trade_size(size), finish)
    return _strength(found.breaking, ABSORBER_FACTOR)


def _cable_row(size: TradeSize, finish: str) -> CableRow:
    finishes: dict[str, Finish] = {"galvanised": "galvanised", "galvanized": "galvanised"}
    finishes["stainless"] = "stainless"
    if finish not in finishes:
        raise RangeError(
            f"no published strength for {finish} cable; there are galvanised and stainless"
        )
    named = finishes[finish]
    row = CABLE[size.unit, named].get(size.name)
    if row is None:
        exist = [name for unit in ("in", "mm") for name in CABLE[unit, named]]
        raise RangeError(
            f"no published strength for {named} {CABLE_CONSTRUCTION} cable {size.name};"
            f" there are {', '.join(exist)}"
        )
    return row


def working_load(breaking_n: ArrayLike, *, factor: ArrayLike) -> FloatArray:
    """Return what a part may carry: breaking strength over the factor of its own standard.

    Parameters
    ----------
    breaking_n : array_like
        Strength as rigged [N]; NaN unknown.
    factor : array_like
        Of the part's own standard.

    Returns
    -------
    ndarray
        Load [N].
    """
    return np.asarray(np.asarray(breaking_n, dtype=np.float64) / np.asarray(factor))


WORKING_LOAD: Final = Formula(
    key="working_load",
    name="Working strength",
    symbol="W",
    words="W = B/f",
    unit="N",
    source="f of the part's own standard; 10 for absorber cable is ours",
    terms={
        "breaking_n": Term(symbol="B", name="breaking strength", unit="N"),
        "factor": Term(symbol="f", name="factor of its standard", unit=""),
    },
    law=working_load,
)


def used_share(load_n: ArrayLike, *, working_n: ArrayLike) -> FloatArray:
    """Return how much of its working strength a load takes.

    Parameters
    ----------
    load_n : array_like
        Highest pull [N]; NaN unknown.
    working_n : array_like
        Working strength [N], > 0; NaN unknown.

    Returns
    -------
    ndarray
        1 where the two are equal.
    """
    return np.asarray(np.asarray(load_n, dtype=np.float64) / np.asarray(working_n))


USED: Final = Formula(
    key="used",
    name="Share of the working strength used",
    symbol="u",
    words="u = P/W",
    unit="",
    source="ours: the part with the largest share is the weak link",
    terms={
        "load_n": Term(symbol="P", name="highest pull in the line", unit="N"),
        "working_n": Term(symbol="W", name="working strength", unit="N"),
    },
    law=used_share,
)
