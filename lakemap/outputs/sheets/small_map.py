"""The small map about one float: what lies round it, and two marks to find its place by."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.paper import box_is_free, north
from lakemap.outputs.drawn.picture_names import write_depths, write_names
from lakemap.outputs.drawn.scene import Scene
from lakemap.outputs.sheets.map_floats import (
    BLIND_M,
    faint_svg,
    keep_off_rig,
    neighbours,
    number_svg,
    own_number,
    own_ring,
    rig_svg,
)
from lakemap.outputs.sheets.map_grid import framed_svg
from lakemap.outputs.sheets.map_sights import MARK_LETTERS, Sight
from lakemap.outputs.sheets.map_view import (
    View,
    ground_svg,
    margin_boxes,
    named_scene,
    north_box,
    view_about,
    zone_rings,
)
from lakemap.outputs.sheets.map_words import Words
from lakemap.outputs.words.texts import Texts
from lakemap.season.facts.place_facts import MarkSight

WIDTH, HEIGHT = 290.0, 270.0  # px, of the map inside its frame
_ROOM: Final = 2.4  # of the swing radius, seen on each side at least
_LEAST_M: Final = 20.0
_AIR: Final = 1.16  # about what must be seen
_SMALLEST: Final = 34.0  # px, radius of the float's circle; a mark that makes it smaller lies off


def around_svg(
    assessment: Assessment,
    scene: Scene,
    one: AssessedFloat,
    marks: Sequence[MarkSight],
    *,
    texts: Texts,
) -> str:
    """Return the small map about a float.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    one : AssessedFloat
        In the middle of it all.
    marks : sequence of MarkSight
        Lettered A and B in this order; none where the place need not be found.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One SVG element; texts of files are escaped in it.
    """
    view = view_about(
        scene, _seen(one, marks), width=WIDTH, height=HEIGHT, prefix=f"around{one.at}"
    )
    sheet, units = view.sheet, assessment.field.settings.units
    sights = [
        Sight.to(mark, letter, one, sheet)
        for letter, mark in zip(MARK_LETTERS[: len(marks)], marks, strict=False)
    ]
    near = neighbours(assessment, one, sheet)
    rings = [own_ring(other, sheet) for other in near]
    corner = north_box(
        sheet,
        [
            own_ring(one, sheet),
            *rings,
            *zone_rings(view),
            *((*sight.end, 20.0) for sight in sights),
        ],
    )
    words = Words(sheet, [corner, *margin_boxes(sheet, 3.0)])
    keep_off_rig(words, one, assessment)
    for sight in sights:
        sight.keep_off(words)
    told = [own_number(words, one)]
    told += [sight.words(words, units, texts) for sight in sights]
    told += [number_svg(words, other) for other in near]
    inside = [
        ground_svg(view),
        *map(faint_svg, rings),
        *(sight.svg() for sight in sights),
        rig_svg(one, assessment, sheet),
        *names_svg(assessment, view, words),
        *told,
        north(sheet, box=corner),
    ]
    return framed_svg(
        view, "".join(inside), units=units, says=texts.of("sheet_frame.around_short"), texts=texts
    )


def _seen(one: AssessedFloat, marks: Sequence[MarkSight]) -> FloatArray:
    """Corners of what must be seen: the float with room about it, and marks that aren't far."""
    radius = one.swing_radius_m[0] or BLIND_M
    half = max(_ROOM * radius, _LEAST_M)
    points = [(one.x_m - half, one.y_m - half), (one.x_m + half, one.y_m + half)]
    for mark in sorted(marks, key=lambda mark: mark.distance_m):
        more = [*points, (mark.x_m, mark.y_m)]
        box = np.array(more)
        wide, high = (box.max(axis=0) - box.min(axis=0)).tolist()
        if radius * min(WIDTH / wide, HEIGHT / high) / _AIR >= _SMALLEST:
            points = more
    box = np.array(points)
    middle = (box.min(axis=0) + box.max(axis=0)) / 2
    aired: FloatArray = middle + (box - middle) * _AIR
    return aired


def names_svg(assessment: Assessment, view: View, words: Words) -> list[str]:
    """Return names of zones and depths along contours, where there is room left.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    view : View
        Of a piece of its lake.
    words : Words
        What is written already.

    Returns
    -------
    list of str
        SVG.
    """
    scene = named_scene(view)
    names = write_names(assessment.field, scene, view.sheet, taken=words.boxes, rings=words.rings)
    # one that must be written may lie partly outside the frame, where nothing is seen
    names = [one for one in names if box_is_free(one.box, (), (), view.sheet)]
    words.boxes += [one.box for one in names]
    depths = write_depths(scene, view.sheet, taken=words.boxes, rings=words.rings)
    words.boxes += [one.box for one in depths]
    return [one.svg for one in (*depths, *names)]
