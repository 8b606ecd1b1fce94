"""New sites on the map page: allowed and closed water, ranked sites, how many more fit."""

from collections.abc import Sequence
from html import escape
from types import MappingProxyType
from typing import Any, Final

import numpy as np
import shapely

from lakemap.basis.records import Geometry
from lakemap.basis.wording import length_text, measure_text
from lakemap.mapping import Assessment
from lakemap.outputs.drawn.key import rows_html
from lakemap.outputs.drawn.packed import packed_rings
from lakemap.outputs.drawn.scene import cm
from lakemap.outputs.sites.closed import Closed, closed_classes, share_text
from lakemap.outputs.sites.words import (
    PARTS,
    bound_sentence,
    capacity_clause,
    found_title,
    limit_words,
    place_text,
    rig_words,
    score_text,
    short_capacity,
    spare_text,
)
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.siting.records import Site, Sites

ALLOWED_TINT: Final = "#FFFFFF"
ALLOWED_VEIL: Final = 0.6  # of the tint: depth colours show through
ALLOWED_EDGE: Final = "#0B5570"
SHUT_INK: Final = "#46565F"
# side of the tile [px], its lines
PATTERNS: Final = MappingProxyType(
    {
        "shore": (9, "M0 0L9 9M-2 7L2 11M7 -2L11 2"),
        "float": (14, "M9.8 7A2.8 2.8 0 1 1 4.2 7A2.8 2.8 0 1 1 9.8 7"),
        "zone": (8, "M4 0V8"),
        "depth": (12, "M0 3H7M6 9H12M0 9H1"),
        "frontage": (12, "M6 3.2V8.8M3.2 6H8.8"),
        "other": (12, "M3 5L6 8.4L9 5"),
    }
)
# of the lake's longer side; what is closed is known in squares only
_FINER: Final = 1 / 4000
_COARSER: Final = 1 / 1000


def sites_data(
    assessment: Assessment, sites: Sites, closed: Sequence[Closed], *, texts: Texts = ENGLISH
) -> dict[str, Any]:
    """Return what the page's layer of sites shows.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    sites : Sites
        What was found in it.
    closed : sequence of Closed
        That is shown.
    texts : Texts
        Of the language.

    Returns
    -------
    dict
        JSON-able; coordinates in whole centimetres, texts ready to show.
    """
    units = assessment.field.settings.units
    capacity = sites.capacity
    further = zip(capacity.packing.xy.tolist(), capacity.packing.radius_m.tolist(), strict=True)
    clause = capacity_clause(sites, texts=texts)
    allowed = float(shapely.area(sites.allowed)) / float(shapely.area(assessment.water))
    rig = rig_words(sites.ask.like, units, texts=texts)
    return {
        "title": found_title(sites, units, texts=texts),
        "brief": f"{clause[:1].upper()}{clause[1:]}." if clause else "",
        "short": short_capacity(sites, texts=texts),
        "about": [
            f"{rig[:1].upper()}{rig[1:]}.",
            *([texts.of("sites.only_lot", lot=sites.ask.lot)] if sites.ask.lot else []),
            texts.of("sites.allowed_share", share=share_text(allowed, texts=texts)),
            *(
                texts.of(
                    "sites.closed_share", share=share_text(one.share, texts=texts), why=one.words
                )
                for one in closed
            ),
            *([bound_sentence(sites, texts=texts)] if clause else []),
        ],
        "allowed": packed_rings(_drawn(sites.allowed, assessment, _FINER)),
        "closed": [
            {
                "name": one.name,
                "words": one.words,
                "share": share_text(one.share, texts=texts),
                "area": packed_rings(_drawn(one.geometry, assessment, _COARSER)),
            }
            for one in closed
        ],
        "patterns": {name: list(pattern) for name, pattern in PATTERNS.items()},
        "look": {
            "tint": ALLOWED_TINT,
            "veil": ALLOWED_VEIL,
            "edge": ALLOWED_EDGE,
            "shut": SHUT_INK,
        },
        "sites": [_site(one, assessment, texts) for one in sites.sites],
        "further": [[cm(x), cm(y), cm(radius)] for (x, y), radius in further],
    }


def _drawn(area: Geometry, assessment: Assessment, share: float) -> Geometry:
    """An area with no more corners than the eye can see."""
    west, south, east, north = shapely.bounds(assessment.water).tolist()
    return shapely.simplify(area, max(east - west, north - south) * share)


def shown_closed(assessment: Assessment, sites: Sites, *, texts: Texts = ENGLISH) -> list[Closed]:
    """Return the closed water without the zones themselves, which the map shows already."""
    covered = shapely.union_all(
        [
            shapely.buffer(placed.shape, placed.zone.width_m / 2)
            if placed.zone.width_m
            else placed.shape
            for placed in assessment.zones
            if placed.zone.kind != "frontage"
        ]
    )
    found = []
    for one in closed_classes(sites, assessment.water, texts=texts):
        rest = shapely.difference(one.geometry, covered)
        areas = [
            part
            for part in shapely.get_parts(rest)
            if part.geom_type == "Polygon" and not part.is_empty
        ]
        if areas:
            found.append(
                Closed(
                    name=one.name,
                    kinds=one.kinds,
                    words=one.words,
                    geometry=shapely.MultiPolygon(areas),
                    share=one.share,
                )
            )
    return found


