"""What to buy and what it costs, against lists made on paper."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from lakemap.outputs.upkeep.shopping_table import shopping_document, shopping_table
from lakemap.season.buying.prices import read_prices, shopping
from lakemap.season.buying.shopping import shopping_list
from lakemap.season.rig_inventory import RigPiece

FT, IN = 0.3048, 0.0254


def piece(name, kind, size, **more):
    return RigPiece(name=name, kind=kind, size=size, **({"origin": "given"} | more))


def of(float_id, *pieces):
    one = SimpleNamespace(record=SimpleNamespace(float_id=float_id))
    return [(one, each) for each in pieces]


def chain(where, feet, size="3/8 in", grade=30):
    length = None if feet is None else feet * FT
    return piece(f"{where} chain", "chain", size, length_m=length, grade=grade)


def price(part, cost, *, size=None, per=None, pack=None):
    return {"part": part, "size": size, "price": cost, "per": per, "pack": pack}


def bought(pieces, *prices, **how):
    return shopping(shopping_list(pieces, **how), read_prices(prices))


def test_like_pieces_of_all_floats_stand_together_and_unlike_ones_apart():
    listed = shopping_list(
        [
            *of("1", piece("shackle", "fitting", "1/2 in", count=2), chain("riser", 10)),
            *of("2", piece("shackle", "fitting", "1/2 in", count=3), chain("ground", 20)),
            *of("3", piece("shackle", "fitting", "5/8 in"), chain("ground", 20, grade=43)),
        ]
    )
    found = {(item.name, item.size, item.grade): item for item in listed}
    assert [(*key[:2], item.count) for key, item in found.items()] == [
        ("shackle", "1/2 in", 5),
        ("chain", "3/8 in", 2),
        ("shackle", "5/8 in", 1),
        ("chain", "3/8 in", 1),
    ]
    assert found["shackle", "1/2 in", None].floats == ("1", "2")


def test_each_cut_of_chain_is_two_links_longer():
    # 3/8 in proof coil: links of 35 mm inside (ASTM A413, largest, from memory)
    (item,) = shopping_list(of("1", chain("riser", 10), chain("ground", 20)))
    assert item.cuts_m == pytest.approx((10 * FT + 0.070, 20 * FT + 0.070))
    (own,) = shopping_list(of("1", chain("riser", 10)), spare_m=1 * FT)
    assert own.cuts_m == pytest.approx((11 * FT,))


def test_cable_is_one_length_with_both_ends_turned_back_as_the_clip_table_has_it():
    # 5/16 in: 5 1/2 in turned back (WorkSafeNB; California 8 CCR 8497, table 1), 3 in ours
    cable = piece("absorber cable", "cable", "5/16 in", count=2, length_m=4 * FT)
    (item,) = shopping_list(of("1", cable))
    assert item.length_m == pytest.approx(2 * 4 * FT + 2 * (5.5 + 3) * IN)


def test_what_is_not_known_is_told_and_never_counted():
    listed = shopping_list(
        [
            *of("1", piece("cable clip", "clip", "8 mm", count=None), chain("ground", None)),
            *of("2", chain("ground", 20)),
        ]
    )
    assert listed[0].unknown_on == ("1",)
    assert listed[0].count == 0
    assert (listed[1].count, listed[1].unknown_on) == (1, ("1",))
    said = shopping_table(shopping(listed, ()), title="To buy", units="ft-lb")
    assert "not known" in said
    assert "chain 3/8 in, Grade 30: how long it is on float 1 isn't known" in said
    assert shopping_document(shopping(listed, ()))["items"][0]["count"] is None


def test_sums_are_exact_to_the_cent_where_binary_numbers_are_not():
    assert 3 * 0.1 != 0.3
    shackles = of("1", piece("shackle", "fitting", "1/2 in", count=3))
    assert bought(shackles, price("shackle", 0.1)).total == Decimal("0.30")
    # 1.005 each: two are 2.01 exactly; half a cent goes up
    two = of("1", piece("shackle", "fitting", "1/2 in", count=1))
    assert bought(two, price("shackle", 1.005)).total == Decimal("1.01")


def test_rolls_and_boxes_are_ordered_whole():
    listed = of("1", chain("ground", 60 - 0.07 / FT), chain("riser", 50 - 0.07 / FT))
    (roll,) = bought(listed, price("chain", 210, size="3/8 in", per="roll of 100 ft")).orders
    assert (roll.lots, roll.cost) == (2, Decimal("420.00"))  # 60 and 50 don't come off one roll
    (packs,) = bought(listed, price("chain", 2.5, per="ft", pack=100)).orders
    assert (packs.lots, packs.cost) == (2, Decimal("500.00"))
    (feet,) = bought(listed, price("chain", 2.5, per="ft")).orders
    assert (feet.lots, feet.cost) == (110, Decimal("275.00"))
    (hundred,) = bought(listed, price("chain", 250, per="100 ft")).orders
    assert hundred.cost == Decimal("275.00")
    # 110 ft are 33.528 m: 34 whole metres
    (metres,) = bought(listed, price("chain", 9, per="m")).orders
    assert (metres.lots, metres.cost) == (34, Decimal("306.00"))
    clips = of("1", piece("cable clip", "clip", "5/16 in", count=6))
    (box,) = bought(clips, price("clip", 12, per="box of 5")).orders
    assert (box.lots, box.cost) == (2, Decimal("24.00"))
    (ten,) = bought(clips, price("clip", 1.5, pack=10)).orders
    assert (ten.lots, ten.cost) == (1, Decimal("15.00"))


@pytest.mark.parametrize(
    ("part", "size"),
    [
        ("chain", ""),
        ("Chain", '3/8"'),
        ("galvanized chain", "3/8 in"),
        ("chain", "3/8 in grade 30"),
        ("ground chain", "3/8-in, Grade 30"),
    ],
)
def test_a_price_is_found_however_it_is_written(part, size):
    found = bought(of("1", chain("ground", 20)), price(part, 2, size=size, per="ft"))
    assert found.orders[0].cost is not None
    assert not found.unused


@pytest.mark.parametrize(
    ("part", "size"),
    [("chain", "1/2 in"), ("chain", "3/8 in grade 70"), ("stainless chain", ""), ("train", "")],
)
def test_a_price_of_something_else_is_not_taken_and_told(part, size):
    found = bought(of("1", chain("ground", 20)), price(part, 2, size=size, per="ft"))
    assert found.orders[0].cost is None
    assert [one.part for one in found.unused] == [part]
    said = shopping_table(found, title="To buy", units="ft-lb")
    assert f"Prices of what is not on this list: {part} {size}".strip() in said


def test_the_price_that_says_most_is_taken_and_two_that_say_as_much_are_told():
    any_size, own = price("chain", 1, per="ft"), price("chain", 2, size="3/8 in", per="ft")
    found = bought(of("1", chain("ground", 20)), any_size, own)
    assert found.orders[0].price.price == 2
    assert found.unused[0].price == 1
    twice = bought(of("1", chain("ground", 20)), own, price("chain", 3, size="3/8", per="ft"))
    assert twice.orders[0].cost is None
    assert "2 prices fit" in shopping_table(twice, title="To buy", units="ft-lb")


def test_a_price_per_foot_of_what_is_counted_is_told_and_costs_nothing():
    swivel = of("1", piece("swivel", "fitting", "1/2 in"))
    found = bought(swivel, price("swivel", 20, per="ft"))
    assert (found.total, found.without_price) == (0, 1)
    assert "it is sold by the piece" in shopping_table(found, title="To buy", units="ft-lb")


def test_clips_are_told_with_number_spacing_turn_back_and_torque_of_the_published_table():
    # WorkSafeNB, wire rope cable clips: 5/16 in: 5 1/2 in, 30 ft lb; 6 d = 1 7/8 in (NAVEDTRA
    # 14026); 30 ft lb = 41 N m
    clips = of("1", piece("cable clip", "clip", "5/16 in", count=6))
    said = " ".join(shopping_table(bought(clips), title="To buy", units="ft-lb").split())
    assert "3 to an end, 1 7/8 in apart, 5 1/2 in of cable turned back, 30 ft·lb" in said
    metric = " ".join(shopping_table(bought(clips), title="To buy", units="m-kg").split())
    assert "48 mm apart, 140 mm of cable turned back, 41 N·m" in metric


def test_the_document_has_every_key_and_sums_as_text():
    blocks = of("1", piece("primary blocks", "block", "solid", count=4, mass_kg=15.0))
    found = shopping_document(bought(blocks, price("block", 4.2)))
    assert found["items"][0]["mass_kg"] == 60
    assert found["items"][0]["cost"] == found["total"] == "16.80"
    assert shopping_document(bought([]))["items"] == []
