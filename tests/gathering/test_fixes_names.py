"""What people write into a waypoint: float, what was fixed, wind."""

import pytest

from lakemap.gathering.fixes_names import Words, bearing_of, nearest_id, read_words

IDS = ("1", "3", "5", "12", "15", "16", "Dock A", "@8 <b>", "007")


def told(name, **more):
    found = read_words(Words(name=name, **more), IDS)
    return found.float_id, found.position_of, found.wind_from_deg


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("15", ("15", None, None)),
        ("15 primary", ("15", "primary", None)),
        ("float 15 secondary", ("15", "secondary", None)),
        ("15 float wind 270", ("15", "float", 270.0)),
        ("Float 15", ("15", None, None)),  # that is how people call it
        ("float 15 float", ("15", "float", None)),
        ("15 float", ("15", "float", None)),
        ("FLOAT #15: PRIMARY", ("15", "primary", None)),
        ("15-prim", ("15", "primary", None)),
        ("15 wind SSW", ("15", "float", 202.5)),
        ("15 float wind W", ("15", "float", 270.0)),
        ("15 W wind", ("15", "float", 270.0)),
        ("15, wind from south-west", ("15", "float", 225.0)),
        ("15 north wind", ("15", "float", 0.0)),
        ("15 float, wind north-north-west", ("15", "float", 337.5)),
        ("15 float wind 045°", ("15", "float", 45.0)),
        ("15 wind 5°", ("15", "float", 5.0)),
        ("15, wind 10 mph from W", ("15", "float", 270.0)),
        ("15 wind W 10 kn", ("15", "float", 270.0)),
        ("15 wind 4 bft W", ("15", "float", 270.0)),
        ("15 primary wind 200", ("15", "primary", 200.0)),
        ("dock a primary", ("Dock A", "primary", None)),
        ("Dock  A float wind 045", ("Dock A", "float", 45.0)),
        ("@8 <b> secondary", ("@8 <b>", "secondary", None)),
        ("007", ("007", None, None)),
        ("3 2025-06-15", ("3", None, None)),
        ("3 float 6/15 12:15", ("3", "float", None)),
        ("15 near 16", ("15", None, None)),
        ("the beach, float 16, not 15", ("16", None, None)),
    ],
)
def test_names(name, wanted):
    assert told(name) == wanted


@pytest.mark.parametrize(
    "name", ["Waypoint 12", "WP 12", "WPT003", "Dropped pin", "point 5", "", "16 float 15"]
)
def test_names_that_tell_no_float(name):
    assert told(name)[0] is None


@pytest.mark.parametrize(
    ("name", "unknown", "near"),
    [
        ("15A", "15A", "15"),
        ("154 primary", "154", "15"),
        ("float 7", "7", "007"),
        ("1.5", "1.5", "15"),
    ],
)
def test_unknown_floats_and_the_nearest(name, unknown, near):
    found = read_words(Words(name=name), IDS)
    assert (found.float_id, found.unknown) == (None, unknown)
    assert nearest_id(unknown, IDS) == near


@pytest.mark.parametrize(
    "name", ["15 wind", "15 wind 400", "15 wind 4", "15 wind to the east", "15 wind 12 mph"]
)
def test_winds_that_can_not_be_read_are_none(name):
    found = read_words(Words(name=name), IDS)
    assert (found.float_id, found.wind_from_deg, found.wind_unread) == ("15", None, True)


def test_comment_description_and_type_help_out():
    assert told("15", comment="float, wind NNE") == ("15", "float", 22.5)
    assert told("15", description="wind 180") == ("15", "float", 180.0)
    assert told("PIN", comment="15 secondary") == ("15", "secondary", None)
    assert told("15", kind="primary") == ("15", "primary", None)
    # the name says it before the type does, and the type before longer texts
    assert told("15 secondary", kind="primary") == ("15", "secondary", None)
    said = "Secondary of float 3. It lies 12 ft northeast (45°) of the primary."
    assert told("3", kind="secondary", description=said) == ("3", "secondary", None)


@pytest.mark.parametrize(
    ("text", "bearing"),
    [("270", 270), ("W", 270), ("nnw", 337.5), ("360", 360), ("8", 8), ("south-west", 225),
     ("361", None), ("XW", None), ("", None), ("north wind", None)],
)  # fmt: skip
def test_bearings_of_a_table(text, bearing):
    assert bearing_of(text) == bearing
