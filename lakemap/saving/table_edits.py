"""Changes by column name as changes of a table's cells, with the columns that it lacks."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from lakemap.basis.quantities import SUFFIXES
from lakemap.basis.records import Units
from lakemap.inputs.cells import RawTable, Sheet, is_blank, normal_name
from lakemap.saving.cells import BLANK, Written, cell_of

_FEET_POUNDS: Mapping[str, str] = MappingProxyType(
    {"length": "ft", "mass": "lb", "density": "lb_ft3", "stiffness": "lb_ft"}
)
_METRES: Mapping[str, str] = MappingProxyType(
    {"length": "m", "mass": "kg", "density": "kg_m3", "stiffness": "n_m"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowChange:
    """New values of one row, by column without unit."""

    values: Mapping[str, object]  # None: blank; a `Written` as it stands
    row: int | None = None  # place in the table's rows; None: a new row
    after: int | None = None  # a new row's place: after this one; None: at the end
    unsaid: frozenset[str] = frozenset()  # these need no column: they go without saying


@dataclass(frozen=True, slots=True, kw_only=True)
class TableEdits:
    """What is to change in a table, by places in its rows and columns."""

    cells: Mapping[tuple[int, int], Written]
    added: tuple[tuple[int | None, Mapping[int, Written]], ...] = ()  # after which row, cells
    new_columns: Mapping[int, str] = field(default_factory=lambda: MappingProxyType({}))
    removed: frozenset[int] = frozenset()


def edits_of(
    sheet: Sheet,
    known: Mapping[str, str | None],
    changes: Sequence[RowChange],
    *,
    units: Units,
    removed: Iterable[int] = (),
) -> TableEdits:
    """Turn changes of rows into changes of cells.

    Parameters
    ----------
    sheet : Sheet
        The table.
    known : mapping of str to str or None
        Its columns and what they measure.
    changes : sequence of RowChange
        New rows come in this order.
    units : Units
        Where the file does not tell.
    removed : iterable of int
        Rows to take away.

    Returns
    -------
    TableEdits
        A column that is missing for a value is a new one.
    """
    places = {b: sheet.table.columns.index(sheet.written(b)) for b in known if sheet.has(b)}
    names = {base: sheet.written(base) for base in places}
    lacking = [base for base in known if base not in places and _needed(base, changes)]
    free = _free_columns(sheet.table)
    new_columns: dict[int, str] = {}
    for base in lacking:
        places[base] = next(free)
        names[base] = column_name(base, known, sheet.table.columns, units)
        new_columns[places[base]] = names[base]
    cells: dict[tuple[int, int], Written] = {}
    added = []
    for one in changes:
        made = {
            places[base]: cell_of(value, names[base], base=base, dimension=known[base], units=units)
            for base, value in one.values.items()
            if base in places
        }
        if one.row is None:
            added.append((one.after, made))
        else:
            cells |= {(one.row, index): cell for index, cell in made.items()}
    return TableEdits(
        cells=cells, added=tuple(added), new_columns=new_columns, removed=frozenset(removed)
    )


def _needed(base: str, changes: Sequence[RowChange]) -> bool:
    return any(
        one.values.get(base) not in (None, "", (), BLANK) and base not in one.unsaid
        for one in changes
    )


def _free_columns(table: RawTable) -> Iterator[int]:
    """Places after the last named column where no row holds anything."""
    named = [index for index, name in enumerate(table.columns) if name]
    index = max(named, default=-1)
    while True:
        index += 1
        if all(index >= len(row) or is_blank(row[index]) for row in table.rows):
            yield index


def column_name(
    base: str, known: Mapping[str, str | None], columns: Sequence[str], units: Units
) -> str:
    """Return the name of a new column, in the unit that the others of its kind are in.

    Parameters
    ----------
    base : str
        Without a unit.
    known : mapping of str to str or None
        What each column measures.
    columns : sequence of str
        Names in the file.
    units : Units
        Where no other column tells.

    Returns
    -------
    str
        With a unit if it is measured.
    """
    dimension = known[base]
    if dimension is None:
        return base
    usual = (_FEET_POUNDS if units == "ft-lb" else _METRES)[dimension]
    rest = {
        name.removeprefix(f"{other}_")
        for name in map(normal_name, columns)
        for other, of in known.items()
        if of == dimension and name.startswith(f"{other}_")
    }
    both = (_FEET_POUNDS[dimension], _METRES[dimension])
    told = [suffix for suffix in both if suffix in rest & SUFFIXES.keys()]
    return f"{base}_{usual if usual in told or not told else told[0]}"
