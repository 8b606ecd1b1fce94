"""The bound by a cover with discs: never under what is known to fit, and good in narrow water."""

import numpy as np
import pytest
import shapely

from lakemap.siting.packing import PackingQuestion, pack
from lakemap.siting.packing_bounds import upper_bound
from lakemap.siting.packing_cover import cover_bound


def same(rho):
    return lambda _piece: rho


@pytest.mark.parametrize("gaps", [1, 2, 5, 9])
def test_a_strip_of_no_width_holds_one_more_than_its_gaps(gaps):
    """Centres 2 rho apart along a line: known on paper."""
    strip = shapely.box(0, 0, 20.0 * gaps, 1e-3)
    bound = cover_bound(strip, same(10.0))
    assert bound >= gaps + 1 - 1e-9
    assert bound < 1.3 * (gaps + 1)


@pytest.mark.parametrize("width", [2.0, 12.0, 25.0])
def test_a_bent_ribbon_never_holds_more_than_it_says(width):
    line = shapely.LineString([(0, 0), (150, 0), (220, 90), (180, 200)])
    ribbon = line.buffer(width / 2)
    bound = upper_bound(ribbon, radius_low=same(10.0), gap_m=2.0, covers=True)
    plain = upper_bound(ribbon, radius_low=same(10.0), gap_m=2.0)
    found = pack(
        PackingQuestion(region=ribbon, radius_at=lambda xy: np.full(len(xy), 10.0), gap_m=2.0),
        budget=200_000,
    )
    assert len(found.radius_m) <= bound.most <= plain.most
    assert bound.most <= 1.5 * len(found.radius_m)


def test_radii_that_differ_are_bounded_by_the_least_in_each_square():
    """Two wells of small radius in water of large: one disc holds a small and a large at once."""
    strip = shapely.box(0, 0, 200, 1)

    def low(piece):
        west, _, east, _ = shapely.bounds(piece)
        return 5.0 if east > 100 and west < 140 else 20.0

    def radius(xy):
        return np.where((xy[:, 0] > 100) & (xy[:, 0] < 140), 5.0, 20.0)

    found = pack(PackingQuestion(region=strip, radius_at=radius, gap_m=0.0), budget=200_000)
    bound = cover_bound(strip, low)
    assert len(found.radius_m) <= bound < 1.6 * len(found.radius_m)


def test_pieces_near_each_other_share_a_disc():
    crumbs = shapely.union_all([shapely.Point(x, 0).buffer(0.2) for x in (30, 32, 34, 36)])
    region = shapely.union_all([shapely.box(0, -5, 28, 5), crumbs])
    alone = upper_bound(region, radius_low=same(9.0))
    shared = upper_bound(region, radius_low=same(9.0), covers=True)
    # 5 circles of 18 m can't lie within 36 m
    assert 3 <= shared.most < alone.most


def test_open_water_is_left_to_other_bounds():
    assert cover_bound(shapely.box(0, 0, 900, 900), same(10.0)) == np.inf
