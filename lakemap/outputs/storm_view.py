"""The rig from the side under a steady pull, one scale both ways, as an SVG."""

from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import figure, force_text, length_text
from lakemap.outputs.side_view import INK, SideView, words_svg
from lakemap.sizing.records import LineState

_WIDTH: Final = 520.0
_HEIGHT: Final = 250.0
_BED: Final = 196.0
_LEFT: Final = 48.0
_RIGHT: Final = 64.0
_RED: Final = "#B3200C"
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
    depth = view.depth_m[1]
    hook_x = state.x_m[-1]
    tall = max(view.depth_m[2], depth + wave_m / 2) + view.height_m - view.draft_m + 0.3
    k = min((_WIDTH - _LEFT - _RIGHT) / (hook_x + view.deck_m / 2), (_BED - 56) / tall)
    points = [(_LEFT + x * k, _BED - z * k) for x, z in zip(state.x_m, state.z_m, strict=True)]
    lift = state.z_m[state.secondary]
    pull = f"steady pull {force_text(mean_n, units, rounding='up')}"
    taut = (
        f"{force_text(state.hook_tension_n, units, rounding='up')} in the riser,"
        f" {figure(state.hook_angle_deg, digits=0)}° above level"
    )
    top = _BED - depth * k
    hx = points[-1][0]
    deck_y = top - (view.height_m - view.draft_m) * k
    pull_y = max(deck_y - 18, 36)
    return "".join(
        [
            f'<svg viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" role="img"'
            ' font-family="system-ui, sans-serif"'
            f' aria-label="The rig from the side in the storm: {pull}, {taut}">',
            f'<rect width="{_WIDTH:g}" height="{_HEIGHT:g}" fill="#F7FAFB"/>',
            _waves(top, max(wave_m / 2 * k, 1.0)),
            f'<rect y="{_BED:g}" width="{_WIDTH:g}" height="{_HEIGHT - _BED:g}" fill="#D9CFBD"/>',
            _line(points, state.secondary),
            _hull(view, hx, deck_y, k),
            f'<rect x="{_LEFT - 13:.1f}" y="{_BED - 8:g}" width="26" height="14" fill="{INK}"/>',
            _secondary(points[state.secondary]),
            words_svg(taut, 8, 18, "start"),
            words_svg(pull, min(hx - 8, _WIDTH - 70), pull_y + 4, "end", bold=True),
            _arrow(min(hx, _WIDTH - 58), pull_y, 40.0, 0.0),
            words_svg("primary", _LEFT, _BED + 20, "middle", bold=True),
            _lifted(points[state.secondary], lift, units),
            _uplift(state.primary_uplift_n, units),
            _reach(hx, hook_x, units),
            "</svg>",
        ]
    )


def _waves(top: float, crest: float) -> str:
    long = max(crest * 12, 52.0)
    bow = f"q{long / 4:.1f} {-1.6 * crest:.1f} {long / 2:.1f} 0"
    trough = f"q{long / 4:.1f} {1.6 * crest:.1f} {long / 2:.1f} 0"
    count = int(_WIDTH / long) + 2
    surface = f"M{-long:.1f} {top:.1f}{(bow + trough) * count}"
    return (
        f'<path d="{surface}V{_BED:g}H{-long:.1f}Z" fill="#D6E8EE"/>'
        f'<path d="{surface}" fill="none" stroke="#3E7391" stroke-width="1.5"/>'
    )


def _line(points: list[tuple[float, float]], secondary: int) -> str:
    """Ground chain and riser dashed, the absorber as two bowed lines on top."""

    def path(part: list[tuple[float, float]]) -> str:
        return "M" + "L".join(f"{x:.1f} {y - 2:.1f}" for x, y in part)

    chain = f'fill="none" stroke="{INK}" stroke-width="3" stroke-dasharray="4.5 1.8"'
    (ax, ay), (hx, hy) = points[-2:]
    nx, ny = (hy - ay) * 0.22, -(hx - ax) * 0.22
    bows = "".join(
        f"M{ax:.1f} {ay - 2:.1f}Q{(ax + hx) / 2 + side * nx:.1f}"
        f" {(ay + hy) / 2 - 2 + side * ny:.1f} {hx:.1f} {hy - 2:.1f}"
        for side in (1, -1)
    )
    return (
        f'<path d="{path(points[: secondary + 1])}" {chain}/>'
        f'<path d="{path(points[secondary:-1])}" {chain}/>'
        f'<path d="{bows}" fill="none" stroke="{INK}" stroke-width="1.5"/>'
    )


def _hull(view: SideView, x: float, y: float, k: float) -> str:
    half, high = view.deck_m * k / 2, view.height_m * k
    return (
        f'<rect x="{x - half:.1f}" y="{y:.1f}" width="{2 * half:.1f}" height="{high:.1f}"'
        f' rx="{high / 2:.1f}" fill="#fff" stroke="{INK}" stroke-width="1.5"/>'
        f'<rect x="{x - half:.1f}" y="{y - 6:.1f}" width="{2 * half:.1f}" height="6"'
        f' fill="#C9B48C" stroke="{INK}"/>'
    )


def _secondary(at: tuple[float, float]) -> str:
    x, y = at
    return (
        f'<rect x="{x - 9:.1f}" y="{y - 13:.1f}" width="18" height="13" fill="#fff"'
        f' stroke="{INK}" stroke-width="1.6"/>'
    )


def _arrow(x: float, y: float, dx: float, dy: float) -> str:
    size = (dx**2 + dy**2) ** 0.5
    ux, uy = dx / size, dy / size
    tx, ty = x + dx, y + dy
    head = (
        f"M{tx:.1f} {ty:.1f}L{tx - 9 * ux - 4.5 * uy:.1f} {ty - 9 * uy + 4.5 * ux:.1f}"
        f"L{tx - 9 * ux + 4.5 * uy:.1f} {ty - 9 * uy - 4.5 * ux:.1f}Z"
    )
    return (
        f'<path d="M{x:.1f} {y:.1f}L{tx - 7 * ux:.1f} {ty - 7 * uy:.1f}" stroke="{_RED}"'
        f' stroke-width="2.4"/><path d="{head}" fill="{_RED}"/>'
    )


def _lifted(at: tuple[float, float], lift_m: float, units: Units) -> str:
    if lift_m <= _LEAST_M:
        return ""
    x, y = at
    return (
        f'<path d="M{x + 15:.1f} {y:.1f}V{_BED:g}" stroke="{INK}" stroke-dasharray="2 2"/>'
        + words_svg(f"lifted {length_text(lift_m, units)}", x + 20, _BED - 6, "start")
    )


def _uplift(uplift_n: float, units: Units) -> str:
    if uplift_n < 1:
        return ""
    said = f"pulled up {force_text(uplift_n, units, rounding='up')}"
    return _arrow(_LEFT, _BED - 14, 0.0, -26.0) + words_svg(said, 8, _BED - 46, "start", bold=True)


def _reach(hx: float, reach_m: float, units: Units) -> str:
    y = _BED + 32
    return (
        f'<path d="M{_LEFT:.1f} {y:g}H{hx:.1f}M{_LEFT:.1f} {y - 4:g}v8M{hx:.1f} {y - 4:g}v8"'
        f' stroke="{INK}" stroke-width="1.2"/>'
        + words_svg(f"reach {length_text(reach_m, units)}", (_LEFT + hx) / 2, y + 15, "middle")
    )
