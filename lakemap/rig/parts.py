"""The parts of one rig from hook to primary: what each breaks at, and which is the weak link."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import BoolArray, Fitting, Float, FloatArray, IntArray, Units
from lakemap.basis.working import Step
from lakemap.rig.absorber import Absorber, AbsorberQuestion, absorber_of, absorber_part
from lakemap.rig.chain import ChainBuild, chain_build, chain_stiffness, weight_in_water
from lakemap.rig.chain_tables import CHAIN_UNMARKED_GRADE
from lakemap.rig.ends_and_bends import CABLE_LOOP
from lakemap.rig.fitting_tables import EYE_BOLT_AT_ANGLE
from lakemap.rig.hardware import USED, WORKING_LOAD
from lakemap.rig.part_cautions import part_cautions
from lakemap.rig.part_records import Part, chain_part, fitting_part

_PRACTICE: Final = "common practice, no published source"
ABSORBER_LENGTH_FT: Final = exact(4.0, "ft", _PRACTICE, "shock absorber on top of the riser")
ABSORBER_LENGTH_M: Final = exact(1.2, "m", _PRACTICE, "shock absorber on top of the riser")
PRACTICE_PARTS: Final = exact(2.0, "parts", _PRACTICE, "the absorber's cable is doubled")
PRACTICE_ENDS: Final = "clips"
# practice's sizes; fittings are sold by inches everywhere that a table is in print
PRACTICE_FITTINGS: Final = (
    Fitting(name="eye bolt", size="5/8 in"),
    Fitting(name="shackle", size="1/2 in"),
    Fitting(name="link", size="5/8 in"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RigParts:
    """One way a rig is built; shared by all floats rigged alike."""

    parts: tuple[Part, ...]  # hook to primary
    absorber: Absorber | None  # None: the owner says that there is none
    chain: ChainBuild
    riser_weight_n_m: float  # of the riser's chain in water
    ground_weight_n_m: float
    chain_ea_n: float  # axial stiffness EA
    cautions: tuple[str, ...]  # whole sentences
    assumed: tuple[str, ...]  # columns that were blank


@dataclass(frozen=True, slots=True, kw_only=True)
class _Described:
    """What of a float's row says how its line is built; floats rigged alike compare equal."""

    fittings: tuple[Fitting, ...]
    cable: str | None
    cable_parts: int | None
    cable_ends: str | None
    chain: str | None
    chain_grade: int | None
    absorber_length_m: float | None
    absorber_stiffness_n_m: float | None
    units: Units


def rig_parts(record: Float, *, units: Units) -> RigParts:
    """Return the parts of a float's line in order from hook to primary.

    Fittings as listed, then the absorber's cable, the riser's chain, the ground chain. Blanks take
    practice's parts (common practice, no published source) and are marked as assumed; chain
    without a grade counts as 30, as 49 CFR 393.108(d) has it.

    Parameters
    ----------
    record : Float
        As read.
    units : {'ft-lb', 'm-kg'}
        Which sizes a blank takes, and the units of the cautions.

    Returns
    -------
    RigParts
        The same object for floats rigged alike.

    Raises
    ------
    RangeError
        If a size is none, or an absorber has no parts.
    """
    return _rig_parts(
        _Described(
            fittings=record.fittings,
            cable=record.cable,
            cable_parts=record.cable_parts,
            cable_ends=record.cable_ends,
            chain=record.chain,
            chain_grade=record.chain_grade,
            absorber_length_m=record.absorber_length_m,
            absorber_stiffness_n_m=record.absorber_stiffness_n_m,
            units=units,
        )
    )


@lru_cache(maxsize=1024)
def _rig_parts(described: _Described) -> RigParts:
    fittings = tuple(
        fitting_part(one, assumed=not described.fittings)
        for one in described.fittings or PRACTICE_FITTINGS
        for _ in range(one.count)
    )
    absorber = None if described.absorber_length_m == 0 else absorber_of(_absorber(described))
    cable = () if absorber is None else (absorber_part(absorber),)
    size = described.chain or ("3/8 in" if described.units == "ft-lb" else "10 mm")
    grade = described.chain_grade or int(CHAIN_UNMARKED_GRADE.value)
    chains = tuple(
        chain_part(where, size, grade, assumed=described.chain is None)
        for where in ("riser", "ground")
    )
    parts, build = (*fittings, *cable, *chains), chain_build(size)
    weight = float(weight_in_water(build.mass_kg_m))
    return RigParts(
        parts=parts,
        absorber=absorber,
        chain=build,
        riser_weight_n_m=weight,
        ground_weight_n_m=weight,
        chain_ea_n=float(chain_stiffness(build.bar_m)),
        cautions=part_cautions(parts, absorber, build, units=described.units),
        assumed=_assumed(described),
    )


