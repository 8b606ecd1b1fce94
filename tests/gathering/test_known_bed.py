"""A bed that is known, sounded on paper: what is gathered and read again lies on it."""

from datetime import date

import numpy as np
import pytest
from sounder_logs import LAT, LON, gga, sentence

from lakemap.gathering.gather import gather
from lakemap.gathering.records import Asked
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess

FT = 0.3048
TOML = '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\nsoundings = "0.4 ft"\n[wake]\n'
# halfway between 0.5 and -0.7 ft: the lake stood at -0.1 ft, half a foot below the soundings' level
GAUGE = "date,level_ft\n2024-06-01,0.5\n2024-06-11,-0.7\n"
THAT_DAY_M = -0.5 * FT
HANGS_M = 0.4
TRUE_M_S, RECKONED_M_S = 1447.0, 1500.0
STEP = 0.00004


def bed_m(lon, lat):
    """Depth at the soundings' level: falls to the east and to the north."""
    return 6.0 + (lon - LON) * 800 + (lat - LAT) * 500


def reading_m(lon, lat):
    """What the sounder shows: below itself, by the wrong speed."""
    return (bed_m(lon, lat) + THAT_DAY_M - HANGS_M) * RECKONED_M_S / TRUE_M_S


def survey(rows=12, columns=40):
    lines, at = [], 43200
    for row in range(rows):
        lat = LAT + (row - rows / 2) * STEP
        for k in range(columns):
            lon = LON + (k - columns / 2) * STEP
            depth = reading_m(lon + STEP / 2, lat)  # between this fix and the next
            lines += [gga(at, lat, lon), sentence(f"SDDPT,{depth:.3f},{HANGS_M}")]
            at += 1
        at += 60
    return "".join(lines)


@pytest.mark.parametrize("keys", [{}, {"every_m": 0.0}])
def test_depths_come_back_at_the_level_of_the_soundings(folder, tmp_path, keys):
    here = folder(
        field__toml=TOML,
        levels__csv=GAUGE,
        floats__csv=f"float_id,lon,lat,length_ft,width_ft\n1,{LON},{LAT},10,8\n",
    )
    path = tmp_path / "some.log"
    path.write_text(survey(), encoding="ascii", newline="")
    gather(here, [path], Asked(sound_speed_m_s=TRUE_M_S, day=date(2024, 6, 6), **keys))
    field = read_field(here)
    own = field.soundings
    assert len(own.depth_m) > 100
    # written to a hundredth of a foot
    assert np.abs(own.depth_m - bed_m(own.lon, own.lat)).max() < 0.003
    (float_,) = assess(field).floats
    # at normal level: 0.4 ft below the soundings' level
    assert float_.depth_m[1] == pytest.approx(bed_m(LON, LAT) - 0.4 * FT, abs=0.005)
