"""The fields in data/: current, readable, and showing what data/README.md says they show."""

import csv
import importlib.util
import json
from collections import Counter
from pathlib import Path

import pytest
import shapely
from pyproj import Geod

import lakemap

TOP = Path(__file__).parents[1]
GEOD = Geod(ellps="WGS84")
FOOT = 0.3048
FILES = {
    "tamber-lake": (
        "field.toml", "lake.geojson", "soundings.csv", "zones.geojson", "floats.csv",
        "inspections.csv", "levels.csv",
    ),
    "small-pond": ("lake.csv", "soundings.csv", "zones.csv", "floats.csv"),
}  # fmt: skip
# what each float was put there to show: the thing that it is worst against
CONFLICTS = {
    "4": ("channel", "boat channel"),
    "10": ("jump_depth", "lake"),
    "28": ("float", "35"),
    "33": ("swim_area", "Camp swim area"),
    "35": ("float", "28"),
}
TIGHT = {"1", "14", "22", "32", "36"}


@pytest.fixture(scope="module")
def tamber():
    return lakemap.assess(lakemap.read_field(TOP / "data" / "tamber-lake"))


@pytest.fixture(scope="module")
def pond():
    return lakemap.assess(lakemap.read_field(TOP / "data" / "small-pond"))


def by_id(assessment):
    return {one.record.float_id: one for one in assessment.floats}


def ids_of(assessment, verdict):
    return {one.record.float_id for one in assessment.floats if one.verdict == verdict}


def cells(path):
    """Rows of cells, numbers as numbers, so that the last digit may differ between machines."""
    with path.open(encoding="utf-8", newline="") as file:
        return [[number(cell) for cell in row] for row in csv.reader(file)]


def number(cell):
    try:
        return pytest.approx(float(cell), abs=2e-7)
    except ValueError:
        return cell


def features(path):
    """Properties and shapes of a layer."""
    held = json.loads(path.read_text(encoding="utf-8"))["features"]
    shapes = [shapely.from_geojson(json.dumps(one["geometry"])) for one in held]
    return [one["properties"] for one in held], shapes


def same(made, kept):
    if made.suffix == ".csv":
        return cells(made) == cells(kept)
    if made.suffix == ".toml":
        return made.read_bytes() == kept.read_bytes()
    (properties, shapes), (kept_properties, kept_shapes) = features(made), features(kept)
    near = [
        shapely.equals_exact(a.normalize(), b.normalize(), tolerance=2e-7)
        for a, b in zip(shapes, kept_shapes, strict=True)
    ]
    return properties == kept_properties and all(near)


@pytest.mark.parametrize("name", FILES)
def test_the_committed_files_are_what_their_script_writes(name, tmp_path, monkeypatch):
    script = TOP / "tests" / "data_making" / f"make_{name.replace('-', '_')}.py"
    spec = importlib.util.spec_from_file_location(script.stem, script)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    monkeypatch.setattr(module, "FOLDER", tmp_path)
    module.main()
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(FILES[name])
    changed = [
        file for file in FILES[name] if not same(tmp_path / file, TOP / "data" / name / file)
    ]
    assert changed == []


def test_tamber_lake_shows_what_its_readme_says(tamber):
    floats = by_id(tamber)
    assert ids_of(tamber, "conflict") == set(CONFLICTS)
    for name, worst in CONFLICTS.items():
        first = floats[name].clearances[0]
        assert (first.kind, first.against) == worst
        assert first.spare_m < 0
    assert ids_of(tamber, "tight") == TIGHT
    assert ids_of(tamber, "unknown") == {"12"}
    assert ids_of(tamber, None) == {"39", "40"}
    assert len(ids_of(tamber, "clear")) == 40 - 5 - 5 - 1 - 2


def test_tamber_lake_has_forty_floats_of_six_sizes(tamber):
    records = [one.record for one in tamber.floats]
    sizes = {(one.length_m, one.width_m, one.float_weight_kg) for one in records}
    assert (len(records), len(sizes)) == (40, 6)
    assert Counter(one.status for one in records) == {"set": 35, "proposed": 3, "retired": 2}
    assert Counter(one.position_of for one in records) == {
        "primary": 38, "secondary": 1, "float": 1
    }  # fmt: skip
    assert {one.flotation for one in records} == {"tubes", "billets"}


def test_tamber_lake_has_two_islands_every_kind_of_zone_and_soundings(tamber):
    field = tamber.field
    assert len(field.island_names) == 2
    kinds = Counter(zone.kind for zone in field.zones)
    once = dict.fromkeys(("channel", "intake", "hazard", "no_float", "ramp"), 1)
    assert kinds == once | {"swim_area": 2, "dock": 7, "frontage": 36}
    assert sum(zone.lot == "18" for zone in field.zones) == 2
    assert 1400 < field.soundings.depth_m.size < 1700
    assert {rule.source.split(";")[0] for rule in field.settings.rules.values()} == {"example"}


def test_no_sounding_of_tamber_lake_is_left_out_and_only_float_12_is_cautioned(tamber):
    assert [problem.code for problem in tamber.problems] == ["low_water_line"]


def test_rigs_of_tamber_lake_are_sensible(tamber):
    for one in tamber.floats:
        low, _, high = (None if depth is None else depth / FOOT for depth in one.depth_m)
        if low is None:
            continue
        assert 12 < low < high < 27, one.record.float_id
        assert high < one.riser_m / FOOT < high + 5, one.record.float_id
        assert one.ground_m == pytest.approx(one.depth_m[1], abs=2 * FOOT), one.record.float_id
        assert not {"pulled_under", "aground"} & {problem.code for problem in one.problems}


def test_the_two_floats_that_can_meet_overlap_by_the_geodesic_too(tamber):
    first, second = (by_id(tamber)[name] for name in ("28", "35"))
    apart = GEOD.inv(first.lon, first.lat, second.lon, second.lat)[2]
    gap = apart - first.swing_radius_m[0] - second.swing_radius_m[0]
    assert gap < 0
    assert first.clearances[0].gap_m == pytest.approx(gap, abs=1e-3)


def test_both_lakes_lie_in_the_open_ocean(tamber, pond):
    # mid North Atlantic and South Pacific: no land within five degrees
    for assessment, (lon, lat) in ((tamber, (-37.62, 41.31)), (pond, (-101.5, -38.2))):
        west, south, east, north = assessment.field.lake.bounds
        assert west > lon - 0.01
        assert east < lon + 0.01
        assert south > lat - 0.01
        assert north < lat + 0.01


def test_the_small_pond_is_read_without_a_word(pond):
    assert pond.problems == ()
    assert pond.field.settings.units == "m-kg"
    assert [one.record.owner for one in pond.floats] == [
        "Wilma Tarn", "Otto Reed", "Ines Marl", "Bo Fenn", "Club"
    ]  # fmt: skip
    assert ids_of(pond, "tight") == {"3", "5"}
    assert ids_of(pond, "clear") == {"1", "2", "4"}
    assert pond.field.soundings.depth_m.size > 50


def test_a_float_of_the_small_pond_takes_the_depth_that_was_written_for_it(pond):
    depths = [one.depth_m[1] for one in pond.floats]
    assert depths == [pytest.approx(depth) for depth in (3.5, 4.5, 4.0, 3.6, 4.1)]
    assert [one.ground_m for one in pond.floats] == [pytest.approx(d) for d in depths]
