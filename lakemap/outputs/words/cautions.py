"""Cautions for people's safety: each written once, each shown where its condition holds."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final, Literal

from lakemap.basis.quantities import FOOT_M
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.rig.bed import DEFAULT_BOTTOM
from lakemap.season.levels import readings_beyond

Task = Literal[
    "setting",  # lowering clusters and chain from a boat
    "inspecting",
    "lifting",  # clusters off the bed
    "towing",  # the float
    "gathering",  # positions and depths, from a boat
    "member",  # who swims from the float
    "map",
    "planner",
    "rig",  # advice for one float
    "sharing",  # files that other programs open
]  # fmt: skip
Holds = Callable[[Assessment, AssessedFloat | None, Task], bool]

# Red Cross (headfirst entries; as amended, less only under trained supervision): sure
_SHALLOW_M: Final = 9 * FOOT_M.value
# Electric Shock Drowning Prevention Association, by way of insurers and power companies: 100 yd
# from powered docks in fresh water; others print 50 yd. Fairly sure; the longer one is taken
_SHOCK_M: Final = 300 * FOOT_M.value
# below 70 °F water calls for care (National Center for Cold Water Safety, second hand); that lakes
# are colder outside June to September is ours: nobody measured this one
_COLD_MONTHS: Final = (1, 2, 3, 4, 5, 10, 11, 12)
_HALF_YEAR: Final = 6
_HEAVY_N: Final = 220.0  # about 50 lb: what two people still lift by hand (ours)
_BURYING: Final = frozenset({"mud", "silt", "clay"})

_RIGGING: Final[frozenset[Task]] = frozenset({"setting", "inspecting", "lifting"})
_AFLOAT: Final[frozenset[Task]] = _RIGGING | {"towing", "gathering"}
_HEAVING: Final[frozenset[Task]] = frozenset({"setting", "lifting"})
_READING: Final[frozenset[Task]] = frozenset({"map", "planner"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution: at which tasks it is shown, and when."""

    key: str
    tasks: frozenset[Task]
    holds: Holds  # of a float, or of a field where no float is given

    @property
    def text(self) -> str:
        """What it says, in English."""
        return self.said(ENGLISH)

    def said(self, texts: Texts) -> str:
        """Return what it says in a language."""
        return texts.of(f"caution.{self.key}")

    def name(self, texts: Texts) -> str:
        """Return what it is about, in a word or two: what it says before its colon."""
        return self.said(texts).partition(":")[0]


def _always(_assessment: Assessment, _one: AssessedFloat | None, _task: Task) -> bool:
    return True


def _of_float(holds: Callable[[AssessedFloat], bool]) -> Holds:
    """Of a float; of a field where some float in the water has it."""

    def of_either(assessment: Assessment, one: AssessedFloat | None, _task: Task) -> bool:
        if one is not None:
            return holds(one)
        return any(holds(each) for each in assessment.floats if each.verdict is not None)

    return of_either


def _of_field(holds: Callable[[Assessment], bool]) -> Holds:
    def of_either(assessment: Assessment, _one: AssessedFloat | None, _task: Task) -> bool:
        return holds(assessment)

    return of_either


def _once(holds: Callable[[Assessment], bool]) -> Holds:
    """Of the field, and not said again of each float."""

    def of_field(assessment: Assessment, one: AssessedFloat | None, _task: Task) -> bool:
        return one is None and holds(assessment)

    return of_field


@_of_float
def _under_load(one: AssessedFloat) -> bool:
    wet = one.sizing.primary.wet_n
    return wet is None or wet > 0


@_of_float
def _heavy(one: AssessedFloat) -> bool:
    dry = one.sizing.primary.dry_n
    return dry is None or dry > _HEAVY_N


@_of_float
def _buried(one: AssessedFloat) -> bool:
    return (one.record.bottom or DEFAULT_BOTTOM) in _BURYING


@_of_float
def _shallow(one: AssessedFloat) -> bool:
    least = one.shallowest_m if one.shallowest_m is not None else one.depth_m[0]
    too_shallow = any(
        found.kind == "jump_depth" and found.spare_m is not None and found.spare_m < 0
        for found in one.clearances
    )
    return too_shallow or (least is not None and least < _SHALLOW_M)


def _cold(assessment: Assessment, _one: AssessedFloat | None, task: Task) -> bool:
    """Nobody measures the water: by the days of the season, and where they are not said, cold."""
    season = assessment.field.settings.season
    days = {"setting": (season.set_on,), "lifting": (season.lift_on,)}.get(
        task, (season.set_on, season.lift_on)
    )
    months = [int(day[:2]) for day in days if day]
    if assessment.projection.lat0 < 0:
        months = [(month + _HALF_YEAR - 1) % 12 + 1 for month in months]
    return not months or any(month in _COLD_MONTHS for month in months)


def _near(one: AssessedFloat, kinds: frozenset[str]) -> bool:
    return any(
        found.kind in kinds and found.gap_m is not None and found.gap_m < _SHOCK_M
        for found in one.clearances
    )


def _boats(assessment: Assessment, one: AssessedFloat | None, task: Task) -> bool:
    kinds = frozenset({"channel", "ramp"})
    if task in _AFLOAT or assessment.field.settings.wake.height_m > 0:
        return True
    if one is not None:
        return _near(one, kinds)
    return any(placed.zone.kind in kinds for placed in assessment.zones)


