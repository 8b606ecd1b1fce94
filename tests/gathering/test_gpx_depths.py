"""GPX files with depths: any namespace, units, days; what is dangerous is refused."""

import tracemalloc
from datetime import date

import pytest

from lakemap.basis.errors import BadInputError
from lakemap.gathering.gpx_track import gpx_rows
from lakemap.gathering.lines import Tally
from lakemap.gathering.records import Asked
from lakemap.gathering.xml_points import gpx_points

HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="me"'
    ' xmlns="http://www.topografix.com/GPX/1/1" xmlns:d="http://example.org/d">'
)
TAIL = "</gpx>"


def point(inner, lat="41.005", lon="-37.005", tag="trkpt"):
    return f'<{tag} lat="{lat}" lon="{lon}">{inner}</{tag}>'


def depth(text, attributes="", *, wrapped=False):
    inner = f"<d:depth{attributes}>{text}</d:depth>"
    held = f"<d:TrackPointExtension>{inner}</d:TrackPointExtension>" if wrapped else inner
    return f"<extensions>{held}</extensions>"


def track(*points):
    return f"<trk><name>a</name><trkseg>{''.join(points)}</trkseg></trk>"


def read(tmp_path, *parts, **asked):
    path, tally = tmp_path / "track.gpx", Tally()
    path.write_text(HEAD + "".join(parts) + TAIL, encoding="utf-8")
    return list(gpx_rows(path, Asked(**asked), tally)), tally


def test_depths_of_tracks_routes_and_waypoints(tmp_path):
    rows, tally = read(
        tmp_path,
        point(depth("1.5"), tag="wpt"),
        track(
            point("<time>2025-06-14T23:30:00-04:00</time>" + depth("2.5", wrapped=True)),
            point("<ele>7</ele>" + depth("10", ' unit="ft"')),
            point("<ele>7</ele>"),
        ),
        f"<rte>{point(depth('4'), tag='rtept')}</rte>",
    )
    assert [round(row.read_m, 9) for row in rows] == [1.5, 2.5, 3.048, 4.0]
    # 23:30 four hours west of Greenwich is the next day there
    assert [row.day for row in rows] == [0, date(2025, 6, 15).toordinal(), 0, 0]
    assert [row.line for row in rows] == [1, 2, 3, 5]
    assert [(one.count, one.words, one.first) for one in tally.left()] == [
        (1, "a point without a depth", "point 4")
    ]


def test_a_unit_that_the_user_knows(tmp_path):
    rows, _ = read(tmp_path, track(point(depth("10"))), depth_unit="ft", day=date(2025, 6, 1))
    assert (rows[0].read_m, rows[0].day) == (pytest.approx(3.048), date(2025, 6, 1).toordinal())


def test_points_that_cannot_be_read(tmp_path):
    rows, tally = read(
        tmp_path,
        track(
            point(depth("deep")), point(depth("inf")), point(depth("3", ' unit="ell"')),
            point(depth("3"), lat="91"), point(depth("3"), lon="west"),
        ),
    )  # fmt: skip
    assert rows == []
    (left,) = tally.left()
    assert (left.count, left.first) == (5, "point 1: depth 'deep' is no number")


def test_segments_are_numbered_and_names_kept(tmp_path):
    path = tmp_path / "a.gpx"
    path.write_text(
        HEAD
        + point("<name> float 3 </name>", tag="wpt")
        + track(point(""))
        + track(point(""))
        + TAIL,
        encoding="utf-8",
    )
    found = list(gpx_points(path))
    assert [(one.of, one.part, one.name) for one in found] == [
        ("waypoint", 0, "float 3"), ("track", 1, ""), ("track", 2, ""),
    ]  # fmt: skip


BOMB = (
    '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY {chr(98 + k)} "{"&" + chr(97 + k) + ";" * 10}">' for k in range(8))
    + "]><gpx><wpt lat='41' lon='-37'><name>&i;</name></wpt></gpx>"
)
OUTSIDE = (
    '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
    "<gpx><wpt lat='41' lon='-37'><name>&x;</name></wpt></gpx>"
)
ELSEWHERE = '<?xml version="1.0"?><!DOCTYPE gpx SYSTEM "http://example.org/gpx.dtd"><gpx></gpx>'


@pytest.mark.parametrize("text", [BOMB, OUTSIDE, ELSEWHERE])
def test_entities_and_document_types_are_refused(tmp_path, text):
    path = tmp_path / "bomb.gpx"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInputError, match=r"bomb\.gpx: .*entities or a document type"):
        list(gpx_points(path))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEAD, "broken XML"),
        ("<gpx><trk></gpx>", "broken XML"),
        ("<kml></kml>", "no GPX: it begins with <kml>"),
        ('<?xml version="1.0" encoding="nowhere"?><gpx></gpx>', "broken XML|encoding"),
        ('<?xml version="1.0" encoding="shift_jis"?><gpx></gpx>', "broken XML|encoding"),
    ],
)
def test_broken_files(tmp_path, text, said):
    path = tmp_path / "broken.gpx"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInputError, match=said):
        list(gpx_points(path))


def test_memory_does_not_grow_with_the_track(tmp_path):
    def peak(count):
        path = tmp_path / f"{count}.gpx"
        with path.open("w", encoding="utf-8") as file:
            file.write(HEAD + "<trk><trkseg>")
            for _ in range(count):
                file.write(point("<ele>1</ele>" + depth("3")))
            file.write("</trkseg></trk>" + TAIL)
        tracemalloc.start()
        try:
            assert sum(1 for _ in gpx_points(path)) == count
            return tracemalloc.get_traced_memory()[1]
        finally:
            tracemalloc.stop()

    small = peak(1_000)
    assert peak(10_000) < small + 200_000  # ten times the points would be megabytes
