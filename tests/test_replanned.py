"""A field assessed again where a change can be felt, against assessing the whole of it anew."""

import math
import random
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import numpy as np
import pytest

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.replanned import plan_of, replanned

DEMO = Path(__file__).parents[1] / "data" / "tamber-lake"
SAME_WIND = '[rules.neighbour]\ndistance = "2 m"\nmode = "same_wind"\nsource = "made up"\n'


def wide_field(folder, *, count=14, more=""):
    """Floats so far apart that most have one neighbour only, the nearest."""
    folder.mkdir()
    rng = random.Random(11)  # noqa: S311 - no secret
    (folder / "field.toml").write_text(
        'units = "m-kg"\n[levels]\nlow = "-0.5 m"\nnormal = "0 m"\nhigh = "0.5 m"\n'
        '[rules.shore]\ndistance = "4 m"\nsource = "made up"\n' + more
    )
    (folder / "lake.csv").write_text(
        "lon,lat\n-37.01,41.0\n-37.0,41.0\n-37.0,41.008\n-37.01,41.008\n"
    )
    rows = [
        f"{k},{rng.uniform(-37.0095, -37.0005):.7f},{rng.uniform(41.0005, 41.0075):.7f},3,2.5,{rng.uniform(3, 9):.1f}"
        for k in range(1, count + 1)
    ]
    (folder / "floats.csv").write_text(
        "\n".join(["float_id,lon,lat,length_m,width_m,depth_m", *rows]) + "\n"
    )
    return read_field(folder)


def moved(plan, i, dx, dy):
    one = plan.assessment.floats[i]
    lon, lat = plan.assessment.projection.to_lonlat(
        np.array([one.x_m + dx]), np.array([one.y_m + dy])
    )
    return replace(
        one.record, lon=float(lon[0]), lat=float(lat[0]), position_of="primary", wind_from_deg=None
    )


def alike(one, other):
    """Equal, but for the last figures: arrays solved together halve their steps together."""
    if is_dataclass(one):
        return type(one) is type(other) and all(
            alike(getattr(one, f.name), getattr(other, f.name)) for f in fields(one)
        )
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=1e-7, abs_tol=1e-12)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    return one == other


def differing(plan, *, sized=True):
    """What of a plan is not as the whole assessment says, by float."""
    whole = assess(plan.assessment.field)
    assert [p.line() for p in plan.assessment.problems] == [p.line() for p in whole.problems]
    names = [f.name for f in fields(whole.floats[0]) if sized or f.name != "sizing"]
    return {
        (one.record.float_id, name)
        for one, other in zip(whole.floats, plan.assessment.floats, strict=True)
        for name in names
        if not alike(getattr(one, name), getattr(other, name))
    }


def some_change(rng, plan):
    i = rng.randrange(len(plan.assessment.floats))
    record = plan.assessment.floats[i].record
    kind = rng.randrange(6)
    if kind < 3:
        far = rng.choice((2.0, 15.0, 60.0))
        return {i: moved(plan, i, rng.uniform(-far, far), rng.uniform(-far, far))}
    if kind == 3:
        return {i: replace(record, status="set" if record.status == "retired" else "retired")}
    if kind == 4:
        return {i: replace(record, riser_m=None, ground_m=rng.uniform(2, 9))}
    new = replace(moved(plan, i, 9.0, 4.0), float_id=f"new {rng.random()}", status="proposed")
    return {len(plan.assessment.floats): new}


@pytest.mark.parametrize("seed", range(4))
def test_any_run_of_changes_gives_what_the_whole_assessment_gives(seed, tmp_path):
    rng = random.Random(seed)  # noqa: S311 - no secret
    field = (
        read_field(DEMO)
        if seed == 0
        else wide_field(tmp_path / "wide", more=SAME_WIND if seed == 3 else "")
    )
    plan = plan_of(assess(field))
    compared = 0
    for _ in range(9):
        after = replanned(plan, some_change(rng, plan))
        if any(p.code == "on_land" for one in after.assessment.floats for p in one.problems):
            continue
        assert differing(after) == set()
        plan, compared = after, compared + 1
    assert compared > 4


def test_a_moving_hand_waits_for_no_sizing_but_the_rest_is_as_exact(tmp_path):
    plan = plan_of(assess(wide_field(tmp_path / "wide")))
    quick = replanned(plan, {3: moved(plan, 3, 5.0, 2.0)}, sized=False)
    assert quick.unsized == {3}
    assert differing(quick, sized=False) == set()
    assert quick.assessment.floats[3].sizing is plan.assessment.floats[3].sizing
    then = replanned(quick, {3: quick.assessment.floats[3].record})
    assert then.unsized == frozenset()
    assert differing(then) == set()


def test_the_nearest_one_gone_another_becomes_the_nearest(tmp_path):
    plan = plan_of(assess(wide_field(tmp_path / "wide", count=5)))
    gone = plan.assessment.floats[0].record
    after = replanned(plan, {0: replace(gone, status="retired")})
    named = {
        c.against for one in after.assessment.floats for c in one.clearances if c.kind == "float"
    }
    assert gone.float_id not in named
    assert differing(after) == set()


def test_floats_that_nothing_changed_for_stay_the_same_record():
    plan = plan_of(assess(read_field(DEMO)))
    after = replanned(plan, {0: moved(plan, 0, 0.5, 0.0)})
    same = [a is b for a, b in zip(plan.assessment.floats, after.assessment.floats, strict=True)]
    assert not same[0]
    assert sum(same) > len(same) * 0.8


def test_on_land_is_a_conflict_that_says_so_and_leaves_the_others_alone(tmp_path):
    plan = plan_of(assess(wide_field(tmp_path / "wide")))
    far = moved(plan, 2, 0.0, 5000.0)
    after = replanned(plan, {2: far})
    one = after.assessment.floats[2]
    assert one.verdict == "conflict"
    assert "lies on land" in one.problems[0].text
    assert one.clearances == ()
    with pytest.raises(BadInputError):
        assess(after.assessment.field)
    back = replanned(after, {2: plan.assessment.floats[2].record})
    assert differing(back) == set()
