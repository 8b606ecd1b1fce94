"""Cautions for people's safety: each written once, each shown where its condition holds."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from lakemap.basis.quantities import FOOT_M
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words.texts import ENGLISH, Texts

_SHALLOW_M: Final = 9 * FOOT_M.value  # American Red Cross: headfirst entries in 9 ft at least
_COLD_MONTHS: Final = (1, 2, 3, 4, 5, 10, 11, 12)
_HEAVY_N: Final = 220.0  # about 50 lb: what two people still lift by hand (ours)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution and when it is shown."""

    key: str
    of_field: Callable[[Assessment], bool]
    of_float: Callable[[AssessedFloat, Assessment], bool]

    @property
    def text(self) -> str:
        """What it says, in English."""
        return self.said(ENGLISH)

    def said(self, texts: Texts) -> str:
        """Return what it says in a language."""
        return texts.of(f"caution.{self.key}")


def _always_field(_assessment: Assessment) -> bool:
    return True


def _always_float(one: AssessedFloat, _assessment: Assessment) -> bool:
    return one.verdict is not None


def _any_float(
    holds: Callable[[AssessedFloat, Assessment], bool],
) -> Callable[[Assessment], bool]:
    def of_field(assessment: Assessment) -> bool:
        return any(holds(one, assessment) for one in assessment.floats)

    return of_field


def _under_load(one: AssessedFloat, _assessment: Assessment) -> bool:
    wet = one.sizing.primary.wet_n
    return one.verdict is not None and wet is not None and wet > 0


def _lifting(one: AssessedFloat, _assessment: Assessment) -> bool:
    dry = one.sizing.primary.dry_n
    return one.verdict is not None and dry is not None and dry > _HEAVY_N


def _shallow(one: AssessedFloat, _assessment: Assessment) -> bool:
    least = one.shallowest_m if one.shallowest_m is not None else one.depth_m[0]
    return one.verdict is not None and least is not None and least < _SHALLOW_M


def _cold(assessment: Assessment) -> bool:
    season = assessment.field.settings.season
    days = [day for day in (season.set_on, season.lift_on) if day]
    return not days or any(int(day[:2]) in _COLD_MONTHS for day in days)


def _boats(assessment: Assessment) -> bool:
    return assessment.field.settings.wake.height_m > 0 or any(
        placed.zone.kind in {"channel", "ramp"} for placed in assessment.zones
    )


def _docks(assessment: Assessment) -> bool:
    return any(placed.zone.kind == "dock" for placed in assessment.zones)


def _example_rules(assessment: Assessment) -> bool:
    rules = assessment.field.settings.rules.values()
    return any("example" in rule.source.lower() for rule in rules)


def _rough(assessment: Assessment) -> bool:
    return assessment.field.lake_is_rough


def _phone(assessment: Assessment) -> bool:
    return not assessment.field.settings.accuracy.position_given


def _of_its_field(
    holds: Callable[[Assessment], bool],
) -> Callable[[AssessedFloat, Assessment], bool]:
    def of_float(one: AssessedFloat, assessment: Assessment) -> bool:
        return one.verdict is not None and holds(assessment)

    return of_float


def _never_float(_one: AssessedFloat, _assessment: Assessment) -> bool:
    return False


CAUTIONS: Final = (
    Caution(
        key="code_decides",
        of_field=_always_field,
        of_float=_always_float,
    ),
    Caution(
        key="example_rules",
        of_field=_example_rules,
        of_float=_never_float,
    ),
    Caution(
        key="under_load",
        of_field=_any_float(_under_load),
        of_float=_under_load,
    ),
    Caution(
        key="lifting",
        of_field=_any_float(_lifting),
        of_float=_lifting,
    ),
    Caution(
        key="diving",
        of_field=_any_float(_under_load),
        of_float=_under_load,
    ),
    Caution(
        key="shallow",
        of_field=_any_float(_shallow),
        of_float=_shallow,
    ),
    Caution(
        key="cold",
        of_field=_cold,
        of_float=_of_its_field(_cold),
    ),
    Caution(
        key="boats",
        of_field=_boats,
        of_float=_of_its_field(_boats),
    ),
    Caution(
        key="shock",
        of_field=_docks,
        of_float=_never_float,
    ),
    Caution(
        key="rough_lake",
        of_field=_rough,
        of_float=_of_its_field(_rough),
    ),
    Caution(
        key="phone_positions",
        of_field=_phone,
        of_float=_never_float,
    ),
)


def cautions_for(assessment: Assessment) -> list[Caution]:
    """Return the cautions whose condition holds for a field.

    Parameters
    ----------
    assessment : Assessment
        Of the field.

    Returns
    -------
    list of Caution
        In the order in which they are shown.
    """
    return [caution for caution in CAUTIONS if caution.of_field(assessment)]


def cautions_for_float(one: AssessedFloat, assessment: Assessment) -> list[Caution]:
    """Return the cautions whose condition holds for one float.

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
    return [caution for caution in CAUTIONS if caution.of_float(one, assessment)]
