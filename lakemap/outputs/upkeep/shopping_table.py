"""What to buy, as a table for the terminal and as a part of the document of `upkeep`."""

import re
import textwrap
from typing import Any, Final

from lakemap.basis.records import Units
from lakemap.outputs.tables.grid import grid, plain
from lakemap.outputs.upkeep.shopping_words import (
    cut_notes,
    money,
    need_words,
    order_words,
    price_words,
    shopping_notes,
    size_words,
    weight_note,
)
from lakemap.season.buying.prices import Order, Shopping
from lakemap.season.buying.shopping import ShoppingItem

_WIDTH: Final = 96
_FIGURE: Final = re.compile(r"(\d) (ft|in|lb|m|mm|kg|N·m)\b")


def shopping_table(shopping: Shopping, *, title: str, units: Units) -> str:
    """Return the list of what to buy.

    Parameters
    ----------
    shopping : Shopping
        With prices where there are any.
    title : str
        Whose parts these are.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Returns
    -------
    str
        Lines: what, how much, what to order, what it costs; then what is to be known.
    """
    if not shopping.orders:
        return plain(f"{title}: nothing.")
    priced = any(order.price is not None for order in shopping.orders)
    head = ["what", "size", "wanted"] + (["order", "price", "cost"] if priced else [])
    rows = [_row(order, units)[: len(head)] for order in shopping.orders]
    lines = [f"{title}:", *grid(head, rows, right={5})]
    if priced:
        left = shopping.without_price
        but = f", without the {left:,} that have no price" if left else ""
        lines.append(f"Together {money(shopping.total)}{but}.")
    else:
        lines.append("No prices: put a file named prices into the folder to see what it costs.")
    weight = weight_note(shopping, units)
    notes = [*cut_notes(shopping, units), *([weight] if weight else [])]
    notes += shopping_notes(shopping, units)
    lines += [line for note in notes for line in _wrapped(note)]
    return plain("\n".join(lines))


def _wrapped(note: str) -> list[str]:
    """A sentence in lines, no figure parted from its unit."""
    held = _FIGURE.sub("\\1\N{NO-BREAK SPACE}\\2", note)
    lines = textwrap.wrap(held, _WIDTH, subsequent_indent="  ")
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def _row(order: Order, units: Units) -> list[str]:
    cost = "" if order.cost is None else money(order.cost)
    return [
        order.item.name,
        size_words(order.item),
        need_words(order.item, units),
        order_words(order),
        price_words(order.price),
        cost,
    ]


def shopping_document(shopping: Shopping) -> dict[str, Any]:
    """Return what to buy as JSON: SI, unrounded, sums as text so that no cent is lost.

    Parameters
    ----------
    shopping : Shopping
        The list.

    Returns
    -------
    dict
        Every key always there.
    """
    return {
        "items": [_item(order.item) | _cost(order) for order in shopping.orders],
        "total": str(shopping.total),
        "without_price": shopping.without_price,
        "unused_prices": [{"part": one.part, "size": one.size or None} for one in shopping.unused],
    }


def _item(item: ShoppingItem) -> dict[str, Any]:
    return {
        "what": item.name,
        "size": item.size,
        "grade": item.grade,
        "metal": item.metal,
        "count": None if item.unknown_on and not item.count else item.count,
        "length_m": item.length_m,
        "cuts_m": list(item.cuts_m),
        "mass_kg": item.mass_kg,
        "floats": list(item.floats),
        "assumed_on": list(item.assumed_on),
        "unknown_on": list(item.unknown_on),
    }


def _cost(order: Order) -> dict[str, Any]:
    known = order.price is not None and order.lots is not None
    return {
        "order": order.lots,
        "lot": float(order.lot) if known else None,
        "unit": order.unit if known else None,
        "cost": None if order.cost is None else str(order.cost),
    }
