"""Which pieces of a rig the words of an inspection mean: chain, cable, upper shackle, primary."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from types import MappingProxyType
from typing import Final

from lakemap.basis.errors import RangeError
from lakemap.rig.part_records import kind_of
from lakemap.rig.trade import trade_size
from lakemap.season.rig_inventory import RigPiece

_Is = Callable[[RigPiece], bool]
_SIZE: Final = re.compile(r"\d+(?:[\s-]+\d+/\d+|/\d+)?(?:\.\d+)?\s*-?\s*(?:inches|inch|in|mm|\")")
# what stands after these says where the part is, not which it is: "shackle at the riser chain"
_WHERE: Final = re.compile(
    r"\b(?:at|of|on|to|near|by|in|under|below|above|between|from|beside|with)\b|[,;(]"
)
FLOAT_ITSELF: Final = "float"


def _kind(*kinds: str) -> _Is:
    return lambda piece: piece.kind in kinds


def _named(*names: str) -> _Is:
    return lambda piece: piece.name in names


def _fitting(kind: str, *words: str) -> _Is:
    return lambda piece: (
        piece.kind == "fitting" and (kind_of(piece.name) == kind or piece.name.endswith(words))
    )


_ENDS: Final = ("clip", "sleeve", "thimble")
_GROUPS: Final[Mapping[str, _Is]] = MappingProxyType(
    {
        "chain": _kind("chain"),
        "riser chain": _named("riser chain"),
        "ground chain": _named("ground chain"),
        "absorber cable": _kind("cable"),
        "cable clip": _kind("clip"),
        "sleeve": _kind("sleeve"),
        "thimble": _kind("thimble"),
        "cable ends": _kind(*_ENDS),
        "shackle": _fitting("shackle", "shackle"),
        "eye bolt": _fitting("eye bolt", "eye bolt", "eyebolt"),
        "link": _fitting("master link", "link"),
        "swivel": _fitting("swivel", "swivel"),
        "turnbuckle": _fitting("turnbuckle", "turnbuckle"),
        "fittings": _kind("fitting"),
        "blocks": _kind("block", "weight"),
        "primary": _named("primary blocks", "primary weight"),
        "secondary": _named("secondary blocks", "secondary weight"),
        "whole rig": lambda _: True,
        FLOAT_ITSELF: lambda _: False,
    }
)
# a word that may mean several parts; all of them are taken, and it is said
_UNSURE: Final = frozenset({"chain", "blocks"})
_WORDS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "chain": ("chain",),
        "riser chain": ("riser chain", "riser", "upper chain", "top chain"),
        "ground chain": ("ground chain", "ground", "bottom chain", "lower chain", "bed chain"),
        "absorber cable": (
            "absorber cable", "absorber", "shock absorber", "cable", "wire", "wire rope", "rope",
        ),
        "cable clip": ("cable clip", "clip", "cable clamp", "clamp", "u bolt"),
        "sleeve": ("sleeve", "ferrule"),
        "thimble": ("thimble",),
        "cable ends": ("cable end", "end"),
        "shackle": ("shackle", "shackle pin", "pin"),
        "eye bolt": ("eye bolt", "eyebolt", "bolt"),
        "link": ("link", "master link"),
        "swivel": ("swivel",),
        "turnbuckle": ("turnbuckle",),
        "fittings": ("fitting", "hardware"),
        "blocks": ("block", "weight", "anchor", "cluster", "concrete"),
        "primary": tuple(
            f"primary{more}" for more in ("", " block", " weight", " anchor", " cluster")
        ),
        "secondary": tuple(
            f"secondary{more}" for more in ("", " block", " weight", " anchor", " cluster")
        ),
        "whole rig": ("rig", "whole rig", "mooring", "everything", "all"),
        FLOAT_ITSELF: (
            "float", "deck", "tube", "billet", "ladder", "reflector", "marking", "number", "light",
            "paint", "hook",
        ),
    }
)  # fmt: skip
_GROUP_OF: Final[Mapping[tuple[str, ...], str]] = MappingProxyType(
    {tuple(words.split()): group for group, listed in _WORDS.items() for words in listed}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """What the words of one row mean on one rig."""

    pieces: tuple[int, ...]  # places in its inventory
    group: str | None  # None: no word that we know; `float`: the float itself, not its rig
    unsure: bool = False  # the word may mean any of several parts, and all are taken
    size: str | None = None  # named in the row


def meant_by(part: str, pieces: Sequence[RigPiece]) -> Meant:
    """Return which pieces of a rig an inspection's words mean.

    The last word that we know before any `at`, `of` or `near` decides, the longest such phrase: the
    `ground chain shackle` is a shackle, the `shackle at the riser` too. A size picks among several.

    Parameters
    ----------
    part : str
        As written.
    pieces : sequence of RigPiece
        Of that rig.

    Returns
    -------
    Meant
        No pieces where the words are unknown, or mean a part that the rig has not.
    """
    size = _size_in(part)
    plain = _SIZE.sub(" ", part.casefold())
    heads = _WHERE.split(plain, maxsplit=1)[0], plain
    for text in heads:
        for words in _phrases(_words_of(text)):
            group = _GROUP_OF.get(words)
            if group is not None:
                found = [i for i, piece in enumerate(pieces) if _GROUPS[group](piece)]
                return _sized(found, pieces, group, size)
            own = [i for i, piece in enumerate(pieces) if words == _words_of(piece.name)]
            if own:
                return _sized(own, pieces, pieces[own[0]].name, size)
    return Meant(pieces=(), group=None, size=size)


def _sized(found: Sequence[int], pieces: Sequence[RigPiece], group: str, size: str | None) -> Meant:
    of_size = [i for i in found if size is None or pieces[i].size == size]
    names = {pieces[i].name for i in of_size}
    return Meant(
        pieces=tuple(of_size),
        group=group,
        unsure=group in _UNSURE and len(names) > 1,
        size=size,
    )


def _size_in(text: str) -> str | None:
    found = _SIZE.search(text.casefold())
    if found is None:
        return None
    try:
        return trade_size(found[0].strip()).name
    except RangeError:
        return None


def _words_of(text: str) -> tuple[str, ...]:
    """Words without their plural s and without signs."""
    words = re.findall(r"[^\W\d_]+", text.casefold())
    return tuple(
        word[:-1] if word.endswith("s") and not word.endswith("ss") else word for word in words
    )


def _phrases(words: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Runs of words: those that end last first, the longest of them first."""
    for end in range(len(words), 0, -1):
        for start in range(end):
            yield words[start:end]


def nearest_part(part: str) -> str | None:
    """Return the known word that is most like a mistyped one.

    Parameters
    ----------
    part : str
        As written.

    Returns
    -------
    str or None
        None where nothing is near.
    """
    known = [words for listed in _WORDS.values() for words in listed]
    near = get_close_matches(" ".join(_words_of(part)), known, n=1)
    return near[0] if near else None
