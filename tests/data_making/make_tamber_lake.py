"""Makes data/tamber-lake: an invented lake in the open ocean; everything in it is invented.

Run it from the top folder: python tests/data_making/make_tamber_lake.py
"""

import csv
import json
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely

FOLDER = Path(__file__).parents[2] / "data" / "tamber-lake"
LON, LAT = -37.62, 41.31  # open ocean
FOOT = 0.3048
SEED = 20260515

OWNERS = (
    "Ada Wren", "Bram Tolley", "Cleo Marsh", "Dov Ashby", "Edda Lowe", "Finn Carrow", "Gro Hale",
    "Hester Pym", "Ivo Stroud", "June Abbot", "Kit Farrow", "Lars Mead", "Mina Oakes", "Nils Dray",
    "Orla Finch", "Pelle Rook", "Quinn Sedge", "Rhea Holt", "Sven Birk", "Tess Alder", "Ulla Crane",
    "Vic Heron", "Wynn Teal", "Xan Moor", "Yves Fell", "Zora Lake", "Abel Rush", "Bea Thorn",
)  # fmt: skip

# six sizes: length ft, width ft, tubes, tube diameter in, weight lb
SIZES = {
    "a": (10, 8, 2, 19, 820),
    "b": (10, 10, 2, 19, 1010),
    "c": (12, 8, 2, 22, 980),
    "d": (12, 10, 3, 19, 1240),
    "e": (8, 8, 2, 16, 560),
    "f": (14, 10, 3, 22, 1480),
}


def radius(angle):
    """Shore, in metres from the middle."""
    x, y = 262 * np.cos(angle), 168 * np.sin(angle)
    bend = (
        1
        + 0.10 * np.cos(2 * angle + 0.9)
        + 0.12 * np.cos(3 * angle - 0.4)
        + 0.05 * np.sin(5 * angle + 0.3)
        + 0.018 * np.sin(11 * angle)
        + 0.010 * np.sin(17 * angle + 1.0)
    )
    return x * bend, y * bend


def ring(middle, half_x, half_y, phase):
    angle = np.linspace(0, 2 * np.pi, 41)[:-1]
    bend = 1 + 0.12 * np.cos(3 * angle + phase)
    return np.column_stack(
        [middle[0] + half_x * bend * np.cos(angle), middle[1] + half_y * bend * np.sin(angle)]
    )


SHORE = np.column_stack(radius(np.linspace(0, 2 * np.pi, 361)[:-1]))
ALDER = ring((-40, 26), 27, 19, 0.5)
WREN = ring((132, -14), 14, 11, 2.0)
LAKE = shapely.Polygon(SHORE, [ALDER[::-1], WREN[::-1]])
EDGE = shapely.LinearRing(SHORE)
BARE = shapely.box(-330, -26, -198, 108)  # the bay that nobody has sounded
SHOAL = np.array([44.0, 4.0])


def depth_ft(xy):
    """Depth at the soundings' level: steep at the shore, then gentle; a shoal in the middle."""
    away = shapely.distance(shapely.boundary(LAKE), shapely.points(xy)) / FOOT
    shoal = np.exp(-((np.hypot(*(xy - SHOAL).T) / 15) ** 2))
    depth = 8.8 * (1 - np.exp(-away / 12)) + 34 * away / (away + 300)
    return np.maximum(0.3, depth * (1 - 0.74 * shoal))


def along(share, offset):
    """A place on the shore by its share of the way round, and so far out into the lake."""
    length = EDGE.length
    at = np.array(shapely.line_interpolate_point(EDGE, share * length).coords[0])
    before = np.array(shapely.line_interpolate_point(EDGE, (share * length - 6) % length).coords[0])
    after = np.array(shapely.line_interpolate_point(EDGE, (share * length + 6) % length).coords[0])
    way = (after - before) / np.hypot(*(after - before))
    return at + offset * np.array([-way[1], way[0]])


def lots():
    """Frontages: pieces of water 46 m deep between lot lines square to the shore."""
    made = {}
    bounds = np.linspace(0.02, 0.975, 37)
    for number, (start, end) in enumerate(pairwise(bounds), start=1):
        steps = np.linspace(start, end, 8)
        outer = [along(s, -3.0) for s in steps]
        inner = [along(s, 46.0) for s in steps[::-1]]
        area = shapely.Polygon(outer + inner).buffer(0).intersection(LAKE)
        parts = shapely.get_parts(area)
        made[str(number)] = (parts[np.argmax(shapely.area(parts))], (start + end) / 2)
    return made


