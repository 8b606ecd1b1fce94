"""What a sheet's page is made of; every writer draws these, and only these.

All text is plain data: writers escape it, and nothing in it is ever run or taken for a mark-up.
"""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

SheetKind = Literal["setting", "inspection", "lifting", "member"]
KINDS: Final[tuple[SheetKind, ...]] = ("setting", "inspection", "lifting", "member")
TICK: Final = "\N{BALLOT BOX}"  # in any text: an empty box to tick, drawn as one


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The title of a part of a page."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Para:
    """Sentences that belong together."""

    text: str
    look: Literal["plain", "strong", "quiet"] = "plain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """What to do, in order: each numbered, with a box to tick."""

    steps: tuple[str, ...]
    first: int = 1  # where the numbers begin, for steps that go on under a second heading


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Names and values, a line each."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under a header. An empty cell is a blank to write in."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()  # shares of the width; (): as the words need it
    tall: bool = False  # rows high enough to write in by hand

    def __post_init__(self) -> None:
        """Check that every row has a cell under each head."""
        wide = len(self.header)
        if any(len(row) != wide for row in self.rows) or len(self.widths) not in {0, wide}:
            raise ValueError(f"a table of {wide} heads has rows or widths of another length")


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A drawing; its SVG was made by this package, with every text in it escaped."""

    svg: str  # one whole <svg> element with a viewBox
    alt: str  # what it shows, for those who can't see it
    caption: str = ""
    share: float = 1.0  # of the width of the column it stands in, in whole per cent


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A blank to fill in by hand."""

    label: str
    unit: str = ""  # printed behind the line
    value: str = ""  # what is known already, printed on the line
    choices: tuple[str, ...] = ()  # boxes to tick instead of a line
    lines: int = 1  # to write on
    wide: bool = False  # takes a row of its own


@dataclass(frozen=True, slots=True, kw_only=True)
class Fields:
    """Blanks to fill in by hand, side by side in columns."""

    fields: tuple[Field, ...]
    columns: int = 2  # 12 at most


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautions:
    """What to take care of, in a frame that is seen first."""

    texts: tuple[str, ...]
    title: str = "Take care"
    look: Literal["care", "conflict"] = "care"


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """Two columns; below one another on a phone."""

    left: tuple["Block", ...]
    right: tuple["Block", ...]
    share: float = 0.5  # of the width for the left one, in whole per cent


Block: TypeAlias = Heading | Para | Steps | Rows | Table | Figure | Fields | Cautions | Beside


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPage:
    """One float's page. Above the blocks stands a strip: number, lake, level, date of the data."""

    kind: SheetKind
    float_id: str
    title: str  # what the sheet is for: Setting sheet
    under: tuple[str, ...]  # lines under the title
    lake: str  # the field's name
    facts: tuple[str, ...]  # right end of the strip: the level reckoned with, the date of the data
    blocks: tuple[Block, ...]
    footer: str = ""
