"""An assessment as the page's data: one JSON-able dict, every number and sentence ready to show."""

from typing import Any

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Geometry
from lakemap.basis.wording import length_unit, speed_text
from lakemap.mapping import Assessment
from lakemap.outputs.drawn.packed import packed_lines, packed_rings
from lakemap.outputs.drawn.scene import CM, Scene, cm, wind_drawn
from lakemap.outputs.web.page_floats import float_data, is_short
from lakemap.outputs.web.panel_rig import rig_panels
from lakemap.outputs.words.cautions import CAUTIONS, CLOSING, cautions_for
from lakemap.outputs.words.clearances import asked_text, island_name
from lakemap.outputs.words.levels_and_dates import (
    compass_words,
    date_words,
    level_names,
    level_words,
    signed_text,
)
from lakemap.outputs.words.texts import ENGLISH, SCRIPT_SECTIONS, Texts
from lakemap.outputs.words.verdicts import headline, sorted_floats, verdict_counts

_GRID_NODES = 100  # for the depth at the pointer: finer than a finger
_NO_DEPTH = -9999  # in the grid: land, or not sounded
_WORDS = ("conflict", "tight", "unknown", "clear", "retired")
_SMOOTH_M = 0.5  # of the middle line that a channel's name stands along


def page_data(
    assessment: Assessment,
    scene: Scene,
    *,
    owners: bool,
    texts: Texts = ENGLISH,
    rigs: bool = True,
) -> dict[str, Any]:
    """Return all that the page shows.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    scene : Scene
        Of the same field.
    owners : bool
        True puts owners, permits and notes in.
    texts : Texts
        What it says it in.
    rigs : bool
        False leaves out what the panels tell of the rigs, which takes most of the time.

    Returns
    -------
    dict
        Coordinates in whole centimetres, texts ready to show, in the user's units.
    """
    field, settings = assessment.field, assessment.field.settings
    units = settings.units
    wind = wind_drawn(assessment)
    order = sorted_floats(assessment)
    cautions = cautions_for(assessment)
    example = [c for c in cautions if c.key == "example_rules"]
    place = {id(one): k for k, one in enumerate(assessment.floats)}
    return {
        "language": texts.code,
        "text": texts.sections(*SCRIPT_SECTIONS),
        "title": settings.name,
        "subtitle": subtitle(assessment, texts=texts),
        "headline": headline(assessment, texts=texts),
        "counts": verdict_counts(assessment),
        "groups": [[word, texts.of(f"group.{word}")] for word in _WORDS],
        "rules": _rules(assessment),
        "unit": length_unit(units),
        "unitM": FOOT_M.value if units == "ft-lb" else 1.0,
        "levels": level_names(assessment, texts=texts),
        "levelWords": level_words(assessment, texts=texts),
        "brief": brief(assessment, texts=texts),
        "lying": "" if wind is None else compass_words(wind, texts=texts),
        "footer": footer(assessment, texts=texts),
        "warn": (*example, CLOSING)[0].said(texts),
        "wind": wind,
        "bounds": [cm(value) for value in scene.bounds],
        "water": packed_rings(scene.water),
        "bands": [packed_rings(band) for band in scene.bands[1:]],
        "bandEdges": list(scene.band_edges),
        "contours": [[c.label, packed_lines(c.lines)] for c in scene.contours],
        "bare": packed_rings(scene.bare),
        "islands": _islands(assessment),
        "grid": _grid(assessment, scene),
        "noDepth": _NO_DEPTH,
        "soundings": [
            [cm(x), cm(y), text]
            for (x, y), text in zip(scene.soundings_xy.tolist(), scene.soundings_text, strict=True)
        ],
        "zones": [
            {
                "kind": zone.kind,
                "name": zone.name,
                "area": packed_rings(zone.area),
                "keep": packed_rings(shapely.buffer(zone.area, zone.keep_m, quad_segs=8))
                if zone.keep_m > 0
                else [],
                "middle": packed_lines(shapely.simplify(zone.middle, _SMOOTH_M))
                if zone.middle is not None
                else [],
                "lot": zone.lot or "",
                "at": [cm(v) for v in shapely.get_coordinates(_label_point(zone.area))[0]],
            }
            for zone in scene.zones
        ],
        **_floats(assessment, wind, owners=owners, texts=texts, rigs=rigs),
        "order": [place[id(one)] for one in order],
        "cautionTexts": {c.key: c.said(texts) for c in (*CAUTIONS, CLOSING)},
        "cautions": [caution.key for caution in cautions],
        "notes": [problem.line() for problem in assessment.problems],
        "folder": field.folder,
        "short": _short_note(assessment, texts),
        "people": settings.people,
    }


def _floats(
    assessment: Assessment, wind: float | None, *, owners: bool, texts: Texts, rigs: bool
) -> dict[str, Any]:
    """The floats, and what their rigs share; nothing of the rigs in a field of very many."""
    floats = [
        float_data(one, assessment, wind, owners=owners, texts=texts) for one in assessment.floats
    ]
    if not rigs or is_short(assessment):
        return {"floats": floats, "working": None}
    common, panels = rig_panels(assessment, texts=texts)
    return common | {"floats": [one | rig for one, rig in zip(floats, panels, strict=True)]}


