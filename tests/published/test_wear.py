"""Wear and retirement: published limits, and rows worked by hand from them."""

import numpy as np
import pytest
from scipy.integrate import trapezoid

from lakemap.basis.errors import RangeError
from lakemap.rig.wear import (
    BROKEN_AT_AN_END,
    CABLE_LIFE_AT_MOST_YEARS,
    CABLE_LIFE_YEARS,
    CABLE_RETIRED,
    CHAIN_GOOD,
    CHAIN_LIFE_YEARS,
    CHAIN_RETIRED,
    FITTING_RETIRED,
    broken_wire_limits,
    new_to_worn,
    wear_line,
    wear_rate,
    worn_flat_strength,
    worn_strength,
    years_to,
)


def test_navy_chain_limits():
    """NAVFAC MO-124, 1987, 6.2.1-6.2.2: 90 % or more good, 80 % or less not used again."""
    assert (CHAIN_GOOD.value, CHAIN_RETIRED.value) == (0.90, 0.80)


def test_sling_chain_table_says_the_same_80_percent():
    """29 CFR 1910.184, Table N-184-1: nominal size and least thickness [in]."""
    table = {
        1 / 4: 13 / 64,
        3 / 8: 19 / 64,
        1 / 2: 25 / 64,
        5 / 8: 31 / 64,
        3 / 4: 19 / 32,
        7 / 8: 45 / 64,
        1.0: 13 / 16,
    }
    for nominal, least in table.items():
        assert least / nominal == pytest.approx(CHAIN_RETIRED.value, abs=0.03)


def test_fittings_go_at_a_tenth_lost():
    """ASME B30.26, 26-1.8: 10 % of the original dimension."""
    assert FITTING_RETIRED.value == 0.90


@pytest.mark.parametrize(("share", "square", "flat"), [
    (0.95, 0.9025, 0.9813), (0.90, 0.8100, 0.9480), (0.85, 0.7225, 0.9059), (0.80, 0.6400, 0.8576),
])  # fmt: skip
def test_strength_of_a_worn_link(share, square, flat):
    """By geometry: the square of the diameter, and the segment cut off, summed in slices here."""
    assert worn_strength(share) == pytest.approx(square, abs=1e-12)
    y = np.linspace(-1, 1, 400_001)
    width = 2 * np.sqrt(np.maximum(1 - y * y, 0))
    kept = y <= 1 - 2 * (1 - share)
    slices = trapezoid(np.where(kept, width, 0), y) / np.pi
    assert worn_flat_strength(share) == pytest.approx(slices, abs=2e-5)
    assert worn_flat_strength(share) == pytest.approx(flat, abs=5e-5)


def test_wear_between_two_inspections():
    """10.0 mm new, 9.4 mm at year 4, 9.0 mm at year 8: 0.10 mm a year, 10 years; 7.4 on the safe side."""
    found = wear_rate(10.0e-3, 9.4e-3, 9.0e-3, years=4, error_m=1e-4)
    assert found.rate_m_a == pytest.approx(0.10e-3)
    assert found.rate_error_m_a == pytest.approx(0.0354e-3, abs=1e-7)
    assert found.years_left == pytest.approx(10.0)
    assert found.safe_years_left == pytest.approx(7.4, abs=0.05)


def test_wear_since_new():
    """0.394 in new, 0.370 in after 6 years: 0.0040 in a year, 13.7 years more."""
    inch = 0.0254
    found = wear_rate(0.394 * inch, 0.394 * inch, 0.370 * inch, years=6)
    assert found.rate_m_a / inch == pytest.approx(0.0040)
    assert found.years_left == pytest.approx(13.7, abs=0.01)


def test_nothing_lost_is_unknown_not_for_ever():
    found = wear_rate(10e-3, 9.5e-3, 9.5e-3, years=2)
    assert np.isnan(found.years_left)
    assert found.safe_years_left == pytest.approx(1.5e-3 / (np.sqrt(2) * 1e-4 / 2))
    grown = wear_rate(10e-3, 9.4e-3, 9.5e-3, years=2)
    assert np.isnan(grown.years_left)


def test_at_its_limit_it_is_due_now():
    found = wear_rate([10e-3, 10e-3], [9e-3, 8e-3], [8.0e-3, 8.0e-3], years=3)
    assert found.years_left.tolist() == [0.0, 0.0]


