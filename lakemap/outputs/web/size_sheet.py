"""One float's sizing as one picture: side views, pull and reach, open water, the main figures."""

import textwrap
from html import escape
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import force_text, length_text, measure_text, speed_text
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.placer import INK
from lakemap.outputs.drawn.pull_plot import pull_plot_svg
from lakemap.outputs.drawn.rose import rose_says, rose_svg
from lakemap.outputs.drawn.side_view import side_view_svg
from lakemap.outputs.drawn.storm_view import storm_view_svg
from lakemap.outputs.web.panel_rig import side_view_of
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.pulls import used_text
from lakemap.sizing.records import RigPictures

_WIDTH: Final = 800
_HALF: Final = 376
_GAP: Final = 16
_LETTERS: Final = 104  # in a line across the sheet
_LEVELS: Final = ("low", "normal", "high")
_SETTLED: Final = "Settled in"


def size_sheet_svg(one: AssessedFloat, assessment: Assessment) -> str:
    """Return the sizing of one float as a standalone SVG; its owner is not on it.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        Of the field.

    Returns
    -------
    str
        SVG; what is not known is left out.
    """
    at = [other.at for other in assessment.floats].index(one.at)
    pictures = assessment.rig_pictures()[at]
    sheet = _Sheet()
    sheet.words(f"Float {one.record.float_id}", size=26, bold=True)
    sheet.words(_under(one, assessment))
    sheet.pair(*_views(one, assessment, pictures))
    sheet.pair(*_levels(one, assessment, pictures))
    units = assessment.field.settings.units
    # an outline that is only a guess has no open water worth drawing
    rose = None if assessment.field.lake_is_rough else pictures.rose
    sheet.pair(
        None
        if pictures.curve is None
        else ("Pull and reach, normal water", pull_plot_svg(pictures.curve, units=units)),
        None
        if rose is None
        else (
            "Open water around it",
            rose_svg(rose, assessment.water, (one.x_m, one.y_m), units=units),
        ),
    )
    if rose is not None:
        sheet.words(rose_says(rose, units))
    sheet.rows(_figures(one, units))
    for text in _sentences(one, assessment):
        sheet.words(text)
    sheet.words(closing_line(), bold=True)
    return sheet.svg(f"The sizing of float {one.record.float_id}")


class _Sheet:
    """Pictures and lines of text, from top to bottom."""

    def __init__(self) -> None:
        self._y = 20.0
        self._parts: list[str] = []

    def words(self, text: str, *, size: int = 13, bold: bool = False) -> None:
        """Add a paragraph."""
        weight = ' font-weight="700"' if bold else ""
        for line in textwrap.wrap(text, _LETTERS * 13 // size):
            self._y += size + 6
            self._parts.append(
                f'<text x="{_GAP}" y="{self._y:g}" font-size="{size}" fill="{INK}"{weight}>'
                f"{escape(line)}</text>"
            )

    def rows(self, rows: list[tuple[str, str]]) -> None:
        """Add names with their figures, in two columns."""
        if not rows:
            return
        self._y += 8
        deep = -(-len(rows) // 2)
        for k, (name, value) in enumerate(rows):
            column, row = divmod(k, deep)
            x, y = _GAP + column * (_HALF + _GAP), self._y + 20 * (row + 1)
            self._parts.append(
                f'<text x="{x}" y="{y:g}" font-size="13" fill="#46565F">{escape(name)}</text>'
                f'<text x="{x + _HALF}" y="{y:g}" font-size="13" font-weight="700" fill="{INK}"'
                f' text-anchor="end">{escape(value)}</text>'
            )
        self._y += 20 * deep + 8

    def pair(self, *pictures: tuple[str, str] | None) -> None:
        """Add pictures side by side, each under its title."""
        shown = [picture for picture in pictures if picture is not None]
        if not shown:
            return
        self._y += 26
        tallest = 0.0
        for k, (title, svg) in enumerate(shown):
            x = _GAP + k * (_HALF + _GAP)
            width, height = _box(svg)
            scaled = height * _HALF / width
            tallest = max(tallest, scaled)
            self._parts.append(
                f'<text x="{x}" y="{self._y:g}" font-size="14" font-weight="700" fill="{INK}">'
                f"{escape(title)}</text>"
            )
            place = f'<svg x="{x}" y="{self._y + 8:g}" width="{_HALF}" height="{scaled:.1f}"'
            self._parts.append(svg.replace("<svg", place, 1))
        self._y += tallest + 12

    def svg(self, label: str) -> str:
        """Return the whole."""
        height = self._y + 20
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height:g}"'
            f' width="{_WIDTH}" height="{height:g}" role="img" font-family="system-ui, sans-serif"'
            f' aria-label="{escape(label)}"><rect width="{_WIDTH}" height="{height:g}"'
            f' fill="#fff"/>{"".join(self._parts)}</svg>\n'
        )


