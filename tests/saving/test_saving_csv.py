"""Floats saved into CSV files: only the changed cells' bytes differ, and they read as meant."""

import csv
import io
import re
from datetime import date

import pytest
from conftest import FLOATS_CSV, LEAST_TOML
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Fitting
from lakemap.inputs.folder import read_field
from lakemap.saving.csv_text import records_of
from lakemap.saving.floats import save_floats
from lakemap.saving.floats_text import floats_csv_text
from lakemap.saving.records import FloatChange, Saved
from lakemap.saving.stamps import stamp_of

FT = 0.3048
NEAR_DEG = 1.5e-9
SLOW = (HealthCheck.function_scoped_fixture, HealthCheck.too_slow)


def save(here, *changes):
    """Read, save; the result, the field after it, and the bytes after it."""
    stamp, field = stamp_of(here), read_field(here)
    before = (here / "floats.csv").read_bytes()
    made = save_floats(here, field, changes, stamp=stamp)
    assert isinstance(made, Saved)
    if made.kept:
        assert (here / made.kept).read_bytes() == before
    assert made.stamp == stamp_of(here)
    return made, read_field(here), (here / "floats.csv").read_bytes().decode()


def refused(here, *changes):
    """What is said; no file differs, none is left over."""
    stamp, field = stamp_of(here), read_field(here)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    with pytest.raises(BadInputError) as told:
        save_floats(here, field, changes, stamp=stamp)
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before
    assert "nothing was written" in str(told.value) or "floats.csv row" in str(told.value)
    return str(told.value)


def test_by_hand(folder):
    here = folder()
    moved = FloatChange(float_id="1", position=(-37.006, 41.005), values={"depth": 12 * FT})
    new = FloatChange(
        float_id="3",
        new=True,
        position=(-37.003, 41.004),
        values={"length": 3.048, "width": 6 * FT},
    )
    made, _, text = save(here, moved, new)
    assert text == (
        "float_id,lon,lat,length_ft,width_ft,depth_ft,status\n"
        "1,-37.006000000,41.005,10,8,12,\n"  # the latitude is as it was
        "2,-37.004,41.006,12,10,12,\n"
        "3,-37.003000000,41.004000000,10,6,,proposed\n"
    )
    assert made.file == "floats.csv"
    assert made.kept == "floats.csv.before"
    assert made.notes == ("floats.csv had no column for it: status was added",)


def test_what_is_the_same_is_not_written(folder):
    here = folder()
    same = FloatChange(
        float_id="1",
        position=(-37.005 + 1e-10, 41.005),
        values={"length": 10 * FT, "status": "set", "position_of": None, "owner": " ", "lot": None},
    )
    made, _, text = save(here, same)
    assert text == FLOATS_CSV
    assert made.kept is None
    assert made.notes == ("nothing was changed",)
    assert not (here / "floats.csv.before").exists()


def test_nothing_asked(folder):
    here = folder()
    assert save(here)[2] == FLOATS_CSV


def test_retired_and_blanked(folder):
    text = "float_id,lon,lat,length_ft,width_ft,status,bearing_deg,wind_from_deg,position_of\n1,-37.005,41.005,10,8,,83,250,float\n"
    here = folder(floats__csv=text)
    values = {
        "status": "retired", "bearing_deg": None, "wind_from_deg": None, "position_of": "primary"
    }  # fmt: skip
    _, field, new = save(here, FloatChange(float_id="1", values=values))
    assert new == text.replace("10,8,,83,250,float", "10,8,retired,,,primary")
    assert (field.floats[0].status, field.floats[0].bearing_deg) == ("retired", None)


