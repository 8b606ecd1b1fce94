"""Zones, lake and soundings saved into their own files; a new field made of a drawing."""

import json
from datetime import date

import pytest
import shapely
from conftest import FLOATS_CSV, LEAST_TOML

from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Levels
from lakemap.inputs.folder import read_field
from lakemap.inputs.lake_shape import ROUGH_NOTE
from lakemap.inputs.scaffold import rough_square, start_folder
from lakemap.saving import new_field
from lakemap.saving.lake import save_lake
from lakemap.saving.new_field import Drawing, make_field
from lakemap.saving.records import NewSounding, Saved, Underneath, ZoneChange
from lakemap.saving.soundings import save_soundings
from lakemap.saving.stamps import stamp_of
from lakemap.saving.zones import save_zones

FT = 0.3048
BOX = shapely.box(-37.006, 41.003, -37.004, 41.005)
BOX_TEXT = "[[-37.004000000, 41.003000000], [-37.004000000, 41.005000000], [-37.006000000, 41.005000000], [-37.006000000, 41.003000000], [-37.004000000, 41.003000000]]"
LINE = shapely.LineString([(-37.008, 41.002), (-37.007, 41.003)])
ZONES_JSON = """\
{"type": "FeatureCollection", "features": [
{"type": "Feature", "properties": {"kind": "swim_area", "name": "Beach", "colour": "blue"}, "geometry": {"type": "Polygon", "coordinates": [[[-37.003, 41.001], [-37.002, 41.001], [-37.002, 41.002], [-37.003, 41.001]]]}},
{"type": "Feature", "properties": {"kind": "channel", "width_ft": 60}, "geometry": {"type": "LineString", "coordinates": [[-37.009, 41.009], [-37.001, 41.009]]}},
{"type": "Feature", "properties": {"kind": "dock", "name": "Old dock"}, "geometry": {"type": "Polygon", "coordinates": [[[-37.003, 41.006], [-37.002, 41.006], [-37.002, 41.007], [-37.003, 41.006]]]}}
]}
"""
ZONES_CSV = '''\
# corners
zone,lon,lat,kind,shape,width_ft,extra
Beach,-37.003,41.001,swim_area,area,,kept
Beach,-37.002,41.001,,,,
# in between
Beach,-37.002,41.002,,,,"a ""b"""
Way, -37.009 ,41.009,channel,line,60,
Way,-37.001,41.009,,,,
'''


def saved(here, one, *rest, **more):
    stamp, field = stamp_of(here), read_field(here)
    made = one(here, field, *rest, stamp=stamp, **more)
    assert isinstance(made, Saved)
    assert made.stamp == stamp_of(here)
    return made, read_field(here), (here / made.file).read_text(encoding="utf-8")


def refused(here, one, *rest, **more):
    stamp, field = stamp_of(here), read_field(here)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    with pytest.raises(BadInputError) as told:
        one(here, field, *rest, stamp=stamp, **more)
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before
    return str(told.value)


def test_zones_in_geojson(folder):
    here = folder(zones__geojson=ZONES_JSON)
    made, field, text = saved(
        here,
        save_zones,
        [
            ZoneChange(row=1, geometry=BOX, values={"clearance": 10 * FT}),
            ZoneChange(row=2, values={"width": 50 * FT, "name": "Way"}),
            ZoneChange(row=3, removed=True),
            ZoneChange(row=None, geometry=LINE, values={"kind": "channel", "width": 20 * FT}),
        ],
    )
    lines = ZONES_JSON.splitlines()
    lines[1] = (
        f'{{"type": "Feature", "properties": {{"kind": "swim_area", "name": "Beach", "colour": "blue", "clearance_ft": 10}}, "geometry": {{"type": "Polygon", "coordinates": [{BOX_TEXT}]}}}},'
    )
    lines[2] = lines[2].replace('"width_ft": 60', '"width_ft": 50, "name": "Way"')
    lines[3] = (
        '{"type": "Feature", "properties": {"kind": "channel", "width_ft": 20}, "geometry": {"type": "LineString", "coordinates": [[-37.008000000, 41.002000000], [-37.007000000, 41.003000000]]}}'
    )
    assert text.splitlines() == lines
    assert (here / "zones.geojson.before").read_text(encoding="utf-8") == ZONES_JSON
    assert made.kept == "zones.geojson.before"
    assert [(one.label, one.width_m) for one in field.zones[:2]] == [
        ("Beach", None),
        ("Way", 50 * FT),
    ]
    _, field, text = saved(
        here, save_zones, [ZoneChange(row=row, removed=True) for row in (1, 2, 3)]
    )
    assert json.loads(text)["features"] == []
    assert field.zones == ()
    _, field, _ = saved(
        here, save_zones, [ZoneChange(row=None, geometry=BOX, values={"kind": "dock"})]
    )
    assert field.zones[0].label == "zones row 1"


