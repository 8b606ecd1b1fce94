"""First sizing of every float, as frozen records in the shape of the JSON document."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatSizing:
    """The float itself; None is not yet computed."""

    weight_n: float
    draft_m: float
    freeboard_m: float
    buoyancy_n: float
    reserve_n: float
    gm_m: float | None = None
    heel_deg: float | None = None
    edge_people_max: int | None = None
    heave_period_s: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StormSizing:
    """The storm at the float; None is not yet computed."""

    wind_m_s: float | None = None
    gust_m_s: float | None = None
    from_deg: float | None = None
    fetch_m: float | None = None
    wave_height_m: float | None = None
    wave_period_s: float | None = None
    wave_height_max_m: float | None = None
    wake_height_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """Pulls at the hook [N]; None is not yet computed."""

    wind: float | None = None
    gust: float | None = None
    drift: float | None = None
    mean: float | None = None
    snap: float | None = None
    peak: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """One number for each way of reckoning the holding; None is not yet computed."""

    unburied: float | None = None
    buried: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Enough:
    """Whether the primary is enough, three answers kept apart; None is not yet computed."""

    practice: bool | None = None
    unburied: bool | None = None
    buried: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrimarySizing:
    """The primary; None is not yet computed."""

    blocks: int | None
    dry_n: float | None
    wet_n: float | None
    practice_blocks: int
    enough: Enough
    uplift_n: float | None = None
    pull_angle_deg: float | None = None
    holding_n: Holding = Holding()
    decides: str | None = None
    slides_at_wind_m_s: Holding = Holding()


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondarySizing:
    """The secondary; None is not yet computed."""

    blocks: int | None
    dry_n: float | None
    wet_n: float | None
    practice_blocks: int
    slide_pull_n: float | None = None
    lift_pull_n: float | None = None
    uplift_pull_n: float | None = None
    lift_crest_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePart:
    """One part of the line, hook to primary."""

    name: str
    size: str
    breaking_n: float | None = None
    working_n: float | None = None
    load_n: float | None = None
    used: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LineSizing:
    """The parts in order from hook to primary."""

    parts: tuple[LinePart, ...] = ()
    weak_link: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """The sizing of one float, all at normal level unless its name says otherwise."""

    float: FloatSizing
    storm: StormSizing
    loads_n: Loads
    primary: PrimarySizing
    secondary: SecondarySizing
    line: LineSizing
    cautions: tuple[str, ...]
