"""A shore gathered into a folder: the lake before and after, what stays, what is refused."""

from datetime import date

import numpy as np
import pytest
import shapely
from sounder_logs import gga

from lakemap.basis.errors import BadInputError
from lakemap.gathering import shore_tracks
from lakemap.gathering.gather import gather
from lakemap.gathering.records import Asked
from lakemap.inputs.folder import read_field
from lakemap.lake.projection import LakeProjection

FT = 0.3048
TOML = '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n[accuracy]\nposition = "2 ft"\n'
HERE = LakeProjection(lon0=-37.005, lat0=41.005)  # the middle of the lake, and float 1
# the folder's own lake is 840 m wide and 1110 m long
WIDE, LONG = 840.0, 1110.0
GAUGE = "date,level_ft\n2025-06-10,-0.5\n2025-06-20,-0.7\n"


def line(corners, step=5.0):
    """A walk from corner to corner, a point every few metres."""
    return shapely.get_coordinates(shapely.segmentize(shapely.linestrings(corners), step))


def box(wide=WIDE, long=LONG, x=0.0, y=0.0):
    west, south = x - wide / 2, y - long / 2
    return [
        (west, south), (west + wide, south), (west + wide, south + long), (west, south + long),
        (west, south),
    ]  # fmt: skip


def points(xy, tag="trkpt", day="2025-06-15"):
    lon, lat = HERE.to_lonlat(*np.asarray(xy, dtype=float).T)
    time = f"<time>{day}T10:00:00Z</time>" if day else ""
    return "".join(
        f'<{tag} lat="{b:.9f}" lon="{a:.9f}">{time}</{tag}>' for a, b in zip(lon, lat, strict=True)
    )


def track(*parts, **more):
    return "<trk>" + "".join(f"<trkseg>{points(one, **more)}</trkseg>" for one in parts) + "</trk>"


def put(tmp_path, *held, name="walk.gpx"):
    path = tmp_path / name
    path.write_text(f'<gpx version="1.1">{"".join(held)}</gpx>', encoding="utf-8")
    return path


@pytest.fixture
def pond(folder):
    return folder(field__toml=TOML)


def walk(here, path, **asked):
    return gather(here, [path], Asked(kind="shore", **asked))


def text_of(outcome):
    report = outcome.reports[-1]
    left = [f"{one.count} {one.words} ({one.first})" for one in report.left]
    return "\n".join([*report.lines, *left, *report.cautions])


def area_of(here):
    lake = read_field(here).lake
    return float(shapely.area(LakeProjection.centred_on(lake).project(lake)))


def test_a_walk_becomes_the_lake(pond, tmp_path):
    before = (pond / "lake.csv").read_text(encoding="utf-8")
    was = area_of(pond)
    way = line(box(860, 1120))
    outcome = walk(pond, put(tmp_path, track(way[:300], way[300:])))  # one line of two parts
    (report,), (saved,) = outcome.reports, outcome.written
    assert (saved.file, saved.kept) == ("lake.csv", "lake.csv.before")
    assert (pond / "lake.csv.before").read_text(encoding="utf-8") == before
    assert report.taken == 4
    assert area_of(pond) == pytest.approx(860 * 1120, rel=1e-4)
    text = text_of(outcome)
    acre = 43560 * FT**2
    assert f"the lake: {860 * 1120 / acre:.2f} acres of water, {2 * 1980 / FT:,.1f} ft" in text
    assert f"before it had {was / acre:.2f} acres, now {860 * 1120 / acre:.2f} acres (+" in text
    # 10 m on either side and 5 m at the ends: sqrt(125) at the corners, 10 m along the sides
    x0, y0 = HERE.to_xy([-37.01], [41.0])
    far = np.hypot(x0[0] + 430, y0[0] + 560)
    told = float(text.split("the shores lie ")[1].split(" ft")[0]) * FT
    assert told == pytest.approx(far, abs=0.8)


