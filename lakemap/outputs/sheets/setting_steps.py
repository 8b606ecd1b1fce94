"""The steps of setting one float, with its own lengths, weights, bearings and depths."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.sheets.piece_words import clips_of, clips_sentence
from lakemap.rig.lift_weights import LiftWeight
from lakemap.rig.swing import reach
from lakemap.season.facts.setting import SettingFacts
from lakemap.season.rig_inventory import inventory

_TWICE: Final = 2.0  # standard errors
Weights = tuple[LiftWeight, LiftWeight]


def setting_steps(facts: SettingFacts, numbers: SheetNumbers, weights: Weights) -> tuple[str, ...]:
    """Return what to do in order, who does it, and what to look at before going on.

    Parameters
    ----------
    facts : SettingFacts
        Of the float.
    numbers : SheetNumbers
        That writes them.
    weights : tuple of LiftWeight
        Of primary and secondary, the most that they may weigh.

    Returns
    -------
    tuple of str
        Whole sentences.
    """
    return (
        _make_up(facts, numbers),
        _markers(facts, numbers),
        _sound(facts, numbers),
        _drop(facts, numbers, weights[0]),
        _pay_out(facts, numbers),
        numbers.texts.of(
            "sheet_setting.secondary",
            air=numbers.weight(weights[1].dry_n),
            water=numbers.weight(weights[1].water_n),
        ),
        _separation(facts, numbers),
        numbers.texts.of("sheet_setting.hook"),
        " ".join(_look(facts, numbers)),
    )


def _make_up(facts: SettingFacts, numbers: SheetNumbers) -> str:
    texts = numbers.texts
    said = texts.of(
        "sheet_setting.make_up",
        ground=numbers.tape(facts.ground_m),
        riser=numbers.tape(facts.riser_m),
    )
    clips = clips_of(inventory(numbers.one, numbers.units))
    return said if clips is None else f"{said} {clips_sentence(*clips, numbers)}"


def _markers(facts: SettingFacts, numbers: SheetNumbers) -> str:
    texts = numbers.texts
    if facts.primary_line_m is None:
        return texts.of("sheet_setting.markers_unknown")
    second = facts.secondary_line_m or facts.primary_line_m
    return texts.of(
        "sheet_setting.markers",
        primary=numbers.tape(facts.primary_line_m),
        secondary=numbers.tape(second),
    )


def _sound(facts: SettingFacts, numbers: SheetNumbers) -> str:
    texts, depths = numbers.texts, facts.place.depths
    if depths.primary_m is None:
        return texts.of("sheet_setting.sound_unknown")
    error, depth, level = (
        _depth_error_m(numbers),
        numbers.tape(depths.primary_m),
        numbers.level(depths),
    )
    if error is None:
        return texts.of("sheet_setting.sound_unsure", level=level, depth=depth)
    far = numbers.length(_TWICE * error, rounding="up")
    return texts.of("sheet_setting.sound", level=level, depth=depth, error=far)


def _depth_error_m(numbers: SheetNumbers) -> float | None:
    """Standard error of the depth of the day: as the field gives it, else as its soundings show."""
    accuracy = numbers.assessment.field.settings.accuracy
    depth = numbers.one.depth_error_m if accuracy.depth_m is None else accuracy.depth_m
    return None if depth is None else float(np.hypot(depth, accuracy.level_m))


def _drop(facts: SettingFacts, numbers: SheetNumbers, primary: LiftWeight) -> str:
    texts, found = numbers.texts, facts.tolerance
    said = texts.of(
        "sheet_setting.drop",
        air=numbers.weight(primary.dry_n),
        water=numbers.weight(primary.water_n),
    )
    if found is None or found.conflict or not facts.place.located:
        return said
    far = numbers.length(found.radius_m, rounding="down")
    return f"{said} {texts.of('sheet_setting.off', far=far)}"


def _pay_out(facts: SettingFacts, numbers: SheetNumbers) -> str:
    ground = numbers.tape(facts.ground_m)
    if facts.secondary is None:
        return numbers.texts.of("sheet_setting.pay_out_free", ground=ground)
    bearing = numbers.bearing(facts.secondary.bearing_deg)
    return numbers.texts.of("sheet_setting.pay_out", bearing=bearing, ground=ground)


def _separation(facts: SettingFacts, numbers: SheetNumbers) -> str:
    found, second = facts.separation, facts.secondary
    if found is None or second is None:
        return numbers.texts.of("sheet_setting.separation_unknown")
    return numbers.texts.of(
        "sheet_setting.separation",
        apart=numbers.tape(found.apart_m),
        bearing=numbers.bearing(second.bearing_deg),
        least=numbers.tape(found.apart_m - found.tolerance_m),
        far=numbers.tape(found.slack_off_m),
    )


def _look(facts: SettingFacts, numbers: SheetNumbers) -> Iterator[str]:
    texts = numbers.texts
    calm = _calm_m(facts, numbers)
    if calm is None:
        yield texts.of("sheet_setting.look_unknown")
    else:
        yield texts.of("sheet_setting.look", far=numbers.tape(calm))
    marking = numbers.assessment.field.settings.season.marking
    if marking:
        yield texts.of("sheet_setting.marking", marking=marking)


def _calm_m(facts: SettingFacts, numbers: SheetNumbers) -> float | None:
    """How far the hook may lie from the secondary while that stays on its bed."""
    depth, riser, hook = (
        facts.place.depths.secondary_m,
        facts.riser_m,
        numbers.one.hook_depth_m,
    )
    if depth is None or riser is None or hook is None or not 0 <= depth - hook <= riser:
        return None
    return float(reach(np.array(depth - hook), line_m=np.array(riser)))
