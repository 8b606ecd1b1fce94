"""The state of parts: each rule for taking them out, and dates worked by hand."""

from datetime import date

import pytest
from conftest import make_settings
from upkept import IN, part, row, told

from lakemap.basis.records import Fitting, Season

LIFTED = make_settings(season=Season(set_on="05-15", lift_on="10-01"))


def state(rows, name, **more):
    return part(told(rows, settings=LIFTED, **more), name).state


def why(one):
    return [due.why for due in one.dues]


@pytest.mark.parametrize(
    ("measured_m", "found"),
    [(8.01e-3, "due"), (8.0e-3, "replace now"), (7.5e-3, "replace now")],
)
def test_chain_goes_at_80_percent_of_its_bar(measured_m, found):
    """NAVFAC MO-124: 80 % or less of 10.0 mm is not used again; at 80.1 % it soon comes there."""
    rows = [row("2026-04-01", "riser chain", "good", diameter_m=measured_m)]
    assert state(rows, "riser chain") == ("overdue" if found == "due" else found)


def test_a_shackle_goes_at_90_percent_of_its_bow():
    """ASME B30.26: a tenth of 1/2 in, 0.450 in left."""
    assert state([row("2026-04-01", "shackle", diameter_m=0.450 * IN)], "shackle") == "replace now"
    left = part(told([row("2026-04-01", "shackle", diameter_m=0.460 * IN)]), "shackle")
    assert "size" not in why(left)


def test_a_cable_goes_when_more_than_6_percent_are_lost():
    """30 CFR 56.19024 (g): 94 % of 8 mm is 7.52 mm; exactly that is not more than 6 %."""
    assert (
        state([row("2026-04-01", "cable", diameter_m=7.51e-3)], "absorber cable") == "replace now"
    )
    assert state([row("2026-04-01", "cable", diameter_m=7.52e-3)], "absorber cable") == "later"


@pytest.mark.parametrize(
    ("wires", "found", "reason"),
    [(0, "later", []), (1, "due", ["wires few"]), (2, "due", ["wires few"]),
     (3, "replace now", ["wires"]), (7, "replace now", ["wires"])],
)  # fmt: skip
def test_broken_wires(wires, found, reason):
    """7x19: 15 % of a strand's 19 wires is 2.85; any one near an end is enough (FAA AC 43.13-1B)."""
    upkept = told([row("2026-04-01", "cable", "good", broken_wires=wires)], settings=LIFTED)
    cable = part(upkept, "absorber cable")
    assert cable.state == found
    assert [one for one in why(cable) if one.startswith("wires")] == reason


def test_wires_never_mend():
    rows = [
        row("2024-07-01", "cable", "worn", broken_wires=3),
        row("2025-07-01", "cable", "good", broken_wires=1),
    ]
    assert state(rows, "absorber cable") == "replace now"
    assert state([*rows, row("2025-07-02", "cable", "replaced")], "absorber cable") == "later"


@pytest.mark.parametrize("word", ["bent", "cracked", "stretched", "missing"])
@pytest.mark.parametrize("name", ["shackle", "riser chain", "absorber cable", "thimble"])
def test_what_is_found_unfit_is_replaced(name, word):
    one = part(told([row("2025-07-01", name, word)]), name)
    assert (one.state, one.dues[0].why, one.dues[0].what) == ("replace now", "found", "replace")
    assert one.dues[0].basis == ("ours" if name == "thimble" else "published")


def test_rust_retires_a_cable_and_is_to_be_measured_on_a_shackle():
    """29 CFR 1910.184 (f)(5) has wire rope out for corrosion; a shackle's pitting is measured."""
    rows = [row("2025-07-01", "cable", "rusty"), row("2025-07-01", "shackle", "rusty")]
    upkept = told(rows, settings=LIFTED)
    assert part(upkept, "absorber cable").state == "replace now"
    shackle = part(upkept, "shackle")
    assert (shackle.state, shackle.dues[0].what) == ("due", "measure")
    assert (shackle.dues[0].by, shackle.dues[0].at_most) == (date(2025, 7, 1), date(2026, 7, 1))


def test_worn_and_not_measured_is_overdue_after_a_year():
    assert state([row("2025-04-19", "swivel", "worn")], "swivel") == "overdue"
    assert state([row("2025-04-20", "swivel", "worn")], "swivel") == "due"
    rows = [row("2025-04-19", "shackle", "worn"), row("2025-07-01", "shackle", "good")]
    assert state(rows, "shackle") == "good"


def test_unfit_once_and_good_later_is_to_be_looked_at():
    """A bent shackle does not unbend: no row says that it was replaced."""
    rows = [row("2025-07-01", "shackle", "bent"), row("2025-09-01", "shackle", "good")]
    one = part(told(rows, settings=LIFTED), "shackle")
    assert (one.state, why(one), one.dues[0].what) == ("due", ["doubt"], "look")
    replaced = [rows[0], row("2025-08-01", "shackle", "replaced"), rows[1]]
    assert state(replaced, "shackle") == "good"


