"""A float with weights under its hook: closed formulas of boxes, and pieces clipped by shapely."""

import numpy as np
import pytest
from clipped import wet
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import trapezoid
from scipy.optimize import brentq

from lakemap.basis.errors import RangeError
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.hung_float import hook_height_m, hung_float
from lakemap.rig.layout import layout
from lakemap.rig.stability import tippings

G = 9.80665
MAN = 185 * 0.45359237
DECK = 0.12


def box(**more):
    """A deck of 3 by 2 m all over billets 0.4 m high that touch: one box; 360 kg, draft 6 cm."""
    given_ = {
        "length_m": 3.0,
        "width_m": 2.0,
        "flotation": "billets",
        "billets": 4,
        "billet_length_m": 1.5,
        "billet_width_m": 1.0,
        "billet_height_m": 0.4,
        "float_weight_kg": 360.0,
        "hook_depth_m": None,
    }
    return make_float("A", **given_ | more)


def tubed(**more):
    given_ = {
        "length_m": 4.0,
        "width_m": 3.0,
        "flotation": "tubes",
        "tubes": 3,
        "tube_diameter_m": 0.5,
        "tube_length_m": 3.6,
        "float_weight_kg": 500.0,
        "hook_depth_m": None,
    }
    return make_float("A", **given_ | more)


@pytest.mark.parametrize("crew", [0, 1, 2])
@pytest.mark.parametrize("hung_kg", [0.0, 150.0, 600.0])
def test_a_box_under_its_centre_hook(crew, hung_kg):
    got = hung_float(box(), hung_n=hung_kg * G, crew=crew)
    mass = 360 + hung_kg + crew * MAN
    draft = mass / 6000
    # the float's own weight at half the deck, the people one metre above it, the load at its hook
    moment = 360 * 0.46 + hung_kg * 0.4 + crew * MAN * (0.4 + DECK + 1.0)
    gm = draft / 2 + 2.0**2 / (12 * draft) - moment / mass
    assert got.draft_m == pytest.approx(draft)
    assert got.freeboard_m == pytest.approx(0.4 + DECK - draft)
    assert got.gm_m == pytest.approx(gm)
    assert got.reserve_n == pytest.approx((2400 - mass) * G)
    assert got.hook_depth_m == pytest.approx(draft - 0.4)
    assert (got.floats, got.steady, got.tilt_deg, got.crew) == (True, True, 0.0, crew)


@pytest.mark.parametrize("depth", [-0.3, 0.05])
def test_the_hook_keeps_its_place_in_the_float(depth):
    # 6 cm of draft with nothing under it
    assert hook_height_m(box(hook_depth_m=depth)) == pytest.approx(0.06 - depth)
    got = hung_float(box(hook_depth_m=depth), hung_n=600 * G, crew=0)
    assert got.hook_depth_m == pytest.approx(depth + 0.1)


def test_too_much_sinks_it():
    got = hung_float(box(), hung_n=2050 * G, crew=0)
    assert (got.floats, got.steady) == (False, False)
    assert got.reserve_n == pytest.approx(-10 * G)
    assert np.isnan([got.draft_m, got.freeboard_m, got.tilt_deg, got.gm_m]).all()
    assert hung_float(box(), hung_n=2030 * G, crew=0).floats
    assert not hung_float(box(), hung_n=2030 * G, crew=1).floats


def test_a_narrow_float_turns_over_under_people_but_not_under_weights():
    # KB + BM of 0.5 m breadth is little: people stand high, weights hang low
    thin = box(width_m=0.5, billet_width_m=0.25, float_weight_kg=100.0, hook_depth_m=0.2)
    assert hung_float(thin, hung_n=200 * G, crew=0).steady
    top = hung_float(thin, hung_n=0.0, crew=2)
    assert top.floats
    assert top.gm_m < 0
    assert not top.steady


def balance(record, hung_kg, crew):
    """Angle at which pieces clipped at the water balance the weights, and the edge's height."""
    flotation = fill_flotation((record,))
    laid = layout(
        flotation, length_m=np.array([record.length_m]), width_m=np.array([record.width_m])
    )
    one = tippings(flotation, laid)[1]
    edge, top = max(record.length_m, record.width_m) / 2, float(flotation.height_m[0]) + DECK
    weights = (
        (float(flotation.weight_kg[0]), 0.0, float(flotation.height_m[0]) + DECK / 2),
        (hung_kg, edge, hook_height_m(record)),
        (crew * MAN, 0.0, top + 1.0),
    )
    mass = sum(weight for weight, _, _ in weights)

    def level(angle):
        return brentq(lambda at: wet(one.profile, angle, at)[0] * 1000 - mass, -3, 3, xtol=1e-11)

    def unbalanced(angle):
        c, s = np.cos(angle), np.sin(angle)
        pull = sum(weight * (out * c + up * s) for weight, out, up in weights)
        return wet(one.profile, angle, level(angle))[1] * 1000 - pull

    angle = brentq(unbalanced, 1e-3, 0.3, xtol=1e-9)
    c, s = np.cos(angle), np.sin(angle)
    return np.degrees(angle), top * c - edge * s - level(angle), level(angle), edge, c, s


