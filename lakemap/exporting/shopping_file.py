"""The shopping list as a file that a shop can open: CSV or XLSX."""

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Units
from lakemap.exporting.csv_table import table_csv
from lakemap.exporting.records import Column, Export, Table
from lakemap.exporting.xlsx import xlsx_bytes
from lakemap.outputs.upkeep.shopping_words import order_words, price_words, size_words
from lakemap.season.buying.prices import Order, Shopping

SHOPPING_FILES = (".csv", ".xlsx")


def shopping_file(shopping: Shopping, *, suffix: str, name: str, units: Units) -> bytes:
    """Return the list as a file.

    Parameters
    ----------
    shopping : Shopping
        The list.
    suffix : {'.csv', '.xlsx'}
        What kind of file.
    name : str
        Of the field.
    units : {'ft-lb', 'm-kg'}
        Of the lengths.

    Returns
    -------
    bytes
        One row to an item, no formula from any text.
    """
    table = _table(shopping, name, units)
    if suffix == ".csv":
        return table_csv(table)
    return xlsx_bytes(Export(name=name, dated="", about=table.about, tables=(table,)))


def _table(shopping: Shopping, name: str, units: Units) -> Table:
    unit = "ft" if units == "ft-lb" else "m"
    return Table(
        name="to buy",
        about=f"What to buy for {name}",
        columns=(
            Column(name="part"),
            Column(name="size"),
            Column(name="pieces", kind="count"),
            Column(name=f"length_{unit}", kind="number"),
            Column(name="order"),
            Column(name="price"),
            Column(name="cost", kind="number"),
            Column(name="for_floats"),
        ),
        rows=tuple(_row(order, units) for order in shopping.orders),
    )


def _row(order: Order, units: Units) -> tuple[object, ...]:
    item, length = order.item, order.item.length_m
    metres = FOOT_M.value if units == "ft-lb" else 1.0
    return (
        item.name,
        size_words(item),
        None if item.unknown_on and not item.count else item.count,
        None if length is None else round(length / metres, 2),
        order_words(order) or None,
        price_words(order.price) or None,
        None if order.cost is None else float(order.cost),
        ", ".join(item.floats),
    )
