"""Words on a small map: none covers another, the float's circle, or a line of bearing."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from lakemap.outputs.drawn.paper import (
    INK,
    Box,
    Ring,
    Sheet,
    box_about,
    box_is_free,
    text_svg,
    text_width,
)

_LINE: Final = 1.2  # from one line to the next, of the letters
_APART: Final = 6.0  # px along a line from one disc to the next that keeps words off it
_ROUND: Final = 12  # directions that are tried
_OFF: Final = (1.0, 1.6, 2.4, 3.4, 5.0, 8.0)  # how far off, of the first distance


class Words:
    """Finds room for words; what is written or taken is not covered again.

    Parameters
    ----------
    sheet : Sheet
        The map inside its frame.
    taken : iterable of tuple
        Boxes that are not free [px].
    """

    def __init__(self, sheet: Sheet, taken: Iterable[Box]) -> None:
        self.sheet = sheet
        self.boxes: list[Box] = list(taken)
        self.rings: list[Ring] = []

    def keep_off(self, *rings: Ring) -> None:
        """Keep words off discs."""
        self.rings += rings

    def keep_off_line(self, points: Sequence[tuple[float, float]]) -> None:
        """Keep words off a line."""
        for (x1, y1), (x2, y2) in pairwise(points):
            count = math.ceil(math.hypot(x2 - x1, y2 - y1) / _APART) or 1
            self.rings += [
                (x1 + (x2 - x1) * k / count, y1 + (y2 - y1) * k / count, _APART / 2)
                for k in range(count + 1)
            ]

    def about(
        self,
        lines: Sequence[str],
        at: tuple[float, float],
        *,
        size: float,
        off: float = 0.0,
        must: bool = True,
    ) -> str:
        """Return words as near to a point as there is room.

        Parameters
        ----------
        lines : sequence of str
            One below the other; the first is bold.
        at : tuple of float
            The point [px].
        size : float
            Of the letters [px].
        off : float
            How far from the point they keep at least [px].
        must : bool
            True: where nothing is free they stand on the last place tried.

        Returns
        -------
        str
            SVG; empty where there is no room and they need not be.
        """
        wide = max(text_width(line, size) for line in lines) + 4
        high = size * _LINE * len(lines) + 2
        boxes = [box_about(*place, wide, high) for place in _places(at, (wide, high), off)]
        inside = [box for box in boxes if box_is_free(box, (), (), self.sheet)]
        free = [box for box in inside if box_is_free(box, self.boxes, self.rings, self.sheet)]
        apart = [box for box in inside if box_is_free(box, self.boxes, (), self.sheet)]
        # a word over a line is read; a word over a word is not
        found = free or (apart if must else [])
        if not found:
            return ""
        self.boxes.append(found[0])
        return _lines_svg(lines, found[0], size)


def _places(
    at: tuple[float, float], size: tuple[float, float], off: float
) -> list[tuple[float, float]]:
    """Middles of boxes about a point, near ones first."""
    first = [] if off else [at]
    turns = [2 * math.pi * k / _ROUND for k in range(_ROUND)]
    return first + [
        (
            at[0] + math.sin(turn) * (size[0] / 2 + off * more),
            at[1] - math.cos(turn) * (size[1] / 2 + off * more),
        )
        for more in _OFF
        for turn in sorted(turns, key=lambda turn: -abs(math.sin(turn)))
    ]


def _lines_svg(lines: Sequence[str], box: Box, size: float) -> str:
    middle, top = (box[0] + box[2]) / 2, box[1]
    return "".join(
        text_svg(
            line,
            middle,
            top + size * (_LINE * k + 1.0) + 1,
            size=size,
            look=f'fill="{INK}"' + (' font-weight="700"' if k == 0 else ""),
        )
        for k, line in enumerate(lines)
    )
