"""The line of many rigs at once against one call for each.

One call each would take a while for all of them: it is measured on a spread sample and scaled up,
which its time allows, for the calls know nothing of each other.
"""

import sys

import numpy as np
import pytest

from lakemap.rig.holding import LineRig, slide_pull_primary
from lakemap.rig.line import two_cluster_line
from lakemap.rig.line_shape import line_shapes

RIGS, SAMPLE = 10_000, 300
SOME = np.linspace(0, RIGS - 1, SAMPLE).astype(int).tolist()


@pytest.fixture(scope="module")
def spread():
    """Rigs of every state: slack and taut, resting and hung, calm to storm."""
    rng = np.random.default_rng(3)
    drop = rng.uniform(1.5, 12, RIGS)
    pull = np.where(rng.random(RIGS) < 0.1, 0.0, 10 ** rng.uniform(0, 4, RIGS))
    rig = {
        "drop_m": drop,
        "ground_m": drop * rng.uniform(0.5, 2.5, RIGS),
        "riser_m": drop * rng.uniform(0.9, 1.6, RIGS),
        "ground_weight_n_m": rng.uniform(10, 60, RIGS),
        "riser_weight_n_m": rng.uniform(10, 40, RIGS),
        "secondary_wet_n": rng.uniform(0, 900, RIGS),
    }
    return pull, rig


def one_by_one(work, pull, rig):
    return [work(pull[i], {name: values[i] for name, values in rig.items()}) for i in SOME]


def ratio_of(compare, name, ours, plain):
    once = compare(f"{name}, {RIGS:,} at once; plain on {SAMPLE}", ours, plain)
    ratio = once * RIGS / SAMPLE
    sys.__stderr__.write(f"{name}: plain scaled to all, {ratio:.0f} times\n")
    return ratio


def test_lines_of_10000_rigs(compare, spread):
    pull, rig = spread

    def plain():
        return one_by_one(lambda h, one: two_cluster_line(h, **one), pull, rig)

    ratio = ratio_of(compare, "lines", lambda: two_cluster_line(pull, **rig), plain)
    at_once = two_cluster_line(pull, **rig)
    for i, alone in zip(SOME, plain(), strict=True):
        assert at_once.reach_m[i] == pytest.approx(float(alone.reach_m), rel=1e-12)
        assert at_once.primary_uplift_n[i] == pytest.approx(
            float(alone.primary_uplift_n), rel=1e-9, abs=1e-6
        )
    assert ratio >= 30


def test_pulls_that_slide_10000_primaries(compare, spread):
    pull, rig = spread
    wet = 400 + 5 * pull**0.5

    def slide(weight, line):
        return slide_pull_primary(0.3, wet_n=weight, passive_n=200.0, rig=LineRig(**line))

    def plain():
        arrays = {name: np.asarray(values) for name, values in rig.items()}
        return [slide(wet[i : i + 1], {n: v[i : i + 1] for n, v in arrays.items()}) for i in SOME]

    ratio = ratio_of(compare, "sliding pulls", lambda: slide(wet, rig), plain)
    at_once = slide(wet, rig)
    assert at_once[SOME] == pytest.approx(np.concatenate(plain()), rel=1e-9)
    assert ratio >= 30


def test_shapes_of_10000_lines(compare, spread):
    pull, rig = spread

    def shape(at):
        return line_shapes(pull[at], rig=LineRig(**{n: v[at] for n, v in rig.items()}))

    def plain():
        return [shape(slice(i, i + 1)) for i in SOME]

    ratio = ratio_of(compare, "shapes", lambda: shape(slice(None)), plain)
    at_once = shape(slice(None))
    assert at_once.z_m[SOME] == pytest.approx(
        np.concatenate([one.z_m for one in plain()]), abs=1e-8
    )
    assert ratio >= 30
