"""What changed between two versions of a field, float by float, in words for people."""

from collections.abc import Sequence
from types import MappingProxyType
from typing import Final

from lakemap.assessment import AssessedFloat
from lakemap.basis.wording import (
    length_text,
)
from lakemap.changes.causes import is_worse
from lakemap.changes.records import (
    Cause,
    Comparison,
    FloatChange,
    spare_of,
)
from lakemap.outputs.compare.change_words import moved_words, own_changes
from lakemap.outputs.compare.changed_values import arrow
from lakemap.outputs.compare.figures import SPARE, figures, spare_text
from lakemap.outputs.words.clearances import clearance_line
from lakemap.outputs.words.verdicts import verdict_sentence

_MOST_CELLS: Final = 3  # that a row of a list names; the rest is counted
_TOPIC_WORDS: Final = MappingProxyType(
    {
        "levels": "the levels",
        "storm": "the storm",
        "wake": "the wake",
        "accuracy": "the accuracies",
        "rules": "the rules",
        "sizing": "the sizing",
        "units": "the units",
        "lake": "the shore",
        "zones": "the zones",
        "soundings": "the soundings",
        "wind file": "the wind record",
    }
)
_DONE: Final = MappingProxyType(
    {
        "made_room": "made room",
        "came_nearer": "came nearer",
        "swings_farther": "swings farther",
        "added": "was added",
        "taken_away": "was taken away",
        "retired": "was retired",
        "in_use_again": "is in use again",
        "changed": "changed",
    }
)


def compare_rows(comparison: Comparison) -> list[dict[str, str]]:
    """Return one row for each float that changed, or for which the answer did.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.

    Returns
    -------
    list of dict
        `id`; `verdict` of now (`retired`; `gone` where it was taken away); `what` was changed, or
        what else caused it; what came of it `then`; `says`, where it is in conflict and was not,
        how; those whose verdict got worse come first, then those whose got better.
    """
    return [
        {
            "id": one.float_id,
            "verdict": "gone" if one.after is None else one.after.verdict or "retired",
            "what": what_words(one, comparison, most=_MOST_CELLS),
            "then": then_words(one, comparison),
            "says": _new_conflict(one, comparison),
        }
        for one in shown_changes(comparison)
    ]


def shown_changes(comparison: Comparison) -> list[FloatChange]:
    """Return the changes that people are told, the weightiest first.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.

    Returns
    -------
    list of FloatChange
        Without floats of which nothing changed but a gap that nothing hangs on.
    """
    told = [
        one
        for one in comparison.floats
        if one.kind != "affected" or _effect(one, comparison) is not None
    ]
    return sorted(told, key=_weight)


def _weight(one: FloatChange) -> tuple[int, bool]:
    before, after = one.before, one.after
    weight = 2
    if one.kind == "retired":
        return weight, False
    if before is not None and after is not None and before.verdict != after.verdict:
        weight = 0 if is_worse(before, after) else 1
    elif before is None and after is not None and after.verdict == "conflict":
        weight = 0
    return weight, one.kind == "affected"


# --- what was changed
def what_words(one: FloatChange, comparison: Comparison, *, most: int | None = None) -> str:
    """Return what was changed of a float, or what caused it to be another.

    Parameters
    ----------
    one : FloatChange
        Of the comparison.
    comparison : Comparison
        For units.
    most : int or None
        Changed cells that are named; None: all.

    Returns
    -------
    str
        Without a full stop.
    """
    if one.before is None:
        status = "" if one.after is None else one.after.record.status
        return f"Added, {status}" if status in {"proposed", "retired"} else "Added"
    if one.after is None:
        return "Taken away"
    if one.kind == "affected":
        return _title(_cause_words(one, comparison))
    parts = list(own_changes(one, comparison.new.field.settings.units))
    if most is not None and len(parts) > most + 1:
        parts = [*parts[:most], f"{len(parts) - most} more"]
    return _title("; ".join(parts))


def _title(text: str) -> str:
    return text[:1].upper() + text[1:]