def test_zones_in_a_table_of_corners(folder):
    here = folder(zones__csv=ZONES_CSV)
    longer = shapely.LineString([(-37.009, 41.009), (-37.005, 41.008), (-37.001, 41.009)])
    made, field, text = saved(
        here,
        save_zones,
        [
            ZoneChange(row=2 + 1, values={"kind": "dock", "name": 'Dock, "old"'}),
            ZoneChange(row=7, geometry=longer),
            ZoneChange(row=None, geometry=BOX, values={"kind": "swim_area", "name": "Way"}),
        ],
    )
    assert made.notes == ()
    assert text == (
        "# corners\nzone,lon,lat,kind,shape,width_ft,extra\n"
        '"Dock, ""old""",-37.003,41.001,dock,area,,kept\n'
        '"Dock, ""old""",-37.002,41.001,,,,\n# in between\n'
        '"Dock, ""old""",-37.002,41.002,,,,"a ""b"""\n'
        "Way, -37.009 ,41.009,channel,line,60,\n"
        "Way,-37.005000000,41.008000000,,,,\n"
        "Way,-37.001000000,41.009000000,,,,\n"
        "Way 2,-37.004000000,41.003000000,swim_area,area,,\n"
        "Way 2,-37.004000000,41.005000000,,,,\n"
        "Way 2,-37.006000000,41.005000000,,,,\n"
        "Way 2,-37.006000000,41.003000000,,,,\n"
    )
    assert [one.label for one in field.zones] == ['Dock, "old"', "Way", "Way 2"]
    _, field, text = saved(
        here, save_zones, [ZoneChange(row=3, removed=True), ZoneChange(row=7, geometry=LINE), ZoneChange(row=10, removed=True)]
    )  # fmt: skip
    assert text == (
        "# corners\nzone,lon,lat,kind,shape,width_ft,extra\n# in between\n"
        "Way, -37.008000000 ,41.002000000,channel,line,60,\nWay,-37.007000000,41.003000000,,,,\n"
    )
    assert [one.kind for one in field.zones] == ["channel"]


def test_a_zone_that_becomes_a_line(folder):
    here = folder(
        zones__csv="zone,lon,lat,kind\nA,-37.003,41.001,dock\nA,-37.002,41.001,\nA,-37.002,41.002,\n"
    )
    made, field, text = saved(
        here, save_zones, [ZoneChange(row=2, geometry=LINE, values={"width": 3.048})]
    )
    assert (
        text
        == "zone,lon,lat,kind,width_ft,shape\nA,-37.008000000,41.002000000,dock,10,line\nA,-37.007000000,41.003000000,,,\n"
    )
    assert len(made.notes) == 2
    assert field.zones[0].geometry.geom_type == "LineString"


def test_zones_where_there_were_none(folder):
    here = folder()
    change = ZoneChange(
        row=None, geometry=BOX, values={"kind": "frontage", "lot": "4", "name": 'The "<b>" one'}
    )
    made, field, text = saved(here, save_zones, [change])
    assert (made.file, made.kept) == ("zones.geojson", None)
    assert text == (
        '{"type": "FeatureCollection", "features": [\n{"type": "Feature", "properties": {"kind": "frontage",'
        f' "name": "The \\"<b>\\" one", "lot": "4"}}, "geometry": {{"type": "Polygon", "coordinates": [{BOX_TEXT}]}}}}\n]}}\n'
    )
    assert field.zones[0].lot == "4"


def test_zones_that_cannot_stand(folder):
    here = folder(zones__csv=ZONES_CSV)
    bow = shapely.Polygon(
        [(-37.006, 41.003), (-37.004, 41.005), (-37.004, 41.003), (-37.006, 41.005)]
    )
    said = refused(
        here,
        save_zones,
        [
            ZoneChange(row=3, geometry=bow),
            ZoneChange(row=3, values={"colour": "red"}),
            ZoneChange(
                row=None, geometry=shapely.LineString([(1, 1), (1, 1)]), values={"kind": "dock"}
            ),
        ],
    )
    for part in (
        "zone 3 crosses itself",
        "changed twice",
        "colour is no column",
        "without a length",
    ):
        assert part in said
    assert "write one of swim_area" in refused(
        here, save_zones, [ZoneChange(row=None, geometry=BOX)]
    )
    assert "needs its whole width" in refused(here, save_zones, [ZoneChange(row=None, geometry=LINE, values={"kind": "dock"})])  # fmt: skip
    assert "no zone in row 99" in refused(here, save_zones, [ZoneChange(row=99, removed=True)])
    holed = shapely.Polygon(
        BOX.exterior, [shapely.box(-37.0055, 41.0035, -37.0045, 41.0045).exterior]
    )
    said = refused(
        here, save_zones, [ZoneChange(row=None, geometry=holed, values={"kind": "dock"})]
    )
    assert "with a hole can't stand in a table of corners" in said


