"""The map library's own files, from the installed package."""

import re
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, files
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem

_PACKAGE = "django-js-lib-leaflet"
_RULE = re.compile(r"([^{}@]+)\{([^{}]*)\}")
_UNUSED = re.compile(
    r"(?:tile|marker|shadow|tooltip|popup)(?!-pane)|control|-bar|-icon|image-layer|oldie|vml|retina"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MapLibrary:
    """Script and style of the map library."""

    script: str
    style: str


def map_library() -> MapLibrary:
    """Read the map library from its installed package.

    Returns
    -------
    MapLibrary
        The style without its pictures, which the page does not use, so that nothing is fetched.

    Raises
    ------
    BadInputError
        If the package is not installed, or has no such files.
    """
    try:
        held = {path.name: Path(str(path.locate())) for path in files(_PACKAGE) or []}
        script = held["leaflet.js"].read_text(encoding="utf-8")
        style = held["leaflet.css"].read_text(encoding="utf-8")
    except (PackageNotFoundError, KeyError, OSError) as error:
        text = f"the package {_PACKAGE} is missing or broken: install lakemap again with pip"
        raise BadInputError([Problem(code="no_map_library", text=text)]) from error
    script = re.sub(r"//# sourceMappingURL=.*", "", script)
    style = _RULE.sub(_used, re.sub(r"/\*.*?\*/", "", style, flags=re.DOTALL))
    return MapLibrary(script=script, style=re.sub(r"url\([^)]*\)", "none", style))


def _used(rule: re.Match[str]) -> str:
    """A rule for what the pages have of the library: no tiles, markers, popups and buttons."""
    kept = [one.strip() for one in rule[1].split(",") if not _UNUSED.search(one)]
    return f"{','.join(kept)}{{{rule[2]}}}\n" if kept else ""
