"""After a storm: which floats met more than their rigs are sized for, in that storm's own wind."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.records import Float, Storm
from lakemap.mapping import assess


@dataclass(frozen=True, slots=True, kw_only=True)
class StormPassed:
    """What one storm asked of one float."""

    float_id: str
    from_deg: float | None  # the bearing of those given that pulls hardest
    wave_height_m: float | None
    mean_n: float | None  # steady pull
    peak_n: float | None  # with the snatch, an upper bound
    sized_mean_n: float | None  # the same in the storm that the rigs are sized for
    sized_peak_n: float | None
    above_sized: bool | None  # either pull is above what the rig is sized for; None: not known
    part: str | None  # of the line, used most
    size: str | None
    used: float | None  # of its working strength
    lifts: bool | None  # whether the secondary left the bed under the steady pull
    slides: bool | None  # whether the primary slid if it lies by its weight alone
    slides_settled: bool | None  # the same, settled in: an estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterStorm:
    """One storm over a field."""

    wind_m_s: float
    gust_m_s: float | None
    from_deg: tuple[float, ...] | None
    stronger: bool  # its wind, or its gust, is above what some rig is sized for
    floats: tuple[StormPassed, ...]  # set ones, those to look at first first

    def only(self, float_id: str) -> "AfterStorm":
        """Return the same with one float left.

        Parameters
        ----------
        float_id : str
            Of a set float.

        Returns
        -------
        AfterStorm
            The same storm.
        """
        return replace(self, floats=tuple(one for one in self.floats if one.float_id == float_id))


def storm_of(
    assessment: Assessment, *, wind_m_s: float, gust_m_s: float | None, from_deg: float | None
) -> Storm:
    """Return a storm that blew, over the current of the settings.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    wind_m_s : float
        10-minute mean, 10 m above the water [m/s].
    gust_m_s : float or None
        Of 3 s; None: by the gust curve.
    from_deg : float or None
        True bearing the wind came from; None: any.

    Returns
    -------
    Storm
        For `after_storm`.
    """
    return replace(
        assessment.field.settings.storm,
        wind_m_s=wind_m_s,
        gust_m_s=gust_m_s,
        from_deg=None if from_deg is None else (from_deg,),
        return_period_years=None,
    )


def after_storm(assessment: Assessment, storm: Storm) -> AfterStorm:
    """Return which floats met more than their rigs are sized for.

    Every rig as it lies (its lengths and blocks, those that the tool chose too) is reckoned again
    in that storm by the sizing's own formulas.

    Parameters
    ----------
    assessment : Assessment
        Of a field in the storm that its rigs are sized for.
    storm : Storm
        As it blew.

    Returns
    -------
    AfterStorm
        First those whose pull was above the sized one, then those whose primary may have slid
        though settled in, then by how much of its strength the weakest part was asked.
    """
    field = assessment.field
    settings = replace(field.settings, storm=storm)
    built = tuple(_as_built(one) for one in assessment.floats)
    blown = assess(replace(field, floats=built, settings=settings))
    pairs = zip(assessment.floats, blown.floats, strict=True)
    found = [_passed(was, now) for was, now in pairs if was.record.status == "set"]
    sized = _least_sized(assessment.floats)
    return AfterStorm(
        wind_m_s=storm.wind_m_s,
        gust_m_s=storm.gust_m_s,
        from_deg=storm.from_deg,
        stronger=_is_stronger(storm, sized),
        floats=tuple(sorted(found, key=_first)),
    )


def _as_built(one: AssessedFloat) -> Float:
    """The record with its blanks filled as they were: another storm must not design another rig."""
    record, sizing = one.record, one.sizing
    weighed = record.primary_weight_kg is not None, record.secondary_weight_kg is not None
    return replace(
        record,
        riser_m=one.riser_m if record.riser_m is None else record.riser_m,
        ground_m=one.ground_m if record.ground_m is None else record.ground_m,
        primary_blocks=record.primary_blocks if weighed[0] else sizing.primary.blocks,
        secondary_blocks=record.secondary_blocks if weighed[1] else sizing.secondary.blocks,
    )


def _least_sized(floats: Sequence[AssessedFloat]) -> tuple[float, float] | None:
    """The least wind and gust that a rig is sized for; a return period has one by bearing."""
    winds = [one.sizing.storm.wind_m_s for one in floats if one.sizing.storm.wind_m_s is not None]
    gusts = [one.sizing.storm.gust_m_s for one in floats if one.sizing.storm.gust_m_s is not None]
    return (min(winds), min(gusts)) if winds and gusts else None


def _is_stronger(storm: Storm, sized: tuple[float, float] | None) -> bool:
    if sized is None:
        return False
    return storm.wind_m_s > sized[0] or (storm.gust_m_s or 0.0) > sized[1]


def _passed(was: AssessedFloat, now: AssessedFloat) -> StormPassed:
    loads, sized, sizing = now.sizing.loads_n, was.sizing.loads_n, now.sizing
    weak = sizing.line.weakest
    lift, primary = sizing.secondary.lift_pull_n, sizing.primary
    return StormPassed(
        float_id=was.record.float_id,
        from_deg=sizing.storm.from_deg,
        wave_height_m=sizing.storm.wave_height_m,
        mean_n=loads.mean,
        peak_n=loads.peak,
        sized_mean_n=sized.mean,
        sized_peak_n=sized.peak,
        above_sized=_above((loads.mean, sized.mean), (loads.peak, sized.peak)),
        part=None if weak is None else weak.name,
        size=None if weak is None else weak.size,
        used=None if weak is None else weak.used,
        lifts=None if lift is None or loads.mean is None else loads.mean > lift,
        slides=_more(loads.mean, primary.holding_n.unburied),
        slides_settled=_more(loads.mean, primary.holding_n.buried),
    )


def _above(*pairs: tuple[float | None, float | None]) -> bool | None:
    known = [now > sized for now, sized in pairs if now is not None and sized is not None]
    return any(known) if known else None


def _more(pull_n: float | None, holding_n: float | None) -> bool | None:
    return None if pull_n is None or holding_n is None else pull_n > holding_n


def _first(one: StormPassed) -> tuple[bool, bool, float]:
    """Those to look at first sort first; what is not known, before what is known to be less."""
    return (
        one.above_sized is False,
        one.slides_settled is False,
        -(one.used if one.used is not None else float("inf")),
    )
