"""Cautions of a sizing: one sentence for each departure from practice and each doubt."""

from dataclasses import replace

import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings
from hypothesis import given
from hypothesis import settings as budget
from hypothesis import strategies as st

from lakemap.mapping import assess

# a float whose every part is given: gross buoyancy near that of the practice rule
WHOLE = {
    "flotation": "tubes",
    "tubes": 2,
    "tube_diameter_m": 19 * 0.0254,
    "tube_length_m": 10 * 0.3048,
    "float_weight_kg": 400.0,
    "depth_m": 6.5,
    "hook_depth_m": 0.0,
    "riser_m": 7.2,
    "ground_m": 6.5,
    "primary_blocks": 5,
    "secondary_blocks": 3,
}


# said of every rig with a clipped absorber, and of waves on so short an open water
ALWAYS = ("Eyes made with clips", "Published models differ here")
CALM = {
    "storm": make_settings().storm.__class__(
        wind_m_s=2.0, gust_m_s=None, current_m_s=0.0, from_deg=(270.0,), return_period_years=None
    ),
    "people": 1,
}


def size(*floats, **more):
    """Sizings in a wind that asks nothing, in a lake without soundings."""
    field = make_field(floats, bed_m=None, settings=make_settings(**CALM | more))
    return [one.sizing for one in assess(field).floats]


def cautions(**more):
    units, people = more.pop("units", "m-kg"), more.pop("people", 1)
    said = size(make_float("1", **WHOLE | more), units=units, people=people)[0].cautions
    return tuple(text for text in said if not text.startswith(ALWAYS))


def test_a_rig_as_practice_has_it_needs_no_caution():
    assert cautions() == ()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"float_weight_kg": None}, "Float assumed: float weight not given"),
        ({"primary_blocks": 4}, "The primary has 4 blocks; practice puts 5 12-in hollow blocks"),
        ({"secondary_blocks": 2}, "The secondary has 2 blocks; practice puts 3"),
        ({"secondary_blocks": 6}, "heavier than the primary: the wrong way round"),
        ({"primary_blocks": None, "primary_weight_kg": 50.0}, "The primary has 50 kg; practice"),
        ({"riser_m": 16.0}, "22.50 m together in 6.50 m of water; practice takes about twice"),
        ({"riser_m": 7.2, "ground_m": 3.0}, "The ground chain is 3.00 m in 6.50 m of water"),
        ({"ground_m": 11.0}, "The ground chain is 11.00 m in 6.50 m of water"),
        ({"riser_m": 6.9}, "hangs off the bed even in calm water"),
        # as long as the drop is too short as well
        ({"riser_m": 7.0}, "no longer than the 7.00 m from bed to hook at high water"),
        ({"float_weight_kg": 1000.0, "people": 4}, "under water: it carries only"),
        ({"float_weight_kg": 1200.0}, "heavier than its flotation can carry"),
        ({"block_density_kg_m3": 900.0}, "float in water: they hold nothing"),
    ],
)
def test_each_departure_is_said(change, words):
    said = [text for text in cautions(**change) if words in text]
    assert len(said) == 1, cautions(**change)
    assert said[0].endswith(".")
    assert said[0][0].isupper()


@pytest.mark.parametrize("change", [{"primary_blocks": 4}, {"secondary_blocks": 2}])
def test_practice_asks_for_both_clusters(change):
    assert size(make_float("1", **WHOLE | change))[0].primary.enough.practice is False


def test_departures_from_practice_say_that_it_has_no_source():
    for change in ({"primary_blocks": 4}, {"riser_m": 16.0}, {"ground_m": 3.0}):
        said = [text for text in cautions(**change) if "practice" in text]
        assert said
        assert all("common practice, no published source" in text for text in said)


def test_what_it_carries_is_never_flattered():
    # two tubes hold 1115.1 kg (pi/4 x 0.4826^2 x 3.048 x 2 x 1000); 1000.7 kg of float leave 114.4,
    # 252.3 lb
    said = cautions(float_weight_kg=1000.7, units="ft-lb", people=4)
    assert any("carries only 252 lb of them" in text for text in said)
    # 114.9 kg left are still 114
    metric = cautions(float_weight_kg=1115.11 - 114.9, people=4)
    assert any("carries only 114 kg of them" in text for text in metric)


def test_floating_blocks_are_not_called_the_wrong_way_round():
    assert not any("wrong way round" in text for text in cautions(block_density_kg_m3=900.0))


def test_units_of_people():
    said = cautions(riser_m=16.0, units="ft-lb")
    assert any("73 ft 10 in together in 21.3 ft of water" in text for text in said)


def test_parts_in_order_and_as_often_as_counted():
    from lakemap.basis.records import Fitting

    record = make_float(
        "1",
        **WHOLE,
        fittings=(Fitting(name="eye bolt", size="5/8 in"), Fitting(name="shackle", size="1/2 in", count=2)),
        cable="5/16 in galvanised",
        chain="3/8 in",
        chain_grade=30,
    )  # fmt: skip
    parts = size(record)[0].line.parts
    assert [(part.name, part.size) for part in parts] == [
        ("eye bolt", "5/8 in"),
        ("shackle", "1/2 in"),
        ("shackle", "1/2 in"),
        ("absorber cable", "5/16 in galvanised, 2 parts"),
        ("riser chain", "3/8 in, grade 30"),
        ("ground chain", "3/8 in, grade 30"),
    ]


def test_without_depth_nothing_is_said_of_the_line():
    said = cautions(depth_m=None, riser_m=3.0, ground_m=20.0)
    assert said == ("No depth is known to windward: the waves are reckoned as in deep water.",)


def test_a_longer_arm_aslant_to_the_wind_is_said():
    """A float in the lee of a west shore, the lake 2 km to the southwest."""
    field = make_field(
        [make_float("1", **WHOLE)],
        bed_m=None,
        settings=make_settings(
            **CALM | {"storm": replace(CALM["storm"], wind_m_s=20.0), "people": 1}
        ),
    )
    narrow = shapely.Polygon([(-30, 60), (60, 60), (60, -60), (-1500, -1500), (-1580, -1420)])
    near, far = (
        assess(replace(field, lake=shapely.multipolygons([HERE.unproject(lake)])))
        .floats[0]
        .sizing.cautions
        for lake in (shapely.box(-100, -100, 100, 100), narrow)
    )
    assert not [text for text in near if "aslant" in text]
    assert len([text for text in far if "Waves may run aslant up a longer arm" in text]) == 1


@budget(max_examples=10)
@given(st.lists(st.integers(0, 2), min_size=1, max_size=6))
def test_each_float_has_its_own_numbers(order):
    # the sizing of a float does not depend on the floats beside it
    kinds = [
        make_float("a", **WHOLE),
        make_float("b", **WHOLE | {"primary_blocks": 2, "riser_m": 12.0}),
        make_float("c", **WHOLE | {"flotation": "billets", "billets": 6, "block": "solid"}),
    ]
    alone = [size(one)[0] for one in kinds]
    together = size(*(kinds[k] for k in order))
    assert list(together) == [alone[k] for k in order]
