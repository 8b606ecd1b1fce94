"""Chain in print: working loads and breaking forces by size and grade, links and weights."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from lakemap.basis.published import Published, exact
from lakemap.rig.trade import trade_size

_CFR: Final = "49 CFR 393.108, cargo securement: working load limits of chain"
_MAKERS: Final = (
    "chain makers' Welded Steel Chain Specifications, 2003, as a chain seller prints them"
    " (secondary source)"
)
_UK: Final = "a UK chain catalogue's sheets to DIN 766 and DIN 763"
_A413: Final = "ASTM A413/A413M-21, carbon steel chain"
_TRADE: Final = "catalogue weights of Grade 30 proof coil chain"

STEEL_KG_M3: Final = exact(7850.0, "kg/m3", "handbooks: density of steel, 490 lb/ft3", "steel")
# design factor = breaking over working load; Grade 43 has another one than its neighbours
CHAIN_FACTOR: Final[Mapping[int, Published]] = MappingProxyType(
    {
        30: exact(4.0, "", _MAKERS, "Grade 30: 4 to 1"),
        43: exact(3.0, "", _MAKERS, "Grade 43: 3 to 1"),
        70: exact(4.0, "", _MAKERS, "Grade 70: 4 to 1"),
    }
)
PROOF_OVER_WORKING: Final = exact(2.0, "", _MAKERS, "Grades 30, 43 and 70")
CHAIN_UNMARKED_GRADE: Final = exact(30, "grade", _CFR, "(d): chain without a mark is Grade 30")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainRow:
    """One size of one grade of chain."""

    size: str
    grade: int
    factor: Published
    breaking: Published
    working: Published | None  # as printed; None: the table prints breaking forces alone


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkRow:
    """The shape of one size's links, and what a metre of it weighs."""

    bar: Published  # mm; the trade size of inch chain is a name, not its bar
    pitch: Published  # mm, inside length
    width: Published  # mm, inside
    weight: Published | None  # lb per 100 ft or kg/m; None: as the link formula has it


def _inch_row(size: str, grade: int, pounds: int) -> ChainRow:
    factor = CHAIN_FACTOR[grade]
    rare = size in {"1/8 in", "3/16 in", "3/4 in"}
    source, table = (_MAKERS, f"Grade {grade}") if rare else (_CFR, f"table, Grade {grade}")
    return ChainRow(
        size=size,
        grade=grade,
        factor=factor,
        working=exact(float(pounds), "lbf", source, f"{table}, {size}"),
        breaking=exact(
            factor.value * pounds,
            "lbf",
            f"{source}, times {factor.value:g} as the {factor.source}",
            f"{table}, {size}",
        ),
    )


# size, then pounds at Grade 30, 43, 70
_INCH: Final[tuple[tuple[str, Mapping[int, int]], ...]] = (
    ("1/8 in", {30: 400}),
    ("3/16 in", {30: 800}),
    ("1/4 in", {30: 1300, 43: 2600, 70: 3150}),
    ("5/16 in", {30: 1900, 43: 3900, 70: 4700}),
    ("3/8 in", {30: 2650, 43: 5400, 70: 6600}),
    ("7/16 in", {30: 3700, 43: 7200, 70: 8750}),
    ("1/2 in", {30: 4500, 43: 9200, 70: 11300}),
    ("5/8 in", {30: 6900, 43: 13000, 70: 15800}),
    ("3/4 in", {30: 10600, 43: 20200, 70: 24700}),
)
# size, pitch and outside width in mm, least breaking force in kN, kg/m, working load in kg
_SHORT: Final = (
    ("6 mm", 18.5, 20.4, 16, 0.8, 400),
    ("8 mm", 24, 27.2, 32, 1.4, 800),
    ("10 mm", 28, 36, 50, 2.3, 1250),
    ("13 mm", 36, 47, 80, 3.9, 2000),
    ("16 mm", 45, 58, 125, 5.8, 3200),
)
_LONG: Final = (
    ("6 mm", 42, 25.2, 14, 0.63, None),
    ("8 mm", 52, 33.6, 25, 1.1, None),
    ("10 mm", 65, 42, 32, 1.75, None),
    ("13 mm", 82, 54.6, 63, 2.95, None),
    ("16 mm", 100, 67.2, 100, 4.45, None),
)
# size, true bar, largest inside length, least inside width in mm, usual lb per 100 ft
_PROOF_COIL: Final = (
    ("3/16 in", 5.5, 24.8, 7.7, None),
    ("1/4 in", 7.0, 31.5, 9.8, 63.0),
    ("5/16 in", 8.4, 32.8, 11.2, 92.4),
    ("3/8 in", 10.0, 35.0, 14.0, 146.0),
    ("1/2 in", 13.0, 45.5, 18.2, 253.0),
    ("5/8 in", 16.0, 56.0, 20.0, 395.0),
    ("3/4 in", 20.0, 70.0, 25.0, 575.0),
)
_MetricRows = tuple[tuple[str, float, float, float, float, int | None], ...]


