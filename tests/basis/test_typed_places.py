"""Positions as people paste them."""

import pytest

from lakemap.basis.typed_places import read_position


@pytest.mark.parametrize(
    "text",
    [
        "44.5,-72.25",
        " 44.5, -72.25 ",
        "44.5 −72.25",
        "44.5°, -72.25°",
        "44.5° N, 72.25° W",
        "N 44.5 W 72.25",
        "72.25 W, 44.5 N",
        "44°30'N 72°15'W",
        "44°30'00.0\"N 72°15'00.0\"W",
        "44° 30′ 0″ N, 72° 15′ 0″ W",
        "44,5; -72,25",
        "44,5, -72,25",
    ],
)
def test_every_way_of_writing_a_place(text):
    assert read_position(text) == pytest.approx((44.5, -72.25), abs=1e-12)


def test_the_south_and_the_east():
    assert read_position("33.5 S 151.25 E") == (-33.5, 151.25)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no position yet"),
        ("by the dock", "'by the dock' is no position"),
        ("44.5", "is no position"),
        ("-100.2, 44.5", "looks swapped"),
        ("95, 200", "on no map"),
        ("44.5 N, 72.25 N", "no latitude and longitude"),
        ("1e5, 3", "is no position"),
        ("<script>alert(1)</script>", "is no position"),
    ],
)
def test_what_is_no_place_is_told(text, says):
    with pytest.raises(ValueError, match=says):
        read_position(text)
