"""The computed rig as the page takes it: strength, answers, candidates, pictures."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

import numpy as np
import shapely

from lakemap.basis.wording import length_text, measure_text
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.drawn_rig import SideView
from lakemap.outputs.drawn.placer import Point
from lakemap.outputs.drawn.scene import cm
from lakemap.outputs.drawn.side_view import calm_line
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.working_lines import Once, page_working
from lakemap.sizing.records import Candidate, LinePart, LineState, PullCurve, RigPictures, Rose

_FLAT_M: Final = 0.01  # a line drawn with fewer points stays as near to its true shape
_BY_ANGLE: Final = "eye bolt"  # its strength depends on the angle of the pull


@dataclass(frozen=True, slots=True)
class _Shared:
    """What many floats have alike, kept once: parts of lines, texts, bearings."""

    lines: Once = field(default_factory=Once)
    texts: Once = field(default_factory=Once)
    bearings: Once = field(default_factory=Once)


def rig_panels(
    assessment: Assessment, *, texts: Texts = ENGLISH
) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """Return what the page knows of the computed rigs.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    dict
        What all floats share: `working`, `lines` (parts of lines, hook to primary), `texts`,
        `bearings` (of open water).
    list of dict
        One for each float.
    """
    common, rows = page_working(assessment)
    shared = _Shared()
    floats = [
        {"w": row}
        | _panel(one, assessment, pictures, shared)
        | {"side": _side(one, assessment, pictures, texts)}
        for one, row, pictures in zip(
            assessment.floats, rows, assessment.rig_pictures(), strict=True
        )
    ]
    parts = [[part.split("|") for part in line.split("\n")] for line in shared.lines.texts]
    bearings = [[float(one) for one in line.split()] for line in shared.bearings.texts]
    whole = [[int(one) if one.is_integer() else one for one in line] for line in bearings]
    return {
        "working": common,
        "lines": parts,
        "texts": shared.texts.texts,
        "bearings": whole,
    }, floats


def _panel(
    one: AssessedFloat, assessment: Assessment, pictures: RigPictures, shared: _Shared
) -> dict[str, Any]:
    texts = shared.texts
    parts = one.sizing.line.parts
    answers = assessment.answers(one)
    weak = one.sizing.line.weak_link
    angle_known = any(state is not None for state in pictures.storm)
    return {
        "line": shared.lines.of("\n".join(f"{part.name}|{part.size}" for part in parts)),
        "limits": [_limit(part, angle_known=angle_known) for part in parts],
        "weak": -1 if weak is None else [part.name for part in parts].index(weak),
        "holds": [answers.practice, answers.unburied, answers.buried],
        "turns": [texts.of(text) for text in answers.changes],
        "takeCare": [
            texts.of(text)
            for text in (*one.sizing.cautions, *(_sentence(p.text) for p in one.problems))
        ],
        "ways": [_way(way, texts) for way in answers.candidates],
        "storm": _storm(one, pictures),
        "curve": None if pictures.curve is None else _curve(pictures.curve),
        "rose": None if pictures.rose is None else _rose(assessment, pictures.rose, shared),
    }


def _limit(part: LinePart, *, angle_known: bool) -> float | None:
    """What a part may carry [N]: None not published, 0 not known without the pull's angle."""
    if part.working_n is not None:
        return _few(part.working_n, 2)
    return 0 if part.name == _BY_ANGLE and not angle_known else None


def _few(value: float, digits: int = 1) -> float | int:
    """A number with no more digits than are shown."""
    rounded = round(value, digits)
    return int(rounded) if rounded.is_integer() else rounded


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"


def _way(way: Candidate, texts: Once) -> list[Any]:
    return [
        texts.of(way.name),
        texts.of(way.means),
        way.secondary_blocks,
        [None if value is None else _few(value) for value in way.uplift_n],
        None if way.peak_n is None else _few(way.peak_n),
        int(way.chosen),
        [[texts.of(one.what), texts.of(one.size), texts.of(one.because)] for one in way.choices],
    ]


