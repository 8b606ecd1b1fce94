"""People at the edge against the least potential energy, and against arms by clipped polygons."""

from dataclasses import replace

import numpy as np
import pytest
from clipped import arm, rest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from lakemap.rig.edge_load import balanced_people, edge_load, righting_arm, rows_of
from lakemap.rig.tilt import Profile, Tipping

KINDS = ("end on", "lengthwise", "box")
PERSON = 185 * 0.45359237


def tipping(kind, weight=480.0, height=0.5, offsets=(-1.2, 1.2), **more):
    """A deck of 3 m that way; weight half a deck up, people 0.2 m in from the edge."""
    extent, span = {"end on": (height, 3.0), "lengthwise": (3.0, height), "box": (0.6, 2.4)}[kind]
    offsets = (0.0,) if kind == "lengthwise" else offsets
    profile = Profile(
        kind=kind,
        offset_m=np.array([offsets]),
        pieces=np.full((1, len(offsets)), 2.0 / len(offsets)),
        extent_m=np.array([extent]),
        span_m=np.array([span]),
        height_m=np.array([height]),
    )
    at = {
        "weight_kg": weight,
        "centre_m": height + 0.06,
        "edge_m": 1.5,
        "deck_top_m": height + 0.12,
        "stand_m": 1.3,
        "person_centre_m": height + 1.12,
    } | more
    return Tipping(profile=profile, **{name: np.array([value]) for name, value in at.items()})


def load(at, people):
    found = edge_load(at, people_kg=np.array([people * PERSON]))
    return float(found.tilt_deg[0]), float(found.freeboard_m[0]), float(found.most_kg[0])


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("weight", "people"), [(300, 1), (300, 2), (480, 1), (480, 2)])
def test_rests_where_the_potential_energy_is_least(kind, weight, people):
    at = tipping(kind, weight)
    tilt, freeboard, _ = load(at, people)
    angle, edge = rest(at, people * PERSON, start=np.radians(2.0))
    # the slices of a tube tipped lengthwise are coarser than the circle
    near = 5e-3 if kind == "lengthwise" else 1e-3
    assert tilt == pytest.approx(np.degrees(angle), abs=near)
    assert freeboard == pytest.approx(edge, abs=3e-4)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("weight", [300, 480, 620])
def test_arm_by_clipped_polygons(kind, weight):
    at = tipping(kind, weight)
    for degrees in (0.5, 3.0, 9.0, 20.0, 40.0):
        angle = np.radians(degrees)
        for people in (0, 1, 3):
            found = righting_arm(at, np.array([angle]), people_kg=np.array([people * PERSON]))
            wanted, _ = arm(at, angle, people * PERSON)
            assert float(found[0]) == pytest.approx(wanted, abs=2e-4)


def rests_dry(at, people_kg):
    """Whether the arm comes up to 0 before its greatest, with the edge above the water there."""
    angles = np.radians(np.arange(0.75, 24.0, 0.75))
    best = angles[np.argmax([arm(at, angle, people_kg)[0] for angle in angles])]
    found = minimize_scalar(
        lambda a: -arm(at, a, people_kg)[0],
        bounds=(best - 0.014, best + 0.014),
        method="bounded",
        options={"xatol": 1e-7},
    )
    if found.fun > 0:
        return False
    angle = brentq(lambda a: arm(at, a, people_kg)[0], 1e-3, found.x, xtol=1e-8)
    return arm(at, angle, people_kg)[1] > 0


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("weight", [300, 620])
@pytest.mark.parametrize("edge", [1.5, 2.4])
def test_the_most_by_clipped_polygons(kind, weight, edge):
    # just less has a dry balance at some angle, just more at none; a deck that stands out is wet
    # before the flotation has given all
    at = tipping(kind, weight, edge_m=edge)
    _, _, most = load(at, 0)
    near = 1.0 if kind == "lengthwise" else 0.2  # kg, as good as the slices are
    assert most > PERSON
    assert rests_dry(at, most - near)
    assert not rests_dry(at, most + near)


@pytest.mark.parametrize("kind", KINDS)
def test_a_wet_edge_goes_under(kind):
    # the same balance of 2 people under decks that end 5 mm above the water, and 5 mm under it
    at = tipping(kind, 480.0)
    tilt, freeboard, _ = load(at, 2)
    for above in (0.005, -0.005):
        out = 1.5 + (freeboard - above) / np.sin(np.radians(tilt))
        wide = replace(at, edge_m=np.array([out]))
        assert arm(wide, np.radians(tilt), 2 * PERSON)[1] == pytest.approx(above, abs=1e-4)
        found = load(wide, 2)
        if above > 0:
            assert found[:2] == pytest.approx((tilt, above), abs=1e-6)
        else:
            assert np.isnan(found[:2]).all()
        assert (found[2] >= 2 * PERSON) == (above > 0)


@pytest.mark.parametrize("kind", ["end on", "box"])
def test_a_light_weight_tips_it_a_little(kind):
    at = tipping(kind)
    tilt = np.radians(load(at, 0.2)[0])
    assert 0 < tilt < np.radians(0.4)
    assert arm(at, tilt, 0.2 * PERSON)[0] == pytest.approx(0, abs=3e-6)


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=20)
@given(degrees=st.floats(0.2, 25.0), weight=st.floats(200.0, 650.0))
def test_balanced_people_leave_no_arm(kind, degrees, weight):
    at, angle = tipping(kind, weight), np.radians([degrees])
    people, _ = balanced_people(at, angle)
    if people[0] >= 0:
        assert float(righting_arm(at, angle, people_kg=people)[0]) == pytest.approx(0, abs=1e-6)


