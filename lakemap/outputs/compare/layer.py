"""What changed, on the map page of the new version: where floats were, and a part of the list."""

from html import escape
from typing import Any, Final

from lakemap.basis.wording import length_text
from lakemap.changes.records import Comparison, FloatChange
from lakemap.outputs.compare.counts import headline
from lakemap.outputs.compare.field_words import field_lines
from lakemap.outputs.compare.figures import figures, gap_rows
from lakemap.outputs.compare.words import compare_rows, shown_changes
from lakemap.outputs.drawn.key import rows_html
from lakemap.outputs.drawn.scene import cm

_MOST_GAPS: Final = 3  # in the panel, whose own table tells all of now
_KEY: Final = (
    (
        "where a float was",
        '<path d="M2 8H32" stroke="#12232E" stroke-width="1.6" stroke-dasharray="2 3.4"/>',
    ),
    (
        "moved from here to there",
        '<rect x="2.5" y="5.5" width="5" height="5" fill="#fff" stroke="#12232E"/>'
        '<path d="M8 8H25" stroke="#0B5570" stroke-width="2"/>'
        '<path d="M24 3.5L32 8L24 12.5Z" fill="#0B5570"/>',
    ),
)


def compare_data(comparison: Comparison, *, owners: bool) -> dict[str, Any]:
    """Return what the page's layer of changes shows.

    Parameters
    ----------
    comparison : Comparison
        Of two versions; the page is of the new one.
    owners : bool
        Whether the page may hold owners, permits and notes.

    Returns
    -------
    dict
        JSON-able; coordinates in whole centimetres, texts ready to show.

    Raises
    ------
    ValueError
        If the comparison holds what the page may not.
    """
    if comparison.owners and not owners:
        raise ValueError("this comparison holds owners: compare without them for a page without")
    rows = zip(shown_changes(comparison), compare_rows(comparison), strict=True)
    places = {one.record.float_id: k for k, one in enumerate(comparison.new.floats)}
    return {
        "title": "What changed",
        "since": f"since {_version(comparison)}",
        "brief": headline(comparison),
        "switch": "Show where floats were",
        "more": "Show all changes",
        "rows": [
            {**row, **_drawn(one, comparison), "at": places.get(one.float_id)} for one, row in rows
        ],
        # where nobody changed a float, what changed of the field is why the others are listed
        "fieldFirst": all(one.kind == "affected" for one in comparison.floats),
        "fieldTitle": "The field itself",
        "field": field_lines(comparison),
    }


def _version(comparison: Comparison) -> str:
    """What the old version is called."""
    old, new = comparison.old.field.folder, comparison.new.field.folder
    return old if old != new else "the version before"


def _drawn(one: FloatChange, comparison: Comparison) -> dict[str, Any]:
    """Where a float was, what is written there, and its figures before and now."""
    figured = figures(one, comparison) if one.before is not None and one.after is not None else []
    gaps = gap_rows(one, comparison)[:_MOST_GAPS] if one.kind != "affected" else []
    return {
        "was": _was(one),
        "label": _label(one, comparison),
        "arrow": one.moved is not None and one.after is not None,
        "figures": [list(row) for row in (*figured, *gaps)],
    }


def _was(one: FloatChange) -> list[int | None] | None:
    """Old primary and radius; None where there was none, or where only the field changed it."""
    before = one.before
    if before is None or one.was_xy is None or (one.kind == "affected" and one.moved is None):
        return None
    if before.verdict is None or not (_label_kind(one) or one.kind == "retired"):
        return None
    radius = before.swing_radius_m[0]
    return [cm(one.was_xy[0]), cm(one.was_xy[1]), None if radius is None else cm(radius)]


def _label_kind(one: FloatChange) -> str:
    """What is written where a float was."""
    if one.after is None:
        return "taken away"
    if one.kind == "retired":  # the map says so
        return ""
    if one.moved is not None:
        return "moved"
    before = one.before
    same = before is not None and before.swing_radius_m[0] == one.after.swing_radius_m[0]
    return "" if same else "radius"


def _label(one: FloatChange, comparison: Comparison) -> str:
    radius = None if one.before is None else one.before.swing_radius_m[0]
    units = comparison.new.field.settings.units
    far = "" if radius is None else f" {length_text(radius, units, rounding='up')}"
    words = {"taken away": "taken away", "moved": "was here", "radius": f"was{far}"}
    said = words.get(_label_kind(one), "")
    return f"{one.float_id} {said}" if said else ""


def compare_key_html() -> str:
    """Return the layer's part of the key card.

    Returns
    -------
    str
        HTML.
    """
    return f'<div class="changes-key"><p>What changed</p><ul>{rows_html(_KEY)}</ul></div>'


def compare_sheet_html(comparison: Comparison) -> str:
    """Return what changed as a page of the print sheet, for paper and for readers without scripts.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.

    Returns
    -------
    str
        HTML, no scripts and no inline styles.
    """
    name = escape(comparison.new.field.settings.name)
    lines = "".join(f"<li>{escape(text)}</li>" for text in field_lines(comparison))
    field = f"<h2>The field itself</h2><ul>{lines}</ul>" if lines else ""
    return (
        '<section class="sheet changes" id="changes-sheet">'
        f'<div class="title"><div><h1>{name}: what changed</h1>'
        f"<p>{escape(headline(comparison))} Compared with {escape(_version(comparison))}.</p>"
        f"</div></div>{_table(comparison)}{field}</section>"
    )


def _table(comparison: Comparison) -> str:
    rows = compare_rows(comparison)
    if not rows:
        return ""
    body = "".join(
        f"<tr><th scope='row'>{escape(row['id'])}</th><td>{escape(row['what'])}</td>"
        f"<td>{escape(row['then'])} {escape(row['says'])}</td></tr>"
        for row in rows
    )
    head = "".join(
        f'<th scope="col">{text}</th>' for text in ("Float", "What changed", "What that did")
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