def degrees(xy):
    lon = LON + xy[..., 0] / (111_320 * np.cos(np.radians(LAT)))
    return np.stack([lon, LAT + xy[..., 1] / 111_050], axis=-1)


def geometry(shape):
    turned = shapely.transform(shape, degrees)
    return json.loads(shapely.to_geojson(shapely.set_precision(turned, 1e-7)))


def layer(features):
    return {
        "type": "FeatureCollection",
        "features": [
            {"type": "Feature", "properties": properties, "geometry": geometry(shape)}
            for properties, shape in features
        ],
    }


def write_json(name, content):
    lines = ",\n".join(json.dumps(one, ensure_ascii=False) for one in content["features"])
    text = '{"type": "FeatureCollection", "features": [\n' + lines + "\n]}\n"
    (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")


def write_csv(name, rows):
    with (FOLDER / name).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)


def zones(frontages):
    path = [
        (-232, 34),
        (-190, 26),
        (-120, 66),
        (-52, 88),
        (30, 76),
        (92, 56),
        (150, 62),
        (169, 72),
        (170, 97),
    ]
    channel = shapely.LineString(path)
    north = ((0.295, -2), (0.310, -2), (0.325, -2), (0.325, 24), (0.310, 28), (0.295, 24))
    camp = ((0.735, -2), (0.750, -2), (0.768, -2), (0.768, 28), (0.750, 31), (0.735, 27))
    for name, corners in (("North Beach", north), ("Camp", camp)):
        area = shapely.Polygon([along(*corner) for corner in corners]).intersection(LAKE)
        yield {"kind": "swim_area", "name": f"{name} swim area"}, area
    yield {"kind": "channel", "name": "boat channel", "width_ft": 62}, channel
    intake = {"kind": "intake", "name": "water intake", "clearance_ft": 25}
    yield (
        intake | {"source": "example; ask whoever draws the water"},
        shapely.Point(86, -74).buffer(9),
    )
    yield {"kind": "hazard", "name": "shoal"}, shapely.Point(*SHOAL).buffer(13)
    yield {"kind": "no_float", "name": "loon nesting"}, shapely.Point(-150, -38).buffer(15)
    ramp = shapely.LineString([along(0.137, -4), along(0.137, 9)])
    yield {"kind": "ramp", "name": "boat ramp", "width_ft": 14}, ramp
    for number, share in enumerate((0.055, 0.21, 0.43, 0.57, 0.66, 0.775, 0.91), start=1):
        dock = shapely.LineString([along(share, -1), along(share, 8)])
        yield {"kind": "dock", "name": f"dock {number}", "width_ft": 5}, dock
    for number, (area, _) in frontages.items():
        lot = JOINED.get(number, number)
        also = "" if lot == number else ", second part"
        yield {"kind": "frontage", "name": f"lot {lot}{also}", "lot": lot}, area


JOINED = {"19": "18"}  # lots whose owner bought the neighbour's frontage
NO_FLOAT_LOTS = {5, 6, 11, 12, 16, 17, 19, 20, 24, 27, 28, 29, 36}
# lot -> how far from the middle of the lot along the shore, and out from the shore, in metres
MOVED = {
    "1": (1.8, 25.4),
    "2": (2.2, 25.0),
    "4": (0.0, 26.0),
    "7": (-0.4, 23.6),
    "13": (-4.0, 25.5),
    "14": (0.0, 18.5),
    "15": (0.0, 26.0),
    "18": (0.0, 22.0),
    "31": (-0.6, 23.6),
    "32": (3.0, 24.0),
    "35": (-2.0, 23.4),
}


