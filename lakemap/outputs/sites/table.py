"""What `sites` prints: ranked sites, how their scores come about, how many fit, what is closed."""

import math
import textwrap
from collections.abc import Sequence
from typing import Final

import shapely

from lakemap.basis.records import Units
from lakemap.basis.wording import (
    area_text,
    length_figure,
    length_text,
    length_unit,
    measure_text,
)
from lakemap.mapping import Assessment
from lakemap.outputs.sites.closed import kind_words, share_text
from lakemap.outputs.sites.words import (
    PART_WORDS,
    article,
    as_clearance,
    bound_sentence,
    capacity_clause,
    float_words,
    found_title,
    limit_words,
    place_text,
    rig_words,
    score_text,
    spare_text,
    why_sentences,
)
from lakemap.outputs.tables.grid import grid, plain
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.clearances import asked_text, clearance_line
from lakemap.siting.records import Site, SiteAsk, Sites, Variant, WhyNot

_WIDTH: Final = 96
_BAR: Final = 40  # signs of the longest bar


def sites_table(assessment: Assessment, sites: Sites) -> str:
    """Return what `sites` prints.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    sites : Sites
        What was found in it.

    Returns
    -------
    str
        Lines.
    """
    units = assessment.field.settings.units
    said = [found_title(sites, units), capacity_clause(sites)]
    lines = [
        *_wrapped(f"{'; '.join(filter(None, said))}."),
        *_wrapped(_looked_for(sites.ask, units)),
    ]
    if sites.sites:
        lines += ["", *_ranked(assessment, sites), "", *_parts(assessment, sites)]
    if not shapely.is_empty(sites.allowed):
        lines += ["", *_capacity(assessment, sites)]
    lines += ["", *_closed(assessment, sites), "", closing_line()]
    return plain("\n".join(lines))


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, subsequent_indent="  ")


def _looked_for(ask: SiteAsk, units: Units) -> str:
    words = rig_words(ask.like, units)
    inside = "" if ask.lot is None else f" Only inside the frontage of lot {ask.lot}."
    return f"{words[:1].upper()}{words[1:]}.{inside}"


def _ranked(assessment: Assessment, sites: Sites) -> list[str]:
    unit = length_unit(assessment.field.settings.units)
    header = [
        "rank", "LAT,LON", f"depth {unit}", f"swings {unit}", "to spare", "limited by",
        f"storm wave {unit}", f"from shore {unit}", "riser + ground", "score",
    ]  # fmt: skip
    rows = [_row(one, assessment) for one in sites.sites]
    return grid(header, rows, right={0, 2, 3, 4, 6, 7, 9})


def _row(one: Site, assessment: Assessment) -> list[str]:
    field = assessment.field
    units = field.settings.units
    return [
        str(one.rank),
        place_text(one.lat, one.lon),
        length_figure(one.depth_m, units, rounding="down"),
        length_figure(one.swing_radius_m, units, rounding="up"),
        spare_text(one, units),
        limit_words(one.limited_by, field),
        length_figure(one.wave_height_m, units, rounding="up"),
        length_figure(one.shore_m, units, rounding="down"),
        f"{measure_text(one.riser_m, units)} + {measure_text(one.ground_m, units)}",
        score_text(one.score),
    ]


def _parts(assessment: Assessment, sites: Sites) -> list[str]:
    """What each score is made of; every part is 0 to 1 before it is weighed."""
    weights = assessment.field.settings.site_weights
    names = [name for name in PART_WORDS if any(name in one.parts for one in sites.sites)]
    header = ["rank", *(f"{name} × {weights.get(name, 0.0):g}" for name in names), "score"]
    rows = [
        [
            str(one.rank),
            *(score_text(one.parts[name]) if name in one.parts else "" for name in names),
            score_text(one.score),
        ]
        for one in sites.sites
    ]
    said = "; ".join(f"{name}: {PART_WORDS[name]}" for name in names)
    lines = ["The parts of the score, 0 to 1 each, and their weights", ""]
    return [*lines, *grid(header, rows, right=set(range(len(header)))), *_wrapped(f"{said}.")]


