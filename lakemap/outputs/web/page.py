"""The map page: one HTML file that needs no network."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any

from lakemap.changes.records import Comparison
from lakemap.mapping import Assessment
from lakemap.outputs.atomic import write_atomic
from lakemap.outputs.compare.layer import compare_data, compare_key_html, compare_sheet_html
from lakemap.outputs.drawn.key import key_html
from lakemap.outputs.drawn.scene import Scene, build_scene
from lakemap.outputs.levels.layer import levels_html, page_levels
from lakemap.outputs.sites.layer import shown_closed, sites_data, sites_key_html
from lakemap.outputs.sites.sheet import sites_sheet_html
from lakemap.outputs.web.compact import compact, small_script, small_style
from lakemap.outputs.web.field_sheet import SHEET_CSS, sheet_html
from lakemap.outputs.web.leaflet_files import map_library
from lakemap.outputs.web.page_data import page_data
from lakemap.outputs.web.page_frame import POLICY_SLOT, FieldMap, asset, embedded_json, policy
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.siting.records import Sites

_SCRIPTS = (
    "data.js",
    "dom.js",
    "brush.js",
    "camera.js",
    "paint_lake.js",
    "paint_names.js",
    "paint_floats.js",
    "paint_lengths.js",
    "callouts.js",
    "side_view.js",
    "storm_view.js",
    "pull_plot.js",
    "rose.js",
    "working.js",
    "rig_panel.js",
    "panel.js",
    "list.js",
    "sheet.js",
    "app.js",
    "start.js",
)  # fmt: skip - in this order: each uses what stands before it


def draw(  # noqa: PLR0913 - one for each thing that a map may show
    assessment: Assessment,
    path: str | PathLike[str],
    *,
    owners: bool = False,
    sites: Sites | None = None,
    compared: Comparison | None = None,
    texts: Texts = ENGLISH,
) -> None:
    """Write the map of a field as one HTML file, whole or not at all.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    path : str or path
        Where the file is to stand; its folder must exist.
    owners : bool
        True puts owners, permits and notes into the file; else they are not in it at all.
    sites : Sites or None
        Shows where new floats may go.
    compared : Comparison or None
        Shows what changed since another version.
    texts : Texts
        What the map says it in.
    """
    text = page_html(assessment, owners=owners, sites=sites, compared=compared, texts=texts)
    write_atomic(Path(path), text)


def page_html(
    assessment: Assessment,
    *,
    owners: bool = False,
    sites: Sites | None = None,
    compared: Comparison | None = None,
    texts: Texts = ENGLISH,
) -> str:
    """Return the map page; the same assessment gives the same text.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    owners : bool
        True puts owners, permits and notes into it.
    sites : Sites or None
        Shows where new floats may go.
    compared : Comparison or None
        Shows what changed since another version.
    texts : Texts
        What the map says it in.

    Returns
    -------
    str
        HTML.
    """
    scene = build_scene(assessment)
    data = page_data(assessment, scene, owners=owners, texts=texts)
    data["geo"] = _geo(assessment)
    library = map_library()
    layer = _joined(
        _sites_layer(assessment, scene, sites, texts),
        _compare_layer(compared, owners=owners),
        _levels_layer(assessment, texts),
    )
    data |= layer.data
    data["text"] |= texts.sections(*layer.sections)
    style = small_style(library.style + asset("page.css") + SHEET_CSS + layer.style)
    head = (
        f"{POLICY_SLOT}"
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(data['title'])}</title>"
        f"<style>{style}</style>"
        f"<script>{small_script(asset('first.js'))}</script>"
    )
    page = FieldMap(
        head=head,
        body=_body(
            data,
            sheet_html(assessment, scene, owners=owners, texts=texts) + layer.sheet,
            layer.key + key_html(scene, data["unit"], texts=texts),
            texts,
        )
        + f"<script>{library.script}</script>",  # after what can be read while it is taken in
        script="\n".join(small_script(asset(name)) for name in layer.scripts),
    )
    text = page.render().replace("<html>", f'<html lang="{texts.code}">', 1)
    said = f'<meta http-equiv="Content-Security-Policy" content="{policy(text)}">'
    return text.replace(POLICY_SLOT, said, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layer:
    """What new sites, or what changed, add to the page; nothing where that is not asked for."""

    data: Mapping[str, Any] = field(default_factory=dict)
    style: str = ""
    key: str = ""
    sheet: str = ""
    scripts: tuple[str, ...] = ()
    sections: tuple[str, ...] = ()  # of texts that its scripts take


def _joined(*layers: _Layer) -> _Layer:
    """Several layers as one, their scripts among those of the page."""
    own = [name for layer in layers for name in layer.scripts]
    return _Layer(
        data={name: value for layer in layers for name, value in layer.data.items()},
        style="".join(layer.style for layer in layers),
        key="".join(layer.key for layer in layers),
        sheet="".join(layer.sheet for layer in layers),
        scripts=(*_SCRIPTS[:-1], *own, _SCRIPTS[-1]),  # before everything is wired
        sections=tuple(name for layer in layers for name in layer.sections),
    )


def _compare_layer(compared: Comparison | None, *, owners: bool) -> _Layer:
    if compared is None:
        return _Layer()
    return _Layer(
        data={"compare": compare_data(compared, owners=owners)},
        style=asset("compare.css"),
        key=compare_key_html(),
        sheet=compare_sheet_html(compared),
        scripts=("compare.js",),
    )


def _levels_layer(assessment: Assessment, texts: Texts) -> _Layer:
    levels = page_levels(assessment)
    if levels is None:
        return _Layer()
    return _Layer(
        style=asset("levels.css"),
        sheet=levels_html(assessment, levels, texts=texts),
        scripts=("levels.js",),
        sections=("gauge",),
    )


def _sites_layer(assessment: Assessment, scene: Scene, sites: Sites | None, texts: Texts) -> _Layer:
    if sites is None:
        return _Layer()
    closed = shown_closed(assessment, sites, texts=texts)
    return _Layer(
        data={"sites": sites_data(assessment, sites, closed, texts=texts)},
        style=asset("sites.css"),
        key=sites_key_html(closed, sites, texts=texts),
        sheet=sites_sheet_html(assessment, scene, sites, closed, texts=texts),
        scripts=("sites.js",),
        sections=("site",),
    )


def _body(data: Mapping[str, Any], sheet: str, key: str, texts: Texts) -> str:
    """The page's own markup with its texts in their places, all escaped."""
    levels = "".join(
        f'<button aria-pressed="{str(k == 0).lower()}">{escape(name)}</button>'
        for k, name in enumerate(data["levels"])
    )
    counts = data["counts"]
    under = " · ".join(
        texts.of(f"count.{word}", count=counts[word])
        for word in ("tight", "unknown", "clear")
        if counts[word]
    )
    foot = "".join(
        f"<span>{escape(name)} <b>{escape(value)}</b></span>" for name, value in data["footer"]
    )
    warn = escape(data["warn"])
    slots = {
        "title": escape(data["title"]),
        "subtitle": escape(data["subtitle"]),
        "levels": levels,
        "brief": escape(data["brief"]),
        "headline": escape(data["headline"]),
        "counts": escape(under),
        "key": key,
        "facts": foot,
        "foot": f'<span class="facts">{foot}</span><span class="warn">{warn}</span>',
        "data": embedded_json(compact(data)),
        "sheet": sheet,
    }

    def fill(found: re.Match[str]) -> str:
        kind, name = found.groups()
        return slots[name] if kind == "slot" else escape(texts.of(name))

    # in one pass, so that a slot's name in somebody's text stays text
    return re.sub(r"<!--(slot|text):([\w.]+)-->", fill, asset("page.html"))


def _geo(assessment: Assessment) -> list[float]:
    """Centre, and metres per degree there, for the dot of where one stands: good to a metre."""
    where = assessment.projection
    (east, _), (_, north) = (
        [float(value[0]) for value in where.to_xy([where.lon0 + dx], [where.lat0 + dy])]
        for dx, dy in ((1e-3, 0.0), (0.0, 1e-3))
    )
    return [where.lat0, where.lon0, round(north * 1e3, 3), round(east * 1e3, 3)]
