"""Drawings as the page sends them: a square lake of 200 m about a place, in metres."""

MIDDLE = [-37.0, 41.0]
SQUARE = [[-100, -100], [100, -100], [100, 100], [-100, 100]]
ROCK = [[-10, 40], [10, 40], [10, 60], [-10, 60]]
BEACH = [[-100, -100], [-60, -100], [-60, -70], [-100, -70]]


def shape(key, kind, *lines, **more):
    blank = dict.fromkeys(("name", "width", "clearance", "lot", "source"), "")
    return (
        {"key": key, "kind": kind, "line": False, "lines": list(lines), "row": None} | blank | more
    )


def drawing(*shapes, depths=(), **more):
    given = {
        "middle": MIDDLE,
        "name": "Square",
        "units": "ft-lb",
        "shapes": list(shapes),
        "depths": [{"x": x, "y": y, "depth": depth} for x, y, depth in depths],
        "levels": {"low": "-1.5", "normal": "0 ft", "high": "30 cm", "soundings": ""},
        "storm": {"wind": "", "gust": ""},
    }
    return given | more


def whole_lake(**more):
    """An outline, an island, a beach and a channel, with depths."""
    return drawing(
        shape("n1", "outline", SQUARE),
        shape("n2", "island", ROCK, name="Rook Rock"),
        shape("n3", "swim_area", BEACH, name="Beach"),
        shape("n4", "channel", [[-90, 0], [90, 0]], line=True, width="60"),
        depths=[(-50, -50, "10"), (50, 50, "12 ft"), (50, -50, "3.5 m")],
        **more,
    )
