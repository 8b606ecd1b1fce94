"""Every piece of a rig, against rows written by hand."""

from dataclasses import replace

import pytest
from conftest import make_field, make_float

from lakemap.basis.quantities import FOOT_M, INCH_M, POUND_KG
from lakemap.basis.records import Fitting
from lakemap.mapping import assess
from lakemap.season.rig_inventory import inventory

FT, IN = FOOT_M.value, INCH_M.value


def pieces(units="ft-lb", **columns):
    return inventory(assess(make_field([make_float("A", **columns)])).floats[0], units)


WRITTEN = {
    "riser_m": 20 * FT,
    "ground_m": 17 * FT,
    "absorber_length_m": 4 * FT,
    "primary_blocks": 10,
    "secondary_blocks": 6,
    "block": "12-in hollow",
    "chain": "3/8 in",
    "chain_grade": 43,
    "cable": "5/16 in stainless",
    "cable_parts": 2,
    "cable_ends": "clips",
    "fittings": (
        Fitting(name="eye bolt", size="5/8 in"),
        Fitting(name="stainless shackle", size="1/2 in", count=2),
        Fitting(name="swivel", size="1/2 in"),
    ),
}


def test_a_whole_row_is_listed_from_hook_to_primary():
    """Riser 20 ft with an absorber of 4 ft: 16 ft of chain; two ends of 3 clips (table: 2, ours 3)."""
    found = pieces(**WRITTEN)
    assert [(one.name, one.kind, one.size, one.count) for one in found] == [
        ("eye bolt", "fitting", "5/8 in", 1),
        ("stainless shackle", "fitting", "1/2 in", 2),
        ("swivel", "fitting", "1/2 in", 1),
        ("absorber cable", "cable", "5/16 in", 2),
        ("cable clip", "clip", "5/16 in", 6),
        ("thimble", "thimble", "5/16 in", 2),
        ("riser chain", "chain", "3/8 in", 1),
        ("secondary blocks", "block", "12-in hollow", 6),
        ("ground chain", "chain", "3/8 in", 1),
        ("primary blocks", "block", "12-in hollow", 10),
    ]
    assert {one.origin for one in found} == {"given"}
    assert all(one.blank == () for one in found)
    by_name = {one.name: one for one in found}
    assert by_name["riser chain"].length_m == pytest.approx(16 * FT)
    assert by_name["ground chain"].length_m == pytest.approx(17 * FT)
    assert by_name["absorber cable"].length_m == pytest.approx(4 * FT)
    assert by_name["absorber cable"].whole_length_m == pytest.approx(8 * FT)
    assert (by_name["riser chain"].grade, by_name["absorber cable"].grade) == (43, None)
    # 3/8 in chain is sold with a bar of 10.0 mm; a shackle's size is its bow
    assert by_name["riser chain"].new_diameter_m == pytest.approx(10.0e-3)
    assert by_name["stainless shackle"].new_diameter_m is None  # no table knows one
    assert by_name["eye bolt"].new_diameter_m == pytest.approx(0.625 * IN)
    assert by_name["swivel"].new_diameter_m is None
    assert by_name["absorber cable"].new_diameter_m == pytest.approx(0.3125 * IN)
    metals = ["galvanised", "stainless", "galvanised", "stainless", None, None]
    assert [one.metal for one in found[:6]] == metals
    # net volume of a 12-in hollow unit in the block maker's table, at the light end of C90's range
    assert by_name["primary blocks"].mass_kg == pytest.approx(0.3903 * 95 * POUND_KG.value)


def test_a_shackle_wears_at_its_bow():
    found = pieces(fittings=(Fitting(name="anchor shackle", size="1/2 in"),))
    assert found[0].new_diameter_m == pytest.approx(12.7e-3)


# the float that practice's five and three blocks are for
REFERENCE = {
    "length_m": 10 * FT,
    "width_m": 8 * FT,
    "tubes": 2,
    "tube_diameter_m": 19 * IN,
    "tube_length_m": 10 * FT,
}


def test_blanks_are_assumed_on_a_set_float_and_designed_on_a_proposed_one():
    for status, origin in (("set", "assumed"), ("proposed", "designed")):
        found = pieces(status=status, riser_m=None, ground_m=None, **REFERENCE)
        assert [(one.name, one.size, one.count) for one in found] == [
            ("eye bolt", "5/8 in", 1),
            ("shackle", "1/2 in", 1),
            ("link", "5/8 in", 1),
            ("absorber cable", "5/16 in", 2),
            ("cable clip", "5/16 in", 6),
            ("thimble", "5/16 in", 2),
            ("riser chain", "3/8 in", 1),
            ("secondary blocks", "12-in hollow", 3),
            ("ground chain", "3/8 in", 1),
            ("primary blocks", "12-in hollow", 5),
        ]
        assert {one.origin for one in found} == {origin}
        assert found[3].blank == ("cable", "cable_parts", "absorber_length")
        assert found[6].blank == ("chain", "chain_grade", "riser_length")
        assert found[9].blank == ("primary_blocks", "block")


def test_metric_blanks_take_metric_sizes():
    found = {one.name: one for one in pieces("m-kg")}
    assert (found["riser chain"].size, found["absorber cable"].size) == ("10 mm", "8 mm")
    assert found["absorber cable"].length_m == pytest.approx(1.2)
    assert found["riser chain"].length_m == pytest.approx(6.0 - 1.2)
    # 8 mm takes the clips of 5/16 in (7.94 mm): three to each of two ends
    assert found["cable clip"].count == 6


def test_only_what_is_blank_of_a_given_chain_is_told():
    found = {one.name: one for one in pieces(chain="1/2 in")}
    assert (found["ground chain"].origin, found["ground chain"].grade) == ("given", 30)
    assert found["ground chain"].blank == ("chain_grade",)


@pytest.mark.parametrize(
    ("ends", "names"),
    [
        ("clips", ["cable clip", "thimble"]),
        ("sleeves", ["sleeve", "thimble"]),
        ("bare pin", ["cable clip"]),
    ],
)
def test_what_holds_the_cables_ends(ends, names):
    found = [one.name for one in pieces(**WRITTEN | {"cable_ends": ends})]
    assert found[found.index("absorber cable") + 1 : found.index("riser chain")] == names


def test_a_rig_without_an_absorber_has_no_cable_and_a_longer_chain():
    found = {one.name: one for one in pieces(absorber_length_m=0.0)}
    assert not {"absorber cable", "cable clip", "thimble"} & set(found)
    assert found["riser chain"].length_m == pytest.approx(6.0)


def test_an_absorber_longer_than_its_riser_leaves_no_chain():
    found = {one.name: one for one in pieces(absorber_length_m=9.0)}
    assert (found["riser chain"].length_m, found["absorber cable"].length_m) == (0.0, 6.0)


def test_a_weight_instead_of_blocks_is_one_piece():
    found = {one.name: one for one in pieces(primary_weight_kg=100 * POUND_KG.value)}
    weight = found["primary weight"]
    assert (weight.kind, weight.size, weight.count) == ("weight", "100 lb dry", 1)
    assert weight.mass_kg == pytest.approx(45.359237)
    assert "primary blocks" not in found


def test_lengths_of_a_float_without_a_depth_are_not_known():
    field = make_field([make_float("A", riser_m=None, ground_m=None)], bed_m=None)
    found = {one.name: one for one in inventory(assess(field).floats[0], "m-kg")}
    assert found["riser chain"].length_m is None
    assert found["ground chain"].length_m is None
    assert replace(found["riser chain"], count=None).whole_length_m is None
