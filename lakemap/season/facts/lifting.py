"""What a lifting sheet says of one float: weights at each stage, the float under them, the tow."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from lakemap.assessment import AssessedFloat
from lakemap.basis.published import GRAVITY_M_S2, exact
from lakemap.basis.records import Float
from lakemap.rig.bed import DEFAULT_BOTTOM
from lakemap.rig.chain import submerged_fraction
from lakemap.rig.chain_tables import STEEL_KG_M3
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.hung_float import hung_float
from lakemap.rig.lift_weights import LiftWeight, bunch_m, lift_weight
from lakemap.rig.lifting import LiftRig, Stage, hung_n, lifting_stages
from lakemap.season.facts.place_facts import PlaceFacts, place_facts
from lakemap.season.facts.sheet_ground import SheetGround
from lakemap.season.facts.tow import Tow, TowAsk, tow_of

FITTING_KG: Final = exact(
    0.5, "kg", "ours: eye bolts, shackles, links and swivels of a rig", "each"
)
CREWS: Final = (0, 1, 2)
Under = Literal["both", "primary", "secondary"]
Frees = Literal["buried", "settled", "lies free"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """The float with clusters chained under its hook, calm water."""

    under: Under  # which clusters, each with its own line
    hung_n: float  # their weight in water
    crew: int  # aboard, standing in the middle
    floats: bool  # False: it goes under, or an edge does; what follows but reserve is then None
    reserve_n: float  # buoyancy that is left; negative: missing
    draft_m: float | None  # of its lowest part
    freeboard_m: float | None  # deck's top above the water where it is lowest
    tilt_deg: float | None  # 0 for a hook in the centre
    gm_m: float | None  # metacentric height, the lesser of both ways; sidewise for an edge hook
    steady: bool  # it floats and stays upright
    hook_depth_m: float | None  # below the water; negative: above


@dataclass(frozen=True, slots=True, kw_only=True)
class Breakout:
    """Whether the primary may hold fast to its bed; never a force."""

    bottom: str
    bottom_assumed: bool
    frees: Frees
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftingFacts:
    """The lifting of one float."""

    place: PlaceFacts
    primary: LiftWeight
    secondary: LiftWeight
    stages: tuple[Stage, ...]  # none where depth or lengths are not known
    hung: tuple[Hung, ...]  # both with nobody, one and two aboard; then each alone, nobody aboard
    float_assumed: bool  # deck weight or flotation is a default of ours
    tow: Tow | None  # None: no soundings, or the float carries neither
    breakout: Breakout


def lifting_facts(
    ground: SheetGround, float_id: str, *, level_m: float | None = None
) -> LiftingFacts:
    """Return what a lifting sheet says of one float.

    Parameters
    ----------
    ground : SheetGround
        The field.
    float_id : str
        Its number or name.
    level_m : float or None
        Level of the day on the lake's own gauge [m]; None: normal.

    Returns
    -------
    LiftingFacts
        Weights at the heavy end, soaked through; nothing rounded.
    """
    one = ground.float_of(float_id)
    place = place_facts(ground, float_id, level_m=level_m)
    primary, secondary = cluster_weights(ground, one)
    rig = _lift_rig(ground, one, place, (primary, secondary))
    hung = () if rig is None else _hung(one.record, rig, fittings_n=_fittings_n(ground, one))
    return LiftingFacts(
        place=place,
        primary=primary,
        secondary=secondary,
        stages=() if rig is None else lifting_stages(rig),
        hung=hung,
        float_assumed=bool(fill_flotation((one.record,)).assumed[0]),
        tow=_tow(ground, one, place, hung),
        breakout=breakout(one.record.bottom),
    )


def cluster_weights(ground: SheetGround, one: AssessedFloat) -> tuple[LiftWeight, LiftWeight]:
    """Return the most that both clusters of a float may weigh when they are lifted.

    Parameters
    ----------
    ground : SheetGround
        The field.
    one : AssessedFloat
        Of it.

    Returns
    -------
    tuple of LiftWeight
        Primary and secondary; blank ones as the sizing has them.
    """
    rigs, record = ground.assessment.sized.rigs, one.record
    return (
        lift_weight(
            record,
            blocks=float(rigs.primary.blocks[one.at]),
            weight_kg=record.primary_weight_kg,
        ),
        lift_weight(
            record,
            blocks=float(rigs.secondary.blocks[one.at]),
            weight_kg=record.secondary_weight_kg,
        ),
    )


def _lift_rig(
    ground: SheetGround,
    one: AssessedFloat,
    place: PlaceFacts,
    weights: tuple[LiftWeight, LiftWeight],
) -> LiftRig | None:
    """None where a depth or a length is not known, or there is no water to lift through."""
    depth = place.depths.primary_m
    if depth is None or depth <= 0 or not one.riser_m or not one.ground_m:
        return None
    second = place.depths.secondary_m
    rigs = ground.assessment.sized.rigs
    chain = float(rigs.ground_weight_n_m[one.at])
    riser = float(rigs.riser_weight_n_m[one.at])
    in_water = float(submerged_fraction(STEEL_KG_M3.value))
    return LiftRig(
        primary=weights[0],
        secondary=weights[1],
        primary_depth_m=depth,
        # where nobody sounded it, the bed is taken as level
        secondary_depth_m=second if second is not None and second > 0 else depth,
        ground_m=one.ground_m,
        riser_m=one.riser_m,
        chain_water_n_m=chain,
        chain_air_n_m=chain / in_water,
        riser_water_n_m=riser,
        riser_air_n_m=riser / in_water,
    )


def _fittings_n(ground: SheetGround, one: AssessedFloat) -> float:
    """Weight in water of what of the line is neither cable nor chain."""
    parts = ground.assessment.sized.rigs.parts[one.at].parts
    count = sum(not part.name.endswith((" chain", " cable")) for part in parts)
    return (
        count * FITTING_KG.value * GRAVITY_M_S2.value * float(submerged_fraction(STEEL_KG_M3.value))
    )


def _hung(record: Float, rig: LiftRig, *, fittings_n: float) -> tuple[Hung, ...]:
    weights: dict[Under, float] = {
        "both": hung_n(rig) + fittings_n,
        "primary": rig.primary.water_n + rig.chain_water_n_m * rig.ground_m + fittings_n,
        "secondary": rig.secondary.water_n + rig.riser_water_n_m * rig.riser_m + fittings_n,
    }
    asked: list[tuple[Under, int]] = [("both", crew) for crew in CREWS]
    asked += [("primary", 0), ("secondary", 0)]
    return tuple(_one_hung(record, under, weights[under], crew) for under, crew in asked)


def _one_hung(record: Float, under: Under, weight_n: float, crew: int) -> Hung:
    found = hung_float(record, hung_n=weight_n, crew=crew)
    return Hung(
        under=under,
        hung_n=weight_n,
        crew=crew,
        floats=found.floats,
        reserve_n=found.reserve_n,
        draft_m=_known(found.draft_m),
        freeboard_m=_known(found.freeboard_m),
        tilt_deg=_known(found.tilt_deg),
        gm_m=_known(found.gm_m),
        steady=found.steady,
        hook_depth_m=_known(found.hook_depth_m),
    )


def _known(value: float) -> float | None:
    return None if np.isnan(value) else value


def _tow(
    ground: SheetGround, one: AssessedFloat, place: PlaceFacts, hung: tuple[Hung, ...]
) -> Tow | None:
    """With both under it, or the primary alone, or the secondary: what it carries safely."""
    able = [each for each in hung if each.crew == 0 and each.steady]
    if not able or ground.tow is None:
        return None
    carried = able[0]
    clusters = ground.assessment.sized.rigs
    bunches = {
        "primary": bunch_m(one.record, dry_n=float(clusters.primary.dry_n[one.at])),
        "secondary": bunch_m(one.record, dry_n=float(clusters.secondary.dry_n[one.at])),
    }
    if carried.under != "both":
        bunches = {carried.under: bunches[carried.under]}
    level = place.depths.level_m - ground.assessment.field.settings.levels.soundings_m
    return tow_of(
        ground,
        one,
        TowAsk(
            under=carried.under,
            float_draft_m=carried.draft_m or 0.0,
            hook_depth_m=carried.hook_depth_m or 0.0,
            bunch_m=max(bunches.values()),
            shift_m=level,
        ),
    )


_HOLDS_FAST: Final = ("mud", "silt", "clay")
_SETTLES: Final = ("sand", "gravel")
_ELSE: Final = (
    "If they do not come with their own weight, ease off and pull from another side; never jerk."
)


def breakout(bottom: str | None) -> Breakout:
    """Return what to expect of a primary on its bed; never a force.

    Parameters
    ----------
    bottom : str or None
        As the floats file names it; blank is silt.

    Returns
    -------
    Breakout
        With a sentence or two of ours.
    """
    bed = bottom or DEFAULT_BOTTOM
    frees: Frees = "lies free"
    text = f"On {bed} blocks lie free but may be wedged. {_ELSE}"
    if bed in _HOLDS_FAST:
        frees = "buried"
        text = (
            f"Blocks sink into {bed} and are held by it, by more than they weigh. Nobody can say by"
            " how much. Take the strain, wait, let them work loose; never jerk. Stop where the boat"
            " or the float leans over."
        )
    elif bed in _SETTLES:
        frees = "settled"
        text = f"On {bed} blocks lie on the bed or half covered. {_ELSE}"
    return Breakout(bottom=bed, bottom_assumed=bottom is None, frees=frees, text=text)