@pytest.mark.parametrize(
    ("set_on", "found"),
    [("2017-10-02", "later"), ("2017-10-01", "due"), ("2017-04-20", "due"), ("2016-04-20", "due"),
     ("2016-04-19", "overdue")],
)  # fmt: skip
def test_an_absorber_lasts_9_to_10_years(set_on, found):
    """Common practice, no published source: due from 9 years on, overdue past 10."""
    cable = part(told(set_on=date.fromisoformat(set_on), settings=LIFTED), "absorber cable")
    assert cable.state == found
    assert (cable.dues[0].basis, cable.dues[0].why) == ("common practice", "age")
    begun = date.fromisoformat(set_on)
    assert cable.dues[0].by == begun.replace(year=begun.year + 9)
    assert cable.dues[0].at_most == begun.replace(year=begun.year + 10)


def test_chain_lasts_about_30_years():
    chain = part(told(set_on=date(1996, 4, 20), settings=LIFTED), "riser chain")
    assert (chain.state, chain.by) == ("due", date(2026, 4, 20))
    assert part(told(set_on=date(1996, 4, 19)), "riser chain").state == "overdue"


def test_replaced_starts_the_clock_of_that_part_alone():
    rows = [row("2024-06-01", "cable", "replaced")]
    upkept = told(rows, set_on=date(2015, 5, 1))
    cable = part(upkept, "absorber cable")
    assert (cable.since, cable.since_what) == (date(2024, 6, 1), "replaced")
    assert (cable.state, cable.by) == ("later", date(2033, 6, 1))
    assert part(upkept, "riser chain").since == date(2015, 5, 1)


def test_a_part_seen_before_the_float_was_set_is_as_old_as_that():
    """Floats that are set each spring carry this year's day; the chain seen in 2014 is older."""
    rows = [row("2014-07-01", "cable", "good")]
    cable = part(told(rows, set_on=date(2026, 4, 1)), "absorber cable")
    assert (cable.since, cable.since_what) == (date(2014, 7, 1), "first seen")
    assert cable.state == "overdue"


def test_wear_between_two_measurements_by_hand():
    """10.0 mm new; 9.4 in 2018, 9.0 four years (1461 days) on: 0.10 mm a year, out at 8.0 mm.

    Ten years from 2022-07-01 are 3652.5 days: 2032-06-30. The safe rate is 0.10 + 0.0354 mm a year:
    1.0/0.13536 = 7.388 years, 2698 days: 2029-11-19.
    """
    rows = [
        row("2018-07-01", "riser chain", "good", diameter_m=9.4e-3),
        row("2022-07-01", "riser chain", "worn", diameter_m=9.0e-3),
    ]
    worn = part(told(rows), "riser chain").worn
    assert (worn.new_m, worn.retired_m, worn.measured) == pytest.approx((10.0e-3, 8.0e-3, 2))
    assert worn.rate_m_a == pytest.approx(0.10e-3)
    assert worn.rate_error_m_a == pytest.approx(0.03536e-3, abs=1e-8)
    assert (worn.since_new, worn.likely_on) == (False, date(2032, 6, 30))
    assert worn.safe_on == date(2029, 11, 19)


def test_wear_and_age_the_earlier_decides():
    rows = [
        row("2018-07-01", "riser chain", "good", diameter_m=9.4e-3),
        row("2022-07-01", "riser chain", "worn", diameter_m=9.0e-3),
    ]
    chain = part(told(rows, set_on=date(2010, 5, 15)), "riser chain")
    assert [(due.why, due.by) for due in chain.dues] == [
        ("wear", date(2029, 11, 19)), ("age", date(2040, 5, 15)),
    ]  # fmt: skip
    old = part(told(rows, set_on=date(1998, 5, 15)), "riser chain")
    assert [due.why for due in old.dues] == ["age", "wear"]
    assert (old.by, old.dues[0].basis) == (date(2028, 5, 15), "common practice")


def test_wear_since_new_counts_from_the_tables_bar():
    """10.0 mm by the table (to 2 %: 0.2 mm) in 2020, 9.4 mm 1461 days later: 0.15 mm a year.

    Error sqrt(0.2^2 + 0.1^2)/4 = 0.0559 mm a year; 1.4 mm left: 9.33 years, safe 6.80.
    """
    rows = [row("2024-05-15", "ground chain", "good", diameter_m=9.4e-3)]
    worn = part(told(rows, set_on=date(2020, 5, 15)), "ground chain").worn
    assert worn.since_new
    assert worn.rate_m_a == pytest.approx(0.15e-3)
    assert worn.rate_error_m_a == pytest.approx(0.0559e-3, abs=1e-7)
    assert worn.likely_on == date(2033, 9, 14)  # 9.333 years are 3409 days
    assert worn.safe_on == date(2031, 3, 3)  # 1.4/0.2059 = 6.799 years are 2483 days


