"""Pull at the hook against reach, as an SVG."""

import math
from collections.abc import Iterator
from typing import Final

from lakemap.basis.quantities import FOOT_M, POUND_FORCE_N
from lakemap.basis.records import Units
from lakemap.basis.wording import force_text, length_text
from lakemap.outputs.side_view import INK, words_svg
from lakemap.sizing.records import PullCurve

_WIDTH, _HEIGHT = 520.0, 280.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 56.0, 20.0, 16.0, 44.0
_BASE: Final = _HEIGHT - _BOTTOM
_RED: Final = "#B3200C"
_BANDS: Final = (
    ("#EEF2F3", INK, "the secondary rests"),
    ("#D9E9EF", INK, "the secondary lifts"),
    ("#FBE3DD", "#8A1A0A", "the primary is pulled up"),
)
_CUT: Final = 0.55  # of the width, beyond which a text stands to the left of its dot


def pull_plot_svg(curve: PullCurve, *, units: Units) -> str:
    """Return the plot: three named bands, the curve, the taut limit, the storm as a ringed dot.

    Parameters
    ----------
    curve : PullCurve
        At normal level.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        SVG.
    """
    from_m = min(curve.reach_m)
    room = max(curve.taut_m - from_m, 0.1) * 1.08
    highest = curve.pull_n[-1]

    def x(metres: float) -> float:
        return _LEFT + (metres - from_m) / room * (_WIDTH - _LEFT - _RIGHT)

    def y(newtons: float) -> float:
        return _BASE - newtons / highest * (_BASE - _TOP)

    points = "L".join(
        f"{x(far):.1f} {y(pull):.1f}" for far, pull in zip(curve.reach_m, curve.pull_n, strict=True)
    )
    storm_x, storm_y = x(curve.storm_reach_m), y(curve.storm_n)
    left = storm_x > _WIDTH * _CUT
    storm = (
        f"storm, {force_text(curve.storm_n, units, rounding='up')}:"
        f" {length_text(curve.storm_reach_m, units)}"
    )
    taut = f"taut: {length_text(curve.taut_m, units, rounding='up')}"
    edges = (0.0, curve.lifts_n, curve.uplift_n, highest)
    return "".join(
        [
            f'<svg viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" role="img"'
            ' font-family="system-ui, sans-serif"'
            f' aria-label="Pull on the float against its reach; {storm}; {taut}">',
            f'<rect width="{_WIDTH:g}" height="{_HEIGHT:g}" fill="#F7FAFB"/>',
            *_bands([y(min(edge, highest)) for edge in edges]),
            *_ticks(from_m, room, highest, units),
            f'<path d="M{x(curve.taut_m):.1f} {_TOP:g}V{_BASE:g}" stroke="{_RED}"'
            ' stroke-width="1.6" stroke-dasharray="5 3"/>',
            words_svg(taut, x(curve.taut_m) - 5, _BASE - 6, "end", bold=True),
            f'<path d="M{points}" fill="none" stroke="{INK}" stroke-width="2.6"/>',
            f'<circle cx="{storm_x:.1f}" cy="{storm_y:.1f}" r="5.5" fill="#fff" stroke="{INK}"'
            ' stroke-width="2"/>',
            f'<circle cx="{storm_x:.1f}" cy="{storm_y:.1f}" r="2" fill="{INK}"/>',
            words_svg(
                storm,
                storm_x + (-11 if left else 11),
                storm_y + 4,
                "end" if left else "start",
                bold=True,
            ),
            "</svg>",
        ]
    )


def _bands(edges: list[float]) -> Iterator[str]:
    below = _HEIGHT
    for k, (fill, ink, name) in enumerate(_BANDS):
        bottom, top = edges[k], edges[k + 1]
        if bottom - top < 1:
            continue
        yield (
            f'<rect x="{_LEFT:g}" y="{top:.1f}" width="{_WIDTH - _LEFT - _RIGHT:g}"'
            f' height="{bottom - top:.1f}" fill="{fill}"/>'
        )
        below = min((top + bottom) / 2 + 4, below - 14)
        yield (f'<text x="{_LEFT + 8:g}" y="{below:.1f}" font-size="12" fill="{ink}">{name}</text>')


def _ticks(from_m: float, room_m: float, highest_n: float, units: Units) -> Iterator[str]:
    """Both axes with round steps in the user's units."""
    feet = units == "ft-lb"
    per_m, per_n = (1 / FOOT_M.value, 1 / POUND_FORCE_N.value) if feet else (1.0, 1.0)
    look = 'font-size="11" fill="#46565F"'
    for value in _round(from_m * per_m, (from_m + room_m) * per_m, 6):
        at = _LEFT + (value / per_m - from_m) / room_m * (_WIDTH - _LEFT - _RIGHT)
        yield (
            f'<path d="M{at:.1f} {_BASE:g}v4" stroke="#46565F"/>'
            f'<text x="{at:.1f}" y="{_BASE + 16:g}" text-anchor="middle" {look}>{value:g}</text>'
        )
    for value in _round(0.0, highest_n * per_n, 5):
        at = _BASE - value / per_n / highest_n * (_BASE - _TOP)
        yield (
            f'<path d="M{_LEFT:g} {at:.1f}h-4" stroke="#46565F"/>'
            f'<text x="{_LEFT - 7:g}" y="{at + 4:.1f}" text-anchor="end" {look}>{value:,g}</text>'
        )
    yield (
        f'<path d="M{_LEFT:g} {_TOP:g}V{_BASE:g}H{_WIDTH - _RIGHT:g}" fill="none"'
        f' stroke="{INK}" stroke-width="1.2"/>'
        f'<text x="{(_LEFT + _WIDTH - _RIGHT) / 2:g}" y="{_HEIGHT - 8:g}" text-anchor="middle"'
        f" {look}>reach of the float from its primary, {'ft' if feet else 'm'}</text>"
        f'<text transform="rotate(-90)" x="{-(_TOP + _BASE) / 2:g}" y="13" text-anchor="middle"'
        f" {look}>pull on the float, {'lb' if feet else 'N'}</text>"
    )


def _round(low: float, high: float, most: int) -> Iterator[float]:
    rough = (high - low) / most
    ten = 10 ** math.floor(math.log10(rough))
    step = next(one * ten for one in (1, 2, 5, 10) if one * ten >= rough)
    count = math.ceil(low / step)
    while count * step <= high:
        yield round(count * step, 6)
        count += 1
