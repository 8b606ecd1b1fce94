"""Soundings gathered into a folder: what is written, what never is, the same log twice."""

import csv
import subprocess
import sys
from datetime import date

import numpy as np
import pytest
from sounder_logs import LAT, LON, dbt, dpt, gga, rmc

from lakemap.basis.errors import BadInputError
from lakemap.gathering import gather as front
from lakemap.gathering.gather import gather
from lakemap.gathering.records import Asked
from lakemap.inputs.folder import read_field
from lakemap.saving.records import Saved, Underneath

FT = 0.3048
STEP = 0.00006  # degrees of longitude: 5.0 m, more than a square
OLD = "date,lon,lat,depth_ft,level_ft\n2024-07-01,-37.006,41.006,20,0.5\n"
GAUGE = "date,level_ft\n2025-06-12,0.2\n2025-06-22,0.7\n"


def log(depths, *, start=12 * 3600, day="140625", offset=0.3, lat=LAT):
    """A fix and a depth a second; the boat runs east."""
    lines = []
    for k, depth in enumerate(depths):
        lines += [rmc(start + k, lat, LON + k * STEP, day=day), dpt(f"{depth:.2f}", offset)]
    return "".join([*lines, rmc(start + len(depths), lat, LON + len(depths) * STEP, day=day)])