def test_zones_changed_underneath(folder):
    here = folder(zones__geojson=ZONES_JSON)
    stamp, field = stamp_of(here), read_field(here)
    now = ZONES_JSON.replace('"Old dock"', '"New dock"').replace("-37.009", "-37.0091")
    folder(zones__geojson=now)
    made = save_zones(here, field, [ZoneChange(row=1, geometry=BOX)], stamp=stamp)
    assert isinstance(made, Underneath)
    assert made.says == (
        "zone Old dock was taken away",
        "zone New dock was added",
        "zone zones row 2 was drawn anew",
    )
    assert (here / "zones.geojson").read_text(encoding="utf-8") == now
    (here / made.kept).replace(here / "zones.geojson")
    zones = read_field(here).zones
    assert [one.label for one in zones] == ["Beach", "zones row 2", "Old dock"]
    assert shapely.equals_exact(zones[0].geometry, shapely.multipolygons([BOX]), 1e-9)


LAKE = shapely.Polygon(
    [(-37.012, 41.0), (-37.0, 41.0), (-37.0, 41.012), (-37.012, 41.012)],
    [shapely.box(-37.002, 41.001, -37.001, 41.002).exterior],
)


def test_lake_in_geojson(folder):
    old = '{"type":"FeatureCollection","features":[\n {"type":"Feature","properties":{"name":"Pond","note":"rough square"},"geometry":{"type":"Polygon","coordinates":[[[-37.01,41.0],[-37.0,41.0],[-37.0,41.01],[-37.01,41.01],[-37.01,41.0]]]}},\n {"type":"Feature","properties":null,"geometry":{"type":"Polygon","coordinates":[[[-37.03,41.0],[-37.02,41.0],[-37.02,41.01],[-37.03,41.0]]]}}\n]}'
    here = folder(lake__csv=None, lake__geojson=old)
    assert read_field(here).lake_is_rough
    made, field, text = saved(here, save_lake, LAKE)
    assert made.notes == ("2 shapes of lake.geojson became one",)
    assert text == (
        '{"type":"FeatureCollection","features":[\n {"type":"Feature","properties":{"name":"Pond","note":null},"geometry":{"type": "Polygon", "coordinates": '
        "[[[-37.012000000, 41.000000000], [-37.000000000, 41.000000000], [-37.000000000, 41.012000000], [-37.012000000, 41.012000000], [-37.012000000, 41.000000000]], "
        "[[-37.001000000, 41.001000000], [-37.002000000, 41.001000000], [-37.002000000, 41.002000000], [-37.001000000, 41.002000000], [-37.001000000, 41.001000000]]]}}\n]}"
    )
    assert not field.lake_is_rough
    assert len(shapely.get_parts(field.lake)[0].interiors) == 1


def test_lake_in_a_table_of_corners(folder):
    here = folder(lake__csv="# mine\nnote,lon,lat\n" + "".join(f"{ROUGH_NOTE},{x},{y}\n" for x, y in [(-37.01, 41.0), (-37.0, 41.0), (-37.0, 41.01), (-37.01, 41.01)]))  # fmt: skip
    two = shapely.MultiPolygon([LAKE, shapely.box(-37.03, 41.0, -37.02, 41.001)])
    made, field, text = saved(here, save_lake, two, island_names=("Rock, the",))
    lines = text.splitlines()
    assert lines[:3] == ["# mine", "note,lon,lat,part,island", ",-37.012000000,41.000000000,1,"]
    assert lines[6] == ',-37.001000000,41.001000000,1,"Rock, the"'
    assert lines[10] == ",-37.020000000,41.000000000,2,"
    assert len(lines) == 14
    assert field.island_names == ("Rock, the",)
    assert len(made.notes) == 2
    _, field, text = saved(here, save_lake, shapely.box(-37.012, 41.0, -37.0, 41.012))
    assert len(text.splitlines()) == 6
    assert field.island_names == ()


