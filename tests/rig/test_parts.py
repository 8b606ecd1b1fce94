"""The parts of a rig: order, defaults, cautions, shares used, and the lightest rows that carry.

Values of the trade marked so: common practice, no published source.
"""

import numpy as np
import pytest
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.basis.records import Fitting
from lakemap.rig import parts as parts_module
from lakemap.rig.cable_tables import CABLE
from lakemap.rig.chain import chain_build
from lakemap.rig.chain_tables import CHAIN
from lakemap.rig.fitting_tables import FITTINGS
from lakemap.rig.hardware import cable_strength, chain_strength
from lakemap.rig.lightest import (
    lightest_cable,
    lightest_chain,
    lightest_eye_bolt,
    lightest_shackle,
)
from lakemap.rig.parts import line_strength, rig_parts
from lakemap.rig.trade import trade_size

LBF, FOOT = 4.4482216152605, 0.3048
LISTED = (
    Fitting(name="eye bolt", size="5/8 in"),
    Fitting(name="shackle", size="1/2 in", count=2),
    Fitting(name="link", size="5/8 in"),
    Fitting(name="swivel", size="1/2 in"),
)
FULL = {
    "fittings": LISTED,
    "cable": "5/16 in galvanised",
    "cable_parts": 2,
    "cable_ends": "sleeves",
    "chain": "3/8 in",
    "chain_grade": 43,
    "absorber_length_m": 1.0,
}


def rig(units="ft-lb", **more):
    return rig_parts(make_float("1", **more), units=units)


def test_order_from_hook_to_primary():
    found = rig(**FULL)
    assert [(part.name, part.size) for part in found.parts] == [
        ("eye bolt", "5/8 in"),
        ("shackle", "1/2 in"),
        ("shackle", "1/2 in"),
        ("link", "5/8 in"),
        ("swivel", "1/2 in"),
        ("absorber cable", "5/16 in galvanised, 2 parts"),
        ("riser chain", "3/8 in, grade 43"),
        ("ground chain", "3/8 in, grade 43"),
    ]
    assert found.assumed == ()
    assert not any(part.assumed for part in found.parts)
    assert all(part.known and part.source for part in found.parts)
    assert [part.by_angle for part in found.parts] == [True, *[False] * 7]
    assert [part.factor for part in found.parts] == [5, 5, 5, 5, 5, 10, 3, 3]
    # sleeves keep 95 %, the thimble's bend 75: 2 x 7,350 lb
    assert found.parts[5].breaking_n / LBF == pytest.approx(14700)


def test_blanks_take_the_sizes_of_practice():
    # common practice, no published source
    found = rig(riser_m=None)
    assert [(part.name, part.size) for part in found.parts] == [
        ("eye bolt", "5/8 in"),
        ("shackle", "1/2 in"),
        ("link", "5/8 in"),
        ("absorber cable", "5/16 in galvanised, 2 parts"),
        ("riser chain", "3/8 in, grade 30"),
        ("ground chain", "3/8 in, grade 30"),
    ]
    assert all(part.assumed for part in found.parts)
    assert found.assumed == (
        *("fittings", "chain", "chain_grade", "cable", "cable_parts", "cable_ends"),
        "absorber_length",
    )
    assert found.absorber.length_m == pytest.approx(4 * FOOT)
    metric = rig("m-kg")
    assert [part.size for part in metric.parts[3:]] == [
        "8 mm galvanised, 2 parts",
        "10 mm, grade 30",
        "10 mm, grade 30",
    ]
    assert metric.absorber.length_m == 1.2


# what the trade has: common practice, no published source
TRADE = {
    "ABSORBER_LENGTH_FT": 4.0,
    "ABSORBER_LENGTH_M": 1.2,
    "PRACTICE_PARTS": 2.0,  # doubled cable
}


def test_figures_of_practice_say_what_they_are():
    held = {
        name: value
        for name, value in vars(parts_module).items()
        if "practice" in str(getattr(value, "source", ""))
    }
    assert {name: value.value for name, value in held.items()} == TRADE
    assert {value.source for value in held.values()} == {"common practice, no published source"}


