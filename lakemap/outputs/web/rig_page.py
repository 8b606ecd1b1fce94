"""The advice of `rig`: a few lines for the terminal, a JSON document, a page for a new member."""

import base64
import hashlib
import textwrap
from dataclasses import asdict
from html import escape
from typing import Any, Final

from lakemap.advice import RigAdvice
from lakemap.basis.wording import length_text, measure_text, weight_text
from lakemap.outputs.drawn.drawn_rig import SideView
from lakemap.outputs.drawn.side_view import side_view_svg
from lakemap.outputs.tables.document import FORMAT
from lakemap.outputs.words.cautions import (
    cautions_for_task,
    cautions_of_task,
    closing_line,
    names_of,
)
from lakemap.outputs.words.clearances import asked_text
from lakemap.outputs.words.pulls import pull_text

MOST_LINES: Final = 25
_WIDTH: Final = 96
_LEVELS: Final = ("low", "normal", "high")
_CSS: Final = """
body { font: 400 15px/1.45 system-ui, sans-serif; color: #12232e; max-width: 680px; margin: 0 auto; padding: 20px 16px 40px; }
h1 { font-size: 24px; line-height: 1.2; margin: 0 0 4px; } h2 { font-size: 17px; margin: 22px 0 6px; }
p.under { color: #46565f; margin: 0; } table { border-collapse: collapse; width: 100%; }
td, th { border-top: 1px solid #d5dadc; padding: 6px 8px 6px 0; text-align: left; vertical-align: top; }
.bad { background: #fdebe7; border-left: 5px solid #b3200c; padding: 10px 14px; }
.care { background: #fff3d6; border-left: 5px solid #6b4300; padding: 4px 14px; }
svg { width: 100%; height: auto; } @media print { @page { margin: 0.5in; } body { padding: 0; } }
"""  # noqa: E501 - a style sheet


def _triple_text(values: tuple[float | None, ...], advice: RigAdvice, *, up: bool) -> str:
    units = advice.settings.units
    rounding = "up" if up else "nearest"
    shown = [
        "none" if value is None else length_text(value, units, rounding=rounding)  # type: ignore[arg-type]
        for value in values
    ]
    if len({*shown}) == 1:
        return f"{shown[0]} at any level"
    return f"{shown[0]} at low, {shown[1]} at normal, {shown[2]} at high water"


def _carries(advice: RigAdvice) -> str:
    """What is left of the float's lift with its people aboard; never said to be more than it is."""
    units, reserve = advice.settings.units, advice.sizing.float.reserve_n
    aboard = f"with {advice.settings.people} aboard"
    if reserve < 0:
        return f"{weight_text(-reserve, units, rounding='up')} too little lift {aboard}"
    return f"{weight_text(reserve, units, rounding='down')} to spare {aboard}"


def _deck(advice: RigAdvice) -> str:
    units = advice.settings.units
    long_side, short_side = advice.record.length_m, advice.record.width_m
    return f"{asked_text(long_side, units)} by {asked_text(short_side, units)}"


def _cautions(advice: RigAdvice) -> tuple[str, ...]:
    """What to watch in this rig, then what may hurt people, then what decides."""
    own = advice.assessment
    return (*advice.watch, *cautions_for_task("rig", own, own.floats[0]))


def _names(advice: RigAdvice) -> str:
    """What may hurt people, each by its name."""
    own = advice.assessment
    names = names_of(cautions_of_task("rig", own, own.floats[0])[:-1])
    return f"Take care: {names}. --out FILE.html says how."


def rig_lines(advice: RigAdvice) -> list[str]:
    """Return the advice for a terminal.

    Parameters
    ----------
    advice : RigAdvice
        For one float.

    Returns
    -------
    list of str
        At most 25 lines.
    """
    units = advice.settings.units
    float_ = advice.sizing.float
    lines = [
        f"A float of {_deck(advice)} in {measure_text(advice.depth_m[1], units)} of water:",
        *(f"! {text}" for text in advice.problems),
        f"  depth    {_triple_text(advice.depth_m, advice, up=False)}",
        f"  swings   {_triple_text(advice.swing_radius_m, advice, up=True)}, from the primary",
        f"  float    {weight_text(float_.weight_n, units)}, sinks in"
        f" {length_text(float_.draft_m, units)};"
        f" {_carries(advice)}",
        *(f"  {'storm' if k == 0 else '     '}    {text}" for k, text in enumerate(advice.storm)),
        "buy",
        *(f"  {what}: {much}" for what, much in advice.buy),
        "lay",
        *(f"  {k}. {step}" for k, step in enumerate(advice.lay, start=1)),
        "not sure, and take care",
    ]
    last = [f"  - {_names(advice)}", f"  - {closing_line()}"]
    rest = [f"  - {text}" for text in (*advice.unsure, *advice.watch)]
    room = MOST_LINES - len(lines) - len(last)
    if len(rest) > room:
        more = len(rest) - room + 1
        rest = [*rest[: room - 1], f"  - and {more} more: --out FILE.html tells all"]
    rest += last
    return [textwrap.shorten(line, _WIDTH * 2, placeholder=" …") if len(line) > _WIDTH * 2 else line
            for line in lines + rest]  # fmt: skip