def test_every_kind_of_value(folder):
    names = "chain,cable,fittings,set_on,chain_grade,cable_parts,float_weight_lb,block_density_kg_m3,absorber_stiffness_n_m,hook_depth_in,bearing_deg,tubes,hook"
    text = f"float_id,lon,lat,length,width,{names}\n1,-37.005,41.005,10 ft,8 ft{',' * 13}\n"
    here = folder(floats__csv=text)
    values = {
        "length": 11 * FT, "chain": "3/8 in", "cable": "5/16 in galvanised",
        "fittings": (Fitting(name="shackle", size="1/2 in", count=2), Fitting(name="swivel", size="1/2 in")),
        "set_on": date(2024, 5, 13), "chain_grade": 43, "cable_parts": 2, "float_weight": 453.59237,
        "block_density": 2000.0, "absorber_stiffness": 1500.0, "hook_depth": -0.254,
        "bearing_deg": 83.5, "tubes": 3, "hook": "edge",
    }  # fmt: skip
    _, field, new = save(here, FloatChange(float_id="1", values=values))
    assert new.splitlines()[1] == (
        "1,-37.005,41.005,11 ft,8 ft,3/8 in,5/16 in galvanised,shackle 1/2 in 2; swivel 1/2 in,"
        "2024-05-13,43,2,1000,2000,1500,-10,83.5,3,edge"
    )
    assert field.floats[0].set_on == date(2024, 5, 13)


def test_quantities_as_text(folder):
    _, _, new = save(folder(), FloatChange(float_id="1", values={"depth": "11 ft 6 in"}))
    assert new.splitlines()[1] == "1,-37.005,41.005,10,8,11.5"


def test_the_manner_of_the_file(folder):
    """Semicolons, decimal commas, blanks about a cell, quotes where there were some."""
    here = folder(
        floats__csv=(
            "float_id;lon;lat;length_ft;width_ft;riser_length;owner;lot\r\n"
            '1;-37,0050; 41,005 ; 10,5 ;"8";20 ft;  x  ;  \r\n'
        )
    )
    change = FloatChange(
        float_id="1",
        position=(-37.0061, 41.0062),
        values={
            "length": 11.25 * FT,
            "width": 8.5 * FT,
            "riser_length": 20.5 * FT,
            "owner": "a;b",
            "lot": "4,5",
        },
    )
    _, field, new = save(here, change)
    assert new == (
        "float_id;lon;lat;length_ft;width_ft;riser_length;owner;lot\r\n"
        '1;-37,006100000; 41,006200000 ; 11,25 ;"8,5";20,5 ft;"a;b";  4,5\r\n'
    )
    assert (field.floats[0].owner, field.floats[0].lot) == ("a;b", "4,5")


def test_x_and_y(folder):
    # by the general projection library: UTM 24 north
    import pyproj

    turn = pyproj.Transformer.from_crs("EPSG:4326", "EPSG:32624", always_xy=True).transform
    x, y = turn(-37.005, 41.005)
    here = folder(
        field__toml=f'crs = "EPSG:32624"\n{LEAST_TOML}',
        floats__csv=f"float_id,x,y,length_ft,width_ft\n1,{x:.3f},{y:.3f},10,8\n",
    )
    _, _, new = save(here, FloatChange(float_id="1", position=(-37.006, 41.006)))
    there = [float(cell) for cell in new.splitlines()[1].split(",")[1:3]]
    assert there == pytest.approx(turn(-37.006, 41.006), abs=1e-4)


def test_hostile_values(folder):
    head = "float_id,lon,lat,length_ft,width_ft,owner,note\n"
    here = folder(floats__csv=head + "1,-37.005,41.005,10,8,,kept\n2,-37.004,41.006,12,10,,\n")
    for owner in ['=HYPERLINK("x")', "'=1", "a,b", 'say "so"', "two\nlines", "cr\rlf\r\nend", "x" * 20_000, "ünïcode ⚓", "'", "\\"]:  # fmt: skip
        _, field, new = save(here, FloatChange(float_id="1", values={"owner": owner}))
        rows = list(csv.reader(io.StringIO(new, newline="")))
        shown = ("'" if owner.startswith(("=", "'=")) else "") + owner
        assert rows[1] == ["1", "-37.005", "41.005", "10", "8", shown, "kept"]
        assert rows[2] == ["2", "-37.004", "41.006", "12", "10", "", ""]
        assert field.floats[0].owner == owner
    assert new.startswith(head)


