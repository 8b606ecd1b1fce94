"""The ways out of conflicts as text for the terminal, and as one JSON document."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any, Final

from lakemap.basis.records import Units
from lakemap.basis.wording import compass_text, figure, force_text, length_text, measure_text
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.tables.document import FORMAT
from lakemap.outputs.tables.grid import plain
from lakemap.outputs.words.verdicts import verdict_sentence
from lakemap.siting.ways_out import WITHIN_M
from lakemap.siting.ways_out_records import KnotMoves, Move, Shorten, WaysOut

_HEAD: Final = (
    "Each way is the least that ends the conflict, and leaves nothing to spare: the float is then"
    " tight. Allow more."
)
_ABOUT_SHORTENING: Final = {
    "primary_not_fixed": (
        "Whether a shorter line would clear it can't be told: where its primary lies was reckoned"
        " from the line as it is. See where the primary is first."
    ),
    "deck_too_large": (
        "No shorter line would clear it: its deck is larger than is allowed anywhere."
    ),
    "aground": "No line would clear it: it lies aground at low water whatever its length.",
    "position": (
        "No shorter line would clear it: where it lies there is no room for its deck alone."
    ),
    "too_long": (
        "No shorter line would clear it: the shortest that leaves the secondary on the bed at high"
        " water still swings too far."
    ),
}


def ways_out_text(found: Sequence[WaysOut], assessment: Assessment) -> str:
    """Return what `check --ways-out` prints after the clearances.

    Parameters
    ----------
    found : sequence of WaysOut
        Of the assessment's floats in conflict.
    assessment : Assessment
        For units, and for what is in conflict.

    Returns
    -------
    str
        Lines; a move's figures clear the float as they are printed.
    """
    if not found:
        return "Nothing is in conflict, so there is nothing to mend."
    by_id = {one.record.float_id: one for one in assessment.floats if one.verdict == "conflict"}
    lines = [f"Ways out. {_HEAD}", ""]
    for ways in found:
        one = by_id[ways.float_id]
        lines.append(f"float {ways.float_id}: {verdict_sentence(one, assessment)}")
        lines += [f"    {sentence}" for sentence in _sentences(ways, one, assessment)]
    lines += _knots(found, assessment)
    return plain("\n".join(lines))


def _sentences(ways: WaysOut, one: AssessedFloat, assessment: Assessment) -> list[str]:
    units = assessment.field.settings.units
    return [
        _moving(ways, one, units),
        _shortening(ways, one, units),
        _swapping(ways, units),
    ]


def _moving(ways: WaysOut, one: AssessedFloat, units: Units) -> str:
    if ways.move is None:
        return _no_moving(ways, units)
    way = _way(ways.move, units, "Moving the primary")
    said = f"{way} would clear it{_designed(ways, one, units)}."
    if ways.extra_m > 0:
        said += " The way is from where the primary is reckoned to be."
    return said


def _no_moving(ways: WaysOut, units: Units) -> str:
    wider = length_text(ways.extra_m, units, rounding="up")
    return {
        "primary_not_located": (
            f"Locate its primary first: that nobody has seen it adds {wider} to its circle."
        ),
        "fix_alone": (
            "Seeing where its primary lies may be enough: that it was reckoned adds"
            f" {wider} to its circle."
        ),
        "deck_too_large": "No place would clear it: its deck is larger than is allowed anywhere.",
        "no_place": (
            f"No place within {length_text(WITHIN_M, units, rounding='down')} would clear it with"
            " this rig."
        ),
    }[ways.move_why or "no_place"]


def _way(move: Move, units: Units, what: str) -> str:
    """A move in figures that hold as they are printed; else by its position."""
    if move.spoken is None:
        far = length_text(move.distance_m, units, rounding="up")
        return (
            f"{what} to {move.lat:.7f},{move.lon:.7f}, {far} {compass_text(move.bearing_deg)} of"
            " where it is,"
        )
    far = length_text(move.spoken.distance_m, units, rounding="up")
    bearing = move.spoken.bearing_deg
    return f"{what} {far} {compass_text(bearing)} ({figure(bearing, digits=0)}°)"


def _designed(ways: WaysOut, one: AssessedFloat, units: Units) -> str:
    """The lengths that were chosen anew for the place."""
    move, chosen = ways.move, {*one.designed, *one.assumed}
    if move is None or not chosen & {"riser_length", "ground_length"}:
        return ""
    riser, ground = (measure_text(length, units) for length in (move.riser_m, move.ground_m))
    return f", with a riser of {riser} and a ground chain of {ground} there"


def _shortening(ways: WaysOut, one: AssessedFloat, units: Units) -> str:
    cut = ways.shorten
    if cut is None and ways.shorten_why == "pulled_under":
        line = length_text((one.riser_m or 0.0) + (one.ground_m or 0.0), units, rounding="down")
        return f"No shorter line would clear it: at high water the {line} that it has is too short."
    if cut is None:
        return _ABOUT_SHORTENING[ways.shorten_why or "too_long"]
    return f"{_cut(cut, one, units)} would clear it; {_still(cut)}. {_cost(cut, units)}"


def _cut(cut: Shorten, one: AssessedFloat, units: Units) -> str:
    parts = []
    for name, column, before, after in (
        ("ground chain", "ground_length", cut.ground_before_m, cut.ground_m),
        ("riser", "riser_length", cut.riser_before_m, cut.riser_m),
    ):
        if after < before:
            word = " (nobody measured it)" if column in one.assumed else ""
            parts.append(
                f"the {name} from {measure_text(before, units)}{word} to"
                f" {measure_text(after, units)}"
            )
    return f"Shortening {' and '.join(parts)}"


def _still(cut: Shorten) -> str:
    if cut.hangs:
        return "the secondary hangs off the bed at high water, as it does now"
    kept = "the riser stays, and " if cut.riser_m == cut.riser_before_m else ""
    return f"{kept}the secondary still lies on the bed in calm high water"


def _cost(cut: Shorten, units: Units) -> str:
    ratio = figure(cut.over_depth, digits=2, rounding="down")
    line = f"the line becomes {ratio} times the depth, where practice has 2 (no published source)."
    if cut.uplift_n is None or cut.uplift_before_n is None:
        return line.capitalize()
    before = force_text(cut.uplift_before_n, units, rounding="down")
    after = force_text(cut.uplift_n, units, rounding="up")
    return f"The storm's uplift at the primary goes from {before} to {after}; {line}"


def _swapping(ways: WaysOut, units: Units) -> str:
    if ways.swap is not None:
        deck = _deck(ways.swap.length_m, ways.swap.width_m, units)
        return (
            f"Swapping decks with float {ways.swap.with_id}, whose deck is {deck}, would clear it,"
            " and neither is in conflict then; the rigs stay where they are."
        )
    if ways.smaller is not None:
        deck = _deck(ways.smaller.length_m, ways.smaller.width_m, units)
        return f"No swap of decks would clear it; a deck of {deck} of the same shape would fit."
    return "No swap of decks would clear it, nor would a smaller deck of the same shape."


def _deck(length_m: float, width_m: float, units: Units) -> str:
    return " by ".join(length_text(side, units) for side in (length_m, width_m))


def _knots(found: Sequence[WaysOut], assessment: Assessment) -> list[str]:
    """One sentence for each knot."""
    units = assessment.field.settings.units
    told: dict[tuple[str, ...], str] = {}
    lost = [ways.float_id for ways in found if ways.knot_why is not None]
    for ways in found:
        if ways.knot is not None:
            told[ways.knot.float_ids] = _together(ways.knot, units)
    lines = [f"floats {_and(names)} together: {sentence}" for names, sentence in told.items()]
    if lost:
        lines.append(
            f"floats {_and(lost)}: no way of moving them was found that ends all the conflicts"
            " among them."
        )
    return ["", *lines] if lines else []


def _together(knot: KnotMoves, units: Units) -> str:
    ways = [
        _way(move, units, f"{'Moving' if k == 0 else 'moving'} float {name}")
        for k, (name, move) in enumerate(knot.moves)
    ]
    total = length_text(knot.total_m, units, rounding="up")
    pair = len(knot.float_ids) == 2  # noqa: PLR2004 - of two one says both
    verb = "would clear both" if pair else "would clear all of them"
    said = f"{_and(ways)} {verb}, {total} in all"
    if knot.single_m is None:
        return f"{said}; moving one after the other would not."
    if knot.saves_m > 0:
        single = length_text(knot.single_m, units, rounding="up")
        return f"{said}, against {single} if one is moved after the other."
    if len(knot.moves) == 1:
        return f"{said}; moving more than one saves nothing."
    return f"{said}, one after the other; moving them at once saves nothing."


def _and(words: Sequence[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def ways_out_document(found: Sequence[WaysOut], assessment: Assessment) -> dict[str, Any]:
    """Return what `check --ways-out --json` prints.

    Parameters
    ----------
    found : sequence of WaysOut
        Of the assessment's floats in conflict.
    assessment : Assessment
        For the field's name.

    Returns
    -------
    dict
        SI, unrounded; every key is always there, what is not known or not possible is null, and
        the key that ends in `_why` names the reason.
    """
    return {
        "format": FORMAT,
        "field": assessment.field.folder,
        "ways_out": [_ways(one) for one in found],
    }


def _ways(one: WaysOut) -> dict[str, Any]:
    ways = asdict(one)
    ways["conflicts"] = [
        {
            "against": conflict.against,
            "kind": conflict.kind,
            "spare_m": conflict.spare_m,
            "spare_m2": conflict.spare_m2,
        }
        for conflict in one.conflicts
    ]
    ways["broken"] = list(one.broken)
    if one.shorten is not None:
        ways["shorten"]["shorter_m"] = one.shorten.shorter_m
    if one.knot is not None:
        ways["knot"] = {
            "float_ids": list(one.knot.float_ids),
            "moves": [{"float_id": name, **asdict(move)} for name, move in one.knot.moves],
            "total_m": one.knot.total_m,
            "single_m": one.knot.single_m,
            "saves_m": one.knot.saves_m,
        }
    return ways
