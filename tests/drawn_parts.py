"""What is drawn in a picture, read back from its SVG."""

import re

from lakemap.outputs.drawn.drawn_rig import SideView

VIEW = SideView(
    depth_m=(4.5, 5.0, 5.3),
    hook_depth_m=0.2,
    riser_m=6.0,
    ground_m=5.0,
    deck_m=3.6,
    draft_m=0.25,
    height_m=0.6,
)


def of(root, tag):
    return [node for node in root.iter() if node.tag.endswith(tag)]


def texts(root):
    return [node.text for node in of(root, "text")]


def number(node, name):
    return float(node.get(name))


def points(path):
    return [tuple(map(float, pair)) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]


def chains(root):
    """Ground chain and riser as drawn; each lies 2 px above its line, on the blocks."""
    return [
        [(x, y + 2) for x, y in points(node.get("d"))]
        for node in of(root, "path")
        if node.get("stroke-dasharray") == "4.5 1.8"
    ]


def bed(root):
    """Where the bed begins: the top of the last box that spans the picture."""
    wide = [node for node in of(root, "rect") if number(node, "width") == 520]
    return number(wide[-1], "y")


def scale(root, view=VIEW):
    """Pixels per metre, from the deck."""
    hull = next(node for node in of(root, "rect") if node.get("rx"))
    return number(hull, "width") / view.deck_m
