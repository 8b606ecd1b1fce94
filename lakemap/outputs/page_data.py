"""An assessment as the page's data: one JSON-able dict, every number and sentence ready to show."""

from datetime import date
from typing import Any

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Geometry
from lakemap.basis.wording import compass_text, length_unit, speed_text
from lakemap.mapping import Assessment
from lakemap.outputs.cautions import CAUTIONS, cautions_for
from lakemap.outputs.packed import packed_lines, packed_rings
from lakemap.outputs.page_floats import float_data, is_short
from lakemap.outputs.panel_rig import rig_panels
from lakemap.outputs.scene import CM, Scene, cm, wind_drawn
from lakemap.outputs.words import (
    GROUP_TITLES,
    MONTHS,
    asked_text,
    headline,
    island_name,
    level_names,
    signed_text,
    sorted_floats,
    verdict_counts,
)

_GRID_NODES = 100  # for the depth at the pointer: finer than a finger
_NO_DEPTH = -9999  # in the grid: land, or not sounded
_SMOOTH_M = 0.5  # of the middle line that a channel's name stands along


def page_data(assessment: Assessment, scene: Scene, *, owners: bool) -> dict[str, Any]:
    """Return all that the page shows.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    scene : Scene
        Of the same field.
    owners : bool
        True puts owners, permits and notes in.

    Returns
    -------
    dict
        Coordinates in whole centimetres, texts ready to show, in the user's units.
    """
    field, settings = assessment.field, assessment.field.settings
    units = settings.units
    wind = wind_drawn(assessment)
    order = sorted_floats(assessment)
    place = {id(one): k for k, one in enumerate(assessment.floats)}
    return {
        "title": settings.name,
        "subtitle": subtitle(assessment),
        "headline": headline(assessment),
        "counts": verdict_counts(assessment),
        "groups": [[key or "retired", title] for key, title in GROUP_TITLES.items()],
        "rules": _rules(assessment),
        "unit": length_unit(units),
        "unitM": FOOT_M.value if units == "ft-lb" else 1.0,
        "levels": level_names(assessment),
        "levelWords": level_words(assessment),
        "brief": brief(assessment),
        "lying": "" if wind is None else compass_text(wind),
        "footer": footer(assessment),
        "warn": "Example rules: your local code decides"
        if any(c.key == "example_rules" for c in cautions_for(assessment))
        else "Local codes, permits and licensed practice decide",
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
        **_floats(assessment, wind, owners=owners),
        "order": [place[id(one)] for one in order],
        "cautionTexts": {caution.key: caution.text for caution in CAUTIONS},
        "cautions": [caution.key for caution in cautions_for(assessment)],
        "notes": [problem.line() for problem in assessment.problems],
        "folder": field.folder,
        "short": _short_note(assessment),
        "people": settings.people,
    }


def _floats(assessment: Assessment, wind: float | None, *, owners: bool) -> dict[str, Any]:
    """The floats, and what their rigs share; nothing of the rigs in a field of very many."""
    floats = [float_data(one, assessment, wind, owners=owners) for one in assessment.floats]
    if is_short(assessment):
        return {"floats": floats, "working": None}
    common, rigs = rig_panels(assessment)
    return common | {"floats": [one | rig for one, rig in zip(floats, rigs, strict=True)]}


def _short_note(assessment: Assessment) -> str:
    """What a map of very many floats says in place of their summaries."""
    if not is_short(assessment):
        return ""
    count = f"{len(assessment.floats):,}"
    return (
        f"With {count} floats this map tells each in short. All of one:"
        f" lakemap size {assessment.field.folder} --float and its number."
    )


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


def long_date(day: date | None) -> str:
    """Return a date in words, `14 June 2025`; empty for none."""
    return "" if day is None else f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def subtitle(assessment: Assessment) -> str:
    """Return the line under the title: how many floats are checked, for what, and the data's date.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    str
        One line.
    """
    counts = verdict_counts(assessment)
    checked = sum(number for word, number in counts.items() if word != "retired")
    rule = assessment.field.settings.rules.get("neighbour")
    wind = "in one steady wind" if rule and rule.mode == "same_wind" else "in any wind"
    parts = [f"{checked} floats checked at the lowest water, {wind}"]
    if assessment.field.dated is not None:
        parts.append(f"data of {long_date(assessment.field.dated)}")
    return " · ".join(parts)


def level_words(assessment: Assessment) -> list[str]:
    """Return the three levels as a sentence names them: `low water −1.5 ft`, `normal water`.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    list of str
        Low, normal, high.
    """
    levels = assessment.field.settings.levels
    normal = "" if levels.normal_m == 0 else f" {signed_text(levels.normal_m, assessment)}"
    return [
        f"low water {signed_text(levels.low_m, assessment)}",
        f"normal water{normal}",
        f"high water {signed_text(levels.high_m, assessment)}",
    ]


def brief(assessment: Assessment) -> str:
    """Return the line under the title on a phone: the level that decides, and the storm.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    str
        A few words.
    """
    settings = assessment.field.settings
    storm = speed_text(settings.storm.wind_m_s, settings.units)
    return f"{level_words(assessment)[0]}, storm {storm}"


def _point(bearing_deg: float) -> str:
    """A compass point in letters: `WSW`."""
    letters = compass_text(bearing_deg).replace("-", "")
    for word in ("north", "east", "south", "west"):
        letters = letters.replace(word, word[0].upper())
    return letters


def footer(assessment: Assessment) -> list[list[str]]:
    """Return what stands at the foot: levels, storm, wind drawn, soundings, accuracy, gauge.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    list of list of str
        Pairs of name and value.
    """
    settings = assessment.field.settings
    units, levels, storm = settings.units, settings.levels, settings.storm
    low, high = signed_text(levels.low_m, assessment), signed_text(levels.high_m, assessment)
    gust = "" if storm.gust_m_s is None else f", gusts {speed_text(storm.gust_m_s, units)}"
    wind = wind_drawn(assessment)
    pairs = [
        ["Levels", f"{low} to {high}"],
        ["Storm", f"{speed_text(storm.wind_m_s, units)}{gust}"],
        ["Wind drawn", "each float in line with its own rig" if wind is None else _point(wind)],
    ]
    if assessment.field.soundings_dated is not None:
        pairs.append(["Soundings", long_date(assessment.field.soundings_dated)])
    good = asked_text(settings.accuracy.position_m, units)
    known = good if settings.accuracy.position_given else f"{good}, a phone’s (assumed)"
    pairs.append(["Positions good to", known])
    read = [row for row in assessment.field.gauge if row["date"] and row["level_m"] is not None]
    if read:  # shown beside the levels of the settings, which decide
        last = max(read, key=lambda row: row["date"])
        level = signed_text(last["level_m"], assessment)
        pairs.append(["Gauge last read", f"{level}, {long_date(last['date'])}"])
    return pairs
