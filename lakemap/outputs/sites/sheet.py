"""New sites on paper: a page with their picture, their table and how many more fit."""

from collections.abc import Iterator, Sequence
from html import escape
from typing import Final

import shapely

from lakemap.basis.records import Geometry
from lakemap.basis.wording import length_text, measure_text
from lakemap.mapping import Assessment
from lakemap.outputs.drawn.key import WATER
from lakemap.outputs.drawn.paper import Sheet, area_svg, fit, north, scale_bar, text_svg
from lakemap.outputs.drawn.scene import Scene
from lakemap.outputs.sites.closed import Closed
from lakemap.outputs.sites.layer import (
    ALLOWED_EDGE,
    ALLOWED_TINT,
    ALLOWED_VEIL,
    PATTERNS,
    SHUT_INK,
    sites_key_rows,
)
from lakemap.outputs.sites.words import (
    bound_sentence,
    capacity_clause,
    found_title,
    limit_words,
    place_text,
    rig_words,
    score_text,
    spare_text,
)
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.siting.records import Site, Sites

_WIDTH, _HEIGHT = 744.0, 420.0
_PREFIX: Final = "new"
_LAND, _SHORE, _ZONE, _FLOAT = "#F2F1EC", "#3F525C", "#2F4A45", "#1D4A63"
_INK_PX: Final = 1.0
_HALF: Final = 8.0  # of a numbered square [px]
_HEADS: Final = (
    "depth", "swings", "spare", "limited", "wave", "from_shore", "riser", "ground", "score",
)  # fmt: skip
_SOLID: Final = frozenset({"ramp", "dock"})


def sites_sheet_html(
    assessment: Assessment,
    scene: Scene,
    sites: Sites,
    closed: Sequence[Closed],
    *,
    texts: Texts = ENGLISH,
) -> str:
    """Return the page about new sites as a part of the print sheet.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    sites : Sites
        What was found.
    closed : sequence of Closed
        That is shown.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        HTML, no scripts and no inline styles.
    """
    units = assessment.field.settings.units
    rig = rig_words(sites.ask.like, units, texts=texts)
    clause = capacity_clause(sites, texts=texts)
    name = texts.of("sites.sheet_title", field=assessment.field.settings.name)
    said = [
        f"{clause[:1].upper()}{clause[1:]}." if clause else "",
        bound_sentence(sites, texts=texts) if clause else "",
        f"{rig[:1].upper()}{rig[1:]}.",
    ]
    keys = "".join(
        f'<span><svg viewBox="0 0 34 16" width="34" height="16" fill="none" aria-hidden="true">'
        f"{drawing}</svg>{escape(words)}</span>"
        for words, drawing in sites_key_rows(closed, sites, texts=texts)
    )
    return (
        '<section class="sheet new-sites" id="sites-sheet">'
        f'<div class="title"><div><h1>{escape(name)}</h1>'
        f"<p>{escape(found_title(sites, units, texts=texts))}.</p></div></div>"
        f'<div class="picture">{sites_svg(assessment, scene, sites, closed, texts=texts)}</div>'
        f'<div class="keys">{keys}</div>{_table(assessment, sites, texts)}'
        f"<p>{escape(' '.join(filter(None, said)))}</p></section>"
    )


def _table(assessment: Assessment, sites: Sites, texts: Texts) -> str:
    if not sites.sites:
        return ""
    head = [
        texts.of("sheet.number"),
        "LAT,LON",
        *(texts.of(f"sites_head.{name}") for name in _HEADS),
    ]
    names = "".join(f"<th>{escape(name)}</th>" for name in head)
    rows = "".join(
        f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in _cells(one, assessment, texts))}</tr>"
        for one in sites.sites
    )
    return f"<table><thead><tr>{names}</tr></thead><tbody>{rows}</tbody></table>"


def _cells(one: Site, assessment: Assessment, texts: Texts) -> Iterator[str]:
    field = assessment.field
    units = field.settings.units
    yield str(one.rank)
    yield place_text(one.lat, one.lon)
    yield length_text(one.depth_m, units, rounding="down")
    yield length_text(one.swing_radius_m, units, rounding="up")
    yield spare_text(one, units, texts=texts)
    yield limit_words(one.limited_by, field, texts=texts)
    yield length_text(one.wave_height_m, units, rounding="up")
    yield length_text(one.shore_m, units, rounding="down")
    yield measure_text(one.riser_m, units)
    yield measure_text(one.ground_m, units)
    yield score_text(one.score)


