"""Speed of the sizing as a ratio against one call a float; run: pytest --bench tests/bench/test_bench_sizing.py -s."""

import sys
import time

import numpy as np
import pytest

import lakemap
from lakemap.rig.line import two_cluster_line

FLOATS, SAMPLED = 10_000, 100


@pytest.fixture(scope="module")
def sized(tmp_path_factory):
    """Floats of all different sizes and depths in a lake of 4 by 4 km."""
    folder = tmp_path_factory.mktemp("sizing") / "field"
    folder.mkdir()
    rng = np.random.default_rng(5)
    (folder / "field.toml").write_text(
        'units = "m-kg"\n[levels]\nlow = "-0.5 m"\nnormal = "0 m"\nhigh = "0.5 m"\n'
    )
    (folder / "lake.csv").write_text(
        "lon,lat\n-37.03,41.0\n-36.98,41.0\n-36.98,41.04\n-37.03,41.04\n"
    )
    columns = [
        rng.uniform(low, high, FLOATS)
        for low, high in ((-37.029, -36.981), (41.001, 41.039), (3, 5), (2, 3), (4, 7))
    ]
    rows = [
        f"{k},{lon:.7f},{lat:.7f},{long:.3f},{wide:.3f},{deep:.3f},9,6.5"
        for k, (lon, lat, long, wide, deep) in enumerate(zip(*columns, strict=True))
    ]
    head = "float_id,lon,lat,length_m,width_m,depth_m,riser_length_m,ground_length_m"
    (folder / "floats.csv").write_text("\n".join([head, *rows]) + "\n")
    return lakemap.assess(lakemap.read_field(folder)).sized


def test_size_of_10000_floats_against_one_call_each(sized):
    """The plain way is measured on 100 floats and scaled: it is linear in them."""
    from dataclasses import fields, replace

    from lakemap.sizing.size_rigs import size_rigs

    q = sized.question
    start = time.perf_counter()
    size_rigs(q)
    together = time.perf_counter() - start

    def one_of(record, i):
        """The same record with one float's element of every array."""
        picked = {
            field.name: getattr(record, field.name)[i : i + 1]
            for field in fields(record)
            if isinstance(getattr(record, field.name), (np.ndarray, tuple, list))
            and len(getattr(record, field.name)) == FLOATS
        }
        return replace(record, **picked)

    alone = []
    for i in range(SAMPLED):
        storms = q.storms
        storm = one_of(storms.storms, i)
        alone.append(
            replace(
                one_of(q, i), placement=one_of(q.placement, i), buoyancy=one_of(q.buoyancy, i),
                stability=replace(one_of(q.stability, i), steps=()),
                storms=replace(
                    one_of(storms, i), storms=replace(storm, question=one_of(storm.question, i), steps=())
                ),
            )
        )  # fmt: skip
    start = time.perf_counter()
    found = [size_rigs(question) for question in alone]
    each = (time.perf_counter() - start) * FLOATS / SAMPLED
    sys.__stderr__.write(
        f"\nsizing of 10,000 floats: {together:.2f} s together, {each:.0f} s one call each:"
        f" {each / together:.0f} times\n"
    )
    peaks = [float(one.loads.peak_n[0]) for one in found]
    assert peaks == pytest.approx(sized.loads.peak_n[:SAMPLED].tolist(), rel=1e-9)
    assert each / together >= 30


def test_statics_of_10000_rigs_against_one_call_each(sized):
    line = sized.rigs.line(1)
    terms = {
        name: getattr(line, name)
        for name in (
            "drop_m", "ground_m", "riser_m", "ground_weight_n_m", "riser_weight_n_m", "secondary_wet_n",
        )
    }  # fmt: skip
    pull = sized.question.storms.storms.mean_n
    start = time.perf_counter()
    together = two_cluster_line(pull, **terms)
    fast = time.perf_counter() - start
    start = time.perf_counter()
    alone = [
        two_cluster_line(pull[i], **{name: array[i] for name, array in terms.items()})
        for i in range(SAMPLED)
    ]
    slow = (time.perf_counter() - start) * FLOATS / SAMPLED
    sys.__stderr__.write(
        f"\nstatics of 10,000 rigs: {fast:.3f} s together, {slow:.1f} s one call each:"
        f" {slow / fast:.0f} times\n"
    )
    reaches = [float(one.reach_m) for one in alone]
    assert reaches == pytest.approx(together.reach_m[:SAMPLED].tolist(), rel=1e-9)
    assert slow / fast >= 30
