"""Scores with their parts, sites that keep apart, and the classes of closed water."""

import numpy as np
import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone
from spot_fields import new_float, sloping, spot_field_in

from lakemap.siting.closed import closed_water
from lakemap.siting.ranking import best_apart, candidates, judged

EVEN = {"spare": 1.0, "shelter": 1.0, "depth": 1.0, "way": 1.0, "line": 1.0}
FIXED = {"riser_m": 6.0, "ground_m": 4.0}  # swings 10.5 m


def places(field, xy, weights=None, **more):
    return judged(spot_field_in(field, new_float(**more)), np.array(xy), weights or EVEN)


def test_every_piece_of_allowed_water_has_a_candidate_and_none_lies_outside():
    pieces = [shapely.box(0, 0, 40, 30), shapely.box(100, 0, 100.2, 0.2)]
    region = shapely.MultiPolygon(pieces)
    found = candidates(region)
    assert shapely.intersects_xy(region, *found.T).all()
    for piece in pieces:
        assert shapely.intersects_xy(piece, *found.T).any()
    assert candidates(shapely.MultiPolygon()).shape == (0, 2)


def test_parts_are_what_they_say():
    field = make_field(
        [make_float("1", 0, 0)], zones=[make_zone("ramp", shapely.Point(99, 0).buffer(1))]
    )
    found = places(field, [(40.0, 0.0), (80.0, 0.0)], **FIXED)
    # 40 - 10.5 - 10.5 - 2 to the neighbour; to the shore 100 - 80 - 10.5 - 5
    assert found.spare_m == pytest.approx([17.0, 4.5])
    assert found.parts["spare"] == pytest.approx([17 / (17 + 3.048), 4.5 / (4.5 + 3.048)])
    assert found.fetch_m == pytest.approx([140.0, 180.0])  # the wind is from the west
    assert found.way_m == pytest.approx([58.0, 18.0], abs=0.02)
    assert found.parts["line"] == pytest.approx([15.24 / 25.24] * 2)
    assert found.parts["depth"] == pytest.approx([6.0 / (6.0 + 1.2192)] * 2)  # low water, no rule
    assert found.score == pytest.approx(np.mean([found.parts[name] for name in EVEN], axis=0))
    for part in found.parts.values():
        assert ((part >= 0) & (part <= 1)).all()


def test_weights_decide():
    field, xy = make_field([make_float("1", 0, 0)]), [(40.0, 0.0), (80.0, 0.0)]
    spare = places(field, xy, {"spare": 1.0}, **FIXED).score
    way = places(field, xy, {"way": 1.0}, **FIXED).score  # no ramp: to the shore
    assert spare[0] > spare[1]
    assert way[0] < way[1]
    assert places(field, xy, {"spare": 0.0}, **FIXED).score == pytest.approx(0.0)


def test_the_best_come_first_and_keep_apart():
    field = sloping(seed=2)
    found = judged(
        spot_field_in(field, new_float()), np.random.default_rng(1).uniform(-70, 70, (400, 2)), EVEN
    )
    best = best_apart(found, gap_m=2.0, count=6)
    xy, radius = found.only(best), found.spots.radius_m[best]
    assert best[0] == np.nanargmax(found.score)
    assert (np.diff(found.score[best]) <= 0).all()
    for k in range(len(best)):
        for other in range(k):
            apart = np.hypot(*(xy[k] - xy[other]))
            assert apart >= radius[k] + radius[other] + 2.0
    many = best_apart(found, gap_m=2.0, count=400)
    assert len(best) == 6 < len(many) < 400


def test_closed_water_and_allowed_water_are_the_lake():
    field = sloping(
        [make_float("1", 20, 0)],
        zones=[make_zone("swim_area", shapely.box(-90, -30, -60, 30))],
        settings=make_settings(),
    )
    spots = spot_field_in(field, new_float(**FIXED))
    allowed = shapely.box(-20, 40, 20, 60)
    classes = closed_water(spots, allowed)
    assert {one.kind for one in classes} == {"shore", "float", "swim_area"}
    parts = [allowed, *(one.geometry for one in classes)]
    assert sum(part.area for part in parts) == pytest.approx(200 * 200, rel=1e-6)
    assert shapely.union_all(parts).area == pytest.approx(200 * 200, rel=1e-6)
    near = {one.kind: one.geometry for one in classes}
    assert near["float"].contains(shapely.Point(24, 5))
    assert near["swim_area"].contains(shapely.Point(-75, 3))
    assert near["shore"].contains(shapely.Point(97, 90))
