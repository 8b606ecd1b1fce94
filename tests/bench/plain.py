"""The plain ways that speed is measured against: what one would write first with general libraries."""

import folium
import geopandas as gpd
import numpy as np
import shapely
from scipy.interpolate import griddata


def touching_pairs(xy, radius_m):
    """Pairs of floats whose circles meet, by buffering and joining."""
    circles = gpd.GeoDataFrame(
        geometry=gpd.points_from_xy(xy[:, 0], xy[:, 1]).buffer(radius_m, quad_segs=8)
    )
    joined = gpd.sjoin(circles, circles, predicate="intersects")
    first, second = joined.index.to_numpy(), joined["index_right"].to_numpy()
    keep = first < second
    return np.column_stack([first[keep], second[keep]])


def zone_distances(xy, zones):
    """Distances of all points to each zone, zone by zone."""
    points = gpd.GeoSeries(gpd.points_from_xy(xy[:, 0], xy[:, 1]))
    return np.column_stack([points.distance(zone) for zone in zones])


def depths(xy, depth_m, at_xy):
    """Depths by linear interpolation of the raw soundings."""
    return griddata(xy, depth_m, at_xy, method="linear")


def map_html(floats):
    """One map object per feature of a float, as the map library offers them: nine a float."""
    page = folium.Map(location=[41, -37], zoom_start=15)
    for name, lat, lon, radii in floats:
        told = f"<b>Float {name}</b><br>" + "<br>".join(
            f"swings {radius:.1f} m" for radius in radii
        )
        for radius in radii:
            folium.Circle([lat, lon], radius=radius, popup=folium.Popup(told)).add_to(page)
        primary, secondary, deck = [lat, lon], [lat + 3e-5, lon], [lat + 5e-5, lon]
        folium.CircleMarker(primary, radius=3, popup=folium.Popup(told)).add_to(page)
        folium.CircleMarker(secondary, radius=2, popup=folium.Popup(told)).add_to(page)
        folium.PolyLine([primary, secondary]).add_to(page)
        folium.PolyLine([secondary, deck]).add_to(page)
        folium.Rectangle([deck, [lat + 7e-5, lon + 2e-5]], popup=folium.Popup(told)).add_to(page)
        folium.Marker(deck, icon=folium.DivIcon(html=name)).add_to(page)
    return page.get_root().render()


def fetches(water, xy, bearings_deg):
    """Open water from each point towards each bearing: every ray cut with the shore."""
    west, south, east, north = water.bounds
    far = np.hypot(east - west, north - south)
    shore = water.boundary
    found = np.empty((len(xy), len(bearings_deg)))
    for k, bearing in enumerate(np.radians(bearings_deg)):
        ends = xy + far * np.array([np.sin(bearing), np.cos(bearing)])
        rays = shapely.linestrings(np.stack([xy, ends], axis=1))
        found[:, k] = shapely.distance(shapely.points(xy), shapely.intersection(rays, shore))
    return found


def free_rooms(layers, circles_xy, circles_m, xy):
    """The least of distance less what is required, layer by layer and circle by circle."""
    points, least = shapely.points(xy), np.full(len(xy), np.inf)
    for layer in layers:
        if shapely.get_dimensions(layer.geometry) == 1:
            distance = shapely.distance(points, layer.geometry) - layer.width_m / 2
        else:
            shapely.prepare(layer.geometry)
            within = shapely.contains_xy(layer.geometry, xy[:, 0], xy[:, 1])
            distance = shapely.distance(points, layer.geometry.boundary)
            distance = np.where(within == layer.inside, distance, -distance)
        least = np.minimum(least, distance - layer.required_m)
    for centre, keep in zip(shapely.points(circles_xy), circles_m, strict=True):
        least = np.minimum(least, shapely.distance(points, centre) - keep)
    return least


def first_fit(region, radius_at, gap_m, tries=20_000, seed=1):
    """Circles thrown at random; each stays that keeps off those that lie there."""
    rng = np.random.default_rng(seed)
    west, south, east, north = region.bounds
    thrown = rng.uniform((west, south), (east, north), (tries, 2))
    thrown = thrown[shapely.contains_xy(region, thrown[:, 0], thrown[:, 1])]
    xy, radius, count = np.empty_like(thrown), np.empty(len(thrown)), 0
    for place, size in zip(thrown, radius_at(thrown), strict=True):
        away = np.hypot(*(xy[:count] - place).T)
        if (away >= radius[:count] + size + gap_m).all():
            xy[count], radius[count] = place, size
            count += 1
    return xy[:count]