def test_the_trades_check_values():
    # common practice, no published source: 5/16 in galvanised 7x19 breaks at 9,500 to 10,000 lb a part;
    # three parts at the narrowest, worked at a tenth; a new forged master link at about 46,000 lb;
    # a forged eye bolt; chain of 3/8 in
    part = cable_strength("5/16 in", "7x19", "galvanised")
    assert 9500 <= part.value / LBF <= 10000
    assert part.value / part.working == pytest.approx(10)
    three = rig(**FULL | {"cable_parts": 3})
    straight = three.absorber.legs * three.absorber.one_part_n / LBF
    assert 3 * 9500 <= straight <= 3 * 10000
    link = next(one for one in rig().parts if one.name == "link")
    assert link.breaking_n / LBF == pytest.approx(46000, rel=0.03)
    assert [one.size.split(",")[0] for one in rig().parts if "chain" in one.name] == ["3/8 in"] * 2
    assert rig().parts[0].name == "eye bolt"


def test_absorber_counted_both_ways():
    three = rig(**FULL | {"cable_parts": 3})
    assert (three.absorber.legs, three.absorber.counted_legs) == (3, 2)
    # 3 x 7,350 and 2 x 7,350 lb
    assert three.absorber.breaking_all_n / LBF == pytest.approx(22050)
    assert three.absorber.breaking_n / LBF == pytest.approx(14700)
    assert three.parts[5].breaking_n == three.absorber.breaking_n
    assert any(
        "3 parts of cable count as 2: 14,700 lb instead of 22,050 lb" in one
        for one in three.cautions
    )
    # all parts pull when the line is jerked: 3 x 3,103 kN
    assert three.absorber.stiffness_ea_n / 1e3 == pytest.approx(3 * 3103, abs=3)
    # a loop on a bare pin has its ends lapped and clipped
    bare = rig(**FULL | {"cable_ends": "bare pin"}).absorber
    assert (bare.end_share, bare.bend_share) == (0.8, pytest.approx(0.53))
    one = rig(**FULL | {"cable_parts": 1})
    assert one.absorber.breaking_n / LBF == pytest.approx(7350)
    assert one.parts[5].size == "5/16 in galvanised, 1 part"


def test_weights_and_stiffness():
    found = rig(**FULL)
    # 146 lb per 100 ft, 10 mm bar: 18.59 N/m in water, 8.42 MN
    assert found.riser_weight_n_m == pytest.approx(18.59, abs=0.0051)
    assert found.ground_weight_n_m == found.riser_weight_n_m
    assert found.chain_ea_n / 1e6 == pytest.approx(8.42, abs=0.0051)
    assert found.absorber.given_stiffness_n_m is None
    assert rig(**FULL | {"absorber_stiffness_n_m": 2e4}).absorber.given_stiffness_n_m == 2e4


def test_no_absorber():
    found = rig(**FULL | {"absorber_length_m": 0.0})
    assert found.absorber is None
    assert [part.name for part in found.parts[-3:]] == ["swivel", "riser chain", "ground chain"]
    assert found.cautions == ()
    strength = line_strength(found, peak_n=[100.0], pull_angle_from_axis_deg=[0.0])
    assert [step.formula.key for step in strength.steps] == [
        "eye_bolt_at_angle",
        "working_load",
        "used",
    ]


