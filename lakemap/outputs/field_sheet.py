"""The print sheet: title, picture, key, numbered table, what to put right, what to read with care.

It stands in the page for print, and for readers without scripts.
"""

import math
from collections.abc import Iterator
from html import escape
from typing import Final

from lakemap.basis.wording import length_text, length_unit
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.cautions import cautions_for
from lakemap.outputs.key import depth_scale, key_rows
from lakemap.outputs.marks import mark_svg
from lakemap.outputs.page_data import footer, long_date
from lakemap.outputs.picture import field_svg
from lakemap.outputs.scene import Scene
from lakemap.outputs.words import (
    headline,
    nearest_to_call,
    row_words,
    sorted_floats,
    verdict_counts,
    verdict_sentence,
    worst_floats,
)

_MOST_TO_PUT_RIGHT: Final = 6
_MOST_ROWS: Final = 2000
# Height of the picture [px] by the floats whose table then has room on the same page.
_HEIGHTS: Final = ((24, 508.0), (48, 384.0), (math.inf, 259.0))
_SHORT: Final = {  # names in the few letters that a table has room for
    "its own frontage": "frontage",
    "depth for jumping": "jump depth",
    "the shore": "shore",
    "the bed": "bed",
    "the farthest allowed from shore": "too far out",
    "the largest deck allowed": "deck area",
}
SHEET_CSS: Final = """
.sheet { max-width: 760px; margin: 0 auto; padding: 16px 8px 32px; font: 400 11.5px/1.35 system-ui, sans-serif; color: #12232e; background: #fff; }
.sheet .title { display: flex; justify-content: space-between; gap: 16px; border-bottom: 2px solid #12232e; padding-bottom: 6px; margin-bottom: 8px; }
.sheet h1 { font-size: 21px; line-height: 1.2; } .sheet .title p { color: #46565f; } .sheet .right { text-align: right; }
.sheet .picture svg { width: 100%; height: auto; display: block; border: 1px solid #6f8089; }
.sheet .keys { display: flex; flex-wrap: wrap; gap: 3px 16px; align-items: center; margin: 8px 0; }
.sheet .keys span { display: inline-flex; align-items: center; gap: 6px; }
.sheet .all { columns: 3; column-gap: 16px; border-top: 1px solid #6f8089; border-bottom: 1px solid #6f8089; padding: 4px 0; font-size: 10.4px; }
.sheet .all div { display: grid; grid-template-columns: 20px 66px 31px minmax(0, 1fr) 32px; column-gap: 5px; align-items: baseline; break-inside: avoid; border-bottom: 1px solid #e8eced; padding: 1px 0; line-height: 1.3; }
.sheet .all div > :nth-child(3), .sheet .all div > :nth-child(5) { text-align: right; }
.sheet .all b, .sheet .all span { overflow: hidden; white-space: nowrap; text-overflow: ellipsis; } .sheet .all .h { color: #46565f; font-weight: 700; }
.sheet .all div > :nth-child(3), .sheet .all div > :nth-child(5) { overflow: visible; justify-self: end; }
.sheet .all b { text-align: right; padding-right: 2px; } .sheet .mk { margin: -3px 3px -3px 0; width: 17px; height: 10px; vertical-align: 0; } .sheet .all div > :nth-child(4) { white-space: normal; }
.sheet .w-conflict { color: #b3200c; font-weight: 700; } .sheet .w-tight { color: #6b4300; font-weight: 700; }
.sheet .foot2 { display: grid; grid-template-columns: 1fr 1fr; gap: 20px; margin-top: 8px; }
.sheet .foot2 ul { padding-left: 14px; } .sheet .foot2 h2 { font-size: 11.5px; }
@media (max-width: 599px) { .sheet .all { columns: 1; font-size: 14px; } .sheet .all div { grid-template-columns: 34px 94px 50px minmax(0, 1fr) 46px; } .sheet .title { flex-direction: column; gap: 2px; } .sheet .right { text-align: left; } .sheet .foot2 { grid-template-columns: 1fr; font-size: 14px; } }
@media print { .sheet .all { font-size: 9.6px; } @page { size: letter; margin: 0.375in; } .sheet { max-width: none; padding: 0; margin: 0; }  .sheet .keys { margin: 5px 0; gap: 1px 12px; font-size: 10px; } .sheet .foot2 { font-size: 9px; line-height: 1.2; margin-top: 4px; gap: 14px; grid-template-columns: 2fr 3fr; } .sheet p { font-size: 10px; } .sheet .foot2 h2 { font-size: 10px; } .sheet .foot2 li { margin: 0; } .sheet.many .all { font-size: 8.8px; } .sheet.many .all div { line-height: 1.12; padding: 0.4px 0; } .sheet.many .all div > :nth-child(4) { white-space: nowrap; } .sheet.many .mk { width: 15px; height: 9px; } .sheet.many .foot2 { font-size: 8.4px; line-height: 1.15; } html, body { height: auto; } }
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
    picture = field_svg(assessment, scene, height=_height(assessment))
    return (
        f'<section class="{_sheet_class(assessment)}" id="sheet">'
        f"{_title(assessment)}"
        f'<div class="picture">{picture}</div>'
        f"{_key(assessment, scene)}{_table(assessment, owners=owners)}{_foot(assessment)}"
        "</section>"
    )


def _height(assessment: Assessment) -> float:
    """The more floats, the smaller the picture, so that the table fits on the page."""
    count = len(assessment.floats)
    return next(height for most, height in _HEIGHTS if count <= most)


def _sheet_class(assessment: Assessment) -> str:
    return "sheet many" if _height(assessment) == _HEIGHTS[-1][1] else "sheet"


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
    shown = worst_floats(assessment, _MOST_ROWS)
    rows = "".join(_row(one, assessment, owners=owners) for one in shown)
    left = len(assessment.floats) - len(shown)
    rest = f" The worst {len(shown)}; {left:,} more are not listed." if left else ""
    return (
        f'<p>Spare and swings in {unit}, at low water.{rest}</p><div class="all">{head}{rows}</div>'
    )


def _row(one: AssessedFloat, assessment: Assessment, *, owners: bool) -> str:
    spare, thing, swings = row_words(one, assessment)
    word = one.verdict or "retired"
    thing = _SHORT.get(thing, thing)
    who = f", {one.record.owner}" if owners and one.record.owner else ""
    verdict = f'<span class="w-{word}">{mark_svg(word)}{word}</span>'
    return (
        f"<div><b>{escape(one.record.float_id)}</b>{verdict}"
        f"<span>{spare}</span><span>{escape(thing + who)}</span><span>{swings}</span></div>"
    )


def _foot(assessment: Assessment) -> str:
    put_right = list(_put_right(assessment))
    more = len(put_right) - _MOST_TO_PUT_RIGHT
    if more > 0:
        put_right[_MOST_TO_PUT_RIGHT:] = [f"And {more} more, in the table."]
    left = _bullets("To put right", put_right or ["Nothing is in conflict."])
    return f'<div class="foot2">{left}{_bullets("Read with care", list(_care(assessment)))}</div>'


def _put_right(assessment: Assessment) -> Iterator[str]:
    """One sentence per conflict; two floats that are in each other's way share theirs."""
    told: set[frozenset[str]] = set()
    for one in sorted_floats(assessment):
        if one.verdict != "conflict":
            continue
        name, nearest = one.record.float_id, nearest_to_call(one)
        if nearest is not None and nearest.kind == "float":
            pair = frozenset((name, nearest.against))
            if pair in told:
                continue
            told.add(pair)
        yield f"Float {name}: {verdict_sentence(one, assessment)}"


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