def _capacity(assessment: Assessment, sites: Sites) -> list[str]:
    units, capacity = assessment.field.settings.units, sites.capacity
    fits = len(capacity.packing.xy)
    kind = float_words(sites.ask.like, units)
    lines = _wrapped(
        f"How many more fit: {fits} times {article(kind)} {kind}, beside the floats that are there."
        " This is the best arrangement that was found; a better one may exist up to the bound."
    )
    lines += _wrapped(bound_sentence(sites))
    if capacity.by_distance:
        lines += ["", *_plot(assessment, capacity.by_distance)]
    if capacity.others:
        rows = [[one.name, str(one.fits), str(one.most)] for one in capacity.others]
        lines += ["", *grid(["or if", "fit", "at most"], rows, right={1, 2})]
    return lines


def _plot(assessment: Assessment, by_distance: Sequence[Variant]) -> list[str]:
    """Distance asked between circles against how many then fit, as bars of signs."""
    settings = assessment.field.settings
    rule = settings.rules.get("neighbour")
    most = max(1, *(one.fits for one in by_distance))
    rows = []
    for one in by_distance:
        is_rule = rule is not None and math.isclose(one.neighbour_m, rule.limit)
        rows.append(
            [
                asked_text(one.neighbour_m, settings.units),
                str(one.fits),
                str(one.most),
                "#" * round(_BAR * one.fits / most) + ("  your rule" if is_rule else ""),
            ]
        )
    return [
        "How many fit by the distance asked between circles (rougher than the count above)",
        "",
        *grid(["apart", "fit", "at most", ""], rows, right={0, 1, 2}),
    ]


def _closed(assessment: Assessment, sites: Sites) -> list[str]:
    """Shares of the lake: allowed, and closed by each kind of rule."""
    units, water = assessment.field.settings.units, assessment.water
    allowed = float(shapely.area(sites.allowed))
    rows = [
        [
            "allowed",
            share_text(allowed / float(shapely.area(water))),
            area_text(allowed, units, rounding="down"),
        ]
    ]
    whole, like = float(shapely.area(water)), sites.ask.like
    closed = [
        (kind_words(one.kind, like), float(shapely.area(one.geometry))) for one in sites.closed
    ]
    rows += [
        [words, share_text(area / whole), area_text(area, units, rounding="up")]
        for words, area in sorted(closed, key=lambda pair: -pair[1])
        if area > 0
    ]
    return grid(["water", "share", "area"], rows, right={1, 2})


def why_table(assessment: Assessment, why: WhyNot, ask: SiteAsk) -> str:
    """Return what `sites --at` prints: whether a float may lie there, and every rule's spare.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    why : WhyNot
        Of the place.
    ask : SiteAsk
        What is looked for.

    Returns
    -------
    str
        Lines.
    """
    field = assessment.field
    units = field.settings.units
    lines = [line for text in why_sentences(why, ask.like, field) for line in _wrapped(text)]
    lines += [line for text in why.problems[not why.allowed :] for line in _wrapped(f"{text}.")]
    rig = _rig_there(why, units)
    if rig:
        lines += _wrapped(rig)
    if why.hindrances:
        said = [(clearance_line(as_clearance(one), field), one.rule) for one in why.hindrances]
        rows = [[line.name, line.amount, rule or ""] for line, rule in said]
        lines += ["", *grid(["against", "left", "rule"], rows, right={1})]
    return plain("\n".join([*lines, "", closing_line()]))


def _rig_there(why: WhyNot, units: Units) -> str:
    said = []
    if why.depth_m is not None:
        deep = length_text(why.depth_m, units, rounding="down")
        said.append(f"{deep} deep at normal water")
    if why.swing_radius_m is not None:
        radius = length_text(why.swing_radius_m, units, rounding="up")
        said.append(f"the float would swing {radius}")
    if why.riser_m is not None and why.ground_m is not None:
        riser, ground = measure_text(why.riser_m, units), measure_text(why.ground_m, units)
        said.append(f"riser {riser}, ground chain {ground}")
    text = "; ".join(said)
    return f"{text[:1].upper()}{text[1:]}." if text else ""
