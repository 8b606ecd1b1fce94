"""A piece of the lake as the ground of a small map: cut out, lightly shaded, with a grid."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.outputs.drawn.paper import Box, Ring, Sheet, area_svg, box_covers
from lakemap.outputs.drawn.picture import lake_svg, patterns_svg, zone_svg
from lakemap.outputs.drawn.scene import Scene

LEFT, BELOW = 16.0, 30.0  # px beside the map and under it, for the grid's figures
_LAND, _SHORE = "#F2F1EC", "#3F525C"
_UNNAMED: Final = frozenset({"frontage", "dock"})
_NORTH: Final = (50.0, 60.0)  # px, the room of its arrow
_NAME_ROOM: Final = 34.0  # px about a zone
_BEYOND: Final = 0.05  # of the window's width, drawn outside the frame


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A window on the lake and the paper that it is drawn on."""

    sheet: Sheet  # as large as the map inside its frame
    scene: Scene  # cut to the window and what lies just outside

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the whole drawing, the grid's figures included [px]."""
        return self.sheet.width + LEFT, self.sheet.height + BELOW


def view_about(
    scene: Scene, points_xy: FloatArray, *, width: float, height: float, prefix: str
) -> View:
    """Return the view that shows all of some points.

    Parameters
    ----------
    scene : Scene
        Of the field.
    points_xy : ndarray, shape [k, 2]
        To be seen, in metres.
    width, height : float
        Of the map inside its frame [px].
    prefix : str
        Of the names of its patterns: letters and digits.

    Returns
    -------
    View
        Filled out to the frame's shape about the middle of the points.
    """
    (west, south), (east, north) = points_xy.min(axis=0), points_xy.max(axis=0)
    scale = min(width / max(east - west, 1e-9), height / max(north - south, 1e-9))
    half_x, half_y = width / scale / 2, height / scale / 2
    x, y = float(east + west) / 2, float(north + south) / 2
    sheet = Sheet(
        width=width,
        height=height,
        west=x - half_x,
        north=y + half_y,
        scale=scale,
        left=0.0,
        top=0.0,
        prefix=prefix,
    )
    return View(sheet=sheet, scene=_cut(scene, (x - half_x, y - half_y, x + half_x, y + half_y)))


def _cut(scene: Scene, window: tuple[float, float, float, float]) -> Scene:
    """What lies in a window and a little outside, so that no cut edge is seen."""
    air = _BEYOND * (window[2] - window[0])
    zones = [zone for zone in scene.zones if _meets(zone.area, window, zone.keep_m)]
    return replace(
        scene,
        bounds=window,
        water=_clip(scene.water, window, air),
        bands=tuple(_clip(band, window, air) for band in scene.bands),
        contours=tuple(replace(one, lines=_clip(one.lines, window, 0.0)) for one in scene.contours),
        bare=_clip(scene.bare, window, air),
        zones=tuple(
            replace(zone, area=_clip(zone.area, window, air + 2 * zone.keep_m)) for zone in zones
        ),
    )


def _clip(shape: Geometry, window: tuple[float, float, float, float], air: float) -> Geometry:
    west, south, east, north = window
    return shapely.clip_by_rect(shape, west - air, south - air, east + air, north + air)


def _meets(area: Geometry, window: tuple[float, float, float, float], keep_m: float) -> bool:
    return bool(shapely.distance(area, shapely.box(*window)) <= keep_m)


def named_scene(view: View) -> Scene:
    """Return what may be named on a view: zones with as much of them as is seen.

    Parameters
    ----------
    view : View
        Of a piece of the lake.

    Returns
    -------
    Scene
        Zones of which nothing much is seen are left out.
    """
    zones = []
    for zone in view.scene.zones:
        area = _clip(zone.area, view.scene.bounds, 0.0)
        middle = None if zone.middle is None else _clip(zone.middle, view.scene.bounds, 0.0)
        if not area.is_empty and not (middle is not None and middle.is_empty):
            zones.append(replace(zone, area=area, middle=middle))
    return replace(view.scene, zones=tuple(zones))


def ground_svg(view: View) -> str:
    """Return the lake, its depths lightly, its zones and its shore.

    Parameters
    ----------
    view : View
        Of a piece of the lake.

    Returns
    -------
    str
        SVG, to be drawn inside the frame.
    """
    sheet, scene = view.sheet, view.scene
    full = f'<rect width="{sheet.width:g}" height="{sheet.height:g}"'
    return "".join(
        [
            patterns_svg(sheet),
            f'{full} fill="{_LAND}"/>',
            *lake_svg(scene, sheet),
            f'{full} fill="#fff" fill-opacity="0.45"/>',
            *(zone_svg(zone, sheet) for zone in scene.zones),
            area_svg(scene.water, sheet, f'fill="none" stroke="{_SHORE}" stroke-width="1.8"'),
        ]
    )


def zone_rings(view: View) -> list[Ring]:
    """Return discs about the zones whose names should be seen, for what must not cover them.

    Parameters
    ----------
    view : View
        Of a piece of the lake.

    Returns
    -------
    list of tuple
        x, y, radius [px].
    """
    zones = [zone for zone in named_scene(view).zones if zone.kind not in _UNNAMED]
    points = [shapely.point_on_surface(zone.area) for zone in zones]
    return [(*view.sheet.xy(at.x, at.y), _NAME_ROOM) for at in points]


def north_box(sheet: Sheet, rings: Sequence[Ring]) -> Box:
    """Return the corner that north stands in: the one that covers the fewest discs.

    Parameters
    ----------
    sheet : Sheet
        The map inside its frame.
    rings : sequence of tuple
        What is better seen, middle and radius [px].

    Returns
    -------
    tuple of float
        Left, top, right, bottom [px].
    """
    wide, high = _NORTH
    corners = [
        (x, y, x + wide, y + high)
        for y in (sheet.height - high, 0.0)
        for x in (sheet.width - wide, 0.0)
    ]
    return min(corners, key=lambda box: sum(box_covers(box, ring) for ring in rings))


def margin_boxes(sheet: Sheet, air: float) -> list[Box]:
    """Return a frame's own edge as boxes that no word may cover.

    Parameters
    ----------
    sheet : Sheet
        The map inside its frame.
    air : float
        How wide the edge is [px].

    Returns
    -------
    list of tuple
        Four boxes.
    """
    wide, high = sheet.width, sheet.height
    return [
        (0.0, 0.0, wide, air),
        (0.0, high - air, wide, high),
        (0.0, 0.0, air, high),
        (wide - air, 0.0, wide, high),
    ]
