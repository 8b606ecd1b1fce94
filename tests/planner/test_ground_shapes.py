"""What is wrong with a drawing, and how large things are, by hand on a square lake."""

import pytest
from drawings import BEACH, ROCK, SQUARE, drawing, shape, whole_lake

from lakemap.basis.errors import BadInputError
from lakemap.planner.ground_check import check_answer
from lakemap.planner.ground_drawing import read_drawing

OUTLINE = shape("n1", "outline", SQUARE)
BOW = [[-50, -50], [50, 50], [50, -50], [-50, 50]]  # crosses itself in the middle


def told(body):
    return check_answer(read_drawing(body), None)


def texts(body, *, stops=True):
    return [one["text"] for one in told(body)["findings"] if one["stops"] == stops]


def test_a_whole_drawing_has_nothing_to_mend():
    assert told(whole_lake())["findings"] == []


def test_sizes_in_words():
    # 200 m square less nothing: 40 000 m2 are 9.88 acres, 800 m are 2624.7 ft
    sizes = told(whole_lake())["sizes"]
    assert sizes["n1"] == {"area": "9.9 acres", "length": "2,624.7 ft"}
    assert sizes["n4"] == {"area": "", "length": "590.6 ft"}  # 180 m
    metric = told(whole_lake(units="m-kg"))["sizes"]
    assert metric["n1"] == {"area": "4.0 ha", "length": "800.00 m"}
    assert metric["n2"] == {"area": "400.0 m²", "length": "80.00 m"}


@pytest.mark.parametrize(
    ("kind", "step", "says"),
    [
        ("outline", "outline", "The outline crosses"),
        ("island", "islands", "The island crosses"),
        ("swim_area", "areas", "The swim area crosses"),
    ],
)
def test_a_crossing_is_told_with_its_place(kind, step, says):
    others = [] if kind == "outline" else [OUTLINE]
    found = told(drawing(*others, shape("n9", kind, BOW)))["findings"]
    mine = next(one for one in found if one["shape"] == "n9")
    assert mine["text"].startswith(says)
    assert (mine["step"], mine["at"], mine["stops"]) == (step, [0.0, 0.0], True)


@pytest.mark.parametrize(
    ("shapes", "says"),
    [
        ([], "The outline of the lake is missing"),
        ([shape("n1", "outline", SQUARE[:2])], "The outline has 2 corners at different places; it needs 3 at least"),
        ([shape("n1", "outline", [*SQUARE[:2], SQUARE[1]])], "The outline has 2 corners"),
        ([shape("n1", "outline", [[0, 0], [50, 0], [100, 0]])], "The outline has no area"),
        ([OUTLINE, shape("n2", "outline", [[50, 50], [150, 50], [150, 150]])], "Two outlines overlap or touch"),
        ([OUTLINE, shape("n2", "island", [[90, 0], [110, 0], [100, 20]])], "The island reaches the shore or lies outside it"),
        ([OUTLINE, shape("n2", "island", [[100, 0], [80, 0], [80, 20]], name="Ait")], "Ait reaches the shore"),
        ([OUTLINE, shape("n2", "island", ROCK), shape("n3", "island", [[0, 50], [20, 50], [20, 70]], name="Ait")], "Ait and the island overlap"),
        ([OUTLINE, shape("n2", "channel", [[0, 0], [9, 9]], line=True)], "The boat channel is a line: type its whole width"),
        ([OUTLINE, shape("n2", "channel", [[0, 0], [9, 9]], line=True, width="60 lb")], "Width: '60 lb': unit 'lb'"),
        ([OUTLINE, shape("n2", "channel", [[0, 0]], line=True, width="60")], "The boat channel has 1 corner at"),
        ([OUTLINE, shape("n2", "frontage", BEACH)], "The frontage belongs to a lot"),
        ([OUTLINE, shape("n2", "frontage", [[0, 0], [9, 9]], line=True, width="3", lot="7")], "The frontage is drawn as a line"),
        ([OUTLINE, shape("n2", "swim_area", BEACH, clearance="-3")], "Clearance: '-3' is below 0"),
        ([shape("n1", "outline", [[x * 2000, y * 2000] for x, y in SQUARE])], "The outline is over 200 km long"),
    ],
)  # fmt: skip
def test_what_has_to_be_mended(shapes, says):
    found = texts(drawing(*shapes))
    assert [text for text in found if text.startswith(says)], found


def test_every_fault_is_told_at_once():
    body = drawing(
        shape("n1", "outline", BOW), shape("n2", "frontage", BEACH), depths=[(0, 0, "deep")]
    )
    found = texts(body)
    assert len(found) == 3
    assert any("deep" in text for text in found)


