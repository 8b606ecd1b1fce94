"""What a sizing says in sentences: three answers apart, changes that turn them, three ways."""

from dataclasses import replace

import pytest
from conftest import make_field, make_float, make_settings

from lakemap.mapping import assess


def answers(*, settings=None, bed_m=6.5, **more):
    assessment = assess(make_field([make_float("1", **more)], settings=settings, bed_m=bed_m))
    return assessment.answers(assessment.floats[0]), assessment


def windy(wind, **more):
    return make_settings(storm=replace(make_settings().storm, wind_m_s=wind), **more)


def test_no_answer_is_ever_a_bare_enough():
    for bottom in ("sand", "gravel", "silt", "mud", "clay", "rock", None):
        found, _ = answers(bottom=bottom)
        for text in (found.practice, found.unburied, found.buried, *found.changes):
            words = text.lower().replace(".", " ").split()
            assert "enough" not in words
            assert "safe" not in words
            assert text[0].isupper() or text[0].isdigit()
            assert text.endswith(".")


def test_practice_says_what_it_asks_and_that_it_has_no_source():
    found, _ = answers(primary_blocks=3, secondary_blocks=1)
    assert found.practice.startswith("Less than practice has: ")
    assert "3 and 1 there" in found.practice
    assert "no published source" in found.practice
    enough, assessment = answers()
    assert enough.practice.startswith("As practice has it: ")
    assert assessment.floats[0].sizing.primary.enough.practice


def test_by_its_weight_alone_up_to_a_wind():
    found, assessment = answers(bottom="sand", settings=windy(22.0, units="ft-lb"))
    slides = assessment.floats[0].sizing.primary.slides_at_wind_m_s.unburied
    assert f"up to {slides / 0.44704:.0f} mph" in found.unburied
    assert "1.5 times the steady" in found.unburied
    calm, _ = answers(bottom="gravel", primary_weight_kg=90_000.0, settings=windy(2.0))
    assert "in any wind we have laws for, to 60 m/s" in calm.unburied


def test_mud_rock_and_the_unknown():
    mud, _ = answers(bottom="mud")
    assert mud.unburied == "Nothing can be counted on: no friction is published for soft mud."
    assert any(text.startswith("No weight would hold") for text in mud.changes)
    rock, _ = answers(bottom="rock")
    assert rock.buried == "On rock nothing settles in."
    nothing, _ = answers(bed_m=None, riser_m=None, ground_m=None)
    assert nothing.unburied.startswith("Not known:")
    assert nothing.candidates == ()


def test_the_estimate_says_that_it_is_one():
    found, _ = answers(bottom="sand")
    assert found.buried.endswith("An estimate: it could be half of that, and scour undoes it.")


@pytest.mark.parametrize("bottom", ["sand", "gravel", "silt", "clay"])
def test_the_change_that_would_turn_friction_does(bottom):
    settings = windy(8.0)
    given = {
        "bottom": bottom,
        "primary_blocks": 4,
        "secondary_blocks": 3,
        "riser_m": 8.0,
        "ground_m": 6.5,
    }
    found, assessment = answers(settings=settings, **given)
    if assessment.floats[0].sizing.primary.enough.unburied:
        return
    said = next(text for text in found.changes if "by friction alone" in text)
    more = int(said.split()[0])
    _, turned = answers(settings=settings, **given | {"primary_blocks": 4 + more})
    assert turned.floats[0].sizing.primary.enough.unburied is True
    _, short = answers(settings=settings, **given | {"primary_blocks": 3 + more})
    assert short.floats[0].sizing.primary.enough.unburied is False


def test_the_change_that_would_turn_practice_does():
    found, assessment = answers(primary_blocks=2, secondary_blocks=1)
    primary = assessment.floats[0].sizing.primary.practice_blocks
    assert f"{primary - 2} more block" in found.changes[0]
    _, turned = answers(
        primary_blocks=primary,
        secondary_blocks=assessment.floats[0].sizing.secondary.practice_blocks,
    )
    assert turned.floats[0].sizing.primary.enough.practice is True


def test_weights_are_told_in_weight():
    found, _ = answers(primary_weight_kg=20.0, secondary_weight_kg=20.0, bottom="sand")
    assert "a weight and a weight there" in found.practice
    assert any("kg more in the primary, weighed in water" in text for text in found.changes)


def test_three_ways_side_by_side():
    found, assessment = answers(settings=windy(9.0), riser_m=8.0, ground_m=6.5, bottom="sand")
    names = [way.name for way in found.candidates]
    assert names == ["practice", "no uplift", "snatch"]
    practice, no_uplift, _ = found.candidates
    assert practice.chosen
    assert practice.secondary_blocks == assessment.floats[0].sizing.secondary.practice_blocks
    assert no_uplift.uplift_n == pytest.approx((0, 0, 0), abs=1e-6)
    for way in found.candidates:
        if way.secondary_blocks is None:
            assert way.choices == ()
            continue
        whats = [choice.what for choice in way.choices]
        assert whats[0] == "primary"
        assert any(what.startswith("chain") for what in whats)
        assert any(what.startswith("absorber") for what in whats)
        assert {"eye bolt", "shackle", "master link"} <= set(whats)
        assert all(choice.because for choice in way.choices)
        assert way.peak_n >= (way.snap_n or 0)


def test_the_way_it_is_built_has_the_numbers_of_the_sizing():
    found, assessment = answers(settings=windy(20.0))
    sizing = assessment.floats[0].sizing
    practice = found.candidates[0]
    assert practice.uplift_n[1] == pytest.approx(sizing.primary.uplift_n)
    assert practice.snap_n == pytest.approx(sizing.loads_n.snap)
    assert practice.peak_n == pytest.approx(sizing.loads_n.peak)
