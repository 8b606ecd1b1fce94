"""Pull at the hook against reach, as an SVG."""

from collections.abc import Iterator
from typing import Final

from lakemap.basis.quantities import FOOT_M, POUND_FORCE_N
from lakemap.basis.records import Units
from lakemap.basis.wording import force_text, length_text
from lakemap.outputs.drawn.axes import round_steps
from lakemap.outputs.drawn.placer import INK, RED, Anchor, Placer, Point, words_svg
from lakemap.sizing.records import PullCurve

_WIDTH, _HEIGHT = 520.0, 280.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 66.0, 20.0, 28.0, 44.0
_BASE: Final = _HEIGHT - _BOTTOM
_BANDS: Final = (
    ("#F5F7F7", INK, "the secondary rests"),
    ("#CDE4EA", INK, "the secondary lifts"),
    ("#FDEBE7", RED, "the primary is pulled up"),
)


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
    highest = max(curve.pull_n[-1], 1.05 * curve.storm_n)

    def x(metres: float) -> float:
        return _LEFT + (metres - from_m) / room * (_WIDTH - _LEFT - _RIGHT)

    def y(newtons: float) -> float:
        return _BASE - newtons / highest * (_BASE - _TOP)

    points = [(x(far), y(pull)) for far, pull in zip(curve.reach_m, curve.pull_n, strict=True)]
    path = "L".join(f"{far:.1f} {high:.1f}" for far, high in points)
    storm_x, storm_y = x(curve.storm_reach_m), y(curve.storm_n)
    storm = (
        f"storm, {force_text(curve.storm_n, units, rounding='up')}:"
        f" {length_text(curve.storm_reach_m, units)}"
    )
    taut = f"taut: {length_text(curve.taut_m, units, rounding='up')}"
    edges = [y(min(edge, highest)) for edge in (0.0, curve.lifts_n, curve.uplift_n, highest)]
    return "".join(
        [
            f'<svg viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" role="img"'
            ' font-family="system-ui, sans-serif"'
            f' aria-label="Pull on the float against its reach; {storm}; {taut}">',
            f'<rect width="{_WIDTH:g}" height="{_HEIGHT:g}" fill="#F7FAFB"/>',
            *_bands(edges),
            *_ticks(from_m, room, highest, units),
            f'<path d="M{x(curve.taut_m):.1f} {_TOP - 4:g}V{_BASE:g}" stroke="{RED}"'
            ' stroke-width="1.6" stroke-dasharray="5 3"/>',
            words_svg(taut, _WIDTH - 8, _TOP - 10, "end", bold=True),
            f'<path d="M{path}" fill="none" stroke="{INK}" stroke-width="2.6"/>',
            f'<circle cx="{storm_x:.1f}" cy="{storm_y:.1f}" r="5.5" fill="#fff" stroke="{INK}"'
            ' stroke-width="2"/>',
            f'<circle cx="{storm_x:.1f}" cy="{storm_y:.1f}" r="2" fill="{INK}"/>',
            *_words(points, (storm_x, storm_y), storm, (edges, x(curve.taut_m))),
            "</svg>",
        ]
    )


def _bands(edges: list[float]) -> Iterator[str]:
    for k, (fill, _, _) in enumerate(_BANDS):
        yield (
            f'<rect x="{_LEFT:g}" y="{edges[k + 1]:.1f}" width="{_WIDTH - _LEFT - _RIGHT:g}"'
            f' height="{max(edges[k] - edges[k + 1], 0):.1f}" fill="{fill}"/>'
        )


def _words(
    points: list[Point], dot: Point, storm: str, drawn: tuple[list[float], float]
) -> Iterator[str]:
    """The storm's text and the bands' names, off the curve; a thin band gets a pointer."""
    edges, taut_x = drawn
    x, y = dot
    texts = Placer(_LEFT - 3, _TOP - 2, _WIDTH - _LEFT - _RIGHT + 6, _BASE - _TOP + 4)
    texts.take_line(points)
    texts.take_line([(taut_x, _TOP), (taut_x, _BASE)], 4.0)
    texts.take((x - 7, y - 7, 14, 14))
    at_dot: list[tuple[float, float, Anchor]] = [
        (x - 11, y - 4, "end"),
        (x - 11, y - 15, "end"),
        (x + 11, y + 6, "start"),
        (x - 11, y - 30, "end"),
    ]
    yield texts.put([storm], at_dot, bold=True)[0]
    for k, (_, ink, name) in enumerate(_BANDS):
        if edges[k] - edges[k + 1] < 1:
            continue
        middle = (edges[k] + edges[k + 1]) / 2
        along: list[tuple[float, float, Anchor]] = [
            (_LEFT + 8 * (i + 1), middle, "start") for i in range(44)
        ]
        svg, (left, top, wide, high) = texts.put([name], along, colour=ink)
        yield svg
        if edges[k] - edges[k + 1] < high:
            at = left + wide + 8
            yield (
                f'<path d="M{at - 6:.1f} {top + high / 2:.1f}H{at:.1f}V{middle:.1f}" fill="none"'
                f' stroke="{ink}"/><circle cx="{at:.1f}" cy="{middle:.1f}" r="1.8" fill="{ink}"/>'
            )


def _ticks(from_m: float, room_m: float, highest_n: float, units: Units) -> Iterator[str]:
    """Both axes with round steps in the user's units."""
    feet = units == "ft-lb"
    per_m, per_n = (1 / FOOT_M.value, 1 / POUND_FORCE_N.value) if feet else (1.0, 1.0)
    look = 'font-size="11" fill="#46565F"'
    for value in round_steps(from_m * per_m, (from_m + room_m) * per_m, 6):
        at = _LEFT + (value / per_m - from_m) / room_m * (_WIDTH - _LEFT - _RIGHT)
        yield (
            f'<path d="M{at:.1f} {_BASE:g}v4" stroke="#46565F"/>'
            f'<text x="{at:.1f}" y="{_BASE + 16:g}" text-anchor="middle" {look}>{value:g}</text>'
        )
    for value in round_steps(0.0, highest_n * per_n, 5):
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
