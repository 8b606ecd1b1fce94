"""The drawing page: one HTML text with everything in it, as the map page is built."""

import re
from collections.abc import Mapping
from html import escape
from typing import Any, Final

from lakemap.outputs.web.compact import small_script, small_style
from lakemap.outputs.web.leaflet_files import map_library
from lakemap.outputs.web.page_frame import POLICY_SLOT, FieldMap, asset, embedded_json, policy

_OURS: Final = "lakemap.planner"
_SHARED: Final = ("dom.js", "brush.js", "camera.js", "sheet.js")
_SCRIPTS: Final = (
    "ground_shapes.js",
    "ground_model.js",
    "ground_ask.js",
    "ground_picture.js",
    "ground_paint.js",
    "ground_hand.js",
    "ground_keys.js",
    "ground_guide.js",
    "ground_fields.js",
    "ground_panel.js",
    "ground_app.js",
    "ground_acts.js",
    "ground_bar.js",
    "ground_start.js",
)  # fmt: skip - in this order: each uses what stands before it


def ground_html(data: Mapping[str, Any], title: str) -> str:
    """Return the drawing page.

    Parameters
    ----------
    data : mapping
        What it starts from.
    title : str
        Names the field.

    Returns
    -------
    str
        HTML whose policy lets it ask its own server and show pictures of its own, nothing else.
    """
    library = map_library()
    style = asset("page.css") + asset("ground.css", package=_OURS)
    head = (
        f"{POLICY_SLOT}"
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<title>{escape(title)}</title><link rel="icon" href="data:,">'
        f"<style>{small_style(library.style + style)}</style>"
        f"<script>{library.script}</script>"
    )
    slots = {"title": escape(title), "data": embedded_json(data)}
    template = asset("ground.html", package=_OURS)
    # in one pass, so that a slot's name in somebody's text stays text
    body = re.sub(r"<!--slot:(\w+)-->", lambda found: slots[found.group(1)], template)
    scripts = [
        asset("ground_data.js", package=_OURS),
        *(asset(name) for name in _SHARED),
        *(asset(name, package=_OURS) for name in _SCRIPTS),
    ]
    page = FieldMap(head=head, body=body, script="\n".join(map(small_script, scripts)))
    text = page.render().replace("<html>", '<html lang="en">', 1)
    allowed = policy(text, images="data: blob:", connects="'self'")
    said = f'<meta http-equiv="Content-Security-Policy" content="{allowed}">'
    return text.replace(POLICY_SLOT, said, 1)
