"""Shared by all tests: the switch for benchmarks, and one square lake whose answers are by hand."""

from pathlib import Path

BENCH = Path(__file__).parent / "bench"


def pytest_addoption(parser):
    parser.addoption("--bench", action="store_true", help="collect tests/bench too")


def pytest_ignore_collect(collection_path, config):
    return True if collection_path == BENCH and not config.getoption("--bench") else None
