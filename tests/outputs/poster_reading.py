"""Reads a poster back: where each of its texts begins and ends on the page."""

import re
from dataclasses import dataclass

from defusedxml.ElementTree import fromstring

from lakemap.outputs.drawn.letters import width

SVG = "{http://www.w3.org/2000/svg}"
_MOVE = re.compile(r"translate\(([-\d.]+) ([-\d.]+)\)")
_SCALE = re.compile(r"scale\(([\d.]+)\)")


@dataclass(frozen=True, kw_only=True)
class Text:
    """One text on the page [px]."""

    words: str
    left: float
    right: float
    base: float
    size: float
    in_map: bool


def texts_of(svg):
    """Every level text of a page, with the place that its transforms give it."""
    return list(_texts(fromstring(svg), (0.0, 0.0, 1.0), in_map=False, inside=False))


def _texts(node, at, *, in_map, inside):
    x, y, scale = at
    turn = node.get("transform", "")
    if "rotate" in turn:
        return
    if node.tag == f"{SVG}svg" and inside and node.get("x"):
        x, y, in_map = x + scale * float(node.get("x")), y + scale * float(node.get("y")), True
    move, grow = _MOVE.search(turn), _SCALE.search(turn)
    if move:
        x, y = x + scale * float(move[1]), y + scale * float(move[2])
    if grow:
        scale *= float(grow[1])
    if node.tag == f"{SVG}text":
        size, words = float(node.get("font-size")), node.text or ""
        wide = width(words, size, bold=node.get("font-weight") in {"600", "700"})
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[node.get("text-anchor", "start")]
        left = x + scale * (float(node.get("x")) - share * wide)
        yield Text(
            words=words,
            left=left,
            right=left + scale * wide,
            base=y + scale * float(node.get("y")),
            size=size * scale,
            in_map=in_map,
        )
    for child in node:
        yield from _texts(child, (x, y, scale), in_map=in_map, inside=True)
