"""The rig from the side in calm water, to scale, as an SVG."""

from dataclasses import fields
from html import escape
from typing import Final

import numpy as np

from lakemap.basis.records import Units
from lakemap.basis.wording import measure_text
from lakemap.outputs.drawn.drawn_rig import (
    BED,
    HEIGHT,
    WIDTH,
    Scale,
    SideView,
    blocks_svg,
    dotted_svg,
    hull_svg,
    level_names,
    line_svg,
    scale_of,
    take_rig,
)
from lakemap.outputs.drawn.placer import INK, LETTERS, Anchor, Placer, Point
from lakemap.rig.holding import LineRig
from lakemap.rig.line_shape import line_shapes

_SKY: Final = 30.0  # above the highest thing drawn
_LEAST_M: Final = 0.03  # hangs less than this off the bed: not written
_POINTS: Final = 33  # on each of ground chain and riser: the riser bends sharply at the bed


def calm_line(view: SideView) -> tuple[list[Point], int]:
    """Return how the line may lie in calm water.

    Parameters
    ----------
    view : SideView
        Lengths of the rig.

    Returns
    -------
    list of tuple of float
        Points from the primary to the hook, along the bed and above it [m].
    int
        Which of them the secondary is at.
    """
    drop = view.depth_m[1] - view.hook_depth_m
    reaches = view.riser_m > 0 and view.ground_m >= 0
    if not (reaches and 0 < drop < view.riser_m + view.ground_m):
        chain = min(view.ground_m, max(drop, 0.0))  # too short, or aground: straight up
        return [(0.0, 0.0), (0.0, chain), (0.0, max(drop, 0.0))], 1
    ones = dict.fromkeys((field.name for field in fields(LineRig)), np.ones(1))
    lengths = {"drop_m": drop, "riser_m": view.riser_m, "ground_m": view.ground_m}
    rig = LineRig(**ones | {name: np.array([value]) for name, value in lengths.items()})
    shapes = line_shapes(0.0, rig=rig, points=_POINTS)
    return list(zip(shapes.x_m[0].tolist(), shapes.z_m[0].tolist(), strict=True)), shapes.secondary


def side_view_svg(view: SideView, *, units: Units, letters: float = LETTERS) -> str:
    """Return the side view in calm water at one lake level, one scale both ways.

    Parameters
    ----------
    view : SideView
        Lengths of the rig; its normal depth is that of the level shown.
    units : {'ft-lb', 'm-kg'}
        What people use.
    letters : float
        Their size [px of a picture 520 px wide].

    Returns
    -------
    str
        SVG.
    """
    line, secondary = calm_line(view)
    depth = view.depth_m[1]
    scale = scale_of(view, line[-1][0], wave_m=0.0, sky=_SKY)
    points = [scale.at(x, z) for x, z in line]
    top = scale.at(0.0, depth)[1]
    said = {
        "deep": f"{measure_text(depth, units)} deep",
        "riser": f"riser {measure_text(view.riser_m, units)}",
        "chain": f"ground chain {measure_text(view.ground_m, units)}",
    }
    x1, x2 = points[0][0], points[secondary][0]
    more = letters / LETTERS
    under, lower = BED + 8 + letters, BED + 8 + 2.5 * letters
    high = HEIGHT + 2.5 * (letters - LETTERS)
    return "".join(
        [
            f'<svg viewBox="0 {scale.crop:g} {WIDTH:g} {high - scale.crop:g}" role="img"'
            ' font-family="system-ui, sans-serif"'
            f' aria-label="The rig from the side in calm water: {", ".join(said.values())}">',
            f'<rect width="{WIDTH:g}" height="{high:g}" fill="#F7FAFB"/>',
            f'<rect y="{top:.1f}" width="{WIDTH:g}" height="{max(BED - top, 0):.1f}"'
            ' fill="#D6E8EE"/>',
            f'<path d="M0 {top:.1f}H{WIDTH:g}" stroke="#3E7391" stroke-width="1.5"/>',
            *(dotted_svg(scale.at(0.0, other)[1]) for other in view.depth_m[::2] if other != depth),
            f'<rect y="{BED:g}" width="{WIDTH:g}" height="{high - BED:g}" fill="#D9CFBD"/>',
            hull_svg(view, points[-1][0], scale),
            line_svg(points, secondary),
            _words(view, (points, secondary, scale), said, letters),
            _named("primary", (min(x1, x2 - 68 * more), under), letters, bold=True),
            _named("secondary", (x2, under), letters, bold=True),
            _named(said["chain"], (max((x1 + x2) / 2, 70 * more), lower), letters),
            blocks_svg(points[0], points[secondary]),
            "</svg>",
        ]
    )


def _words(
    view: SideView,
    drawn: tuple[list[Point], int, Scale],
    said: dict[str, str],
    letters: float,
) -> str:
    """Depth, riser and levels, each where nothing else stands."""
    points, secondary, scale = drawn
    (x1, _), (x2, y2), (hx, hy) = points[0], points[secondary], points[-1]
    top = scale.at(0.0, view.depth_m[1])[1]
    texts = Placer(0, scale.crop, WIDTH, HEIGHT - scale.crop, letters=letters)
    take_rig(texts, view, (points, secondary, scale))
    texts.take_line([(14.0, top), (14.0, BED)], 8.0)
    bar = f"M14 {top:.1f}V{BED:g}M10 {top:.1f}h8M10 {BED:g}h8"
    middle = (hy + y2) / 2
    beside: list[tuple[float, float, Anchor]] = [
        (hx + 14, middle, "start"),
        (x2 - 14, middle, "end"),
        (hx + 20, middle + 24, "start"),
        (x2 - 20, middle - 24, "end"),
    ]
    depths: list[tuple[float, float, Anchor]] = [
        (22, top + (BED - top) * share, "start") for share in (0.5, 0.3, 0.7)
    ]
    parts = [
        f'<path d="{bar}" fill="none" stroke="{INK}" stroke-width="1.2"/>',
        texts.put([said["deep"]], depths)[0],
        texts.put([said["riser"]], beside)[0],
        *level_names(texts, view, scale),
    ]
    if (BED - y2) / scale.k > _LEAST_M:
        off: list[tuple[float, float, Anchor]] = [(x2 + 14, y2, "start"), (x1 + 18, y2, "start")]
        parts.append(texts.put(["hangs off the bed"], off)[0])
    return "".join(parts)


def _named(words: str, at: Point, letters: float, *, bold: bool = False) -> str:
    weight = ' font-weight="600"' if bold else ""
    return (
        f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" font-size="{letters:g}" text-anchor="middle"'
        f' fill="{INK}"{weight}>{escape(words)}</text>'
    )
