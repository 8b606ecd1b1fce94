"""What the rules leave at many places: the sign, the spare and the rule that binds, by the check."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import HERE, make_float, make_settings, make_zone
from spot_fields import holds, new_float, sloping, spot_field_in

from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.siting.cell_bounds import radius_range, spare_range
from lakemap.siting.margins import kind_of, least_radius, margins
from lakemap.siting.spots import spots_at

RULES = {
    "bed": Rule(kind="bed", limit=0.5, source=""),
    "jump_depth": Rule(kind="jump_depth", limit=4.5, source="", beyond_m=2.0),
    "shore_max": Rule(kind="shore_max", limit=70.0, source=""),
    "deck_area_max": Rule(kind="deck_area_max", limit=12.5, source=""),
    "frontage": Rule(kind="frontage", limit=1.0, source=""),
    "intake": Rule(kind="intake", limit=4.0, source=""),
}
SAME_WIND = Rule(kind="neighbour", limit=2.0, source="", mode="same_wind")


def rules(**more):
    return MappingProxyType({**make_settings().rules, **RULES, **more})


def a_field(seed, **more):
    """Three floats and three zones anywhere on a rough bed."""
    rng = np.random.default_rng(seed)
    places = rng.uniform(-80, 80, (3, 2))
    floats = [make_float(f"{k}", x, y) for k, (x, y) in enumerate(places)]
    a, b = rng.uniform(-90, 60, 2)
    zones = [
        make_zone("swim_area", shapely.box(a, b, a + 30, b + 20)),
        make_zone("channel", shapely.LineString([(-100, a), (100, b)]), width_m=8.0),
        make_zone("intake", shapely.Point(b, a).buffer(6)),
        make_zone("frontage", shapely.box(-100, -100, 0, 100), lot="7"),
    ]
    settings = make_settings(rules=rules(**more))
    return sloping(floats, zones=zones, seed=seed, settings=settings)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("more", [{}, {"neighbour": SAME_WIND}])
@pytest.mark.parametrize("lot", [None, "7"])
def test_the_sign_is_that_of_the_check(seed, more, lot):
    field, like = a_field(seed, **more), new_float(lot=lot)
    xy = np.random.default_rng(seed + 9).uniform(-99, 99, (150, 2))
    found = margins(spot_field_in(field, like, lot=lot), xy)
    allowed = holds(field, like, xy)
    assert allowed.any()
    assert not allowed.all()
    assert ((found.least_m >= 0) == allowed).all()


def test_the_rule_that_leaves_least_is_named_with_its_spare():
    field, like = a_field(1), new_float(hook="edge")
    spots = spot_field_in(field, like)
    xy = np.random.default_rng(4).uniform(-95, 95, (14, 2))
    found = margins(spots, xy, wholly=True)
    for k, (x, y) in enumerate(xy.tolist()):
        lon, lat = HERE.to_lonlat([x], [y])
        one = replace(like, lon=float(lon[0]), lat=float(lat[0]))
        checked = assess(replace(field, floats=(*field.floats, one))).floats[-1]
        if {problem.code for problem in checked.problems} & {"no_depth", "aground"}:
            continue
        worst = next(c for c in checked.clearances if c.spare is not None)
        assert found.least_m[k] == pytest.approx(worst.spare, abs=1e-6)
        assert kind_of(spots, int(found.which[k])) == worst.kind


@pytest.mark.parametrize("wake_m", [0.45, 2.0])
def test_the_rig_is_that_of_the_field(wake_m):
    """Also where the wake is higher than the storm's waves in one part of the lake only."""
    field = a_field(2)
    wake = replace(field.settings.wake, height_m=wake_m)
    field = replace(field, settings=replace(field.settings, wake=wake))
    xy, like = np.random.default_rng(3).uniform(-95, 95, (20, 2)), new_float()
    lon, lat = HERE.to_lonlat(*xy.T)
    new = tuple(
        replace(like, float_id=f"n{k}", lon=east, lat=north)
        for k, (east, north) in enumerate(zip(lon.tolist(), lat.tolist(), strict=True))
    )
    whole = assess(replace(field, floats=(*field.floats, *new))).floats[3:]
    at = spots_at(spot_field_in(field, like), xy).at
    assert at.riser_m == pytest.approx([one.riser_m for one in whole], abs=1e-9)
    assert at.swing_radius_m[:, 0] == pytest.approx(
        [one.swing_radius_m[0] for one in whole], abs=1e-6
    )


def test_no_rig_swings_less_than_the_least():
    spots = spot_field_in(a_field(2), new_float())
    xy = np.random.default_rng(0).uniform(-97, 97, (3000, 2))
    radius = spots_at(spots, xy).radius_m
    deep = margins(spots, xy).least_m >= 0
    assert np.nanmin(radius[deep]) >= least_radius(spots)
    assert np.nanmin(radius[deep]) < least_radius(spots) + 3  # and it is not idle


@pytest.mark.parametrize("more", [{}, {"neighbour": SAME_WIND}])
@pytest.mark.parametrize("half_m", [0.8, 3.0, 11.0])
def test_bounds_of_a_square_hold_everywhere_in_it(half_m, more):
    """The lower one below every place in it, the upper one above; no use if they always gave up."""
    spots = spot_field_in(a_field(3, **more), new_float())
    rng = np.random.default_rng(7)
    middles = rng.uniform(-85, 85, (60, 2))
    bounds, radii = spare_range(spots, middles, half_m), radius_range(spots, middles, half_m)
    for k, middle in enumerate(middles):
        turn, way = rng.uniform(0, 2 * np.pi, 40), half_m * np.sqrt(rng.uniform(0, 1, 40))
        xy = middle + np.column_stack([way * np.cos(turn), way * np.sin(turn)])
        xy = xy[np.abs(xy).max(axis=1) < 99.9]
        allowed = margins(spots, xy).least_m >= 0
        assert allowed.all() or bounds.low[k] < 0
        assert not allowed.any() or bounds.high[k] >= 0
        radius = spots_at(spots, xy).radius_m
        known = np.isfinite(radius)
        assert (radius[known] >= radii.low[k] - 1e-9).all()
        assert (radius[known] <= radii.high[k] + 1e-9).all()
    if half_m < 1:
        assert (bounds.low >= 0).any()
        assert (bounds.high < 0).any()
