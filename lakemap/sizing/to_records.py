"""From the arrays of a field's sizing to one record a float, in the shape of the JSON document."""

import numpy as np

from lakemap.rig.records import Cluster
from lakemap.sizing.cautions import cautions_of
from lakemap.sizing.records import (
    Enough,
    FloatSizing,
    Holding,
    LinePart,
    LineSizing,
    Loads,
    PrimarySizing,
    SecondarySizing,
    Sizing,
    StormSizing,
)
from lakemap.sizing.size_rigs import Sized
from lakemap.sizing.statics import NORMAL


def sizings_of(sized: Sized) -> tuple[Sizing, ...]:
    """Return the sizing of every float.

    Parameters
    ----------
    sized : Sized
        Of a field.

    Returns
    -------
    tuple of Sizing
        In file order; None is unknown.
    """
    return tuple(_sizing(sized, i) for i in range(len(sized.question.floats)))


def known(value: float) -> float | None:
    """Return a number, None for what arrays say as NaN or as no finite number."""
    return float(value) if np.isfinite(value) else None


def _sizing(sized: Sized, i: int) -> Sizing:
    return Sizing(
        float=_float(sized, i),
        storm=_storm(sized, i),
        loads_n=_loads(sized, i),
        primary=_primary(sized, i),
        secondary=_secondary(sized, i),
        line=_line(sized, i),
        cautions=tuple(cautions_of(sized, i)),
    )


def _float(sized: Sized, i: int) -> FloatSizing:
    buoyancy, stability = sized.question.buoyancy, sized.question.stability
    return FloatSizing(
        weight_n=float(buoyancy.weight_n[i]),
        draft_m=float(buoyancy.draft_m[i]),
        freeboard_m=float(buoyancy.freeboard_m[i]),
        buoyancy_n=float(buoyancy.buoyancy_n[i]),
        reserve_n=float(buoyancy.reserve_n[i]),
        gm_m=known(stability.gm_m[i]),
        heel_deg=known(stability.heel_deg[i]),
        edge_people_max=int(stability.edge_people_max[i]),
        heave_period_s=known(stability.heave_period_s[i]),
    )


def _storm(sized: Sized, i: int) -> StormSizing:
    storm = sized.question.storms.storms
    return StormSizing(
        wind_m_s=known(storm.wind_m_s[i]),
        gust_m_s=known(storm.gust_m_s[i]),
        from_deg=known(storm.from_deg[i]),
        fetch_m=known(storm.fetch_m[i]),
        wave_height_m=known(storm.height_m[i]),
        wave_period_s=known(storm.period_s[i]),
        wave_height_max_m=known(storm.highest_m[i]),
        wake_height_m=known(sized.question.placement.wake_height_m[i]),
    )


def _loads(sized: Sized, i: int) -> Loads:
    storm, loads = sized.question.storms.storms, sized.loads
    return Loads(
        wind=known(storm.wind_n[i]),
        gust=known(storm.gust_n[i]),
        drift=known(storm.drift_n[i]),
        mean=known(storm.mean_n[i]),
        snap=known(loads.snap_n[i]),
        peak=known(loads.peak_n[i]),
    )


def _primary(sized: Sized, i: int) -> PrimarySizing:
    cluster, held = sized.rigs.primary, sized.holding
    state = sized.statics.states[NORMAL]
    practice = bool(cluster.enough_practice[i] and sized.rigs.secondary.enough_practice[i])
    return PrimarySizing(
        blocks=_count(cluster, i),
        dry_n=float(cluster.dry_n[i]),
        wet_n=float(cluster.wet_n[i]),
        uplift_n=known(state.primary_uplift_n[i]),
        pull_angle_deg=known(state.primary_angle_deg[i]),
        holding_n=Holding(unburied=known(held.unburied_n[i]), buried=known(held.buried_n[i])),
        practice_blocks=int(cluster.practice_blocks[i]),
        enough=Enough(
            practice=practice,
            unburied=_is_enough(sized, held.unburied_n[i], i),
            buried=_is_enough(sized, held.buried_n[i], i),
        ),
        decides=sized.question.settings.holding,
        slides_at_wind_m_s=Holding(
            unburied=known(held.slides_unburied_m_s[i]), buried=known(held.slides_buried_m_s[i])
        ),
    )


def _is_enough(sized: Sized, holding_n: float, i: int) -> bool | None:
    mean = sized.question.storms.storms.mean_n[i]
    if np.isnan(mean) or np.isnan(holding_n):
        return None
    _, there = sized.holding.enough(np.asarray(holding_n), np.asarray(mean))
    return bool(there)


def _secondary(sized: Sized, i: int) -> SecondarySizing:
    cluster, statics = sized.rigs.secondary, sized.statics
    return SecondarySizing(
        blocks=_count(cluster, i),
        dry_n=float(cluster.dry_n[i]),
        wet_n=float(cluster.wet_n[i]),
        slide_pull_n=known(statics.slide_n[i]),
        lift_pull_n=known(statics.pulls.lift_n[i]),
        uplift_pull_n=known(statics.pulls.full_n[i]),
        lift_crest_m=known(statics.crest_m[i]),
        practice_blocks=int(cluster.practice_blocks[i]),
    )


def _line(sized: Sized, i: int) -> LineSizing:
    strength = sized.strength
    parts = sized.rigs.parts[i].parts
    weakest = int(strength.weakest[i])
    columns = (
        strength.breaking_n[i].tolist(),
        strength.working_n[i].tolist(),
        strength.used[i].tolist(),
    )
    peak = known(sized.loads.peak_n[i])
    return LineSizing(
        parts=tuple(
            LinePart(
                name=part.name,
                size=part.size,
                breaking_n=known(breaking),
                working_n=known(working),
                load_n=peak,
                used=known(used),
            )
            for part, breaking, working, used in zip(parts, *columns, strict=True)
        ),
        weak_link=None if weakest < 0 else parts[weakest].name,
    )


def _count(cluster: Cluster, i: int) -> int | None:
    return None if np.isnan(cluster.blocks[i]) else int(cluster.blocks[i])