def test_a_new_part_that_was_measured_counts_from_its_own_size():
    rows = [
        row("2022-05-01", "riser chain", "replaced", diameter_m=9.8e-3),
        row("2026-05-01", "riser chain", "good", diameter_m=9.4e-3),
    ]
    worn = part(told(rows, on=date(2026, 6, 1)), "riser chain").worn
    assert (worn.new_m, worn.retired_m) == pytest.approx((9.8e-3, 7.84e-3))
    assert worn.rate_m_a == pytest.approx(0.1e-3)


def test_the_measure_of_a_part_taken_out_is_not_that_of_the_new_one():
    rows = [row("2025-05-01", "riser chain", "worn, replaced", diameter_m=7.9e-3)]
    chain = part(told(rows), "riser chain")
    assert (chain.state, chain.worn) == ("later", None)


def test_nothing_lost_is_to_be_measured_again_not_good_for_ever():
    """9.5 mm twice, two years (731 days) apart: rate 0 +- 0.0707; 1.5 mm over that is 21 years."""
    rows = [
        row("2023-07-01", "riser chain", "good", diameter_m=9.5e-3),
        row("2025-07-01", "riser chain", "good", diameter_m=9.5e-3),
    ]
    chain = part(told(rows), "riser chain")
    assert chain.worn.likely_on is None
    due = next(one for one in chain.dues if one.why == "wear")
    assert (due.what, due.by.year) == ("measure", 2046)


def test_readings_too_close_together_tell_no_rate():
    """Half a year apart; and a float set last autumn: a caliper's error is larger than the wear."""
    rows = [
        row("2025-07-01", "riser chain", "good", diameter_m=9.9e-3),
        row("2025-12-31", "riser chain", "good", diameter_m=9.8e-3),
    ]
    worn = part(told(rows, set_on=date(2025, 6, 1)), "riser chain").worn
    assert (worn.rate_m_a, worn.likely_on, worn.safe_on) == (None, None, None)


def test_the_thinnest_place_of_a_day_counts():
    rows = [
        row("2025-07-01", "riser chain", "good", diameter_m=9.6e-3),
        row("2025-07-01", "riser chain", "worn", diameter_m=8.8e-3),
        row("2025-07-01", "riser chain", "good", diameter_m=9.5e-3),
    ]
    assert part(told(rows), "riser chain").worn.least_m == 8.8e-3


def test_a_swivels_size_is_a_name_so_no_wear_is_told():
    rows = [row("2025-07-01", "swivel", "good", diameter_m=11e-3)]
    swivel = part(told(rows), "swivel")
    assert (swivel.worn, swivel.state) == (None, "good")


def test_looked_at_every_year_and_on_the_bed_every_second():
    rows = [row("2025-07-01", "whole rig", "good")]
    upkept = told(rows)
    assert {one.piece.name: one.look_by for one in upkept.floats[0].parts} == {
        "eye bolt": date(2026, 7, 1),
        "shackle": date(2026, 7, 1),
        "swivel": date(2026, 7, 1),
        "absorber cable": date(2026, 7, 1),
        "sleeve": date(2026, 7, 1),
        "thimble": date(2026, 7, 1),
        "riser chain": date(2026, 7, 1),
        "secondary blocks": date(2027, 7, 1),
        "ground chain": date(2027, 7, 1),
        "primary blocks": date(2027, 7, 1),
    }


def test_a_worn_chain_is_measured_again_halfway_to_its_last_size():
    """Safe in 1.2805 years (as the demo's float 15): half of it, 233 days after 2025-08-03."""
    rows = [row("2025-08-03", "ground chain", "worn", diameter_m=0.34 * IN)]
    one = part(told(rows, set_on=date(2022, 5, 28)), "ground chain")
    gone, age = 10.0 - 8.636, 1163 / 365.25
    safe = 0.636 / ((gone + (0.2**2 + 0.1**2) ** 0.5) / age)
    assert (one.look_by - date(2025, 8, 3)).days == pytest.approx(safe / 2 * 365.25, abs=1.5)


def test_a_rig_without_a_day_or_a_row_has_no_record():
    upkept = told(set_on=None)
    assert {one.state for one in upkept.floats[0].parts} == {"no record"}
    assert (upkept.floats[0].state, upkept.floats[0].has_record) == ("no record", False)


def test_a_day_to_come_is_no_age():
    upkept = told(set_on=date(2026, 5, 15))
    assert {one.state for one in upkept.floats[0].parts} == {"no record"}
    assert [note.code for note in upkept.notes] == ["set_later"]


def test_a_shackle_of_another_metal_has_no_size_in_print():
    rows = [row("2025-07-01", "shackle", "worn", diameter_m=5e-3)]
    shackle = Fitting(name="stainless shackle", size="1/2 in")
    one = part(told(rows, fittings=(shackle,)), "stainless shackle")
    assert one.worn is None
