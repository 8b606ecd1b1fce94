"""Words for what to buy: sizes, amounts, how clips are put on, what is not known."""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.quantities import INCH_M
from lakemap.basis.records import Units
from lakemap.basis.wording import length_text, small_text, torque_text, weight_text
from lakemap.rig.clips import clip_count, clip_spacing
from lakemap.rig.trade import trade_size
from lakemap.season.buying.prices import Order, Price, Shopping
from lakemap.season.buying.shopping import ShoppingItem

_NAMED: Final = 6  # floats named in one line
_PLAIN_METALS: Final = frozenset({"galvanised", "concrete"})


def size_words(item: ShoppingItem) -> str:
    """Return an item's size as a shop needs it.

    Parameters
    ----------
    item : ShoppingItem
        To buy.

    Returns
    -------
    str
        `3/8 in, Grade 30`; `5/16 in galvanised` of cable, whose finish a shop asks for.
    """
    if item.grade is not None:
        return f"{item.size}, Grade {item.grade}"
    told = item.metal is None or item.metal in item.name.split()
    if told or (item.kind != "cable" and item.metal in _PLAIN_METALS):
        return item.size
    return f"{item.size} {item.metal}"


def need_words(item: ShoppingItem, units: Units) -> str:
    """Return how much of an item is wanted.

    Parameters
    ----------
    item : ShoppingItem
        To buy.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Returns
    -------
    str
        A length in so many cuts, or a count; `not known` where no float tells it.
    """
    if item.unknown_on and not item.count:
        return "not known"
    more = " at least" if item.unknown_on else ""
    length = item.length_m
    if length is None:
        return f"{item.count:,}{more}"
    cuts = "1 cut" if item.count == 1 else f"{item.count:,} cuts"
    return f"{length_text(length, units, rounding='up')} in {cuts}{more}"


def order_words(order: Order) -> str:
    """Return what to order.

    Parameters
    ----------
    order : Order
        Of one item.

    Returns
    -------
    str
        `15 rolls of 100 ft`, `312 ft`, `80`; empty where no price says how it is sold.
    """
    price = order.price
    if price is None or order.lots is None:
        return ""
    lot = f"{float(order.lot):,g}"
    if order.lot == 1:
        return f"{order.lots:,}" if order.unit == "piece" else f"{order.lots:,} {order.unit}"
    name = price.sold.lot or ("pack" if order.unit == "piece" else "roll")
    plural = name if order.lots == 1 else f"{name}{'es' if name.endswith('x') else 's'}"
    unit = "" if order.unit == "piece" else f" {order.unit}"
    return f"{order.lots:,} {plural} of {lot}{unit}"


def price_words(price: Price | None) -> str:
    """Return what the file says something costs.

    Parameters
    ----------
    price : Price or None
        None: it has none.

    Returns
    -------
    str
        `210.00 a roll of 100 ft`, `2.10 a ft`, `6.50 each`; without a currency, as in the file.
    """
    if price is None:
        return ""
    said, sold = money(price.price), price.sold
    amount = "" if sold.amount == 1 else f"{float(sold.amount):,g} "
    if sold.lot:
        unit = "" if sold.unit == "piece" else f" {sold.unit}"
        return f"{said} a {sold.lot} of {amount.strip()}{unit}"
    if sold.unit == "piece":
        return f"{said} each" if not amount else f"{said} for {amount.strip()}"
    return f"{said} for {amount}{sold.unit}" if amount else f"{said} a {sold.unit}"


def money(amount: Decimal) -> str:
    """Return a sum with two decimals at least, and commas between thousands."""
    shown = amount.normalize()
    digits = max(2, -int(shown.as_tuple().exponent))
    return f"{amount:,.{digits}f}"


def shopping_notes(shopping: Shopping, units: Units) -> tuple[str, ...]:
    """Return what is to be known of a list: what has no price, what was assumed, how clips go on.

    Parameters
    ----------
    shopping : Shopping
        The list.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Returns
    -------
    tuple of str
        Whole sentences.
    """
    return (
        *_price_notes(shopping),
        *_count_notes(shopping.orders),
        *(_clip_note(order.item, units) for order in shopping.orders if order.item.clips),
    )


def _price_notes(shopping: Shopping) -> Iterator[str]:
    for order in shopping.orders:
        name = f"{order.item.name} {size_words(order.item)}"
        if order.also:
            rows = "; ".join(f"{one.part} {one.size}".strip() for one in order.also)
            yield f"{name}: {len(order.also)} prices fit ({rows}); say more in their size."
        if order.problem:
            yield f"{name}: {order.problem}."
    if shopping.unused:
        rows = "; ".join(f"{one.part} {one.size}".strip() for one in shopping.unused)
        yield f"Prices of what is not on this list: {rows}."


def _count_notes(orders: Sequence[Order]) -> Iterator[str]:
    assumed: dict[str, list[str]] = {}
    for order in orders:
        for name in order.item.assumed_on:
            assumed.setdefault(name, []).append(order.item.name)
    for item in (order.item for order in orders if order.item.unknown_on):
        much = "how long it is" if item.kind in {"chain", "cable"} else "how many there are"
        yield (
            f"{item.name} {size_words(item)}: {much} on {_floats(item.unknown_on)} isn't known,"
            " and not counted."
        )
    if assumed:
        yield (
            f"Nobody wrote down all parts of {_floats(list(assumed))}: what practice takes is"
            " counted there; look at the rig before you buy."
        )


def _floats(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_NAMED])
    more = f" and {len(names) - _NAMED:,} more" if len(names) > _NAMED else ""
    return f"float{'s' if len(names) > 1 else ''} {shown}{more}"


def _clip_note(item: ShoppingItem, units: Units) -> str:
    row = item.clips
    if row is None:
        return ""
    apart = float(clip_spacing(trade_size(item.size).length_m))
    back = small_text(row.turn_back.value * INCH_M.value, units, rounding="up")
    figures = (
        f"{small_text(apart, units)} apart, {back} of cable turned back,"
        f" {torque_text(row.torque.value, units)}"
    )
    return (
        f"Clips on {item.size} cable: {clip_count(item.size)} to an end, {figures}, the saddle on"
        " the part that carries; tighten again under load and after the first storm"
        f" ({row.torque.source})."
    )


def cut_notes(shopping: Shopping, units: Units) -> tuple[str, ...]:
    """Return what lengths chain and cable are cut to, longest first.

    Parameters
    ----------
    shopping : Shopping
        The list.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Returns
    -------
    tuple of str
        A sentence for each item that is cut.
    """
    said = []
    for item in (order.item for order in shopping.orders if order.item.cuts_m):
        counts = Counter(
            length_text(cut, units, rounding="up") for cut in sorted(item.cuts_m)[::-1]
        )
        cuts = ", ".join(f"{count} of {length}" for length, count in counts.items())
        said.append(f"Cut {item.name} {size_words(item)}: {cuts}.")
    return tuple(said)


def weight_note(shopping: Shopping, units: Units) -> str:
    """Return what the clusters on a list weigh, for whoever carries them; empty for none."""
    masses = [order.item.mass_kg for order in shopping.orders if order.item.mass_kg is not None]
    if not masses:
        return ""
    return f"The weights come to {weight_text(sum(masses) * GRAVITY_M_S2.value, units)} dry."
