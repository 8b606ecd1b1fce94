"""The planner page: the map of a field whose floats move, and what answers them."""

import re
from collections.abc import Mapping
from html import escape
from typing import Any, Final

from lakemap.mapping import Assessment
from lakemap.outputs.drawn.key import key_html
from lakemap.outputs.drawn.scene import build_scene
from lakemap.outputs.web.compact import compact, small_script, small_style
from lakemap.outputs.web.leaflet_files import map_library
from lakemap.outputs.web.page_data import page_data
from lakemap.outputs.web.page_frame import FieldMap, asset, embedded_json
from lakemap.outputs.words.cautions import cautions_for_task

_SHARED = (
    "data.js",
    "dom.js",
    "brush.js",
    "camera.js",
    "paint_lake.js",
    "paint_names.js",
    "paint_floats.js",
    "paint_lengths.js",
    "sheet.js",
)  # fmt: skip - in this order: each uses what stands before it
_OWN = (
    "plan_words.js",
    "plan_told.js",
    "plan_talk.js",
    "plan_floats.js",
    "plan_history.js",
    "plan_paint.js",
    "plan_map.js",
    "plan_hand.js",
    "plan_side.js",
    "plan_form.js",
    "plan_strip.js",
    "plan_places.js",
    "plan_save.js",
    "plan.js",
    "plan_start.js",
)  # fmt: skip - likewise
_PACKAGE: Final = "lakemap.planner"
# what the planner draws and says of a float; its rig is the form's, and asked for when chosen
_KEPT: Final = frozenset(
    {"id", "lot", "status", "verdict", "x", "y", "r", "walk", "second", "guess", "located", "hook",
     "lies", "deck", "edge", "says", "brief", "clear"}
)  # fmt: skip
_TABLES: Final = ("rows", "floatRows", "cautions")


def plan_html(assessment: Assessment, plan: Mapping[str, Any]) -> str:
    """Return the planner page.

    Parameters
    ----------
    assessment : Assessment
        Of the field as it is saved.
    plan : mapping
        What the page starts from: `stamp`, `next_id`, `ids`, `levels_m`, `storm`, `units`,
        `folder`.

    Returns
    -------
    str
        HTML, without a policy: the server makes it of the page's scripts and styles.
    """
    scene = build_scene(assessment)
    data = page_data(assessment, scene, owners=False, rigs=False)
    data |= {"floats": [_drawn(one) for one in data["floats"]], "plan": dict(plan)}
    data["care"] = cautions_for_task("planner", assessment)
    library = map_library()
    style = small_style(library.style + asset("page.css") + asset("plan.css", package=_PACKAGE))
    head = (
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>Planning: {escape(data['title'])}</title>"
        '<link rel="icon" href="data:,">'
        f"<style>{style}</style>"
        f"<script>{library.script}</script>"
    )
    scripts = [asset(name) for name in _SHARED]
    scripts += [asset(name, package=_PACKAGE) for name in _OWN]
    page = FieldMap(
        head=head,
        body=_body(data, key_html(scene, data["unit"])),
        script="\n".join(small_script(text) for text in scripts),
    )
    return page.render().replace("<html>", '<html lang="en">', 1)


def _drawn(one: Mapping[str, Any]) -> dict[str, Any]:
    """A float as the map draws it; where it has clearances, with the tables that go with them."""
    kept = {key: value for key, value in one.items() if key in _KEPT}
    return kept | ({name: [] for name in _TABLES} if "clear" in kept else {})


def _body(data: Mapping[str, Any], key: str) -> str:
    """The page's own markup with its texts in their places, all escaped."""
    slots = {
        "title": escape(data["title"]),
        "headline": escape(data["headline"]),
        "key": key,
        "data": embedded_json(compact(data)),
    }
    template = asset("plan.html", package=_PACKAGE)
    # in one pass, so that a slot's name in somebody's text stays text
    return re.sub(r"<!--slot:(\w+)-->", lambda found: slots[found.group(1)], template)
