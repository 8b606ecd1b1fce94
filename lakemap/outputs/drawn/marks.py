"""The verdicts' marks: a picture of the gap itself, told apart without colour."""

from typing import Final

INK: Final = {
    "conflict": "#B3200C",
    "tight": "#6B4300",
    "unknown": "#4A4760",
    "clear": "#1D4A63",
    "retired": "#46565F",
}
MARK_WIDTH: Final = 24
MARK_HEIGHT: Final = 14
_INSIDE: Final = {
    # outlines that cross with hatched common ground: no filled discs, which are somebody's sign
    "conflict": '<circle cx="8.6" cy="7" r="5.6"/><circle cx="15.4" cy="7" r="5.6"/>'
    '<path d="M10.6 8.2l2.8-2.8M10.9 10.3l2.4-2.4" stroke-width="1.2"/>',
    "tight": '<circle cx="6.2" cy="7" r="4.9" fill="#FFF3D6"/>'
    '<circle cx="17.8" cy="7" r="4.9" fill="#FFF3D6"/>'
    '<path d="M12 2.6v8.8" stroke-width="2.4"/>',
    "unknown": '<circle cx="12" cy="7" r="6" stroke-dasharray="0.1 3.05" stroke-width="2"/>'
    '<path d="M10.3 5.6a1.75 1.75 0 1 1 2.3 1.9c-.5.2-.6.5-.6 1M12 10.4v.1"/>',
    "clear": '<circle cx="5.4" cy="7" r="4"/><circle cx="18.6" cy="7" r="4"/>',
    "retired": '<circle cx="12" cy="7" r="5"/><path d="M8.6 10.4l6.8-6.8"/>',
}


def mark_group(word: str, x: float, y: float) -> str:
    """Return a mark as a part of a picture.

    Parameters
    ----------
    word : str
        A verdict, or `retired`.
    x, y : float
        Its upper left corner [px].

    Returns
    -------
    str
        SVG, 24 by 14.
    """
    return (
        f'<g transform="translate({x:.1f} {y:.1f})" fill="none" stroke="{INK[word]}"'
        f' stroke-width="1.6" stroke-linecap="round">{_INSIDE[word]}</g>'
    )


def mark_svg(word: str) -> str:
    """Return a mark that stands in a line of text; the word beside it says the same.

    Parameters
    ----------
    word : str
        A verdict, or `retired`.

    Returns
    -------
    str
        One SVG element.
    """
    return (
        f'<svg class="mk" viewBox="0 0 {MARK_WIDTH} {MARK_HEIGHT}" width="20" height="12"'
        f' fill="none" stroke="{INK[word]}" stroke-width="1.6" stroke-linecap="round"'
        f' aria-hidden="true">{_INSIDE[word]}</svg>'
    )