def test_rigged_alike_is_looked_up_once():
    assert rig_parts(make_float("1", **FULL), units="ft-lb") is rig_parts(
        make_float("2", 5.0, 5.0, length_m=9.0, **FULL), units="ft-lb"
    )
    assert rig(**FULL) is not rig(**FULL | {"cable_ends": "clips"})


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            {"fittings": (Fitting(name="swivel", size="7/16 in"),)},
            "No published strength for swivel 7/16 in: its maker's mark decides",
        ),
        (
            {"fittings": (Fitting(name="snap hook", size="1/2 in"),)},
            "No published strength for snap hook 1/2 in: its maker's mark decides",
        ),
        (
            {"fittings": (Fitting(name="plain eye bolt", size="5/8 in"),)},
            "No published strength for plain eye bolt 5/8 in",
        ),
        (
            {"chain": "10 mm", "chain_grade": 43},
            "No published strength for riser chain 10 mm, grade 43",
        ),
        ({"cable": "7/16 in galvanised"}, "No published strength for absorber cable 7/16 in"),
        ({"chain": "7/8 in"}, "The chain's weight is in no table"),
        ({"cable_ends": "clips"}, "Eyes made with clips are no lifting slings (29 CFR 1926.251)"),
        ({"cable_ends": "bare pin"}, "(D/d 1.2) the absorber's cable keeps 53 % of its strength"),
        ({"cable_ends": "bare pin"}, "a thimble of 4 cable diameters it keeps 75 %"),
        (
            {"cable": "10 mm galvanised", "cable_ends": "bare pin"},
            "Tighter than any bend in print.",
        ),
        (
            {"cable": "5/16 in stainless"},
            "Swivel (galvanised) touches absorber cable (stainless): 980 mV apart",
        ),
        ({"cable": "5/16 in stainless", "cable_ends": "clips"}, "wants stainless clips"),
        (
            {"fittings": (LISTED[0], Fitting(name="stainless shackle", size="1/2 in"))},
            "so the galvanised part corrodes; keep to one metal, or isolate them",
        ),
    ],
)
def test_cautions(more, said):
    assert any(said in one for one in rig(**FULL | more).cautions)
    assert not any(said in one for one in rig(**FULL).cautions)


def test_each_caution_once():
    said = rig(**FULL | {"fittings": (Fitting(name="hook", size="1/2 in", count=3),)}).cautions
    assert len(said) == len(set(said)) == 1


def test_words_that_change_no_table():
    for name, as_table in (
        ("forged shoulder eye bolt", "eye bolt"),
        ("galvanised anchor shackle", "shackle"),
        ("screw-pin shackle", "shackle"),
        ("master link", "link"),
    ):
        named, plain = (
            rig(fittings=(Fitting(name=one, size="5/8 in"),)).parts[0] for one in (name, as_table)
        )
        assert named.breaking_n == plain.breaking_n > 0
    # stainless ones have no table
    assert not rig(fittings=(Fitting(name="stainless shackle", size="5/8 in"),)).parts[0].known


def test_used_is_load_over_working_load_for_every_float():
    peak, angle = np.array([500.0, 2000.0, 8000.0]), np.array([0.0, 20.0, 90.0])
    found = line_strength(rig(**FULL), peak_n=peak, pull_angle_from_axis_deg=angle)
    # eye bolt 14,700 lb / 5, at 100, 65 and 25 %
    bolt = 14700 * LBF / 5 * np.array([1.0, 0.65, 0.25])
    assert found.working_n[:, 0] == pytest.approx(bolt)
    assert found.used[:, 0] == pytest.approx(peak / bolt)
    # cable 14,700 / 10; chain 16,200 / 3
    assert found.used[:, 5] == pytest.approx(peak / (1470 * LBF))
    assert found.used[:, 7] == pytest.approx(peak / (5400 * LBF))
    # the swivel carries 3,600 lb, the eye bolt at 90 degrees 735 lb: it is the weak link there
    assert [found.names[k] for k in found.weakest] == [
        "absorber cable",
        "absorber cable",
        "eye bolt",
    ]


def test_unknown_strength_pull_or_angle():
    odd = rig(**FULL | {"fittings": (LISTED[0], Fitting(name="hook", size="1/2 in"))})
    found = line_strength(
        odd, peak_n=[1000.0, np.nan, 1000.0], pull_angle_from_axis_deg=[0.0, 0.0, np.nan]
    )
    assert np.isnan(found.used[:, 1]).all()
    assert found.names[found.weakest[0]] == "absorber cable"
    # an eye bolt at an unknown angle may be the weak link, and no pull is no weak link
    assert found.weakest[1:].tolist() == [-1, -1]
    assert np.isnan(found.used[1]).all()


