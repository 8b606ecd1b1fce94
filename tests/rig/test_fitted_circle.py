"""The fitted circle against a published algebraic fit, a brute-force likelihood and simulations."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.rig.circle_residuals import FloatFixes
from lakemap.rig.fitted_circle import (
    FittedCircle,
    NotFitted,
    fit_circle,
    reach_band,
    span_of,
)


def fixes(xy, *, wind=None, sigma=1.0, calm=4.0, taut=8.0):
    xy = np.asarray(xy, dtype=float)
    winds = np.full(len(xy), np.nan) if wind is None else np.asarray(wind, dtype=float)
    return FloatFixes(xy=xy, wind_from_deg=winds, sigma_m=sigma, calm_m=calm, taut_m=taut)


def around(bearings, radius, centre=(0.0, 0.0)):
    angle = np.radians(bearings)
    return np.column_stack([np.sin(angle), np.cos(angle)]) * np.reshape(radius, (-1, 1)) + centre


def kasa(xy):
    """Centre by Kåsa, IEEE Transactions on Instrumentation and Measurement 25 (1976) 8-14."""
    x, y = np.asarray(xy).T
    rows = np.column_stack([2 * x, 2 * y, np.ones(len(x))])
    return np.linalg.lstsq(rows, x**2 + y**2, rcond=None)[0][:2]


@pytest.mark.parametrize("bearings", [(0, 120, 240), (10, 70, 150, 200), (300, 20, 45, 100, 160)])
def test_fixes_without_error_give_the_circle_of_the_algebraic_fit(bearings):
    xy = around(bearings, 6.0, (31.0, -12.0))
    found = fit_circle(fixes(xy, sigma=1e-6, calm=6.0, taut=6.0))
    assert (found.x_m, found.y_m) == pytest.approx(kasa(xy), abs=1e-5)
    assert (found.x_m, found.y_m, found.radius_m) == pytest.approx((31.0, -12.0, 6.0), abs=1e-5)
    assert found.off_m == pytest.approx(np.zeros(len(bearings)), abs=1e-5)
    assert found.bearing_deg % 360 == pytest.approx(np.array(bearings), abs=1e-3)
    assert found.span_deg == pytest.approx(span_of(bearings), abs=1e-3)


def test_the_standard_error_by_hand_without_winds():
    # band 4 to 8 m: w = 4/sqrt(12); fixes north, east, south, west at sqrt(6^2 + 1) m, where each
    # is expected; J'J of the centre is (2 / (1 + w^2)) on either axis, and the radius stands apart
    xy = around([0, 90, 180, 270], np.sqrt(37.0))
    found = fit_circle(fixes(xy))
    variance = (1 + 16 / 12) / 2
    assert found.covariance_m2 == pytest.approx(variance * np.eye(2), abs=1e-9)
    assert found.radius_m == pytest.approx(6.0, abs=1e-6)
    # slopes tell nearly all here: the farthest place that fits within 95 % adds a little
    assert variance**0.5 <= found.error_m < 1.25 * variance**0.5
    assert not found.grown


def test_the_standard_error_by_hand_with_winds():
    turn = np.radians(20.0)
    shorter = np.exp(-(turn**2) / 2)
    xy = around([0, 90, 180, 270], 6.0 * shorter)
    found = fit_circle(fixes(xy, wind=[180, 270, 0, 90]))
    # moments of r (cos e, sin e): E cos^2 = (1 + exp(-2 t^2)) / 2, E cos = exp(-t^2 / 2)
    second = 36 + 16 / 12
    along = 1 + second * (1 + np.exp(-2 * turn**2)) / 2 - 36 * np.exp(-(turn**2))
    across = 1 + second * (1 - np.exp(-2 * turn**2)) / 2
    variance = 1 / (2 / along + 2 / across)
    assert found.covariance_m2 == pytest.approx(variance * np.eye(2), abs=1e-9)
    assert found.error_m == pytest.approx(variance**0.5, rel=0.02)
    assert (found.x_m, found.y_m, found.radius_m) == pytest.approx((0.0, 0.0, 6.0), abs=1e-7)


def test_moments_of_a_wind_told_wrongly_by_many_throws():
    rng = np.random.default_rng(4)
    radius = rng.uniform(4, 8, 400_000)
    turn = rng.normal(0, np.radians(20.0), 400_000)
    along, across = radius * np.cos(turn), radius * np.sin(turn)
    one = fit_circle(fixes(around([0, 90, 180, 270], 6.0), wind=[180, 270, 0, 90], sigma=1e-3))
    variance = 1 / (2 / along.var() + 2 / across.var())
    assert one.covariance_m2[0, 0] == pytest.approx(variance, rel=0.01)


def likelihood(grid, xy, sigma, calm, taut):
    """Of each place: distances are a radius anywhere in the band plus an error, exactly."""
    radius = np.linspace(calm, taut, 81)
    far = np.hypot(*(xy[None] - grid[:, None]).transpose(2, 0, 1))
    # Rice: a fix at `radius` with errors on both axes lies `far` from the primary
    z = far[..., None] * radius / sigma**2
    bessel = np.i0(np.minimum(z, 600))
    each = far[..., None] / sigma**2 * np.exp(-(far[..., None] ** 2 + radius**2) / 2 / sigma**2)
    return np.log((each * bessel).mean(axis=-1) / far).sum(axis=-1)


def test_it_agrees_with_the_likelihood_by_brute_force():
    rng = np.random.default_rng(11)
    for _ in range(4):
        bearings = np.arange(6) * 60 + rng.uniform(-20, 20, 6)
        xy = around(bearings, rng.uniform(4, 8, 6)) + rng.normal(0, 0.7, (6, 2))
        found = fit_circle(fixes(xy, sigma=0.7))
        side = np.linspace(-4, 4, 81)
        grid = np.column_stack([one.ravel() for one in np.meshgrid(side, side)])
        best = grid[np.argmax(likelihood(grid, xy, 0.7, 4.0, 8.0))]
        apart = np.hypot(*(best - (found.x_m, found.y_m)))
        assert apart < 0.75 * found.error_m


@pytest.mark.parametrize(
    ("count", "sector", "sigma", "told", "alike"),
    [
        (3, 360, 1.0, False, True),
        (4, 360, 3.0, True, False),
        (6, 360, 3.0, False, False),
        (6, 140, 4.0, True, True),
        (6, 140, 4.0, False, False),
    ],
)
def test_the_stated_error_holds_what_it_says(count, sector, sigma, told, alike):
    """Twice: 95 % of the centres lie within 2.45 standard errors, and it is not far too large."""
    rng = np.random.default_rng(7)
    share, off, said = [], [], []
    for _ in range(70):
        bearings = rng.uniform(0, sector, count)
        if sector == 360:
            bearings = rng.uniform(0, 360) + np.arange(count) * 360 / count
        radius = np.full(count, rng.uniform(4.9, 7.7)) if alike else rng.uniform(4.9, 7.7, count)
        xy = around(bearings, radius) + rng.normal(0, sigma, (count, 2))
        wind = (bearings + 180 + rng.normal(0, 20, count)) % 360 if told else None
        found = fit_circle(fixes(xy, wind=wind, sigma=sigma, calm=4.9, taut=7.7))
        if isinstance(found, NotFitted):
            continue
        away = float(np.hypot(found.x_m, found.y_m))
        share.append(away <= np.sqrt(-2 * np.log(0.05)) * found.error_m)
        off.append(away**2 / 2)
        said.append(found.error_m**2)
    assert len(share) > 25
    # 95 %, less three standard deviations of so few throws
    assert np.mean(share) >= 0.95 - 3 * np.sqrt(0.95 * 0.05 / len(share))
    assert 0.35 < np.sqrt(np.mean(off) / np.mean(said)) < 1.2


def test_fewer_than_three_are_no_circle():
    found = fit_circle(fixes(around([0, 180], 6.0)))
    assert found == NotFitted(why="few")


@pytest.mark.parametrize("told", [False, True])
def test_fixes_within_a_quarter_turn_are_no_circle(told):
    bearings = np.array([10, 40, 60, 95.0])
    wind = bearings + 180 if told else None
    found = fit_circle(fixes(around(bearings, 6.0), wind=wind, sigma=0.01))
    assert (found.why, found.span_deg) == ("one_side", pytest.approx(85.0, abs=1.5))


def test_a_little_more_than_a_quarter_turn_is_one():
    bearings = np.array([350, 20, 60, 95.0])
    found = fit_circle(fixes(around(bearings, 6.0), wind=bearings - 180 + 360, sigma=0.1))
    assert isinstance(found, FittedCircle)
    assert found.span_deg == pytest.approx(105.0, abs=6)  # a wind's error is reckoned to shorten


def test_fixes_that_leave_it_open_are_no_circle():
    # three at one place, no winds: with a phone as unsure as the circle is large
    found = fit_circle(fixes([(0, 0), (1, 0.5), (-0.5, 1)], sigma=6.0, calm=5.0, taut=6.0))
    assert isinstance(found, NotFitted)
    assert found.why in {"loose", "one_side"}


def test_fixes_that_disagree_make_the_error_grow():
    bearings = [0, 72, 144, 216, 288]
    true = fit_circle(fixes(around(bearings, 6.0), sigma=0.5))
    odd = fit_circle(fixes(around(bearings, [6, 6, 6, 6, 16.0]), sigma=0.5))
    assert not true.grown
    assert odd.grown
    assert odd.misfit > 2
    assert odd.error_m > 2 * true.error_m


@given(
    east=st.floats(-5000, 5000),
    north=st.floats(-5000, 5000),
    turn=st.floats(0, 359),
    told=st.booleans(),
)
def test_it_moves_and_turns_with_the_fixes(east, north, turn, told):
    bearings = np.array([0, 100, 190, 260.0])
    radius = np.array([5, 6.5, 7, 5.5])
    wind = (bearings + np.array([170, 200, 180, 185])) % 360 if told else None
    plain = fit_circle(fixes(around(bearings, radius), wind=wind, sigma=0.8))
    other = fit_circle(
        fixes(
            around(bearings + turn, radius, (east, north)),
            wind=(wind + turn) % 360 if told else None,
            sigma=0.8,
        )
    )
    angle = np.radians(turn)
    back = (other.x_m - east, other.y_m - north)
    was = (
        back[0] * np.cos(angle) - back[1] * np.sin(angle),
        back[0] * np.sin(angle) + back[1] * np.cos(angle),
    )
    assert was == pytest.approx((plain.x_m, plain.y_m), abs=1e-3)
    assert other.error_m == pytest.approx(plain.error_m, rel=0.05)


@pytest.mark.parametrize(
    ("bearings", "span"),
    [((), 0), ((40,), 0), ((350, 10), 20), ((0, 120, 240), 240), ((10, 100), 90), ((0, 180), 180)],
)
def test_the_least_sector(bearings, span):
    assert span_of(bearings) == pytest.approx(span)
    assert span_of([*bearings, np.nan]) == pytest.approx(span)


def test_the_band_by_hand():
    # riser 8, ground chain 5, drop at high water 6: 7 m of slack; reach at low water 12 for drop 5
    assert reach_band(13.0, drop_high_m=6.0, reach_low_m=12.0) == (7.0, 12.0)
    assert reach_band(13.0, drop_high_m=14.0, reach_low_m=12.0) == (0.0, 12.0)
    assert reach_band(13.0, drop_high_m=None, reach_low_m=None) == (0.0, 13.0)
    assert reach_band(13.0, drop_high_m=-1.0, reach_low_m=13.0) == (13.0, 13.0)


@pytest.mark.parametrize("bad", [{"sigma": 0.0}, {"calm": -1.0}, {"calm": 9.0}, {"taut": np.inf}])
def test_numbers_out_of_range_are_shown(bad):
    with pytest.raises(RangeError, match="need 0 <= calm <= taut"):
        fit_circle(fixes(around([0, 120, 240], 6.0), **bad))
