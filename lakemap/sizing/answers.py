"""Whether a primary holds, in sentences: three answers kept apart, and what would turn each."""

import math
from typing import Final

import numpy as np

from lakemap.basis.wording import force_text, speed_text, weight_text
from lakemap.loads.storm import GREATEST_WIND_M_S
from lakemap.rig.holding import required_weight
from lakemap.sizing.candidates import candidates_of
from lakemap.sizing.records import Answers
from lakemap.sizing.size_rigs import Sized
from lakemap.sizing.statics import NORMAL

_FACTOR: Final = 1.5


def answers_of(sized: Sized, i: int) -> Answers:
    """Return what the sizing of one float says in sentences.

    Parameters
    ----------
    sized : Sized
        Of a field.
    i : int
        Which float.

    Returns
    -------
    Answers
        Whole sentences; no answer is ever said to be enough by itself.
    """
    return Answers(
        practice=_practice(sized, i),
        unburied=_unburied(sized, i),
        buried=_buried(sized, i),
        changes=tuple(_changes(sized, i)),
        candidates=candidates_of(sized, i),
    )


def _practice(sized: Sized, i: int) -> str:
    rigs = sized.rigs
    asked = f"{int(rigs.primary.practice_blocks[i])} and {int(rigs.secondary.practice_blocks[i])}"
    has = " and ".join(
        "a weight" if np.isnan(cluster.blocks[i]) else str(int(cluster.blocks[i]))
        for cluster in (rigs.primary, rigs.secondary)
    )
    both = bool(rigs.primary.enough_practice[i] and rigs.secondary.enough_practice[i])
    verdict = "As practice has it" if both else "Less than practice has"
    return f"{verdict}: {asked} blocks asked, {has} there; no published source."


def _unburied(sized: Sized, i: int) -> str:
    if sized.ground.friction[i] == 0:
        return "Nothing can be counted on: no friction is published for soft mud."
    return _held(
        sized,
        i,
        float(sized.holding.unburied_n[i]),
        float(sized.holding.slides_unburied_m_s[i]),
        "Holds by its weight alone",
    )


def _buried(sized: Sized, i: int) -> str:
    if np.isnan(sized.ground.passive_n[i]):
        return "On rock nothing settles in."
    said = _held(
        sized,
        i,
        float(sized.holding.buried_n[i]),
        float(sized.holding.slides_buried_m_s[i]),
        "Settled in, it would hold",
    )
    return f"{said} An estimate: it could be half of that, and scour undoes it."


def _held(sized: Sized, i: int, holding_n: float, wind_m_s: float, words: str) -> str:
    units = sized.question.settings.units
    mean = float(sized.question.storms.storms.mean_n[i])
    if math.isnan(mean) or math.isnan(holding_n):
        return "Not known: the depth, the open water or a length is missing."
    until = (
        f"up to {speed_text(wind_m_s, units)}"
        if math.isfinite(wind_m_s)
        else f"in any wind we have laws for, to {speed_text(GREATEST_WIND_M_S, units)}"
    )
    there = force_text(holding_n, units, rounding="down")
    asked = force_text(_FACTOR * mean, units, rounding="up")
    pull = force_text(mean, units, rounding="up")
    return f"{words} {until}: {there} there, {asked} asked (1.5 times the steady {pull})."


def _changes(sized: Sized, i: int) -> list[str]:
    """The smallest change that would turn each answer that is no."""
    rigs, said = sized.rigs, []
    for name, cluster in (("primary", rigs.primary), ("secondary", rigs.secondary)):
        more = cluster.practice_blocks[i] - cluster.blocks[i]
        if more > 0 and not cluster.enough_practice[i]:
            said.append(
                f"{_more_blocks(int(more))} in the {name} would make it as practice has it."
            )
    said += _weight_change(sized, i)
    return said


def _weight_change(sized: Sized, i: int) -> list[str]:
    """How much more weight in the primary friction alone would ask for, and settled in."""
    mean = float(sized.question.storms.storms.mean_n[i])
    uplift = float(sized.statics.states[NORMAL].primary_uplift_n[i])
    friction, unit = float(sized.ground.friction[i]), float(sized.unit.wet_n[i])
    wet = max(float(sized.rigs.primary.wet_n[i]), 0.0)
    if math.isnan(mean + uplift):
        return []
    said = []
    for soil, holding_n, words in (
        (0.0, sized.holding.unburied_n[i], "by friction alone"),
        (sized.ground.passive_n[i], sized.holding.buried_n[i], "settled in"),
    ):
        if np.isnan(soil) or holding_n >= _FACTOR * mean:
            continue
        pull = max(_FACTOR * mean - float(soil), 0.0)
        asked = float(required_weight(pull, uplift_n=uplift, friction=friction, factor=1.0))
        said.append(_more_weight(sized, i, asked - wet, unit, words))
    return said


def _more_weight(sized: Sized, i: int, more_n: float, unit_n: float, words: str) -> str:
    goal = f"would hold 1.5 times the steady pull {words}"
    if not math.isfinite(more_n):
        return f"No weight {goal}: soft mud gives no friction to count on."
    if unit_n > 0 and not np.isnan(sized.rigs.primary.blocks[i]):
        return f"{_more_blocks(math.ceil(more_n / unit_n - 1e-9))} in the primary {goal}."
    weight = weight_text(more_n, sized.question.settings.units, rounding="up")
    return f"{weight} more in the primary, weighed in water, {goal}."


def _more_blocks(count: int) -> str:
    return f"{count} more block{'' if count == 1 else 's'}"
