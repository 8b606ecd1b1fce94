"""Callouts and names on pictures of any size: wide words fit, nothing lies on anything."""

from pathlib import Path

import pytest
import shapely
from conftest import make_field, make_float, make_zone
from poster_reading import texts_of

import lakemap
from lakemap.mapping import assess
from lakemap.outputs.drawn.callouts import place_callouts
from lakemap.outputs.drawn.letters import width
from lakemap.outputs.drawn.marks import MARK_WIDTH
from lakemap.outputs.drawn.paper import box_covers, corner_boxes, fit
from lakemap.outputs.drawn.picture import sheet_svg
from lakemap.outputs.drawn.picture_floats import ring_of
from lakemap.outputs.drawn.scene import build_scene

TAMBER = Path(__file__).parents[2] / "data" / "tamber-lake"
SIZES = [(590, 554), (705, 372), (549, 290), (870, 490)]


@pytest.fixture(scope="module")
def tamber():
    assessment = lakemap.assess(lakemap.read_field(TAMBER))
    return assessment, build_scene(assessment)


def called_out(assessment, sheet):
    place = {id(one): ring_of(one, sheet) for one in assessment.floats}
    corners = corner_boxes(sheet, list(place.values()))
    return place_callouts(assessment, place, sheet, corners), list(place.values())


def leader_of(callout):
    left, top, right, bottom = callout.box
    return shapely.LineString([callout.points_at, ((left + right) / 2, (top + bottom) / 2)])


@pytest.mark.parametrize("size", SIZES)
def test_no_callout_lies_on_a_circle_or_on_the_leader_of_another(tamber, size):
    assessment, scene = tamber
    sheet = fit(scene, width=size[0], height=size[1], prefix="pic")
    placed, rings = called_out(assessment, sheet)
    assert placed
    for one in placed:
        assert not any(box_covers(one.box, ring) for ring in rings)
        for other in placed:
            if other is not one:
                assert not leader_of(one).intersects(shapely.box(*other.box))
                assert not leader_of(one).intersects(leader_of(other))


def test_a_conflict_without_room_for_a_callout_goes_without(square):
    floats = [make_float(f"{k}", -90 + 20 * (k % 10), -90 + 20 * (k // 10)) for k in range(100)]
    assessment = assess(make_field(floats))
    sheet = fit(build_scene(assessment), width=300, height=300, prefix="pic")
    placed, rings = called_out(assessment, sheet)
    assert len(placed) < 6
    assert not any(box_covers(one.box, ring) for one in placed for ring in rings)


def test_wide_letters_stay_in_their_box():
    name = "WWWWWWWWWW MMMMMMMMMMMMMM @"
    zone = make_zone("swim_area", shapely.box(-10, -60, 10, -25), label=name)
    assessment = assess(make_field([make_float("WWWWWWWWWWWW", 0, -20)], zones=[zone]))
    sheet = fit(build_scene(assessment), width=700, height=500, prefix="pic")
    (one,) = called_out(assessment, sheet)[0]
    wide = one.box[2] - one.box[0]
    # as drawn: a title of 11.5 px, bold, behind its mark; lines of 11 px from 8 px on
    assert 10 + MARK_WIDTH + width(one.title, 11.5, bold=True) < wide
    assert all(8 + width(line, 11) < wide for line in one.lines)
    assert any("W" in line for line in one.lines)


@pytest.mark.parametrize("size", SIZES)
def test_no_name_lies_on_the_words_at_a_retired_float(tamber, size):
    assessment, scene = tamber
    sheet = fit(scene, width=size[0], height=size[1], prefix="pic")
    texts = texts_of(sheet_svg(assessment, scene, sheet))
    bodies = {
        text.words: shapely.box(text.left, text.base - 0.7 * text.size, text.right, text.base)
        for text in texts
    }
    for number in ("39", "40"):
        gone = bodies[f"{number} retired"]
        for name in ("water", "intake", "shoal", "nesting"):
            assert name not in bodies or not gone.intersects(bodies[name])