def put(tmp_path, text, name="some.log"):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def rows_of(here, name="soundings.csv"):
    with (here / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def words(report):
    return "\n".join([*report.lines, *(f"{one.count} {one.words}" for one in report.left)])


def test_a_log_into_a_folder_that_has_soundings(folder, tmp_path):
    here = folder(soundings__csv=OLD, levels__csv=GAUGE)
    path = put(tmp_path, log([3.0, 3.2, 3.1, 3.3]))
    outcome = gather(here, [path], Asked())
    (report,), (saved,) = outcome.reports, outcome.written
    assert (report.kind, report.taken) == ("soundings", 4)
    assert isinstance(saved, Saved)
    assert (saved.file, saved.kept) == ("soundings.csv", "soundings.csv.before")
    assert (here / "soundings.csv.before").read_text(encoding="utf-8") == OLD
    assert (here / "soundings.csv").read_text(encoding="utf-8").startswith(OLD)
    new = rows_of(here)[1:]
    # depth below the transducer and how deep it hangs, at the level of the day: a fifth of the way
    # from 0.2 to 0.7 ft
    assert [float(row["depth_ft"]) for row in new] == [
        round(depth / FT, 2) for depth in (3.3, 3.5, 3.4, 3.6)
    ]
    assert {row["level_ft"] for row in new} == {"0.3"}
    assert {row["date"] for row in new} == {"2025-06-14"}
    assert [float(row["lon"]) for row in new] == pytest.approx(
        [LON + (k + 0.5) * STEP for k in range(4)], abs=2e-9
    )
    # read again, at the soundings' level (normal, 0 ft)
    assert read_field(here).soundings.depth_m[1:] == pytest.approx(
        [3.3 - 0.3 * FT, 3.5 - 0.3 * FT, 3.4 - 0.3 * FT, 3.6 - 0.3 * FT], abs=0.005 * FT
    )
    assert "2025-06-14: the lake stood at 0.3 ft, by the gauge readings of" in words(report)


def test_the_same_log_twice_adds_nothing(folder, tmp_path):
    here = folder(levels__csv=GAUGE)
    rng = np.random.default_rng(5)
    path = put(tmp_path, log(rng.uniform(2, 9, 80).tolist()))
    first = gather(here, [path], Asked())
    text = (here / "soundings.csv").read_bytes()
    again = gather(here, [path, put(tmp_path, path.read_bytes(), "copy.log")], Asked())
    assert first.reports[0].taken > 70
    assert [one.taken for one in again.reports] == [0, 0]
    assert again.written == ()
    assert (here / "soundings.csv").read_bytes() == text
    already = next(one for one in again.reports[0].left if "already in" in one.words)
    assert already.count == first.reports[0].taken


def test_two_copies_in_one_call_are_one(folder, tmp_path):
    here, text = folder(), log([3.0, 3.2, 3.1, 3.3])
    paths = [put(tmp_path, text), put(tmp_path, text, "copy.log")]
    outcome = gather(here, [*paths, paths[0]], Asked())
    assert [one.taken for one in outcome.reports] == [4, 0]
    assert len(rows_of(here)) == 4


def test_the_same_log_with_another_offset_is_not_mixed_in(folder, tmp_path):
    here = folder(levels__csv=GAUGE)
    path = put(tmp_path, log([3.0, 3.2, 3.1, 3.3]))
    gather(here, [path], Asked())
    (report,) = gather(here, [path], Asked(transducer_depth_m=0.6)).reports
    assert report.taken == 0
    (left,) = report.left
    assert "another depth of that day at the very same place is there already" in left.words
    assert left.count == 4
    assert left.first == "line 2: 11.8 ft; there 10.8 ft"  # 3.6 m and 3.3 m
    # another day's log at those places is no copy
    other = put(tmp_path, log([3.0, 3.2, 3.1, 3.3], day="150625"), "sunday.log")
    assert gather(here, [other], Asked(transducer_depth_m=0.6)).reports[0].taken == 4


def test_a_preview_writes_nothing(folder, tmp_path):
    here = folder(soundings__csv=OLD)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    path = put(tmp_path, log([5.0] * 8 + [1.0, 12.0] + [5.0] * 8))
    outcome = gather(here, [path], Asked(preview=True))
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before
    assert outcome.written == ()
    (report,) = outcome.reports
    assert report.taken == 16
    assert report.table_title == "far from those around them, 2 that would be dropped:"
    header, shallow, deep = report.table
    assert header == ("line", "position", "depth", "around it")
    assert (shallow[0], shallow[2], shallow[3]) == ("18", "4.3 ft", "17.4 ft")  # 1.3 and 5.3 m
    assert (deep[0], deep[2]) == ("20", "40.4 ft")
    assert shallow[1] == f"{LAT:.5f},{LON + 8.5 * STEP:.5f}"


def test_outliers_are_dropped_and_told_or_kept_as_asked(folder, tmp_path):
    path = put(tmp_path, log([5.0] * 8 + [1.0] + [5.0] * 8))
    here = folder()
    (report,) = gather(here, [path], Asked()).reports
    assert (report.taken, len(rows_of(here))) == (16, 16)
    assert "1 far from those around it (--keep-outliers keeps them)" in words(report)
    (again,) = gather(here, [path], Asked(keep_outliers=True)).reports
    assert again.taken == 1
    assert "kept, as you asked" in again.table_title
    assert min(float(row["depth_ft"]) for row in rows_of(here)) == round(1.3 / FT, 2)


def test_every_reason_to_leave_something_out(folder, tmp_path):
    here = folder()
    good = dpt("4.00", 0.3)
    told = good[-4:-2]
    summed = f"{int(told, 16) ^ ord('4') ^ ord('5'):02X}"
    lines = (
        log([4.0, 0.0, -2.0, 400.0, 4.0]),
        log([4.0, 4.0], lat=42.0, start=13 * 3600),
        rmc(14 * 3600, status="V"),
        good.replace("4.00", "5.00"),
        dpt("", 0.3),
    )
    (report,) = gather(here, [put(tmp_path, "".join(lines))], Asked(preview=True)).reports
    assert report.taken == 2
    assert {one.words: (one.count, one.first) for one in report.left} == {
        "a depth of 0 or less: the sounder had lost the bottom": (
            2, f"line 4: 0.0 ft at {LAT:.5f},{LON + 1.5 * STEP:.5f}"),
        "deeper than 328.1 ft, beyond belief here": (
            1, f"line 8: 1,313.3 ft at {LAT:.5f},{LON + 3.5 * STEP:.5f}"),
        "outside the lake's outline": (
            2, f"line 13: 14.1 ft at 42.00000,{LON + 0.5 * STEP:.5f}"),
        "a position that the receiver itself doesn't vouch for (no fix)": (1, "line 17"),
        "the checksum is wrong: damaged on its way": (1, f"line 18: DPT says {told}, is {summed}"),
        "no depth in it: the sounder had lost the bottom": (1, "line 19"),
    }  # fmt: skip


def test_speed_of_sound_first_then_the_offset(folder, tmp_path):
    here = folder()
    asked = Asked(sound_speed_m_s=1470.0, transducer_depth_m=0.5, every_m=0.0)
    (report,) = gather(here, [put(tmp_path, log([4.0, 10.0]))], asked).reports
    depths = [float(row["depth_ft"]) for row in rows_of(here)]
    assert depths == [round((4 * 0.98 + 0.5) / FT, 2), round((10 * 0.98 + 0.5) / FT, 2)]
    assert "sounder reckoned with 1,500: readings × 0.9800" in words(report)
    assert "the log says 1 ft" in "\n".join(report.cautions)  # 0.3 m


def test_the_level_is_the_users_where_he_says_it(folder, tmp_path):
    here = folder(levels__csv=GAUGE)
    (report,) = gather(here, [put(tmp_path, log([4.0]))], Asked(level_m=-0.3 * FT)).reports
    assert rows_of(here)[0]["level_ft"] == "-0.3"
    assert report.cautions == ()
    assert "2025-06-14: the lake stood at −0.3 ft, as you said" in report.lines


def test_an_unread_level_is_a_caution(folder, tmp_path):
    here = folder()
    (report,) = gather(here, [put(tmp_path, log([4.0]))], Asked()).reports
    assert rows_of(here)[0]["level_ft"] == "0"
    assert "nobody read the gauge within 14 days of 2025-06-14" in report.cautions[0]


def test_a_field_in_metres_gets_metres(folder, tmp_path):
    toml = 'units = "m-kg"\n[levels]\nlow = "-0.3 m"\nnormal = "0 m"\nhigh = "0.3 m"\n'
    here = folder(field__toml=toml)
    (report,) = gather(here, [put(tmp_path, log([4.0, 4.1234]))], Asked()).reports
    assert (here / "soundings.csv").read_text(encoding="utf-8").splitlines() == [
        "date,lon,lat,depth_m,level_m",
        f"2025-06-14,{LON + 0.5 * STEP:.9f},{LAT:.9f},4.3,0",
        f"2025-06-14,{LON + 1.5 * STEP:.9f},{LAT:.9f},4.42,0",
    ]
    assert "transducer hangs 0.30 m below the surface" in words(report)


def test_the_folders_own_columns_and_units(folder, tmp_path):
    own = "x,y,depth_m,who\n-37.006,41.006,6.5,me\n"
    here = folder(soundings__csv=own)
    gather(here, [put(tmp_path, log([4.0]))], Asked(level_m=0.1))
    text = (here / "soundings.csv").read_text(encoding="utf-8").splitlines()
    assert text[0] == "x,y,depth_m,who,level_m,date"
    assert text[1] == "-37.006,41.006,6.5,me,,"
    assert text[2] == f"{LON + 0.5 * STEP:.9f},{LAT:.9f},4.3,,0.1,2025-06-14"


def test_agreement_with_what_was_there(folder, tmp_path):
    rows = "".join(f"{LON + (k + 0.5) * STEP:.9f},{LAT + 1e-5:.9f},10.0\n" for k in range(12))
    here = folder(soundings__csv=f"lon,lat,depth_ft\n{rows}")
    path = put(tmp_path, log([13.0 * FT - 0.3] * 12))
    (report,) = gather(here, [path], Asked(preview=True)).reports
    assert "12 lie within 10 ft of soundings that were there: 3.0 ft deeper on the whole" in words(
        report
    )
    assert "on the whole 3.0 ft deeper than the soundings that were there" in "\n".join(
        report.cautions
    )


def test_thinning_and_a_shoal(folder, tmp_path):
    here = folder()
    # a parked boat: one square
    lines = "".join(rmc(43200 + k) + dpt("5.00", 0.3) for k in range(40)) + rmc(43240)
    rock = "".join(rmc(43300 + k) + dpt(f"{d:.2f}", 0.3) for k, d in enumerate([4.2, 4.0, 4.2]))
    path = put(tmp_path, lines + rock + rmc(43303))
    (report,) = gather(here, [path], Asked()).reports
    assert sorted(float(row["depth_ft"]) for row in rows_of(here)) == [
        round(4.3 / FT, 2), round(5.3 / FT, 2),
    ]  # fmt: skip
    assert "thinned to 2: the middle depth of each square of 10 ft, and 1 shoal (" in words(report)


def test_all_problems_of_all_files_at_once(folder, tmp_path):
    here = folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n1,-37.005,41.005,ten,8\n")
    files = [
        put(tmp_path, "lat,lon,depth\n41.005,-37.005,3\n", "unit.csv"),
        put(tmp_path, "lat,lon,speed\n41.005,-37.005,3\n", "none.csv"),
        put(tmp_path, "", "empty.log"),
        tmp_path / "away.log",
    ]
    with pytest.raises(BadInputError) as told:
        gather(here, files, Asked())
    said = str(told.value)
    assert "floats.csv row 2 length_ft: 'ten' is no quantity" in said
    assert "none.csv: the header names no depth" in said
    assert "empty.log: the file is empty" in said
    assert "away.log: there is no such file" in said
    assert "unit.csv" not in said  # it needs the field to be read
    with pytest.raises(BadInputError) as told:
        gather(folder(), [*files, put(tmp_path, log([4.0]))], Asked())
    assert "unit.csv: 'depth' has no unit" in str(told.value)
    assert not (here / "soundings.csv").exists()


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("a.log", gga(1.0), "the log holds no depths; say --as shore"),
        ("a.gpx", "<gpx><trk><trkseg><trkpt lat='41' lon='-37'/></trkseg></trk></gpx>",
         "it holds a track without depths; say --as shore if you went round the lake"),
        ("a.gpx", "<gpx></gpx>", "it holds no track and no waypoint"),
        ("a.bin", b"\x00\x01\x02", "what it holds can't be told"),
        ("a.geojson", "{}", "what it holds can't be told"),
    ],
)  # fmt: skip
def test_files_that_do_not_tell_what_they_are(folder, tmp_path, name, text, said):
    with pytest.raises(BadInputError, match=said):
        gather(folder(), [put(tmp_path, text, name)], Asked())


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("depths.txt", log([4.0])),  # a log, whatever it is called
        ("depths.csv", f"{LON} {LAT} 4.3\n"),
        ("depths.log", f"lat,lon,depth_m\n{LAT},{LON},4.3\n"),
        ("depths.xml", f"<gpx><trk><trkseg><trkpt lat='{LAT}' lon='{LON}'><extensions><depth>4.3"
         "</depth></extensions></trkpt></trkseg></trk></gpx>"),
    ],
)  # fmt: skip
def test_what_stands_in_a_file_counts_not_its_name(folder, tmp_path, name, text):
    here = folder()
    outcome = gather(here, [put(tmp_path, text, name)], Asked(depth_unit="m"))
    assert outcome.reports[0].taken == 1
    assert rows_of(here)[0]["depth_ft"] == str(round(4.3 / FT, 2))


