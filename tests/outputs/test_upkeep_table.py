"""What `upkeep` prints: the most urgent first, every reason with its source, the rest in short."""

from datetime import date

import pytest
from conftest import HERE, make_float, make_settings
from upkept import RIG, assessed, field_of, row, told

from lakemap.basis.records import Fitting, Season
from lakemap.outputs.upkeep.field_texts import headline, runs, some_of
from lakemap.outputs.upkeep.upkeep_table import upkeep_table
from lakemap.season.upkeep.storms_passed import storm_of
from lakemap.season.upkeep.upkeep import by_urgency, upkeep

SEASON = Season(set_on="05-15", lift_on="10-01", marking="reflectors; number 3 in high")
SETTINGS = make_settings(season=SEASON)
LON, LAT = (float(axis[0]) for axis in HERE.to_lonlat([40.0], [40.0]))
# one float of each kind: gone, unfit, too old, due by wear, later, without a record, mismatched
SET_ON = {"gone": 2022, "bent": 2022, "old": 2016, "thin": 2022, "new": 2024, "blank": None,
          "mixed": 2024}  # fmt: skip
ROWS = (
    row("2025-07-01", None, "moved", float_id="gone", lon=LON, lat=LAT),
    row("2025-07-02", "shackle", "bent", float_id="bent", by="Ada Wren"),
    row("2024-04-15", "riser chain", "worn", float_id="thin", diameter_m=8.60e-3),
    row("2026-04-15", "riser chain", "worn", float_id="thin", diameter_m=8.12e-3),
)


def flat(text):
    return " ".join(text.split())


def of_all():
    mixed = (Fitting(name="stainless shackle", size="1/2 in"), Fitting(name="link", size="1/2 in"))
    floats = [
        make_float(
            name,
            -60.0 + 25 * k,
            -60.0,
            permit=f"P-{name} until 2026-05-01" if name == "new" else None,
            set_on=None if year is None else date(year, 4, 1),
            **RIG | ({"fittings": mixed} if name == "mixed" else {}),
        )
        for k, (name, year) in enumerate(SET_ON.items())
    ]
    return told(ROWS, floats=floats, settings=SETTINGS)


@pytest.fixture(scope="module")
def printed():
    return upkeep_table(of_all())


def test_the_most_urgent_stands_first(printed):
    order = [one.float_id for one in by_urgency(of_all().floats)]
    assert order == ["gone", "bent", "old", "thin", "new", "mixed", "blank"]
    rows = [line.split()[:2] for line in printed.splitlines()[5:10]]
    assert rows == [
        ["gone", "moved"], ["bent", "replace"], ["old", "overdue"], ["thin", "due"],
        ["mixed", "look"],
    ]  # fmt: skip


def test_the_head_counts_every_float_once(printed):
    lines = printed.splitlines()
    assert lines[0] == "Upkeep of Square on 20 April 2026; this season ends 1 October 2026"
    assert lines[1] == (
        "7 floats set: 1 moved, 1 with a part to replace now, 1 overdue, 1 due, 1 to look at,"
        " 1 due later, 1 without a record"
    )


def test_wear_is_told_with_its_uncertainty_and_both_days(printed):
    """0.48 mm in 730 days: 0.2402 mm a year, 0.0708 either way; 0.12 mm left: 182 and 140 days."""
    assert (
        "due: riser chain 10 mm: measured 8.1 mm on 2026-04-15; 0.25 mm lost a year by 2"
        " measurements, ± 0.08. It comes to 8.0 mm, where it is replaced, about 2026-10-14, on the"
        " safe side 2026-09-02 (NAVFAC MO-124)."
    ) in flat(printed)


def test_reasons_carry_their_source(printed):
    text = flat(printed)
    assert (
        "replace now: shackle 1/2 in: found bent on 2025-07-02; replace it (ASME B30.26)." in text
    )
    assert (
        "an absorber cable lasts 9 to 10 years in the water (common practice, no published" in text
    )
    assert "980 mV apart" in text
    assert "Common practice, no published source: stainless on galvanised only with" in text


