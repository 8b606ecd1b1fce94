"""A started folder: what it holds, how it is filled in, and what it refuses."""

import tomllib

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

import lakemap
from lakemap.basis.errors import BadInputError, ProblemLog
from lakemap.inputs.folder import read_field
from lakemap.inputs.lake_shape import LakeShape
from lakemap.inputs.scaffold import rough_square, start_folder, start_texts

LAT, LON = 41.0, -38.0  # open ocean
FOOT = 0.3048
FILES = ["field.toml", "lake.csv", "floats.csv", "zones.csv", "soundings.csv"]
EMPTY_LAKE = "lake.csv: no corners yet; write one corner of the shore a row"
GUESSED = "field.toml row 6 levels: these are still the guesses that `lakemap start` wrote"


def degrees(x_m, y_m):
    """Metres about the place to degrees, near enough to lay out a field."""
    return LON + x_m / (111_320 * np.cos(np.radians(LAT))), LAT + y_m / 111_050


def append(path, rows):
    with path.open("a", encoding="utf-8") as file:
        file.writelines(row + "\n" for row in rows)


def type_in_a_field(folder):
    """Twenty corners of a round shore and five floats in a row, as somebody types them."""
    angles = 2 * np.pi * np.arange(20) / 20
    corners = [degrees(120 * np.cos(a), 120 * np.sin(a)) for a in angles]
    append(folder / "lake.csv", [f"{lon:.7f},{lat:.7f},,," for lon, lat in corners])
    places = [degrees(x, 0) for x in (-80, -40, 0, 40, 80)]
    append(
        folder / "floats.csv",
        [
            f"{number},{lon:.7f},{lat:.7f},,,10,8,12,16,12,,,,,,"
            for number, (lon, lat) in enumerate(places, start=1)
        ],
    )


def lines(problems):
    return "\n".join(problem.line() for problem in problems)