def _box(svg: str) -> tuple[float, float]:
    """Width and height of a picture, from its view box."""
    _, _, width, height = svg.partition('viewBox="')[2].partition('"')[0].split()
    return float(width), float(height)


def _under(one: AssessedFloat, assessment: Assessment) -> str:
    settings = assessment.field.settings
    units, storm = settings.units, one.sizing.storm
    deck = " by ".join(
        length_text(side, units) for side in (one.record.length_m, one.record.width_m)
    )
    parts = [
        f"deck {deck}",
        "" if one.riser_m is None else f"riser {measure_text(one.riser_m, units)}",
        "" if one.ground_m is None else f"ground chain {measure_text(one.ground_m, units)}",
        "" if storm.wind_m_s is None else f"storm {speed_text(storm.wind_m_s, units)}",
        settings.name,
    ]
    return ", ".join(part for part in parts if part)


def _storm_at(
    one: AssessedFloat, assessment: Assessment, pictures: RigPictures, level: int
) -> tuple[str, str] | None:
    view, state = side_view_of(one, level), pictures.storm[level]
    if view is None or state is None:
        return None
    svg = storm_view_svg(
        view,
        state,
        wave_m=one.sizing.storm.wave_height_max_m or 0.0,
        mean_n=one.sizing.loads_n.mean or 0.0,
        units=assessment.field.settings.units,
    )
    return f"From the side, storm, {_LEVELS[level]} water", svg


def _views(
    one: AssessedFloat, assessment: Assessment, pictures: RigPictures
) -> tuple[tuple[str, str] | None, ...]:
    view = side_view_of(one, 1)
    calm = None
    if view is not None:
        svg = side_view_svg(view, units=assessment.field.settings.units)
        calm = ("From the side, calm, normal water", svg)
    return calm, _storm_at(one, assessment, pictures, 1)


def _levels(
    one: AssessedFloat, assessment: Assessment, pictures: RigPictures
) -> tuple[tuple[str, str] | None, ...]:
    return tuple(_storm_at(one, assessment, pictures, level) for level in (0, 2))


def _figures(one: AssessedFloat, units: Units) -> list[tuple[str, str]]:
    """The main figures that are known: loads rounded up, what is left of strength down."""
    sizing = one.sizing
    loads, storm, primary = sizing.loads_n, sizing.storm, sizing.primary
    forces = {
        "Steady pull": loads.mean,
        "Gust on the float": loads.gust,
        "Highest pull, an upper bound": loads.peak,
        "Primary pulled up": primary.uplift_n,
        "Primary, weight in water": primary.wet_n,
        "Secondary, weight in water": sizing.secondary.wet_n,
    }
    lengths = {
        "Highest wave": storm.wave_height_max_m,
        "Swing circle, low water": one.swing_radius_m[0],
    }
    rows = [
        (name, force_text(value, units, rounding="down" if "weight" in name else "up"))
        for name, value in forces.items()
        if value is not None
    ]
    rows += [
        (name, length_text(value, units, rounding="up"))
        for name, value in lengths.items()
        if value is not None
    ]
    deck = length_text(sizing.float.freeboard_m, units, rounding="down")
    return [*rows, ("Deck above water", deck)]


def _weakest(one: AssessedFloat) -> list[str]:
    weak = one.sizing.line.weakest
    if weak is None or weak.used is None:
        return []
    share = used_text(weak.used, unknown="")
    return [
        f"Weakest part: {weak.name} {weak.size}, {share} of its working strength used by the"
        " highest pull."
    ]


def _sentences(one: AssessedFloat, assessment: Assessment) -> list[str]:
    """The three answers, kept apart, and the cautions."""
    answers = assessment.answers(one)
    return [
        *_weakest(one),
        f"By practice: {answers.practice}",
        f"Lying on the bed: {answers.unburied}",
        answers.buried if answers.buried.startswith(_SETTLED) else f"{_SETTLED}: {answers.buried}",
        *one.sizing.cautions,
    ]
