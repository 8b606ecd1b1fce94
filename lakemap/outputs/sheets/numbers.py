"""Numbers as a sheet writes them: in the field's units, a line to write on where nobody knows."""

from dataclasses import dataclass
from math import isnan
from typing import Final

from lakemap.basis.quantities import FOOT_M, INCH_M
from lakemap.basis.records import Units
from lakemap.basis.wording import (
    Rounding,
    figure,
    length_text,
    length_unit,
    measure_text,
    weight_text,
)
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words.clearances import asked_text
from lakemap.outputs.words.levels_and_dates import compass_words, signed_text
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.rig.lift_weights import LiftWeight
from lakemap.season.facts.place_facts import DayDepths, PlaceFacts
from lakemap.season.facts.setting import MARKER_SLACK_M

BLANK: Final = "_______"  # a number that nobody knows: measured and written in by hand
_PLACES: Final = 6  # of degrees: a tenth of a metre, less than any fix


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetNumbers:
    """Writes one float's numbers; None is not known, and stays blank."""

    assessment: Assessment
    one: AssessedFloat
    texts: Texts = ENGLISH

    @property
    def units(self) -> Units:
        """Units of the field."""
        return self.assessment.field.settings.units

    def tape(self, metres: float | None) -> str:
        """Return a length as a tape shows it."""
        return BLANK if metres is None else measure_text(metres, self.units)

    def length(self, metres: float | None, *, rounding: Rounding = "nearest") -> str:
        """Return a length in tenths of a foot, or in centimetres."""
        return BLANK if metres is None else length_text(metres, self.units, rounding=rounding)

    def far(self, metres: float | None) -> str:
        """Return a distance over water: whole feet, or tenths of a metre."""
        return BLANK if metres is None else far_text(metres, self.units)

    def weight(self, newtons: float | None) -> str:
        """Return a weight as the scale of a hoist shows it, in air or in water; rounded up."""
        return BLANK if newtons is None else weight_text(newtons, self.units, rounding="up")

    def weight_at_least(self, newtons: float) -> str:
        """Return a weight that may still be added; rounded down."""
        return weight_text(newtons, self.units, rounding="down")

    def block(self, cluster: LiftWeight) -> str:
        """Return what one block of a cluster weighs out of the water; blank for other weights."""
        return self.weight(None if isnan(cluster.block_air_n) else cluster.block_air_n)

    def marker(self, depth_m: float | None) -> str:
        """Return how long a marker's line is: the depth and some slack."""
        return self.tape(None if depth_m is None else depth_m + MARKER_SLACK_M.value)

    def hand(self, metres: float) -> str:
        """Return a length told by eye: whole inches, or whole centimetres."""
        if self.units == "ft-lb":
            return f"{figure(metres / INCH_M.value, digits=0)} in"
        return f"{figure(metres * 100, digits=0)} cm"

    def bearing(self, degrees: float | None) -> str:
        """Return a true bearing: `083° E`."""
        if degrees is None:
            return BLANK
        whole = int(degrees + 0.5) % 360
        letters = compass_words(degrees, texts=self.texts, form="compass_letters")
        return f"{whole:03d}° {letters}"

    def spot(self, lon: float, lat: float) -> str:
        """Return a position as phones take it: LAT, LON."""
        return f"{lat:.{_PLACES}f}, {lon:.{_PLACES}f}"

    def grid(self, place: PlaceFacts) -> str:
        """Return a place in the lake's own grid: so far east and north of its middle."""
        east, north = ("E" if place.x_m >= 0 else "W"), ("N" if place.y_m >= 0 else "S")
        return self.texts.of(
            "sheet_any.grid",
            east=f"{self.far(abs(place.x_m))} {self._letter(east)}",
            north=f"{self.far(abs(place.y_m))} {self._letter(north)}",
        )

    def _letter(self, point: str) -> str:
        return self.texts.of(f"compass_letters.{4 * 'NESW'.index(point)}")

    def level(self, depths: DayDepths) -> str:
        """Return the level that depths are for: `normal level, 0 ft`, `−0.5 ft on the gauge`."""
        form = "level_normal" if depths.is_normal else "level_day"
        level = signed_text(depths.level_m, self.assessment)
        return self.texts.of(f"sheet_any.{form}", level=level)

    def deck(self) -> str:
        """Return length and width of the deck: `12 × 10 ft`."""
        sides = (self.one.record.length_m, self.one.record.width_m)
        long, wide = (asked_text(side, self.units).split()[0] for side in sides)
        return self.texts.of("about.deck", long=long, wide=wide, unit=length_unit(self.units))

    def chosen(self, *columns: str) -> str:
        """Return ` (designed)` or ` (assumed)` where the tool chose one of these; else nothing."""
        for word, names in (("designed", self.one.designed), ("assumed", self.one.assumed)):
            if set(columns) & set(names):
                return f" ({self.texts.of(f'chosen.{word}')})"
        return ""


def far_text(metres: float, units: Units) -> str:
    """Return a distance over water, such as `167 ft` or `50.8 m`.

    Parameters
    ----------
    metres : float
        Distance [m].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Whole feet, or tenths of a metre.
    """
    if units == "ft-lb":
        return f"{figure(metres / FOOT_M.value, digits=0)} ft"
    return f"{figure(metres)} m"