def test_islands_stay_and_keep_their_names(folder, tmp_path):
    own = (
        "lon,lat,part,island\n-37.01,41.0,,\n-37.0,41.0,,\n-37.0,41.01,,\n-37.01,41.01,,\n"
        "-37.003,41.003,,Heron\n-37.002,41.003,,Heron\n-37.002,41.004,,Heron\n"
        "-37.009,41.009,,Otter\n-37.008,41.009,,Otter\n-37.008,41.0095,,Otter\n"
    )
    here = folder(field__toml=TOML, lake__csv=own)
    x, y = HERE.to_xy([-37.0024], [41.0033])
    round_heron = track(line(box(160, 200, x[0], y[0])))
    outcome = walk(here, put(tmp_path, track(line(box(860, 1120))), round_heron))
    field = read_field(here)
    assert sorted(field.island_names) == ["Heron", "Otter"]
    assert "kept from the lake file: Otter" in text_of(outcome)
    lake = LakeProjection.centred_on(field.lake).project(field.lake)
    holes = {
        name: shapely.Polygon(ring).area
        for name, ring in zip(field.island_names, shapely.get_parts(lake)[0].interiors, strict=True)
    }
    assert holes["Heron"] == pytest.approx(160 * 200, rel=1e-3)
    # a shore that runs through an island
    smaller = walk(here, put(tmp_path, track(line(box(600, 1000)))))
    assert "no island any more, as the new shore runs through or beside it: Otter" in text_of(
        smaller
    )
    assert read_field(here).island_names == ("Heron",)


def test_several_tracks_are_shore_and_islands(pond, tmp_path):
    island = track(line(box(80, 60, 200, 200), step=2))
    away = track(line(box(50, 50, 700, 0)))
    outcome = walk(pond, put(tmp_path, island, track(line(box(860, 1120))), away))
    assert area_of(pond) == pytest.approx(860 * 1120 - 80 * 60, rel=1e-4)
    assert "1 neither the shore nor an island inside it (track 3)" in text_of(outcome)
    assert "one island" in text_of(outcome)
    assert outcome.reports[0].taken == 8


def test_shore_and_island_in_two_files(pond, tmp_path):
    paths = [
        put(tmp_path, track(line(box(80, 60, 200, 200), step=2)), name="island.gpx"),
        put(tmp_path, track(line(box(860, 1120)))),
    ]
    outcome = gather(pond, paths, Asked(kind="shore"))
    assert [one.taken for one in outcome.reports] == [4, 4]
    assert len(outcome.written) == 1
    assert area_of(pond) == pytest.approx(860 * 1120 - 80 * 60, rel=1e-4)


def test_a_boat_that_kept_off(pond, tmp_path):
    outcome = walk(pond, put(tmp_path, track(line(box(840, 1100)))), inside_m=10.0)
    # corners of the wider lake are rounded: a quarter circle in place of each square
    wanted = 860 * 1120 - (4 - np.pi) * 10**2
    assert area_of(pond) == pytest.approx(wanted, rel=2e-4)
    assert f"the shore was moved out by {10 / FT:.1f} ft" in text_of(outcome)


def test_a_route_is_a_ring_too(pond, tmp_path):
    route = f"<rte>{points(box(860, 1120)[:4], tag='rtept', day=None)}</rte>"
    outcome = walk(pond, put(tmp_path, route))
    assert area_of(pond) == pytest.approx(860 * 1120, rel=1e-6)
    assert "route 1: 4 points became a ring of 4 corners" in text_of(outcome)
    assert "route 1 was closed by a straight line of" in text_of(outcome)


def test_an_outline_that_is_one_already(pond, tmp_path):
    ring = HERE.unproject(shapely.Polygon(box(860, 1120)))
    path = tmp_path / "drawn.geojson"
    text = shapely.to_geojson(ring)
    path.write_text(
        f'{{"type": "Feature", "properties": {{}}, "geometry": {text}}}', encoding="utf-8"
    )
    outcome = walk(pond, path)
    assert outcome.reports[0].taken == 4
    assert area_of(pond) == pytest.approx(860 * 1120, rel=1e-6)


