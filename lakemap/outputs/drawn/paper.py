"""What a picture is drawn on: its scale, its shapes and words as SVG, and what room is taken."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Geometry
from lakemap.outputs.drawn.scene import Scene, lines_of, rings_of

INK: Final = "#12232E"
MARGIN: Final = 26.0
# of the letters' size: the wider of the usual system fonts, in bold
_LETTER: Final = 0.62
_LONGEST_NAME: Final = 24
_TENTHS: Final = 10
_CORNER: Final = 60.0  # px, height of the room for scale bar and north
_FINER_PX: Final = 0.3  # what is finer than this the eye does not see
Box = tuple[float, float, float, float]  # left, top, right, bottom [px]
Ring = tuple[float, float, float]  # middle and radius [px]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A picture's size and how metres become its pixels."""

    width: float
    height: float
    west: float
    north: float
    scale: float  # px per metre
    left: float
    top: float
    prefix: str  # of the names of its patterns, so that two pictures can stand in one page

    def xy(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Return pixels, y down."""
        return (
            self.left + (x_m - self.west) * self.scale,
            self.top + (self.north - y_m) * self.scale,
        )

    def pixels(self, xy_m: FloatArray) -> FloatArray:
        """Return points in pixels, y down; shape [n, 2]."""
        flip = np.array([self.scale, -self.scale])
        corner = np.array([self.left, self.top])
        moved: FloatArray = corner + (xy_m - np.array([self.west, self.north])) * flip
        return moved

    def shape(self, shape: Geometry) -> Geometry:
        """Return a shape in pixels, y down."""
        return shapely.transform(shape, self.pixels)


def fit(scene: Scene, *, width: float, height: float, prefix: str) -> Sheet:
    """Return the sheet that shows a whole lake.

    Parameters
    ----------
    scene : Scene
        Of the field.
    width, height : float
        Of the picture [px].
    prefix : str
        Of the names of its patterns.

    Returns
    -------
    Sheet
        With a margin for callouts and names.
    """
    west, south, east, north = scene.bounds
    scale = min(
        (width - 2 * MARGIN) / max(east - west, 1e-9),
        (height - 2 * MARGIN) / max(north - south, 1e-9),
    )
    return Sheet(
        width=width,
        height=height,
        west=west,
        north=north,
        scale=scale,
        left=(width - (east - west) * scale) / 2,
        top=(height - (north - south) * scale) / 2,
        prefix=prefix,
    )


def area_svg(area: Geometry, sheet: Sheet, look: str) -> str:
    """Return areas as one path, holes left open; nothing for no area."""
    drawn = shapely.simplify(area, _FINER_PX / sheet.scale)
    rings = [ring for polygon in rings_of(drawn) for ring in polygon]
    if not rings:
        return ""
    return f'<path d="{_steps(rings, sheet, close=True)}" fill-rule="evenodd" {look}/>'


def line_svg(lines: Geometry, sheet: Sheet, look: str) -> str:
    """Return lines as one path; nothing for no line."""
    found = lines_of(shapely.simplify(lines, _FINER_PX / sheet.scale))
    if not found:
        return ""
    return f'<path d="{_steps(found, sheet, close=False)}" fill="none" {look}/>'


def _steps(rings: Iterable[FloatArray], sheet: Sheet, *, close: bool) -> str:
    """Path data in tenths of a pixel: a start, then steps, each as short as it can be written."""
    parts = []
    for ring in rings:
        tenths = np.round(sheet.pixels(ring) * _TENTHS).astype(np.int64)
        x, y = tenths[0].tolist()
        moved = np.diff(tenths, axis=0)
        steps = "".join(_pair(dx, dy) for dx, dy in moved[moved.any(axis=1)].tolist())
        parts.append(f"M{_tenth(x)}{_next(y)}l{steps.strip()}{'z' if close else ''}")
    return "".join(parts)


def _tenth(tenths: int) -> str:
    """A number of tenths without noughts that say nothing: 12.3, -4, .5."""
    whole, rest = divmod(abs(tenths), _TENTHS)
    text = (str(whole) if whole or not rest else "") + (f".{rest}" if rest else "")
    return f"-{text}" if tenths < 0 else text


def _next(tenths: int) -> str:
    """The same after another number: a minus parts them, else a blank does."""
    text = _tenth(tenths)
    return text if text.startswith("-") else f" {text}"


def _pair(dx: int, dy: int) -> str:
    return _next(dx) + _next(dy)


def text_svg(words: str, x: float, y: float, *, size: float = 11.0, look: str = "") -> str:
    """Return text with a white halo, middle at a point.

    Parameters
    ----------
    words : str
        Escaped here.
    x, y : float
        Where the middle of the base line stands [px].
    size : float
        Of the letters [px].
    look : str
        More attributes.

    Returns
    -------
    str
        SVG.
    """
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" text-anchor="middle"'
        f' paint-order="stroke" stroke="#fff" stroke-width="3" stroke-linejoin="round" {look}>'
        f"{escape(words)}</text>"
    )


def text_width(words: str, size: float) -> float:
    """Return how wide a line of text can come out [px]; the reader's font is not known here."""
    return len(words) * size * _LETTER


def cut(name: str) -> str:
    """Return a name as a picture has room for it."""
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def box_about(x: float, y: float, width: float, height: float) -> Box:
    """Return the box whose middle is a point."""
    return x - width / 2, y - height / 2, x + width / 2, y + height / 2


def boxes_meet(a: Box, b: Box) -> bool:
    """Tell whether two boxes have common ground."""
    return a[0] < b[2] and a[2] > b[0] and a[1] < b[3] and a[3] > b[1]


def box_covers(box: Box, ring: Ring) -> bool:
    """Tell whether a box covers some of a disc."""
    x, y, r = ring
    dx, dy = max(box[0] - x, 0.0, x - box[2]), max(box[1] - y, 0.0, y - box[3])
    return math.hypot(dx, dy) < r


def box_is_free(box: Box, taken: Sequence[Box], rings: Sequence[Ring], sheet: Sheet) -> bool:
    """Tell whether a box lies on the sheet and on nothing that stands there already."""
    on_sheet = box[0] > 0 and box[1] > 0 and box[2] < sheet.width and box[3] < sheet.height
    return (
        on_sheet
        and not any(boxes_meet(box, other) for other in taken)
        and not any(box_covers(box, ring) for ring in rings)
    )


def corner_boxes(sheet: Sheet, rings: Sequence[Ring] = ()) -> list[Box]:
    """Return the room that scale bar and north take.

    Parameters
    ----------
    sheet : Sheet
        That they stand on.
    rings : sequence of tuple
        Swing circles, middle and radius [px].

    Returns
    -------
    list of tuple
        Two boxes in the lower corners; in upper ones where floats lie in the lower.
    """
    bar, arrow = _corners(sheet, 190), _corners(sheet, 50)
    scale = _freest([bar[0], *bar[2:]], rings)  # the corner on the lower right is north's
    others = [box for box in (arrow[1], arrow[3], arrow[2]) if not boxes_meet(box, scale)]
    return [scale, _freest(others, rings)]


def _corners(sheet: Sheet, wide: float) -> list[Box]:
    """A box in each corner: lower left, lower right, upper left, upper right."""
    right, low = sheet.width - wide, sheet.height - _CORNER
    tops = ((low, sheet.height), (0.0, _CORNER))
    return [(x, top, x + wide, bottom) for top, bottom in tops for x in (0.0, right)]


def _freest(boxes: Sequence[Box], rings: Sequence[Ring]) -> Box:
    """The first of the boxes that cover the fewest circles."""
    return min(boxes, key=lambda box: sum(box_covers(box, ring) for ring in rings))


def _moved(svg: str, dx: float, dy: float) -> str:
    return f'<g transform="translate({dx:g} {dy:g})">{svg}</g>' if dx or dy else svg


def scale_bar(sheet: Sheet, box: Box | None = None) -> str:
    """Return the scale bar, in feet and in metres; without a box in the lower left corner."""
    left, top, _, _ = box or _corners(sheet, 190)[0]
    return _moved(_bar(sheet), left, top - (sheet.height - _CORNER))


def _bar(sheet: Sheet) -> str:
    feet = round_length(120 / (sheet.scale * FOOT_M.value))
    metres = round_length(120 / sheet.scale)
    fw, mw = feet * FOOT_M.value * sheet.scale, metres * sheet.scale
    y = sheet.height - 40
    return (
        f'<g><rect x="8" y="{y - 14:g}" width="{max(fw, mw) + 62:.1f}" height="46" rx="6"'
        ' fill="#fff" fill-opacity="0.9"/>'
        f'<rect x="16" y="{y:g}" width="{fw / 2:.1f}" height="4" fill="{INK}"/>'
        f'<rect x="{16 + fw / 2:.1f}" y="{y:g}" width="{fw / 2:.1f}" height="4" fill="#fff"'
        f' stroke="{INK}" stroke-width="0.8"/>'
        f'<path d="M16 {y + 14:g}H{16 + mw:.1f}M16 {y + 11:g}v6M{16 + mw:.1f} {y + 11:g}v6"'
        f' stroke="{INK}" fill="none"/>'
        f'<text x="{20 + fw:.1f}" y="{y + 5:g}" font-size="11" fill="{INK}">{feet:g} ft</text>'
        f'<text x="{20 + mw:.1f}" y="{y + 18:g}" font-size="11" fill="{INK}">{metres:g} m</text>'
        "</g>"
    )


def round_length(most: float) -> float:
    """Return the largest 1, 2 or 5 times a power of ten that is not above a length."""
    power = 10.0 ** math.floor(math.log10(most))
    return max(step * power for step in (1.0, 2.0, 5.0) if step * power <= most)


def north(sheet: Sheet, *, letter: str = "N", box: Box | None = None) -> str:
    """Return the arrow that points north, with the letter that stands for it.

    Parameters
    ----------
    sheet : Sheet
        That it stands on.
    letter : str
        For north.
    box : tuple or None
        Its room; None: the lower right corner.

    Returns
    -------
    str
        SVG.
    """
    x, y = sheet.width - 26, sheet.height - 46
    _, top, right, _ = box or _corners(sheet, 50)[1]
    arrow = (
        f'<path d="M{x} {y}l6 17-6-4-6 4z" fill="{INK}"/>'
        f'<text x="{x}" y="{y + 30}" font-size="11" font-weight="700" text-anchor="middle"'
        f' fill="{INK}">{escape(letter)}</text>'
    )
    return _moved(arrow, right - sheet.width, top - (sheet.height - _CORNER))
