"""The steps of lifting one float: what it carries decides which way they go."""

from collections.abc import Iterator
from enum import Enum
from typing import Final

from lakemap.basis.quantities import INCH_M
from lakemap.outputs.sheets.numbers import BLANK, SheetNumbers
from lakemap.rig.lifting import Stage
from lakemap.season.facts.lifting import Hung, LiftingFacts
from lakemap.season.facts.tow import Tow
from lakemap.season.rig_inventory import inventory

_MARGIN_IN: Final = 2.0  # ours: what a small wave and a hand's breadth hide
_HALF_TURN_DEG: Final = 180.0


class Carries(Enum):
    """What a float carries safely under its hook, in calm water."""

    UNKNOWN = "unknown"  # a depth or a length is missing
    BOTH = "both"  # with two people aboard
    BOTH_ALONE = "both alone"  # with nobody aboard
    PRIMARY = "primary"
    SECONDARY = "secondary"
    NOTHING = "nothing"


def carries(facts: LiftingFacts) -> Carries:
    """Return what a float carries safely under its hook.

    Parameters
    ----------
    facts : LiftingFacts
        Of the float.

    Returns
    -------
    Carries
        The heavier first: both, the primary, the secondary.
    """
    if not facts.hung:
        return Carries.UNKNOWN
    able = {(each.under, each.crew) for each in facts.hung if each.floats and each.steady}
    if ("both", 0) in able:
        crew = max(each.crew for each in facts.hung)
        return Carries.BOTH if ("both", crew) in able else Carries.BOTH_ALONE
    for under, told in (("primary", Carries.PRIMARY), ("secondary", Carries.SECONDARY)):
        if (under, 0) in able:
            return told
    return Carries.NOTHING


def lifting_steps(facts: LiftingFacts, numbers: SheetNumbers) -> tuple[str, ...]:
    """Return what to do in order, who does it, and what to look at before going on.

    Parameters
    ----------
    facts : LiftingFacts
        Of the float.
    numbers : SheetNumbers
        That writes them.

    Returns
    -------
    tuple of str
        Whole sentences.
    """
    texts, told = numbers.texts, carries(facts)
    return (
        texts.of("sheet_lifting.ready", level=numbers.level(facts.place.depths)),
        _gear(facts, numbers),
        _riser(numbers),
        " ".join(_secondary_up(facts, numbers)),
        _secondary_then(facts, numbers, told),
        _follow(numbers),
        _breakout(facts, numbers),
        _primary_then(facts, numbers, told),
        " ".join(_tow(facts, numbers, told)),
        _ashore(facts, numbers),
    )


def _stage(facts: LiftingFacts, name: str) -> Stage | None:
    return next((each for each in facts.stages if each.name == name), None)


def _hung(facts: LiftingFacts, under: str) -> Hung | None:
    """With nobody aboard."""
    return next((each for each in facts.hung if (each.under, each.crew) == (under, 0)), None)


def _gear(facts: LiftingFacts, numbers: SheetNumbers) -> str:
    pulls = [each.hoist_n for each in facts.stages]
    rated = max([*pulls, facts.primary.air_n, facts.secondary.air_n])
    depth = facts.place.depths.primary_m
    return numbers.texts.of(
        "sheet_lifting.gear", rated=numbers.weight(rated), line=numbers.marker(depth)
    )


def _riser(numbers: SheetNumbers) -> str:
    pieces = inventory(numbers.one, numbers.units)
    has_absorber = any(piece.kind == "cable" for piece in pieces)
    return numbers.texts.of(f"sheet_lifting.{'riser' if has_absorber else 'riser_plain'}")


def _secondary_up(facts: LiftingFacts, numbers: SheetNumbers) -> Iterator[str]:
    texts, stage = numbers.texts, _stage(facts, "secondary up")
    hoist = BLANK if stage is None else numbers.weight(stage.hoist_n)
    yield texts.of("sheet_lifting.secondary_up", hoist=hoist)
    short, primary = _short_m(facts, numbers), _stage(facts, "primary up")
    if short is not None and primary is not None:
        yield texts.of(
            "sheet_lifting.secondary_short",
            far=numbers.tape(short),
            hoist=numbers.weight(primary.hoist_n),
        )


