"""Texts on a picture: none covers another or what is drawn."""

import math
from collections.abc import Sequence
from html import escape
from itertools import pairwise
from typing import Final, Literal

INK: Final = "#12232E"
RED: Final = "#B3200C"
LETTERS: Final = 12.0  # px, where nothing else is asked for
HALO: Final = ' paint-order="stroke" stroke="#F7FAFB" stroke-width="3" stroke-linejoin="round"'

Anchor = Literal["start", "middle", "end"]
Box = tuple[float, float, float, float]  # x, y, width, height
Point = tuple[float, float]


class Placer:
    """Finds room for texts on a picture: what is placed or taken is not covered again.

    Parameters
    ----------
    x, y, width, height : float
        Where texts may stand [px].
    letters : float
        Of the texts [px].
    """

    def __init__(
        self, x: float, y: float, width: float, height: float, *, letters: float = LETTERS
    ) -> None:
        self.letters = letters
        self._frame = (x + 5, y + 3, width - 10, height - 6)
        self._taken: list[Box] = []

    def take(self, *boxes: Box) -> None:
        """Keep texts off these."""
        self._taken += boxes

    def take_line(self, points: Sequence[Point], thick: float = 7.0) -> None:
        """Keep texts off a line."""
        for (x1, y1), (x2, y2) in pairwise(points):
            count = math.ceil(math.hypot(x2 - x1, y2 - y1) / thick) or 1
            for i in range(count + 1):
                x, y = x1 + (x2 - x1) * i / count, y1 + (y2 - y1) * i / count
                self.take((x - thick / 2, y - thick / 2, thick, thick))

    def put(
        self,
        lines: Sequence[str],
        places: Sequence[tuple[float, float, Anchor]],
        *,
        colour: str = INK,
        bold: bool = False,
        must: bool = True,
    ) -> tuple[str, Box]:
        """Return lines of text at the first place that covers nothing, and their box.

        Parameters
        ----------
        lines : sequence of str
            One below the other.
        places : sequence of tuple
            x, the middle's y, anchor; in order of liking.
        colour : str
            Of the letters.
        bold : bool
            True for what counts.
        must : bool
            True: with every place taken, the nearest free spot; else nothing is written.

        Returns
        -------
        str
            SVG.
        tuple of float
            x, y, width, height.
        """
        width = max(map(len, lines)) * self.letters * (0.69 if bold else 0.62)
        height = len(lines) * (self.letters + 3)
        offered = [
            (self._within(x - width * _share(anchor), y - height / 2, width, height), anchor)
            for x, y, anchor in places
        ]
        free = next(((box, anchor) for box, anchor in offered if self._covered(box) == 0), None)
        if free is None and not must:
            return "", offered[0][0]
        box, anchor = free or (self._nearest(offered[0][0]), "start")
        self.take(box)
        look = f' fill="{colour}"{_weight(bold)}{HALO}'
        return _block(lines, box, (anchor, self.letters), look), box

    def _within(self, x: float, y: float, width: float, height: float) -> Box:
        left, top, wide, high = self._frame
        return (
            min(max(x, left), left + wide - width),
            min(max(y, top), top + high - height),
            width,
            height,
        )

    def _covered(self, box: Box) -> float:
        x, y, w, h = box
        return sum(
            max(0.0, min(x + w, a + c) - max(x, a)) * max(0.0, min(y + h, b + d) - max(y, b))
            for a, b, c, d in self._taken
        )

    def _nearest(self, liked: Box) -> Box:
        left, top, wide, high = self._frame
        x0, y0, w, h = liked
        spots = [
            (left + 8.0 * i, top + 6.0 * j, w, h)
            for j in range(int((high - h) // 6) + 1)
            for i in range(int((wide - w) // 8) + 1)
        ]
        return min(
            spots or [liked],
            key=lambda spot: (self._covered(spot), math.hypot(spot[0] - x0, spot[1] - y0)),
        )


def _share(anchor: Anchor) -> float:
    return {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]


def _weight(bold: bool) -> str:  # noqa: FBT001 - one argument
    return ' font-weight="600"' if bold else ""


def _block(lines: Sequence[str], box: Box, how: tuple[Anchor, float], look: str) -> str:
    anchor, size = how
    x = box[0] + box[2] * _share(anchor)
    return "".join(
        f'<text x="{x:.1f}" y="{box[1] + size + k * (size + 3):.1f}" font-size="{size:g}"'
        f' text-anchor="{anchor}"{look}>{escape(line)}</text>'
        for k, line in enumerate(lines)
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