@pytest.mark.parametrize(
    "given", [(0, 1, 1, 1), (1, 1, -1, 1), (1, 1, 1, 0), (1, float("nan"), 1, 1)]
)
def test_what_cannot_be_is_refused(given):
    new, before, after, years = given
    with pytest.raises(RangeError):
        wear_rate(new, before, after, years=years)


@pytest.mark.parametrize("share", [0.0, 1.1, float("nan")])
def test_a_part_does_not_grow(share):
    with pytest.raises(RangeError):
        worn_strength(share)


def test_broken_wires_of_a_7x19_cable():
    """30 CFR 56.19024: 5 % of 133 is 6.65, 15 % of 19 is 2.85: out at 7 in all, at 3 in a strand."""
    assert broken_wire_limits() == (7, 3)
    assert broken_wire_limits(100, 20) == (6, 4)  # more than 5 and more than 3
    assert BROKEN_AT_AN_END.value == 1  # FAA AC 43.13-1B, 7-149: any
    with pytest.raises(RangeError):
        broken_wire_limits(0)


def test_lives_in_common_practice():
    """Common practice, no published source: cable 9 to 10 years in water, chain about 30."""
    assert (CABLE_LIFE_YEARS.value, CABLE_LIFE_AT_MOST_YEARS.value, CHAIN_LIFE_YEARS.value) == (
        9,
        10,
        30,
    )
    assert "no published source" in CABLE_LIFE_YEARS.source
    assert "no published source" in CHAIN_LIFE_YEARS.source


def test_hoist_rope_goes_when_more_than_6_percent_are_lost():
    """30 CFR 56.19024 (g): of the baseline diameter."""
    assert CABLE_RETIRED.value == 0.94


def test_two_readings_on_a_line_are_their_difference():
    """9.4 mm at year 4, 9.0 mm at year 8: as `wear_rate` has it."""
    rate, error = wear_line([4, 8], [9.4e-3, 9.0e-3])
    assert rate == pytest.approx(0.10e-3)
    assert error == pytest.approx(np.sqrt(2) * 1e-4 / 4)


def test_a_line_through_more_readings_is_numpys():
    """Against numpy's own polynomial of degree 1 and its covariance, scaled to the caliper."""
    at = np.array([0.0, 1.1, 2.0, 3.2, 5.0])
    found = np.array([10.0, 9.95, 9.7, 9.75, 9.4]) * 1e-3
    (slope, _), cov = np.polyfit(at, found, 1, cov="unscaled")
    rate, error = wear_line(at, found)
    assert rate == pytest.approx(-slope)
    assert error == pytest.approx(1e-4 * np.sqrt(cov[0, 0]))
    with pytest.raises(RangeError, match="wear needs two times"):
        wear_line([3.0, 3.0], [9.4e-3, 9.3e-3])


def test_since_new_the_bar_is_less_sure_than_the_reading():
    """10.0 mm to 2 %, 0.2 mm; 9.4 mm to 0.1 mm; four years: 0.15 +- sqrt(0.05)/4 mm a year."""
    rate, error = new_to_worn(10.0e-3, 9.4e-3, years=4)
    assert rate == pytest.approx(0.15e-3)
    assert error == pytest.approx(np.sqrt(0.05) / 4 * 1e-3)
    with pytest.raises(RangeError, match="above 0"):
        new_to_worn(10.0e-3, 9.4e-3, years=0)


def test_years_to_any_limit():
    """A bow of 12.7 mm goes at 11.43 mm: 0.57 mm at 0.1 +- 0.05 a year are 5.7 and 3.8 years."""
    left = years_to([11.43e-3], [12.0e-3], rate_m_a=[0.1e-3], rate_error_m_a=[0.05e-3])
    assert left.years_left == pytest.approx([5.7])
    assert left.safe_years_left == pytest.approx([3.8])
    gone = years_to([11.43e-3], [11.43e-3], rate_m_a=[np.nan], rate_error_m_a=[np.nan])
    assert gone.years_left.tolist() == [0.0]
    assert years_to([], [], rate_m_a=[], rate_error_m_a=[]).years_left.shape == (0,)
