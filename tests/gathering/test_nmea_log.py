"""A log's depths between its fixes: where they lie, when, and which of them are left out."""

import math
from datetime import date

import pytest
from sounder_logs import LAT, LON, dbt, dpt, gga, rmc, sentence

from lakemap.basis.errors import BadInputError
from lakemap.gathering.lines import Tally
from lakemap.gathering.nmea_log import NmeaLog
from lakemap.gathering.records import Asked

NOON = 12 * 3600


def read(tmp_path, *lines, **asked):
    path, tally = tmp_path / "some.log", Tally()
    path.write_bytes("".join(lines).encode("latin-1"))
    return list(NmeaLog(Asked(**asked), tally).rows(path)), tally


def left(tally):
    return [(one.count, one.words, one.first) for one in tally.left()]


def test_depths_are_spread_evenly_between_the_fixes(tmp_path):
    rows, tally = read(
        tmp_path, gga(NOON), dpt(5.0, 0.4), dpt(6.0, 0.4), dpt(7.0, 0.4),
        gga(NOON + 4, LAT + 0.0004, LON + 0.0008), dpt(8.0, 0.4),
        gga(NOON + 6, LAT + 0.0004, LON + 0.0010),
    )  # fmt: skip
    assert [row.read_m for row in rows] == [5, 6, 7, 8]
    assert [row.lat for row in rows] == pytest.approx(
        [LAT + 0.0001, LAT + 0.0002, LAT + 0.0003, LAT + 0.0004], abs=1e-9
    )
    assert [row.lon for row in rows] == pytest.approx(
        [LON + 0.0002, LON + 0.0004, LON + 0.0006, LON + 0.0009], abs=1e-9
    )
    assert [row.line for row in rows] == [2, 3, 4, 6]
    assert [row.below_m for row in rows] == [0.4] * 4
    assert [row.day for row in rows] == [0] * 4
    assert left(tally) == []


def test_two_sentences_of_one_moment_are_one_fix(tmp_path):
    step = LON + 0.0002
    rows, _ = read(tmp_path, gga(NOON), dpt(5.0), rmc(NOON), dpt(6.0), gga(NOON + 2, LAT, step))
    # both depths come before the next moment, a third and two thirds of the way
    assert [row.lon for row in rows] == pytest.approx(
        [LON + 0.0002 / 3, LON + 0.0004 / 3], abs=1e-9
    )
    assert [row.day for row in rows] == [date(2025, 6, 14).toordinal()] * 2


@pytest.mark.parametrize(("gap", "taken"), [(10, 1), (10.1, 0), (600, 0), (-1, 0)])
def test_no_position_across_a_gap(tmp_path, gap, taken):
    rows, tally = read(tmp_path, gga(NOON), dpt(5.0), gga(NOON + gap))
    assert len(rows) == taken
    told = "no position before and after it, within 10 seconds"
    assert left(tally) == ([] if taken else [(1, told, "line 2")])


def test_before_the_first_fix_and_after_the_last(tmp_path):
    rows, tally = read(tmp_path, dpt(4.0), gga(NOON), gga(NOON + 1), dpt(5.0), dpt(6.0))
    assert rows == []
    assert left(tally) == [
        (2, "no position after it, within 10 seconds", "line 4"),
        (1, "no position before and after it, within 10 seconds", "line 1"),
    ]


def test_a_bad_fix_is_no_fix(tmp_path):
    far = (LAT + 1, LON)
    for bad in (gga(NOON + 1, *far, quality=0), rmc(NOON + 1, *far, status="V")):
        rows, tally = read(tmp_path, gga(NOON), bad, dpt(5.0), gga(NOON + 2))
        assert rows[0].lat == pytest.approx(LAT, abs=1e-9)
        assert left(tally)[0][2] == "line 2"
        assert "doesn't vouch for" in left(tally)[0][1]


def test_past_midnight_by_the_clock_and_by_the_date(tmp_path):
    midnight = 24 * 3600
    late = [gga(midnight - 1), dpt(5.0), gga(midnight), dpt(6.0), gga(midnight + 1)]
    rows, _ = read(tmp_path, *late, day=date(2025, 6, 14))
    assert [date.fromordinal(row.day).day for row in rows] == [15, 15]
    dated = [
        rmc(midnight - 2, day="300625"), dpt(4.0), rmc(midnight - 1, day="300625"), dpt(5.0),
        rmc(midnight, day="010725"), dpt(6.0), gga(midnight + 1),
    ]  # fmt: skip
    rows, _ = read(tmp_path, *dated, day=date(1999, 1, 1))  # the log's own date goes before
    assert [date.fromordinal(row.day) for row in rows] == [
        date(2025, 6, 30), date(2025, 7, 1), date(2025, 7, 1),
    ]  # fmt: skip


def test_two_days_in_one_log(tmp_path):
    parts = [
        line
        for day, at in (("140625", NOON), ("200625", NOON - 3600))
        for line in (rmc(at, day=day), dpt(5.0), rmc(at + 1, day=day))
    ]
    rows, _ = read(tmp_path, *parts)
    assert [date.fromordinal(row.day).day for row in rows] == [14, 20]