def test_all_depth_sentences_of_one_sounder_are_one_depth(folder, tmp_path):
    lines = "".join(
        rmc(43200 + k, LAT, LON + k * STEP) + dbt(4.0) + dpt("4.00", 0.3) for k in range(5)
    )
    (report,) = gather(folder(), [put(tmp_path, lines)], Asked(preview=True)).reports
    assert report.taken == 4
    assert "4 depths that the sounder told twice were read once" in report.lines


def test_a_file_that_changed_meanwhile_is_left_alone(folder, tmp_path, monkeypatch):
    here = folder(soundings__csv=OLD)
    path = put(tmp_path, log([4.0]))
    mine = OLD + "2025-01-01,-37.006,41.0061,19,0\n"

    def read_and_change(where):
        field = read_field(where)
        (here / "soundings.csv").write_text(mine, encoding="utf-8")
        return field

    monkeypatch.setattr(front, "read_field", read_and_change)
    (done,) = gather(here, [path], Asked()).written
    assert isinstance(done, Underneath)
    assert (here / "soundings.csv").read_text(encoding="utf-8") == mine
    assert len(rows_of(here, done.kept)) == 2


def test_soundings_in_a_layer_are_refused_with_the_remedy(folder, tmp_path):
    layer = (
        '{"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {"depth_m":'
        ' 4}, "geometry": {"type": "Point", "coordinates": [-37.006, 41.006]}}]}'
    )
    here = folder(soundings__geojson=layer)
    with pytest.raises(BadInputError, match=r"save that file as soundings\.csv first"):
        gather(here, [put(tmp_path, log([4.0]))], Asked())
    assert (here / "soundings.geojson").read_text(encoding="utf-8") == layer


