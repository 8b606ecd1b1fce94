"""The computed rig as the page takes it: strength, answers, candidates, pictures."""

from collections.abc import Sequence
from typing import Any

from lakemap.basis.wording import length_text
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.scene import cm
from lakemap.outputs.working_lines import Texts, page_working
from lakemap.sizing.records import Candidate, LineState, PullCurve, RigPictures, Rose


def rig_panels(assessment: Assessment) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """Return what the page knows of the computed rigs.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    dict
        What all floats share: `working`, `lines` (parts of lines, hook to primary), `texts`.
    list of dict
        One for each float.
    """
    common, rows = page_working(assessment)
    lines, texts = Texts(), Texts()
    floats = [
        {"w": row} | _panel(one, assessment, pictures, (lines, texts))
        for one, row, pictures in zip(
            assessment.floats, rows, assessment.rig_pictures(), strict=True
        )
    ]
    parts = [[part.split("|") for part in line.split("\n")] for line in lines.texts]
    return {"working": common, "lines": parts, "texts": texts.texts}, floats


def _panel(
    one: AssessedFloat, assessment: Assessment, pictures: RigPictures, shared: tuple[Texts, Texts]
) -> dict[str, Any]:
    lines, texts = shared
    parts = one.sizing.line.parts
    answers = assessment.answers(one)
    weak = one.sizing.line.weak_link
    return {
        "line": lines.of("\n".join(f"{part.name}|{part.size}" for part in parts)),
        "limits": [None if part.working_n is None else round(part.working_n) for part in parts],
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
        "rose": None if pictures.rose is None else _rose(assessment, pictures.rose),
    }


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"


def _way(way: Candidate, texts: Texts) -> list[Any]:
    return [
        texts.of(way.name),
        texts.of(way.means),
        way.secondary_blocks,
        [None if value is None else round(value) for value in way.uplift_n],
        None if way.peak_n is None else round(way.peak_n),
        int(way.chosen),
        [[texts.of(one.what), texts.of(one.size), texts.of(one.because)] for one in way.choices],
    ]


def _storm(one: AssessedFloat, pictures: RigPictures) -> dict[str, Any] | None:
    if all(state is None for state in pictures.storm):
        return None
    height = one.sizing.storm.wave_height_max_m
    return {
        "lines": [None if state is None else _state(state) for state in pictures.storm],
        "wave": None if height is None else cm(height),
        "mean": round(one.sizing.loads_n.mean or 0.0),
    }


def _state(state: LineState) -> dict[str, Any]:
    return {
        "x": _steps(state.x_m),
        "z": _steps(state.z_m),
        "s": state.secondary,
        "t": round(state.hook_tension_n),
        "a": round(state.hook_angle_deg, 1),
        "u": round(state.primary_uplift_n),
    }


def _steps(values: Sequence[float]) -> list[int]:
    """From each point to the next, in centimetres."""
    whole = [cm(value) for value in values]
    return [now - before for before, now in zip([0, *whole], whole, strict=False)]


def _curve(curve: PullCurve) -> dict[str, Any]:
    return {
        "p": [round(value) for value in curve.pull_n],
        "r": [cm(value) for value in curve.reach_m],
        "lifts": round(curve.lifts_n),
        "uplift": round(curve.uplift_n),
        "taut": cm(curve.taut_m),
        "storm": [round(curve.storm_n), cm(curve.storm_reach_m)],
    }


def _rose(assessment: Assessment, rose: Rose) -> dict[str, Any]:

    height = rose.wave_height_m[rose.worst]
    return {
        "from": [round(bearing, 1) for bearing in rose.from_deg],
        "fetch": [round(fetch) for fetch in rose.fetch_m],
        "worst": rose.worst,
        "wave": length_text(height, assessment.field.settings.units, rounding="up"),
    }