def floats(frontages):
    """float_id, place in metres, size, lot and what sets it apart."""
    rng = np.random.default_rng(SEED + 1)
    sizes = list(SIZES)
    for number, (lot, (_, share)) in enumerate(
        ((lot, held) for lot, held in frontages.items() if int(lot) not in NO_FLOAT_LOTS), start=1
    ):
        side, out = MOVED.get(lot, (rng.uniform(-1.5, 1.5), rng.uniform(23.0, 26.0)))
        place = along(share + side / EDGE.length, out)
        size = "e" if lot == "31" else sizes[(number * 5) % 6]
        yield str(number), place, size, lot, {}
    ours = {"owner": "association"}
    proposed = ours | {"status": "proposed"}
    yield "24", np.array([214.0, -20.0]), "b", "", ours
    yield "25", np.array([228.0, 22.0]), "a", "", ours
    yield "26", np.array([8.0, -30.0]), "d", "", ours
    yield "27", np.array([-92.0, 32.0]), "b", "", ours
    yield "28", np.array([-44.0, -20.5]), "d", "", ours
    yield "29", np.array([92.0, -16.0]), "a", "", ours
    yield "30", np.array([118.0, 24.0]), "c", "", ours
    yield "31", np.array([172.0, -28.0]), "f", "", ours | {"position_of": "secondary"}
    yield "32", np.array([118.6, -76.0]), "b", "", ours
    yield "33", np.array([31.0, -114.0]), "d", "", ours
    yield "34", np.array([-118.0, -84.0]), "b", "", ours | {"position_of": "float"}
    yield "35", np.array([-57.6, -42.6]), "e", "", ours
    yield "36", np.array([-4.6, 53.2]), "a", "", proposed
    yield "37", np.array([48.0, -38.0]), "c", "", proposed
    yield "38", np.array([-128.0, 16.0]), "b", "", proposed
    yield "39", np.array([6.0, -62.0]), "e", "", ours | {"status": "retired"}
    yield "40", np.array([180.0, 14.0]), "a", "", ours | {"status": "retired"}


HEADER = (
    "float_id", "lon", "lat", "position_of", "wind_from_deg", "status", "owner", "lot",
    "length_ft", "width_ft", "flotation", "tubes", "tube_diameter_in", "tube_length_ft",
    "float_weight_lb", "hook", "hook_depth_in", "riser_length_ft", "ground_length_ft",
    "absorber_length_ft", "primary_blocks", "secondary_blocks", "block", "chain", "chain_grade",
    "cable", "cable_parts", "cable_ends", "fittings", "bearing_deg", "bottom", "set_on", "permit",
    "note",
)  # fmt: skip
FITTINGS = "eye bolt 5/8 in; shackle 1/2 in 2; link 5/8 in; swivel 1/2 in"
BLANK_RIG = {"3", "20", "36", "37", "38"}  # nobody wrote down their lengths, or they are not built
NOT_BUILT = ("set_on", "bearing_deg", "primary_blocks", "secondary_blocks", "hook_depth_in")
HOOK_IN = {16: -8, 19: -9, 22: -11}  # by tube: the eye under the deck stands above the water
APART = {
    "2": {"flotation": "billets", "tubes": "", "tube_diameter_in": "", "tube_length_ft": "",
          "permit": "TL-2014 until 2026-04-01"},
    "8": {"permit": "TL-2070, expires 2026-09-30"},
    "9": {"note": "shares its ramp key with float 10"},
    "11": {"primary_blocks": 3, "secondary_blocks": 2},
    "14": {"note": "very low in the water with guests aboard"},
    "17": {"fittings": FITTINGS.replace("shackle", "stainless shackle")},
    "20": {"permit": "TL-2224 until 2028-05-01"},
    "26": {"hook": "edge", "primary_blocks": 3, "secondary_blocks": 2},
    "29": {"hook": "edge"},
    "31": {"note": "primary is buried, only the secondary was found"},
    "34": {"note": "seen from the boat only", "wind_from_deg": 250, "bearing_deg": ""},
}  # fmt: skip


def rig(size, rng):
    """Deck, flotation and rig of a size, as an association's list would have them."""
    long, wide, tubes, diameter, weight = SIZES[size]
    return {
        "length_ft": long, "width_ft": wide, "flotation": "tubes", "tubes": tubes,
        "tube_diameter_in": diameter, "tube_length_ft": long, "float_weight_lb": weight,
        "hook": "centre", "hook_depth_in": HOOK_IN[diameter], "block": "12-in hollow",
        "bottom": rng.choice(["sand", "silt", "gravel", "mud"]), "chain": "3/8 in",
        "chain_grade": 30, "cable": "5/16 in galvanised", "cable_parts": 2,
        "cable_ends": rng.choice(["clips", "sleeves"]), "fittings": FITTINGS,
        "absorber_length_ft": 4,
        "set_on": f"{rng.integers(2016, 2026)}-05-{rng.integers(10, 29)}",
        "primary_blocks": 5 + (tubes == 3) * 3 + (diameter == 22) * 2,
        "secondary_blocks": 3 + (tubes == 3) * 2 + (diameter == 22),
        "bearing_deg": round(float(rng.normal(70, 18))),
    }  # fmt: skip


def blanks(k, status):
    """Columns that nobody has filled in."""
    if status == "proposed":
        return dict.fromkeys(NOT_BUILT, "")
    left = [column for column, turn in (("bearing_deg", k % 7 == 3), ("hook_depth_in", k % 3 == 1))
            if turn]  # fmt: skip
    return dict.fromkeys(left, "")


