"""The calendar file, read again by a general library for iCalendar."""

from datetime import date, timedelta

import icalendar
import pytest
from conftest import make_float, make_settings
from upkept import ON, RIG, row, told

from lakemap.basis.records import Season
from lakemap.outputs.upkeep.calendar_file import calendar_text

NASTY = (
    "reflectors, on every side; number 3 in high\nback\\slash \N{SNOWFLAKE} " + "é" * 90 + "x" * 160
)
SETTINGS = make_settings(
    name="Müller, Søn; Co", season=Season(set_on="05-15", lift_on="10-01", marking=NASTY)
)


def text_of(rows=(), *, on=ON, owners=False, settings=SETTINGS, **columns):
    return calendar_text(told(rows, on=on, settings=settings, **columns), owners=owners)


def events(text):
    return list(icalendar.Calendar.from_ical(text).walk("VEVENT"))


def by_title(text):
    return {str(one["SUMMARY"]): one for one in events(text)}


def test_it_is_a_calendar_to_a_library():
    calendar = icalendar.Calendar.from_ical(text_of())
    assert str(calendar["VERSION"]) == "2.0"
    # NAME is newer (RFC 7986, 5.1), and the library takes it as it stands
    assert "\r\nNAME:Upkeep of Müller\\, Søn\\; Co\r\n" in text_of()
    assert not calendar.errors
    for one in events(text_of()):
        assert not one.errors
        assert one["DTEND"].dt - one["DTSTART"].dt == timedelta(days=1)  # all day; the end is after
        assert isinstance(one["DTSTART"].dt, date)


def test_the_season_and_a_cables_age_are_in_it():
    """Set 2020-05-15: the cable is due nine years later, the chain beyond the next ten years."""
    found = {title: one["DTSTART"].dt for title, one in by_title(text_of()).items()}
    assert found == {
        "Set the floats": date(2026, 5, 15),
        "Look at every rig": date(2026, 5, 15),
        "Mark the floats": date(2026, 5, 15),
        "Lift the floats": date(2026, 10, 1),
        "Float A: replace absorber cable (9.0 years in the water)": date(2029, 5, 15),
    }


def test_text_comes_back_as_it_was_written():
    assert str(by_title(text_of())["Mark the floats"]["DESCRIPTION"]) == NASTY


def test_lines_are_75_octets_at_most_and_no_sign_is_split():
    data = text_of().encode("utf-8")
    lines = data.split(b"\r\n")
    assert lines.pop() == b""
    assert max(len(line) for line in lines) == 75
    assert b"\n" not in b"".join(lines)
    for line in lines:
        line.decode("utf-8")


def test_control_signs_are_left_out():
    settings = make_settings(season=Season(set_on="05-15", marking="a\x07b\x1b[0m\u2028c"))
    found = by_title(text_of(settings=settings))
    assert str(found["Mark the floats"]["DESCRIPTION"]) == "ab[0m\u2028c"


def test_what_is_late_stands_on_the_day_itself():
    rows = [row("2025-07-01", "shackle", "bent")]
    found = by_title(text_of(rows, set_on=date(2015, 5, 1)))
    assert found["Float A: replace shackle (found bent)"]["DTSTART"].dt == ON
    cable = next(one for title, one in found.items() if "absorber cable" in title)
    assert cable["DTSTART"].dt == ON


def test_a_look_that_is_late_waits_for_spring():
    rows = [row("2024-07-01", "shackle", "good"), row("2026-04-01", "swivel", "good")]
    found = by_title(text_of(rows))
    assert found["Float A: look again at shackle"]["DTSTART"].dt == date(2026, 5, 15)


def test_an_entry_is_known_again_when_its_day_changes():
    """A new cable moves the entry; a calendar that reads both files must not keep the old one."""
    before = {str(one["UID"]) for one in events(text_of())}
    title = "replace absorber cable"
    first = next(one for name, one in by_title(text_of()).items() if title in name)
    rows = [row("2026-04-01", "cable", "replaced")]
    second = next(one for name, one in by_title(text_of(rows)).items() if title in name)
    assert first["UID"] == second["UID"]
    assert first["DTSTART"].dt != second["DTSTART"].dt
    assert len(before) == len(events(text_of()))  # and no two are taken for one


def test_the_same_field_and_day_give_the_same_bytes():
    assert text_of() == text_of()
    assert "DTSTAMP:20260420T000000Z" in text_of()


def test_permits_are_named_only_with_owners():
    float_ = make_float("A", permit="TL-7 until 2026-09-01", **RIG)
    plain = text_of(floats=[float_])
    assert by_title(plain)["Permit of float A runs out"]["DTSTART"].dt == date(2026, 9, 1)
    assert "TL-7" not in plain
    assert "TL-7" in text_of(floats=[float_], owners=True)


@pytest.mark.parametrize("floats", [[], [make_float("A", **RIG)]])
def test_nothing_with_a_day_is_no_calendar(floats):
    """RFC 5545, 3.6: a calendar holds at least one component."""
    assert text_of(floats=floats, settings=make_settings()) is None
