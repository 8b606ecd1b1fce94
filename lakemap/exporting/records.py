"""What is written out: tables of typed columns, with shapes where they are layers of a map."""

from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

# a name is the text by which something is called, such as a float's number
Kind = Literal["text", "name", "number", "count", "flag", "date"]


def _no_shapes() -> NDArray[Any]:
    return np.empty(0, dtype=object)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column; its name carries its unit."""

    name: str
    kind: Kind = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of one kind of thing. None in a row is blank."""

    name: str
    about: str  # a sentence for who opens the file
    columns: tuple[Column, ...]
    rows: tuple[tuple[object, ...], ...]
    shapes: NDArray[Any] = field(default_factory=_no_shapes)  # one to a row, lon, lat; layers only
    titles: tuple[str, ...] = ()  # of the rows, for people; layers only
    says: tuple[str, ...] = ()  # a sentence or more about each row; layers only

    def column(self, name: str) -> list[object]:
        """Return the values of one column."""
        at = [column.name for column in self.columns].index(name)
        return [row[at] for row in self.rows]


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """A field as it goes out."""

    name: str
    dated: str  # year-month-day, or blank
    about: str
    tables: tuple[Table, ...]
    cautions: tuple[str, ...] = ()  # whole sentences, for who steers or builds by it
    notes: tuple[str, ...] = ()  # what people should know of it

    def table(self, name: str) -> Table:
        """Return one table by its name."""
        return next(table for table in self.tables if table.name == name)