def float_rows(frontages):
    rng = np.random.default_rng(SEED + 2)
    yield HEADER
    for k, (name, place, size, lot, apart) in enumerate(floats(frontages)):
        deep = float(depth_ft(place[None])[0])
        lon, lat = degrees(place)
        row = dict.fromkeys(HEADER, "") | rig(size, rng)
        row |= {
            "float_id": name, "lon": f"{lon:.7f}", "lat": f"{lat:.7f}", "status": "set",
            "owner": OWNERS[k % len(OWNERS)], "lot": lot,
            "permit": f"TL-{2000 + int(lot) * 7}" if lot else "",
        }  # fmt: skip
        if name not in BLANK_RIG:
            row["ground_length_ft"] = f"{np.ceil(deep):.0f}"
            row["riser_length_ft"] = f"{np.ceil(2 * (deep + 1 + 2.6)) / 2:g}"
        row |= apart
        row |= blanks(k, row["status"]) | APART.get(name, {})
        yield [row[column] for column in HEADER]


def sounding_rows():
    rng = np.random.default_rng(SEED)
    yield "date", "lon", "lat", "depth_ft", "level_ft"
    turn = 0
    for y in np.arange(-190, 200, 9.4):
        steps = np.arange(-300, 330, 8.4)
        turn += 1
        day = "2025-06-12" if y < 20 else "2025-06-14"
        gauge = 0.0 if y < 20 else 0.2
        for x in steps if turn % 2 else steps[::-1]:
            at = np.array([x + rng.normal(0, 1.2), y + rng.normal(0, 1.4) + 2 * np.sin(x / 40)])
            point = shapely.Point(at)
            if not LAKE.buffer(-1.0).contains(point) or BARE.contains(point):
                continue
            deep = float(depth_ft(at[None])[0]) + rng.normal(0, 0.25)
            lon, lat = degrees(at)
            yield day, f"{lon:.7f}", f"{lat:.7f}", f"{max(0.2, deep + gauge):.1f}", f"{gauge:g}"


# year -> how high the lake stood in April and how low in September, in feet
GAUGED = {
    2017: (0.7, -0.6), 2018: (0.9, -0.4), 2019: (0.6, -0.9), 2020: (0.7, -1.1), 2021: (0.8, -0.3),
    2022: (0.4, -1.3), 2023: (0.9, -0.2), 2024: (0.5, -1.5), 2025: (0.9, -0.9),
}  # fmt: skip
KNOWN = {"2024-09-15": -1.5, "2025-04-20": 1.0, "2025-06-12": 0.0, "2025-06-14": 0.2}
AWAY = (date(2020, 6, 20), date(2020, 8, 30))  # nobody read the gauge that summer
LAST_READ = date(2025, 7, 27)


def level_rows():
    """About every two weeks while the lake is open, by whoever walks past the gauge."""
    rng = np.random.default_rng(SEED + 3)
    read = dict(KNOWN)
    for year, (spring, autumn) in GAUGED.items():
        day = date(year, 4, 14)
        while day < min(date(year, 10, 25), LAST_READ):
            share = np.clip((day - date(year, 4, 14)).days / 154, 0, 1)  # mid-September is lowest
            rise = 0.03 * max(0, (day - date(year, 9, 20)).days)
            level = spring + (autumn - spring) * np.sin(np.pi / 2 * share) ** 1.5 + rise
            level = min(max(level + rng.normal(0, 0.1), -1.4), 0.9)
            near = any(abs((day - date.fromisoformat(one)).days) < 6 for one in KNOWN)
            if not near and not AWAY[0] < day < AWAY[1]:
                read[day.isoformat()] = level
            day += timedelta(days=int(rng.choice([12, 13, 14, 14, 15, 17])))
    yield "date", "level_ft"
    yield from ((day, f"{round(read[day], 1) + 0.0:.1f}") for day in sorted(read))