def _absorber(described: _Described) -> AbsorberQuestion:
    metric = described.units == "m-kg"
    legs = int(PRACTICE_PARTS.value) if described.cable_parts is None else described.cable_parts
    if legs < 1:
        raise RangeError(f"cable of {legs} parts: need 1 or more")
    length = ABSORBER_LENGTH_M.value if metric else ABSORBER_LENGTH_FT.value * FOOT_M.value
    given = described.absorber_length_m
    return AbsorberQuestion(
        cable=described.cable or ("8 mm galvanised" if metric else "5/16 in galvanised"),
        legs=legs,
        ends=described.cable_ends or PRACTICE_ENDS,
        length_m=length if given is None else given,
        given_stiffness_n_m=described.absorber_stiffness_n_m,
        assumed=described.cable is None,
    )


def _assumed(described: _Described) -> tuple[str, ...]:
    """Columns that practice filled; the stiffness has no practice."""
    names = ["fittings", "chain", "chain_grade"]
    if described.absorber_length_m != 0:
        names += ["cable", "cable_parts", "cable_ends", "absorber_length_m"]
    blank = [name for name in names if getattr(described, name) in {None, ()}]
    return tuple(name.removesuffix("_m") for name in blank)


@dataclass(frozen=True, slots=True, kw_only=True)
class LineStrength:
    """Strength of n lines built alike; arrays [n, parts] in the order of the parts."""

    names: tuple[str, ...]
    breaking_n: FloatArray  # as rigged; NaN where no strength is published
    working_n: FloatArray
    used: FloatArray
    weakest: IntArray  # [n]: which part has the largest share used; -1 where that is not known
    steps: tuple[Step, ...]


def line_strength(
    rig: RigParts, *, peak_n: ArrayLike, pull_angle_from_axis_deg: ArrayLike
) -> LineStrength:
    """Return what a pull asks of each part of lines that are built alike.

    Working load: breaking strength over the factor of the part's own standard; used: load over
    working load. Parts without a published strength are left out of the weak link.

    Parameters
    ----------
    rig : RigParts
        How the lines are built.
    peak_n : array_like, shape [n]
        Highest pull in each line [N], >= 0; NaN is not known.
    pull_angle_from_axis_deg : array_like, shape [n]
        Largest angle of the pull from the eye bolt's axis [degrees], 0 to 90; NaN is not known.

    Returns
    -------
    LineStrength
        NaN where a pull, an angle or a strength is not known.

    Raises
    ------
    RangeError
        If a pull is negative or infinite, or an angle outside 0 to 90 degrees at an eye bolt.
    """
    peak, angle = np.broadcast_arrays(
        np.atleast_1d(np.asarray(peak_n, dtype=np.float64)),
        np.asarray(pull_angle_from_axis_deg, dtype=np.float64),
    )
    _guard(peak)
    names = tuple(part.name for part in rig.parts)
    straight = np.array([part.breaking_n for part in rig.parts])
    turned = np.array([part.by_angle for part in rig.parts], dtype=bool)
    breaking = np.tile(straight, (len(peak), 1))
    steps = [] if rig.absorber is None else [_loop(rig.absorber, len(peak))]
    if turned.any():
        eye = EYE_BOLT_AT_ANGLE(breaking_n=straight[turned], angle_from_axis_deg=angle[:, None])
        breaking[:, turned] = eye.value
        steps.append(eye)
    factors = np.array([part.factor for part in rig.parts])
    working = WORKING_LOAD(breaking_n=breaking, factor=factors)
    used = USED(load_n=peak[:, None], working_n=working.value)
    told = (replace(working, of=names), replace(used, of=names))
    return LineStrength(
        names=names,
        breaking_n=breaking,
        working_n=working.value,
        used=used.value,
        weakest=_weakest(working.value, used.value, doubtful=turned),
        steps=(*steps, *told),
    )


def _guard(peak: FloatArray) -> None:
    sound = np.isnan(peak) | ((peak >= 0) & np.isfinite(peak))
    if not sound.all():
        raise RangeError(
            "\n".join(
                f"[{i}] pull {peak.flat[i]:g} N: need a finite pull >= 0"
                for i in np.flatnonzero(~sound)
            )
        )


def _loop(absorber: Absorber, count: int) -> Step:
    return CABLE_LOOP(
        strength_n=np.full(count, absorber.one_part_n),
        end_share=absorber.end_share,
        bend_share=absorber.bend_share,
        legs=absorber.counted_legs,
    )


def _weakest(working: FloatArray, used: FloatArray, *, doubtful: BoolArray) -> IntArray:
    """The part with the least working load has the largest share used, of no pull too."""
    known = np.isfinite(used)
    found = np.where(known, working, np.inf).argmin(axis=1)
    # an eye bolt at an unknown angle may be the weak link
    sure = known.any(axis=1) & ~np.isnan(working[:, doubtful]).any(axis=1)
    return np.where(sure, found, -1)
