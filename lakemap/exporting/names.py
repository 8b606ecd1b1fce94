"""Names of columns that a format keeps for itself, and columns that would share one."""

from collections.abc import Iterable

from lakemap.exporting.records import Table


def own_names(table: Table, *, taken: Iterable[str]) -> tuple[str, ...]:
    """Return the columns' names; one that is taken, in any case of its letters, gets a number.

    Parameters
    ----------
    table : Table
        Its columns.
    taken : iterable of str
        What the format keeps for itself, in small letters.

    Returns
    -------
    tuple of str
        All different.
    """
    used, names = set(taken), []
    for column in table.columns:
        name, number = column.name, 2
        while name.casefold() in used:
            name, number = f"{column.name}_{number}", number + 1
        used.add(name.casefold())
        names.append(name)
    return tuple(names)
