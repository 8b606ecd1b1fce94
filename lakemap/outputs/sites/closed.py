"""Closed water in a few classes, and in plain words why it is closed."""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import shapely

from lakemap.basis.records import Float, Geometry
from lakemap.basis.wording import figure
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.siting.records import Sites

_CLASSES: Final = MappingProxyType(
    {
        "shore": ("shore", "island"),
        "float": ("float",),
        "zone": ("swim_area", "channel", "intake", "hazard", "no_float", "ramp", "dock"),
        "depth": ("bed", "jump_depth", "depth"),
        "frontage": ("frontage",),
    }
)
_CLASS_ORDER: Final = (*_CLASSES, "other")
_OWN_WORDS: Final = frozenset({"shore", "float", "zone", "frontage"})  # classes told as a whole
_KINDS: Final = frozenset(
    (*(kind for kinds in _CLASSES.values() for kind in kinds), "shore_max", "deck_area_max")
)
_FEW: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """Water closed by one class of rules."""

    name: str  # shore, float, zone, depth, frontage, other
    kinds: tuple[str, ...]
    words: str
    geometry: Geometry
    share: float  # of the lake, 0 to 1


def closed_classes(sites: Sites, water: Geometry, *, texts: Texts = ENGLISH) -> tuple[Closed, ...]:
    """Return the closed water by class of the rule that binds; only classes that have some.

    Parameters
    ----------
    sites : Sites
        With the closed water by kind.
    water : shapely geometry
        The lake [m].
    texts : Texts
        Of the language.

    Returns
    -------
    tuple of Closed
        Shore, floats, zones, depth, frontage, other.
    """
    area = float(shapely.area(water))
    found = []
    for name in _CLASS_ORDER:
        held = [
            one
            for one in sites.closed
            if class_of(one.kind) == name and shapely.area(one.geometry) > 0
        ]
        if held:
            kinds = tuple(dict.fromkeys(one.kind for one in held))
            merged = shapely.union_all([one.geometry for one in held])
            found.append(
                Closed(
                    name=name,
                    kinds=kinds,
                    words=_class_words(name, kinds, sites.ask.like, texts),
                    geometry=merged,
                    share=float(shapely.area(merged)) / area,
                )
            )
    return tuple(found)


def class_of(kind: str) -> str:
    """Return the class of a kind of rule: shore, float, zone, depth, frontage or other."""
    return next((name for name, kinds in _CLASSES.items() if kind in kinds), "other")


def _class_words(name: str, kinds: tuple[str, ...], like: Float, texts: Texts) -> str:
    """Plain words for a class, no wider than what is in it."""
    if name in _OWN_WORDS:
        return texts.of(f"closed.{name}")
    if name == "depth" and len(kinds) > 1:
        return kind_words("depth" if "depth" in kinds else "bed", like, texts=texts)
    first, *rest = (kind_words(kind, like, texts=texts) for kind in kinds)
    for other in rest:
        first = texts.of("closed.either", why=first, other=other)
    return first


def kind_words(kind: str, like: Float, *, texts: Texts = ENGLISH) -> str:
    """Return why a kind of rule closes water.

    Parameters
    ----------
    kind : str
        Of the rule; `depth` where no rig works or no depth is known.
    like : Float
        What is looked for.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Such as `too near the shore`.
    """
    if kind == "depth":
        fixed = like.riser_m is not None or like.ground_m is not None
        return texts.of("closed.depth_line" if fixed else "closed.depth")
    return texts.of(f"closed.{kind if kind in _KINDS else 'other'}")


def share_text(share: float, *, texts: Texts = ENGLISH) -> str:
    """Return a share of the lake in whole percent, a small one as such."""
    if 0 < share < _FEW:
        return texts.of("sites.under_one")
    return f"{figure(100 * share, digits=0)} %"