def test_a_lake_that_was_only_started(tmp_path):
    """The folder can't be read as a field yet: the lake has no corner."""
    here = tmp_path / "new"
    start_folder(here)
    made = save_lake(here, None, LAKE, stamp=stamp_of(here))
    assert isinstance(made, Saved)
    field = read_field(here)
    assert shapely.equals_exact(field.lake, shapely.multipolygons([LAKE]), 1e-9) or shapely.equals(
        field.lake, LAKE
    )
    made = save_zones(
        here, None, [ZoneChange(row=None, geometry=BOX, values={"kind": "dock"})], stamp=made.stamp
    )
    assert isinstance(made, Saved)
    assert made.file == "zones.csv"
    made = save_soundings(
        here, None, [NewSounding(lon=-37.005, lat=41.005, depth_m=3.0)], stamp=made.stamp
    )
    assert isinstance(made, Saved)
    assert [one.label for one in read_field(here).zones] == ["dock"]


def test_the_word_of_a_rough_square_goes_with_it(tmp_path):
    here = tmp_path / "rough"
    start_folder(here, at=(41.005, -37.005), size_m=500.0)
    assert "rough square" in (here / "lake.csv").read_text(encoding="utf-8")
    _, field, text = saved(here, save_lake, LAKE)
    assert "rough" not in text
    assert not field.lake_is_rough
    assert rough_square(41.005, -37.005, 500.0).rough


def test_a_lake_that_leaves_a_float_on_land(folder):
    here = folder()
    said = refused(here, save_lake, shapely.box(-37.0045, 41.0, -37.0, 41.01))
    assert "float 1 at 41.005000, -37.005000 lies outside the lake" in said
    assert "the field could not be read any more; nothing was written" in said
    said = refused(here, save_lake, shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]))
    assert "the lake crosses itself" in said


def test_lake_changed_underneath(folder):
    here = folder()
    stamp, field = stamp_of(here), read_field(here)
    text = (here / "lake.csv").read_text().replace("41.01", "41.02")
    (here / "lake.csv").write_text(text)
    made = save_lake(here, field, LAKE, stamp=stamp)
    assert isinstance(made, Underneath)
    assert (made.says, made.kept) == (("the lake in lake.csv was drawn anew",), "lake.geojson.plan")
    assert (here / "lake.csv").read_text() == text


def test_soundings(folder):
    old = "date,lon,lat,depth_ft,level_ft\n2025-06-12,-37.005,41.005,9,0.5\n# x\n2025-06-12,-37.006,41.006,8,\n2025-06-12,-37.007,41.006,7,"
    here = folder(soundings__csv=old)
    new = [
        NewSounding(lon=-37.004, lat=41.004, depth_m=3.048, day=date(2025, 7, 1)),
        NewSounding(lon=-37.003, lat=41.004, depth_m=0.0),
    ]
    made, field, text = saved(here, save_soundings, new, removed=[4])
    assert text == (
        "date,lon,lat,depth_ft,level_ft\n2025-06-12,-37.005,41.005,9,0.5\n# x\n2025-06-12,-37.007,41.006,7,\n"
        "2025-07-01,-37.004000000,41.004000000,10,\n,-37.003000000,41.004000000,0,\n"
    )
    assert made.kept == "soundings.csv.before"
    assert field.soundings.depth_m == pytest.approx([8.5 * FT, 7 * FT, 10 * FT, 0.0])
    assert "no sounding in row 77" in refused(here, save_soundings, [], removed=[77])
    assert "is no depth" in refused(here, save_soundings, [NewSounding(lon=1, lat=1, depth_m=-1.0)])


def test_soundings_where_there_were_none(folder):
    here = folder(field__toml=f'units = "m-kg"\n{LEAST_TOML}')
    made, _, text = saved(here, save_soundings, [NewSounding(lon=-37.004, lat=41.004, depth_m=2.5)])
    assert text == "date,lon,lat,depth_m,level_m\n,-37.004000000,41.004000000,2.5,\n"
    stamp, field = stamp_of(here), read_field(here)
    (here / "soundings.csv").write_text(text + ",-37.005,41.005,2,\n")
    later = save_soundings(
        here, field, [NewSounding(lon=-37.003, lat=41.004, depth_m=1.0)], stamp=stamp
    )
    assert isinstance(later, Underneath)
    assert later.says == ("there are 2 soundings now, not 1",)
    assert (here / later.kept).read_text() == text + ",-37.003000000,41.004000000,1,\n"
    assert made.kept is None


