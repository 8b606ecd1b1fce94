"""Where new floats may go in an assessed field: sites, capacity, and why not here."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches
from types import MappingProxyType

import numpy as np

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Float, FloatArray, Geometry
from lakemap.clearances.circles import Circles, checked_circles
from lakemap.clearances.frontages import by_lot, lot_key
from lakemap.clearances.records import CheckSubject, Clearance
from lakemap.inputs.positions import by_the_lake
from lakemap.lake.water import inside
from lakemap.mapping import assess
from lakemap.siting.allowed import LENGTHS_STEP_M, allowed_water
from lakemap.siting.capacity import between_circles, count, one_by_one, variants
from lakemap.siting.closed import closed_water
from lakemap.siting.margins import margins
from lakemap.siting.nearest import nearest_allowed
from lakemap.siting.ranking import Places, best_apart, candidates, judged
from lakemap.siting.records import Capacity, Hindrance, Site, SiteAsk, Sites, WhyNot
from lakemap.siting.spots import Lake, SpotField, spot_field
from lakemap.sizing.weather import winds_of
from lakemap.sizing.wind_record import record_of_wind

__all__ = ["find_sites", "template", "why_not"]
Tell = Callable[[str], None]


def _no_telling(_step: str) -> None:
    """Tell nobody."""


def template(  # noqa: PLR0913 - one argument for each option
    assessment: Assessment,
    *,
    like: str | None = None,
    length_m: float | None = None,
    width_m: float | None = None,
    riser_m: float | None = None,
    ground_m: float | None = None,
) -> Float:
    """Return the kind of float that places are looked for.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    like : str or None
        A float of the field to take deck, flotation, hook and parts of; its lengths and blocks
        are designed anew.
    length_m, width_m : float or None
        The deck [m], instead or besides; without any the commonest deck of the field.
    riser_m, ground_m : float or None
        Fixed lengths [m]; None is designed at each place.

    Returns
    -------
    Float
        `proposed`.

    Raises
    ------
    BadInputError
        If there is no such float, or neither it nor a deck is given and the field has none.
    """
    if like is not None:
        base = _bare(assessment.only(like).floats[0].record)
    else:
        base = _commonest(assessment, length_m, width_m)
    return replace(
        base,
        length_m=base.length_m if length_m is None else length_m,
        width_m=base.width_m if width_m is None else width_m,
        riser_m=riser_m,
        ground_m=ground_m,
    )


def _bare(one: Float) -> Float:
    """A float's kind without what belongs to its own place."""
    return replace(
        one,
        status="proposed",
        position_of="primary",
        wind_from_deg=None,
        position_error_m=None,
        owner=None,
        lot=None,
        depth_m=None,
        riser_m=None,
        ground_m=None,
        primary_blocks=None,
        secondary_blocks=None,
        primary_weight_kg=None,
        secondary_weight_kg=None,
        bearing_deg=None,
        set_on=None,
        permit=None,
        note=None,
        extra=MappingProxyType({}),
    )


def _commonest(assessment: Assessment, length_m: float | None, width_m: float | None) -> Float:
    """A float with the deck given, or with the one that most floats of the field have."""
    decks = Counter(
        (one.record.length_m, one.record.width_m)
        for one in assessment.floats
        if one.record.status == "set"
    )
    if length_m is not None and width_m is not None:
        deck = (length_m, width_m)
    elif decks:
        deck = min(decks, key=lambda one: (-decks[one], one))
    else:
        text = "the field has no float whose deck could be taken: give --length and --width"
        raise BadInputError([Problem(code="no_deck", text=text, column="--length")])
    return Float(
        float_id="new",
        lon=0.0,
        lat=0.0,
        row=0,
        status="proposed",
        length_m=deck[0],
        width_m=deck[1],
    )


def subject_of(assessment: Assessment) -> CheckSubject:
    """Return what the check of an assessment was asked.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    CheckSubject
        With all its floats.
    """
    question = assessment.sized.question
    return CheckSubject(
        floats=assessment.field.floats,
        placement=question.placement,
        draft_people_m=question.buoyancy.draft_people_m,
        water=assessment.water,
        zones=assessment.zones,
        surface=assessment.surface,
        settings=assessment.field.settings,
    )


