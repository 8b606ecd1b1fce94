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

    @property
    def weakest(self) -> LinePart | None:
        """The part whose name `weak_link` is."""
        return next((part for part in self.parts if part.name == self.weak_link), None)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class LineState:
    """The line in one state at one lake level, for drawing: from the primary to the hook."""

    x_m: tuple[float, ...]  # from the primary towards the hook
    z_m: tuple[float, ...]  # above the bed
    secondary: int  # which of the points the secondary is at
    hook_tension_n: float
    hook_angle_deg: float  # from the horizontal
    primary_uplift_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PullCurve:
    """Pull at the hook against reach, at normal level."""

    pull_n: tuple[float, ...]  # rising
    reach_m: tuple[float, ...]
    lifts_n: float  # the secondary leaves the bed
    uplift_n: float  # uplift at the primary begins
    taut_m: float  # the reach that no pull exceeds
    storm_n: float  # the mean pull of the storm
    storm_reach_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rose:
    """Open water round a float, by the bearing that the wind comes from."""

    from_deg: tuple[float, ...]
    fetch_m: tuple[float, ...]
    wave_height_m: tuple[float, ...]  # significant
    worst: int  # which bearing has the largest mean pull


@dataclass(frozen=True, slots=True, kw_only=True)
class RigPictures:
    """What a float's pictures are drawn from; None where something is unknown.

    Triples are at low, normal and high water.
    """

    calm: tuple[LineState | None, LineState | None, LineState | None]
    storm: tuple[LineState | None, LineState | None, LineState | None]
    curve: PullCurve | None
    rose: Rose | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One part of a candidate: the lightest of its table that satisfies, and what asked for it."""

    what: str  # such as "primary", "chain"
    size: str  # such as "14 blocks", "3/8 in grade 30"; blank where no row of the table does
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One way to build a rig. Triples are at low, normal and high water."""

    name: str  # practice, no uplift, snatch
    means: str  # one sentence
    secondary_blocks: int | None  # None: no count does it
    uplift_n: tuple[float | None, float | None, float | None]  # at the primary, mean pull
    snap_n: float | None
    peak_n: float | None
    choices: tuple[Choice, ...]
    chosen: bool  # True: the rig is built or reckoned so


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What the sizing says in sentences, beyond the JSON: for the panel, the tables, `rig`."""

    practice: str
    unburied: str
    buried: str
    changes: tuple[str, ...]  # the smallest change that would turn an answer
    candidates: tuple[Candidate, ...]