def _site(one: Site, assessment: Assessment, texts: Texts) -> dict[str, Any]:
    field = assessment.field
    units = field.settings.units
    weights = field.settings.site_weights
    limit = limit_words(one.limited_by, field, texts=texts)
    spare = spare_text(one, units, texts=texts)
    free = one.limited_by == "nothing"
    says = "sites.says_free" if free else "sites.says"
    return {
        "rank": one.rank,
        "x": cm(one.x_m),
        "y": cm(one.y_m),
        "r": cm(one.swing_radius_m),
        "says": texts.of(says, far=spare, thing=limit),
        "row": [spare if free else texts.of("amount.spare", much=spare), limit],
        "score": score_text(one.score),
        "tiles": [
            [texts.of("sites.spare"), spare],
            [texts.of("sites.swings"), length_text(one.swing_radius_m, units, rounding="up")],
            [texts.of("sites.depth"), length_text(one.depth_m, units, rounding="down")],
        ],
        "rows": [
            [texts.of("sites.place"), place_text(one.lat, one.lon)],
            [texts.of("sites.limited"), limit],
            [texts.of("sites.from_shore"), length_text(one.shore_m, units, rounding="down")],
            [texts.of("sites.wave"), length_text(one.wave_height_m, units, rounding="up")],
            [texts.of("sites.fetch"), length_text(one.fetch_m, units, rounding="up")],
            [texts.of("rig.riser"), measure_text(one.riser_m, units)],
            [texts.of("rig.ground"), measure_text(one.ground_m, units)],
        ],
        "parts": [
            [
                texts.of(f"sites.part_{name}"),
                texts.of(f"sites.part_{name}_says"),
                score_text(one.parts[name]),
                f"{weights.get(name, 0.0):g}",
                round(float(np.clip(one.parts[name], 0.0, 1.0)), 3),
            ]
            for name in PARTS
            if name in one.parts
        ],
    }


def sites_key_rows(
    closed: Sequence[Closed], sites: Sites, *, texts: Texts = ENGLISH
) -> list[tuple[str, str]]:
    """Return name and drawing of what the layer shows.

    Parameters
    ----------
    closed : sequence of Closed
        That is shown.
    sites : Sites
        What was found.
    texts : Texts
        Of the language.

    Returns
    -------
    list of tuple
        Words, and the inside of an SVG of 34 by 16.
    """
    rows = []
    if not shapely.is_empty(sites.allowed):
        look = f'fill="{ALLOWED_TINT}" stroke="{ALLOWED_EDGE}" stroke-width="1.6"'
        rows.append(
            (texts.of("sites.key_allowed"), f'<rect x="2" y="2" width="30" height="12" {look}/>')
        )
    if sites.sites:
        number = (
            f'<rect x="10" y="1" width="14" height="14" fill="{ALLOWED_EDGE}"/>'
            '<text x="17" y="12" font-size="11" font-weight="700" text-anchor="middle"'
            ' fill="#fff">1</text>'
        )
        circle = (
            f'<path d="M2 8H32" stroke="{ALLOWED_EDGE}" stroke-width="1.3" stroke-dasharray="5 4"/>'
        )
        rows += [(texts.of("sites.key_site"), number), (texts.of("sites.key_circle"), circle)]
    if len(sites.capacity.packing.xy):
        ring = f'<circle cx="17" cy="8" r="3.4" fill="#fff" stroke="{ALLOWED_EDGE}"/>'
        rows.append((texts.of("sites.key_further"), ring))
    return [*rows, *((one.words, _swatch(one.name)) for one in closed)]


def _swatch(name: str) -> str:
    """A piece of a pattern: its tile again and again, cut at the frame."""
    size, lines = PATTERNS[name]
    tiles = "".join(
        f'<path d="{lines}" transform="translate({x} {y})"/>'
        for x in range(0, 30, size)
        for y in range(0, 12, size)
    )
    return (
        f'<svg x="2" y="2" width="30" height="12" stroke="{SHUT_INK}" stroke-width="0.9">'
        f"{tiles}</svg>"
        f'<rect x="2" y="2" width="30" height="12" stroke="{SHUT_INK}" stroke-width="0.6"/>'
    )


def sites_key_html(closed: Sequence[Closed], sites: Sites, *, texts: Texts = ENGLISH) -> str:
    """Return the layer's part of the key card.

    Parameters
    ----------
    closed : sequence of Closed
        That is shown.
    sites : Sites
        What was found.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        HTML.
    """
    rows = rows_html(sites_key_rows(closed, sites, texts=texts))
    return f'<div class="sites-key"><p>{escape(texts.of("sites.key"))}</p><ul>{rows}</ul></div>'