def lake_of(assessment: Assessment) -> Lake:
    """Return a field's water and what lies in it.

    Parameters
    ----------
    assessment : Assessment
        Of the field.

    Returns
    -------
    Lake
        In metres.
    """
    field = assessment.field
    return Lake(
        water=assessment.water,
        zones=assessment.zones,
        surface=assessment.surface,
        settings=field.settings,
        winds=winds_of(field.settings, record_of_wind(field)),
    )


def spot_field_of(
    assessment: Assessment, like: Float, *, lot: str | None = None, without: Sequence[int] = ()
) -> SpotField:
    """Return a field as a float of one kind meets it that is to be laid somewhere.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    like : Float
        What is to be laid.
    lot : str or None
        Keep inside this lot's frontage.
    without : sequence of int
        Floats that are taken as away; index into the field's.

    Returns
    -------
    SpotField
        Ready to be asked.

    Raises
    ------
    BadInputError
        If the lot has no frontage; names the nearest spelling.
    """
    if lot is not None:
        _refuse_lot(assessment, lot)
    circles = checked_circles(subject_of(assessment))
    kept = np.flatnonzero(~np.isin(circles.index, without))
    names = [assessment.field.floats[i].float_id for i in circles.index[kept].tolist()]
    return spot_field(like, lake_of(assessment), circles.only(kept), names=names, lot=lot)


def _refuse_lot(assessment: Assessment, lot: str) -> None:
    lots = by_lot(assessment.zones)
    if lot_key(lot) in lots:
        return
    near = get_close_matches(lot_key(lot), lots, n=1, cutoff=0.0)
    hint = f"; the nearest spelling is {lots[near[0]][0].zone.lot!r}" if near else ""
    none = "" if lots else ": the zones hold no frontage at all"
    text = f"lot {lot!r} has no frontage among the zones{none}{hint}"
    raise BadInputError([Problem(code="lot_without_frontage", text=text, column="--lot")])


def _refuse_depthless(assessment: Assessment) -> None:
    if assessment.surface is None:
        text = (
            "where a float may lie rests on depths, and the field has no soundings: add a soundings"
            " file"
        )
        raise BadInputError([Problem(code="no_soundings", text=text)])


def _refuse_far(assessment: Assessment, lon: float, lat: float) -> None:
    lake, point = assessment.field.lake, np.array([[lon, lat]])
    if by_the_lake(lake, point)[0]:
        return
    west, south, east, north = lake.bounds
    middle = f"{(south + north) / 2:.5f},{(west + east) / 2:.5f}"
    swapped = by_the_lake(lake, point[:, ::-1])[0]
    why = "latitude and longitude look swapped; give LAT,LON" if swapped else "give a place at it"
    text = f"{lat:g},{lon:g} is nowhere near the lake, which lies at {middle}: {why}"
    raise BadInputError([Problem(code="far_from_lake", text=text, column="--at")])


def find_sites(assessment: Assessment, ask: SiteAsk, *, tell: Tell = _no_telling) -> Sites:
    """Find where new floats may go, which places are best, and how many the lake holds.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    ask : SiteAsk
        What is looked for.
    tell : callable, optional
        Is told in a word or two what the work is at.

    Returns
    -------
    Sites
        Every site passes the check, alone and with all the others.

    Raises
    ------
    BadInputError
        If the field has no soundings, or the lot no frontage.
    """
    field, allowed, sites = best_places(assessment, ask, tell=tell)
    closed = closed_water(field, allowed)
    tell("packing circles")
    return Sites(
        ask=ask,
        allowed=allowed,
        closed=closed,
        sites=sites,
        capacity=_capacity(assessment, ask, field, allowed),
    )


