"""A record of hourly wind, and what the storm may ask of it."""

import pytest

import lakemap
from lakemap.basis.errors import BadInputError

HEAD = "time,speed_mph,from_deg\n"


LEVELS = '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n'


def storm(words):
    return f"{LEVELS}[storm]\n{words}\n"


def test_times_are_moments(folder):
    wind = HEAD + "2024-05-13T14:00,12,270\n"
    (row,) = lakemap.read_field(folder(wind__csv=wind)).wind
    assert row["time"].isoformat() == "2024-05-13T14:00:00"
    assert row["speed_m_s"] == pytest.approx(12 * 0.44704)


def test_a_slip_in_a_time_is_told(folder):
    here = folder(wind__csv=HEAD + "yesterday,12,270\n")
    with pytest.raises(BadInputError, match=r"wind\.csv row 2 time: yesterday is no time; write"):
        lakemap.read_field(here)


def test_a_return_period_needs_a_record(folder):
    here = folder(field__toml=storm('return_period = "25 years"'))
    with pytest.raises(BadInputError, match=r"storm\.return_period: needs a wind file"):
        lakemap.read_field(here)


def test_a_wind_beyond_every_law_is_refused(folder):
    here = folder(field__toml=storm('wind = "140 mph"'))
    with pytest.raises(BadInputError, match=r"'140 mph' is above 134 mph \(60 m/s\)"):
        lakemap.read_field(here)