def test_values_that_cannot_stand(folder):
    here = folder()
    said = refused(
        here,
        FloatChange(float_id="1", values={"length": -1.0, "chain_grade": 31, "status": "sett"}),
        FloatChange(float_id="2", values={"bearing_deg": float("inf")}),
    )
    for part in ("-1.0 must be above 0", "31 is no grade", "did you mean set?", "no finite number"):
        assert part in said
    said = refused(
        here,
        FloatChange(float_id="7", values={"riser": 1.0}),
        FloatChange(float_id="1", new=True),
        FloatChange(float_id="1"),
        FloatChange(float_id="2", values={"owner": "\ud800", "note": "a\0b"}),
    )
    for part in ("no such float", "riser is no column", "such a float already", "changed twice", "owner holds a sign that can't be written", "note holds a sign"):  # fmt: skip
        assert part in said
    assert "outside the lake" in refused(here, FloatChange(float_id="1", position=(-36.0, 41.0)))
    assert "is missing" in refused(
        here, FloatChange(float_id="9", new=True, position=(-37.003, 41.005))
    )
    assert "position" in refused(
        here, FloatChange(float_id="9", new=True, values={"length": 3.0, "width": 3.0})
    )


def test_a_new_float_that_would_be_a_comment(folder):
    new = FloatChange(float_id="#4", new=True, position=(-37.003, 41.004), values={"length": 3.0, "width": 3.0, "status": "set"})  # fmt: skip
    assert "begin with #" in refused(folder(), new)


def test_an_open_quote(folder):
    text = 'float_id,lon,lat,length_ft,width_ft,status,note\n1,-37.005,41.005,10,8,,"left open\n'
    new = FloatChange(float_id="4", new=True, position=(-37.003, 41.004), values={"length": 3.0, "width": 3.0})  # fmt: skip
    assert "quote left open" in refused(folder(floats__csv=text), new)


@pytest.mark.parametrize("blank", ["", ",,"])
def test_a_column_is_added(folder, blank):
    text = f"# a comment, with commas\r\nfloat_id,lon,lat,length_m,width_m{blank}\r\n\r\n1,-37.005,41.005,3,2\r\n# another\r\n2,-37.004,41.006,3,2{blank}"
    made, field, new = save(
        folder(floats__csv=text), FloatChange(float_id="1", values={"depth": 4.5})
    )
    assert made.notes == ("floats.csv had no column for it: depth_m was added",)
    rest = blank[1:]
    assert new == (
        f"# a comment, with commas\r\nfloat_id,lon,lat,length_m,width_m,depth_m{rest}\r\n\r\n1,-37.005,41.005,3,2,4.5{rest}\r\n# another\r\n2,-37.004,41.006,3,2,{rest}"
    )
    assert [one.depth_m for one in field.floats] == [4.5, None]


def test_the_unit_of_a_new_column(folder):
    text = "float_id,lon,lat,length,width\n1,-37.005,41.005,10 ft,8 ft\n"
    for units, name, cell in [("ft-lb", "depth_ft", "10"), ("m-kg", "depth_m", "3.048")]:
        here = folder(floats__csv=text, field__toml=f'units = "{units}"\n{LEAST_TOML}')
        _, _, new = save(here, FloatChange(float_id="1", values={"depth": 10 * FT}))
        assert new == f"float_id,lon,lat,length,width,{name}\n1,-37.005,41.005,10 ft,8 ft,{cell}\n"


def test_a_note_under_no_header_is_left_alone(folder):
    text = "float_id,lon,lat,length_ft,width_ft,,\n1,-37.005,41.005,10,8,stray,\n"
    _, _, new = save(folder(floats__csv=text), FloatChange(float_id="1", values={"lot": "4"}))
    assert new == "float_id,lon,lat,length_ft,width_ft,,lot\n1,-37.005,41.005,10,8,stray,4\n"


