"""The rig from the side in calm water, to scale, as an SVG."""

import math
from dataclasses import dataclass
from html import escape
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import measure_text

INK: Final = "#12232E"
_WIDTH: Final = 520.0
_BED: Final = 190.0
_PAD: Final = 34.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SideView:
    """What the view is drawn from [m]; depths at low, normal and high water."""

    depth_m: tuple[float, float, float]
    hook_depth_m: float
    riser_m: float
    ground_m: float
    deck_m: float
    draft_m: float
    height_m: float


def side_view_svg(view: SideView, *, units: Units) -> str:
    """Return the side view at normal level, one scale both ways.

    Parameters
    ----------
    view : SideView
        Lengths of the rig.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        SVG.
    """
    low, normal, high = view.depth_m
    drop = normal - view.hook_depth_m
    hangs = view.riser_m < drop
    lift = min(drop - view.riser_m, view.ground_m) if hangs else 0.0
    across = 0.0 if hangs else 0.35 * math.sqrt(max(view.riser_m**2 - drop**2, 0.0))
    span = view.ground_m + across + view.deck_m + 1.5
    k = min((_WIDTH - 2 * _PAD) / span, 150 / max(high + view.height_m, 0.5))
    top, x0 = _BED - normal * k, _PAD + 10
    x1, sy = x0 + view.ground_m * k, _BED - lift * k
    hx, hy = x1 + across * k, _BED - drop * k
    deck_y = top + (view.draft_m - view.height_m) * k
    half = view.deck_m * k / 2
    chain = f'fill="none" stroke="{INK}" stroke-width="3" stroke-dasharray="4.5 1.8"'
    bow = min(26.0, 0.3 * (_BED - hy))
    return "".join(
        [
            f'<svg viewBox="0 0 {_WIDTH:g} 240" role="img" font-family="system-ui, sans-serif"'
            ' aria-label="The rig from the side in calm water, to scale">',
            f'<rect width="{_WIDTH:g}" height="240" fill="#F7FAFB"/>',
            f'<rect y="{top:.1f}" width="{_WIDTH:g}" height="{_BED - top:.1f}" fill="#D6E8EE"/>',
            f'<rect y="{_BED:g}" width="{_WIDTH:g}" height="50" fill="#D9CFBD"/>',
            f'<path d="M0 {top:.1f}H{_WIDTH:g}" stroke="#3E7391"/>',
            _water_line(low, "low water", k, at_left=True) if low < normal else "",
            _water_line(high, "high water", k, at_left=False) if high > normal else "",
            f'<path d="M{x0:.1f} {_BED - 3:.1f}L{x1:.1f} {sy - 4:.1f}" {chain}/>',
            f'<path d="M{x1:.1f} {sy - 6:.1f}Q{x1 + across * k * 0.3:.1f} {(sy + hy) / 2 + 12:.1f}'
            f' {hx:.1f} {hy + bow:.1f}" {chain}/>',
            f'<path d="M{hx:.1f} {hy + bow:.1f}q-6 {-bow / 2:.1f} 0 {-bow:.1f}q6 {bow / 2:.1f} 0'
            f' {bow:.1f}" fill="none" stroke="{INK}" stroke-width="1.4"/>',
            f'<rect x="{hx - half:.1f}" y="{deck_y:.1f}" width="{2 * half:.1f}"'
            f' height="{view.height_m * k:.1f}" rx="{view.height_m * k / 2:.1f}" fill="#fff"'
            f' stroke="{INK}" stroke-width="1.5"/>',
            f'<rect x="{hx - half:.1f}" y="{deck_y - 6:.1f}" width="{2 * half:.1f}" height="6"'
            f' fill="#C9B48C" stroke="{INK}"/>',
            f'<rect x="{x0 - 13:.1f}" y="{_BED - 8:g}" width="26" height="14" fill="{INK}"/>',
            f'<rect x="{x1 - 9:.1f}" y="{sy - 13:.1f}" width="18" height="13" fill="#fff"'
            f' stroke="{INK}" stroke-width="1.6"/>',
            words_svg("primary", x0 - 13, _BED + 20, "start", bold=True),
            words_svg("secondary", x1, _BED + 20, "middle", bold=True),
            words_svg(
                f"ground chain {measure_text(view.ground_m, units)}", (x0 + x1) / 2, _BED + 36
            ),
            words_svg(
                f"riser {measure_text(view.riser_m, units)}", hx + 14, (_BED + top) / 2, "start"
            ),
            words_svg(f"{measure_text(normal, units)} deep", x0 + 4, (_BED + top) / 2, "start"),
            "</svg>",
        ]
    )


def _water_line(depth: float, name: str, k: float, *, at_left: bool) -> str:
    """A level that is not the normal one, dotted and named."""
    y = _BED - depth * k
    x, anchor, down = (6.0, "start", 12) if at_left else (_WIDTH - 6, "end", -4)
    return (
        f'<path d="M0 {y:.1f}H{_WIDTH:g}" stroke="#3E7391" stroke-dasharray="2 3"/>'
        f'<text x="{x:g}" y="{y + down:.1f}" font-size="11" text-anchor="{anchor}" fill="#1A4560">'
        f"{name}</text>"
    )


def words_svg(words: str, x: float, y: float, anchor: str = "middle", *, bold: bool = False) -> str:
    """Return words on a picture, escaped.

    Parameters
    ----------
    words : str
        Text.
    x, y : float
        Where their line stands [px].
    anchor : {'start', 'middle', 'end'}
        Which part of them stands there.
    bold : bool
        True for what counts.

    Returns
    -------
    str
        SVG.
    """
    weight = ' font-weight="600"' if bold else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="12" text-anchor="{anchor}" fill="{INK}"{weight}>'
        f"{escape(words)}</text>"
    )