def test_a_log_of_positions(pond, tmp_path):
    lon, lat = HERE.to_lonlat(*line(box(860, 1120)).T)

    path = tmp_path / "boat.log"
    text = "".join(gga(k, y, x) for k, (x, y) in enumerate(zip(lon, lat, strict=True)))
    path.write_text(text, encoding="ascii", newline="")
    outcome = walk(pond, path)
    assert area_of(pond) == pytest.approx(860 * 1120, rel=1e-3)
    assert "the log: " in text_of(outcome)


def test_the_level_of_the_day_is_told(folder, tmp_path):
    here = folder(field__toml=TOML, levels__csv=GAUGE)
    text = text_of(walk(here, put(tmp_path, track(line(box(860, 1120)))), preview=True))
    # halfway between -0.5 and -0.7 ft
    assert "the outline should be that of normal level (0.0 ft on the gauge)" in text
    assert "on 2025-06-15 the gauge stood 0.6 ft below it" in text


def test_a_preview_writes_nothing(pond, tmp_path):
    before = {path.name: path.read_bytes() for path in pond.iterdir()}
    outcome = walk(pond, put(tmp_path, track(line(box(860, 1120)))), preview=True)
    assert outcome.written == ()
    assert {path.name: path.read_bytes() for path in pond.iterdir()} == before


def test_floats_on_land_are_refused_by_name(pond, tmp_path):
    before = (pond / "lake.csv").read_bytes()
    # float 1 stands in the middle, float 2 84 m east and 111 m north of it
    with pytest.raises(BadInputError) as caught:
        walk(pond, put(tmp_path, track(line(box(150, 150)))))
    (problem,) = caught.value.problems
    x, y = HERE.to_xy([-37.004], [41.006])
    far = np.hypot(x[0] - 75, y[0] - 75) / FT
    assert f"float 2 would lie on land, {far:.1f} ft from the new shore" in problem.text
    assert (pond / "lake.csv").read_bytes() == before
    assert not (pond / "lake.csv.before").exists()


def test_a_primary_reckoned_from_its_float_counts(folder, tmp_path):
    floats = (
        "float_id,lon,lat,length_ft,width_ft,depth_ft,hook_depth_ft,riser_length_ft,"
        "ground_length_ft,position_of,wind_from_deg\n"
        "1,-37.005,41.005,10,8,10,0,12,8,float,90\n"  # its primary lies some 13 ft east of it
    )
    here = folder(field__toml=TOML, floats__csv=floats)
    near = track(line(box(202, 202, -100, 0)))  # the shore runs 1 m east of the float
    with pytest.raises(BadInputError, match="float 1 would lie on land, 10"):
        walk(here, put(tmp_path, near))


@pytest.mark.parametrize(
    ("held", "words"),
    [
        ([track(line(box(860, 1120))[:400])], r"track 1 starts and ends [\d,.]+ ft apart, on a way of"),
        ([track(line([(0, 0), (500, 0), (500, 0.6), (0, 0.6), (0, 0)]))], "encloses next to nothing"),
        ([track([(0, 0), (9, 0), (9, 9)])], "has fewer than four different points"),
        (["<wpt lat='41.005' lon='-37.005'/>"], "it holds no track and no route"),
        ([track(line(box(200, 200, 3000, 0)))], r"the shore in it lies [\d,.]+ ft from the lake"),
    ],
)  # fmt: skip
def test_what_is_no_shore_is_refused(pond, tmp_path, held, words):
    before = (pond / "lake.csv").read_bytes()
    with pytest.raises(BadInputError, match=words):
        walk(pond, put(tmp_path, *held))
    assert (pond / "lake.csv").read_bytes() == before


