"""The points of a GPX file, one at a time: tracks, routes and waypoints with what they carry."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, Literal

from lakemap.basis.errors import BadInputError
from lakemap.gathering.lines import refused

_POINTS: Final[Mapping[str, Literal["track", "route", "waypoint"]]] = MappingProxyType(
    {"trkpt": "track", "rtept": "route", "wpt": "waypoint"}
)
_DEPTH: Final = re.compile(r"(?:water_?)?depth(?:_?(ft|feet|m|metres|meters))?")
_UNIT_NAMES: Final = ("unit", "units", "uom")  # attributes by which files name a unit
_DEEPEST: Final = 100  # elements in one another; no GPX file comes near


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One point, as written."""

    of: Literal["track", "route", "waypoint"]
    part: int  # which track segment, route or (for waypoints) 0, counted from 1
    line: int = 0  # which track or route, all its segments; for waypoints 0; counted from 1
    lat: str
    lon: str
    time: str = ""
    name: str = ""
    comment: str = ""
    description: str = ""
    kind: str = ""  # its `type`
    depth: str = ""  # from its extensions
    unit: str = ""  # of the depth, where an attribute or the element's name tells it
    extensions: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


def gpx_points(path: Path) -> Iterator[Point]:
    """Read a GPX file's points in bounded memory.

    Parameters
    ----------
    path : Path
        The file.

    Yields
    ------
    Point
        In the file's order.

    Raises
    ------
    BadInputError
        If it is broken XML, no GPX, or declares a document type or an entity, which could blow up
        or read other files.
    """
    from xml.etree.ElementTree import ParseError  # noqa: PLC0415 - the name of an error only

    from defusedxml import DefusedXmlException  # noqa: PLC0415 - only for XML
    from defusedxml.ElementTree import iterparse  # noqa: PLC0415

    try:
        with path.open("rb") as file:
            yield from _points(iterparse(file, events=("start", "end"), forbid_dtd=True), path)
    except DefusedXmlException:
        text = "the file defines entities or a document type, which is refused; export it again"
        raise refused(path, "unsafe_xml", text) from None
    except ParseError as error:
        text = f"the file is broken XML: {error}; export it again"
        raise refused(path, "bad_xml", text) from None
    except BadInputError:
        raise
    except (LookupError, ValueError):  # an encoding that nobody knows
        text = "the file's encoding can't be read; export it again as UTF-8"
        raise refused(path, "bad_xml", text) from None
    except OSError as error:
        text = f"the file can't be read: {error.strerror}"
        raise refused(path, "file_unreadable", text) from None


def _points(events: Iterator[tuple[str, Any]], path: Path) -> Iterator[Point]:
    """Points as their elements end; an element that has ended is let go."""
    open_elements: list[Any] = []
    part = line = 0
    for event, element in events:
        if event == "start":
            name = _local(element.tag)
            if not open_elements and name != "gpx":
                raise refused(path, "not_gpx", f"the file is no GPX: it begins with <{name[:40]}>")
            if len(open_elements) == _DEEPEST:
                text = f"its elements lie deeper than {_DEEPEST} in one another; export it again"
                raise refused(path, "unsafe_xml", text)
            part += name in {"trkseg", "rte"}
            line += name in {"trk", "rte"}
            open_elements.append(element)
            continue
        open_elements.pop()
        name = _local(element.tag)
        if name in _POINTS:
            yield _point(element, _POINTS[name], (part, line))
        if open_elements and not any(_local(one.tag) in _POINTS for one in open_elements):
            open_elements[-1].remove(element)


def _local(tag: object) -> str:
    """Name without its namespace."""
    return str(tag).rpartition("}")[2].lower()


def _point(  # of an element, and which part and line it stands in
    element: Any,  # noqa: ANN401 - an element
    of: Literal["track", "route", "waypoint"],
    place: tuple[int, int],
) -> Point:
    plain = {_local(one.tag): (one.text or "").strip() for one in element}
    carried = [
        one
        for inner in element
        if _local(inner.tag) == "extensions"
        for one in inner.iter()
        if (one.text or "").strip()
    ]
    depth = next((one for one in carried if _DEPTH.fullmatch(_local(one.tag))), None)
    return Point(
        of=of,
        part=0 if of == "waypoint" else place[0],
        line=0 if of == "waypoint" else place[1],
        lat=element.get("lat", ""),
        lon=element.get("lon", ""),
        time=plain.get("time", ""),
        name=plain.get("name", ""),
        comment=plain.get("cmt", ""),
        description=plain.get("desc", ""),
        kind=plain.get("type", ""),
        depth="" if depth is None else depth.text.strip(),
        unit="" if depth is None else _unit_of(depth),
        extensions=MappingProxyType({_local(one.tag): one.text.strip() for one in carried}),
    )


def _unit_of(depth: Any) -> str:  # noqa: ANN401 - an element
    told = [str(depth.get(name)).strip() for name in _UNIT_NAMES if depth.get(name)]
    found = _DEPTH.fullmatch(_local(depth.tag))
    return next(iter(told), (found and found[1]) or "")
