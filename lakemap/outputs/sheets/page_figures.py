"""The drawings of a sheet's pages, made when a page asks for them."""

from dataclasses import replace
from functools import cached_property
from typing import Final

from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.scene import Scene, build_scene
from lakemap.outputs.drawn.side_view import side_view_svg
from lakemap.outputs.sheets.blocks import Figure
from lakemap.outputs.sheets.hung_view import HungView, hung_svg
from lakemap.outputs.sheets.map_sights import MARK_LETTERS
from lakemap.outputs.sheets.small_map import around_svg
from lakemap.outputs.sheets.tow_map import tow_svg
from lakemap.outputs.web.panel_rig import side_view_of
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.season.facts.lifting import Hung, LiftingFacts
from lakemap.season.facts.setting import SettingFacts

_NORMAL: Final = 1
_LETTERS: Final = 19.0  # px of 520: read where the drawing is half as wide


class Figures:
    """Draws for one field's pages; what is the same on all of them is made once.

    `share` is always that of the column's width. Words in the drawings are read from about 220 pt
    of printed width on: a whole page is 550 pt wide, so give them 0.4 of it.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    texts : Texts
        Of the language.
    """

    def __init__(self, assessment: Assessment, *, texts: Texts = ENGLISH) -> None:
        self._say = texts.of
        self._texts = texts
        self._assessment = assessment
        self._units = assessment.field.settings.units

    @cached_property
    def _scene(self) -> Scene:
        return build_scene(self._assessment)

    def surroundings(
        self, one: AssessedFloat, facts: SettingFacts | None, *, share: float = 1.0
    ) -> Figure:
        """Return the small map about a float.

        Parameters
        ----------
        one : AssessedFloat
            Of the field.
        facts : SettingFacts or None
            For the two marks, lettered A and B, and their lines of bearing; None: without.
        share : float
            Of the column's width.

        Returns
        -------
        Figure
            With a caption that says what the lines mean.
        """
        marks = () if facts is None else facts.place.marks
        svg = around_svg(self._assessment, self._scene, one, marks, texts=self._texts)
        name = one.record.float_id
        alt = [self._say("sheet_frame.around", float=name)]
        alt += [
            self._say("sheet_frame.sight", letter=letter, mark=mark.name)
            for letter, mark in zip(MARK_LETTERS, marks, strict=False)
        ]
        caption = [self._say("sheet_frame.caption")]
        if marks:
            caption.append(self._say("sheet_frame.caption_marks"))
        return Figure(svg=svg, alt=" ".join(alt), caption=" ".join(caption), share=share)

    def side(
        self, one: AssessedFloat, level_m: float | None, *, share: float = 1.0
    ) -> Figure | None:
        """Return the rig from the side in calm water.

        Parameters
        ----------
        one : AssessedFloat
            Of the field.
        level_m : float or None
            The lake on its own gauge that day; None: normal.
        share : float
            Of the column's width.

        Returns
        -------
        Figure or None
            None where depth or lengths are not known.
        """
        view = side_view_of(one, _NORMAL)
        if view is None:
            return None
        rise = 0.0 if level_m is None else level_m - self._assessment.field.settings.levels.normal_m
        low, normal, high = view.depth_m
        shown = replace(view, depth_m=(low, normal + rise, high))
        if shown.depth_m[1] <= 0:
            return None
        return Figure(
            svg=side_view_svg(shown, units=self._units, letters=_LETTERS),
            alt=self._say("sheet_frame.side", float=one.record.float_id),
            share=share,
        )

    def tow(self, one: AssessedFloat, facts: LiftingFacts, *, share: float = 1.0) -> Figure | None:
        """Return the map of the way to the ramp.

        Parameters
        ----------
        one : AssessedFloat
            Of the field.
        facts : LiftingFacts
            For its way.
        share : float
            Of the column's width.

        Returns
        -------
        Figure or None
            None where no way is known.
        """
        if facts.tow is None or not facts.tow.route_xy:
            return None
        return Figure(
            svg=tow_svg(self._assessment, self._scene, one, facts.tow, texts=self._texts),
            alt=self._say("sheet_frame.tow", float=one.record.float_id, target=facts.tow.target),
            share=share,
        )

    def hung(self, one: AssessedFloat, facts: LiftingFacts, *, share: float = 1.0) -> Figure | None:
        """Return the float from the side with what it carries hung under it, nobody aboard.

        Parameters
        ----------
        one : AssessedFloat
            Of the field.
        facts : LiftingFacts
            How deep it then lies.
        share : float
            Of the column's width.

        Returns
        -------
        Figure or None
            None where it does not float so, or that is not known.
        """
        tow = facts.tow
        if tow is None:
            return None
        empty = next(
            (hung for hung in facts.hung if (hung.crew, hung.under) == (0, tow.under)), None
        )
        if empty is None or empty.draft_m is None or empty.hook_depth_m is None:
            return None
        float_ = one.sizing.float
        view = HungView(
            deck_m=max(one.record.length_m, one.record.width_m),
            height_m=float_.draft_m + float_.freeboard_m,
            float_draft_m=empty.draft_m,
            hook_depth_m=empty.hook_depth_m,
            lowest_m=tow.draft_m,
            bed_m=tow.shallowest_m,
            under=empty.under,
        )
        return Figure(
            svg=hung_svg(view, units=self._units, texts=self._texts),
            alt=self._say(f"sheet_frame.hung_{empty.under}", float=one.record.float_id),
            share=share,
        )


def _nobody_aboard(facts: LiftingFacts, under: str) -> Hung | None:
    return next((hung for hung in facts.hung if hung.crew == 0 and hung.under == under), None)