@pytest.mark.parametrize(
    ("shapes", "says"),
    [
        ([shape("n2", "hazard", [[150, 0], [160, 0], [160, 10]], name="Wall")], "Wall lies on land altogether"),
        ([shape("n2", "dock", BEACH, name="Dock"), shape("n3", "dock", ROCK, name="dock")], "Dock is the name of two areas"),
    ],
)  # fmt: skip
def test_what_looks_odd_stops_nothing(shapes, says):
    body = drawing(OUTLINE, *shapes)
    assert texts(body) == []
    assert [text for text in texts(body, stops=False) if text.startswith(says)]


def test_a_line_beside_the_water_is_near_it_by_its_width():
    wide = shape("n2", "channel", [[105, -50], [105, 50]], line=True, width="12 m")
    assert texts(drawing(OUTLINE, wide), stops=False) == []
    narrow = wide | {"width": "9 m"}
    assert len(texts(drawing(OUTLINE, narrow), stops=False)) == 1


@pytest.mark.parametrize(
    ("depth", "says"),
    [
        ("11.5 kg", "Depth '11.5 kg'"),
        ("-4", "depths are positive downward"),
        ("nan", "'nan' is no quantity"),
    ],
)
def test_a_depth_that_cannot_be_read(depth, says):
    found = told(drawing(OUTLINE, depths=[(1, 2, depth)]))["findings"]
    assert [(one["step"], one["at"]) for one in found] == [("depths", [1.0, 2.0])]
    assert says in found[0]["text"]


def test_depths_on_land_and_doubled():
    body = drawing(OUTLINE, depths=[(150, 0, "9"), (1, 1, "9"), (1, 1, "8")])
    assert texts(body) == ["Two depth points lie at one place; take one away"]
    assert texts(body, stops=False) == ["A depth point lies on land; it will not be used"]


@pytest.mark.parametrize(
    ("levels", "storm", "says"),
    [
        ({"low": "1", "normal": "0", "high": "2"}, {}, "must rise in this order"),
        ({"low": "1 lb", "normal": "0", "high": "2"}, {}, "Low: '1 lb'"),
        ({"low": "", "normal": "0", "high": "2"}, {}, "Low water is missing"),
        ({}, {"wind": "50 mph", "gust": "20 m/s"}, "gust must not be below"),
        ({}, {"gust": "70"}, "type the wind"),
    ],
)
def test_levels_and_storm(levels, storm, says):
    blank = {"low": "", "normal": "", "high": "", "soundings": ""}
    found = texts(drawing(OUTLINE, levels=blank | levels, storm={"wind": "", "gust": ""} | storm))
    assert len(found) == 1
    assert says.lower() in found[0].lower()


def test_bare_numbers_are_in_the_page_s_units():
    drawn = read_drawing(whole_lake())
    assert drawn.depth_m == pytest.approx([3.048, 3.6576, 3.5])
    assert drawn.levels_m == pytest.approx({"low": -0.4572, "normal": 0.0, "high": 0.3})
    metric = read_drawing(whole_lake(units="m-kg"))
    assert metric.depth_m == pytest.approx([10.0, 3.6576, 3.5])
    assert metric.zones[1].width_m == 60.0


def test_rings_within_rings_are_holes():
    hole = [[-90, -90], [-80, -90], [-80, -80], [-90, -80]]
    sizes = told(drawing(OUTLINE, shape("n2", "no_float", BEACH, hole), units="m-kg"))["sizes"]
    assert sizes["n2"]["area"] == "1,100.0 m²"  # 40 by 30 less 10 by 10


@pytest.mark.parametrize(
    "body",
    [
        {},
        drawing(middle=[200, 0]),
        drawing(units="furlongs"),
        drawing(shape("n1", "castle", SQUARE)),
        drawing(shape("n1", "outline", [[0, 0, 0], [1, 1, 1]])),
        drawing(shape("n1", "outline", [["0", 1], [2, 3], [4, 5]])),
        drawing(shape("n1", "outline", [[0, float("nan")], [2, 3], [4, 5]])),
        drawing(shape("n1", "outline", [[0, 1e9], [2, 3], [4, 5]])),
        drawing(shape("n1", "outline", 7)),
        drawing(shape("n1", "outline", SQUARE, name=5)),
        drawing(shape("n1", "outline", SQUARE, name="x" * 501)),
        drawing(shapes=None),
        drawing(depths=[(0, None, "9")]),
        drawing(name=["x"]),
    ],
)
def test_what_no_page_sends_is_refused(body):
    with pytest.raises(BadInputError, match="the drawing can't be read"):
        read_drawing(body)