def test_weak_link_of_no_pull():
    found = line_strength(rig(**FULL), peak_n=[0.0], pull_angle_from_axis_deg=[0.0])
    assert (found.used[0] == 0).all()
    assert found.names[found.weakest[0]] == "absorber cable"


def test_the_working_is_kept():
    found = line_strength(
        rig(**FULL), peak_n=[1000.0, 2000.0], pull_angle_from_axis_deg=[0.0, 90.0]
    )
    by_key = {step.formula.key: step for step in found.steps}
    assert list(by_key) == ["cable_loop", "eye_bolt_at_angle", "working_load", "used"]
    assert by_key["used"].value is found.used or (by_key["used"].value == found.used).all()
    assert by_key["used"].of == by_key["working_load"].of == found.names
    assert by_key["cable_loop"].value.shape == (2,)
    assert by_key["cable_loop"].value / LBF == pytest.approx([14700, 14700])
    assert by_key["eye_bolt_at_angle"].value[:, 0] / LBF == pytest.approx([14700, 3675])


@given(st.floats(0, 1e5), st.floats(0, 90), st.floats(1.01, 3))
def test_more_pull_uses_more(pull, angle, more):
    found = line_strength(
        rig(**FULL), peak_n=[pull, more * pull], pull_angle_from_axis_deg=[angle, angle]
    )
    assert found.used[1] == pytest.approx(more * found.used[0], rel=1e-12, abs=1e-300)
    weakest = found.used[0, found.weakest[0]]
    assert weakest >= found.used[0].max() * (1 - 1e-12)


def test_what_is_out_of_range():
    with pytest.raises(RangeError, match=r"(?s)\[1\] pull -1 N.*\[2\] pull inf N"):
        line_strength(rig(), peak_n=[1.0, -1.0, np.inf], pull_angle_from_axis_deg=0.0)
    with pytest.raises(RangeError, match="eye bolt at 95 degrees"):
        line_strength(rig(), peak_n=[1.0], pull_angle_from_axis_deg=[95.0])
    with pytest.raises(RangeError, match="cable of 0 parts"):
        rig(cable_parts=0)
    with pytest.raises(RangeError, match="no ends 'glue'; there are clips, sleeves, bare pin"):
        rig(cable_ends="glue")
    with pytest.raises(RangeError, match="'big' is no size"):
        rig(chain="big")


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("3/8 in", "3/8 in"),
        ("3/8", "3/8 in"),
        ('3/8"', "3/8 in"),
        ("3/8-in", "3/8 in"),
        (" 3/8  inch ", "3/8 in"),
        ("6/16 in", "3/8 in"),
        ("0.375 in", "3/8 in"),
        ("1 1/8 in", "1 1/8 in"),
        ("1-1/8″", "1 1/8 in"),
        ("1 in", "1 in"),
        ("10 mm", "10 mm"),
        ("8-mm", "8 mm"),
        ("3.2mm", "3.2 mm"),
        ("3,2 MM", "3.2 mm"),
    ],
)
def test_sizes_as_people_write_them(written, name):
    assert trade_size(written).name == name
    assert trade_size(name) == trade_size(written)


@pytest.mark.parametrize("written", ["", "in", "3/0 in", "0 mm", "3/8 ft", "three", "-3 mm"])
def test_no_sizes(written):
    with pytest.raises(RangeError, match="size"):
        trade_size(written)


def test_chain_of_no_table_weighs_what_its_links_do():
    # 7/16: bar by the grade formula, 65.83 kN at 300 MPa: 11.82 mm; links of 3.3 by 1.4 bars
    built = chain_build("7/16 in")
    assert not built.printed
    assert built.bar_m * 1e3 == pytest.approx(11.82, abs=0.0051)
    line = 2 * (3.3 - 1.4) + np.pi * 2.4
    assert built.mass_kg_m == pytest.approx(7850 * np.pi / 4 * built.bar_m**2 * line / 3.3)
    between = chain_build("3/8 in").mass_kg_m, chain_build("1/2 in").mass_kg_m
    assert between[0] < built.mass_kg_m < between[1]
    assert chain_build("12 mm").bar_m == pytest.approx(0.012)