def _short_m(facts: LiftingFacts, numbers: SheetNumbers) -> float | None:
    """How much shorter the ground chain is than the water is deep; None: it is long enough."""
    depths, ground = facts.place.depths, numbers.one.ground_m
    depth = depths.secondary_m if depths.secondary_m is not None else depths.primary_m
    if depth is None or ground is None or ground >= depth:
        return None
    return depth - ground


def _secondary_then(facts: LiftingFacts, numbers: SheetNumbers, told: Carries) -> str:
    texts, hung = numbers.texts, _hung(facts, "secondary")
    if told in {Carries.PRIMARY, Carries.NOTHING}:
        return texts.of("sheet_lifting.secondary_aside")
    deck = BLANK if hung is None else numbers.tape(hung.freeboard_m)
    return texts.of("sheet_lifting.secondary_hung", deck=deck)


def _follow(numbers: SheetNumbers) -> str:
    texts, one = numbers.texts, numbers.one
    ground = numbers.tape(one.ground_m)
    second = one.secondary
    if second is None or second.bearing_deg is None or second.assumed:
        return texts.of("sheet_lifting.follow_free", ground=ground)
    back = numbers.bearing((second.bearing_deg + _HALF_TURN_DEG) % 360.0)
    return texts.of("sheet_lifting.follow", bearing=back, ground=ground)


def _breakout(facts: LiftingFacts, numbers: SheetNumbers) -> str:
    stage = _stage(facts, "primary up")
    hoist = BLANK if stage is None else numbers.weight(stage.hoist_n)
    return numbers.texts.of("sheet_lifting.breakout", hoist=hoist, text=facts.breakout.text)


def _primary_then(facts: LiftingFacts, numbers: SheetNumbers, told: Carries) -> str:
    texts = numbers.texts
    if told in {Carries.SECONDARY, Carries.NOTHING}:
        return texts.of("sheet_lifting.primary_aside")
    alone = told is Carries.PRIMARY
    hung = _hung(facts, "primary" if alone else "both")
    return texts.of(
        f"sheet_lifting.primary_{'alone' if alone else 'hung'}",
        deck=BLANK if hung is None else numbers.tape(hung.freeboard_m),
        margin=numbers.hand(_MARGIN_IN * INCH_M.value),
    )


def _tow(facts: LiftingFacts, numbers: SheetNumbers, told: Carries) -> Iterator[str]:
    texts, tow = numbers.texts, facts.tow
    if told is Carries.NOTHING:
        yield texts.of("sheet_lifting.tow_none")
        return
    if tow is None:
        yield texts.of("sheet_lifting.tow_unknown")
        return
    target = tow.target if tow.to_ramp else texts.of("sheet_lifting.tow_nearest")
    form = "tow" if tow.deep_enough else "tow_shallow"
    yield texts.of(
        f"sheet_lifting.{form}",
        length=numbers.far(tow.length_m),
        target=target,
        draft=numbers.tape(tow.draft_m),
        needs=numbers.tape(tow.needs_m),
        shallowest=numbers.tape(tow.shallowest_m),
        spot=numbers.spot(*tow.shallowest_lonlat),
        spare=numbers.length(tow.spare_m, rounding="down"),
        short=numbers.length(-tow.spare_m, rounding="up"),
        under=numbers.tape(tow.needs_m - tow.draft_m),
    )
    yield from _on_the_way(tow, numbers, target)


def _on_the_way(tow: Tow, numbers: SheetNumbers, target: str) -> Iterator[str]:
    texts = numbers.texts
    if tow.unsounded:
        yield texts.of("sheet_lifting.unsounded")
    if tow.swim_areas:
        yield texts.of("sheet_lifting.swim", areas=", ".join(tow.swim_areas))
    if tow.left_m > 0:
        yield texts.of("sheet_lifting.touch", left=numbers.far(tow.left_m), target=target)


def _ashore(facts: LiftingFacts, numbers: SheetNumbers) -> str:
    texts = numbers.texts
    stage = _stage(facts, "ashore")
    whole = facts.primary.air_n + facts.secondary.air_n if stage is None else stage.air_n
    blocks = numbers.block(facts.primary)
    if numbers.one.record.primary_weight_kg is not None:
        return texts.of("sheet_lifting.ashore_weight", weight=numbers.weight(facts.primary.air_n))
    return texts.of("sheet_lifting.ashore", block=blocks, all=numbers.weight(whole))
