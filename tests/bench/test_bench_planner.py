"""A moved float answered while the hand moves, against assessing the whole field anew."""

from dataclasses import replace

import numpy as np
import pytest

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.replanned import plan_of, replanned

SHARES = {40: 5, 2000: 20}  # how many times faster, at least


def field_of(folder, count):
    """Floats on a jittered grid in a lake of 3 by 2 km with soundings, a channel and rules."""
    folder.mkdir()
    rng = np.random.default_rng(5)
    (folder / "field.toml").write_text(
        'units = "m-kg"\n[levels]\nlow = "-0.3 m"\nnormal = "0 m"\nhigh = "0.3 m"\n'
        '[rules.neighbour]\ndistance = "1 m"\nsource = "made up"\n'
        '[rules.shore]\ndistance = "5 m"\nsource = "made up"\n'
        '[rules.bed]\ndepth = "0.3 m"\nsource = "made up"\n'
    )
    around = np.linspace(0, 2 * np.pi, 600, endpoint=False)
    far = 1 + 0.1 * np.sin(3 * around) + 0.02 * np.sin(40 * around)
    ring = np.column_stack([-37 + 0.02 * far * np.cos(around), 41 + 0.014 * far * np.sin(around)])
    (folder / "lake.csv").write_text("lon,lat\n" + "".join(f"{x:.7f},{y:.7f}\n" for x, y in ring))
    side = int(np.ceil(np.sqrt(count)))
    east, north = np.meshgrid(
        np.linspace(-37.011, -36.989, side), np.linspace(40.992, 41.008, side)
    )
    xy = np.column_stack([east.ravel(), north.ravel()])[:count] + rng.uniform(
        -2e-5, 2e-5, (count, 2)
    )
    (folder / "floats.csv").write_text(
        "float_id,lon,lat,length_m,width_m\n"
        + "".join(f"{k},{x:.8f},{y:.8f},3,2.4\n" for k, (x, y) in enumerate(xy, start=1))
    )
    deep = rng.uniform([-37.018, 40.988], [-36.982, 41.012], (3000, 2))
    (folder / "soundings.csv").write_text(
        "lon,lat,depth_m\n"
        + "".join(f"{x:.7f},{y:.7f},{4 + 2 * np.sin(x * 900):.2f}\n" for x, y in deep)
    )
    return read_field(folder)


@pytest.mark.parametrize("count", sorted(SHARES))
def test_a_float_under_the_hand(compare, tmp_path, count):
    field = field_of(tmp_path / "field", count)
    plan = plan_of(assess(field))
    one = plan.assessment.floats[count // 2]
    steps = iter(range(10_000))

    def answer():
        lon, lat = plan.assessment.projection.to_lonlat(
            np.array([one.x_m + 0.05 * next(steps)]), np.array([one.y_m])
        )
        return replanned(
            plan,
            {count // 2: replace(one.record, lon=float(lon[0]), lat=float(lat[0]))},
            sized=False,
        )

    ratio = compare(f"one of {count} floats moved", answer, lambda: assess(field), rounds=9)
    assert ratio > SHARES[count]
