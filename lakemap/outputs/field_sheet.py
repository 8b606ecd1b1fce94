"""The print sheet: title, picture, key, numbered table, what to put right, what to read with care.

It stands in the page for print, and for readers without scripts.
"""

from collections.abc import Iterator
from html import escape
from typing import Final

from lakemap.basis.wording import length_figure, length_text, length_unit
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.cautions import cautions_for
from lakemap.outputs.key import depth_scale, key_rows
from lakemap.outputs.page_data import footer, long_date
from lakemap.outputs.picture import field_svg
from lakemap.outputs.scene import Scene
from lakemap.outputs.words import (
    headline,
    nearest_to_call,
    sorted_floats,
    thing_name,
    verdict_counts,
    verdict_sentence,
)

_MOST_TO_PUT_RIGHT: Final = 6
_ROOM_FOR: Final = 48  # rows beside the large picture on one page
SHEET_CSS: Final = """
.sheet { max-width: 760px; margin: 0 auto; padding: 16px 8px 32px; font: 400 11.5px/1.35 system-ui, sans-serif; color: #12232e; background: #fff; }
.sheet .title { display: flex; justify-content: space-between; gap: 16px; border-bottom: 2px solid #12232e; padding-bottom: 6px; margin-bottom: 8px; }
.sheet h1 { font-size: 21px; line-height: 1.2; } .sheet .title p { color: #46565f; } .sheet .right { text-align: right; }
.sheet .picture svg { width: 100%; height: auto; display: block; border: 1px solid #6f8089; }
.sheet .keys { display: flex; flex-wrap: wrap; gap: 3px 16px; align-items: center; margin: 8px 0; }
.sheet .keys span { display: inline-flex; align-items: center; gap: 6px; }
.sheet .all { columns: 3; column-gap: 16px; border-top: 1px solid #6f8089; border-bottom: 1px solid #6f8089; padding: 4px 0; font-size: 10.4px; }
.sheet .all div { display: grid; grid-template-columns: 26px 48px 34px minmax(0, 1fr) 38px; gap: 4px; break-inside: avoid; border-bottom: 1px solid #e8eced; padding: 1px 0; line-height: 1.3; }
.sheet .all div > :nth-child(3), .sheet .all div > :nth-child(5) { text-align: right; }
.sheet .all b, .sheet .all span { overflow: hidden; white-space: nowrap; text-overflow: ellipsis; } .sheet .all .h { color: #46565f; font-weight: 700; }
.sheet .w-conflict { color: #b3200c; font-weight: 700; } .sheet .w-tight { color: #6b4300; font-weight: 700; }
.sheet .foot2 { display: grid; grid-template-columns: 1fr 1fr; gap: 20px; margin-top: 8px; }
.sheet .foot2 ul { padding-left: 14px; } .sheet .foot2 h2 { font-size: 11.5px; }
@media (max-width: 599px) { .sheet .all { columns: 1; font-size: 14px; } .sheet .all div { grid-template-columns: 44px 70px 54px minmax(0, 1fr) 50px; } .sheet .title { flex-direction: column; gap: 2px; } .sheet .right { text-align: left; } .sheet .foot2 { grid-template-columns: 1fr; font-size: 14px; } }
@media print { .sheet .all { font-size: 9.6px; } @page { size: letter; margin: 0.375in; } .sheet { max-width: none; padding: 0; margin: 0; } .sheet .picture svg { max-height: 3.95in; }  .sheet .keys { margin: 5px 0; gap: 1px 12px; font-size: 10px; } .sheet .foot2 { font-size: 9px; line-height: 1.2; margin-top: 4px; gap: 14px; grid-template-columns: 2fr 3fr; } .sheet p { font-size: 10px; } .sheet .foot2 h2 { font-size: 10px; } .sheet .foot2 li { margin: 0; } .sheet.many .picture svg { max-height: 2.7in; } .sheet.many .all { font-size: 8.8px; } .sheet.many .all div { line-height: 1.12; padding: 0.4px 0; } .sheet.many .foot2 { font-size: 8.4px; line-height: 1.15; } html, body { height: auto; } }
"""  # noqa: E501 - a style sheet


def sheet_html(assessment: Assessment, scene: Scene, *, owners: bool = False) -> str:
    """Return the print sheet as a part of a page.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    owners : bool
        True puts the owners' names into the table.

    Returns
    -------
    str
        HTML, no scripts and no inline styles.
    """
    return (
        f'<section class="{_sheet_class(assessment)}" id="sheet">'
        f"{_title(assessment)}"
        f'<div class="picture">{field_svg(assessment, scene)}</div>'
        f"{_key(assessment, scene)}{_table(assessment, owners=owners)}{_foot(assessment)}"
        "</section>"
    )


