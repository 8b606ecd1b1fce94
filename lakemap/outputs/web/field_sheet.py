"""The print sheet: title, picture, key, numbered table, what to put right, what to read with care.

It stands in the page for print, and for readers without scripts.
"""

import math
from collections.abc import Iterator
from html import escape
from typing import Final

from lakemap.basis.wording import length_text, length_unit
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.key import depth_scale, key_rows
from lakemap.outputs.drawn.marks import mark_svg
from lakemap.outputs.drawn.picture import field_svg
from lakemap.outputs.drawn.scene import Scene
from lakemap.outputs.levels.layer import sheet_line
from lakemap.outputs.web.page_data import footer
from lakemap.outputs.words.cautions import cautions_for
from lakemap.outputs.words.levels_and_dates import date_words
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.verdicts import (
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
_WIDE, _WIDEST = 3, 6  # letters of a number that take a wider column; of more it takes lines
# Height of the picture [px] by the floats whose table then has room on the same page.
_HEIGHTS: Final = ((24, 508.0), (48, 384.0), (math.inf, 259.0))
SHEET_CSS: Final = """
.sheet { max-width: 760px; margin: 0 auto; padding: 16px 8px 32px; font: 400 11.5px/1.35 system-ui, sans-serif; color: #12232e; background: #fff; }
.sheet .title { display: flex; justify-content: space-between; gap: 16px; border-bottom: 2px solid #12232e; padding-bottom: 6px; margin-bottom: 8px; }
.sheet h1 { font-size: 21px; line-height: 1.2; } .sheet .title p { color: #46565f; } .sheet .right { text-align: right; }
.sheet .picture svg { width: 100%; height: auto; display: block; border: 1px solid #6f8089; }
.sheet .keys { display: flex; flex-wrap: wrap; gap: 3px 16px; align-items: center; margin: 8px 0; }
.sheet .keys span { display: inline-flex; align-items: center; gap: 6px; }
.sheet .all { columns: 3; column-gap: 16px; border-top: 1px solid #6f8089; border-bottom: 1px solid #6f8089; padding: 4px 0; font-size: 10.4px; }
.sheet .all div { display: grid; grid-template-columns: var(--number, 20px) 66px 31px minmax(0, 1fr) 32px; column-gap: 5px; align-items: baseline; break-inside: avoid; border-bottom: 1px solid #e8eced; padding: 1px 0; line-height: 1.3; }
.sheet .all div > :nth-child(3), .sheet .all div > :nth-child(5) { text-align: right; }
.sheet .all b, .sheet .all span { overflow: hidden; white-space: nowrap; text-overflow: ellipsis; } .sheet .all .h { color: #46565f; font-weight: 700; }
.sheet .all div > :nth-child(3), .sheet .all div > :nth-child(5) { overflow: visible; justify-self: end; }
.sheet .all b { text-align: right; padding-right: 2px; white-space: normal; overflow-wrap: anywhere; }
.sheet.ids3 { --number: 26px; } .sheet.ids4 { --number: 33px; } .sheet.ids5 { --number: 40px; } .sheet.ids6 { --number: 52px; } .sheet .mk { margin: -3px 3px -3px 0; width: 17px; height: 10px; vertical-align: 0; } .sheet .all div > :nth-child(4) { white-space: normal; }
.sheet .w-conflict { color: #b3200c; font-weight: 700; } .sheet .w-tight { color: #6b4300; font-weight: 700; }
.sheet .foot2 { display: grid; grid-template-columns: 1fr 1fr; gap: 20px; margin-top: 8px; }
.sheet .foot2 ul { padding-left: 14px; } .sheet .foot2 h2 { font-size: 11.5px; }
@media (max-width: 599px) { .sheet .all { columns: 1; font-size: 14px; } .sheet .all div { grid-template-columns: 34px 94px 50px minmax(0, 1fr) 46px; } .sheet .title { flex-direction: column; gap: 2px; } .sheet .right { text-align: left; } .sheet .foot2 { grid-template-columns: 1fr; font-size: 14px; } }
@media print { .sheet .all { font-size: 9.6px; } @page { margin: 0.375in; } .sheet { max-width: none; padding: 0; margin: 0; }  .sheet .keys { margin: 5px 0; gap: 1px 12px; font-size: 10px; } .sheet .foot2 { font-size: 9px; line-height: 1.2; margin-top: 4px; display: block; columns: 2; column-gap: 14px; } .sheet .foot2 h2 { break-after: avoid; } .sheet .foot2 li { break-inside: avoid; } .sheet .foot2 div + div { margin-top: 4px; } .sheet p { font-size: 10px; } .sheet .foot2 h2 { font-size: 10px; } .sheet .foot2 li { margin: 0; } .sheet.many .all { font-size: 8.8px; } .sheet.many .all div { line-height: 1.12; padding: 0.4px 0; } .sheet.many .mk { width: 15px; height: 9px; } .sheet.many .foot2 { font-size: 8.4px; line-height: 1.15; } html, body { height: auto; } }
"""  # noqa: E501 - a style sheet


def short_names(texts: Texts) -> dict[str, str]:
    """Return names of things by their names in sentences, in the few letters of a table's cell."""
    section = texts.sections("short_thing")
    return {texts.of(key.removeprefix("short_")): texts.of(key) for key in section}


SHORT_NAMES: Final = short_names(ENGLISH)


def sheet_html(
    assessment: Assessment, scene: Scene, *, owners: bool = False, texts: Texts = ENGLISH
) -> str:
    """Return the print sheet as a part of a page.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    owners : bool
        True puts the owners' names into the table.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        HTML, no scripts and no inline styles.
    """
    picture = field_svg(assessment, scene, height=_height(assessment), texts=texts)
    return (
        f'<section class="{_sheet_class(assessment)}" id="sheet">'
        f"{_title(assessment, texts)}"
        f'<div class="picture">{picture}</div>'
        f"{_key(assessment, scene, texts)}{_table(assessment, texts, owners=owners)}"
        f"{_foot(assessment, texts)}</section>"
    )


def _height(assessment: Assessment) -> float:
    """The more floats, the smaller the picture, so that the table fits on the page."""
    count = len(assessment.floats)
    return next(height for most, height in _HEIGHTS if count <= most)


def _sheet_class(assessment: Assessment) -> str:
    longest = max((len(one.record.float_id) for one in assessment.floats), default=0)
    many = " many" if _height(assessment) == _HEIGHTS[-1][1] else ""
    wide = f" ids{min(longest, _WIDEST)}" if longest >= _WIDE else ""
    return f"sheet{many}{wide}"


def _title(assessment: Assessment, texts: Texts) -> str:
    field, counts = assessment.field, verdict_counts(assessment)
    numbers = ", ".join(
        texts.of(f"count.{word}", count=number) for word, number in counts.items() if number
    )
    said = headline(assessment, texts=texts)
    told = said.removesuffix(texts.of("short.stop"))
    under = texts.of("sheet.under", headline=told, counts=numbers) if numbers else said
    dates = [
        texts.of(key, date=date_words(day, texts=texts))
        for key, day in (("head.dated", field.dated), ("sheet.soundings", field.soundings_dated))
        if day is not None
    ]
    return (
        f'<div class="title"><div><h1>{escape(field.settings.name)}</h1>'
        f"<p>{escape(under)}</p></div>"
        f'<p class="right">{"<br>".join(escape(text) for text in dates)}</p></div>'
    )


def _key(assessment: Assessment, scene: Scene, texts: Texts) -> str:
    unit = length_unit(assessment.field.settings.units)
    rows = "".join(
        f'<span><svg viewBox="0 0 34 16" width="34" height="16" fill="none" aria-hidden="true">'
        f"{drawing}</svg>{escape(words)}</span>"
        for words, drawing in key_rows(scene, texts=texts)
    )
    scale = depth_scale(scene, unit, texts=texts)
    name = escape(texts.of("key.depths", unit=unit))
    depths = f"<span>{name} {scale}</span>" if scale else ""
    return f'<div class="keys">{rows}{depths}</div>'


def _table(assessment: Assessment, texts: Texts, *, owners: bool) -> str:
    """All floats by number, the way that people look for theirs."""
    if not assessment.floats:
        return f"<p>{escape(texts.of('list.empty'))}</p>"
    unit = length_unit(assessment.field.settings.units)
    number, *names = (
        escape(texts.of(f"sheet.{name}")) for name in ("number", "spare", "nearest", "swings")
    )
    heads = "".join(f"<span>{name}</span>" for name in ("", *names))
    shown = worst_floats(assessment, _MOST_ROWS)
    rows = "".join(_row(one, assessment, texts, owners=owners) for one in shown)
    left = len(assessment.floats) - len(shown)
    about = [texts.of("sheet.about", unit=unit)]
    if left:
        about.append(texts.of("sheet.worst", shown=len(shown), left=left))
    return (
        f"<p>{escape(' '.join(about))}</p>"
        f'<div class="all"><div class="h"><span>{number}</span>{heads}</div>{rows}</div>'
    )


def _row(one: AssessedFloat, assessment: Assessment, texts: Texts, *, owners: bool) -> str:
    spare, thing, swings = row_words(one, assessment, texts=texts)
    word = one.verdict or "retired"
    thing = short_names(texts).get(thing, thing)
    if owners and one.record.owner:
        thing = texts.of("sheet.thing_owner", thing=thing, owner=one.record.owner)
    verdict = f'<span class="w-{word}">{mark_svg(word)}{escape(texts.of(f"verdict.{word}"))}</span>'
    return (
        f"<div><b>{escape(one.record.float_id)}</b>{verdict}"
        f"<span>{spare}</span><span>{escape(thing)}</span><span>{swings}</span></div>"
    )


def _foot(assessment: Assessment, texts: Texts) -> str:
    left = _bullets(texts.of("sheet.put_right"), to_put_right(assessment, texts=texts))
    care = _bullets(texts.of("sheet.care"), list(_care(assessment, texts)))
    return f'<div class="foot2">{left}{care}</div>'


def to_put_right(assessment: Assessment, *, texts: Texts = ENGLISH) -> list[str]:
    """Return what is in conflict, a sentence each, the worst first.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        Six at most, and how many more there are; or that nothing is.
    """
    put_right = list(_put_right(assessment, texts))
    more = len(put_right) - _MOST_TO_PUT_RIGHT
    if more > 0:
        put_right[_MOST_TO_PUT_RIGHT:] = [texts.of("sheet.and_more", count=more)]
    return put_right or [texts.of("sheet.nothing")]


def _put_right(assessment: Assessment, texts: Texts) -> Iterator[str]:
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
        says = verdict_sentence(one, assessment, texts=texts)
        yield texts.of("sheet.one", float=name, says=says)


def good_to(assessment: Assessment, *, texts: Texts = ENGLISH) -> str:
    """Return how good positions and depths are taken to be.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Whole sentence.
    """
    accuracy, units = assessment.field.settings.accuracy, assessment.field.settings.units
    far = length_text(accuracy.position_m, units)
    if accuracy.depth_m is None:
        return texts.of("sheet.positions", far=far)
    deep = length_text(accuracy.depth_m, units)
    return texts.of("sheet.positions_depths", far=far, deep=deep)


def _care(assessment: Assessment, texts: Texts) -> Iterator[str]:
    yield good_to(assessment, texts=texts)
    level, storm = (
        texts.of("sheet.fact", name=name, value=value)
        for name, value in footer(assessment, texts=texts)[:2]
    )
    yield texts.of("sheet.level_storm", level=level, storm=storm)
    gauge = sheet_line(assessment, texts=texts)
    if gauge:
        yield gauge
    for caution in cautions_for(assessment):
        yield caution.said(texts)


def _bullets(title: str, lines: list[str]) -> str:
    items = "".join(f"<li>{escape(line)}</li>" for line in lines)
    return f"<div><h2>{escape(title)}</h2><ul>{items}</ul></div>"
