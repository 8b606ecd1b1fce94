"""One field with everything in it, hostile texts too, and what any program finds in its files."""

import csv
import io
import zipfile
from dataclasses import fields
from functools import cache
from importlib.metadata import distribution
from pathlib import Path

import xmlschema

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import Float
from lakemap.exporting.clean import clean
from lakemap.exporting.export import FORMATS, export
from lakemap.inputs.floats import read_floats
from lakemap.inputs.folder import read_field
from lakemap.inputs.layers import read_layer
from lakemap.mapping import assess

ENDINGS = tuple(FORMATS)
COMING_IN = tuple(ending for ending in ENDINGS if ending != ".gpx")
OWNERS = (
    "Ada <Wren>",
    "=cmd|' /C calc'!A0",
    "TL-2007 ]]>",
    'two\nlines, "x" and quotes 🛶',
    "+1 555 0100",
)

TOML = """\
name = "Tarn & <b>Reed</b>"
units = "ft-lb"
[levels]
low = "-1.5 ft"
normal = "0 ft"
high = "1 ft"
[rules.neighbour]
distance = "5 ft"
source = "example & <more>"
[rules.swim_area]
distance = "20 ft"
source = "example"
[rules.deck_area_max]
area = "90 ft2"
source = "example"
"""
LAKE = """\
lon,lat,island
-37.01,40.99,
-36.99,40.99,
-36.99,41.01,
-37.01,41.01,
-37.006,41.004,Duck
-37.004,41.004,Duck
-37.004,41.006,Duck
"""
ZONES = """\
zone,kind,shape,name,width_ft,clearance_ft,source,lot,lon,lat
a,swim_area,area,Beach ]]> & <i>co</i>,,,=source,,-37.009,40.991
a,,,,,,,,-37.008,40.991
a,,,,,,,,-37.008,40.992
b,channel,line,,40,7.5,,,-37.0,40.99
b,,,,,,,,-37.0,41.0
b,,,,,,,,-37.001,41.01
"""
SOUNDINGS = "lon,lat,depth_ft,date\n" + "".join(
    f"{-37.0095 + 0.001 * x:.4f},{40.9905 + 0.001 * y:.4f},{15 + (x + y) / 8},2025-06-14\n"
    for x in range(20)
    for y in range(20)
)
HEAD = (
    "float_id", "lon", "lat", "position_of", "wind_from_deg", "status", "owner", "lot", "length_ft",
    "width_ft", "flotation", "tubes", "tube_diameter_in", "tube_length_ft", "float_weight_lb", "hook",
    "hook_depth_in", "depth_ft", "riser_length_ft", "ground_length_ft", "absorber_length_ft",
    "absorber_stiffness_lb_ft", "primary_blocks", "secondary_blocks", "block", "block_density_lb_ft3",
    "chain", "chain_grade", "cable", "cable_parts", "cable_ends", "fittings", "bearing_deg", "bottom",
    "set_on", "permit", "note", "fid", "=phone",
)  # fmt: skip
FULL = (
    "7", "-37.0051234567", "40.9961234567", "primary", "", "set", OWNERS[0], "=2+5", "10", "8", "tubes", "2",
    "19", "10", "812.5", "edge", "-11", "", "20.5", "14", "4", "120", "10", "6", "12-in hollow", "132",
    "3/8 in", "43", "5/16 in stainless", "2", "sleeves", "eye bolt 5/8 in; shackle 1/2 in 2", "83.5",
    "gravel", "2019-05-13", OWNERS[2], OWNERS[3], "12", OWNERS[4],
)  # fmt: skip
BY_SECONDARY = {
    "float_id": "@8 <script>alert(1)</script>", "lon": "-37.002", "lat": "40.9975", "position_of": "secondary",
    "length_ft": "12", "width_ft": "10", "depth_ft": "12", "bearing_deg": "200", "ground_length_ft": "14",
    "riser_length_ft": "20", "owner": OWNERS[1], "note": "bell\x07 rung", "lot": "007",
}  # fmt: skip
BY_FLOAT = {
    "float_id": "9", "lon": "-36.996", "lat": "41.0031", "position_of": "float", "wind_from_deg": "270",
    "length_ft": "10", "width_ft": "8", "status": "proposed",
}  # fmt: skip
RETIRED = {
    "float_id": "10", "lon": "-36.9951", "lat": "40.995", "length_ft": "10", "width_ft": "8",
    "status": "retired", "depth_ft": "11", "lot": "12",
}  # fmt: skip


_KNOWN = {}


def rows_text(*rows, head=HEAD):
    out = io.StringIO()
    writer = csv.DictWriter(out, head, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


FILES = {
    "field__toml": TOML,
    "lake__csv": LAKE,
    "zones__csv": ZONES,
    "soundings__csv": SOUNDINGS,
    "floats__csv": rows_text(dict(zip(HEAD, FULL, strict=True)), BY_SECONDARY, BY_FLOAT, RETIRED),
}


def assessed(folder, **files):
    """A field assessed, each once a session."""
    key = tuple(sorted(files.items()))
    if key not in _KNOWN:
        _KNOWN[key] = assess(read_field(folder(**(FILES | files))))
    return _KNOWN[key]


def sent(assessment, path, *, owners=True):
    export(assessment, path, owners=owners)
    return path


def words_in(path):
    """All bytes of a file, those of a packed one unpacked."""
    data = path.read_bytes()
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(path) as book:
            data += b"".join(book.read(name) for name in book.namelist())
    return data.decode("utf-8", errors="replace")


def floats_in(path, lake):
    """The floats that lakemap's own reader finds in a file, and its problems."""
    log = ProblemLog()
    table = read_layer(path, log)
    floats = read_floats(table, log, crs="EPSG:4326", lake=lake)
    return floats, list(log)


def cells(one, *, owners=True):
    """A float's values as they should come in again, positions apart."""
    private = () if owners else ("owner", "permit", "note", "extra")
    found = {}
    for name in (each.name for each in fields(Float)):
        if name not in {"row", "lon", "lat", *private}:
            value = getattr(one, name)
            if name == "extra":
                value = {key: clean(text) for key, text in value.items()}
            found[name] = clean(value).strip() if isinstance(value, str) else value
    return found


@cache
def gpx_schema():
    return xmlschema.XMLSchema(Path(__file__).with_name("gpx_1_1.xsd"))


@cache
def kml_schema():
    """Of the Open Geospatial Consortium, OGC 07-147r2, as a general library carries it."""
    held = distribution("fastkml").locate_file("fastkml/schema/ogckml22.xsd")
    return xmlschema.XMLSchema(str(held), allow="local")