def test_days_of_a_log_have_their_own_level(folder, tmp_path):
    here = folder(levels__csv=GAUGE)
    text = log([4.0], day="120625") + log([4.0], day="220625", lat=LAT + 0.001)
    gather(here, [put(tmp_path, text)], Asked())
    assert [(row["date"], row["level_ft"]) for row in rows_of(here)] == [
        (date(2025, 6, 12).isoformat(), "0.2"),
        (date(2025, 6, 22).isoformat(), "0.7"),
    ]


MEASURE = """
import resource, sys
from lakemap.gathering.gather import gather
from lakemap.gathering.records import Asked
gather(sys.argv[1], [sys.argv[2]], Asked(preview=True))
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


@pytest.mark.slow
def test_a_million_lines_in_the_memory_of_fifty_thousand(folder, tmp_path):
    pytest.importorskip("resource")  # not everywhere
    here = folder()

    def peak_mb(lines):
        path = tmp_path / f"{lines}.log"
        with path.open("w", encoding="ascii", newline="") as file:
            rng = np.random.default_rng(1)
            for k in range(lines // 2):
                # to and fro over some 400 m, every second
                there = abs(k % 160 - 80)
                lat = LAT + (k // 160 % 60) * STEP
                file.write(rmc(k % 86400, lat, LON + there * STEP, day=f"{1 + k // 86400:02d}0625"))
                file.write(dpt(f"{rng.uniform(3, 5):.2f}", 0.3))
        ran = subprocess.run(
            [sys.executable, "-c", MEASURE, str(here), str(path)],
            check=True, capture_output=True, text=True,
        )  # fmt: skip
        return int(ran.stdout) / (1024 if sys.platform != "darwin" else 1024**2)

    small, large = peak_mb(50_000), peak_mb(1_000_000)
    # twenty times the log; a million soundings as rows of Python would take some 300 MB
    assert large < small + 60
