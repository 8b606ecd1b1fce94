"""Makes data/small-pond, the way a beginner would write it: everything in it is invented.

Run it from the top folder: python tests/data_making/make_small_pond.py
"""

from pathlib import Path

import numpy as np

FOLDER = Path(__file__).parents[2] / "data" / "small-pond"
LON, LAT = -101.5, -38.2  # open ocean
HALF_LENGTH_M, HALF_WIDTH_M, DEEPEST_M = 118.0, 78.0, 4.6
FLOATS = (  # float_id, east, north of the middle, length, width, owner, note
    ("1", -52, 22, 3, 2.5, "Wilma Tarn", ""),
    ("2", -14, -14, 3, 3, "Otto Reed", "new chain in spring"),
    ("3", 24, 30, 3, 2.5, "Ines Marl", ""),
    ("4", 62, -12, 2.5, 2.5, "Bo Fenn", ""),
    ("5", 44, 19, 3, 3, "Club", "shared"),
)
BEACH = ((-16, -86), (16, -86), (16, -49), (-16, -49))


def wobble(angle):
    return 1 + 0.10 * np.sin(2 * angle + 0.6) + 0.05 * np.cos(3 * angle)


def degrees(x, y):
    """Metres to degrees, near enough for invented data."""
    return LON + x / (111_320 * np.cos(np.radians(LAT))), LAT + y / 111_000


def depth(x, y):
    angle = np.arctan2(y / HALF_WIDTH_M, x / HALF_LENGTH_M)
    share = np.hypot(x / HALF_LENGTH_M, y / HALF_WIDTH_M) / wobble(angle)
    return DEEPEST_M * (1 - share**2.4)


def place(x, y):
    lon, lat = degrees(x, y)
    return f"{lon:.7f},{lat:.7f}"


def write(name, lines):
    (FOLDER / name).write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def soundings(rng):
    yield "lon,lat,depth_m"
    for y in np.arange(-70, 71, 17.0):
        for x in np.arange(-112, 113, 15.0):
            at = x + rng.uniform(-3, 3), y + rng.uniform(-3, 3)
            if depth(*at) > 0.4:
                yield f"{place(*at)},{depth(*at) + rng.normal(0, 0.06):.1f}"


def main():
    rng = np.random.default_rng(7)
    angle = np.linspace(0, 2 * np.pi, 29)[:-1]
    shore = zip(
        HALF_LENGTH_M * wobble(angle) * np.cos(angle),
        HALF_WIDTH_M * wobble(angle) * np.sin(angle),
        strict=True,
    )
    write("lake.csv", ["lon,lat", *(place(x, y) for x, y in shore)])
    write("soundings.csv", soundings(rng))
    write(
        "floats.csv",
        [
            "float_id,lon,lat,length_m,width_m,depth_m,owner,note",
            *(
                f"{name},{place(x, y)},{long},{wide},{depth(x, y):.1f},{owner},{note}"
                for name, x, y, long, wide, owner, note in FLOATS
            ),
        ],
    )
    write(
        "zones.csv",
        [
            "zone,lon,lat,kind,shape",
            *(
                f"Steps beach,{place(*at)},{'swim_area,area' if k == 0 else ','}"
                for k, at in enumerate(BEACH)
            ),
        ],
    )


if __name__ == "__main__":
    main()
