"""Fixes gathered into a folder: what is written, what is estimated, what is refused."""

import csv
import json
from datetime import date

import numpy as np
import openpyxl
import pytest

from lakemap.basis.errors import BadInputError
from lakemap.cli import main
from lakemap.exporting.export import export
from lakemap.gathering.gather import gather
from lakemap.gathering.records import Asked
from lakemap.inputs.folder import read_field
from lakemap.lake.projection import LakeProjection
from lakemap.mapping import assess
from lakemap.rig.circle_residuals import FloatFixes
from lakemap.rig.fitted_circle import fit_circle
from lakemap.saving.records import Saved, Underneath

FT = 0.3048
TOML = '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n[accuracy]\nposition = "3 ft"\n'
# line 20 ft, 11 ft deep, hook 1 ft down: at high water a drop of 11 ft and 9 ft of slack; at low
# water a drop of 9 ft and a reach of sqrt(400 - 81) ft
FLOATS = (
    "float_id,lon,lat,length_ft,width_ft,depth_ft,hook_depth_ft,riser_length_ft,ground_length_ft,"
    "bearing_deg\n"
    "15,-37.005,41.005,10,8,11,1,12,8,\n"
    "16,-37.004,41.006,12,10,11,1,12,8,90\n"
)
CALM, TAUT = 9 * FT, np.sqrt(319) * FT
HERE = LakeProjection(lon0=-37.005, lat0=41.005)  # float 15
WINDS = (270, 20, 135, 225)


def waypoint(name, xy=(0.0, 0.0), day="2025-06-14", **more):
    lon, lat = HERE.to_lonlat([xy[0]], [xy[1]])
    time = f"<time>{day}T15:04:05Z</time>" if day else ""
    inner = "".join(f"<{tag}>{text}</{tag}>" for tag, text in more.items())
    return f'<wpt lat="{lat[0]:.9f}" lon="{lon[0]:.9f}">{time}<name>{name}</name>{inner}</wpt>'


def gpx(*held):
    inner = "".join(held)
    return f'<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">{inner}</gpx>'


@pytest.fixture
def pond(folder, tmp_path):
    """The folder, and a function that gathers waypoints into it."""
    here = folder(field__toml=TOML, floats__csv=FLOATS)

    def into(*points, name="phone.gpx", **asked):
        path = tmp_path / name
        is_whole = not points[0].startswith(("<wpt", "<trk"))
        path.write_text(points[0] if is_whole else gpx(*points), encoding="utf-8")
        return gather(here, [path], Asked(**asked))

    return here, into


