"""What went out comes in again through lakemap's own readers: floats, lake, zones, soundings."""

import shutil

import pytest
import shapely
from conftest import make_field, make_float
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sent_out import COMING_IN, TOML, assessed, cells, floats_in, sent

from lakemap.exporting.clean import clean
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess

NEAR = 1e-7  # degrees


@pytest.mark.parametrize("ending", COMING_IN)
@pytest.mark.parametrize("owners", [True, False])
def test_floats(folder, tmp_path, ending, owners):
    assessment = assessed(folder)
    before = assessment.field.floats
    path = sent(assessment, tmp_path / f"floats{ending}", owners=owners)

    after, problems = floats_in(path, assessment.field.lake)

    assert [one.float_id for one in after] == [one.float_id for one in before]
    assert not [problem.line() for problem in problems if problem.fatal]
    for one, other in zip(after, before, strict=True):
        assert (one.lon, one.lat) == pytest.approx((other.lon, other.lat), abs=NEAR)
        got, asked = cells(one, owners=owners), cells(other, owners=owners)
        extra = asked.pop("extra", {})
        assert set(got.pop("extra", {}).values()) == set(extra.values())
        assert got.keys() == asked.keys()
        for name, value in asked.items():
            number = isinstance(value, float)
            assert got[name] == (pytest.approx(value, rel=1e-11) if number else value), name


@pytest.mark.parametrize("ending", COMING_IN)
def test_nothing_is_told_of_floats_without_columns_of_their_own(folder, tmp_path, ending):
    assessment = assessed(folder)
    path = sent(assessment, tmp_path / f"floats{ending}", owners=False)
    _, problems = floats_in(path, assessment.field.lake)
    assert {problem.code for problem in problems} <= {"first_sheet"}  # a book has more sheets


@pytest.mark.parametrize("ending", [".gpkg", ".geojson", ".kml"])
def test_a_whole_folder(folder, tmp_path, ending):
    assessment = assessed(folder)
    old = assessment.field
    here = tmp_path / "again"
    here.mkdir()
    (here / "field.toml").write_text(TOML, encoding="utf-8")
    stems = (
        ("lake", "zones", "floats")
        if ending == ".kml"
        else ("lake", "zones", "floats", "soundings")
    )
    out = sent(assessment, tmp_path / f"out{ending}")
    for stem in stems:
        shutil.copy(out, here / f"{stem}{ending}")

    new = read_field(here)

    assert shapely.hausdorff_distance(new.lake, old.lake) <= NEAR
    assert shapely.get_num_interior_rings(shapely.get_parts(new.lake)).tolist() == [1]
    told = [(z.kind, z.label, z.source, z.lot) for z in old.zones]
    assert sorted((z.kind, z.label, z.source, z.lot) for z in new.zones) == sorted(told, key=str)
    for zone in new.zones:
        same = next(one for one in old.zones if one.label == zone.label)
        assert zone.geometry.geom_type == same.geometry.geom_type
        assert shapely.hausdorff_distance(zone.geometry, same.geometry) <= NEAR
        assert (zone.width_m, zone.clearance_m) == pytest.approx((same.width_m, same.clearance_m))
    if "soundings" in stems:
        assert new.soundings.depth_m == pytest.approx(old.soundings.depth_m, rel=1e-11)
        assert new.soundings.lon == pytest.approx(old.soundings.lon, abs=NEAR)
    assert len(assess(new).floats) == 4


@pytest.mark.parametrize("ending", [".gpkg", ".geojson", ".kml"])
def test_a_rough_lake_stays_one(tmp_path, ending):
    rough = assess(make_field([make_float("A")], lake_is_rough=True))
    (tmp_path / "field.toml").write_text('[levels]\nlow="-1 m"\nnormal="0 m"\nhigh="1 m"\n')
    sent(rough, tmp_path / f"lake{ending}")
    (tmp_path / "floats.csv").write_text("float_id,lon,lat,length_m,width_m\n")
    assert read_field(tmp_path).lake_is_rough


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_names_that_begin_as_comments_do(tmp_path, ending):
    assessment = assess(make_field([make_float("#5"), make_float("6", 40.0)]))
    path = sent(assessment, tmp_path / f"floats{ending}")
    after, problems = floats_in(path, assessment.field.lake)
    assert [one.float_id for one in after] == ["#5", "6"]
    assert not [problem for problem in problems if problem.fatal]


# a spreadsheet's own word for a fault is refused by the reader, as a fault it is
ANY_TEXT = st.text(min_size=1, max_size=12).filter(lambda text: not text.strip().startswith("#"))


@pytest.mark.parametrize("ending", COMING_IN)
@settings(max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    text=ANY_TEXT
    | st.sampled_from(
        [
            "2024-05-13",
            "12:30",
            "'=x",
            "''-1",
            "=1+1",
            "1e5",
            "NaN",
            "true",
            "007",
            "null",
            "a;=b",
            "-5",
        ]
    )
)
def test_any_text(square_of_one, tmp_path, ending, text):
    held = clean(text).strip()
    one = make_float("A", note=held or None, owner=held or None)
    path = sent(square_of_one(one), tmp_path / f"floats{ending}")
    (after,), problems = floats_in(path, None)
    assert not [problem for problem in problems if problem.fatal]
    assert (after.note or "", after.owner or "") == (held, held)


@pytest.fixture(scope="module")
def square_of_one():
    """One float assessed, its record put in the place of that one: only its texts are asked for."""
    from dataclasses import replace

    base = assess(make_field([make_float("A")]))

    def put(one):
        told = replace(base.floats[0], record=one)
        return replace(base, floats=(told,), field=replace(base.field, floats=(one,)))

    return put