def test_the_whole_plan_as_text(folder):
    text = 'float_id,lon,lat,length_ft,width_ft,boat,riser_length_ft,fittings\n1,-37.005,41.005,10,8,"a,b",12.5,shackle 1/2 in 2\n2,-37.004,41.006,12,10,,,\n'
    here = folder(floats__csv=text)
    before = read_field(here).floats
    again = floats_csv_text(before, units="ft-lb")
    after = read_field(folder(floats__csv=again)).floats
    for one, other in zip(before, after, strict=True):
        assert (one.float_id, one.riser_m, one.fittings, one.extra) == (
            other.float_id, other.riser_m, other.fittings, other.extra
        )  # fmt: skip
        assert one.length_m == pytest.approx(other.length_m, rel=1e-9)
        assert (one.lon, one.lat) == pytest.approx((other.lon, other.lat), abs=NEAR_DEG)


# ---- any file that a person or a program may have written

MARK = "§"  # stands where a changed cell is, in no alphabet below
WORDS = st.text("abc ,;\"'=#\t\n\r\u00fc.5", max_size=8)


@st.composite
def files(draw):
    """A floats.csv as a grid of raw cells, and what it says."""
    delimiter, decimal = draw(st.sampled_from([(",", "."), (";", "."), (";", ","), ("\t", ".")]))
    unit = draw(st.sampled_from(["ft", "in", "m", "mm", ""]))
    ends = f"_{unit}" if unit else ""
    names = ["float_id", "lon", "lat", f"length{ends}", f"width{ends}", f"riser_length{ends}", "status", "owner", "boat"]  # fmt: skip
    order = draw(st.permutations(range(1, len(names))))
    header = [names[0], *(names[k] for k in order)]
    count = draw(st.integers(1, 4))
    rows = [
        [_cell(draw, name, n, (delimiter, decimal, unit)) for name in header] for n in range(count)
    ]
    return {
        "delimiter": delimiter,
        "decimal": decimal,
        "unit": unit,
        "header": header,
        "rows": rows,
        "ending": draw(st.sampled_from(["\n", "\r\n", "\r"])),
        "last": draw(st.booleans()),
        "mark": draw(st.sampled_from(["", "\ufeff"])),
        "between": draw(st.sampled_from([[], [""], ["# a comment; with, signs"]])),
    }


def _cell(draw, name, n, manner):
    """One raw cell: its text in the file's manner, perhaps in quotes or with blanks about it."""
    delimiter, decimal, unit = manner
    base = name.rpartition("_")[0] if unit and name.endswith(f"_{unit}") else name
    if base in {"length", "width", "riser_length"}:
        value = draw(st.integers(200, 900)) / 100
        text = f"{value}{'' if unit else ' m'}".replace(".", decimal)
        text = "" if base == "riser_length" and draw(st.booleans()) else text
    elif base in {"lon", "lat"}:
        at = {"lon": -37.0, "lat": 41.0}[base]
        text = f"{at + (-1 if base == 'lon' else 1) * (0.003 + n / 1000):.7f}".replace(".", decimal)
    else:
        words = draw(WORDS)
        text = {
            "float_id": str(n + 1),
            "status": draw(st.sampled_from(["", "set", "proposed"])),
        }.get(base, words)
    if draw(st.booleans()) or any(sign in text for sign in (delimiter, '"', "\r", "\n")):
        return '"' + text.replace('"', '""') + '"'
    pad = "" if delimiter == "\t" else draw(st.sampled_from(["", "", " ", "  "]))
    return text if base == "float_id" else f"{pad}{text}{pad}"


def as_text(file, rows):
    lines = [file["delimiter"].join(file["header"])]
    for row in rows:
        lines += [*file["between"], file["delimiter"].join(row)]
    return file["mark"] + file["ending"].join(lines) + (file["ending"] if file["last"] else "")


