"""New sites as JSON and as GeoJSON: SI, unrounded; never NaN, no list is null."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

import shapely
from shapely.geometry.polygon import orient

from lakemap.basis.records import Float, Geometry
from lakemap.lake.projection import LakeProjection
from lakemap.mapping import Assessment
from lakemap.outputs.sites.closed import closed_classes
from lakemap.outputs.tables.document import FORMAT
from lakemap.siting.records import Capacity, Hindrance, Site, SiteAsk, Sites, WhyNot

_DEGREE_DIGITS: Final = 9  # 0.1 mm


def sites_document(
    assessment: Assessment, sites: Sites, *, added: Sequence[str] = ()
) -> dict[str, Any]:
    """Return the document of new sites.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    sites : Sites
        What was found.
    added : sequence of str
        Numbers of the floats that were added to the field's file.

    Returns
    -------
    dict
        Ready for JSON.
    """
    return {
        "format": FORMAT,
        "field": assessment.field.folder,
        "for": _asked(sites.ask),
        "sites": [_site(one) for one in sites.sites],
        "allowed_area_m2": float(shapely.area(sites.allowed)),
        "capacity": _capacity(sites.capacity),
        "closed": [
            {"kind": one.kind, "area_m2": float(shapely.area(one.geometry))} for one in sites.closed
        ],
        "added": list(added),
    }


def why_document(assessment: Assessment, why: WhyNot, ask: SiteAsk) -> dict[str, Any]:
    """Return the document of one place: every rule there, and the nearest allowed place.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    why : WhyNot
        Of the place.
    ask : SiteAsk
        What is looked for.

    Returns
    -------
    dict
        Ready for JSON.
    """
    return {
        "format": FORMAT,
        "field": assessment.field.folder,
        "for": _asked(ask),
        "at": {
            "lon": why.lon,
            "lat": why.lat,
            "x_m": why.x_m,
            "y_m": why.y_m,
            "allowed": why.allowed,
            "in_water": why.in_water,
            "depth_m": _known(why.depth_m),
            "swing_radius_m": _known(why.swing_radius_m),
            "riser_m": _known(why.riser_m),
            "ground_m": _known(why.ground_m),
            "rules": [_hindrance(one) for one in why.hindrances],
            "problems": list(why.problems),
            "nearest": _nearest(why),
        },
    }


def sites_geojson(assessment: Assessment, sites: Sites) -> dict[str, Any]:
    """Return new sites as GeoJSON, RFC 7946: the allowed water, the closed water, the sites.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    sites : Sites
        What was found.

    Returns
    -------
    dict
        A feature collection in lon, lat, WGS 84; outer rings run anticlockwise.
    """
    return {"type": "FeatureCollection", "features": list(_features(assessment, sites))}


def _features(assessment: Assessment, sites: Sites) -> Iterator[dict[str, Any]]:
    where = assessment.projection
    allowed = {"what": "allowed", "area_m2": float(shapely.area(sites.allowed))}
    yield _feature(_areas(sites.allowed, where), allowed)
    for one in closed_classes(sites, assessment.water):
        properties = {
            "what": "closed",
            "because": one.words,
            "kinds": list(one.kinds),
            "area_m2": float(shapely.area(one.geometry)),
        }
        yield _feature(_areas(one.geometry, where), properties)
    for site in sites.sites:
        properties = {"what": "site", **_site(site)}
        point = {"type": "Point", "coordinates": [_degrees(site.lon), _degrees(site.lat)]}
        yield _feature(point, properties)


def _feature(geometry: Mapping[str, Any], properties: Mapping[str, Any]) -> dict[str, Any]:
    return {"type": "Feature", "properties": dict(properties), "geometry": dict(geometry)}


def _areas(area: Geometry, where: LakeProjection) -> dict[str, Any]:
    """One multipolygon in degrees, its rings turned as RFC 7946 section 3.1.6 asks."""
    polygons = []
    for part in shapely.get_parts(area):
        if part.geom_type == "Polygon" and not part.is_empty:
            turned = orient(where.unproject(part))
            rings = [turned.exterior, *turned.interiors]
            polygons.append([_ring(ring) for ring in rings])
    return {"type": "MultiPolygon", "coordinates": polygons}


def _ring(ring: Geometry) -> list[list[float]]:
    return [[_degrees(lon), _degrees(lat)] for lon, lat in shapely.get_coordinates(ring).tolist()]


def _degrees(value: float) -> float:
    return round(value, _DEGREE_DIGITS)


def _asked(ask: SiteAsk) -> dict[str, Any]:
    like: Float = ask.like
    return {
        "deck": {"length_m": like.length_m, "width_m": like.width_m},
        "riser": _length_rule(like.riser_m),
        "ground": _length_rule(like.ground_m),
        "lot": ask.lot,
        "count": ask.count,
        "seed": ask.seed,
    }


def _length_rule(metres: float | None) -> dict[str, Any]:
    return {"rule": "designed" if metres is None else "given", "length_m": metres}


def _site(one: Site) -> dict[str, Any]:
    return {
        "rank": one.rank,
        "lon": one.lon,
        "lat": one.lat,
        "x_m": one.x_m,
        "y_m": one.y_m,
        "depth_m": _known(one.depth_m),
        "swing_radius_m": _known(one.swing_radius_m),
        "least_spare_m": _known(one.least_spare_m),
        "limited_by": one.limited_by,
        "fetch_m": _known(one.fetch_m),
        "wave_height_m": _known(one.wave_height_m),
        "shore_m": _known(one.shore_m),
        "score": _known(one.score),
        "parts": {name: _known(value) for name, value in one.parts.items()},
        "riser_m": _known(one.riser_m),
        "ground_m": _known(one.ground_m),
    }


def _capacity(one: Capacity) -> dict[str, Any]:
    columns = (one.lon.tolist(), one.lat.tolist(), one.packing.radius_m.tolist())
    return {
        "fits": len(one.packing.xy),
        "upper_bound": one.bound.most,
        "bound_source": one.bound.source,
        "floats": [
            {"lon": lon, "lat": lat, "swing_radius_m": radius}
            for lon, lat, radius in zip(*columns, strict=True)
        ],
        "spare_against_count": [
            {"spare_m": spare, "fits": fits}
            for spare, fits in zip(one.spare_m.tolist(), one.fits.tolist(), strict=True)
        ],
        "variants": [
            {
                "name": variant.name,
                "fits": variant.fits,
                "upper_bound": variant.most,
                "neighbour_m": variant.neighbour_m,
            }
            for variant in one.variants
        ],
    }


def _hindrance(one: Hindrance) -> dict[str, Any]:
    is_area = one.kind == "deck_area_max"
    return {
        "against": one.against,
        "kind": one.kind,
        "spare_m": None if is_area else _known(one.spare_m),
        "spare_m2": _known(one.spare_m) if is_area else None,
        "rule": one.rule,
    }


def _nearest(why: WhyNot) -> dict[str, Any] | None:
    if why.nearest is None:
        return None
    x, y, lon, lat = why.nearest
    bearing = math.degrees(math.atan2(x - why.x_m, y - why.y_m)) % 360.0
    return {
        "lon": lon,
        "lat": lat,
        "x_m": x,
        "y_m": y,
        "distance_m": why.nearest_m,
        "bearing_deg": bearing,
    }


def _known(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None
