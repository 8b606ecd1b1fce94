"""Shapes as the page stores them: whole centimetres, each point as the step from the one before."""

import numpy as np

from lakemap.basis.records import FloatArray, Geometry
from lakemap.outputs.drawn.scene import CM, lines_of, rings_of


def packed_rings(area: Geometry) -> list[list[list[int]]]:
    """Return areas as rings of steps.

    Parameters
    ----------
    area : shapely geometry
        In metres.

    Returns
    -------
    list
        Per polygon its rings, the outer one first; each flat, east and north in turn.
    """
    return [[_steps(ring) for ring in rings] for rings in rings_of(area)]


def packed_lines(lines: Geometry) -> list[list[int]]:
    """Return lines as steps.

    Parameters
    ----------
    lines : shapely geometry
        In metres.

    Returns
    -------
    list
        Each line flat, east and north in turn.
    """
    return [_steps(line) for line in lines_of(lines)]


def _steps(xy: FloatArray) -> list[int]:
    whole = np.round(xy * CM).astype(np.int64)
    steps: list[int] = (
        np.diff(whole, axis=0, prepend=np.zeros((1, 2), dtype=np.int64)).reshape(-1).tolist()
    )
    return steps
