"""What each reading goes through: correction, sense, water, its neighbours, thinning."""

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from lakemap.basis.records import BoolArray, Field, FloatArray, Geometry
from lakemap.basis.wording import length_text
from lakemap.gathering.batches import Batch
from lakemap.gathering.lines import Tally
from lakemap.gathering.odd_ones import odd_ones
from lakemap.gathering.records import EVERY_M, Asked
from lakemap.gathering.thinning import Kept, Thinner
from lakemap.lake.projection import LakeProjection
from lakemap.lake.water import inside

_DEEP_TIMES: Final = 3.0  # ours: times the deepest sounding that is known
_DEEP_LEAST_M: Final = 30.0  # ours: no depth up to here is beyond belief
_DEEP_UNKNOWN_M: Final = 100.0  # ours: where nobody has sounded yet
_CONTEXT: Final = 512  # soundings of the batch before, as neighbours
_MOST_SHOWN: Final = 1_000  # odd ones that are remembered


class OddOne(NamedTuple):
    """A sounding far from those around it."""

    kept: Kept
    around_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lake:
    """What soundings are held against."""

    field: Field
    projection: LakeProjection
    water: Geometry  # metres
    deepest_m: float  # beyond it a depth isn't believed

    @classmethod
    def of(cls, field: Field) -> "Lake":
        """Project a field's lake.

        Parameters
        ----------
        field : Field
            As read.

        Returns
        -------
        Lake
            About its own centre.
        """
        projection = LakeProjection.centred_on(field.lake)
        deepest = _DEEP_UNKNOWN_M
        if field.soundings is not None:
            deepest = max(_DEEP_LEAST_M, _DEEP_TIMES * float(field.soundings.depth_m.max()))
        return cls(
            field=field,
            projection=projection,
            water=projection.project(field.lake),
            deepest_m=deepest,
        )


class Sieve:
    """Takes the batches of one file, and holds what is left of them.

    Parameters
    ----------
    lake : Lake
        Where they are to lie.
    asked : Asked
        Of `gather`.
    tally : Tally
        Gains what is left out.
    place : str
        What the file counts by: `line` or `point`.
    """

    def __init__(self, lake: Lake, asked: Asked, tally: Tally, *, place: str = "line") -> None:
        self._lake = lake
        self._asked = asked
        self._tally = tally
        self.place = place
        usual = EVERY_M[lake.field.settings.units]
        self.every_m = usual if asked.every_m is None else asked.every_m
        self._thinner = Thinner(self.every_m)
        self._before_xy: FloatArray = np.empty((0, 2))
        self._before_m: FloatArray = np.empty(0)
        self.odd: list[OddOne] = []  # the first of them
        self.odd_count = 0
        self.sound_count = 0  # good ones, before thinning
        self.seen = 0  # all that were read
        self.astray: FloatArray = np.empty((0, 2))  # lon, lat of the first outside the lake

    def take(self, batch: Batch) -> None:
        """Sieve some readings.

        Parameters
        ----------
        batch : Batch
            As read.
        """
        asked = self._asked
        scale = (asked.sound_speed_m_s or asked.sounder_speed_m_s) / asked.sounder_speed_m_s
        below = np.nan_to_num(batch.below_m, nan=0.0)
        depth = batch.read_m * scale + below
        self.seen += len(batch)
        good = self._sensible(batch, depth)
        xy = np.column_stack(self._lake.projection.to_xy(batch.lon, batch.lat))
        wet = inside(self._lake.water, xy)
        self._leave(batch, depth, good & ~wet, "outside the lake's outline")
        if not len(self.astray):
            self.astray = np.column_stack([batch.lon, batch.lat])[good & ~wet]
        good &= wet
        index = np.flatnonzero(good)
        kept = [
            Kept(*row)
            for row in zip(
                batch.lon[index].tolist(),
                batch.lat[index].tolist(),
                depth[index].tolist(),
                batch.line[index].tolist(),
                batch.day[index].tolist(),
                strict=True,
            )
        ]
        self._thin(xy[index], depth[index], kept)

    def _sensible(self, batch: Batch, depth: FloatArray) -> BoolArray:
        """Tell the depths that can be one."""
        units, deepest = self._lake.field.settings.units, self._lake.deepest_m
        lost = ~(batch.read_m > 0)
        self._leave(
            batch, batch.read_m, lost, "a depth of 0 or less: the sounder had lost the bottom"
        )
        deep = ~lost & ~(depth <= deepest)
        words = f"deeper than {length_text(deepest, units)}, beyond belief here"
        self._leave(batch, depth, deep, words)
        good: BoolArray = ~lost & ~deep
        return good

    def _leave(self, batch: Batch, depth: FloatArray, out: BoolArray, words: str) -> None:
        index = np.flatnonzero(out)
        if index.size:
            k = int(index[0])
            units = self._lake.field.settings.units
            where = f"{batch.lat[k]:.5f},{batch.lon[k]:.5f}"
            first = f"{self.place} {batch.line[k]}: {length_text(depth[k], units)} at {where}"
            self._tally.leave(words, first, int(index.size))

    def _thin(self, xy: FloatArray, depth: FloatArray, kept: list[Kept]) -> None:
        """Take out the odd ones and thin the rest."""
        if not kept:
            return
        near_xy, near_m = np.vstack([self._before_xy, xy]), np.append(self._before_m, depth)
        found = odd_ones(near_xy, near_m, tested=len(kept))
        self._before_xy, self._before_m = near_xy[-_CONTEXT:], near_m[-_CONTEXT:]
        odd = np.flatnonzero(found.odd).tolist()
        self.odd_count += len(odd)
        room = _MOST_SHOWN - len(self.odd)
        self.odd += [OddOne(kept[k], float(found.around_m[k])) for k in odd[:room]]
        stay = np.ones(len(kept), dtype=bool) if self._asked.keep_outliers else ~found.odd
        self.sound_count += int(stay.sum())
        self._thinner.take(xy[stay], [one for one, is_in in zip(kept, stay, strict=True) if is_in])

    def result(self) -> tuple[list[Kept], int]:
        """Return what is kept, in the order of the file, and how many of it are shoals."""
        found = list(self._thinner.kept())
        return [one for one, _ in found], sum(is_shoal for _, is_shoal in found)
