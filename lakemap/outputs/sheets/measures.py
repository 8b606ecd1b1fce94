"""The measures that both writers and the layout share: one page comes out alike on all of them.

Lengths are in em of the page's own type unless the name says pt. The style sheet and the
typesetting template repeat them; tests hold the heights that come of it to the layout's.
"""

from dataclasses import dataclass
from typing import Final

MARGIN_PT: Final = 30.0  # most printers reach within 18
FOOT_PT: Final = 14.0  # for the footer, at the page's lower edge
SPARE_PT: Final = 4.0  # left free: browsers round every box

LINE: Final = 1.22  # from one line to the next, of the line's own letters
GAP: Final = 0.5  # below any block
SMALL: Final = 0.85  # captions, labels, facts
CARE: Final = 0.9  # cautions
HEAD: Final = 1.15  # headings
HEAD_ABOVE: Final = 0.35
HEAD_BELOW: Final = 0.25
STEP_INDENT: Final = 3.2  # tick box and number
STEP_GAP: Final = 0.22
CELL_X: Final = 0.4  # on each side of a cell
CELL_Y: Final = 0.22  # above and below its words
TALL: Final = 2.1  # a row to write in
RULE: Final = 0.1  # a row's own line
WRITE: Final = 1.7  # a line to write on, from the one above
FIELD_GAP: Final = 0.35
COLUMN_GAP: Final = 1.4
FRAME_X: Final = 0.75  # a frame’s border and what is inside it, left and right on the mean
FRAME_Y: Final = 0.5  # above and below
BULLET: Final = 1.0
TICK: Final = 1.25  # a tick box and the room behind it
NUMBERS: Final = (2.9, 2.0, 1.5, 1.15)  # the float's number or name in the strip, by its length
NUMBER_SHARE: Final = 0.4  # of the strip, at most
FACTS_SHARE: Final = 0.3
TITLE: Final = 1.4
STRIP_BELOW: Final = 0.7  # with its rule


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How large a page is set."""

    type_pt: float
    figures: float  # share of their asked width


SIZES: Final = tuple(11.0 - 0.25 * step for step in range(13))  # pt; below 8 none reads it afloat
FIGURES: Final = (1.0, 0.9, 0.8)
_LARGE: Final = 9.0  # pt: down to here letters give way before drawings do


def fits_of(size_pt: float) -> tuple[Fit, ...]:
    """Return how a page may be set in letters of a size, its drawings largest first.

    Parameters
    ----------
    size_pt : float
        Of the letters.

    Returns
    -------
    tuple of Fit
        At least one.
    """
    shares = FIGURES[:1] if size_pt > _LARGE else FIGURES
    return tuple(Fit(type_pt=size_pt, figures=share) for share in shares)


FITS: Final = tuple(fit for size in SIZES for fit in fits_of(size))
