"""What was changed of one float, in words: moved, another rig, another deck."""

from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from lakemap.assessment import AssessedFloat
from lakemap.basis.records import Units
from lakemap.basis.wording import compass_text
from lakemap.changes.records import ColumnChange, FloatChange, Moved, differs
from lakemap.outputs.compare.changed_values import arrow, value_pair
from lakemap.outputs.words.clearances import asked_text

# columns of the floats file as a sentence names them; what is not here stands as it is
_COLUMN_WORDS: Final = MappingProxyType(
    {
        "riser_length": "riser",
        "ground_length": "ground chain",
        "primary_blocks": "blocks of the primary",
        "secondary_blocks": "blocks of the secondary",
        "primary_weight": "weight of the primary",
        "secondary_weight": "weight of the secondary",
        "block": "kind of block",
        "block_density": "density of the blocks",
        "depth": "depth at the primary",
        "hook": "hook",
        "hook_depth": "depth of the hook",
        "tube_diameter": "diameter of the tubes",
        "tube_length": "length of the tubes",
        "billet_length": "length of the billets",
        "billet_width": "width of the billets",
        "billet_height": "height of the billets",
        "float_weight": "weight of the float",
        "absorber_length": "length of the absorber",
        "absorber_stiffness": "stiffness of the absorber",
        "chain_grade": "grade of the chain",
        "cable_parts": "parts of the cable",
        "cable_ends": "ends of the cable",
        "set_on": "date of setting",
        "position_of": "position is of the",
        "wind_from_deg": "wind at the fix from",
        "position_error": "accuracy of the position",
        "bearing_deg": "bearing of the secondary",
    }
)
_DECK: Final = frozenset({"length", "width"})
_LINE: Final = MappingProxyType({"riser_length": "riser_m", "ground_length": "ground_m"})
# told in words of their own
_APART: Final = frozenset({"status", *_DECK, *_LINE})


def own_changes(one: FloatChange, units: Units) -> Iterator[str]:
    """Yield what was changed of a float that both versions have.

    Parameters
    ----------
    one : FloatChange
        Of a comparison.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Yields
    ------
    str
        Such as `moved 24 ft south-southwest`, `ground chain 9 ft → 9 ft 6 in`.
    """
    before, after = one.before, one.after
    if before is None or after is None:
        return
    columns = {column.column: column for column in one.columns}
    if "status" in columns:
        yield _status(before, after)
    if one.moved is not None:
        given = not one.moved.reckoned and "position_of" not in columns
        yield moved_words(one.moved, units, given=given)
    for name in _LINE:
        yield from _line(name, before, after, units)
    if _DECK & columns.keys():
        yield f"deck {arrow(_decks(before, after, units))}"
    yield from (_column(c, units) for name, c in columns.items() if name not in _APART)


def _status(before: AssessedFloat, after: AssessedFloat) -> str:
    was, now = before.record.status, after.record.status
    if now == "retired":
        return "retired"
    return "in use again" if was == "retired" else f"{now}, was {was}"


def moved_words(moved: Moved, units: Units, *, given: bool) -> str:
    """Return how far a float lies from where it was.

    Parameters
    ----------
    moved : Moved
        Of a change.
    units : {'ft-lb', 'm-kg'}
        What people use.
    given : bool
        False where nobody moved it, but its primary is reckoned to lie elsewhere.

    Returns
    -------
    str
        Such as `moved 24 ft south-southwest`.
    """
    far = asked_text(moved.distance_m, units)
    if far.startswith("0 "):
        far = f"less than {'0.1 ft' if units == 'ft-lb' else '0.01 m'}"
    way = f"{far} {compass_text(moved.bearing_deg)}"
    return f"moved {way}" if given else f"its primary is reckoned {way} of where it was"


def _decks(before: AssessedFloat, after: AssessedFloat, units: Units) -> tuple[str, str]:
    a, b = before.record, after.record
    long = value_pair(a.length_m, b.length_m, "m", units)
    wide = value_pair(a.width_m, b.width_m, "m", units)
    return f"{long[0]} × {wide[0]}", f"{long[1]} × {wide[1]}"


def _column(column: ColumnChange, units: Units) -> str:
    name = _COLUMN_WORDS.get(column.column, column.column)
    return f"{name} {arrow(value_pair(column.old, column.new, column.unit, units))}"


def _line(column: str, before: AssessedFloat, after: AssessedFloat, units: Units) -> Iterator[str]:
    """A riser or ground chain, with the word for a length that the tool chose."""
    was, now = (getattr(one, _LINE[column]) for one in (before, after))
    texts = value_pair(was, now, "m", units)
    chosen = [_chosen(column, one) for one in (before, after)]
    if not differs(was, now) and chosen[0] == chosen[1]:
        return
    words = _COLUMN_WORDS[column]
    if chosen[0] and chosen[0] == chosen[1]:
        yield f"{chosen[1]} {words} {arrow(texts)}"
    else:
        marked = [
            f"{text} ({word})" if word else text for text, word in zip(texts, chosen, strict=True)
        ]
        yield f"{words} {arrow((marked[0], marked[1]))}"


def _chosen(column: str, one: AssessedFloat) -> str:
    if column in one.designed:
        return "designed"
    return "assumed" if column in one.assumed else ""