def carried(found, load, sizes, working):
    """The first row by hand: walk the table."""
    for size, most in zip(sizes, working, strict=True):
        if most >= load:
            assert (str(found.size), float(found.working_n)) == (size, pytest.approx(most))
            return
    assert str(found.size) == ""
    assert np.isnan(found.working_n)


@given(st.floats(0, 60e3), st.sampled_from([30, 43, 70]))
def test_lightest_chain_against_a_walk_down_the_table(load, grade):
    sizes = list(CHAIN["inch", grade])
    working = [chain_strength(size, grade).working for size in sizes]
    carried(lightest_chain(load, grade=grade, units="ft-lb"), load, sizes, working)
    masses = [chain_build(size).mass_kg_m for size in sizes]
    assert masses == sorted(masses)


@given(st.floats(0, 20e3), st.sampled_from(["clips", "sleeves", "bare pin"]))
def test_lightest_cable_against_a_walk_down_the_table(load, ends):
    sizes = list(CABLE["mm", "galvanised"])
    working = [
        rig("m-kg", cable=f"{size} galvanised", cable_ends=ends).absorber.breaking_n / 10
        for size in sizes
    ]
    found = lightest_cable(load, finish="galvanised", units="m-kg", ends=ends)
    carried(found, load, sizes, working)


@given(st.floats(0, 30e3), st.floats(0, 90))
def test_lightest_eye_bolt_and_shackle_against_a_walk(load, angle):
    share = next(s for a, s in ((5, 1), (15, 0.8), (30, 0.65), (45, 0.3), (90, 0.25)) if angle <= a)
    bolts = [2100, 3400, 5000, 6900, 9200, 11830, 14700, 21700, 30000, 39400]
    working = [share * LBF * (400 if one == 2100 else one / 5) for one in bolts]
    found = lightest_eye_bolt(load, angle_from_axis_deg=angle)
    carried(found, load * (1 + 1e-12), list(FITTINGS["eye bolt"]), working)
    tons = [0.5, 0.75, 1, 1.5, 2, 3.25, 4.75, 6.5, 8.5]
    carried(
        lightest_shackle(load),
        load * (1 + 1e-12),
        list(FITTINGS["shackle"]),
        [2000 * LBF * one for one in tons],
    )


def test_lightest_by_hand():
    # 1,200 lb: chain 1/4 of Grade 30 carries 1,300; cable by ten to one 5/16 carries 1,470 in a
    # thimble, 9/32 1,200; shackle 5/16 carries 1,500; eye bolt at 30 degrees 9/16 carries 1,538
    load = np.array([1199.0, 1201.0, np.nan, 1e6]) * LBF
    assert lightest_chain(load, grade=30, units="ft-lb").size.tolist() == [
        "1/4 in",
        "1/4 in",
        "",
        "",
    ]
    cable = lightest_cable(load, finish="galvanised", units="ft-lb")
    assert cable.size.tolist() == ["9/32 in", "5/16 in", "", ""]
    assert cable.working_n[:2] / LBF == pytest.approx([1200, 1470])
    assert lightest_shackle(load).size.tolist() == ["5/16 in", "5/16 in", "", ""]
    bolt = lightest_eye_bolt(load, angle_from_axis_deg=[0.0, 30.0, 30.0, 0.0])
    assert bolt.size.tolist() == ["7/16 in", "9/16 in", "", ""]
    # a load of just the working load is carried
    at_its_load = chain_strength("3/8 in", 30).working
    assert lightest_chain(at_its_load, grade=30, units="ft-lb").size == "3/8 in"
    # no stainless cable in mm, no Grade 43 chain in mm
    assert lightest_cable(10.0, finish="stainless", units="m-kg").size == ""
    assert lightest_chain(10.0, grade=43, units="m-kg").size == ""
    with pytest.raises(RangeError, match="load -1 N"):
        lightest_shackle([1.0, -1.0])
    assert lightest_shackle(np.zeros((2, 3))).size.shape == (2, 3)