def _docks(assessment: Assessment, one: AssessedFloat | None, _task: Task) -> bool:
    if one is not None:
        return _near(one, frozenset({"dock"}))
    return any(placed.zone.kind == "dock" for placed in assessment.zones)


@_once
def _example_rules(assessment: Assessment) -> bool:
    rules = assessment.field.settings.rules.values()
    return any("example" in rule.source.lower() for rule in rules)


@_of_field
def _rough(assessment: Assessment) -> bool:
    return assessment.field.lake_is_rough


@_once
def _phone(assessment: Assessment) -> bool:
    return not assessment.field.settings.accuracy.position_given


@_once
def _lower_water(assessment: Assessment) -> bool:
    return readings_beyond(assessment.field)[0] > 0


@_once
def _higher_water(assessment: Assessment) -> bool:
    return readings_beyond(assessment.field)[1] > 0


CLOSING: Final = Caution(key="code_decides", tasks=frozenset(), holds=_always)  # after all others

CAUTIONS: Final = (
    Caution(key="example_rules", tasks=_READING | {"sharing"}, holds=_example_rules),
    Caution(key="under_load", tasks=_RIGGING | {"towing", "map", "rig"}, holds=_under_load),
    Caution(key="lifting", tasks=_HEAVING | {"map", "rig"}, holds=_heavy),
    Caution(key="buried", tasks=frozenset({"lifting"}), holds=_buried),
    Caution(key="boat_load", tasks=_HEAVING, holds=_heavy),
    Caution(key="diving", tasks=_RIGGING | {"map", "rig"}, holds=_under_load),
    Caution(key="towing", tasks=frozenset({"towing"}), holds=_always),
    Caution(key="under_float", tasks=frozenset({"member"}), holds=_always),
    Caution(key="shallow", tasks=_READING | {"member", "setting"}, holds=_shallow),
    Caution(key="cold", tasks=_AFLOAT | {"member", "map", "rig"}, holds=_cold),
    Caution(key="boats", tasks=_AFLOAT | _READING | {"member"}, holds=_boats),
    Caution(key="afloat", tasks=_AFLOAT, holds=_always),
    Caution(key="shock", tasks=_RIGGING | _READING | {"member"}, holds=_docks),
    Caution(key="rough_lake", tasks=_READING | {"sharing"}, holds=_rough),
    Caution(key="phone_positions", tasks=frozenset({"map"}), holds=_phone),
    Caution(key="lower_water", tasks=_READING, holds=_lower_water),
    Caution(key="higher_water", tasks=_READING, holds=_higher_water),
    Caution(key="steering", tasks=frozenset({"gathering", "sharing"}), holds=_always),
)


def cautions_of_task(
    task: Task, assessment: Assessment | None, one: AssessedFloat | None = None
) -> tuple[Caution, ...]:
    """Return the cautions that go with a task, the one that closes them last.

    Parameters
    ----------
    task : Task
        What is to be done, or what is read.
    assessment : Assessment or None
        Of the field; None where nothing is known of it: then all that go with the task are told.
    one : AssessedFloat, optional
        The float that it is done at; without it, the whole field counts.

    Returns
    -------
    tuple of Caution
        In the order in which they are shown.
    """
    shown = [
        each
        for each in CAUTIONS
        if task in each.tasks and (assessment is None or each.holds(assessment, one, task))
    ]
    return (*shown, CLOSING)


def cautions_for_task(
    task: Task,
    assessment: Assessment | None,
    one: AssessedFloat | None = None,
    *,
    texts: Texts = ENGLISH,
) -> tuple[str, ...]:
    """Return what the cautions that go with a task say.

    Parameters
    ----------
    task : Task
        What is to be done, or what is read.
    assessment : Assessment or None
        Of the field; None where nothing is known of it: then all that go with the task are told.
    one : AssessedFloat, optional
        The float that it is done at; without it, the whole field counts.
    texts : Texts
        What they say it in.

    Returns
    -------
    tuple of str
        Whole sentences; the last says that local codes, permits and licensed practice decide.
    """
    return tuple(each.said(texts) for each in cautions_of_task(task, assessment, one))


def names_of(cautions: Iterable[Caution], texts: Texts = ENGLISH) -> str:
    """Return cautions by their names, for where there is no room to say them.

    Parameters
    ----------
    cautions : iterable of Caution
        In the order in which they are named.
    texts : Texts
        What they are named in.

    Returns
    -------
    str
        As `lines under load; hoists`.
    """
    return "; ".join(each.name(texts).lower() for each in cautions)


def closing_line(texts: Texts = ENGLISH) -> str:
    """Return the sentence that closes whatever people may act on.

    Parameters
    ----------
    texts : Texts
        What it says it in.

    Returns
    -------
    str
        One line.
    """
    return CLOSING.said(texts)


def cautions_for(assessment: Assessment) -> list[Caution]:
    """Return the cautions that a map shows of its field.

    Parameters
    ----------
    assessment : Assessment
        Of the field.

    Returns
    -------
    list of Caution
        In the order in which they are shown.
    """
    return list(cautions_of_task("map", assessment))


def cautions_for_float(one: AssessedFloat, assessment: Assessment) -> list[Caution]:
    """Return the cautions that a map shows of one float; of a retired one none.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        Of the field.

    Returns
    -------
    list of Caution
        In the order in which they are shown.
    """
    return [] if one.verdict is None else list(cautions_of_task("map", assessment, one))
