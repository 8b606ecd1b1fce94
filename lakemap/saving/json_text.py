"""JSON text: where its members and items stand, and the manner in which they are set out."""

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass

_BLANKS = re.compile(r"[ \t\n\r]*")
_READER = json.JSONDecoder()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One value, of an object's member or an array."""

    key: str | None  # None in an array
    key_start: int  # of the value itself in an array
    start: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """One object or array."""

    start: int
    end: int
    items: tuple[Item, ...]

    def get(self, key: str) -> Item | None:
        """Return a member; of two with one key the last, as readers do."""
        return next((one for one in reversed(self.items) if one.key == key), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The blanks of an object or array."""

    opening: str = ""
    parting: str = ", "
    colon: str = ": "
    closing: str = ""

    def of_object(self, members: Sequence[tuple[str, str]]) -> str:
        """Return an object of keys and values, both as JSON text."""
        if not members:
            return "{}"
        shown = self.parting.join(f"{key}{self.colon}{value}" for key, value in members)
        return "{" + self.opening + shown + self.closing + "}"


def group_at(text: str, start: int) -> Group:
    """Find the members of the object, or the items of the array, that begins at a place.

    Parameters
    ----------
    text : str
        Sound JSON.
    start : int
        Where its bracket stands.

    Returns
    -------
    Group
        Its parts in order.

    Raises
    ------
    ValueError
        If there is none.
    """
    if text[start : start + 1] not in {"{", "["}:
        raise ValueError("no object and no array")
    is_object = text[start] == "{"
    items = []
    at = _past_blanks(text, start + 1)
    while text[at : at + 1] not in {"}", "]"}:
        key, key_start = None, at
        if is_object:
            key, at = _READER.raw_decode(text, at)
            at = _past_blanks(text, _past_blanks(text, at) + 1)  # the colon
        begin = at
        _, at = _READER.raw_decode(text, at)
        items.append(Item(key=key, key_start=key_start, start=begin, end=at))
        at = _past_blanks(text, at)
        if text[at : at + 1] == ",":
            at = _past_blanks(text, at + 1)
    return Group(start=start, end=at + 1, items=tuple(items))


def first_value(text: str) -> int:
    """Return where a text's value begins."""
    return _past_blanks(text, 0)


def _past_blanks(text: str, at: int) -> int:
    found = _BLANKS.match(text, at)
    return at if found is None else found.end()


def layout_of(text: str, group: Group) -> Layout:
    """Return how an object or array is set out.

    Parameters
    ----------
    text : str
        It stands in.
    group : Group
        As found.

    Returns
    -------
    Layout
        For more of its kind.
    """
    items = group.items
    if not items:
        return Layout()
    opening = text[group.start + 1 : items[0].key_start]
    parting = f",{opening}" if "\n" in opening else ", "
    if len(items) > 1:
        parting = text[items[-2].end : items[-1].key_start]
    colon = ": "
    if items[0].key is not None:
        _, key_end = _READER.raw_decode(text, items[0].key_start)
        colon = text[key_end : items[0].start]
    return Layout(
        opening=opening,
        parting=parting,
        colon=colon,
        closing=text[items[-1].end : group.end - 1],
    )


def as_json(value: object) -> str:
    """Return a value as JSON text, letters as they are."""
    return json.dumps(value, ensure_ascii=False)
