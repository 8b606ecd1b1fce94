"""Lines of bearing on a small map: from the float to a mark that can be seen."""

from dataclasses import dataclass
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import figure
from lakemap.mapping import AssessedFloat
from lakemap.outputs.drawn.paper import INK, Sheet
from lakemap.outputs.sheets.map_words import Words
from lakemap.outputs.sheets.numbers import far_text
from lakemap.outputs.words.texts import Texts
from lakemap.season.facts.place_facts import MarkSight

MARK_LETTERS: Final = ("A", "B")
_WORDS: Final = 11.0  # px


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """One line of bearing on the map."""

    mark: MarkSight
    letter: str
    start: tuple[float, float]  # the float's primary [px]
    end: tuple[float, float]  # where it ends on the map [px]
    inside: bool  # the mark itself is seen

    @classmethod
    def to(cls, mark: MarkSight, letter: str, one: AssessedFloat, sheet: Sheet) -> "Sight":
        """Return the line to a mark, cut off at the frame."""
        x, y = sheet.xy(one.x_m, one.y_m)
        mx, my = sheet.xy(mark.x_m, mark.y_m)
        share = min(
            _share(x, mx, sheet.width),
            _share(y, my, sheet.height),
            1.0,
        )
        end = (x + (mx - x) * share, y + (my - y) * share)
        return cls(mark=mark, letter=letter, start=(x, y), end=end, inside=share == 1.0)

    def svg(self) -> str:
        """Return line and mark."""
        x, y = self.end
        line = (
            f'<path d="M{self.start[0]:.1f} {self.start[1]:.1f}L{x:.1f} {y:.1f}"'
            f' fill="none" stroke="{INK}"'
            ' stroke-width="1.1" stroke-dasharray="9 3 2 3"/>'
        )
        if not self.inside:
            return line
        return (
            f'{line}<circle cx="{x:.1f}" cy="{y:.1f}" r="4.2" fill="#fff" stroke="{INK}"'
            f' stroke-width="1.5"/><circle cx="{x:.1f}" cy="{y:.1f}" r="1.4" fill="{INK}"/>'
        )

    def keep_off(self, words: Words) -> None:
        """Keep words off line and mark."""
        words.keep_off_line([self.start, self.end])
        words.keep_off((*self.end, 6.0))

    def words(self, words: Words, units: Units, texts: Texts) -> str:
        """Return its letter, and how it lies from the float; the page says what it is."""
        off = far_text(self.mark.distance_m, units)
        degrees = figure(self.mark.to_mark_deg % 360, digits=0).zfill(3)
        bearing = texts.of("sheet_frame.bearing", bearing=degrees, far=off)
        return words.about([self.letter, bearing], self.end, size=_WORDS, off=7.0)


def _share(start: float, end: float, room: float) -> float:
    """How much of the way from inside a frame to a point lies inside it, along one side."""
    if end < 0:
        return start / (start - end)
    if end > room:
        return (room - start) / (end - start)
    return 1.0