def sites_svg(
    assessment: Assessment,
    scene: Scene,
    sites: Sites,
    closed: Sequence[Closed],
    *,
    texts: Texts = ENGLISH,
) -> str:
    """Return the picture of the lake with allowed and closed water and the sites.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    sites : Sites
        What was found.
    closed : sequence of Closed
        That is shown.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One SVG element.
    """
    sheet = fit(scene, width=_WIDTH, height=_HEIGHT, prefix=_PREFIX)
    label = escape(texts.of("sites.sheet_picture", field=assessment.field.settings.name))
    shore = f'fill="none" stroke="{_SHORE}" stroke-width="1.6"'
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}"'
            f' role="img" aria-label="{label}" font-family="system-ui, sans-serif">',
            _defs(),
            f'<rect width="{_WIDTH:g}" height="{_HEIGHT:g}" fill="{_LAND}"/>',
            *(area_svg(band, sheet, f'fill="{WATER[k]}"') for k, band in enumerate(scene.bands)),
            *_waters(sites, closed, sheet),
            *_zones(scene, sheet),
            area_svg(scene.water, sheet, shore),
            *_floats(assessment, sheet),
            *_marks(sites, sheet),
            scale_bar(sheet),
            north(sheet, letter=texts.of("map.north")),
            "</svg>",
        ]
    )


def _defs() -> str:
    patterns = "".join(
        f'<pattern id="{_PREFIX}-{name}" width="{size}" height="{size}"'
        f' patternUnits="userSpaceOnUse"><path d="{lines}" fill="none" stroke="{SHUT_INK}"'
        ' stroke-width="0.7" stroke-opacity="0.6"/></pattern>'
        for name, (size, lines) in PATTERNS.items()
    )
    return f"<defs>{patterns}</defs>"


def _waters(sites: Sites, closed: Sequence[Closed], sheet: Sheet) -> Iterator[str]:
    for one in closed:
        yield area_svg(_seen(one.geometry, sheet), sheet, f'fill="url(#{_PREFIX}-{one.name})"')
    look = (
        f'fill="{ALLOWED_TINT}" fill-opacity="{ALLOWED_VEIL}" stroke="{ALLOWED_EDGE}"'
        ' stroke-width="1.3" stroke-linejoin="round"'
    )
    yield area_svg(_seen(sites.allowed, sheet), sheet, look)


def _seen(area: Geometry, sheet: Sheet) -> Geometry:
    """An area without parts and holes that are finer than the ink."""
    least = (_INK_PX / sheet.scale) ** 2
    kept = []
    for part in shapely.get_parts(area):
        if part.area > least:
            holes = [ring for ring in part.interiors if shapely.Polygon(ring).area > least]
            kept.append(shapely.Polygon(part.exterior, holes))
    return shapely.MultiPolygon(kept)


def _zones(scene: Scene, sheet: Sheet) -> Iterator[str]:
    for zone in scene.zones:
        look = f'fill="#fff" fill-opacity="0.5" stroke="{_ZONE}" stroke-width="1.2"'
        if zone.kind == "frontage":
            look = f'fill="none" stroke="{_ZONE}" stroke-dasharray="3 3" opacity="0.38"'
        elif zone.kind in _SOLID:
            look = 'fill="#5C5750"'
        yield area_svg(zone.area, sheet, look)


def _floats(assessment: Assessment, sheet: Sheet) -> Iterator[str]:
    """The floats that lie there, with their circles."""
    for one in assessment.floats:
        if one.verdict is not None:
            x, y = sheet.xy(one.x_m, one.y_m)
            radius = (one.swing_radius_m[0] or 0.0) * sheet.scale
            look = f'fill="none" stroke="{_FLOAT}" stroke-width="0.9"'
            yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" {look}/>'
            yield text_svg(one.record.float_id, x, y + 3, size=8, look=f'fill="{_FLOAT}"')


def _marks(sites: Sites, sheet: Sheet) -> Iterator[str]:
    """Further floats as small rings, sites as numbered squares with their circles, best on top."""
    for x_m, y_m in sites.capacity.packing.xy.tolist():
        x, y = sheet.xy(x_m, y_m)
        yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.6" fill="#fff" stroke="{ALLOWED_EDGE}"/>'
    for one in reversed(sites.sites):
        x, y = sheet.xy(one.x_m, one.y_m)
        radius = one.swing_radius_m * sheet.scale
        yield (
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="none"'
            f' stroke="{ALLOWED_EDGE}" stroke-width="1.1" stroke-dasharray="4 3"/>'
            f'<rect x="{x - _HALF:.1f}" y="{y - _HALF:.1f}" width="{2 * _HALF:g}"'
            f' height="{2 * _HALF:g}" fill="{ALLOWED_EDGE}" stroke="#fff" stroke-width="1.2"/>'
            f'<text x="{x:.1f}" y="{y + 4:.1f}" font-size="10.5" font-weight="700"'
            f' text-anchor="middle" fill="#fff">{one.rank}</text>'
        )