def best_places(
    assessment: Assessment, ask: SiteAsk, *, tell: Tell = _no_telling
) -> tuple[SpotField, Geometry, tuple[Site, ...]]:
    """Find where new floats may go and which places are best, without counting how many fit.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    ask : SiteAsk
        What is looked for.
    tell : callable, optional
        Is told in a word or two what the work is at.

    Returns
    -------
    tuple of SpotField, shapely geometry and tuple of Site
        The field as such a float meets it, the allowed water [m], the best first.

    Raises
    ------
    BadInputError
        If the field has no soundings, or the lot no frontage.
    """
    _refuse_depthless(assessment)
    tell("looking at the water")
    field = spot_field_of(assessment, ask.like, lot=ask.lot)
    allowed = allowed_water(field)
    tell("ranking places")
    return field, allowed, _ranked(assessment, ask, field, allowed)


def _ranked(
    assessment: Assessment, ask: SiteAsk, field: SpotField, allowed: Geometry
) -> tuple[Site, ...]:
    places = candidates(allowed)
    if not len(places) or ask.count < 1:
        return ()
    judged_ = judged(field, places, assessment.field.settings.site_weights)
    best = best_apart(judged_, gap_m=between_circles(field), count=ask.count)
    checked = _laid(assessment, ask, judged_.only(best))
    # the check has the last word
    kept = [(k, one) for k, one in zip(best.tolist(), checked, strict=True) if _free(one)]
    ranks = {one.record.float_id: rank for rank, (_, one) in enumerate(kept, start=1)}
    return tuple(_site(judged_, k, one, ranks) for k, one in kept)


def _free(one: AssessedFloat) -> bool:
    return one.verdict not in {"conflict", "unknown"}


def _laid(assessment: Assessment, ask: SiteAsk, xy: FloatArray) -> tuple[AssessedFloat, ...]:
    """Assess the field with new floats at places, and return these."""
    field = assessment.field
    taken = {one.float_id for one in field.floats}
    lon, lat = assessment.projection.to_lonlat(*xy.T)
    new, k = [], 0
    for east, north in zip(lon.tolist(), lat.tolist(), strict=True):
        k += 1
        while f"new {k}" in taken:
            k += 1
        new.append(replace(ask.like, float_id=f"new {k}", lon=east, lat=north, lot=ask.lot))
    return assess(replace(field, floats=(*field.floats, *new))).floats[len(field.floats) :]


def _site(places: Places, k: int, one: AssessedFloat, ranks: Mapping[str, int]) -> Site:
    asked = [clearance for clearance in one.clearances if clearance.spare_m is not None]
    tight = min(asked, key=lambda clearance: clearance.spare_m or 0.0, default=None)
    return Site(
        rank=ranks[one.record.float_id],
        x_m=one.x_m,
        y_m=one.y_m,
        lon=one.lon,
        lat=one.lat,
        depth_m=one.depth_m[1] or 0.0,
        swing_radius_m=one.swing_radius_m[0] or 0.0,
        riser_m=one.riser_m or 0.0,
        ground_m=one.ground_m or 0.0,
        least_spare_m=np.inf if tight is None else tight.spare_m or 0.0,
        limited_by="nothing" if tight is None else _limit(tight, ranks),
        fetch_m=float(places.fetch_m[k]),
        wave_height_m=float(places.wave_height_m[k]),
        shore_m=float(places.shore_m[k]),
        score=float(places.score[k]),
        parts=MappingProxyType({name: float(part[k]) for name, part in places.parts.items()}),
    )


def _limit(tight: Clearance, ranks: Mapping[str, int]) -> str:
    """What limits a site most; another site by its rank."""
    if tight.kind != "float":
        return f"{tight.kind}: {tight.against}"
    rank = ranks.get(tight.against)
    return f"float {tight.against}" if rank is None else f"site {rank}"


def _capacity(
    assessment: Assessment, ask: SiteAsk, field: SpotField, allowed: Geometry
) -> Capacity:
    counted = count(field, allowed, seed=ask.seed, effort=ask.effort)
    lon, lat = assessment.projection.to_lonlat(*counted.packing.xy.T)
    grown = one_by_one(field, allowed, counted, seed=ask.seed)
    found = variants(
        field, counted, shortest=_shortened(assessment), seed=ask.seed, effort=ask.effort
    )
    return Capacity(
        packing=counted.packing,
        lon=np.asarray(lon),
        lat=np.asarray(lat),
        bound=counted.bound,
        variants=(*found, *grown),
    )