def _sheet_class(assessment: Assessment) -> str:
    """A field with many floats gets a smaller picture, so that the table fits on the page."""
    return "sheet many" if len(assessment.floats) > _ROOM_FOR else "sheet"


def _title(assessment: Assessment) -> str:
    field, counts = assessment.field, verdict_counts(assessment)
    numbers = ", ".join(f"{number} {word}" for word, number in counts.items() if number)
    under = f"{headline(assessment)}. Checked at low water: {numbers}."
    dates = []
    if field.dated is not None:
        dates.append(f"data of {long_date(field.dated)}")
    if field.soundings_dated is not None:
        dates.append(f"soundings {long_date(field.soundings_dated)}")
    return (
        f'<div class="title"><div><h1>{escape(field.settings.name)}</h1>'
        f"<p>{escape(under)}</p></div>"
        f'<p class="right">{"<br>".join(escape(text) for text in dates)}</p></div>'
    )


def _key(assessment: Assessment, scene: Scene) -> str:
    unit = length_unit(assessment.field.settings.units)
    rows = "".join(
        f'<span><svg viewBox="0 0 34 16" width="34" height="16" fill="none" aria-hidden="true">'
        f"{drawing}</svg>{escape(words)}</span>"
        for words, drawing in key_rows(scene)
    )
    scale = depth_scale(scene, unit)
    depths = f"<span>Depth at normal level, {unit} {scale}</span>" if scale else ""
    return f'<div class="keys">{rows}{depths}</div>'


def _table(assessment: Assessment, *, owners: bool) -> str:
    """All floats by number, the way that people look for theirs."""
    if not assessment.floats:
        return "<p>No floats yet. Add rows to the floats file.</p>"
    unit = length_unit(assessment.field.settings.units)
    head = (
        '<div class="h"><span>no.</span><span></span>'
        "<span>spare</span><span>nearest to</span><span>swings</span></div>"
    )
    rows = "".join(_row(one, assessment, owners=owners) for one in assessment.floats)
    return f'<p>Spare and swings in {unit}, at low water.</p><div class="all">{head}{rows}</div>'


def _row(one: AssessedFloat, assessment: Assessment, *, owners: bool) -> str:
    units = assessment.field.settings.units
    nearest, radius = nearest_to_call(one), one.swing_radius_m[0]
    word = one.verdict or "retired"
    spare = ""
    if nearest is not None and nearest.spare_m is not None:
        spare = length_figure(nearest.spare_m, units, rounding="down")
    thing = "" if nearest is None else _short_name(nearest, assessment)
    if one.verdict == "unknown":
        spare, thing = "", "no depth known"
    who = f", {one.record.owner}" if owners and one.record.owner else ""
    swings = (
        "" if radius is None or one.verdict is None else length_figure(radius, units, rounding="up")
    )
    return (
        f'<div><b>{escape(one.record.float_id)}</b><span class="w-{word}">{word}</span>'
        f"<span>{spare}</span><span>{escape(thing + who)}</span><span>{swings}</span></div>"
    )


def _short_name(one: Clearance, assessment: Assessment) -> str:
    """What a clearance is to, in the few letters that a table has room for."""
    short = {"frontage": "frontage", "jump_depth": "jump depth", "shore": "shore"}
    return short.get(one.kind) or thing_name(one, assessment.field)


def _foot(assessment: Assessment) -> str:
    wrong = [one for one in sorted_floats(assessment) if one.verdict == "conflict"]
    put_right = [
        f"Float {one.record.float_id}: {verdict_sentence(one, assessment)}"
        for one in wrong[:_MOST_TO_PUT_RIGHT]
    ]
    if len(wrong) > _MOST_TO_PUT_RIGHT:
        put_right.append(f"And {len(wrong) - _MOST_TO_PUT_RIGHT} more, in the table.")
    left = _bullets("To put right", put_right or ["Nothing is in conflict."])
    return f'<div class="foot2">{left}{_bullets("Read with care", list(_care(assessment)))}</div>'


def _care(assessment: Assessment) -> Iterator[str]:
    accuracy, units = assessment.field.settings.accuracy, assessment.field.settings.units
    depth = (
        "" if accuracy.depth_m is None else f", depths to {length_text(accuracy.depth_m, units)}"
    )
    yield f"Positions are taken as good to {length_text(accuracy.position_m, units)}{depth}."
    yield ". ".join(f"{name} {value}" for name, value in footer(assessment)[:2]) + "."
    for caution in cautions_for(assessment):
        yield caution.text


def _bullets(title: str, lines: list[str]) -> str:
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return f"<div><h2>{title}</h2><ul>{items}</ul></div>"
