"""The storm at floats: the worst bearing, its inverse, and a working that says what was reckoned."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.working import read_off
from lakemap.loads.storm import GREATEST_WIND_M_S, StormQuestion, push_at, storms, wind_that_pulls


def question(**more):
    """Two floats, three bearings; the second in more open water."""
    given_ = {
        "from_deg": np.array([0.0, 90.0, 225.0]),
        "wind_m_s": np.full(3, 22.0),
        "gust_m_s": np.full(3, 31.0),
        "current_m_s": 0.0,
        "fetch_m": np.array([[100.0, 400.0, 250.0], [900.0, 300.0, 1200.0]]),
        "along_m": np.full((2, 3), 5.0),
        "depth_low_m": np.array([4.0, 4.0]),
        "depth_m": np.array([4.5, 4.5]),
        "long_m": np.array([4.0, 4.0]),
        "short_m": np.array([3.0, 3.0]),
        "at_edge": np.array([False, False]),
        "above_m": np.array([0.4, 0.4]),
        "draft_m": np.array([0.2, 0.2]),
    }
    return StormQuestion(**given_ | more)


def test_the_bearing_with_the_largest_pull_is_taken():
    found = storms(question())
    assert found.from_deg.tolist() == [90.0, 225.0]
    assert found.fetch_m.tolist() == [400.0, 1200.0]
    for k in range(3):
        alone = storms(
            question(
                from_deg=np.array([0.0]), wind_m_s=np.array([22.0]), gust_m_s=np.array([31.0]),
                fetch_m=question().fetch_m[:, k : k + 1], along_m=np.full((2, 1), 5.0),
            )
        )  # fmt: skip
        assert (alone.mean_n <= found.mean_n + 1e-9).all()


def test_a_stronger_wind_from_one_side_may_be_the_worst():
    found = storms(question(wind_m_s=np.array([30.0, 10.0, 10.0])))
    assert found.from_deg.tolist() == [0.0, 0.0]
    assert found.wind_m_s.tolist() == [30.0, 30.0]


def test_the_working_is_what_was_reckoned():
    found = storms(question(current_m_s=0.3))
    assert [step.formula.key for step in found.steps][-1] == "mean_pull"
    for step in found.steps:
        if step.formula.law is not read_off:
            assert step.formula.law(**step.given) == pytest.approx(step.value, rel=1e-12)
    total = found.wind_n + found.drift_n + found.current_n
    assert found.mean_n == pytest.approx(total)
    assert (found.current_n > 0).all()


def test_what_the_working_says_is_what_all_bearings_were_reckoned_by():
    found = storms(question())
    again = push_at(found, found.wind_m_s)
    assert again.mean_n == pytest.approx(found.mean_n)
    assert again.highest_m == pytest.approx(found.highest_m)
    assert again.period_s == pytest.approx(found.period_s)


@given(st.floats(1.0, 55.0))
def test_the_wind_of_a_pull_gives_that_pull(wind):
    found = storms(question())
    pull = push_at(found, np.full(2, wind)).mean_n
    assert wind_that_pulls(found, pull) == pytest.approx([wind, wind], abs=1e-5)


@given(st.floats(0.5, 40.0), st.floats(1.001, 1.4))
def test_more_wind_never_pulls_less(wind, more):
    found = storms(question())
    light, strong = (push_at(found, np.full(2, w)).mean_n for w in (wind, wind * more))
    assert (strong > light).all()


def test_pulls_that_no_wind_gives():
    found = storms(question())
    assert wind_that_pulls(found, np.array([1e7, np.nan])).tolist()[0] == np.inf
    assert np.isnan(wind_that_pulls(found, np.array([1e7, np.nan]))[1])
    assert wind_that_pulls(found, np.zeros(2)) == pytest.approx([0, 0], abs=1e-6)
    assert GREATEST_WIND_M_S == 60


def test_open_water_that_is_not_known():
    fetch = question().fetch_m.copy()
    fetch[0] = np.nan
    found = storms(question(fetch_m=fetch))
    for name in ("mean_n", "height_m", "from_deg", "fetch_m", "drift_n"):
        assert np.isnan(getattr(found, name)[0])
        assert np.isfinite(getattr(found, name)[1])
    assert all(np.isnan(step.value[0]) for step in found.steps)


def test_a_float_moored_by_its_edge_stands_narrower():
    centre, edge = storms(question()), storms(question(at_edge=np.array([True, True])))
    assert (edge.wind_n < centre.wind_n).all()
    # the diagonal, 5 m, against 4 sin 30 + 3 cos 30
    assert edge.wind_n / centre.wind_n == pytest.approx((2 + 3 * np.sqrt(0.75)) / 5)


def test_calm_asks_nothing():
    found = storms(question(wind_m_s=np.zeros(3), gust_m_s=np.zeros(3)))
    assert found.mean_n.tolist() == [0, 0]
    assert found.height_m.tolist() == [0, 0]


def test_deep_water_where_nobody_knows_the_depth():
    known = storms(question())
    deep = storms(replace(question(), along_m=np.full((2, 3), np.inf)))
    assert (deep.height_m >= known.height_m).all()
    assert np.isfinite(deep.mean_n).all()
