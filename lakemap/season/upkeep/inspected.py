"""The inspections of a field: each row with its float and the pieces of the rig it is about."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from typing import Any, Final

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.errors import Problem
from lakemap.basis.wording import bar_text
from lakemap.season.rig_inventory import RigPiece
from lakemap.season.upkeep.finding_words import FindingKind, finding_kind, is_corroded
from lakemap.season.upkeep.part_words import FLOAT_ITSELF, Meant, meant_by, nearest_part

FILE: Final = "inspections"
_WIDER: Final = 1.15  # ours: of the new diameter; beyond it another part was measured, or a slip


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One row of the inspections file, of one float."""

    row: int
    on: date
    part: str | None  # as written
    finding: str | None  # as written
    kind: FindingKind
    corroded: bool
    diameter_m: float | None
    broken_wires: int | None
    by: str | None  # a person's name: private
    lonlat: tuple[float, float] | None
    pieces: tuple[int, ...]  # places in the rig's inventory
    group: str | None  # what the part's words mean; None: nothing that we know
    unsure: bool  # the word may mean any of these pieces


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspected:
    """All rows that count, by float, and what is to be said of the others."""

    seen: tuple[tuple[Seen, ...], ...]  # one for each float of the assessment, by date
    notes: tuple[Problem, ...]  # cautions: rows that count for nothing, or for less than they say


def inspected(
    assessment: Assessment, rigs: Sequence[tuple[RigPiece, ...]], *, on: date
) -> Inspected:
    """Give every row of the inspections to its float and the pieces that it names.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    rigs : sequence of tuple of RigPiece
        The inventory of each of its floats.
    on : date
        Rows of later days are not known yet.

    Returns
    -------
    Inspected
        Rows of set floats alone; those of retired, proposed and unknown floats are told.
    """
    places = {one.record.float_id: at for at, one in enumerate(assessment.floats)}
    seen: list[list[Seen]] = [[] for _ in assessment.floats]
    notes: list[Problem] = []
    for row in assessment.field.inspections:
        at = _place(row, places, notes)
        if at is None or not _counts(row, assessment.floats[at], on, notes):
            continue
        one = _seen(row, rigs[at], notes, assessment)
        seen[at].append(one)
    ordered = (sorted(rows, key=lambda one: (one.on, one.row)) for rows in seen)
    return Inspected(seen=tuple(tuple(rows) for rows in ordered), notes=tuple(notes))


def _note(row: Mapping[str, Any], code: str, text: str, column: str | None = None) -> Problem:
    return Problem(code=code, text=text, file=FILE, row=row.get("row"), column=column, fatal=False)


def _place(row: Mapping[str, Any], places: Mapping[str, int], notes: list[Problem]) -> int | None:
    name = (row.get("float_id") or "").strip()
    if name in places:
        return places[name]
    same = [known for known in places if known.casefold() == name.casefold()]
    if len(same) == 1:
        return places[same[0]]
    if not name:
        notes.append(_note(row, "no_float_id", "names no float; not counted", "float_id"))
        return None
    near = get_close_matches(name, list(places), n=1)
    hint = f"; did you mean {near[0]}?" if near else ""
    text = f"no float {name!r} in the floats file{hint} Not counted."
    notes.append(_note(row, "no_such_float", text, "float_id"))
    return None


def _counts(row: Mapping[str, Any], one: AssessedFloat, on: date, notes: list[Problem]) -> bool:
    """Tell whether a row can be counted; why not is told."""
    day, name = row.get("date"), one.record.float_id
    if day is None:
        notes.append(_note(row, "no_date", "has no date; not counted", "date"))
    elif day > on:
        text = f"{day} is after {on}, for which this is; not counted"
        notes.append(_note(row, "later_date", text, "date"))
    elif one.record.status == "retired":
        text = f"float {name} is retired; nothing of it is due"
        notes.append(_note(row, "retired_float", text, "float_id"))
    elif one.record.status == "proposed":
        text = f"float {name} is proposed, not set; not counted"
        notes.append(_note(row, "proposed_float", text, "float_id"))
    else:
        return True
    return False


def _seen(
    row: Mapping[str, Any],
    pieces: tuple[RigPiece, ...],
    notes: list[Problem],
    assessment: Assessment,
) -> Seen:
    part, finding = row.get("part"), row.get("finding")
    kind = finding_kind(finding)
    wires = row.get("broken_wires")
    meant = _meant(part, pieces, about_cable=wires is not None)
    lon, lat = row.get("lon"), row.get("lat")
    diameter = row.get("diameter_m")
    problems = [
        *_about_part(row, pieces, meant, kind),
        *_about_wires(row, pieces, meant),
    ]
    if diameter is not None and _too_wide(diameter, pieces, meant):
        units = assessment.field.settings.units
        new = max(pieces[i].new_diameter_m or 0.0 for i in meant.pieces)
        text = (
            f"{bar_text(diameter, units)} is wider than the part when new"
            f" ({bar_text(new, units)}); its measure is not counted"
        )
        problems.append(_note(row, "too_wide", text, "diameter"))
        diameter = None
    notes += problems
    return Seen(
        row=row.get("row") or 0,
        on=row["date"],
        part=part,
        finding=finding,
        kind=kind,
        corroded=is_corroded(finding),
        diameter_m=diameter,
        broken_wires=wires,
        by=row.get("by"),
        lonlat=None if lon is None or lat is None else (lon, lat),
        pieces=meant.pieces,
        group=meant.group,
        unsure=meant.unsure,
    )


def _meant(part: str | None, pieces: tuple[RigPiece, ...], *, about_cable: bool) -> Meant:
    if part is not None:
        return meant_by(part, pieces)
    return meant_by("cable", pieces) if about_cable else Meant(pieces=(), group=FLOAT_ITSELF)


def _about_part(
    row: Mapping[str, Any], pieces: tuple[RigPiece, ...], meant: Meant, kind: FindingKind
) -> Iterator[Problem]:
    part = row.get("part")
    if part is None:
        if meant.group == FLOAT_ITSELF and kind != "moved":
            text = "names no part; it counts for none of the rig"
            yield _note(row, "no_part", text, "part")
        return
    if meant.group is None:
        near = nearest_part(part)
        hint = f"; did you mean {near}?" if near else ""
        there = ", ".join(dict.fromkeys(piece.name for piece in pieces))
        text = f"{part!r} is no part that we know{hint} The rig has: {there}."
        yield _note(row, "unknown_part", text, "part")
    elif not meant.pieces and meant.group != FLOAT_ITSELF:
        sized = [f"{piece.name} {piece.size}" if meant.size else piece.name for piece in pieces]
        there = ", ".join(dict.fromkeys(sized))
        text = f"the rig of float {row['float_id']} has no {part}; it has: {there}"
        yield _note(row, "part_not_there", text, "part")


def _about_wires(
    row: Mapping[str, Any], pieces: tuple[RigPiece, ...], meant: Meant
) -> Iterator[Problem]:
    wires = row.get("broken_wires")
    if wires and not any(pieces[i].kind == "cable" for i in meant.pieces):
        text = f"{wires} broken wires of {row.get('part') or 'no part'}: only cable has wires"
        yield _note(row, "no_wires", text, "broken_wires")


def _too_wide(diameter_m: float, pieces: tuple[RigPiece, ...], meant: Meant) -> bool:
    new = [size for i in meant.pieces if (size := pieces[i].new_diameter_m) is not None]
    return bool(new) and all(diameter_m > _WIDER * size for size in new)
