"""What the page takes of the computed rigs: packed small, and the same when unpacked."""

import json
from dataclasses import replace
from itertools import accumulate

import pytest
import shapely
from conftest import make_field, make_float, make_settings

from lakemap.mapping import assess
from lakemap.outputs.web.page_floats import float_data
from lakemap.outputs.web.panel_rig import rig_panels
from lakemap.sizing.records import RigPictures

POUND_N = 4.4482216152605


@pytest.fixture(scope="module")
def assessment():
    floats = [
        make_float("rests", riser_m=8.0, ground_m=6.5),
        make_float("heavy", 30.0, 0.0, riser_m=8.5, ground_m=6.5, secondary_blocks=9),
        make_float("hangs", -40.0, 20.0, riser_m=5.0, ground_m=6.0),
        make_float("short", 60.0, 20.0, riser_m=3.0, ground_m=2.0),
        make_float("retired", 60.0, -20.0, riser_m=8.0, ground_m=6.5, status="retired"),
    ]
    return assess(make_field(floats, settings=make_settings(units="ft-lb")))


@pytest.fixture(scope="module")
def panels(assessment):
    return rig_panels(assessment)


def unpacked(packed):
    x, z, second = packed[:3]
    return list(zip(accumulate(x), accumulate(z), strict=True)), second


def test_lines_unpack_to_within_a_centimetre_or_two(assessment, panels):
    drawn = 0
    for panel, pictures in zip(panels[1], assessment.rig_pictures(), strict=True):
        if panel["side"] is None:
            continue
        storm = [None] * 3 if panel["storm"] is None else panel["storm"][1]
        pairs = [
            *zip(panel["side"][-1], pictures.calm, strict=True),
            *zip(storm, pictures.storm, strict=True),
        ]
        for packed, state in pairs:
            if state is None:
                continue
            points, second = unpacked(packed)
            true = list(zip(state.x_m, state.z_m, strict=True))
            mine = shapely.LineString([(x / 100, z / 100) for x, z in points])
            assert mine.hausdorff_distance(shapely.LineString(true)) < 0.025
            assert [v / 100 for v in points[second]] == pytest.approx(
                true[state.secondary], abs=0.006
            )
            assert len(points) <= len(true)
            drawn += 1
    assert drawn > 15


def test_the_curve_and_the_pulls_unpack(assessment, panels):
    for panel, pictures in zip(panels[1], assessment.rig_pictures(), strict=True):
        if pictures.curve is None:
            assert panel["curve"] is None
            continue
        pulls, reaches, lifts, uplift, storm, taut, storm_reach = panel["curve"]
        curve = pictures.curve
        assert pulls == pytest.approx(curve.pull_n, abs=0.5)
        assert [v / 100 for v in accumulate(reaches)] == pytest.approx(curve.reach_m, abs=0.006)
        assert (lifts, uplift, storm) == pytest.approx(
            (curve.lifts_n, curve.uplift_n, curve.storm_n), abs=0.06
        )
        assert (taut, storm_reach) == pytest.approx(
            (100 * curve.taut_m, 100 * curve.storm_reach_m), abs=0.6
        )


def test_bearings_of_open_water_stand_once(panels):
    common, floats = panels
    assert common["bearings"] == [[270]]
    assert {panel["rose"][0] for panel in floats} == {0}


def test_a_rig_that_does_not_reach_is_drawn_in_calm_only(panels):
    short = panels[1][3]
    assert short["storm"] is None
    assert short["curve"] is None
    assert all(line is not None for line in short["side"][-1])


def test_a_retired_float_has_no_view(panels):
    assert panels[1][4]["side"] is None


def test_an_eye_bolt_at_an_unknown_angle_is_not_called_unpublished(assessment, panels):
    """Its strength depends on the angle, so without one nothing is known: 0, not None."""
    common, floats = panels
    names = [name for name, _ in common["lines"][floats[0]["line"]]]
    bolt = names.index("eye bolt")
    assert floats[0]["limits"][bolt] > 0
    assert floats[3]["limits"][bolt] == 0
    assert None not in floats[3]["limits"][bolt + 1 :]


def test_strengths_keep_their_whole_pounds(assessment, panels):
    """Limits come from tables in pounds: rounded down on the page they must not lose one."""
    for one, panel in zip(assessment.floats, panels[1], strict=True):
        for part, limit in zip(one.sizing.line.parts, panel["limits"], strict=True):
            pounds = None if part.working_n is None else part.working_n / POUND_N
            if pounds is not None and abs(pounds - round(pounds)) < 1e-6:
                assert int(limit / POUND_N + 0.01) == round(pounds)


def test_nothing_known_is_none_and_writes_as_json(assessment):
    class Blank:
        """The same floats, with no picture of any."""

        def __getattr__(self, name):
            return getattr(assessment, name)

        def rig_pictures(self):
            empty = RigPictures(calm=(None,) * 3, storm=(None,) * 3, curve=None, rose=None)
            return (empty,) * len(assessment.floats)

    _, floats = rig_panels(Blank())
    json.dumps(floats, allow_nan=False)
    for panel in floats:
        assert (panel["storm"], panel["curve"], panel["rose"]) == (None, None, None)
    unknown = replace(assessment.floats[0], depth_m=(None, None, None), hook_depth_m=None)
    bare = replace(assessment, floats=(unknown, *assessment.floats[1:]))
    assert rig_panels(bare)[1][0]["side"] is None


def test_weights_are_never_said_to_be_more(assessment):
    one = assessment.floats[0]
    data = float_data(one, assessment, None, owners=False)
    said = next(value for name, value, _ in data["rows"] if name == "Primary")
    primary = one.sizing.primary
    dry, wet = (int(text.split()[0]) for text in said.split(", ")[1:])
    assert dry <= primary.dry_n / POUND_N < dry + 1
    assert wet <= primary.wet_n / POUND_N < wet + 1
    assert data["tiles"][2][0] == "Storm pull"
