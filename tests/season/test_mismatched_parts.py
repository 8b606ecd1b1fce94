"""Unlike metals that touch, and what does not match the sizing."""

import pytest
from upkept import RIG, part, row, told

from lakemap.basis.records import Fitting

EYE, SHACKLE = Fitting(name="eye bolt", size="5/8 in"), Fitting(name="shackle", size="1/2 in")


def only(upkept):
    (one,) = upkept.floats
    return one


def test_one_metal_is_no_match_to_worry_about():
    assert only(told()).touching == ()


def test_a_stainless_shackle_on_galvanised_is_980_mv_apart():
    """Zinc -1.03 V, 316 passive -0.05 V; a small stainless part: the zinc next to it goes."""
    fittings = (EYE, Fitting(name="stainless shackle", size="1/2 in"), SHACKLE)
    (found,) = only(told(fittings=fittings)).touching
    assert (found.couple.goes, found.couple.stays) == ("galvanised", "stainless")
    assert found.couple.apart_mv == pytest.approx(980.0)
    assert (found.couple.level, found.couple.advice) == ("warn", "watch")
    assert {found.first.name, found.second.name} == {"eye bolt", "stainless shackle"}


def test_a_galvanised_fitting_on_stainless_cable_is_the_small_one():
    one = only(told(fittings=(EYE, SHACKLE), cable="5/16 in stainless"))
    assert [(each.couple.advice, each.first.name) for each in one.touching] == [("no", "shackle")]
    assert [piece.name for piece in one.unknown_ends] == ["sleeve", "thimble"]
    assert only(told()).unknown_ends == ()


def test_bronze_eats_galvanised():
    """G bronze -0.31 V: 720 mV."""
    (found,) = only(told(fittings=(Fitting(name="bronze swivel", size="1/2 in"),))).touching
    assert (found.couple.advice, found.couple.apart_mv) == ("no", pytest.approx(720.0))


def kinds(one):
    return [(each.kind, each.name) for each in one.misfits]


def test_fewer_blocks_than_practice():
    practice = only(told()).one.sizing
    enough = {"primary_blocks": practice.primary.practice_blocks,
              "secondary_blocks": practice.secondary.practice_blocks}  # fmt: skip
    assert not [kind for kind, _ in kinds(only(told(**enough))) if kind == "fewer blocks"]
    one = only(told(**enough | {"primary_blocks": enough["primary_blocks"] - 1}))
    (misfit,) = [each for each in one.misfits if each.kind == "fewer blocks"]
    assert (misfit.name, misfit.has) == ("primary", enough["primary_blocks"] - 1)
    assert misfit.asked == enough["primary_blocks"]


def test_blocks_of_another_kind_are_not_counted_against_practice():
    one = only(told(block="8-in hollow", primary_blocks=1, secondary_blocks=1))
    assert not [kind for kind, _ in kinds(one) if kind == "fewer blocks"]


def test_the_part_loaded_most_beyond_its_working_strength():
    one = only(told())
    used = {each.name: each.used for each in one.one.sizing.line.parts}
    over = {name: share for name, share in used.items() if share is not None and share > 1}
    assert over, "the storm of the square lake overloads something"
    (misfit,) = [each for each in one.misfits if each.kind == "overloaded"]
    assert (misfit.name, misfit.has) == (max(over, key=over.get), pytest.approx(max(over.values())))


def test_a_worn_part_is_loaded_more_and_told_too():
    """A chain of 8.5 of 10.0 mm has 0.7225 left."""
    plain = only(told()).one.sizing.line.parts
    used = next(each.used for each in plain if each.name == "riser chain")
    upkept = told([row("2025-07-01", "riser chain", "worn", diameter_m=8.5e-3)])
    (worn,) = [each for each in only(upkept).misfits if each.worn]
    assert (worn.name, worn.has) == ("riser chain", pytest.approx(used / 0.7225))
    assert used / 0.7225 > 1
    assert part(upkept, "riser chain").worn.least_m == 8.5e-3


def test_a_primary_that_does_not_hold_by_its_weight():
    one = only(told(**RIG | {"primary_blocks": 1}))
    (misfit,) = [each for each in one.misfits if each.kind == "slides"]
    sizing = one.one.sizing
    assert misfit.has == sizing.primary.holding_n.unburied
    assert misfit.asked == pytest.approx(1.5 * sizing.loads_n.mean)
