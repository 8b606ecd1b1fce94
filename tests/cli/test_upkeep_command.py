"""`lakemap upkeep`: words, JSON, the calendar, every slip at once, nothing private."""

import json
import shutil
from datetime import date
from pathlib import Path

import icalendar
import pytest

from lakemap.cli import main

TAMBER = str(Path(__file__).parents[2] / "data" / "tamber-lake")
ON = ("--on", "2026-04-20")
NAMES = ("Dray", "Finch", "Mead", "Wren", "TL-2014")


def run(capsys, *words):
    code = main(["upkeep", *words])
    return code, *capsys.readouterr()


def test_the_demo_shows_each_kind(capsys):
    code, out, err = run(capsys, TAMBER, *ON)
    assert (code, err) == (0, "")
    first = {}
    for line in out.splitlines()[5:15]:
        number, rest = line.split(maxsplit=1)
        first[number] = " ".join(rest.split())
    assert first["26"].startswith("moved seen ")
    assert first["30"].startswith("replace now absorber cable: 4 broken wires")
    assert first["9"].startswith("replace now shackle: found bent")
    assert first["13"].startswith("replace now ground chain: 0.312 in left, replace at 0.315 in")
    assert first["11"].startswith(
        "due absorber cable: 9.9 years in the water 2025-05-23 2026-05-23"
    )
    assert first["7"].startswith("due swivel: worn, not measured")
    assert first["17"] == "look unlike metals"
    assert "never inspected, only the day they were set is known: 1, 3, 6," in out
    assert (
        "inspections row 15 part: 'schackle' is no part that we know; did you mean shackle?" in out
    )
    assert not [name for name in NAMES if name in out]


def test_overdue_by_the_day(capsys):
    _, out, _ = run(capsys, TAMBER, "--on", "2026-05-24")
    assert "11     overdue" in out


def test_owners(capsys):
    _, out, _ = run(capsys, TAMBER, *ON, "--owners")
    assert "float 2: ran out 2026-04-01 (TL-2014 until 2026-04-01)" in out


def test_today_is_named_where_no_day_is_given(capsys):
    _, out, _ = run(capsys, TAMBER, "--json")
    assert json.loads(out)["on"] == date.today().isoformat()  # noqa: DTZ011 - the command's own


def test_one_float(capsys):
    code, out, _ = run(capsys, TAMBER, *ON, "--float", "15")
    assert code == 0
    assert "2 × absorber cable 5/16 in" in out
    assert "float 26" not in out
    assert "schackle" not in out


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("155", "no float '155'; did you mean 15?"),
        ("39", "float 39 is retired; only of floats that are set is something due"),
    ],
)
def test_a_float_of_which_nothing_can_be_due(capsys, name, said):
    code, out, err = run(capsys, TAMBER, *ON, "--float", name)
    assert (code, out) == (2, "")
    assert said in err


def test_json_and_nothing_else_on_stdout(capsys):
    code, out, err = run(capsys, TAMBER, *ON, "--json")
    document = json.loads(out)
    assert code == 0
    assert (document["format"], document["on"]) == ("lakemap upkeep 1", "2026-04-20")
    states = {one["float_id"]: one["state"] for one in document["floats"]}
    assert len(states) == 35
    assert (states["13"], states["22"], states["8"]) == ("replace now", "due", "later")
    assert "note: inspections row 2 float_id: float 39 is retired" in err
    assert not [name for name in NAMES if name in out]


def test_json_tells_a_storm(capsys):
    words = (TAMBER, *ON, "--json", "--after-storm", "45 mph", "--gust", "60 mph", "--from", "0")
    _, out, _ = run(capsys, *words)
    storm = json.loads(out)["after_storm"]
    assert storm["wind_m_s"] == pytest.approx(20.1168)
    assert storm["gust_m_s"] == pytest.approx(26.8224)
    assert storm["from_deg"] == [0.0]
    above = [one["float_id"] for one in storm["floats"] if one["above_sized"]]
    # north wind has open water where the west wind that the rigs are sized for has little
    assert above
    assert len(above) < len(storm["floats"]) == 35
    assert [one["float_id"] for one in storm["floats"][: len(above)]] == above


def test_after_a_storm(capsys):
    code, out, _ = run(capsys, TAMBER, *ON, "--after-storm", "45 mph", "--from", "0")
    assert code == 0
    assert "After a storm of 45 mph from the north, not stronger than the one" in out
    assert "floats met more than their rigs are sized for; look at these first:" in out


def test_the_calendar(capsys, tmp_path):
    out = tmp_path / "season.ics"
    code, said, _ = run(capsys, TAMBER, *ON, "--calendar", str(out))
    data = out.read_bytes()
    events = list(icalendar.Calendar.from_ical(data).walk("VEVENT"))
    assert code == 0
    assert f"calendar: {out} ({len(events)} entries)" in said
    titles = {str(one["SUMMARY"]): one["DTSTART"].dt for one in events}
    assert titles["Set the floats"] == date(2026, 5, 15)
    assert titles["Float 13: replace ground chain (0.312 in left, replace at 0.315 in)"] == date(
        2026, 4, 20
    )
    assert titles["Permit of float 8 runs out"] == date(2026, 9, 30)
    assert len({str(one["UID"]) for one in events}) == len(events)
    run(capsys, TAMBER, *ON, "--calendar", str(out))
    assert out.read_bytes() == data
    assert not [name for name in NAMES if name.encode() in data]


def test_every_slip_is_told_and_nothing_written(capsys, tmp_path):
    code, out, err = run(
        capsys, TAMBER, "--on", "20 April", "--gust", "fast", "--from", "north",
        "--calendar", str(tmp_path / "none" / "season.txt"),
    )  # fmt: skip
    assert (code, out) == (2, "")
    for words in (
        "--on: '20 April' is no date; write year-month-day, as 2026-04-20",
        "--gust: ",
        '--gust: belongs to a storm; add --after-storm "45 mph"',
        "--from: 'north' is no bearing; write true degrees the wind came from, 0 to 360, as 270",
        "--calendar: 'season.txt' must end in .ics",
        "is no folder; make it first",
    ):
        assert words in err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("--after-storm", "200 mph"),
            "--after-storm: '200 mph': need above 0 and at most 134 mph",
        ),
        (("--after-storm", "0 mph"), "--after-storm: '0 mph': need above 0"),
        (("--after-storm", "45 mph", "--gust", "40 mph"), "must not be below the mean wind"),
        (("--after-storm", "45"), "--after-storm: "),
    ],
)
def test_winds_that_are_none(capsys, words, said):
    code, _, err = run(capsys, TAMBER, *words)
    assert code == 2
    assert said in err


def test_the_field_is_left_as_it_was(capsys, tmp_path):
    here = tmp_path / "tamber"
    shutil.copytree(TAMBER, here)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    run(capsys, str(here), *ON, "--after-storm", "45 mph")
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before


def test_a_field_without_a_record_says_so(capsys, folder):
    code, out, _ = run(capsys, str(folder()), *ON)
    assert code == 0
    assert "no record at all, so nothing can be said: 1, 2" in out


def test_nothing_with_a_day_writes_no_calendar(capsys, folder, tmp_path):
    out = tmp_path / "none.ics"
    code, said, _ = run(capsys, str(folder()), *ON, "--calendar", str(out))
    assert code == 0
    assert "no calendar: nothing has a day in the next ten years" in said
    assert not out.exists()
