"""The answer to a drawing: what is wrong with it, how large things are, what floats feel of it."""

from dataclasses import dataclass
from typing import Any, Final

import shapely

from lakemap.assessment import Assessment
from lakemap.basis.errors import BadInputError
from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Units
from lakemap.basis.wording import area_text, figure, length_text
from lakemap.lake.water import parts
from lakemap.planner.ground_drawing import Drawing, Finding, findings_json
from lakemap.planner.ground_effect import (
    corner_lines,
    effect_json,
    is_same,
    with_lake,
    with_zones,
    zones_of,
)
from lakemap.planner.ground_shapes import Assembled, assemble

_ACRE_FT2, _HECTARE_M2 = 43_560.0, 10_000.0
_ORDER: Final = ("low", "normal", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """A drawing, looked through."""

    drawing: Drawing
    assembled: Assembled
    findings: tuple[Finding, ...]
    lake_changed: bool  # the shore or an island of a field that stands

    @property
    def stops(self) -> list[Finding]:
        """What has to be mended before it can be saved."""
        return [one for one in self.findings if one.stops]


def look_through(drawing: Drawing, before: Assessment | None) -> Checked:
    """Look for what is wrong with a drawing.

    Parameters
    ----------
    drawing : Drawing
        As the page sent it.
    before : Assessment or None
        Of the field that stands already.

    Returns
    -------
    Checked
        With its geometry.
    """
    assembled = assemble(drawing)
    found = [*assembled.findings, *_levels(drawing)]
    if not drawing.of_kind("outline"):
        found.append(Finding(text="the outline of the lake is missing", step="outline"))
    changed = before is not None and _lake_changed(drawing, before)
    return Checked(
        drawing=drawing, assembled=assembled, findings=tuple(found), lake_changed=changed
    )


def check_answer(drawing: Drawing, before: Assessment | None) -> dict[str, Any]:
    """Return what the page shows of a drawing while it is drawn.

    Parameters
    ----------
    drawing : Drawing
        As the page sent it.
    before : Assessment or None
        Of the field that stands already.

    Returns
    -------
    dict
        `findings`, `sizes` in words by shape, `effect` on the floats (None: cannot be told).
    """
    checked = look_through(drawing, before)
    effect, findings = None, checked.findings
    if before is not None and _can_tell(checked):
        try:
            effect = effect_json(before, _after(checked, before))
        except BadInputError as error:
            findings += tuple(
                Finding(text=one.text, step="outline") for one in error.problems if one.fatal
            )
    return {
        "findings": findings_json(findings),
        "sizes": {
            key: _size_words(size, drawing.units) for key, size in checked.assembled.sizes.items()
        },
        "effect": effect,
    }


def _can_tell(checked: Checked) -> bool:
    """Tell whether the geometry stands; a depth that can't be read hinders nothing."""
    shown = {"outline", "islands", "areas"}
    has_water = checked.assembled.water is not None
    return has_water and not any(one.step in shown for one in checked.stops)


def _after(checked: Checked, before: Assessment) -> Assessment:
    if checked.lake_changed:
        return with_lake(before, checked.drawing, checked.assembled)
    return with_zones(before, zones_of(checked.assembled, checked.drawing, before.zones))


def _lake_changed(drawing: Drawing, before: Assessment) -> bool:
    """Tell whether shore or islands are other ones than the page was given, names aside."""
    shapes = drawing.of_kind("outline", "island")
    lines = [part for polygon in parts(before.water) for part in corner_lines(polygon)]
    if len(shapes) != len(lines):
        return True
    rings = [shapely.polygons(line) for line in lines]
    return not all(is_same(shape, ring) for shape, ring in zip(shapes, rings, strict=True))


def _levels(drawing: Drawing) -> list[Finding]:
    """Levels that don't rise from low to high, a gust below its mean."""
    found = []
    levels = drawing.levels_m
    given = [levels[key] for key in _ORDER if key in levels]
    if given != sorted(given):
        text = "low, normal and high water must rise in this order; up is +"
        found.append(Finding(text=text, step="levels"))
    told = any(one.step == "levels" for one in drawing.findings)
    missing = [key for key in _ORDER if key not in levels]
    if 0 < len(missing) < len(_ORDER) and not told:
        text = f"{' and '.join(missing)} water is missing; type all three, or none"
        found.append(Finding(text=text, step="levels"))
    storm = drawing.storm_m_s
    if "gust" in storm and "wind" not in storm and not told:
        found.append(Finding(text="type the wind's mean beside the gust", step="levels"))
    if "gust" in storm and storm["gust"] < storm.get("wind", 0.0):
        text = "the gust must not be below the mean wind"
        found.append(Finding(text=text, step="levels"))
    return found


def _size_words(size: dict[str, float], units: Units) -> dict[str, str]:
    return {
        "area": _area_words(size["area_m2"], units) if size["area_m2"] else "",
        "length": length_text(size["length_m"], units),
    }


def _area_words(square_metres: float, units: Units) -> str:
    """Acres or hectares from one on, else square feet or metres."""
    acre_m2 = _ACRE_FT2 * FOOT_M.value**2
    large, name = (acre_m2, "acres") if units == "ft-lb" else (_HECTARE_M2, "ha")
    if square_metres < large:
        return area_text(square_metres, units)
    return f"{figure(square_metres / large, digits=1)} {name}"