def side_view_of(one: AssessedFloat, level: int) -> SideView | None:
    """Return what the views from the side are drawn from.

    Parameters
    ----------
    one : AssessedFloat
        Of an assessment.
    level : int
        0 low, 1 normal, 2 high water.

    Returns
    -------
    SideView or None
        None where something is unknown.
    """
    lengths = (one.hook_depth_m, one.riser_m, one.ground_m)
    depths = [depth for depth in one.depth_m if depth is not None]
    hook, riser, ground = (length or 0.0 for length in lengths)
    if len(depths) < len(one.depth_m) or None in lengths:
        return None
    float_ = one.sizing.float
    return SideView(
        depth_m=(depths[0], depths[level], depths[-1]),
        hook_depth_m=hook,
        riser_m=riser,
        ground_m=ground,
        deck_m=max(one.record.length_m, one.record.width_m),
        draft_m=float_.draft_m,
        height_m=float_.draft_m + float_.freeboard_m,
    )


def _side(
    one: AssessedFloat, assessment: Assessment, pictures: RigPictures, texts: Texts
) -> list[Any] | None:
    """Depths, deck, draft and height [cm], words, and the line in calm water at each level."""
    view = side_view_of(one, 1)
    if view is None or one.verdict is None:
        return None
    units = assessment.field.settings.units
    lines = []
    for depth, state in zip(one.depth_m, pictures.calm, strict=True):
        low, _, high = view.depth_m
        shown = replace(view, depth_m=(low, depth or 0.0, high))
        lines.append(_line(*calm_line(shown)) if state is None else _line_of(state))
    sizes = (*(depth or 0.0 for depth in one.depth_m), view.deck_m, view.draft_m, view.height_m)
    return [
        *(cm(size) for size in sizes),
        [texts.of("rig.side_depth", far=measure_text(d or 0.0, units)) for d in one.depth_m],
        texts.of("rig.side_riser", far=measure_text(view.riser_m, units)),
        texts.of("rig.side_ground", far=measure_text(view.ground_m, units)),
        lines,
    ]


def _storm(one: AssessedFloat, pictures: RigPictures) -> list[Any] | None:
    """Height of the highest wave [cm], and at each level line, tension, angle and uplift."""
    if all(state is None for state in pictures.storm):
        return None
    height = one.sizing.storm.wave_height_max_m
    return [
        0 if height is None else cm(height),
        [None if state is None else _state(state) for state in pictures.storm],
    ]


def _state(state: LineState) -> list[Any]:
    """The line, tension, angle, uplift; reach and lift to a tenth of a centimetre, to be told."""
    return [
        *_line_of(state),
        _few(state.hook_tension_n),
        _few(state.hook_angle_deg),
        _few(state.primary_uplift_n),
        _few(100 * state.x_m[-1]),
        _few(100 * state.z_m[state.secondary]),
    ]


def _line_of(state: LineState) -> list[Any]:
    return _line(list(zip(state.x_m, state.z_m, strict=True)), state.secondary)


def _line(points: list[Point], secondary: int) -> list[Any]:
    """Steps along, steps up, and which point the secondary is at; no point that shows nothing."""
    pieces = [
        shapely.get_coordinates(shapely.simplify(shapely.linestrings(piece), _FLAT_M))
        for piece in (points[: secondary + 1], points[secondary:])
    ]
    kept = np.vstack([pieces[0], pieces[1][1:]])
    return [_steps(kept[:, 0].tolist()), _steps(kept[:, 1].tolist()), len(pieces[0]) - 1]


def _steps(values: Sequence[float]) -> list[int]:
    """From each point to the next, in centimetres."""
    whole = [cm(value) for value in values]
    return [now - before for before, now in zip([0, *whole], whole, strict=False)]


def _curve(curve: PullCurve) -> list[Any]:
    """Pulls [N], reaches as steps [cm], lift, uplift and storm [N], taut and storm reach [cm]."""
    return [
        [round(value) for value in curve.pull_n],
        _steps(curve.reach_m),
        _few(curve.lifts_n),
        _few(curve.uplift_n),
        _few(curve.storm_n),
        _few(100 * curve.taut_m),
        _few(100 * curve.storm_reach_m),
    ]


def _rose(assessment: Assessment, rose: Rose, shared: _Shared) -> list[Any]:
    """Which bearings, open water along them [m], which is the worst, its wave.

    The worst is told in whole feet, so it keeps its centimetres.
    """
    height = rose.wave_height_m[rose.worst]
    return [
        shared.bearings.of(" ".join(f"{bearing:g}" for bearing in rose.from_deg)),
        [
            _few(fetch, 2) if k == rose.worst else round(fetch)
            for k, fetch in enumerate(rose.fetch_m)
        ],
        rose.worst,
        length_text(height, assessment.field.settings.units, rounding="up"),
    ]
