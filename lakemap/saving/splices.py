"""Pieces of a text or of bytes put in the place of others."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import AnyStr, Generic


@dataclass(frozen=True, slots=True)
class Splice(Generic[AnyStr]):
    """What stands from `start` to `end` gives way to `new`."""

    start: int
    end: int
    new: AnyStr


def spliced(whole: AnyStr, splices: Sequence[Splice[AnyStr]]) -> AnyStr:
    """Return a text with pieces replaced.

    Parameters
    ----------
    whole : str or bytes
        The old text.
    splices : sequence of Splice
        None overlaps another; at one place they keep their order.

    Returns
    -------
    str or bytes
        Every other sign as it was.
    """
    pieces: list[AnyStr] = []
    at = 0
    for one in sorted(splices, key=lambda one: (one.start, one.end)):
        if one.start < at:
            raise AssertionError("two changes of one place")  # pragma: no cover
        pieces.append(whole[at : one.start])
        pieces.append(one.new)
        at = one.end
    pieces.append(whole[at:])
    return whole[:0].join(pieces)