DRAWING = Drawing(
    name='Pond "7"',
    units="ft-lb",
    lake=LAKE,
    levels=Levels(low_m=-1.5 * FT, normal_m=0.0, high_m=FT, soundings_m=0.5 * FT),
    zones=(ZoneChange(row=None, geometry=BOX, values={"kind": "swim_area", "name": "Beach"}),),
    soundings=(NewSounding(lon=-37.004, lat=41.004, depth_m=3.048),),
)
FILES = {"field.toml", "lake.geojson", "zones.geojson", "soundings.csv", "floats.csv"}


def test_a_new_field(tmp_path):
    here = tmp_path / "deep" / "pond"
    stamp = make_field(here, DRAWING)
    assert {path.name for path in here.iterdir()} == FILES
    assert stamp == stamp_of(here)
    field = read_field(here)
    assert (field.settings.name, field.settings.units) == ('Pond "7"', "ft-lb")
    levels = field.settings.levels
    assert (levels.low_m, levels.normal_m, levels.high_m, levels.soundings_m) == pytest.approx(
        (-1.5 * FT, 0.0, FT, 0.5 * FT)
    )
    assert field.floats == ()
    assert [one.label for one in field.zones] == ["Beach"]
    assert field.soundings.depth_m == pytest.approx([3.048])
    assert "levels_guessed" not in {one.code for one in field.problems}
    assert make_field(here, DRAWING) == stamp  # once more the same: as after a kill


def test_a_new_field_in_metres(tmp_path):
    make_field(tmp_path / "pond", Drawing(name="", units="m-kg", lake=LAKE))
    text = (tmp_path / "pond" / "floats.csv").read_text(encoding="utf-8")
    assert text.splitlines()[-1].startswith(
        "float_id,lon,lat,position_of,status,length_m,width_m,depth_m"
    )
    assert "Metres:" not in text
    assert "set,3,2.5,3.5,5,3.5,5,3," in text
    field = read_field(tmp_path / "pond")
    assert field.settings.units == "m-kg"
    assert "levels_guessed" in {one.code for one in field.problems}
    with (tmp_path / "pond" / "floats.csv").open("a", encoding="utf-8") as file:
        file.write("1,-37.005,41.005,primary,set,3,2.5,3.5,5,3.5,5,3,70,sand,A. Member,4\n")
    assert read_field(tmp_path / "pond").floats[0].riser_m == 5.0


@pytest.mark.parametrize(
    "name", ["field.toml", "lake.csv", "Floats.xlsx", "zones.gpkg", "soundings.csv"]
)
def test_a_folder_that_holds_a_field(tmp_path, name):
    (tmp_path / name).write_text("theirs")
    (tmp_path / "notes.txt").write_text("mine")
    with pytest.raises(BadInputError, match=f"holds {name} already.*nothing was written"):
        make_field(tmp_path, DRAWING)
    assert {path.name for path in tmp_path.iterdir()} == {name, "notes.txt"}
    assert (tmp_path / name).read_text() == "theirs"


def test_a_new_field_beside_other_files(tmp_path):
    (tmp_path / "notes.txt").write_text("mine")
    (tmp_path / "inspections.csv").write_text("date,float_id\n")
    make_field(tmp_path, DRAWING)
    assert {path.name for path in tmp_path.iterdir()} == FILES | {"notes.txt", "inspections.csv"}


def test_all_files_or_none(tmp_path, monkeypatch):
    plain, count = new_field._place, []

    def full(source, target):
        count.append(target)
        if len(count) == 4:
            raise OSError(28, "No space left on device")
        plain(source, target)

    monkeypatch.setattr(new_field, "_place", full)
    with pytest.raises(BadInputError, match="No space left on device; nothing was written"):
        make_field(tmp_path, DRAWING)
    assert list(tmp_path.iterdir()) == []


def test_a_drawing_that_is_no_field(tmp_path):
    low = Drawing(name="x", units="ft-lb", lake=LAKE, levels=Levels(low_m=2.0, normal_m=0.0, high_m=1.0, soundings_m=0.0))  # fmt: skip
    with pytest.raises(BadInputError, match="can't be read as a field; nothing was written"):
        make_field(tmp_path / "pond", low)
    with pytest.raises(BadInputError, match="the lake crosses itself"):
        make_field(tmp_path / "pond", Drawing(name="x", units="ft-lb", lake=None))
    assert not (tmp_path / "pond").exists()


def test_floats_stay_when_a_layer_is_saved(folder):
    here = folder(zones__geojson=ZONES_JSON)
    saved(here, save_zones, [ZoneChange(row=1, values={"name": "North"})])
    assert (here / "floats.csv").read_text() == FLOATS_CSV
