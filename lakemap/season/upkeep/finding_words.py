"""What the words of a finding say: good, worn, to be taken out, replaced, moved."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

FindingKind = Literal["good", "worn", "out", "replaced", "moved", "other"]
# gravest news first: a row may hold several words
_ORDER: Final[tuple[FindingKind, ...]] = ("replaced", "out", "moved", "worn", "good")
_WORDS: Final[Mapping[FindingKind, frozenset[str]]] = MappingProxyType(
    {
        "replaced": frozenset({"replaced", "renewed", "new", "changed", "swapped"}),
        "out": frozenset(
            {
                "broken", "cracked", "bent", "twisted", "stretched", "parted", "snapped", "missing",
                "gone", "lost", "kinked", "crushed", "birdcaged", "deformed", "failed", "unusable",
                "replace", "replacing",
            }
        ),
        "moved": frozenset({"moved", "dragged", "shifted", "drifted", "adrift"}),
        "worn": frozenset(
            {
                "worn", "wear", "thin", "thinner", "rust", "rusty", "rusted", "corroded",
                "corrosion", "pitted", "pitting", "chafed", "frayed", "loose", "stiff", "flat",
            }
        ),
        "good": frozenset(
            {"good", "ok", "okay", "fine", "sound", "checked", "clean", "tight", "looked"}
        ),
    }
)  # fmt: skip
_NOT: Final = frozenset({"no", "not", "without", "never", "nothing", "hardly"})
_LIKE: Final = frozenset({"as", "like", "nearly", "almost"})
_STILL_TO_DO: Final = frozenset({"be", "being", "get", "needs"})
# rust inside a rope is a reason to take it out; on a link it is one to measure it
_CORRODED: Final = frozenset({"rust", "rusty", "rusted", "corroded", "corrosion", "frayed"})


def finding_kind(finding: str | None) -> FindingKind:
    """Return what a finding says.

    Parameters
    ----------
    finding : str or None
        As written: one word or several, `worn, replaced`; `not worn` says nothing of wear.

    Returns
    -------
    str
        The gravest: a part that was replaced is replaced; `other` where no word is known.
    """
    words = re.findall(r"[^\W\d_]+", (finding or "").casefold())
    kinds = {kind for at in range(len(words)) if (kind := _kind_of(words, at)) is not None}
    return next((kind for kind in _ORDER if kind in kinds), "other")


def _kind_of(words: list[str], at: int) -> FindingKind | None:
    word, before = words[at], words[at - 1] if at else ""
    if before in _NOT:
        return None
    if word == "new" and before in _LIKE:
        return "good"
    kind = next((kind for kind, listed in _WORDS.items() if word in listed), None)
    # "to be replaced": somebody judged it, nobody did it
    return "out" if kind == "replaced" and before in _STILL_TO_DO else kind


def is_corroded(finding: str | None) -> bool:
    """Tell whether a finding names rust or frayed wires, which retire a cable by its look."""
    words = re.findall(r"[^\W\d_]+", (finding or "").casefold())
    return any(
        word in _CORRODED and (not at or words[at - 1] not in _NOT) for at, word in enumerate(words)
    )