def _metric_chain(rows: _MetricRows, standard: str) -> Mapping[str, ChainRow]:
    found = {}
    for size, _, _, force, _, load in rows:
        where = f"{standard}, {size}"
        found[size] = ChainRow(
            size=size,
            grade=30,
            factor=CHAIN_FACTOR[30],
            breaking=exact(float(force), "kN", _UK, where),
            working=None if load is None else exact(float(load), "kg", _UK, where),
        )
    return MappingProxyType(found)


def _metric_links(rows: _MetricRows, standard: str) -> Mapping[str, LinkRow]:
    found = {}
    for size, pitch, outside, _, mass, _ in rows:
        bar, where = float(trade_size(size).number), f"{standard}, {size}"
        found[size] = LinkRow(
            bar=exact(bar, "mm", _UK, where),
            pitch=exact(pitch, "mm", _UK, where),
            width=exact(outside - 2 * bar, "mm", _UK, f"{where}, outside width less two bars"),
            weight=exact(mass, "kg/m", _UK, where),
        )
    return MappingProxyType(found)


def _proof_coil() -> Mapping[str, LinkRow]:
    memory = f"{_A413} and the trade's metric bars (from memory)"
    found = {}
    for size, bar, longest, narrowest, pounds in _PROOF_COIL:
        source = "secondary source" if size == "5/16 in" else "from memory"
        found[size] = LinkRow(
            bar=exact(bar, "mm", memory, f"{size}, the bar sold under that name"),
            pitch=exact(longest, "mm", memory, f"{size}, largest inside length"),
            width=exact(narrowest, "mm", memory, f"{size}, least inside width"),
            weight=None
            if pounds is None
            else exact(pounds, "lb/100 ft", f"{_TRADE} ({source})", size),
        )
    return MappingProxyType(found)


# by pattern and grade, then by size; short is DIN 766, long DIN 763, inch proof coil and the like
CHAIN: Final[Mapping[tuple[str, int], Mapping[str, ChainRow]]] = MappingProxyType(
    {
        **{
            ("inch", grade): MappingProxyType(
                {
                    size: _inch_row(size, grade, pounds[grade])
                    for size, pounds in _INCH
                    if grade in pounds
                }
            )
            for grade in CHAIN_FACTOR
        },
        ("short", 30): _metric_chain(_SHORT, "DIN 766"),
        ("long", 30): _metric_chain(_LONG, "DIN 763"),
    }
)
LINKS: Final[Mapping[str, Mapping[str, LinkRow]]] = MappingProxyType(
    {
        "inch": _proof_coil(),
        "short": _metric_links(_SHORT, "DIN 766"),
        "long": _metric_links(_LONG, "DIN 763"),
    }
)
# proof coil runs from 3.1 to 3.5 bars of pitch; its inside width is about 1.4 bars
LINK_PITCH: Final = Published(
    value=3.3, unit="bars", low=3.1, high=3.5, source="ours: the middle", locator="proof coil"
)
LINK_WIDTH: Final = exact(1.4, "bars", "ours: as the printed links have it", "proof coil")
CHAIN_WEIGHT_SPREAD: Final = exact(
    0.08, "", "ours: the spread of catalogue weights of one size", "any chain not weighed"
)