CHANGE = st.fixed_dictionaries(
    {},
    optional={
        "length": st.floats(0.01, 500.0),
        "riser_length": st.one_of(st.none(), st.floats(0.01, 500.0)),
        "owner": st.one_of(st.none(), WORDS),
        "status": st.sampled_from(["retired", "proposed"]),
        "position": st.tuples(st.floats(-37.0099, -37.0001), st.floats(41.0001, 41.0099)),
    },
)


@settings(max_examples=120, suppress_health_check=SLOW)
@given(file=files(), changes=st.lists(CHANGE, min_size=1, max_size=4))
def test_only_changed_cells_differ(folder, file, changes):
    text = as_text(file, file["rows"])
    here = folder(floats__csv=text.encode(), field__toml=f'units = "m-kg"\n{LEAST_TOML}')
    (here / "floats.csv.before").unlink(missing_ok=True)
    old = read_field(here).floats
    asked = {
        one.float_id: dict(change) for one, change in zip(old, changes, strict=False) if change
    }
    made, field, new = save(here, *(_change(name, values) for name, values in asked.items()))
    # sign by sign: what lies between the cells that were asked for is as it was
    rows = [list(row) for row in file["rows"]]
    for n, one in enumerate(old):
        for name in asked.get(one.float_id, ()):
            for column in ("lon", "lat") if name == "position" else (name,):
                k = next(k for k, head in enumerate(file["header"]) if head.startswith(column))
                rows[n][k] = MARK
    pieces = as_text(file, rows).split(MARK)
    assert re.fullmatch("(.*?)".join(re.escape(piece) for piece in pieces), new, re.DOTALL)
    _read_as_asked(file, asked, new, old, field.floats)
    assert made.notes in ((), ("nothing was changed",))


def _change(name, values):
    rest = {key: value for key, value in values.items() if key != "position"}
    return FloatChange(float_id=name, values=rest, position=values.get("position"))


def _read_as_asked(file, asked, new, old, floats):
    """By the general reader and a factor from paper."""
    factor = {"ft": 0.3048, "in": 0.0254, "m": 1.0, "mm": 0.001, "": 1.0}[file["unit"]]
    grid = csv.reader(
        io.StringIO(new.removeprefix("\ufeff"), newline=""), delimiter=file["delimiter"]
    )
    rows = [row for row in grid if row and any(row) and not row[0].startswith("#")]
    header, *rows = rows
    assert [len(row) for row in rows] == [len(header)] * len(old)
    for row, was, one in zip(rows, old, floats, strict=True):
        cells = dict(
            zip((name.removesuffix(f"_{file['unit']}") for name in header), row, strict=True)
        )
        for name, value in asked.get(was.float_id, {}).items():
            if name == "position":
                at = [float(cells[key].replace(",", ".")) for key in ("lon", "lat")]
                assert at == pytest.approx(value, abs=NEAR_DEG)
                assert (one.lon, one.lat) == pytest.approx(value, abs=NEAR_DEG)
            elif isinstance(value, float):
                number = cells[name].replace(",", ".").strip().removesuffix("m")
                assert float(number) * factor == pytest.approx(value, rel=1e-9)
            else:
                wanted = (value or "").strip()
                # what a spreadsheet would take for a formula has its own mark for text before it
                mark = "'" if re.match("'*=", wanted) else ""
                assert cells[name].strip() == f"{mark}{wanted}"
        if was.float_id not in asked:
            assert one == was


@settings(max_examples=300)
@given(text=st.text('ab",; \n\r\t', max_size=40), delimiter=st.sampled_from(",;\t"))
def test_rows_and_cells_are_those_of_the_general_reader(text, delimiter):
    spans = records_of(text, delimiter)
    wanted = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    found = [
        [
            next(iter(csv.reader(io.StringIO(text[a:b], newline=""), delimiter=delimiter)), [""])
            for a, b in one.cells
        ]
        for one in spans
    ]
    flat = [[cell[0] if cell else "" for cell in row] for row in found]
    assert [row if row != [""] else [] for row in flat] == [
        row if row != [""] else [] for row in wanted
    ]
    assert "".join(text[one.start : one.next] for one in spans) == text
