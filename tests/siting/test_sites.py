"""The front door: sites that pass the check, a count with its bound, and why not here."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone
from spot_fields import holds, new_float, sloping

from lakemap.basis.errors import BadInputError
from lakemap.mapping import assess
from lakemap.sites import find_sites, spot_field_of, template, why_not
from lakemap.siting.allowed import allowed_water
from lakemap.siting.capacity import count
from lakemap.siting.records import SiteAsk

pytestmark = pytest.mark.slow

FIXED = {"riser_m": 6.0, "ground_m": 4.0}  # swings 10.5 m
WEIGHTS = {"spare": 3.0, "shelter": 2.0, "depth": 1.0, "way": 1.0, "line": 1.0}


@pytest.fixture(scope="module")
def found():
    """Four sites among two floats and a swim area on a rough bed."""
    field = sloping(
        [make_float("1", 20, 0), make_float("2", -50, -40)],
        zones=[make_zone("swim_area", shapely.box(60, 60, 90, 90))],
        settings=make_settings(site_weights=WEIGHTS),
        seed=6,
    )
    like = new_float()
    return field, like, find_sites(assess(field), SiteAsk(like=like, count=4, effort=0.05))


def test_every_site_passes_the_check_alone_and_with_the_others(found):
    field, like, sites = found
    assert [site.rank for site in sites.sites] == [1, 2, 3, 4]
    assert holds(field, like, [(site.x_m, site.y_m) for site in sites.sites]).all()
    new = tuple(
        replace(like, float_id=f"site {site.rank}", lon=site.lon, lat=site.lat)
        for site in sites.sites
    )
    for one in assess(replace(field, floats=(*field.floats, *new))).floats:
        assert one.verdict in {"clear", "tight"}


def test_sites_say_what_the_check_says(found):
    field, like, sites = found
    new = tuple(
        replace(like, float_id=f"n{site.rank}", lon=site.lon, lat=site.lat) for site in sites.sites
    )
    floats = assess(replace(field, floats=(*field.floats, *new))).floats[-4:]
    for site, one in zip(sites.sites, floats, strict=True):
        assert site.swing_radius_m == pytest.approx(one.swing_radius_m[0])
        assert site.depth_m == pytest.approx(one.depth_m[1])
        assert (site.riser_m, site.ground_m) == (one.riser_m, one.ground_m)
        spares = [c.spare_m for c in one.clearances if c.spare_m is not None]
        assert site.least_spare_m == pytest.approx(min(spares), abs=1e-6)
        assert site.least_spare_m >= 0
        assert site.fetch_m == pytest.approx(one.sizing.storm.fetch_m, rel=1e-9)
        assert site.wave_height_m == pytest.approx(one.sizing.storm.wave_height_m, rel=1e-9)
        assert list(site.parts) == list(WEIGHTS)
        total = sum(WEIGHTS[name] * part for name, part in site.parts.items())
        assert site.score == pytest.approx(total / sum(WEIGHTS.values()))
    assert [s.score for s in sites.sites] == sorted((s.score for s in sites.sites), reverse=True)


def test_the_floats_that_fit_pass_the_check_together_and_hold_the_bound(found):
    field, like, sites = found
    capacity = sites.capacity
    fits = len(capacity.packing.radius_m)
    assert 4 <= fits <= capacity.bound.most
    new = tuple(
        replace(like, float_id=f"n{k}", lon=lon, lat=lat)
        for k, (lon, lat) in enumerate(
            zip(capacity.lon.tolist(), capacity.lat.tolist(), strict=True)
        )
    )
    for one in assess(replace(field, floats=(*field.floats, *new))).floats:
        assert one.verdict != "conflict"
    others = {one.name: one.fits for one in capacity.variants if one.name != "neighbour rule"}
    assert others["every rig no longer than designed"] >= fits
    assert 0.6 * fits <= others["laid one by one, none moved later"] <= capacity.bound.most
    assert (np.diff(capacity.spare_m) > 0).all()
    assert (np.diff(capacity.fits) <= 0).all()
    assert capacity.fits[list(capacity.spare_m).index(2.0)] >= fits


def test_allowed_and_closed_water_are_the_lake(found):
    _, _, sites = found
    parts = [sites.allowed, *(one.geometry for one in sites.closed)]
    assert sum(part.area for part in parts) == pytest.approx(200 * 200, rel=1e-6)


def test_the_same_again_and_no_more_than_the_published_bound():
    """169 by 169 m for centres 23 m apart: 8 by 8 in a square net; Oler 1961: 78.04."""
    spots = spot_field_of(assess(make_field([])), new_float(**FIXED))
    region = allowed_water(spots)
    one, two = (count(spots, region, seed=4, effort=0.02) for _ in range(2))
    assert region == allowed_water(spots)
    assert (one.packing.xy == two.packing.xy).all()
    assert 64 <= len(one.packing.radius_m) <= one.bound.most <= 78


def test_a_lot_keeps_its_float_inside_its_frontage():
    zones = [make_zone("frontage", shapely.box(-100, -100, -40, -40), lot="Lot 7")]
    field = make_field([], zones=zones, settings=make_settings(site_weights=WEIGHTS))
    ask = SiteAsk(like=new_float(**FIXED), lot=" lot 7", count=5, effort=0.05)
    sites = find_sites(assess(field), ask)
    inside = shapely.box(-100 + 15.5, -100 + 15.5, -40 - 10.5, -40 - 10.5)
    assert inside.buffer(0.05).contains(sites.allowed)
    assert sites.allowed.area == pytest.approx(inside.area, rel=2e-3)
    assert sites.sites
    with pytest.raises(BadInputError, match=r"lot 'Lot 9' has no frontage.*'Lot 7'"):
        find_sites(assess(field), replace(ask, lot="Lot 9"))


def test_why_not_tells_every_rule_and_the_nearest_allowed_place():
    field = make_field([make_float("1", 0, 0)])
    assessment, ask = assess(field), SiteAsk(like=new_float(**FIXED))
    lon, lat = HERE.to_lonlat([20.0], [0.0])
    told = why_not(assessment, ask, lon=float(lon[0]), lat=float(lat[0]))
    assert not told.allowed
    assert told.hindrances[0].kind == "float"
    assert told.hindrances[0].spare_m == pytest.approx(20 - 21 - 2, abs=1e-6)
    assert {one.kind for one in told.hindrances} == {"float", "shore"}
    assert told.nearest[:2] == pytest.approx((23.0, 0.0), abs=0.05)
    assert told.nearest_m == pytest.approx(3.0, abs=0.05)
    assert holds(field, ask.like, [told.nearest[:2]]).all()


def test_why_not_where_one_may_lie_and_on_land():
    assessment, ask = assess(make_field([])), SiteAsk(like=new_float(**FIXED))
    lon, lat = HERE.to_lonlat([0.0, 130.0], [0.0, 0.0])
    free = why_not(assessment, ask, lon=float(lon[0]), lat=float(lat[0]))
    assert free.allowed
    assert free.nearest_m == 0
    land = why_not(assessment, ask, lon=float(lon[1]), lat=float(lat[1]))
    assert not land.in_water
    assert not land.allowed
    assert land.nearest[:2] == pytest.approx((84.5, 0.0), abs=0.05)


@pytest.mark.parametrize(
    ("lon", "lat", "words"),
    [
        (
            41.0,
            -37.0,
            r"-37,41 is nowhere near the lake, which lies at 41.00000,-37.00000: .* swapped",
        ),
        (-37.0, 44.0, r"44,-37 is nowhere near the lake, .*: give a place at it"),
    ],
)
def test_a_place_far_from_the_lake_is_refused_with_the_remedy(lon, lat, words):
    """Not answered with "no place is allowed", which would be wrong."""
    with pytest.raises(BadInputError, match=words):
        why_not(assess(make_field([])), SiteAsk(like=new_float(**FIXED)), lon=lon, lat=lat)


def test_without_soundings_it_says_what_is_missing():
    assessment = assess(make_field([], bed_m=None))
    with pytest.raises(BadInputError, match="no soundings"):
        find_sites(assessment, SiteAsk(like=new_float()))
    with pytest.raises(BadInputError, match="no soundings"):
        why_not(assessment, SiteAsk(like=new_float()), lon=-37.0, lat=41.0)


def test_a_lake_too_shallow_has_no_site_and_holds_none():
    settings = make_settings(site_weights=WEIGHTS)
    sites = find_sites(
        assess(make_field([], bed_m=0.4, settings=settings)), SiteAsk(like=new_float())
    )
    assert sites.sites == ()
    assert sites.allowed.is_empty
    assert len(sites.capacity.packing.radius_m) == sites.capacity.bound.most == 0
    assert sum(one.geometry.area for one in sites.closed) == pytest.approx(200 * 200, rel=1e-6)


def test_templates():
    floats = [
        make_float("1", 0, 0, owner="Ada", lot="3", note="x", tubes=3),
        make_float("2", 40, 0, length_m=3.0, width_m=2.0),
        make_float("3", 60, 0, length_m=3.0, width_m=2.0),
    ]
    assessment = assess(make_field(floats))
    usual, like = template(assessment), template(assessment, like="1", riser_m=7.0)
    assert (usual.length_m, usual.width_m, usual.status) == (3.0, 2.0, "proposed")
    assert (like.length_m, like.tubes, like.riser_m, like.ground_m) == (4.0, 3, 7.0, None)
    assert (like.owner, like.lot, like.note) == (None, None, None)
    with pytest.raises(BadInputError, match="--length and --width"):
        template(assess(make_field([])))
    with pytest.raises(BadInputError, match="no float '9'"):
        template(assessment, like="9")