def test_the_rest_is_said_in_short(printed):
    text = flat(printed)
    assert "nothing due this season: new. The next: float new, 2033-04-01, absorber cable" in text
    assert "no record at all, so nothing can be said: blank" in text
    assert "2026-05-15: mark them: reflectors; number 3 in high" in text
    assert "float new: runs out 2026-05-01" in text
    assert text.endswith("Local codes, permits and licensed practice decide.")


def test_names_and_permits_are_told_only_with_owners(printed):
    assert "Wren" not in printed
    assert "P-new" not in printed
    assert "P-new until 2026-05-01" in upkeep_table(of_all(), owners=True)
    alone = of_all().only("bent")
    assert "Wren" not in upkeep_table(alone)
    assert "2025-07-02: shackle, bent (Ada Wren)" in upkeep_table(alone, owners=True)


def test_one_float_alone_tells_every_part():
    text = upkeep_table(of_all().only("new"))
    parts = [line for line in text.splitlines() if " × " in line]
    assert len(parts) == 10
    cable = next(line for line in parts if "absorber cable" in line)
    assert " ".join(cable.split()) == (
        "2 × absorber cable 8 mm later 2033-04-01 2034-04-01 never set 2024-04-01"
    )


def test_a_part_that_nobody_gave_is_said_to_be_assumed():
    bare = make_float("A", set_on=date(2016, 4, 1))
    text = flat(upkeep_table(told(floats=[bare], settings=SETTINGS)))
    assert "absorber cable 8 mm, assumed: 10.1 years in the water (set 2016-04-01)" in text


def test_rows_that_are_not_counted_are_told():
    upkept = told([row("2025-07-01", "schackle", "good")])
    assert "inspections row 2 part: 'schackle' is no part that we know" in flat(
        upkeep_table(upkept)
    )


def test_a_remark_about_the_float_itself_is_looked_at():
    rows = [row("2025-07-01", "deck", "two boards loose")]
    text = upkeep_table(told(rows, settings=SETTINGS))
    assert "A      look   deck: two boards loose" in text
    righted = [*rows, row("2025-08-01", "deck", "good")]
    assert "look   deck" not in upkeep_table(told(righted, settings=SETTINGS))


def test_what_somebody_wrote_stays_on_its_line():
    rows = [row("2025-07-01", "shackle", "bent\n\x1b[31mfloat 99")]
    text = upkeep_table(told(rows))
    assert "shackle: found bent [31mfloat 99" in text
    assert "\x1b" not in text


def test_after_a_storm_its_floats_stand_on_top():
    floats = [make_float("east", 80.0, 0.0, **RIG), make_float("west", -80.0, 0.0, **RIG)]
    field = assessed(field_of(floats=floats))
    blown = storm_of(field, wind_m_s=22.0, gust_m_s=None, from_deg=90.0)
    lines = upkeep_table(upkeep(field, on=date(2026, 4, 20), storm=blown)).splitlines()
    assert lines[3] == (
        "After a storm of 22 m/s from the east, not stronger than the one that the rigs are sized"
        " for"
    )
    assert lines[4] == (
        "1 of 2 floats met more than their rigs are sized for; look at these first:"
    )
    assert [line.split()[0] for line in lines[7:9]] == ["west!", "east"]


def test_a_lake_without_floats():
    text = upkeep_table(told(floats=[], settings=SETTINGS))
    assert text.splitlines()[1] == "0 floats set"
    assert "2026-05-15: set the floats" in text


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["1", "2", "3", "5", "6", "Heron"], "1–3, 5, 6, Heron"),
        (["10", "9", "8"], "8–10"),
        (["7"], "7"),
        (["007", "7"], "7, 007"),
        ([], ""),
    ],
)
def test_runs_of_numbers(names, said):
    assert runs(names) == said


def test_all_and_all_but_a_few():
    floats = [make_float(str(k), **RIG) for k in range(1, 13)]
    upkept = told(floats=floats)
    names = [str(k) for k in range(1, 13)]
    assert some_of(names, upkept) == "all 12 floats"
    assert some_of(names[1:], upkept) == "all but 1"
    assert some_of(names[4:], upkept) == "5–12"
    assert headline(upkept).endswith("12 floats set: 12 without a record")
