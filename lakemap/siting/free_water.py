"""How large a circle may be about each point: the least of distance less what is required.

Exact: distances to the nearest piece of an outline, inside by even-odd; no grid of samples.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, IntArray
from lakemap.clearances.shapes import Shape, is_area, signed_distance
from lakemap.lake.water import segments
from lakemap.siting.blocks import grid_blocks, point_blocks
from lakemap.siting.least import least
from lakemap.siting.pieces import Pieces
from lakemap.siting.records import Layer

_NAMED: Final = 20  # points that one message names


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeWater:
    """All that new circles must keep clear of; `of` builds it."""

    layers: tuple[Layer, ...]
    circles_xy: FloatArray  # [c, 2]
    circles_m: FloatArray  # [c], radius and required distance
    pieces: Pieces

    @classmethod
    def of(
        cls, layers: Sequence[Layer], *, circles_xy: FloatArray, circles_m: FloatArray
    ) -> "FreeWater":
        """Take layers and circles apart once, for many questions.

        Parameters
        ----------
        layers : sequence of Layer
            Areas and lines; only areas may be `inside`.
        circles_xy : ndarray, shape [c, 2]
            Centres of existing circles [m].
        circles_m : ndarray, shape [c]
            Their radius and the distance required from them, together [m].

        Returns
        -------
        FreeWater
            To be asked.

        Raises
        ------
        RangeError
            If a layer is empty, neither area nor line, or a line to stay inside; or a number is
            not finite. Names all such. If there are not as many circles as distances.
        """
        _guard(layers, circles_xy, circles_m)
        ends = [segments(layer.geometry) for layer in layers]
        ends.append((circles_xy, circles_xy))
        for layer in layers:
            shapely.prepare(layer.geometry)
        start, end = (np.concatenate([pair[k] for pair in ends]) for k in (0, 1))
        length = np.hypot(*(end - start).T)
        along = np.divide(
            end - start, length[:, None], out=np.zeros_like(start), where=length[:, None] > 0
        )
        along[length == 0, 0] = 1.0
        each = [*(len(pair[0]) for pair in ends[:-1]), *np.ones(len(circles_m), dtype=np.int64)]
        less = [
            layer.required_m + layer.width_m / 2 * (not is_area(layer.geometry)) for layer in layers
        ]
        others = (None,) * len(circles_m)
        pieces = Pieces(
            middle=(start + end) / 2,
            along=along,
            half_m=length / 2,
            owner=np.repeat(np.arange(len(each)), np.array(each, dtype=np.int64)),
            less_m=np.array([*less, *circles_m], dtype=np.float64),
            area=(
                *(layer.geometry if is_area(layer.geometry) else None for layer in layers),
                *others,
            ),
            inside=np.array(
                [*(layer.inside for layer in layers), *(False for _ in others)], dtype=bool
            ),
        )
        return cls(layers=tuple(layers), circles_xy=circles_xy, circles_m=circles_m, pieces=pieces)

    def room(self, xy: FloatArray) -> tuple[FloatArray, IntArray]:
        """Return the largest radius that a circle about each point may have.

        Parameters
        ----------
        xy : ndarray, shape [n, 2]
            Points [m], in any order.

        Returns
        -------
        tuple of ndarray, shape [n]
            Metres, negative where not even a point may lie; and what binds: a layer's place in
            `layers`, or the number of layers and a circle's place; the first of equals. Infinite
            and -1 with nothing to keep clear of.

        Raises
        ------
        RangeError
            If a point is not finite.
        """
        _guard_points(xy)
        if not len(xy) or not len(self.pieces.owner):
            return np.full(len(xy), np.inf), np.full(len(xy), -1)
        return least(self.pieces, point_blocks(xy))

    def rooms(self, xy: FloatArray) -> FloatArray:
        """Return the distance less what is required for each point and all there is.

        Parameters
        ----------
        xy : ndarray, shape [n, 2]
            Points [m], finite; few of them, for each is measured against everything.

        Returns
        -------
        ndarray, shape [n, layers + circles]
            Metres; the least of a row is its `room`.

        Raises
        ------
        RangeError
            If a point is not finite.
        """
        _guard_points(xy)
        columns = []
        for layer in self.layers:
            shape = Shape(geometry=layer.geometry, width_m=layer.width_m)
            distance, _ = signed_distance(shape, xy)
            columns.append((-distance if layer.inside else distance) - layer.required_m)
        away = xy[:, None, :] - self.circles_xy
        circles = np.hypot(away[..., 0], away[..., 1]) - self.circles_m
        return np.column_stack([*columns, circles])


def room_grid(free: FreeWater, *, x: FloatArray, y: FloatArray) -> tuple[FloatArray, IntArray]:
    """Return the largest radius that a circle about each cell of a grid may have.

    Parameters
    ----------
    free : FreeWater
        What to keep clear of.
    x, y : ndarray, shapes [nx] and [ny]
        Columns and rows [m], in order.

    Returns
    -------
    tuple of ndarray, shape [ny, nx]
        As `FreeWater.room` gives them.

    Raises
    ------
    RangeError
        If a column or a row is not finite.
    """
    _guard_points(np.column_stack([x, np.zeros_like(x)]))
    _guard_points(np.column_stack([np.zeros_like(y), y]))
    shape = (len(y), len(x))
    if not len(x) or not len(y) or not len(free.pieces.owner):
        return np.full(shape, np.inf), np.full(shape, -1)
    value, which = least(free.pieces, grid_blocks(x, y))
    return value.reshape(shape), which.reshape(shape)


def _guard(layers: Sequence[Layer], circles_xy: FloatArray, circles_m: FloatArray) -> None:
    """Refuse what has no distance."""
    if circles_xy.shape != (len(circles_m), 2):
        raise RangeError(f"circles: centres {circles_xy.shape}, distances {circles_m.shape}")
    wrong = []
    for layer in layers:
        numbers = (layer.required_m, layer.width_m)
        if shapely.is_empty(layer.geometry) or not shapely.get_dimensions(layer.geometry):
            wrong.append(f"{layer.name}: neither an area nor a line")
        elif layer.inside and not is_area(layer.geometry):
            wrong.append(f"{layer.name}: a line has no inside to stay in")
        if not np.isfinite(numbers).all():
            wrong.append(f"{layer.name}: required {numbers[0]:g} m, width {numbers[1]:g} m")
    known = np.isfinite(circles_xy).all(axis=1) & np.isfinite(circles_m)
    wrong.extend(f"circle [{k}] is not finite" for k in np.flatnonzero(~known))
    if wrong:
        raise RangeError("\n".join([*wrong, "no distance to keep can be told"]))


def _guard_points(xy: FloatArray) -> None:
    lost = np.flatnonzero(~np.isfinite(xy).all(axis=1))
    if len(lost):
        named = ", ".join(f"[{k}] {xy[k, 0]:g}, {xy[k, 1]:g}" for k in lost[:_NAMED])
        named += f" and {len(lost) - _NAMED:,} more" if len(lost) > _NAMED else ""
        raise RangeError(f"points {named}: need finite metres")
