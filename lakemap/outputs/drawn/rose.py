"""Open water round a float, on the lake's own outline, as an SVG."""

from collections.abc import Callable
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Geometry, Units
from lakemap.basis.wording import compass_text, figure, length_text, length_unit
from lakemap.outputs.drawn.placer import INK, words_svg
from lakemap.sizing.records import Rose

_WIDTH, _HEIGHT, _PAD = 520.0, 300.0, 16.0
_AROUND: Final = 0.12  # of the rays' span, shown beyond them


def rose_says(rose: Rose, units: Units) -> str:
    """Return the message of the picture in one sentence.

    Parameters
    ----------
    rose : Rose
        Of a float.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Where the storm's waves come from, over how much water, how high.
    """
    worst = rose.worst
    return (
        f"The storm's waves come from the {compass_text(rose.from_deg[worst])}:"
        f" {_whole(rose.fetch_m[worst], units)} of open water, waves of"
        f" {length_text(rose.wave_height_m[worst], units, rounding='up')}."
    )


def _whole(metres: float, units: Units) -> str:
    """A distance over water: it is known to whole feet or metres at best."""
    unit = FOOT_M.value if units == "ft-lb" else 1.0
    return f"{figure(metres / unit, digits=0)} {length_unit(units)}"


def rose_svg(rose: Rose, water: Geometry, xy: tuple[float, float], *, units: Units) -> str:
    """Return the rays from a float to the first shore, the worst one bold.

    Parameters
    ----------
    rose : Rose
        Of the float.
    water : shapely MultiPolygon
        The lake [m].
    xy : tuple of float
        Where the float is moored [m].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        SVG, north up.
    """
    here = np.array(xy)
    angle = np.radians(rose.from_deg)
    reached = np.array(rose.fetch_m)[:, None] * np.column_stack([np.sin(angle), np.cos(angle)])
    ends = here + reached
    low, high = np.vstack([ends, here]).min(axis=0), np.vstack([ends, here]).max(axis=0)
    around = _AROUND * max(float((high - low).max()), 20.0)
    scale = min(
        (_WIDTH - 2 * _PAD) / (high[0] - low[0] + 2 * around),
        (_HEIGHT - 2 * _PAD) / (high[1] - low[1] + 2 * around),
    )
    middle = (low + high) / 2

    def pixels(points: FloatArray) -> FloatArray:
        moved = (points - middle) * np.array([scale, -scale])
        found: FloatArray = moved + np.array([_WIDTH / 2, _HEIGHT / 2])
        return found

    box = shapely.box(*(middle - 2 * _WIDTH / scale), *(middle + 2 * _WIDTH / scale))
    shown = shapely.intersection(water, box)
    rays = "".join(_ray(pixels(here), end) for k, end in enumerate(pixels(ends)) if k != rose.worst)
    x, y = pixels(here)
    return "".join(
        [
            f'<svg viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" role="img"'
            f' font-family="system-ui, sans-serif" aria-label="{rose_says(rose, units)}">',
            f'<rect width="{_WIDTH:g}" height="{_HEIGHT:g}" fill="#F2F1EC"/>',
            f'<path d="{_outline(shown, pixels)}" fill="#E4F1F2" stroke="#3F525C"'
            ' stroke-width="1.2" fill-rule="evenodd"/>',
            f'<path d="{rays}" stroke="#3E7391"/>',
            f'<path d="{_ray(pixels(here), pixels(ends)[rose.worst])}" stroke="{INK}"'
            ' stroke-width="3"/>',
            *(
                f'<circle cx="{a:.1f}" cy="{b:.1f}" r="1.7" fill="#3E7391"/>'
                for a, b in pixels(ends)
            ),
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" fill="#fff" stroke="{INK}"'
            ' stroke-width="2"/>',
            _north(),
            "</svg>",
        ]
    )


def _north() -> str:
    x = _WIDTH - 22
    return (
        f'<rect x="{x - 14:g}" y="4" width="28" height="50" rx="4" fill="#F7FAFB"'
        f' fill-opacity="0.85"/><path d="M{x:g} 34V14m-4 7l4-8 4 8" fill="none" stroke="{INK}"'
        f' stroke-width="1.6"/>{words_svg("N", x, 48, "middle", bold=True)}'
    )


def _ray(start: FloatArray, end: FloatArray) -> str:
    return f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}"


def _outline(shown: Geometry, pixels: Callable[[FloatArray], FloatArray]) -> str:
    parts = []
    for polygon in shapely.get_parts(shown):
        if shapely.get_dimensions(polygon) < 2:  # noqa: PLR2004 - an area
            continue
        for ring in (polygon.exterior, *polygon.interiors):
            points = pixels(shapely.get_coordinates(ring))
            parts.append("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + "Z")
    return "".join(parts)