def test_the_best_sentence_of_a_sounder_once(tmp_path):
    every = [dbt(5.0), dbt(5.3, "DBS"), dpt(5.0, 0.0)]

    def taken(*lines, **asked):
        rows, tally = read(tmp_path, gga(NOON), *lines, gga(NOON + 1), **asked)
        (row,) = rows
        return round(row.read_m, 6), row.below_m, tally.told

    # an offset of 0 tells nothing: the depth below the surface is better
    assert taken(*every) == (5.3, 0.0, {"DBS": 1, "doubled": 2})
    assert taken(*every, dpt(5.0, 0.4))[:2] == (5.0, 0.4)
    # the user knows how deep the transducer hangs
    assert taken(*every, transducer_depth_m=0.5)[:2] == (5.0, 0.5)
    assert taken(dbt(5.0), dpt(5.0, 0.4), transducer_depth_m=0.5)[:2] == (5.0, 0.5)
    alone = taken(dbt(5.0))
    assert alone[0] == 5.0
    assert math.isnan(alone[1])
    assert alone[2] == {"no offset": 1}


def test_an_offset_to_the_keel_is_no_offset_to_the_surface(tmp_path):
    rows, tally = read(tmp_path, gga(NOON), dpt(5.0, -0.6), gga(NOON + 1))
    assert math.isnan(rows[0].below_m)
    assert tally.offsets_m == {-0.6}


def test_the_sounders_offset_holds_where_one_sentence_lacks_it(tmp_path):
    rows, _ = read(
        tmp_path, gga(NOON), dpt(5.0, 0.4), gga(NOON + 1), dbt(5.1), gga(NOON + 2)
    )  # fmt: skip
    assert [row.below_m for row in rows] == [0.4, 0.4]


def test_depth_below_the_keel_needs_the_keels_depth(tmp_path):
    lines = (gga(NOON), dbt(5.0, "DBK"), gga(NOON + 1))
    rows, tally = read(tmp_path, *lines)
    assert rows == []
    assert "below the keel (DBK)" in left(tally)[0][1]
    assert "--transducer-depth" in left(tally)[0][1]
    rows, _ = read(tmp_path, *lines, transducer_depth_m=0.7)
    assert (round(rows[0].read_m, 6), rows[0].below_m) == (5.0, 0.7)


def test_damage_is_counted_with_its_first_place(tmp_path):
    good = dpt(5.0, 0.4)
    bad = good.replace("5.0", "6.0")
    cut = good.partition("*")[0] + "\r\n"
    rows, tally = read(tmp_path, gga(NOON), bad, good, bad, cut, gga(NOON + 1))
    assert [row.read_m for row in rows] == [5.0]
    is_sum, summed = good[-4:-2], f"{int(good[-4:-2], 16) ^ ord('5') ^ ord('6'):02X}"
    assert left(tally) == [
        (2, "the checksum is wrong: damaged on its way", f"line 2: DPT says {is_sum}, is {summed}"),
        (1, "no checksum, where others have one: cut short", "line 5"),
    ]


def test_a_log_without_any_sums_is_believed(tmp_path):
    def bare(line):
        return line.partition("*")[0] + "\n"

    rows, tally = read(tmp_path, bare(gga(NOON)), bare(dpt(5.0, 0.4)), bare(gga(NOON + 1)))
    assert len(rows) == 1
    assert left(tally) == []


def test_fields_that_make_no_sense_are_told(tmp_path):
    rows, tally = read(
        tmp_path, sentence("GPGGA,1200,4100.3,N,03700.3,W,1"), sentence("SDDPT,3.x,0"),
        sentence("SDDPT,,"), sentence("GPGGA,120000"),
    )  # fmt: skip
    assert rows == []
    assert left(tally) == [
        (2, "a sentence that can't be read", "line 1: GGA, '1200' is no time of day"),
        (1, "no depth in it: the sounder had lost the bottom", "line 3"),
        (1, "a position that the receiver itself doesn't vouch for (no fix)", "line 4"),
    ]


def test_what_a_logger_puts_in_front_and_noise_do_no_harm(tmp_path):
    noise = "\x00\xff\xfe garbage\n" + "x" * 200_000 + "\n"
    stamped = "2025-06-14T12:00:00Z\t" + gga(NOON)
    rows, tally = read(tmp_path, noise, stamped, "12:00 " + dpt(5.0, 0.4), gga(NOON + 1))
    assert len(rows) == 1
    assert left(tally) == []


def test_depths_without_any_fix_are_not_kept_in_memory(tmp_path):
    rows, tally = read(tmp_path, dpt(5.0) * 5000)
    assert rows == []
    assert sum(count for count, _, _ in left(tally)) == 5000


def test_an_empty_file(tmp_path):
    with pytest.raises(BadInputError, match=r"some\.log: the file is empty"):
        read(tmp_path)