def _short_note(assessment: Assessment, texts: Texts) -> str:
    """What a map of very many floats says in place of their summaries."""
    if not is_short(assessment):
        return ""
    return texts.of("head.short", count=len(assessment.floats), folder=assessment.field.folder)


def _rules(assessment: Assessment) -> dict[str, str]:
    """The words of each rule, by the kind of clearance that it asks."""
    words = {kind: rule.source for kind, rule in assessment.field.settings.rules.items()}
    also = {"float": "neighbour", "island": "shore"}
    return words | {kind: words[name] for kind, name in also.items() if name in words}


def _label_point(area: Geometry) -> Geometry:
    parts = shapely.get_parts(area)
    largest = parts[int(np.argmax(shapely.area(parts)))]
    return shapely.point_on_surface(largest)


def _islands(assessment: Assessment) -> list[list[Any]]:
    """Named islands and where their names stand."""
    named = []
    for k, own in enumerate(assessment.field.island_names, start=1):
        if own:
            rings = [r for p in shapely.get_parts(assessment.water) for r in p.interiors]
            at = shapely.get_coordinates(shapely.point_on_surface(shapely.Polygon(rings[k - 1])))[0]
            named.append([island_name(assessment.field, f"island {k}"), cm(at[0]), cm(at[1])])
    return named


def _grid(assessment: Assessment, scene: Scene) -> dict[str, Any] | None:
    """Depths at normal level on a coarse grid, in centimetres; None on land."""
    if scene.grid is None:
        return None
    levels = assessment.field.settings.levels
    skip = max(1, max(scene.grid.depth_m.shape) // _GRID_NODES)
    depth = scene.grid.depth_m[::skip, ::skip] + levels.normal_m - levels.soundings_m
    x, y = scene.grid.x_m[::skip], scene.grid.y_m[::skip]
    values = np.where(np.isnan(depth), _NO_DEPTH, np.round(depth * CM)).astype(int)
    return {
        "x0": cm(x[0]),
        "y0": cm(y[0]),
        "step": cm(x[1] - x[0]),
        "columns": len(x),
        "depth": values.reshape(-1).tolist(),
    }


def subtitle(assessment: Assessment, *, texts: Texts = ENGLISH) -> str:
    """Return the line under the title: how many floats are checked, for what, and the data's date.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One line.
    """
    counts = verdict_counts(assessment)
    checked = sum(number for word, number in counts.items() if word != "retired")
    rule = assessment.field.settings.rules.get("neighbour")
    one_wind = rule is not None and rule.mode == "same_wind"
    parts = [texts.of("head.checked_same" if one_wind else "head.checked_any", count=checked)]
    if assessment.field.dated is not None:
        parts.append(texts.of("head.dated", date=date_words(assessment.field.dated, texts=texts)))
    return " · ".join(parts)


def brief(assessment: Assessment, *, texts: Texts = ENGLISH) -> str:
    """Return the line under the title on a phone: the level that decides, and the storm.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        A few words.
    """
    settings = assessment.field.settings
    storm = speed_text(settings.storm.wind_m_s, settings.units)
    return texts.of("head.brief", level=level_words(assessment, texts=texts)[0], wind=storm)


def footer(assessment: Assessment, *, texts: Texts = ENGLISH) -> list[list[str]]:
    """Return what stands at the foot: levels, storm, wind drawn, soundings, accuracy, gauge.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of list of str
        Pairs of name and value.
    """
    settings = assessment.field.settings
    units, levels, storm = settings.units, settings.levels, settings.storm
    low, high = signed_text(levels.low_m, assessment), signed_text(levels.high_m, assessment)
    blow = speed_text(storm.wind_m_s, units)
    if storm.gust_m_s is not None:
        gust = speed_text(storm.gust_m_s, units)
        blow = texts.of("foot.storm_gusts", wind=blow, gust=gust)
    known = asked_text(settings.accuracy.position_m, units)
    if not settings.accuracy.position_given:
        known = texts.of("foot.positions_assumed", far=known)
    told = {
        "levels": texts.of("foot.levels_from_to", low=low, high=high),
        "storm": blow,
        "wind": _wind_words(assessment, texts),
        "soundings": date_words(assessment.field.soundings_dated, texts=texts),
        "positions": known,
        "gauge": _gauge_words(assessment, texts),
    }
    return [[texts.of(f"foot.{name}"), value] for name, value in told.items() if value]


def _wind_words(assessment: Assessment, texts: Texts) -> str:
    wind = wind_drawn(assessment)
    if wind is None:
        return texts.of("foot.own_rig")
    return compass_words(wind, texts=texts, form="compass_letters")


def _gauge_words(assessment: Assessment, texts: Texts) -> str:
    """The gauge's last reading; shown beside the levels of the settings, which decide."""
    read = [row for row in assessment.field.gauge if row["date"] and row["level_m"] is not None]
    if not read:
        return ""
    last = max(read, key=lambda row: row["date"])
    level = signed_text(last["level_m"], assessment)
    return texts.of("foot.gauge_read", level=level, date=date_words(last["date"], texts=texts))
