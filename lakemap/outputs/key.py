"""The key of the map: what each line, mark and colour means."""

from html import escape
from typing import Final

from lakemap.outputs.scene import Scene

WATER: Final = ("#E4F1F2", "#CDE4EA", "#B3D3E0", "#97C0D5", "#7BABC9", "#6096BB")
_LINES: Final = (
    ("swing circle, conflict", '<path d="M2 8H32" stroke="#B3200C" stroke-width="3"/>'),
    (
        "tight",
        '<path d="M2 8H32" stroke="#FFC44A" stroke-width="5"/>'
        '<path d="M2 8H32" stroke="#6B4300" stroke-width="2" stroke-dasharray="7 4.5"/>',
    ),
    ("clear", '<path d="M2 8H32" stroke="#1D4A63" stroke-width="1.3"/>'),
    (
        "unknown: no depth known",
        '<path d="M3 8H32" stroke="#4A4760" stroke-width="2.4" stroke-dasharray="0.1 4.6"'
        ' stroke-linecap="round"/>',
    ),
    (
        "primary, secondary, float",
        '<path d="M5 8H22" stroke="#12232E" stroke-width="1.3"/>'
        '<rect x="2" y="5" width="6" height="6" fill="#12232E"/>'
        '<rect x="12.5" y="5.5" width="5" height="5" fill="#fff" stroke="#12232E"/>'
        '<rect x="22" y="4" width="10" height="8" fill="#fff" stroke="#12232E" stroke-width="1.3"/>',
    ),
    (
        "proposed float",
        '<rect x="12" y="3" width="11" height="9" fill="#fff" stroke="#12232E" stroke-width="1.3"'
        ' stroke-dasharray="2.2 1.6"/>',
    ),
)
_AREA: Final = (
    '<rect x="2" y="2" width="30" height="12" fill="#fff" stroke="#2F4A45" stroke-width="1.2"/>'
)
_ZONES: Final = {
    "swim_area": (
        "swim area",
        _AREA
        + "".join(f'<circle cx="{x}" cy="{y}" r="0.9" fill="#2F4A45"/>' for x in (7, 13, 19, 25) for y in (6, 10)),
    ),
    "channel": (
        "channel",
        '<path d="M2 3H32M2 13H32" stroke="#2F4A45" stroke-width="1.5" stroke-dasharray="8 4"/>',
    ),
    "intake": (
        "water intake",
        _AREA + '<path d="M2 6H32M2 10H32M9 2V14M17 2V14M25 2V14" stroke="#2F4A45" stroke-width="0.8"/>',
    ),
    "hazard": (
        "hazard",
        _AREA + '<path d="M4 14L14 2M13 14L23 2M22 14L31 3" stroke="#2F4A45" stroke-width="0.9"/>',
    ),
    "no_float": (
        "no-float area",
        _AREA + '<path d="M4 14L14 2M14 14L24 2M24 14L31 5M4 2L14 14M14 2L24 14M24 2L31 11"'
        ' stroke="#2F4A45" stroke-width="0.9"/>',
    ),
    "ramp": ("ramp", '<rect x="4" y="5" width="26" height="6" fill="#6F777A"/>'),
    "dock": ("dock", '<rect x="4" y="6" width="26" height="4" fill="#5C5750"/>'),
    "frontage": (
        "frontage of a lot",
        '<path d="M2 8H32" stroke="#2F4A45" stroke-width="0.9" stroke-dasharray="3 3" opacity="0.6"/>',
    ),
}  # fmt: skip
_KEEP: Final = (
    "distance to keep",
    '<path d="M2 8H32" stroke="#2F4A45" stroke-width="1.2" stroke-dasharray="1 3.4"'
    ' stroke-linecap="round"/>',
)
_BARE: Final = (
    "not sounded",
    '<rect x="2" y="2" width="30" height="12" fill="#E6E8E7"/>'
    '<path d="M4 14L14 2M14 14L24 2M24 14L32 4" stroke="#8B969C" stroke-width="0.9"/>',
)


def key_rows(scene: Scene) -> list[tuple[str, str]]:
    """Return name and drawing of everything that is on this map.

    Parameters
    ----------
    scene : Scene
        Of the field.

    Returns
    -------
    list of tuple
        Words, and the inside of an SVG of 34 by 16.
    """
    kinds = {zone.kind for zone in scene.zones}
    rows = [*_LINES, *(entry for kind, entry in _ZONES.items() if kind in kinds)]
    if any(zone.keep_m > 0 for zone in scene.zones):
        rows.append(_KEEP)
    if not scene.bare.is_empty:
        rows.append(_BARE)
    return rows


def depth_scale(scene: Scene, unit: str) -> str:
    """Return the scale of depth colours as an SVG.

    Parameters
    ----------
    scene : Scene
        Of the field.
    unit : str
        `ft` or `m`.

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
    return (
        f'<svg viewBox="0 0 172 40" width="172" height="40" role="img"'
        f' aria-label="Depth colours from {edges} {unit} on">{boxes}</svg>'
    )


def key_html(scene: Scene, unit: str = "ft") -> str:
    """Return the inside of the key card.

    Parameters
    ----------
    scene : Scene
        Of the field.
    unit : str
        `ft` or `m`.

    Returns
    -------
    str
        HTML.
    """
    rows = "".join(
        f'<li><svg viewBox="0 0 34 16" width="34" height="16" fill="none" aria-hidden="true">'
        f"{drawing}</svg><span>{escape(words)}</span></li>"
        for words, drawing in key_rows(scene)
    )
    depths = depth_scale(scene, unit)
    title = f'<p class="depths">Depth at normal level, {unit}</p>{depths}' if depths else ""
    return f"<ul>{rows}</ul>{title}"
