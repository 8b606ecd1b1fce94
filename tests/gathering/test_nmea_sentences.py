"""NMEA sentences as published, their checksums by counting bits, and what is in their fields."""

from datetime import date

import pytest

from lakemap.gathering.nmea import (
    DEPTHS,
    FIXES,
    Sentence,
    WrongSum,
    checksum,
    depth_of,
    fix_of,
    sentences,
)

ALL = FIXES | DEPTHS
# National Centers for Environmental Information, file format scs_dpt (2019): its example record
SCS_DPT = b"03/15/2010,14:08:45.876,$SDDPT,0006.29,002.40*6C"
# NOAA Physical Sciences Laboratory, ATOMIC 2020, ship's raw file gps02001420_raw.txt, as logged
SHIP = (
    b"0000030 $GPGGA,195959.00,1541.31258893,N,05130.51204125,W,2,06,1.5,9.2,M,-37.6,M,4.0,0138*7E",
    b"0001071 $GPGLL,1541.31248595,N,05130.51199976,W,200000.00,A,D*72",
    b"0000155 $GPRMC,195959.00,A,1541.31258893,N,05130.51204125,W,0.26,147.44,140120,16.9,W,D*0B",
)
# printed in many introductions to the standard; typed from memory
TEXTBOOK = (
    b"$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47",
    b"$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A",
)
# as the manual of an echo sounder prints it
MANUAL_DBS = b"$SDDBS,67.915,f,20.701,M,11.319,F*32"
PUBLISHED = (SCS_DPT, *SHIP, *TEXTBOOK, MANUAL_DBS)


def parity_sum(body):
    """The exclusive-or, bit by bit: a bit is set where an odd number of signs has it."""
    return sum((sum(sign >> bit & 1 for sign in body) % 2) << bit for bit in range(8))


def only(line, wanted=ALL):
    (one,) = sentences(line, wanted)
    return one


def sentence(kind, text):
    return Sentence(kind=kind, fields=tuple(text.split(",")), checked=True)


@pytest.mark.parametrize("line", PUBLISHED)
def test_published_sentences_have_the_sum_that_they_tell(line):
    body, _, told = line.partition(b"$")[2].partition(b"*")
    assert checksum(body) == parity_sum(body) == int(told, 16)
    assert only(line).checked


@pytest.mark.parametrize("line", PUBLISHED)
def test_one_wrong_sign_is_seen(line):
    at = line.index(b",", line.index(b"$")) + 1
    told = line[-2:]
    wrong = line[:at] + b"9" + line[at:]
    one = only(wrong)
    assert isinstance(one, WrongSum)
    assert one.says == told.decode()
    assert int(one.summed, 16) == parity_sum(wrong.partition(b"$")[2].partition(b"*")[0])


def test_the_position_of_a_ship():
    for line in SHIP[::2]:  # GGA and RMC of one second
        fix = fix_of(only(line))
        assert fix.lat == pytest.approx(15 + 41.31258893 / 60, abs=1e-12)
        assert fix.lon == pytest.approx(-(51 + 30.51204125 / 60), abs=1e-12)
        assert fix.seconds == 19 * 3600 + 59 * 60 + 59
    assert fix.day == date(2020, 1, 14)
    assert fix_of(only(SHIP[1])).seconds == 20 * 3600


def test_the_textbook_lies_in_bavaria_in_1994():
    gga, rmc = (fix_of(only(line)) for line in TEXTBOOK)
    assert (gga.lat, gga.lon) == pytest.approx((48.1173, 11.516666667), abs=1e-8)
    assert (rmc.lat, rmc.lon) == (gga.lat, gga.lon)
    assert (gga.day, rmc.day) == (None, date(1994, 3, 23))


def test_depth_and_offset_in_metres():
    sounded = depth_of(only(SCS_DPT))
    assert (sounded.kind, sounded.depth_m, sounded.offset_m) == ("DPT", 6.29, 2.4)


def test_of_three_units_the_one_with_the_finest_step():
    assert depth_of(only(MANUAL_DBS)).depth_m == pytest.approx(67.915 * 0.3048, abs=1e-12)
    # 12.1 ft is within 0.5 in, 3.7 m only within 2 in
    assert depth_of(sentence("DBT", "12.1,f,3.7,M,2.0,F")).depth_m == pytest.approx(3.68808)
    assert depth_of(sentence("DBT", ",f,3.69,M,2.0,F")).depth_m == 3.69
    assert depth_of(sentence("DBT", ",,,,2.0,F")).depth_m == pytest.approx(3.6576)


@pytest.mark.parametrize(("kind", "text"), [("DPT", ",0.5"), ("DPT", ""), ("DBT", ",f,,M,,F")])
def test_a_lost_bottom_is_no_depth(kind, text):
    assert depth_of(sentence(kind, text)) is None


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("GGA", "123519,4807.038,N,01131.000,E,0,00,,,M,,M,,"),  # no fix
        ("GGA", "123519,,,,,,00,,,M,,M,,"),
        ("GGA", "123519,4807.038,N,01131.000,E,6,08,0.9,545.4,M,46.9,M,,"),  # dead reckoning
        ("GGA", "123519,4807.038,N,01131.000,E,8,08,0.9,545.4,M,46.9,M,,"),  # simulator
        ("RMC", "123519,V,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W"),
        ("RMC", "123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W,E"),
        ("GLL", "4807.038,N,01131.000,E,123519,V"),
    ],
)
def test_what_the_receiver_does_not_vouch_for(kind, text):
    assert fix_of(sentence(kind, text)) is None


@pytest.mark.parametrize(
    ("kind", "text", "said"),
    [
        ("GGA", "123519,4860.038,N,01131.000,E,1", "'4860.038' 'N' is no position"),
        ("GGA", "123519,9100.000,N,01131.000,E,1", "no position"),
        ("GGA", "123519,4807.038,E,01131.000,N,1", "'4807.038' 'E' is no position"),
        ("GGA", "1235,4807.038,N,01131.000,E,1", "'1235' is no time of day"),
        ("RMC", "123519,A,4807.038,N,01131.000,E,0,0,310294", "'310294' is no date"),
        ("DPT", "nan,0.5", "'nan' is no number"),
        ("DPT", "1_0,0.5", "'1_0' is no number"),
        ("DPT", "6.3,x", "'x' is no number"),
    ],
)
def test_fields_that_are_not_what_they_should_be(kind, text, said):
    with pytest.raises(ValueError, match=said):
        (depth_of if kind == "DPT" else fix_of)(sentence(kind, text))


def test_a_makers_own_and_other_kinds_are_not_looked_at():
    for line in (b"$PXDPT,1,2*00", b"$SDMTW,20.1,C*00", b"no sentence", b"$", b"\xff\x00$GP"):
        assert sentences(line, ALL) == []


def test_a_line_end_that_was_lost_hides_no_sentence():
    both = sentences(TEXTBOOK[0] + TEXTBOOK[1], ALL)
    assert [one.kind for one in both] == ["GGA", "RMC"]


def test_without_a_sum_it_is_not_checked():
    assert not only(b"$SDDPT,3.5,0.2\r\n").checked
    assert only(b"$SDDPT,3.5,0.2\r\n").fields == ("3.5", "0.2")
