"""Floats saved into GeoJSON: text spans of what changed, and every other sign as it was."""

import json

import pytest
from conftest import LEAST_TOML

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field
from lakemap.saving.floats import save_floats
from lakemap.saving.json_text import group_at, layout_of
from lakemap.saving.records import FloatChange, Saved
from lakemap.saving.stamps import stamp_of

FT = 0.3048
PRETTY = """\
{
  "type" : "FeatureCollection",
  "name": "floats é",
  "features": [
    {
      "type": "Feature",
      "id": 5,
      "properties": {
        "float_id": 1, "length_ft" : 10.0,
        "width_ft": 8,
        "owner": "A. \\u00e9 \\"x\\"",
        "lot": 4,   "riser_length": "20 ft"
      },
      "geometry": {"type": "Point", "coordinates": [ -37.005, 41.005, 12.5 ]}
    },
    {
      "geometry": {
        "coordinates": [
          -37.004,
          41.006
        ],
        "type": "Point"
      },
      "type": "Feature",
      "properties": {
        "float_id": 2,
        "length_ft": "12",
        "width_ft": 10,
        "owner": null
      }
    }
  ]
}
"""
NEW = FloatChange(
    float_id="3",
    new=True,
    position=(-37.003, 41.004),
    values={"length": 10 * FT, "width": 6 * FT, "lot": "7", "riser_length": 20 * FT},
)


def make(folder, text, name="floats.geojson", **more):
    return folder(floats__csv=None, **{name.replace(".", "__"): text}, **more)


def save(here, *changes, name="floats.geojson"):
    stamp, field = stamp_of(here), read_field(here)
    before = (here / name).read_bytes()
    made = save_floats(here, field, changes, stamp=stamp)
    assert isinstance(made, Saved)
    assert (here / f"{name}.before").read_bytes() == before
    return read_field(here), (here / name).read_bytes().decode()


def test_only_the_changed_members(folder):
    one = FloatChange(
        float_id="1",
        position=(-37.006, 41.0051),
        values={
            "owner": '=a "b"\n⚓',
            "lot": "5",
            "width": 7.5 * FT,
            "depth": 11 * FT,
            "riser_length": None,
        },
    )
    two = FloatChange(float_id="2", values={"length": 11 * FT, "status": "retired", "lot": None})
    field, text = save(make(folder, PRETTY), one, two)
    wanted = PRETTY
    for old, new in [
        ('"A. \\u00e9 \\"x\\""', '"=a \\"b\\"\\n⚓"'),
        ('"lot": 4,   "riser_length": "20 ft"', '"lot": 5,   "riser_length": null,   "depth_ft": 11'),
        ('"width_ft": 8', '"width_ft": 7.5'),
        ("[ -37.005, 41.005, 12.5 ]", "[ -37.006000000, 41.005100000, 12.5 ]"),
        ('"length_ft": "12"', '"length_ft": "11"'),
        ('"owner": null', '"owner": null,\n        "status": "retired"'),
    ]:  # fmt: skip
        assert wanted.count(old) == 1
        wanted = wanted.replace(old, new)
    assert text == wanted
    assert json.loads(text)["features"][0]["properties"]["depth_ft"] == 11
    assert field.floats[0].lot == "5"


def test_a_new_one_is_set_out_as_the_last(folder):
    _, text = save(make(folder, PRETTY), NEW)
    new = """,
    {
      "geometry": {
        "coordinates": [
          -37.003000000,
          41.004000000
        ],
        "type": "Point"
      },
      "type": "Feature",
      "properties": {
        "float_id": 3,
        "length_ft": "10",
        "width_ft": 6,
        "owner": null,
        "riser_length": "20 ft",
        "position_of": "primary",
        "status": "proposed",
        "hook": "centre",
        "lot": "7"
      }
    }
  ]
}
"""
    assert text == PRETTY.removesuffix("\n  ]\n}\n") + new


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_one_line(folder, mark):
    text = (
        mark
        + '{"type":"FeatureCollection","features":[{"type":"Feature","geometry":{"type":"Point","coordinates":[-37.005,41.005]},"properties":{"float_id":"1","length_m":3,"width_m":3}}]}'
    )
    field, new = save(
        make(folder, text), FloatChange(float_id="1", position=(-37.004, 41.005)), NEW
    )
    assert new.startswith(text.split("-37.005")[0] + "-37.004000000,41.005000000]}")
    feature = ', {"type":"Feature","geometry":{"type":"Point","coordinates":[-37.003000000,41.004000000]},"properties":{"float_id":"3","length_m":3.048,"width_m":1.8288'
    assert feature in new
    assert [one.float_id for one in field.floats] == ["1", "3"]


def test_coordinates_of_its_own_system(folder):
    import pyproj

    turn = pyproj.Transformer.from_crs("EPSG:4326", "EPSG:32624", always_xy=True).transform
    x, y = turn(-37.005, 41.005)
    text = (
        '{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32624"}},'
        '"features":[{"type":"Feature","properties":{"float_id":"1","length_m":3,"width_m":3},'
        f'"geometry":{{"type":"Point","coordinates":[{x:.4f},{y:.4f}]}}}}]}}'
    )
    _, new = save(make(folder, text), FloatChange(float_id="1", position=(-37.006, 41.006)))
    assert json.loads(new)["features"][0]["geometry"]["coordinates"] == pytest.approx(
        turn(-37.006, 41.006), abs=1e-4
    )


def test_the_ending_json(folder):
    field, _ = save(
        make(folder, PRETTY, "floats.json"),
        FloatChange(float_id="2", values={"lot": "9"}),
        name="floats.json",
    )
    assert field.floats[1].lot == "9"


def test_other_shapes_of_json_are_refused(folder):
    text = '{"type":"Feature","properties":{"float_id":"1","length_m":3,"width_m":3},"geometry":{"type":"Point","coordinates":[-37.005,41.005]}}'
    here = make(folder, text)
    stamp, field = stamp_of(here), read_field(here)
    with pytest.raises(BadInputError, match="no FeatureCollection that can be changed in place"):
        save_floats(here, field, [FloatChange(float_id="1", values={"lot": "9"})], stamp=stamp)
    assert (here / "floats.geojson").read_text(encoding="utf-8") == text


def test_formats_that_are_not_written(folder):
    import geopandas as gpd

    here = folder(floats__csv=None, field__toml=LEAST_TOML)
    frame = gpd.GeoDataFrame(
        {"float_id": ["1"], "length_m": [3.0], "width_m": [3.0]},
        geometry=gpd.points_from_xy([-37.005], [41.005]),
        crs="EPSG:4326",
    )
    frame.to_file(here / "floats.gpkg")
    stamp, field = stamp_of(here), read_field(here)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    with pytest.raises(BadInputError) as told:
        save_floats(here, field, [FloatChange(float_id="1", values={"lot": "9"})], stamp=stamp)
    assert "floats.gpkg can't be changed in place; keep the plan as floats.csv" in str(told.value)
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before


def test_spans_of_values():
    text = ' {"a" :[1, {"b":"]}"} ], "a": null }'
    group = group_at(text, 1)
    assert [(one.key, text[one.start : one.end]) for one in group.items] == [
        ("a", '[1, {"b":"]}"} ]'), ("a", "null")
    ]  # fmt: skip
    assert text[group.start : group.end] == text[1:]
    held = group.get("a")
    assert held is not None
    assert text[held.start : held.end] == "null"
    layout = layout_of(text, group)
    assert (layout.opening, layout.parting, layout.colon, layout.closing) == ("", ", ", " :", " ")
