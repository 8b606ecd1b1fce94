"""The association's own prices: which one an item has, how much to order, what that costs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import ceil
from typing import Any, Final

from lakemap.basis.errors import RangeError
from lakemap.basis.sold_by import SoldBy, SoldUnit, read_sold_by
from lakemap.rig.trade import trade_size
from lakemap.season.buying.rolls import rolls_for
from lakemap.season.buying.shopping import ShoppingItem

_CENT: Final = Decimal("0.01")
_PLURAL: Final = 3  # letters; no shorter word has an s taken off
_ROUNDING: Final = 1e-9  # a need of 300.0000000001 ft is 300 ft
# what else people call what a shop sells
_ALSO: Final[Mapping[str, tuple[str, ...]]] = {
    "cable": ("absorber cable", "wire rope", "rope"),
    "clip": ("cable clip", "wire rope clip", "rope clip"),
    "block": ("concrete block",),
    "chain": ("riser chain", "ground chain"),
    "eye bolt": ("eyebolt",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """One row of the prices file."""

    part: str
    size: str  # empty: of any size
    price: Decimal
    sold: SoldBy
    pack: Fraction | None  # units that are sold together


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What to order of one item."""

    item: ShoppingItem
    price: Price | None  # None: no price, or more than one
    also: tuple[Price, ...]  # prices that fit it as well
    need: Fraction | None  # in the price's units; None: not known
    unit: SoldUnit
    lots: int | None  # rolls, boxes, feet or pieces
    lot: Fraction  # units in one
    cost: Decimal | None  # None: no price, or the need isn't known
    problem: str | None  # why it can't be ordered by this price


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """The whole list."""

    orders: tuple[Order, ...]
    total: Decimal  # of what has a price
    without_price: int  # items that are not in the total
    unused: tuple[Price, ...]  # rows of the prices file that nothing on the list is


def read_prices(rows: Sequence[Mapping[str, Any]]) -> tuple[Price, ...]:
    """Return the prices of a field.

    Parameters
    ----------
    rows : sequence of mapping
        As the field holds them.

    Returns
    -------
    tuple of Price
        In file order.
    """
    return tuple(
        Price(
            part=row["part"] or "",
            size=row["size"] or "",
            price=Decimal(repr(row["price"])),
            sold=read_sold_by(row["per"]),
            pack=None if row["pack"] is None else Fraction(repr(row["pack"])),
        )
        for row in rows
        if row["price"] is not None
    )


def shopping(items: Sequence[ShoppingItem], prices: Sequence[Price]) -> Shopping:
    """Return what to order and what it costs.

    Lengths sold in rolls are cut longest first; what is sold by the foot or metre is ordered in
    whole ones.

    Parameters
    ----------
    items : sequence of ShoppingItem
        To buy.
    prices : sequence of Price
        Theirs.

    Returns
    -------
    Shopping
        Costs are exact sums of what the file says, each order rounded to a hundredth.
    """
    used: set[int] = set()
    orders = []
    for item in items:
        fitting = _fitting(item, prices)
        used |= set(fitting)
        orders.append(_order(item, [prices[at] for at in fitting]))
    priced = [order.cost for order in orders if order.cost is not None]
    return Shopping(
        orders=tuple(orders),
        total=sum(priced, start=Decimal(0)),
        without_price=len(orders) - len(priced),
        unused=tuple(price for at, price in enumerate(prices) if at not in used),
    )


def _plain(name: str) -> str:
    """A name without capitals, strange blanks and plurals."""
    words = name.lower().replace("-", " ").split()
    return " ".join(
        word[:-1] if word.endswith("s") and len(word) > _PLURAL else word for word in words
    )


def _size_words(size: str) -> tuple[str, frozenset[str]]:
    """The size by its trade name, and the other words: `3/8 in grade 30`."""
    words = size.lower().replace(",", " ").replace("galvanized", "galvanised").split()
    for end in range(len(words), 0, -1):
        try:
            name = trade_size(" ".join(words[:end])).name
        except RangeError:
            continue
        return name, frozenset(words[end:])
    return "", frozenset(words)


def _said_of(item: ShoppingItem) -> tuple[str, frozenset[str]]:
    name, words = _size_words(item.size)
    grade = set() if item.grade is None else {"grade", str(item.grade), f"g{item.grade}"}
    metal = set() if item.metal is None else {item.metal.lower()}
    return name, words | grade | metal | {"7x19"}


def _fitting(item: ShoppingItem, prices: Sequence[Price]) -> list[int]:
    """The prices that say most of an item among those that say nothing else than it is."""
    names = {_plain(name) for name in (item.name, *_ALSO.get(item.name, ()))}
    name, words = _said_of(item)
    found: dict[int, int] = {}
    for at, price in enumerate(prices):
        of, more = _size_words(price.size)
        part, also = _part_words(price.part, names)
        if part and of in {"", name} and more | also <= words:
            found[at] = bool(of) + len(more | also)
    most = max(found.values(), default=0)
    return [at for at, said in found.items() if said == most]


def _part_words(part: str, names: set[str]) -> tuple[bool, frozenset[str]]:
    """Whether a price's part is named so, and what else its name says: `galvanised shackle`."""
    plain = _plain(part)
    for name in sorted(names, key=len, reverse=True):  # wire rope before rope
        if plain == name:
            return True, frozenset()
        if plain.endswith(f" {name}"):
            rest = plain.removesuffix(f" {name}").replace("galvanized", "galvanised")
            return True, frozenset(rest.split())
    return False, frozenset()


def _order(item: ShoppingItem, fitting: Sequence[Price]) -> Order:
    price = fitting[0] if len(fitting) == 1 else None
    unit: SoldUnit = "piece" if price is None else price.sold.unit
    need, problem = _need(item, price)
    lot = _lot(price)
    lots = None if need is None or price is None else _lots(item, need, lot, price)
    cost = None
    if price is not None and lots is not None:
        exact = Fraction(price.price) * lots * lot / price.sold.amount
        cost = _to_cents(exact)
    return Order(
        item=item,
        price=price,
        also=tuple(fitting) if price is None else (),
        need=need,
        unit=unit,
        lots=lots,
        lot=lot,
        cost=cost,
        problem=problem,
    )


def _to_cents(exact: Fraction) -> Decimal:
    whole = Decimal(exact.numerator) / Decimal(exact.denominator)
    return whole.quantize(_CENT, rounding=ROUND_HALF_UP)


def _lot(price: Price | None) -> Fraction:
    """Units that are sold together."""
    if price is None:
        return Fraction(1)
    if price.pack is not None:
        return price.pack
    return price.sold.amount if price.sold.lot else Fraction(1)


def _need(item: ShoppingItem, price: Price | None) -> tuple[Fraction | None, str | None]:
    """How much an item takes in the price's units, or why that can't be said."""
    if item.unknown_on and not item.count:
        return None, None
    length = item.length_m
    if price is None:
        return (Fraction(item.count) if length is None else None), None
    metres = price.sold.metres
    if (length is None) != (metres is None):
        wants = "by length" if length is not None else "by the piece"
        return None, f"{price.part} is priced per {price.sold.unit}; it is sold {wants}"
    if length is None or metres is None:
        return Fraction(item.count), None
    return Fraction(length / metres), None


def _lots(item: ShoppingItem, need: Fraction, lot: Fraction, price: Price) -> int:
    metres = price.sold.metres
    if metres is not None and lot > 1:
        return rolls_for(item.cuts_m, float(lot) * metres)
    return ceil(need / lot - Fraction(_ROUNDING))
