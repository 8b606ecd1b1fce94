"""The working as text and as the page takes it: the same numbers, each with its source."""

import math

import numpy as np
import pytest
from conftest import make_field, make_float, make_settings

from lakemap.mapping import assess
from lakemap.outputs.web.panel_rig import rig_panels
from lakemap.outputs.words.working_lines import (
    number_text,
    page_working,
    significant,
    worked_numbers,
    working_text,
)


@pytest.fixture(scope="module")
def assessment():
    floats = [
        make_float("1", riser_m=8.0, ground_m=6.5),
        make_float("2", 30.0, 0.0, riser_m=8.5, ground_m=6.5, secondary_blocks=2),
        make_float("3", -40.0, 20.0, riser_m=3.0, ground_m=2.0),
    ]
    return assess(make_field(floats, settings=make_settings(units="ft-lb")))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (22.352, "22.35"),
        (1319968.8, "1,320,000"),
        (0.00123456, "0.001235"),
        (-4.0, "−4"),
        (9999.9, "10,000"),
    ],
)
def test_four_digits(value, text):
    assert significant(value) == text


def test_both_units_where_people_use_feet_and_pounds():
    assert number_text(22.352, "m/s", "ft-lb") == "22.35 m/s (50 mph)"
    assert number_text(22.352, "m/s", "m-kg") == "22.35 m/s"
    assert number_text(4.4482216, "N", "ft-lb") == "4.448 N (1 lb)"
    assert number_text(13.7, "deg", "ft-lb") == "13.7°"
    assert number_text(0.3, "", "ft-lb") == "0.3"
    assert number_text(math.inf, "m/s", "m-kg") == "without end"


def test_the_text_holds_every_number_with_formula_inputs_and_source(assessment):
    one = assessment.floats[0]
    text = working_text(one, assessment)
    flat = " ".join(text.split())
    for worked in worked_numbers(one, assessment):
        assert f"{worked.name}: {worked.symbol} =" in flat
        assert " ".join(worked.source.split()) in flat
        for term, _ in worked.inputs:
            assert f"{term.symbol} = " in flat
    assert max(len(line) for line in text.splitlines()) <= 96
    assert text.splitlines()[0].startswith("The working of float 1")


def test_what_lies_outside_its_range_is_said(assessment):
    text = working_text(assessment.floats[0], assessment)
    assert "range: outside: measured for gF/U²" in text


def test_each_number_stands_after_what_it_rests_on(assessment):
    seen: dict[tuple[str, float], int] = {}
    numbers = worked_numbers(assessment.floats[0], assessment)
    results = {(n.unit, n.value): k for k, n in enumerate(numbers) if n.value}
    for k, worked in enumerate(numbers):
        for term, value in worked.inputs:
            at = results.get((term.unit, value))
            if at is not None and numbers[at].symbol == term.symbol and at > k:
                pytest.fail(f"{worked.name} takes {term.symbol} before it is told")
        seen[worked.unit, worked.value] = k


def test_a_rig_without_a_solution_leaves_its_statics_out(assessment):
    keys = {worked.name for worked in worked_numbers(assessment.floats[2], assessment)}
    assert "Wind on the float" in keys
    assert not any("Uplift at the primary" in name for name in keys)


def test_the_page_unpacks_to_the_same_numbers(assessment):
    common, rows = page_working(assessment)
    place = {slot: k for k, slot in enumerate(common["vary"])}

    def value(i, slot):
        return rows[i][place[slot]] if slot in place else common["same"][slot]

    for step, packed in zip(assessment.working, common["steps"], strict=True):
        assert packed[0] == step.formula.key
        for i, one in enumerate(assessment.floats):
            true = float(step.value[one.at])
            shown = value(i, packed[7])
            assert (shown is None) == math.isnan(true)
            if shown is not None and shown != "inf":
                assert shown == pytest.approx(true, rel=1e-4)
            for (_, _, _, slot), key in zip(packed[10], step.formula.terms, strict=True):
                given = float(step.given[key][one.at])
                if np.isfinite(given):
                    assert value(i, slot) == pytest.approx(given, rel=1e-4)
    assert len({len(row) for row in rows}) == 1


def test_panels_hold_no_number_that_is_none(assessment):
    import json

    common, floats = rig_panels(assessment)
    text = json.dumps([common, floats], allow_nan=False)
    assert "NaN" not in text
    for one, panel in zip(assessment.floats, floats, strict=True):
        assert (
            len(panel["limits"])
            == len(common["lines"][panel["line"]])
            == len(one.sizing.line.parts)
        )
        assert len(panel["holds"]) == 3
    assert floats[2]["storm"] is None
    assert floats[2]["curve"] is None
