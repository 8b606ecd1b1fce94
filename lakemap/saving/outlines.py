"""Shapes that were drawn, made ready to be written: sound, oriented, whole."""

import shapely
from shapely.geometry.polygon import orient

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Geometry

_AREAS = ("Polygon", "MultiPolygon")
_LINES = ("LineString", "MultiLineString")


def drawn_area(shape: Geometry, what: str, file: str) -> Geometry:
    """Return an area as readers give it back: a multipolygon whose shores run counterclockwise.

    Parameters
    ----------
    shape : shapely Polygon or MultiPolygon
        In lon, lat.
    what : str
        For the message.
    file : str
        Where it is to stand.

    Returns
    -------
    shapely MultiPolygon
        The same area.

    Raises
    ------
    BadInputError
        If it crosses itself, has no area, or is no area at all.
    """
    sound = shape is not None and shape.geom_type in _AREAS and not shape.is_empty
    if not sound or not shapely.is_valid(shape) or shape.has_z:
        text = f"{what} crosses itself or has no area; draw its corners in walking order"
        raise BadInputError([Problem(code="bad_outline", text=text, file=file)])
    return shapely.MultiPolygon([orient(part) for part in shapely.get_parts(shape)])


def drawn_zone(shape: Geometry, what: str, file: str) -> Geometry:
    """Return an area or a line as readers give it back; parameters as in `drawn_area`."""
    if shape is None or shape.geom_type not in _LINES:
        return drawn_area(shape, what, file)
    if shape.is_empty or not shapely.length(shape) > 0:
        text = f"{what} is a line without a length; draw two points at least"
        raise BadInputError([Problem(code="few_corners", text=text, file=file)])
    return shape


def least(shape: Geometry) -> Geometry:
    """Return a multipolygon of one part as a polygon; the rest stays."""
    parts = shapely.get_parts(shape)
    return parts[0] if shape.geom_type == "MultiPolygon" and len(parts) == 1 else shape
