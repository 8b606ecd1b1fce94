"""How many floats changed between two versions of a field, and how many conflicts that left."""

from lakemap.changes.causes import is_worse
from lakemap.changes.records import Comparison
from lakemap.outputs.compare.changed_values import ARROW
from lakemap.outputs.words.verdicts import verdict_counts


def counts_words(comparison: Comparison) -> str:
    """Return how many floats were moved, changed, added, retired and taken away, in one line."""
    counts = change_counts(comparison)
    said = [
        f"{counts[kind]} {words}"
        for kind, words in (
            ("moved", "moved"),
            ("changed", "changed"),
            ("added", "added"),
            ("retired", "retired"),
            ("taken_away", "taken away"),
        )
        if counts[kind]
    ]
    if not said:
        return "No float was changed"
    first, *rest = said
    number, _, word = first.partition(" ")
    return ", ".join([f"{number} float{'' if number == '1' else 's'} {word}", *rest])


def change_counts(comparison: Comparison) -> dict[str, int]:
    """Return how many floats there are of each kind of change, and whose verdict got worse, better.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.

    Returns
    -------
    dict
        A float that was moved and changed counts as moved.
    """
    names = ("moved", "changed", "added", "taken_away", "retired", "affected", "worse", "better")
    counts = dict.fromkeys(names, 0)
    for one in comparison.floats:
        counts[one.kind] += 1
        before, after = one.before, one.after
        if before is None or after is None or None in {before.verdict, after.verdict}:
            continue
        if before.verdict != after.verdict:
            counts["worse" if is_worse(before, after) else "better"] += 1
    return counts


def headline(comparison: Comparison) -> str:
    """Return the sentences that are read first.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.

    Returns
    -------
    str
        What was changed, and how many conflicts there were and are.
    """
    if comparison.is_alike:
        return "Nothing changed."
    was, now = (verdict_counts(one)["conflict"] for one in (comparison.old, comparison.new))
    left = f"{now}, as before" if was == now else f"{was} before, {now} now"
    return f"{counts_words(comparison)}. Conflicts: {left}."


def verdicts_words(comparison: Comparison) -> str:
    """Return how many floats had and have each verdict, in one line."""
    old, new = verdict_counts(comparison.old), verdict_counts(comparison.new)
    said = [
        f"{word} {old[word]}"
        if old[word] == new[word]
        else f"{word} {old[word]} {ARROW} {new[word]}"
        for word in new
        if old[word] or new[word]
    ]
    return f"Floats: {', '.join(said)}."