def rig_document(advice: RigAdvice) -> dict[str, Any]:
    """Return the advice as JSON: SI, unrounded, the names of a float in the field's document.

    Parameters
    ----------
    advice : RigAdvice
        For one float.

    Returns
    -------
    dict
        None for unknown.
    """
    return {
        "format": FORMAT,
        "rig": {
            "depth_m": dict(zip(_LEVELS, advice.depth_m, strict=True)),
            "hook_depth_m": advice.hook_depth_m,
            "riser_m": advice.riser_m,
            "ground_m": advice.ground_m,
            "reach_m": dict(zip(_LEVELS, advice.reach_m, strict=True)),
            "swing_radius_m": dict(zip(_LEVELS, advice.swing_radius_m, strict=True)),
            "walk_radius_m": advice.walk_radius_m,
            "fetch_m": advice.fetch_m,
            "problems": list(advice.problems),
            "sizing": asdict(advice.sizing),
            "buy": [{"what": what, "how_much": much} for what, much in advice.buy],
            "lay": list(advice.lay),
            "unsure": list(advice.unsure),
            "cautions": list(_cautions(advice)),
        },
    }


def rig_html(advice: RigAdvice) -> str:
    """Return the page to hand to a new member: self-contained, without scripts.

    Parameters
    ----------
    advice : RigAdvice
        For one float.

    Returns
    -------
    str
        HTML.
    """
    digest = base64.b64encode(hashlib.sha256(_CSS.encode()).digest()).decode("ascii")
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    units = advice.settings.units
    title = f"How to moor a float of {_deck(advice)}"
    under = f"in {measure_text(advice.depth_m[1], units)} of water"
    bad = "".join(f'<p class="bad">{escape(text)}</p>' for text in advice.problems)
    sizes = [
        ("Depth", _triple_text(advice.depth_m, advice, up=False)),
        ("Swings, from the primary", _triple_text(advice.swing_radius_m, advice, up=True)),
        ("Float, dry", weight_text(advice.sizing.float.weight_n, units)),
        ("Sinks in", length_text(advice.sizing.float.draft_m, units)),
        ("Carries", _carries(advice)),
    ]
    view = side_view_svg(
        SideView(
            depth_m=advice.depth_m,
            hook_depth_m=advice.hook_depth_m,
            riser_m=advice.riser_m,
            ground_m=advice.ground_m,
            deck_m=max(advice.record.length_m, advice.record.width_m),
            draft_m=advice.sizing.float.draft_m,
            height_m=advice.height_m,
        ),
        units=units,
    )
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title><style>{_CSS}</style></head><body>"
        f'<h1>{escape(title)}</h1><p class="under">{escape(under)}</p>{bad}{view}'
        f"<h2>Sizes</h2>{_table(sizes)}{_in_the_storm(advice)}"
        f"<h2>What to buy</h2>{_table(advice.buy)}"
        f"<h2>How to lay it</h2>{_list(advice.lay, 'ol')}"
        f"<h2>What is not sure</h2>{_list(advice.unsure, 'ul')}"
        f'<div class="care"><h2>Take care</h2>{_list(_cautions(advice), "ul")}</div>'
        "</body></html>\n"
    )


def _in_the_storm(advice: RigAdvice) -> str:
    """What the storm does, and the three ways to build the rig side by side."""
    if not advice.storm:
        return ""
    units = advice.settings.units

    def force(newtons: float | None) -> str:
        return pull_text(newtons, units, unknown="not known")

    rows = [
        (
            way.name,
            f"{way.means} "
            + (
                "No number of blocks does it."
                if way.secondary_blocks is None
                else f"Secondary of {way.secondary_blocks}; uplift {force(way.uplift_n[1])},"
                f" highest pull {force(way.peak_n)}. "
                + "; ".join(f"{one.what}: {one.size}, for {one.because}" for one in way.choices)
            ),
        )
        for way in advice.answers.candidates
    ]
    lines = tuple(f"{line[:1].upper()}{line[1:]}." for line in advice.storm)
    return f"<h2>In the storm</h2>{_list(lines, 'ul')}<h2>Three ways to build it</h2>{_table(rows)}"


def _table(rows: Any) -> str:  # noqa: ANN401 - pairs of texts, from a list or a tuple
    cells = "".join(f"<tr><th>{escape(a)}</th><td>{escape(b)}</td></tr>" for a, b in rows)
    return f"<table>{cells}</table>"


def _list(items: tuple[str, ...], tag: str) -> str:
    return f"<{tag}>{''.join(f'<li>{escape(item)}</li>' for item in items)}</{tag}>"