@pytest.mark.parametrize("kind", [box, tubed])
@pytest.mark.parametrize(("hung_kg", "crew"), [(60.0, 0), (110.0, 0), (110.0, 1)])
def test_a_hook_at_the_edge_tips_it_as_clipped_polygons_say(kind, hung_kg, crew):
    record = kind(hook="edge")
    got = hung_float(record, hung_n=hung_kg * G, crew=crew)
    degrees, freeboard, level, edge, c, s = balance(record, hung_kg, crew)
    near = 2e-3  # slices of tubes
    assert got.tilt_deg == pytest.approx(degrees, rel=near)
    assert got.freeboard_m == pytest.approx(freeboard, rel=near)
    assert got.hook_depth_m == pytest.approx(level + edge * s - hook_height_m(record) * c, abs=1e-3)
    end = 1.5 if kind is box else 1.8
    assert got.draft_m == pytest.approx(level + end * s, rel=near)
    assert got.floats


def breadths(record, level, c, s):
    """Breadth of one piece's waterline, squared distances aside, by many slices along the deck."""
    x = np.linspace(-end_of(record), end_of(record), 200_001)
    h = (level + x * s) / c
    if record.flotation == "tubes":
        wide = 2 * np.sqrt(np.clip(h * (0.5 - h), 0, None))
        rows = (-1.25, 0.0, 1.25)  # the outer ones flush with the deck's edges
    else:
        wide = np.where((h > 0) & (h < 0.4), 1.0, 0.0)
        rows = (-0.5, 0.5)
    return sum(trapezoid(wide**3 / 12 + wide * aside**2, x) for aside in rows) / c


def end_of(record):
    return 1.5 if record.flotation == "billets" else 1.8


@pytest.mark.parametrize("kind", [box, tubed])
@pytest.mark.parametrize("hung_kg", [40.0, 110.0, 180.0])
def test_a_tipped_float_is_as_steady_sidewise_as_slices_say(kind, hung_kg):
    record = kind(hook="edge", hook_depth_m=-0.1)
    got = hung_float(record, hung_n=hung_kg * G, crew=0)
    _, _, level, edge, c, s = balance(record, hung_kg, 0)
    flotation = fill_flotation((record,))
    laid = layout(
        flotation, length_m=np.array([record.length_m]), width_m=np.array([record.width_m])
    )
    one = tippings(flotation, laid)[1]
    volume, _, below = wet(one.profile, np.arctan2(s, c), level)
    mass = float(flotation.weight_kg[0])
    own = (float(flotation.height_m[0]) + DECK / 2) * c
    hook = hook_height_m(record) * c - edge * s
    up = (mass * own + hung_kg * hook) / (mass + hung_kg)
    gm = breadths(record, level, c, s) / volume + (level - below / volume) - up
    assert got.gm_m == pytest.approx(gm, rel=3e-3)
    assert got.steady


@pytest.mark.parametrize("kind", [box, tubed])
def test_hardly_tipped_it_is_as_steady_as_a_level_one(kind):
    record = kind(hook="edge")
    got = hung_float(record, hung_n=1e-3, crew=0)
    level = hung_float(kind(), hung_n=1e-3, crew=0)
    # across is the short side, so the lesser of both ways
    assert got.gm_m == pytest.approx(level.gm_m, rel=1e-4)


def test_an_edge_under_water_is_no_floating():
    got = hung_float(box(hook="edge"), hung_n=700 * G, crew=0)
    assert not got.floats
    assert got.reserve_n > 0  # all of it could carry that, were it hung in the middle
    assert hung_float(box(), hung_n=700 * G, crew=0).floats


@given(
    hung_kg=st.floats(0, 300), more_kg=st.floats(1, 100), crew=st.integers(0, 2), edge=st.booleans()
)
def test_more_weight_never_lifts_it(hung_kg, more_kg, crew, edge):
    record = tubed(hook="edge" if edge else "centre")
    less = hung_float(record, hung_n=hung_kg * G, crew=crew)
    more = hung_float(record, hung_n=(hung_kg + more_kg) * G, crew=crew)
    assert more.reserve_n < less.reserve_n
    if more.floats:
        assert less.floats
        assert more.freeboard_m < less.freeboard_m
        assert more.draft_m > less.draft_m
        assert more.tilt_deg >= less.tilt_deg


def test_nothing_below_nought():
    with pytest.raises(RangeError, match=r"-5 N under the hook and 0 aboard"):
        hung_float(box(), hung_n=-5.0, crew=0)
    with pytest.raises(RangeError, match=r"nan N under the hook"):
        hung_float(box(), hung_n=np.nan, crew=0)