def test_a_wall_sided_box():
    # GZ = sin a (GM + BM tan^2(a)/2) until an edge of the box leaves or enters the water: any text
    # on ships, as Lewis (ed.), Principles of Naval Architecture, SNAME 1988, vol. I, ch. 2
    box = tipping("box", 720.0, height=0.6, offsets=(0.0,), centre_m=0.5)
    box = replace(
        box, profile=replace(box.profile, pieces=np.array([[1.0]]), extent_m=np.array([1.5]))
    )
    draft = 0.72 / (1.5 * 2.4)
    bm = 1.5**2 / (12 * draft)
    gm = draft / 2 + bm - 0.5
    for degrees in (0.1, 2.0, 8.0, 14.0):
        angle = np.radians(degrees)
        assert draft > 0.75 * np.tan(angle)
        arm_ = righting_arm(box, np.array([angle]), people_kg=np.zeros(1))
        wanted = np.sin(angle) * (gm + bm * np.tan(angle) ** 2 / 2)
        assert float(arm_[0]) == pytest.approx(wanted, rel=1e-6)


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=8)
@given(weight=st.floats(150.0, 1000.0), people=st.integers(0, 7))
def test_more_people_never_tip_it_less(kind, weight, people):
    at = tipping(kind, weight)
    few, many = load(at, people), load(at, people + 1)
    assert few[2] == pytest.approx(many[2], abs=0.5)  # what it takes is not the people's affair
    if np.isnan(few[0]):
        assert np.isnan(many[0])
    else:
        assert not many[0] < few[0]
        assert few[1] >= 0
        assert few[2] >= people * PERSON
    if few[2] >= people * PERSON + 0.5:
        assert not np.isnan(few[0])


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=8)
@given(weight=st.floats(150.0, 700.0), people=st.integers(0, 4), times=st.floats(0.3, 3.0))
def test_the_tilt_keeps_when_everything_grows(kind, weight, people, times):
    small = tipping(kind, weight)
    of = small.profile
    large = Tipping(
        profile=replace(
            of,
            offset_m=of.offset_m * times,
            extent_m=of.extent_m * times,
            span_m=of.span_m * times,
            height_m=of.height_m * times,
        ),
        weight_kg=small.weight_kg * times**3,
        **{
            name: getattr(small, name) * times
            for name in ("centre_m", "edge_m", "deck_top_m", "stand_m", "person_centre_m")
        },
    )
    one = edge_load(small, people_kg=np.array([people * PERSON]))
    two = edge_load(large, people_kg=np.array([people * PERSON * times**3]))
    assert two.tilt_deg[0] == pytest.approx(one.tilt_deg[0], abs=1e-5, nan_ok=True)
    assert two.freeboard_m[0] == pytest.approx(one.freeboard_m[0] * times, abs=1e-6, nan_ok=True)
    assert two.most_kg[0] == pytest.approx(one.most_kg[0] * times**3, rel=1e-3, abs=1e-6)


@pytest.mark.parametrize("kind", KINDS)
def test_a_mirrored_float_is_the_same(kind):
    one = tipping(kind)
    other = replace(one, profile=replace(one.profile, offset_m=-one.profile.offset_m[:, ::-1]))
    for people in (1, 2, 3):
        assert load(other, people) == pytest.approx(load(one, people), nan_ok=True)


def test_nobody_does_not_tip_it():
    for kind in KINDS:
        tilt, freeboard, _ = load(tipping(kind), 0)
        assert tilt == 0
        assert freeboard > 0.3


def test_a_float_that_cannot_stand_upright_lolls():
    # a wall-sided box rests at tan a = sqrt(-2 GM/BM): Principles of Naval Architecture as above
    bm = 1.5**2 / (12 * 0.2)
    loose = tipping("box", 720.0, height=0.6, offsets=(0.0,), centre_m=0.1 + bm + 0.0025)
    of = replace(loose.profile, pieces=np.array([[1.0]]), extent_m=np.array([1.5]))
    tilt, freeboard, _ = load(replace(loose, profile=of, edge_m=np.array([0.75])), 0)
    assert np.tan(np.radians(tilt)) == pytest.approx(np.sqrt(2 * 0.0025 / bm), rel=2e-5)
    assert freeboard > 0


def test_a_float_that_turns_over_goes_under():
    loose = tipping("end on", 480.0, offsets=(-0.3, 0.3), centre_m=0.95)
    assert np.isnan(load(loose, 0)[:2]).all()
    assert load(loose, 0)[2] == 0


def test_a_float_too_heavy_takes_nobody():
    heavy = tipping("end on", 1200.0)
    assert np.isnan(load(heavy, 0)[:2]).all()
    assert load(heavy, 0)[2] == 0
    arm_ = righting_arm(heavy, np.array([0.1]), people_kg=np.zeros(1))
    assert np.isnan(arm_[0])


def test_each_as_alone():
    weights = np.array([300.0, 1300.0, 480.0, 900.0])
    for kind in KINDS:
        one = tipping(kind)
        many = replace(rows_of(one, np.zeros(4, dtype=np.int64)), weight_kg=weights)
        people = np.array([1, 1, 3, 0]) * PERSON
        together = edge_load(many, people_kg=people)
        for i in range(4):
            alone = edge_load(rows_of(many, np.array([i])), people_kg=people[i : i + 1])
            for name in ("tilt_deg", "freeboard_m", "most_kg"):
                assert getattr(together, name)[i] == pytest.approx(
                    getattr(alone, name)[0], abs=1e-4, nan_ok=True
                )
