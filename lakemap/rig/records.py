"""Records of the rig stage: arrays over all floats of a field, in file order. NaN is unknown."""

from dataclasses import dataclass

from lakemap.basis.records import BoolArray, FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where every float's clusters lie and how far it swings; shape [n], [n, 2] or [n, 3].

    Axis 1 of the [n, 3] arrays is the lake level: low, normal, high.
    """

    primary_xy: FloatArray  # [n, 2]; the fix where the primary is not located
    located: BoolArray  # False: the primary may be anywhere within `extra_m` of the fix
    extra_m: FloatArray  # e: what a primary that is not located, or seen from its float, adds
    secondary_xy: FloatArray  # [n, 2]
    bearing_deg: FloatArray  # true, from primary to secondary
    bearing_assumed: BoolArray
    sounding_depth_m: FloatArray  # at the primary, at the soundings' level
    depth_m: FloatArray  # [n, 3]
    depth_error_m: FloatArray  # from leaving soundings out
    hook_depth_m: FloatArray  # the one the reach uses
    hook_depth_empty_m: FloatArray  # the one the riser and "pulled under" use
    riser_m: FloatArray
    ground_m: FloatArray
    riser_chosen: BoolArray  # True where the tool chose it: designed or assumed
    ground_chosen: BoolArray
    corner_m: FloatArray  # hook to the deck's farthest corner
    reach_m: FloatArray  # [n, 3]
    swing_radius_m: FloatArray  # [n, 3], extra_m counted in; [:, 0] is the one that decides
    walk_radius_m: FloatArray  # extra_m counted in
    no_depth: BoolArray
    pulled_under: BoolArray
    aground: BoolArray
    hung: BoolArray  # the secondary hangs in calm at high water
    outside: BoolArray  # the primary lies outside the lake
    passing_m: FloatArray  # how close boats pass
    wake_height_m: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Buoyancy:
    """What carries every float; shape [n]. At float weight, nothing hanging, unless said."""

    weight_n: FloatArray  # deck and flotation, dry, without rig and people
    buoyancy_n: FloatArray  # all flotation under water
    reserve_n: FloatArray  # buoyancy - weight - people at 185 lb
    draft_m: FloatArray
    freeboard_m: FloatArray  # top of the flotation above the calm surface
    draft_people_m: FloatArray  # with `people` aboard; the flotation's height where they sink it
    height_m: FloatArray  # of the flotation: tube diameter or billet height
    sunk_by_people: BoolArray
    assumed: tuple[tuple[str, ...], ...]  # per float: column names that are defaults of ours


@dataclass(frozen=True, slots=True, kw_only=True)
class Cluster:
    """One kind of cluster over all floats; shape [n]. NaN where nothing is known."""

    blocks: FloatArray  # count; NaN where a weight was given instead
    dry_n: FloatArray
    wet_n: FloatArray  # unsaturated, the lower bound
    dry_heavy_n: FloatArray  # the heavy end, for lifting
    practice_blocks: FloatArray  # 12-in hollow units
    enough_practice: BoolArray
    chosen: BoolArray  # True where the tool chose the blocks
