"""The rig from the side under a steady pull, one scale both ways, as an SVG."""

import math
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import figure, force_text, length_text
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
from lakemap.outputs.drawn.placer import INK, RED, Anchor, Placer, Point, words_svg
from lakemap.sizing.records import LineState

_SKY: Final = 48.0  # above the highest thing drawn
_LEAST_M: Final = 0.03  # lifted less than this is not written


def storm_view_svg(
    view: SideView, state: LineState, *, wave_m: float, mean_n: float, units: Units
) -> str:
    """Return the side view in the storm at one lake level.

    Parameters
    ----------
    view : SideView
        Lengths of the rig; its normal depth is that of the level shown.
    state : LineState
        The line under the storm's steady pull.
    wave_m : float
        Height of the storm's highest wave [m].
    mean_n : float
        The steady pull [N].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        SVG.
    """
    depth, hook_x = view.depth_m[1], state.x_m[-1]
    scale = scale_of(view, hook_x, wave_m=wave_m, sky=_SKY)
    points = [scale.at(x, z) for x, z in zip(state.x_m, state.z_m, strict=True)]
    texts = Placer(0, scale.crop, WIDTH, HEIGHT - scale.crop)
    said = _said(state, mean_n, units)
    return "".join(
        [
            f'<svg viewBox="0 {scale.crop:g} {WIDTH:g} {HEIGHT - scale.crop:g}" role="img"'
            ' font-family="system-ui, sans-serif" aria-label="The rig from the side in the storm:'
            f' {", ".join(said.values())}, reach {length_text(hook_x, units)}">',
            f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="#F7FAFB"/>',
            _waves(scale.at(0.0, depth)[1], max(wave_m / 2 * scale.k, 1.0)),
            *(dotted_svg(scale.at(0.0, other)[1]) for other in view.depth_m[::2] if other != depth),
            f'<rect y="{BED:g}" width="{WIDTH:g}" height="{HEIGHT - BED:g}" fill="#D9CFBD"/>',
            hull_svg(view, points[-1][0], scale),
            line_svg(points, state.secondary),
            blocks_svg(points[0], points[state.secondary]),
            _words(texts, view, (points, state.secondary, scale), said),
            words_svg("primary", scale.left, BED + 20, "middle", bold=True),
            _reach(scale.left, points[-1][0], f"reach {length_text(hook_x, units)}"),
            "</svg>",
        ]
    )


def _said(state: LineState, mean_n: float, units: Units) -> dict[str, str]:
    """Return what is written at the line; nothing where nothing lifts or pulls up."""
    lift = state.z_m[state.secondary]
    uplift = force_text(state.primary_uplift_n, units, rounding="up")
    angle = figure(state.hook_angle_deg, digits=0)
    said = {
        "pull": f"steady pull {force_text(mean_n, units, rounding='up')}",
        "taut": f"{force_text(state.hook_tension_n, units, rounding='up')} in the riser,"
        f" {angle}° above level",
        "lifted": f"secondary lifted {length_text(lift, units)}" if lift > _LEAST_M else "",
        "up": f"primary pulled up {uplift}" if state.primary_uplift_n >= 1 else "",
    }
    return {key: text for key, text in said.items() if text}


def _words(
    texts: Placer, view: SideView, drawn: tuple[list[Point], int, Scale], said: dict[str, str]
) -> str:
    """Arrows and texts at the line, each where nothing else stands."""
    points, secondary, scale = drawn
    (px, _), (x2, y2), (hx, hy) = points[0], points[secondary], points[-1]
    deck_y = scale.at(0.0, view.depth_m[1] + view.height_m - view.draft_m)[1]
    x, y = min(hx, WIDTH - 58), deck_y - 18
    take_rig(texts, view, drawn)
    texts.take((x, y - 5, 40, 10))
    parts = [_arrow(x, y, 40.0, 0.0, INK)]
    if "up" in said:
        parts.append(_arrow(px, BED - 14, 0.0, -26.0, RED))
        texts.take((px - 5, BED - 40, 10, 26))
    if "lifted" in said:
        down = f"M{x2:.1f} {y2:.1f}V{BED:g}"
        parts.append(f'<path d="{down}" stroke="{INK}" stroke-dasharray="2 2"/>')
        texts.take_line([(x2, y2), (x2, BED)], 4.0)
    parts.append(texts.put([said["pull"]], _near((x, y), (-6, 0), (20, -15)), bold=True)[0])
    if "up" in said:
        at = _near((px, BED), (0, -50), (-8, -34), (8, -30))
        parts.append(texts.put([said["up"][8:]], at, bold=True, colour=RED)[0])
    if "lifted" in said:
        at = _near((x2, BED), (6, (y2 - BED) / 2), (6, -9))
        parts.append(texts.put([said["lifted"][10:]], at)[0])
    parts += level_names(texts, view, scale)
    first, _, second = said["taut"].partition(", ")
    at = _near(((x2 + hx) / 2, (y2 + hy) / 2), (12, 11), (16, 22), (-10, -13))
    return "".join([*parts, texts.put([f"{first},", second], at)[0]])


def _near(at: Point, *off: Point) -> list[tuple[float, float, Anchor]]:
    """Places beside a point; those at its left end there, those at its right begin there."""
    return [(at[0] + dx, at[1] + dy, _anchor(dx)) for dx, dy in off]


def _anchor(dx: float) -> Anchor:
    if dx in (0, 20):  # above
        return "middle"
    return "start" if dx > 0 else "end"


def _waves(top: float, crest: float) -> str:
    long = max(crest * 14, 52.0)
    bow = f"q{long / 4:.1f} {-2 * crest:.1f} {long / 2:.1f} 0"
    trough = f"q{long / 4:.1f} {2 * crest:.1f} {long / 2:.1f} 0"
    count = int(WIDTH / long) + 2
    surface = f"M{-long:.1f} {top:.1f}{(bow + trough) * count}"
    return (
        f'<path d="{surface}V{BED:g}H{-long:.1f}Z" fill="#D6E8EE"/>'
        f'<path d="{surface}" fill="none" stroke="#3E7391" stroke-width="1.5"/>'
    )


def _arrow(x: float, y: float, dx: float, dy: float, colour: str) -> str:
    size = math.hypot(dx, dy)
    ux, uy = dx / size, dy / size
    tx, ty = x + dx, y + dy
    head = (
        f"M{tx:.1f} {ty:.1f}L{tx - 9 * ux - 4.5 * uy:.1f} {ty - 9 * uy + 4.5 * ux:.1f}"
        f"L{tx - 9 * ux + 4.5 * uy:.1f} {ty - 9 * uy - 4.5 * ux:.1f}Z"
    )
    return (
        f'<path d="M{x:.1f} {y:.1f}L{tx - 7 * ux:.1f} {ty - 7 * uy:.1f}" stroke="{colour}"'
        f' stroke-width="2.4"/><path d="{head}" fill="{colour}"/>'
    )


def _reach(left: float, hx: float, said: str) -> str:
    y = BED + 32
    return (
        f'<path d="M{left:.1f} {y:g}H{hx:.1f}M{left:.1f} {y - 4:g}v8M{hx:.1f} {y - 4:g}v8"'
        f' stroke="{INK}" stroke-width="1.2"/>' + words_svg(said, (left + hx) / 2, y + 15, "middle")
    )