def _shortened(assessment: Assessment) -> Circles:
    """The circles that lie there, no rig longer than the tool would design it."""
    field = assessment.field
    blank = tuple(replace(one, riser_m=None, ground_m=None) for one in field.floats)
    designed = assess(replace(field, floats=blank)).floats
    shorter = tuple(
        replace(
            one,
            riser_m=_lesser(one.riser_m, new.riser_m),
            ground_m=_lesser(one.ground_m, new.ground_m),
        )
        for one, new in zip(field.floats, designed, strict=True)
    )
    return checked_circles(subject_of(assess(replace(field, floats=shorter))))


def _lesser(given: float | None, designed: float | None) -> float | None:
    if given is None or designed is None:
        return given
    return min(given, designed)


def why_not(assessment: Assessment, ask: SiteAsk, *, lon: float, lat: float) -> WhyNot:
    """Tell every rule at one point, the binding one first, and the nearest allowed point.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    ask : SiteAsk
        What would lie there.
    lon, lat : float
        The point, WGS 84 degrees.

    Returns
    -------
    WhyNot
        By the check of the field with that float in it.

    Raises
    ------
    BadInputError
        If the point is nowhere near the lake, the field has no soundings, or the lot no frontage.
    """
    _refuse_far(assessment, lon, lat)
    _refuse_depthless(assessment)
    field = spot_field_of(assessment, ask.like, lot=ask.lot)
    here = np.column_stack(assessment.projection.to_xy([lon], [lat]))
    wet = bool(inside(assessment.water, here)[0])
    one = _laid(assessment, ask, here)[0] if wet else None
    hindrances = _hindrances(one)
    problems = _problems(one)
    free = wet and not problems and min((h.spare_m for h in hindrances), default=0.0) >= 0
    near = (here[0], 0.0) if free else nearest_place(field, here[0])
    return WhyNot(
        x_m=float(here[0, 0]),
        y_m=float(here[0, 1]),
        lon=lon,
        lat=lat,
        in_water=wet,
        depth_m=None if one is None else one.depth_m[1],
        swing_radius_m=None if one is None else one.swing_radius_m[0],
        riser_m=None if one is None else one.riser_m,
        ground_m=None if one is None else one.ground_m,
        hindrances=hindrances,
        problems=problems,
        nearest=None if near is None else _with_lonlat(assessment, near[0]),
        nearest_m=None if near is None else near[1],
    )


def _hindrances(one: AssessedFloat | None) -> tuple[Hindrance, ...]:
    if one is None:
        return ()
    return tuple(
        Hindrance(
            against=clearance.against,
            kind=clearance.kind,
            spare_m=clearance.spare,
            rule=clearance.rule,
        )
        for clearance in one.clearances
        if clearance.spare is not None
    )


def _problems(one: AssessedFloat | None) -> tuple[str, ...]:
    """What keeps the rig from working at all."""
    if one is None:
        return ()
    broken = {"pulled_under", "aground", "no_depth"}
    return tuple(problem.text for problem in one.problems if problem.code in broken)


def nearest_place(field: SpotField, here: FloatArray) -> tuple[FloatArray, float] | None:
    """Return the nearest allowed place of the whole lake, and how far it is.

    Parameters
    ----------
    field : SpotField
        As a float meets it.
    here : ndarray, shape [2]
        From where [m].

    Returns
    -------
    tuple of ndarray and float, or None
        Place and distance [m]; None where no place is allowed.
    """
    west, south, east, north = field.lake.water.bounds
    found = nearest_allowed(
        lambda xy: margins(field, xy).least_m,
        here,
        within_m=float(np.abs([*(here - (west, south)), *(here - (east, north))]).max()) + 1.0,
        slack_m=LENGTHS_STEP_M,
    )
    return None if found is None else (found, float(np.hypot(*(found - here))))


def _with_lonlat(assessment: Assessment, xy: FloatArray) -> tuple[float, float, float, float]:
    lon, lat = assessment.projection.to_lonlat(xy[:1], xy[1:])
    return float(xy[0]), float(xy[1]), float(lon[0]), float(lat[0])
