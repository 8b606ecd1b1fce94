"""Where a float was seen: lon, lat, or x, y in the field's own coordinates; most rows have none."""

import pytest
from pyproj import Transformer

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field

HEAD = "date,float_id,part,finding,"
TOML = 'crs = "EPSG:32623"\n[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n'


def rows(folder, text, **files):
    return read_field(folder(inspections__csv=text, **files)).inspections


def test_a_row_knows_its_number(folder):
    found = rows(folder, f"{HEAD}by\n2025-07-01,1,chain,worn,Ada\n\n2025-07-02,1,cable,good,Bo\n")
    assert [one["row"] for one in found] == [2, 4]


def test_lon_and_lat_of_the_row_that_has_them(folder):
    text = f"{HEAD}lon,lat\n2025-07-01,1,,moved,-37.005,41.004\n2025-07-02,1,cable,good,,\n"
    assert [(one["lon"], one["lat"]) for one in rows(folder, text)] == [
        (-37.005, 41.004), (None, None),
    ]  # fmt: skip


def test_x_and_y_are_turned_to_degrees(folder):
    """By pyproj's own transformer, there."""
    x, y = Transformer.from_crs("EPSG:4326", "EPSG:32623", always_xy=True).transform(
        -37.005, 41.004
    )
    text = f"{HEAD}x,y\n2025-07-01,1,,moved,{x:.4f},{y:.4f}\n2025-07-02,1,cable,good,,\n"
    moved, looked = rows(folder, text, field__toml=TOML)
    assert (moved["lon"], moved["lat"]) == pytest.approx((-37.005, 41.004), abs=1e-8)
    assert (looked["lon"], looked["lat"]) == (None, None)


@pytest.mark.parametrize("columns", ["lon,lat", "x,y"])
def test_a_float_that_moved_needs_its_place(folder, columns):
    text = f"{HEAD}{columns}\n2025-07-01,1,,moved,,\n"
    with pytest.raises(BadInputError, match=r"inspections.csv row 2 finding: a float that moved"):
        rows(folder, text, field__toml=TOML)


def test_a_crs_that_nobody_knows(folder):
    text = f"{HEAD}x,y\n2025-07-01,1,,moved,1,2\n"
    with pytest.raises(BadInputError, match="crs 'EPSG:1' is not known"):
        rows(folder, text, field__toml=TOML.replace("32623", "1"))
