"""One rig as views from the side draw it: scale, float, line and blocks."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from lakemap.outputs.drawn.placer import INK, Anchor, Placer, Point

WIDTH: Final = 520.0
HEIGHT: Final = 250.0
BED: Final = 196.0
_LEFT, _RIGHT = 48.0, 64.0
_ABSORBER: Final = 24.0  # its length as drawn
_AIR_M: Final = 0.3  # above the deck
_CHAIN: Final = f'fill="none" stroke="{INK}" stroke-width="3" stroke-dasharray="4.5 1.8"'


@dataclass(frozen=True, slots=True, kw_only=True)
class SideView:
    """What the view is drawn from [m]; depths at low water, at the level shown, at high water."""

    depth_m: tuple[float, float, float]
    hook_depth_m: float
    riser_m: float
    ground_m: float
    deck_m: float
    draft_m: float
    height_m: float


@dataclass(frozen=True, slots=True)
class Scale:
    """From metres along the bed and above it to pixels; one scale both ways."""

    k: float  # px a metre
    left: float  # px, where the primary is
    crop: float  # px of sky that is cut off

    def at(self, x_m: float, z_m: float) -> Point:
        """Return where a point stands."""
        return self.left + x_m * self.k, BED - z_m * self.k


def scale_of(view: SideView, hook_x_m: float, *, wave_m: float, sky: float) -> Scale:
    """Return the scale at which a rig fills its picture.

    Parameters
    ----------
    view : SideView
        Lengths of the rig.
    hook_x_m : float
        How far the hook is from the primary.
    wave_m : float
        Height of the waves drawn.
    sky : float
        Room above the highest thing drawn [px].

    Returns
    -------
    Scale
        The same in both directions.
    """
    tall = max(view.depth_m[2], view.depth_m[1] + wave_m / 2)
    tall += view.height_m - view.draft_m + _AIR_M
    behind = max(view.deck_m / 2 - hook_x_m, 0.0)  # a steep line: the deck is over its primary
    wide, room = behind + hook_x_m + view.deck_m / 2, WIDTH - _LEFT - _RIGHT
    k = min(room / wide, (BED - sky) / tall)
    left = _LEFT + behind * k + (room - wide * k) / 2
    return Scale(k=k, left=left, crop=max(0.0, math.floor(BED - tall * k - sky)))


def take_rig(texts: Placer, view: SideView, drawn: tuple[list[Point], int, Scale]) -> None:
    """Keep texts off the bed, the float, the line and its blocks.

    Parameters
    ----------
    texts : Placer
        Of the picture.
    view : SideView
        Lengths of the rig.
    drawn : tuple
        Points of the line [px], which of them the secondary is at, and the scale.
    """
    points, secondary, scale = drawn
    (x1, _), (x2, y2), (hx, _) = points[0], points[secondary], points[-1]
    deck = _deck_y(view, scale)
    half = view.deck_m * scale.k / 2 + 3
    texts.take((0, BED, WIDTH, HEIGHT - BED), (x1 - 15, BED - 10, 30, 10))
    texts.take((hx - half, deck - 7, 2 * half, view.height_m * scale.k + 9))
    texts.take((x2 - 11, y2 - 14, 22, 15))
    texts.take_line(points)


def level_names(texts: Placer, view: SideView, scale: Scale) -> list[str]:
    """Return the names of low and high water at their lines; none where the lake keeps one level.

    Parameters
    ----------
    texts : Placer
        Finds room for them.
    view : SideView
        For the depths.
    scale : Scale
        Of the picture.

    Returns
    -------
    list of str
        SVG.
    """
    low, shown, high = view.depth_m
    parts = []
    off_line = 0.75 * texts.letters
    for depth, name, by in ((low, "low water", off_line), (high, "high water", -off_line)):
        if low == high:
            continue
        y = scale.at(0.0, depth)[1]
        places: list[tuple[float, float, Anchor]] = []
        for off in (by, -by):
            places += [(5.0, y + off, "start"), (WIDTH - 5, y + off, "end")]
        parts.append(texts.put([name], places, colour="#1A4560", must=depth != shown)[0])
    return parts


def dotted_svg(y: float) -> str:
    """Return the line of a level that is not the one shown.

    Parameters
    ----------
    y : float
        Where it is [px].

    Returns
    -------
    str
        SVG.
    """
    return f'<path d="M0 {y:.1f}H{WIDTH:g}" stroke="#3E7391" stroke-dasharray="2 3"/>'


def _deck_y(view: SideView, scale: Scale) -> float:
    return scale.at(0.0, view.depth_m[1] + view.height_m - view.draft_m)[1]


def hull_svg(view: SideView, x: float, scale: Scale) -> str:
    """Return the flotation at its draft and the deck on it.

    Parameters
    ----------
    view : SideView
        Sizes of the float.
    x : float
        Its middle, where the hook is [px].
    scale : Scale
        Of the picture.

    Returns
    -------
    str
        SVG.
    """
    half, high, y = view.deck_m * scale.k / 2, view.height_m * scale.k, _deck_y(view, scale)
    return (
        f'<rect x="{x - half:.1f}" y="{y:.1f}" width="{2 * half:.1f}" height="{high:.1f}"'
        f' rx="{high / 2:.1f}" fill="#fff" stroke="{INK}" stroke-width="1.5"/>'
        f'<rect x="{x - half:.1f}" y="{y - 6:.1f}" width="{2 * half:.1f}" height="6"'
        f' fill="#C9B48C" stroke="{INK}"/>'
    )


def line_svg(points: list[Point], secondary: int) -> str:
    """Return ground chain and riser dashed, the absorber on top as two bowed lines.

    Parameters
    ----------
    points : list of tuple of float
        From the primary to the hook [px].
    secondary : int
        Which of them the secondary is at.

    Returns
    -------
    str
        SVG.
    """
    riser, (ax, ay) = _below_absorber(points, secondary)
    hx, hy = points[-1]
    long = math.hypot(hx - ax, hy - ay) or 1.0
    nx, ny = (hy - ay) / long * 7, -(hx - ax) / long * 7
    bows = "".join(
        f"M{ax:.1f} {ay - 2:.1f}Q{(ax + hx) / 2 + side * nx:.1f}"
        f" {(ay + hy) / 2 - 1 + side * ny:.1f} {hx:.1f} {hy:.1f}"
        for side in (1, -1)
    )
    return (
        f'<path d="{_path(points[: secondary + 1])}" {_CHAIN}/>'
        f'<path d="{_path(riser)}" {_CHAIN}/>'
        f'<path d="{bows}" fill="none" stroke="{INK}" stroke-width="1.5"/>'
        f'<circle cx="{hx:.1f}" cy="{hy:.1f}" r="2.6" fill="{INK}"/>'
    )


def _path(part: list[Point]) -> str:
    return "M" + "L".join(f"{x:.1f} {y - 2:.1f}" for x, y in part)


def _below_absorber(points: list[Point], secondary: int) -> tuple[list[Point], Point]:
    """The riser up to where the absorber begins, and that point; half of a short one at most."""
    riser = points[secondary:]
    pieces = [math.dist(a, b) for a, b in pairwise(riser)]
    left = min(_ABSORBER, sum(pieces) / 2)
    while pieces and pieces[-1] <= left:
        left -= pieces.pop()
    (x, y), (bx, by) = riser[len(pieces) - 1], riser[len(pieces)]
    share = left / pieces[-1] if pieces else 0.0
    end = (bx + (x - bx) * share, by + (y - by) * share)
    return [*riser[: len(pieces)], end], end


def blocks_svg(primary: Point, secondary: Point) -> str:
    """Return the primary filled and half sunk, the secondary open.

    Parameters
    ----------
    primary, secondary : tuple of float
        Where they are [px].

    Returns
    -------
    str
        SVG.
    """
    x1, x2, y = primary[0], *secondary
    return (
        f'<rect x="{x1 - 13:.1f}" y="{BED - 8:g}" width="26" height="14" fill="{INK}"/>'
        f'<rect x="{x2 - 9:.1f}" y="{y - 13:.1f}" width="18" height="13" fill="#fff"'
        f' stroke="{INK}" stroke-width="1.6"/>'
    )
