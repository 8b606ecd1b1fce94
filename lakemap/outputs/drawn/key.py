"""The key of the map: what each line, mark and colour means."""

from collections.abc import Iterable
from html import escape
from typing import Final

from lakemap.outputs.drawn.scene import Scene
from lakemap.outputs.words.texts import ENGLISH, Texts

WATER: Final = ("#E4F1F2", "#CDE4EA", "#B3D3E0", "#97C0D5", "#7BABC9", "#6096BB")
_INK: Final = 'stroke="#12232E"'
_ZONE: Final = 'stroke="#2F4A45"'


def _path(d: str, look: str) -> str:
    return f'<path d="{d}" {look}/>'


def _rect(at: tuple[float, float, float, float], look: str) -> str:
    x, y, width, height = at
    return f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" {look}/>'


_AREA: Final = _rect((2, 2, 30, 12), f'fill="#fff" {_ZONE} stroke-width="1.2"')
_RULE: Final = "M2 8H32"
_LINES: Final = (
    ("conflict", _path(_RULE, 'stroke="#B3200C" stroke-width="3"')),
    (
        "tight",
        _path(_RULE, 'stroke="#FFC44A" stroke-width="5"')
        + _path(_RULE, 'stroke="#6B4300" stroke-width="2" stroke-dasharray="7 4.5"'),
    ),
    ("clear", _path(_RULE, 'stroke="#1D4A63" stroke-width="1.3"')),
    (
        "unknown",
        _path(
            "M3 8H32",
            'stroke="#4A4760" stroke-width="2.4" stroke-dasharray="0.1 4.6" stroke-linecap="round"',
        ),
    ),
    (
        "rig",
        _path("M5 8H22", f'{_INK} stroke-width="1.3"')
        + _rect((2, 5, 6, 6), 'fill="#12232E"')
        + _rect((12.5, 5.5, 5, 5), f'fill="#fff" {_INK}')
        + _rect((22, 4, 10, 8), f'fill="#fff" {_INK} stroke-width="1.3"'),
    ),
    (
        "proposed",
        _rect((12, 3, 11, 9), f'fill="#fff" {_INK} stroke-width="1.3" stroke-dasharray="2.2 1.6"'),
    ),
)
_THIN: Final = f'{_ZONE} stroke-width="0.9"'
_DOTS: Final = "".join(
    f'<circle cx="{x}" cy="{y}" r="0.9" fill="#2F4A45"/>' for x in (7, 13, 19, 25) for y in (6, 10)
)
_CROSS: Final = "M4 14L14 2M14 14L24 2M24 14L31 5M4 2L14 14M14 2L24 14M24 2L31 11"
_ZONES: Final = {
    "swim_area": _AREA + _DOTS,
    "channel": _path("M2 3H32M2 13H32", f'{_ZONE} stroke-width="1.5" stroke-dasharray="8 4"'),
    "intake": _AREA + _path("M2 6H32M2 10H32M9 2V14M17 2V14M25 2V14", _THIN),
    "hazard": _AREA + _path("M4 14L14 2M13 14L23 2M22 14L31 3", _THIN),
    "no_float": _AREA + _path(_CROSS, _THIN),
    "ramp": _rect((4, 5, 26, 6), 'fill="#6F777A"'),
    "dock": _rect((4, 6, 26, 4), 'fill="#5C5750"'),
    "frontage": _path(_RULE, f'{_THIN} stroke-dasharray="3 3" opacity="0.6"'),
}
_KEEP: Final = (
    "keep",
    _path(_RULE, f'{_ZONE} stroke-width="1.2" stroke-dasharray="1 3.4" stroke-linecap="round"'),
)
_BARE: Final = (
    "bare",
    _rect((2, 2, 30, 12), 'fill="#E6E8E7"')
    + _path("M4 14L14 2M14 14L24 2M24 14L32 4", 'stroke="#8B969C" stroke-width="0.9"'),
)


def key_rows(scene: Scene, *, texts: Texts = ENGLISH) -> list[tuple[str, str]]:
    """Return name and drawing of everything that is on this map.

    Parameters
    ----------
    scene : Scene
        Of the field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of tuple
        Words, and the inside of an SVG of 34 by 16.
    """
    kinds = {zone.kind for zone in scene.zones}
    rows = [*_LINES, *(pair for pair in _ZONES.items() if pair[0] in kinds)]
    if any(zone.keep_m > 0 for zone in scene.zones):
        rows.append(_KEEP)
    if not scene.bare.is_empty:
        rows.append(_BARE)
    return [(texts.of(f"key.{name}"), drawing) for name, drawing in rows]


def depth_scale(scene: Scene, unit: str, *, texts: Texts = ENGLISH) -> str:
    """Return the scale of depth colours as an SVG.

    Parameters
    ----------
    scene : Scene
        Of the field.
    unit : str
        `ft` or `m`.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        SVG, 172 by 40; empty where no depth is known.
    """
    if scene.grid is None:
        return ""
    count = len(scene.band_edges)
    width = 164 / count
    boxes = "".join(
        f'<rect x="{4 + k * width:.1f}" y="4" width="{width:.1f}" height="14" fill="{WATER[k]}"'
        ' stroke="#3E7391" stroke-width="0.6"/>'
        f'<text x="{4 + k * width:.1f}" y="32" font-size="11" fill="#12232E"'
        f' text-anchor="{"start" if k == 0 else "middle"}">{edge}</text>'
        for k, edge in enumerate(scene.band_edges)
    )
    edges = ", ".join(scene.band_edges)
    label = escape(texts.of("key.depth_colours", edges=edges, unit=unit))
    return (
        f'<svg viewBox="0 0 172 40" width="172" height="40" role="img"'
        f' aria-label="{label}">{boxes}</svg>'
    )


def rows_html(rows: Iterable[tuple[str, str]]) -> str:
    """Return rows of a key.

    Parameters
    ----------
    rows : iterable of tuple
        Words, and the inside of an SVG of 34 by 16.

    Returns
    -------
    str
        HTML, one list item each.
    """
    return "".join(
        f'<li><svg viewBox="0 0 34 16" width="34" height="16" fill="none" aria-hidden="true">'
        f"{drawing}</svg><span>{escape(words)}</span></li>"
        for words, drawing in rows
    )


def key_html(scene: Scene, unit: str = "ft", *, texts: Texts = ENGLISH) -> str:
    """Return the inside of the key card.

    Parameters
    ----------
    scene : Scene
        Of the field.
    unit : str
        `ft` or `m`.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        HTML.
    """
    rows = rows_html(key_rows(scene, texts=texts))
    depths = depth_scale(scene, unit, texts=texts)
    name = escape(texts.of("key.depths", unit=unit))
    title = f'<p class="depths">{name}</p>{depths}' if depths else ""
    return f"<ul>{rows}</ul>{title}"