def rows_of(here, name="fixes.csv"):
    with (here / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def text_of(outcome):
    report = outcome.reports[-1]
    left = [f"{one.count} {one.words} ({one.first})" for one in report.left]
    return "\n".join([*report.lines, *left, *report.cautions])


def in_the_winds(primary=(0.0, 0.0), winds=WINDS, *, far=(0.0, 0.0, 0.0, 0.0), float_id="15"):
    """Fixes of a float at mid-band to leeward."""
    radius = (CALM + TAUT) / 2
    for k, wind in enumerate(winds):
        way = np.radians(wind + 180)
        at = np.array(primary) + (radius + far[k]) * np.array([np.sin(way), np.cos(way)])
        yield waypoint(f"{float_id} float wind {wind}", at, day=f"2025-06-{10 + k}")


def test_waypoints_become_rows(pond):
    here, into = pond
    outcome = into(
        waypoint("15 primary", (1, 2)),
        waypoint("float 16 secondary", (80, 110), day="2025-06-15"),
        waypoint("15 float wind SSW", (3, 4)),
        waypoint("15", (5, 6)),
    )
    (report,), (saved,) = outcome.reports, outcome.written
    assert (report.kind, report.taken) == ("fixes", 4)
    assert (saved.file, saved.kept) == ("fixes.csv", None)
    rows = rows_of(here)
    assert [(r["date"], r["float_id"], r["position_of"], r["wind_from_deg"]) for r in rows] == [
        ("2025-06-14", "15", "primary", ""),
        ("2025-06-15", "16", "secondary", ""),
        ("2025-06-14", "15", "float", "202.5"),
        ("2025-06-14", "15", "float", ""),
    ]
    lon, lat = HERE.to_lonlat([1.0], [2.0])
    assert float(rows[0]["lon"]) == pytest.approx(lon[0], abs=1e-9)
    assert float(rows[0]["lat"]) == pytest.approx(lat[0], abs=1e-9)
    assert [one["position_of"] for one in read_field(here).fixes] == [
        "primary", "secondary", "float", "float",
    ]  # fmt: skip
    assert "1 didn't say what was fixed: taken as the float's" in text_of(outcome)
    assert (here / "floats.csv").read_text(encoding="utf-8") == FLOATS


def test_the_same_waypoints_twice_add_nothing(pond):
    here, into = pond
    points = [waypoint("15 primary", (1, 2)), waypoint("16 primary", (90, 110))]
    into(*points)
    before = (here / "fixes.csv").read_bytes()
    again = into(*points)
    assert (again.reports[0].taken, again.written) == (0, ())
    assert (here / "fixes.csv").read_bytes() == before
    assert "2 in the fixes file already" in text_of(again)
    # another day, another thing, another place are other fixes
    more = into(
        waypoint("15 primary", (1, 2), day="2025-06-15"),
        waypoint("15 secondary", (1, 2)),
        waypoint("15 primary", (1, 2.05)),
    )
    assert more.reports[0].taken == 3


def test_merging_keeps_what_is_there_and_the_file_before(pond):
    here, into = pond
    old = (
        "\ufeffdate;float_id;note;lat;lon;position_of\n2024-07-01;15;windy;41,0051;-37,0051;float\n"
    )
    (here / "fixes.csv").write_text(old, encoding="utf-8", newline="")
    (saved,) = into(waypoint("15 float wind 200", (3, 4))).written
    assert saved.kept == "fixes.csv.before"
    assert (here / "fixes.csv.before").read_text(encoding="utf-8") == old
    lines = (here / "fixes.csv").read_text(encoding="utf-8").splitlines()
    assert lines[1].startswith("2024-07-01;15;windy;41,0051;-37,0051;float")
    assert lines[2].startswith("2025-06-14;15;;41,0050")
    assert [one["wind_from_deg"] for one in read_field(here).fixes] == [None, 200.0]


def test_a_preview_writes_nothing(pond):
    here, into = pond
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    outcome = into(waypoint("15 primary", (1, 2)), preview=True, place=True)
    assert outcome.written == ()
    assert outcome.reports[0].taken == 1
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before


@pytest.mark.parametrize("ending", [".xlsx", ".geojson"])
def test_fixes_files_of_other_formats(pond, ending):
    here, into = pond
    if ending == ".xlsx":
        book = openpyxl.Workbook()
        book.active.append(["date", "float_id", "lon", "lat", "position_of", "wind_from_deg"])
        book.active.append([date(2024, 7, 1), "15", -37.0051, 41.0051, "float", 90])
        book.save(here / "fixes.xlsx")
    else:
        one = {
            "type": "Feature",
            "properties": {"date": "2024-07-01", "float_id": "15", "position_of": "float"},
            "geometry": {"type": "Point", "coordinates": [-37.0051, 41.0051]},
        }
        text = json.dumps({"type": "FeatureCollection", "features": [one]})
        (here / "fixes.geojson").write_text(text, encoding="utf-8")
    (saved,) = into(waypoint("15 float wind 200", (3, 4))).written
    assert (saved.file, saved.kept) == (f"fixes{ending}", f"fixes{ending}.before")
    fixes = read_field(here).fixes
    assert [str(one["date"]) for one in fixes] == ["2024-07-01", "2025-06-14"]
    assert fixes[1]["wind_from_deg"] == 200
    assert fixes[1]["lon"] == pytest.approx(HERE.to_lonlat([3.0], [4.0])[0][0], abs=1e-9)


def test_a_file_changed_meanwhile_is_left_alone(pond, monkeypatch):
    here, into = pond
    into(waypoint("15 primary", (1, 2)))
    from lakemap.gathering import gather as front

    kept = front.read_field

    def meanwhile(folder):
        field = kept(folder)
        with (here / "fixes.csv").open("a", encoding="utf-8") as file:
            file.write("2025-07-01,15,-37.0051,41.0051,float,\n")
        return field

    monkeypatch.setattr(front, "read_field", meanwhile)
    (done,) = into(waypoint("15 primary", (2, 3))).written
    assert isinstance(done, Underneath)
    assert done.kept == "fixes.csv.plan"
    assert len(rows_of(here)) == 2


def test_the_primary_is_the_mean_and_placing_puts_it_in(pond):
    here, into = pond
    away = [(2, 0), (-2, 0), (0, 2), (0, -2)]
    points = [
        waypoint("15 primary", np.array([3.0, 4.0]) + off, day=f"2025-06-{10 + k}")
        for k, off in enumerate(away)
    ]
    plain = into(*points)
    report = plain.reports[0]
    lon, lat = (one[0] for one in HERE.to_lonlat([3.0], [4.0]))
    # s = sqrt(8/3) m, over two for four days, by Student's t for six degrees (2.447) over two
    error = np.sqrt(8 / 3) / 2 * 2.447 / 2
    row = dict(zip(report.table[0], report.table[1], strict=True))
    assert [float(part) for part in row["primary at LAT,LON"].split(",")] == pytest.approx(
        [lat, lon], abs=1e-7
    )
    assert float(row["± ft"]) == pytest.approx(error / FT, abs=0.06)
    assert row["from the file's"] == f"{5 / FT:.1f} ft northeast"
    assert "the floats file stays as it is; --place" in text_of(plain)
    assert (here / "floats.csv").read_text(encoding="utf-8") == FLOATS

    placed = into(*points, place=True)
    (saved,) = placed.written
    assert isinstance(saved, Saved)
    assert (saved.file, saved.kept) == ("floats.csv", "floats.csv.before")
    one, other = read_field(here).floats
    assert (one.lon, one.lat) == pytest.approx((lon, lat), abs=2e-9)
    assert one.position_of == "primary"
    assert one.position_error_m == pytest.approx(error, rel=2e-3)
    assert other.position_error_m is None
    # once more: it is there
    assert into(*points, place=True).written == ()


def test_a_position_that_is_surer_stays(pond):
    here, into = pond
    sure = FLOATS.replace("bearing_deg\n", "bearing_deg,position_error_ft\n").replace(
        "12,8,\n", "12,8,,0.5\n"
    )
    (here / "floats.csv").write_text(sure, encoding="utf-8")
    outcome = into(
        waypoint("15 primary", (3, 4)),
        waypoint("15 primary", (4, 6), day="2025-06-16"),
        place=True,
    )
    assert [one.file for one in outcome.written] == ["fixes.csv"]
    assert "float 15: the floats file has it surer (± 0.5 ft) and keeps it" in text_of(outcome)


def test_one_fix_of_the_primary_is_as_good_as_the_field_says(pond):
    here, into = pond
    outcome = into(waypoint("15 primary", (3, 4)), place=True)
    assert outcome.reports[0].table[1][2] == "3.0"
    assert read_field(here).floats[0].position_error_m is None


def test_a_slip_is_named(pond):
    _, into = pond
    points = [waypoint("15 primary", (k, 0), day=f"2025-06-1{k}") for k in range(3)]
    outcome = into(*points, waypoint("15 primary", (60, 0), day="2025-06-20"))
    text = text_of(outcome)
    assert "float 15: the fix of 2025-06-20 at 41.005" in text
    assert f"lies {59 / FT:.1f} ft from the mean of the others and is not in it" in text
    assert "mean of 3 fixes" in outcome.reports[0].table[1][4]


def test_fixes_in_different_winds_make_a_circle(pond):
    here, into = pond
    outcome = into(*in_the_winds((3.0, 4.0), far=(0.5, -0.4, 0.8, 0.0)))
    (row,) = outcome.reports[0].table[1:]
    # by the band from the numbers above, and the fit that its own tests hold
    radius = (CALM + TAUT) / 2 + np.array([0.5, -0.4, 0.8, 0.0])
    way = np.radians(np.array(WINDS) + 180)
    xy = np.column_stack([np.sin(way), np.cos(way)]) * radius[:, None] + (3.0, 4.0)
    wanted = fit_circle(
        FloatFixes(
            xy=xy, wind_from_deg=np.array(WINDS, dtype=float), sigma_m=3 * FT,
            calm_m=CALM, taut_m=TAUT,
        )
    )  # fmt: skip
    lat, lon = (float(part) for part in row[1].split(","))
    assert HERE.to_xy([lon], [lat]) == pytest.approx(
        np.array([[wanted.x_m], [wanted.y_m]]), abs=0.02
    )
    assert np.hypot(wanted.x_m - 3, wanted.y_m - 4) < 2 * wanted.error_m
    assert float(row[2]) == pytest.approx(wanted.error_m / FT, abs=0.11)
    assert (
        row[4]
        == f"circle of 4 fixes of the float, radius {wanted.radius_m / FT:.1f} ft (of 9.0 ft to 17.9 ft)"
    )
    assert (here / "floats.csv").read_text(encoding="utf-8") == FLOATS


def test_old_fixes_of_the_folder_count(pond):
    here, into = pond
    first, second, third, fourth = in_the_winds((3.0, 4.0))
    assert into(first, second).reports[0].table == ()
    outcome = into(third, fourth, place=True)
    assert "circle of 4 fixes" in outcome.reports[0].table[1][4]
    one = read_field(here).floats[0]
    x, y = HERE.to_xy([one.lon], [one.lat])
    assert (x[0], y[0]) == pytest.approx((3.0, 4.0), abs=0.6)
    assert 0.5 < one.position_error_m < 3 * FT
    # only the floats that the new files are of are placed
    assert into(waypoint("16 float", (84, 111)), place=True).written[0].file == "fixes.csv"


def test_a_placed_float_was_a_fix_in_a_wind(pond):
    here, into = pond
    text = FLOATS.replace("bearing_deg\n", "bearing_deg,position_of,wind_from_deg\n").replace(
        "12,8,\n", "12,8,,float,270\n"
    )
    (here / "floats.csv").write_text(text, encoding="utf-8")
    into(*in_the_winds((3.0, 4.0)), place=True)
    one = read_field(here).floats[0]
    assert (one.position_of, one.wind_from_deg) == ("primary", None)


@pytest.mark.parametrize(
    ("winds", "why"),
    [
        ((270, 90), "a circle needs 3 or more in different winds"),
        ((200, 220, 250, 270), "they lie within 70° of bearing, and a centre needs more than 90°"),
    ],
)
def test_what_is_no_centre_is_kept_as_fixes(pond, winds, why):
    here, into = pond
    outcome = into(*in_the_winds(winds=winds), place=True)
    assert outcome.reports[0].table == ()
    assert f"float 15: {len(winds)} fixes of the float kept as such: {why}" in text_of(outcome)
    assert [one.file for one in outcome.written] == ["fixes.csv"]
    assert len(rows_of(here)) == len(winds)
    assert (here / "floats.csv").read_text(encoding="utf-8") == FLOATS


def test_a_far_fix_of_a_circle_is_named(pond):
    _, into = pond
    good = [*in_the_winds((3.0, 4.0)), *in_the_winds((3.0, 4.0), winds=(330, 90))]
    outcome = into(*good, waypoint("15 float wind 180", (70, 4), day="2025-07-20"))
    text = text_of(outcome)
    assert "the fix of 2025-07-20" in text
    assert "lies far from the circle of the others and is not in it" in text
    assert "far from where the floats file has them, look whether they are of another" in text


def test_one_chain_back_from_the_secondary(pond):
    _, into = pond
    outcome = into(waypoint("16 secondary", (90, 110)))
    (row,) = outcome.reports[0].table[1:]
    lat, lon = (float(part) for part in row[1].split(","))
    # its bearing is 90: the primary lies 8 ft west
    assert HERE.to_xy([lon], [lat]) == pytest.approx(np.array([[90 - 8 * FT], [110.0]]), abs=0.02)
    # 3 ft of position and 8 ft turned by 20 degrees
    assert float(row[2]) == pytest.approx(np.hypot(3, 8 * np.sin(np.radians(20))), abs=0.11)
    assert "no bearing_deg" in text_of(into(waypoint("15 secondary", (1, 2))))


def test_a_place_on_land_is_no_primary(pond):
    here, into = pond
    at = (-460.0, 0.0)  # the shore is 420 m west
    outcome = into(waypoint("15 primary", at), place=True)
    assert "that place is on land" in text_of(outcome)
    assert [one.file for one in outcome.written] == ["fixes.csv"]
    assert (here / "floats.csv").read_text(encoding="utf-8") == FLOATS


def test_what_is_not_taken_is_told(pond):
    here, into = pond
    text = text_of(
        into(
            waypoint("154 primary", (1, 2)),
            waypoint("Waypoint 15", (1, 2)),
            waypoint("15 primary", (30_000, 0)),
            waypoint("15 primary", (1, 2)).replace('lat="41.005', 'lat="141.005'),
            waypoint("15 wind to the west", (1, 2)),
        )
    )
    assert "1 no such float in the floats file (waypoint 1: '154'; the nearest is 15)" in text
    assert "1 it names no float; say --float ID (waypoint 2: 'Waypoint 15')" in text
    assert "1 not by this lake (waypoint 3: 41.00" in text
    assert "1 a waypoint that can't be read (waypoint 4: lat '141.005" in text
    assert "1 told a wind, but not where it came from" in text
    assert len(rows_of(here)) == 1


def test_options_hold_where_the_file_says_nothing(pond):
    here, into = pond
    into(
        waypoint("Waypoint 3", (1, 2), day=None),
        waypoint("16 secondary", (90, 110)),
        float_id="15",
        position_of="float",
        wind_from_deg=90.0,
        day=date(2025, 7, 4),
    )
    assert [tuple(row.values()) for row in rows_of(here)] == [
        ("2025-07-04", "15", rows_of(here)[0]["lon"], rows_of(here)[0]["lat"], "float", "90"),
        ("2025-06-14", "16", rows_of(here)[1]["lon"], rows_of(here)[1]["lat"], "secondary", ""),
    ]


def test_a_fix_without_a_day_is_a_problem(pond):
    here, into = pond
    with pytest.raises(BadInputError, match=r"1 of 2 fixes name no day .*waypoint 2.*--date"):
        into(waypoint("15 primary", (1, 2)), waypoint("16 primary", (90, 110), day=None))
    assert not (here / "fixes.csv").exists()


def test_an_unknown_float_option_names_the_nearest(pond):
    _, into = pond
    with pytest.raises(BadInputError, match="no float '151' in the floats file; did you mean 15"):
        into(waypoint("x", (1, 2)), float_id="151")


def test_what_was_sent_out_comes_in_again(pond, tmp_path):
    here, _ = pond
    field = read_field(here)
    assessment = assess(field)
    export(assessment, tmp_path / "out.gpx", owners=False)
    outcome = gather(here, [tmp_path / "out.gpx"], Asked(day=date(2025, 6, 14)))
    found = {(one["float_id"], one["position_of"]): one for one in read_field(here).fixes}
    assert len(found) == 4
    for one in assessment.floats:
        primary = found[one.record.float_id, "primary"]
        assert (primary["lon"], primary["lat"]) == pytest.approx((one.lon, one.lat), abs=1e-7)
        second = found[one.record.float_id, "secondary"]
        wanted = (one.secondary.lon, one.secondary.lat)
        assert (second["lon"], second["lat"]) == pytest.approx(wanted, abs=1e-7)
    assert "as an exported map has it, so it tells nothing new: float 15" in text_of(outcome)


def test_a_track_that_lay_still_is_one_fix(pond):
    here, into = pond
    rng = np.random.default_rng(2)
    lon, lat = HERE.to_lonlat(*rng.normal((5.0, 7.0), 2, (60, 2)).T)
    points = "".join(
        f'<trkpt lat="{y:.8f}" lon="{x:.8f}"><time>2025-06-14T10:00:00Z</time></trkpt>'
        for x, y in zip(lon, lat, strict=True)
    )
    track = f"<trk><trkseg>{points}</trkseg></trk>"
    outcome = into(track, kind="fixes", float_id="15", position_of="primary")
    (row,) = rows_of(here)
    x, y = HERE.to_xy([float(row["lon"])], [float(row["lat"])])
    assert (x[0], y[0]) == pytest.approx((5.0, 7.0), abs=1.2)
    assert "1 from a track that lay still: the middle of its points" in text_of(outcome)
    long = track.replace('lat="41.005', 'lat="41.003', 30)
    assert "a track that went about, so it is no fix" in text_of(
        into(long, kind="fixes", float_id="15")
    )
    assert "a track, which names no float" in text_of(into(track, kind="fixes"))


def test_a_table_of_fixes(pond):
    here, into = pond
    text = (
        "float_id,date,lon,lat,position_of,wind_from_deg\n"
        "15,2025-06-14,-37.0051,41.0051,float,SW\n"
        "16,,-37.0041,41.0061,primary,\n"
        "99,2025-06-14,-37.0041,41.0061,primary,\n"
    )
    outcome = into(text, name="list.csv", day=date(2025, 7, 1))
    assert [(r["float_id"], r["date"], r["wind_from_deg"]) for r in rows_of(here)] == [
        ("15", "2025-06-14", "225"),
        ("16", "2025-07-01", ""),
    ]
    assert "no such float in the floats file (row 4: '99'" in text_of(outcome)
    with pytest.raises(BadInputError, match=r"list.csv row 2 wind_from_deg: 'XW' is no bearing"):
        into(text.replace("SW", "XW"), name="list.csv", day=date(2025, 7, 1))


@pytest.mark.parametrize(
    "head",
    [
        '<!DOCTYPE gpx [<!ENTITY a "15"><!ENTITY b "&a;&a;">]>',
        '<!DOCTYPE gpx [<!ENTITY a SYSTEM "file:///etc/hostname">]>',
    ],
)
def test_entities_are_refused(pond, head):
    here, into = pond
    with pytest.raises(BadInputError, match="defines entities or a document type"):
        into(head + gpx(waypoint("&a; primary", (1, 2))), kind="fixes")
    assert not (here / "fixes.csv").exists()


def test_texts_are_data(pond):
    here, into = pond
    (here / "floats.csv").write_text(FLOATS.replace("\n15,", "\n=1+1,"), encoding="utf-8")
    into(waypoint("=1+1 primary", (1, 2), desc="&lt;script&gt;alert(1)&lt;/script&gt;"))
    (one,) = read_field(here).fixes
    assert one["float_id"] == "=1+1"
    raw = (here / "fixes.csv").read_text(encoding="utf-8")
    assert ",=1+1" not in raw  # marked as text, so that no spreadsheet runs it
    assert "script" not in raw


def test_from_the_command_line(pond, tmp_path, capsys):
    here, _ = pond
    path = tmp_path / "phone.gpx"
    path.write_text(gpx(*in_the_winds((3.0, 4.0)), waypoint("x", (1, 2), day=None)), "utf-8")
    words = ["gather", str(here), str(path), "--float", "15", "--date", "2025-06-20", "--place"]
    assert main([*words, "--position-of", "float", "--wind-from", "SSW"]) == 0
    said = capsys.readouterr().out
    assert "phone.gpx: 5 fixes taken" in said
    assert "circle of 5 fixes of the float" in said
    assert "written: floats.csv (as it was before: floats.csv.before)" in said
    assert rows_of(here)[-1]["wind_from_deg"] == "202.5"
    assert main([*words, "--wind-from", "upwind"]) == 2
    assert "'upwind' is no bearing" in capsys.readouterr().err