def _cause_words(one: FloatChange, comparison: Comparison) -> str:
    """Why a float that nobody changed is not as it was."""
    if one.moved is not None:
        return moved_words(one.moved, comparison.new.field.settings.units, given=False)
    cause = one.cause
    if cause is None or (cause.kind == "field" and len(cause.names) > 1):
        return "not changed itself"
    if cause.kind == "field":
        return f"not changed; {_TOPIC_WORDS[cause.names[0]]} changed"
    return f"not moved; {_others(cause)}"


def _others(cause: Cause) -> str:
    if cause.kind == "shore":
        return "the shore was drawn anew"
    what = {"float": "floats " if len(cause.names) > 1 else "float "}.get(cause.kind, "")
    return f"{what}{_and(cause.names)} {_plural(_DONE[cause.did], cause.names)}"


def _plural(done: str, names: Sequence[str]) -> str:
    if len(names) == 1:
        return done
    for one, many in (("was ", "were "), ("is ", "are "), ("swings", "swing")):
        if done.startswith(one):
            return done.replace(one, many, 1)
    return done


def _and(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


# --- what that did
def then_words(one: FloatChange, comparison: Comparison) -> str:
    """Return what came of a change.

    Parameters
    ----------
    one : FloatChange
        Of the comparison.
    comparison : Comparison
        For units.

    Returns
    -------
    str
        Such as `conflict → clear`, `clear, 0.6 ft less to spare`; rounding never flatters.
    """
    if one.before is None or one.after is None:
        return _of_one_version(one, comparison)
    effect = _effect(one, comparison)
    return f"{_verdict(one.after)}, as before" if effect is None else effect


def _verdict(one: AssessedFloat) -> str:
    return one.verdict or "retired"


def _of_one_version(one: FloatChange, comparison: Comparison) -> str:
    if one.after is None:
        was = "" if one.before is None else _verdict(one.before)
        return "was in conflict" if was == "conflict" else f"was {was}"
    least = spare_of(one.after)
    if least is None or (one.after.verdict == "conflict" and (least.spare_m or 0.0) >= 0):
        return _verdict(one.after)
    amount = clearance_line(least, comparison.new.field).amount
    return f"{_verdict(one.after)}, {amount}"


def _effect(one: FloatChange, comparison: Comparison) -> str | None:
    """What a change did to a float of both versions; None: nothing that shows."""
    before, after = one.before, one.after
    if before is None or after is None:
        return None
    if before.verdict != after.verdict:
        return arrow((_verdict(before), _verdict(after)))
    if after.verdict is None:
        return None
    said = _spare_effect(before, after, comparison)
    if said is not None:
        return f"{after.verdict}, {said}"
    rest = [row for row in figures(one, comparison) if row[0] not in {SPARE, "Depth"}]
    if not rest:
        return None
    name, was, now = rest[0]
    return f"{after.verdict}; {name[:1].lower()}{name[1:]} {arrow((was, now))}"


def _spare_effect(
    before: AssessedFloat, after: AssessedFloat, comparison: Comparison
) -> str | None:
    least = spare_of(before), spare_of(after)
    if least[0] is None or least[1] is None:
        return None
    units = comparison.new.field.settings.units
    was, now = (one.spare_m or 0.0 for one in (least[0], least[1]))
    shown = [spare_text(spare, units) for spare in (was, now)]
    if shown[0] == shown[1]:
        return None
    if was < 0 or now < 0:
        return f"{shown[1]}, was {shown[0]}"
    if now < was:
        return f"{length_text(was - now, units, rounding='up')} less to spare"
    more, nothing = (length_text(far, units, rounding="down") for far in (now - was, 0.0))
    return None if more == nothing else f"{more} more to spare"


def _new_conflict(one: FloatChange, comparison: Comparison) -> str:
    """How a float is in conflict that was not."""
    before, after = one.before, one.after
    if after is None or after.verdict != "conflict":
        return ""
    if before is not None and before.verdict == "conflict":
        return ""
    return verdict_sentence(after, comparison.new)
