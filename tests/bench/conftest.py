"""Ratios against the plain ways, both in one process: warm, median of five, one thread."""

import os
import resource
import subprocess
import sys
import time

import numpy as np
import pytest


def median_s(work, rounds=5):
    work()  # warm
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return float(np.median(taken))


@pytest.fixture
def compare(benchmark, record_property):
    """Run ours under the benchmark and both ways for the ratio; says it, and returns it."""

    def run(name, ours, plain, rounds=5):
        fast, slow = median_s(ours, rounds), median_s(plain, min(rounds, 3))
        benchmark.extra_info["ratio"] = slow / fast
        benchmark.pedantic(ours, rounds=1)
        record_property(name, slow / fast)
        sys.__stderr__.write(
            f"\n{name}: ours {fast:.3f} s, plain {slow:.3f} s, {slow / fast:.1f} times\n"
        )
        return slow / fast

    return run


@pytest.fixture
def peak_mb():
    """Peak memory of a child process that runs some code."""

    def run(code):
        done = subprocess.run(
            [sys.executable, "-c", code + "\nimport resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"],
            capture_output=True, text=True, check=True, env=os.environ | {"OPENBLAS_NUM_THREADS": "1"},
        )  # fmt: skip
        unit = 1 if sys.platform == "darwin" else 1024
        return int(done.stdout.split()[-1]) * unit / 1e6

    assert resource.RUSAGE_SELF is not None
    return run