def test_twenty_corners_and_five_floats_make_a_map_with_no_other_file(tmp_path):
    folder = tmp_path / "our-lake"
    start_folder(folder)
    type_in_a_field(folder)
    assessment = lakemap.assess(lakemap.read_field(folder))
    lakemap.draw(assessment, tmp_path / "map.html")
    assert [one.record.float_id for one in assessment.floats] == ["1", "2", "3", "4", "5"]
    assert {one.verdict for one in assessment.floats} == {"clear"}
    assert (tmp_path / "map.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert sorted(path.name for path in folder.iterdir()) == sorted(FILES)


def test_the_folder_is_made_with_its_parents_and_every_file_is_named(tmp_path):
    folder = tmp_path / "lakes" / "ours"
    written = start_folder(folder)
    assert written == [folder / name for name in FILES]
    assert all(path.stat().st_size for path in written)
    assert list(folder.parent.iterdir()) == [folder]


def test_an_empty_folder_is_filled(tmp_path):
    assert start_folder(tmp_path) == [tmp_path / name for name in FILES]
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(FILES)


def test_nothing_filled_in_says_what_to_do_first(tmp_path):
    start_folder(tmp_path / "lake")
    with pytest.raises(BadInputError) as caught:
        read_field(tmp_path / "lake")
    fatal = [problem.line() for problem in caught.value.problems if problem.fatal]
    assert fatal == [EMPTY_LAKE]


def test_the_gauge_is_explained_in_two_lines(tmp_path):
    start_folder(tmp_path / "lake")
    text = (tmp_path / "lake" / "field.toml").read_text(encoding="utf-8")
    assert "# Read the gauge; write today's reading (normal).\n" in text
    assert "# Write the lowest (low) and the highest (high) that you remember.\n" in text


def test_guessed_levels_are_told_until_one_is_written(tmp_path):
    folder = tmp_path / "lake"
    start_folder(folder, at=(LAT, LON), size_m=200)
    assert GUESSED in lines(read_field(folder).problems)
    settings = folder / "field.toml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(text.replace('low = "-1 ft"', 'low = "-2 ft"'), encoding="utf-8")
    field = read_field(folder)
    assert GUESSED not in lines(field.problems)
    assert field.settings.levels.low_m == pytest.approx(-2 * FOOT)


def test_a_place_and_a_size_make_a_rough_square_that_says_so(tmp_path):
    start_folder(tmp_path / "lake", at=(LAT, LON), size_m=600 * FOOT)
    field = read_field(tmp_path / "lake")
    assert field.lake_is_rough
    assert "the outline is only a rough square" in lines(field.problems)
    ring = shapely.get_coordinates(shapely.get_parts(field.lake)[0].exterior)
    sides = Geod(ellps="WGS84").inv(*ring[:-1].T, *ring[1:].T)[2]
    assert sides == pytest.approx([600 * FOOT] * 4, abs=0.003)
    assert ring[:-1].mean(axis=0) == pytest.approx([LON, LAT], abs=1e-8)


def test_a_square_drawn_over_with_a_shore_is_no_longer_rough(tmp_path):
    folder = tmp_path / "lake"
    start_folder(folder, at=(LAT, LON), size_m=200)
    path = folder / "lake.csv"
    path.write_text(
        path.read_text(encoding="utf-8").replace("rough square\n", "\n"), encoding="utf-8"
    )
    assert not read_field(folder).lake_is_rough


@pytest.mark.parametrize(
    ("at", "size_m", "text"),
    [
        ((LAT, LON), 0.0, "0 m is no size of a lake"),
        ((LAT, LON), float("nan"), "nan m is no size of a lake"),
        ((LAT, LON), 3e5, "300000 m is no size of a lake"),
        ((95.0, 10.0), 100.0, "a lake at 95, 10 reaches beyond the map's edge"),
        ((10.0, 179.9999), 1000.0, "reaches beyond the map's edge"),
    ],
)
def test_a_square_that_is_no_lake_is_refused_and_nothing_written(tmp_path, at, size_m, text):
    with pytest.raises(BadInputError, match=text):
        start_folder(tmp_path / "lake", at=at, size_m=size_m)
    assert list(tmp_path.iterdir()) == []


def test_an_outline_keeps_its_shape_its_basins_and_its_islands(tmp_path):
    shore = shapely.Polygon(
        [(-38, 41), (-37.99, 41), (-37.99, 41.01), (-37.9925, 41.007), (-38, 41.01)],
        [[(-37.997, 41.003), (-37.994, 41.003), (-37.996, 41.006)]],
    )
    pond = shapely.Polygon([(-37.98, 41), (-37.979, 41), (-37.979, 41.001)])
    path = tmp_path / "shore.geojson"
    outline = shapely.to_geojson(shapely.multipolygons([shore, pond]))
    path.write_text(outline, encoding="utf-8")
    start_folder(tmp_path / "lake", lake_file=path)
    field = read_field(tmp_path / "lake")
    assert not field.lake_is_rough
    assert field.island_names == ("island 1",)
    assert shapely.equals_exact(
        shapely.normalize(field.lake),
        shapely.normalize(shapely.multipolygons([shore, pond])),
        tolerance=1e-8,
    )


def test_islands_of_one_name_stay_two():
    box = shapely.box(0, 0, 1, 1)
    holes = [shapely.box(x, 0.4, x + 0.1, 0.5).exterior.coords for x in (0.1, 0.4, 0.7)]
    lake = LakeShape(
        outline=shapely.multipolygons([shapely.Polygon(box.exterior, holes)]),
        island_names=("Gull", "Gull", None),
        rough=False,
    )
    rows = start_texts("lake", lake=lake)["lake.csv"].splitlines()
    named = [row.split(",")[3] for row in rows if not row.startswith("#")][1:]
    assert sorted(set(named)) == ["", "Gull", "island 2", "island 3"]


def test_a_bad_outline_is_told_and_nothing_written(tmp_path):
    path = tmp_path / "shore.csv"
    path.write_text("lon,lat\n-38,41\n-37.9,41\n", encoding="utf-8")
    with pytest.raises(BadInputError, match=r"shore\.csv row 2: the shore has 2 corners"):
        start_folder(tmp_path / "lake", lake_file=path)
    assert list(tmp_path.iterdir()) == [path]


def test_a_missing_outline_is_told(tmp_path):
    with pytest.raises(BadInputError, match=r"shore\.geojson: the file can't be read"):
        start_folder(tmp_path / "lake", lake_file=tmp_path / "shore.geojson")


def test_cautions_about_an_outline_reach_the_log(tmp_path):
    path = tmp_path / "shore.csv"
    path.write_text("lon;lat\n-38;41\n-37,99;41\n-37,99;41,01\n", encoding="utf-8")
    log = ProblemLog()
    start_folder(tmp_path / "lake", lake_file=path, log=log)
    assert [problem.code for problem in log] == ["semicolons_read"]


def test_a_folder_that_holds_something_is_left_alone(tmp_path):
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(BadInputError, match=r"holds notes\.txt already; nothing was written"):
        start_folder(tmp_path, at=(LAT, LON), size_m=200)
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


def test_a_file_is_no_folder(tmp_path):
    path = tmp_path / "lake"
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(BadInputError, match="this is a file; nothing was written"):
        start_folder(path)
    assert path.read_text(encoding="utf-8") == "mine"


def test_all_that_is_wrong_is_told_at_once(tmp_path):
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(BadInputError) as caught:
        start_folder(tmp_path, lake_file=tmp_path / "none.geojson", at=(LAT, LON), size_m=1.0)
    assert [problem.code for problem in caught.value.problems] == ["folder_taken", "two_ways"]
    with pytest.raises(BadInputError, match="give the place and the size together"):
        start_folder(tmp_path / "new", at=(LAT, LON))


def test_a_failed_write_leaves_nothing(tmp_path, monkeypatch):
    def fail(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("lakemap.inputs.scaffold.os.fsync", fail)
    with pytest.raises(OSError, match="No space left"):
        start_folder(tmp_path / "lake")
    assert list(tmp_path.iterdir()) == []


def test_the_examples_can_be_read_once_their_sign_is_taken_away(tmp_path):
    folder = tmp_path / "lake"
    start_folder(folder, at=(LAT, LON), size_m=500)
    for name in ("floats.csv", "zones.csv", "soundings.csv"):
        text = (folder / name).read_text(encoding="utf-8").splitlines()
        examples = [line.removeprefix("# ") for line in text if line.count(",") > 2]
        *rows, header = examples
        (folder / name).write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    field = read_field(folder)
    assert [(one.float_id, one.status) for one in field.floats] == [("1", "set"), ("2", "proposed")]
    kinds = [(zone.label, zone.kind, zone.width_m) for zone in field.zones]
    assert kinds == [("Beach", "swim_area", None), ("Boat way", "channel", 60 * FOOT)]
    assert field.soundings.depth_m == pytest.approx([11.5 * FOOT])


def test_no_comment_of_a_table_would_be_put_in_quotes_by_a_spreadsheet():
    square = rough_square(LAT, LON, 200.0)
    for lake in (None, square, LakeShape(outline=square.outline, island_names=(), rough=False)):
        for name, text in start_texts("lake", lake=lake).items():
            prose = [
                line
                for line in text.splitlines()
                if line.startswith("#") and line.count(",") < 3 and name.endswith(".csv")
            ]
            assert [line for line in prose if set(line) & set(',;"')] == []


@given(name=st.text(min_size=1))
def test_any_name_can_be_written_and_read(name):
    settings = tomllib.loads(start_texts(name)["field.toml"])
    assert settings["name"] == "".join(sign if sign.isprintable() else " " for sign in name)


def test_an_unfilled_name_with_quotes_comes_back(tmp_path):
    folder = tmp_path / "Bob's pond ü"
    start_folder(folder, at=(LAT, LON), size_m=200)
    assert read_field(folder).settings.name == "Bob's pond ü"
