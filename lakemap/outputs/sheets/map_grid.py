"""The frame of a small map: its grid with figures round it, and the scale under it."""

import math
from collections.abc import Sequence
from html import escape
from typing import Final

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Units
from lakemap.basis.wording import figure, length_unit
from lakemap.outputs.drawn.paper import Sheet, round_length
from lakemap.outputs.drawn.placer import INK
from lakemap.outputs.sheets.map_view import LEFT, View
from lakemap.outputs.words.texts import ENGLISH, Texts

_GRID: Final = "#6F8089"
_LEAST_GRID: Final = 68.0  # px from one grid line to the next
_LETTERS: Final = 9.5
_BAR: Final = 110.0  # px, of the scale bar at most
_ROUND: Final = (1.0, 2.0, 5.0, 10.0)


def framed_svg(view: View, inside: str, *, units: Units, says: str, texts: Texts) -> str:
    """Return a whole drawing: what is inside its frame, and the grid over it.

    Parameters
    ----------
    view : View
        Of a piece of the lake.
    inside : str
        SVG in the map's own px.
    units : {'ft-lb', 'm-kg'}
        Of the grid.
    says : str
        What it shows; escaped here.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One SVG element.
    """
    sheet = view.sheet
    wide, high = view.size
    frame = f'<rect width="{sheet.width:g}" height="{sheet.height:g}"'
    name = f"{sheet.prefix}-frame"
    grid, figures = grid_svg(view, units, texts)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:g} {high:g}" role="img"'
        f' aria-label="{escape(says)}" font-family="system-ui, sans-serif">'
        f'<clipPath id="{name}">{frame}/></clipPath>'
        f'<g transform="translate({LEFT:g} 0.6)"><g clip-path="url(#{name})">{inside}</g>'
        f'{grid}{frame} fill="none" stroke="{INK}" stroke-width="1.2"/>{figures}</g></svg>'
    )


def grid_svg(view: View, units: Units, texts: Texts = ENGLISH) -> tuple[str, str]:
    """Return the grid's ticks along the frame and its figures outside it.

    Parameters
    ----------
    view : View
        Of a piece of the lake.
    units : {'ft-lb', 'm-kg'}
        What people use.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Ticks and crosses, thin.
    str
        Figures: so far east or west, north or south of the lake's middle.
    """
    sheet = view.sheet
    unit_m = FOOT_M.value if units == "ft-lb" else 1.0
    step = grid_step(sheet.scale * unit_m)
    xs = _lines(sheet.west / unit_m, (sheet.west + sheet.width / sheet.scale) / unit_m, step)
    south = sheet.north - sheet.height / sheet.scale
    ys = _lines(south / unit_m, sheet.north / unit_m, step)
    px = [sheet.xy(x * unit_m, 0.0)[0] for x in xs]
    py = [sheet.xy(0.0, y * unit_m)[1] for y in ys]
    d = "".join(f"M{x:.1f} 0V{sheet.height:g}" for x in px)
    d += "".join(f"M0 {y:.1f}H{sheet.width:g}" for y in py)
    lines = f'<path d="{d}" fill="none" stroke="{_GRID}" stroke-width="0.5" stroke-opacity="0.7"/>'
    words = [
        _figure(_side(x, ("east", "west"), texts), at, sheet.height + 11, "")
        for x, at in zip(xs, px, strict=True)
        if _LETTERS < at < sheet.width - 2.5 * _LETTERS
    ]
    words += [
        _figure(
            _side(y, ("north", "south"), texts), -5.0, at, f' transform="rotate(-90 -5 {at:.1f})"'
        )
        for y, at in zip(ys, py, strict=True)
        if 2 * _LETTERS < at < sheet.height - 2 * _LETTERS
    ]
    says = texts.of(f"sheet_frame.grid_{'feet' if units == 'ft-lb' else 'metres'}")
    words.append(_figure(says, sheet.width, sheet.height + 25, "", anchor="end"))
    return lines, "".join(words) + _bar(sheet, unit_m, length_unit(units))


def _bar(sheet: Sheet, unit_m: float, unit: str) -> str:
    """A scale bar under the frame, half of it filled."""
    long = round_length(_BAR / (sheet.scale * unit_m))
    wide, y = long * unit_m * sheet.scale, sheet.height + 19
    rect = f'y="{y:g}" width="{wide / 2:.1f}" height="5" stroke="{INK}" stroke-width="0.8"'
    return (
        f'<rect x="0.4" {rect} fill="{INK}"/><rect x="{0.4 + wide / 2:.1f}" {rect} fill="#fff"/>'
        + _figure(f"{long:g} {unit}", wide + 5, y + 6, "", anchor="start")
    )


def grid_step(px_per_unit: float) -> float:
    """Return how far apart grid lines are drawn: 1, 2 or 5 times a power of ten.

    Parameters
    ----------
    px_per_unit : float
        The map's scale, above 0.

    Returns
    -------
    float
        In the unit; the least that keeps lines far enough apart.
    """
    least = _LEAST_GRID / px_per_unit
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in _ROUND if step * power >= least)


def _lines(low: float, high: float, step: float) -> Sequence[float]:
    return [step * k for k in range(math.ceil(low / step), math.floor(high / step) + 1)]


def _side(value: float, names: tuple[str, str], texts: Texts) -> str:
    """Such as E 200, W 40; 0 on the middle's own line."""
    if value == 0:
        return "0"
    digits = 0 if float(value).is_integer() else 1
    name = names[0] if value > 0 else names[1]
    return texts.of(f"sheet_frame.{name}", value=figure(abs(value), digits=digits))


def _figure(words: str, x: float, y: float, look: str, *, anchor: str = "middle") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{_LETTERS:g}" text-anchor="{anchor}"'
        f' fill="{INK}"{look}>{escape(words)}</text>'
    )