# as volunteers write it: a slip of the pen, a word for two parts, a part that the rig has not
INSPECTIONS = (
    ("date", "float_id", "part", "finding", "diameter_in", "broken_wires", "by", "lon", "lat"),
    ("2023-07-15", "39", "cable", "worn", "", "1", "Orla Finch", "", ""),
    ("2023-08-12", "15", "riser chain", "good", "0.365", "", "Nils Dray", "", ""),
    ("2024-06-01", "4", "cable", "replaced", "", "", "Orla Finch", "", ""),
    ("2024-06-01", "4", "cable ends", "replaced", "", "", "Orla Finch", "", ""),
    ("2024-07-06", "22", "riser chain", "worn", "0.350", "", "Nils Dray", "", ""),
    ("2024-07-07", "33", "shackle", "stretched", "", "", "Lars Mead", "", ""),
    ("2024-07-13", "24", "cable", "good", "", "0", "Lars Mead", "", ""),
    ("2024-08-10", "33", "shackle", "replaced", "", "", "Lars Mead", "", ""),
    ("2025-07-05", "22", "riser chain", "worn", "0.332", "", "Nils Dray", "", ""),
    ("2025-07-12", "28", "primary", "good", "", "", "Orla Finch", "", ""),
    ("2025-07-14", "26", "float", "moved", "", "", "Lars Mead", "-37.6194943", "41.3097844"),
    ("2025-07-14", "5", "float", "moved", "", "", "Lars Mead", "-37.6190551", "41.3109260"),
    ("2025-07-19", "2", "whole rig", "good", "", "", "Orla Finch", "", ""),
    ("2025-07-19", "19", "schackle", "good", "", "", "Orla Finch", "", ""),
    ("2025-07-19", "30", "cable", "worn", "", "4", "Orla Finch", "", ""),
    ("2025-07-20", "4", "shackle", "good", "", "", "Orla Finch", "", ""),
    ("2025-07-20", "9", "shackle at the riser", "bent", "", "", "Orla Finch", "", ""),
    ("2025-07-26", "7", "swivel", "worn", "", "", "Nils Dray", "", ""),
    ("2025-07-26", "13", "ground chain", "worn", "0.312", "", "Nils Dray", "", ""),
    ("2025-08-02", "16", "clips", "nuts loose, tightened", "", "", "Nils Dray", "", ""),
    ("2025-08-03", "15", "chain", "worn", "0.34", "", "Nils Dray", "", ""),
    ("2025-08-03", "15", "cable", "good", "", "2", "Nils Dray", "", ""),
)

SETTINGS = """\
# Tamber Lake is invented, and lies where there is only ocean.
name = "Tamber Lake swim floats"
units = "ft-lb"                     # what people see; or "m-kg"

[levels]                            # heights on the gauge at the dam; up is +
low = "-1.5 ft"                     # the lowest that anybody remembers
normal = "0 ft"
high = "1 ft"
soundings = "0 ft"

[storm]
wind = "50 mph"                     # 10-minute mean, 10 m above the water
gust = "70 mph"
from_deg = [250, 225, 275]          # where storms come from here

[wake]
height = "2 ft"
period = "2.2 s"
at = "100 ft"
nearest = "50 ft"

[accuracy]                          # standard uncertainty, one axis
position = "3 ft"                   # fixes averaged over several days
depth = "0.5 ft"
level = "0.25 ft"
line = "0.5 ft"
layer = "2 ft"

[rules.neighbour]
distance = "5 ft"
mode = "full_circle"
source = "example; check your own rules"

[rules.shore]
distance = "15 ft"
source = "example; check your local code"

[rules.swim_area]
distance = "20 ft"
source = "example; check your local code"

[rules.channel]
distance = "5 ft"
source = "example; check your local code"

[rules.hazard]
distance = "5 ft"
source = "example; check your local code"

[rules.no_float]
distance = "0 ft"
source = "example; check your local code"

[rules.ramp]
distance = "30 ft"
source = "example; check your local code"

[rules.dock]
distance = "10 ft"
source = "example; check your local code"

[rules.frontage]
distance = "0 ft"
source = "example; check your local code"

[rules.bed]
depth = "1 ft"
source = "example; check your own rules"

[rules.jump_depth]
depth = "8 ft"
beyond = "3 ft"
source = "example; check your local code"

[rules.deck_area_max]
area = "150 ft2"
source = "example; check your local code"

[season]
set = "05-15"
lift = "10-01"
marking = "reflectors on every side; number 3 in high"

[sizing]
holding = "practice"
people = 4
"""


def main():
    FOLDER.mkdir(parents=True, exist_ok=True)
    (FOLDER / "field.toml").write_text(SETTINGS, encoding="utf-8", newline="\n")
    frontages = lots()
    write_json("lake.geojson", layer([({"name": "Tamber Lake"}, LAKE)]))
    write_json("zones.geojson", layer(zones(frontages)))
    write_csv("soundings.csv", sounding_rows())
    write_csv("floats.csv", float_rows(frontages))
    write_csv("inspections.csv", INSPECTIONS)
    write_csv("levels.csv", level_rows())


if __name__ == "__main__":
    main()