def test_a_short_stray_track_beside_the_shore_is_left_out(pond, tmp_path):
    stray = track(line([(0, 0), (60, 0)]))
    outcome = walk(pond, put(tmp_path, stray, track(line(box(860, 1120)))))
    assert "1 a track that is no ring (track 1 starts and ends" in text_of(outcome)
    # but a longer one than the ring may be the shore itself
    with pytest.raises(BadInputError, match="track 1 starts and ends"):
        walk(pond, put(tmp_path, track(line(box(860, 1120))[:700]), track(line(box(80, 80)))))


def test_a_folder_without_a_lake(folder, tmp_path):
    here = folder(field__toml=TOML, lake__csv=None)
    outcome = walk(here, put(tmp_path, track(line(box(860, 1120)))))
    (saved,) = outcome.written
    assert (saved.file, saved.kept) == ("lake.geojson", None)
    assert area_of(here) == pytest.approx(860 * 1120, rel=1e-4)
    assert "before it had" not in text_of(outcome)


def test_a_lake_file_without_a_corner_yet(folder, tmp_path):
    here = folder(field__toml=TOML, lake__csv="# to be filled in\nlon,lat,part,island\n")
    (saved,) = walk(here, put(tmp_path, track(line(box(860, 1120))))).written
    assert (saved.file, saved.kept) == ("lake.csv", "lake.csv.before")
    assert area_of(here) == pytest.approx(860 * 1120, rel=1e-4)


def test_floats_on_land_without_a_lake(folder, tmp_path):
    here = folder(field__toml=TOML, lake__csv=None)
    with pytest.raises(BadInputError, match="float 2 would lie on land"):
        walk(here, put(tmp_path, track(line(box(150, 150)))))
    assert not (here / "lake.geojson").exists()


def test_other_problems_of_the_folder_are_still_told(folder, tmp_path):
    here = folder(field__toml=TOML, lake__csv=None, floats__csv="float_id,lon,lat\n1,-37,x\n")
    with pytest.raises(BadInputError, match=r"(?s)no lake file.*floats.csv row 2 lat"):
        walk(here, put(tmp_path, track(line(box(860, 1120)))))


def test_big_tracks_are_bounded(pond, tmp_path, monkeypatch):
    monkeypatch.setattr(shore_tracks, "MOST_POINTS", 500)
    with pytest.raises(BadInputError, match="more than 500 points in it; export it with fewer"):
        walk(pond, put(tmp_path, track(line(box(860, 1120)))))


def test_entities_are_refused(pond, tmp_path):
    path = tmp_path / "walk.gpx"
    path.write_text('<!DOCTYPE gpx [<!ENTITY a "b">]><gpx>&a;</gpx>', encoding="utf-8")
    with pytest.raises(BadInputError, match="defines entities or a document type"):
        walk(pond, path)


def test_a_rough_square_is_replaced_whatever_it_was(folder, tmp_path):
    rough = "lon,lat,note\n-37.005,41.0,rough square\n-37.0,41.0,\n-37.0,41.005,\n-37.005,41.005,\n"
    here = folder(
        field__toml=TOML, lake__csv=rough, floats__csv="float_id,lon,lat,length_ft,width_ft\n"
    )
    assert read_field(here).lake_is_rough
    walk(here, put(tmp_path, track(line(box(100, 100, -200, 200)))))
    assert not read_field(here).lake_is_rough
    assert area_of(here) == pytest.approx(1e4, rel=1e-3)


def test_the_day_option_is_used_where_a_track_names_none(folder, tmp_path):
    here = folder(field__toml=TOML, levels__csv=GAUGE)
    held = track(line(box(860, 1120)), day=None)
    outcome = walk(here, put(tmp_path, held), preview=True, day=date(2025, 6, 20))
    assert "on 2025-06-20 the gauge stood 0.7 ft below it" in text_of(outcome)
