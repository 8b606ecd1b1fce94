"""Where floats lie in one wind, against the line's own statics and plain geometry."""

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.sizing.lying import Hung, lying, radius_at, steady_pull
from lakemap.sizing.weather import Weather, winds_of

DEMO = Path(__file__).parents[2] / "data" / "tamber-lake"


@pytest.fixture(scope="module")
def field():
    return assess(read_field(DEMO))


def weather_of(field):
    question = field.sized.question
    settings = field.field.settings
    return Weather(
        floats=field.field.floats, buoyancy=question.buoyancy, settings=settings,
        winds=winds_of(settings), water=field.water, surface=field.surface,
    )  # fmt: skip


def hung_of(field):
    rigs = field.sized.rigs
    return Hung(
        ground_weight_n_m=rigs.ground_weight_n_m, riser_weight_n_m=rigs.riser_weight_n_m,
        secondary_wet_n=rigs.secondary.wet_n, friction=np.full(len(rigs.riser_m), 0.4),
    )  # fmt: skip


def test_the_storm_s_own_wind_gives_the_storm_s_own_pull(field):
    storm = field.sized.question.storms.storms
    at = field.sized.question.placement.primary_xy
    for i in (0, 5, 11):
        pull = steady_pull(
            weather_of(field),
            at,
            wind_m_s=float(storm.wind_m_s[i]),
            from_deg=float(storm.from_deg[i]),
        )
        assert pull[i] == pytest.approx(storm.mean_n[i], rel=1e-9)


def test_no_wind_no_pull_and_more_wind_more_pull(field):
    at = field.sized.question.placement.primary_xy
    pulls = [
        steady_pull(weather_of(field), at, wind_m_s=w, from_deg=250.0)
        for w in (0.0, 3.0, 8.0, 20.0)
    ]
    assert (pulls[0] == 0).all()
    for less, more in pairwise(pulls):
        assert (more[~np.isnan(more)] > less[~np.isnan(more)]).all()


def test_in_a_calm_the_secondary_stays_and_the_riser_hangs_beside_it(field):
    placement = field.sized.question.placement
    found = lying(
        placement, hung_of(field), np.zeros(len(placement.riser_m)), from_deg=90.0, rise_m=0.0
    )
    known = (
        np.isfinite(placement.secondary_xy).all(axis=1)
        & ~placement.pulled_under
        & ~placement.no_depth
    )
    known &= ~placement.aground & ~placement.hung
    assert known.sum() > 20
    assert found.secondary_xy[known] == pytest.approx(placement.secondary_xy[known])
    assert not found.dragged[known].any()
    off = found.hook_xy - found.secondary_xy
    assert (off[known, 0] <= 1e-9).all()  # an east wind pushes west
    assert np.abs(off[known, 1]).max() < 1e-6


def test_a_light_pull_is_the_catenary_of_the_riser_alone(field):
    """Independent: the textbook catenary y = a (cosh(x/a) - 1), level where it leaves the bed."""
    i, pull = 0, 2.0
    placement, hung = field.sized.question.placement, hung_of(field)
    one = replace(hung, friction=np.full(len(hung.friction), 5.0))  # held fast: nothing drags it
    found = lying(placement, one, np.full(len(hung.friction), pull), from_deg=270.0, rise_m=0.0)
    weight = float(hung.riser_weight_n_m[i])
    length = float(placement.riser_m[i])
    drop = float(placement.sounding_depth_m[i] - placement.hook_depth_empty_m[i])
    # part of the riser lies on the bed where it is longer than the catenary that leaves it level
    a = pull / weight
    half = brentq(lambda x: a * (math.cosh(x / a) - 1.0) - drop, 1e-9, 100.0 * a)
    lifted = a * math.sinh(half / a)
    assert lifted < length
    span = half + (length - lifted)
    assert np.hypot(*(found.hook_xy[i] - found.secondary_xy[i])) == pytest.approx(span, rel=1e-6)


def test_a_huge_pull_draws_the_line_straight_down_the_wind(field):
    placement = field.sized.question.placement
    found = lying(
        placement, hung_of(field), np.full(len(placement.riser_m), 1e9), from_deg=0.0, rise_m=0.0
    )
    solved = found.dragged
    assert solved.sum() > 20
    line = placement.riser_m + placement.ground_m
    drop = placement.sounding_depth_m - placement.hook_depth_empty_m
    away = found.hook_xy - placement.primary_xy
    assert np.abs(away[solved, 0]).max() < 1e-6
    assert -away[solved, 1] == pytest.approx(np.sqrt(line**2 - drop**2)[solved], rel=1e-5)


@pytest.mark.parametrize("k", [0, 1, 2])
def test_the_circle_at_a_level_is_the_check_s_own_at_its_three_levels(field, k):
    levels = field.field.settings.levels
    at = (levels.low_m, levels.normal_m, levels.high_m)[k]
    placement = field.sized.question.placement
    found = radius_at(placement, rise_m=at - levels.soundings_m)
    known = np.isfinite(placement.swing_radius_m[:, k]) & ~placement.no_depth
    assert found[known] == pytest.approx(placement.swing_radius_m[known, k], rel=1e-12)


def test_lower_water_never_makes_a_circle_smaller(field):
    placement = field.sized.question.placement
    radii = [radius_at(placement, rise_m=rise) for rise in (0.5, 0.0, -0.5, -1.5)]
    for higher, lower in pairwise(radii):
        assert (np.nan_to_num(lower) >= np.nan_to_num(higher) - 1e-12).all()
