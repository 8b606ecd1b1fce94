"""Whom the rules protect: what each asks, for whose sake, how this float keeps it, whose word."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from lakemap.basis.wording import area_text
from lakemap.outputs.sheets.blocks import Para, Table
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.words.clearances import asked_text, clearance_line

_RULE_OF: Final[Mapping[str, str]] = MappingProxyType({"float": "neighbour", "island": "shore"})
_WIDTHS: Final = (0.32, 0.32, 0.36)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kept:
    """One rule at one float."""

    rule: str
    asked: str
    here: str
    source: str


def rules_blocks(numbers: SheetNumbers) -> tuple[Table | Para, ...]:
    """Return the rules that apply to a float, in plain words, and the texts of their sources.

    Parameters
    ----------
    numbers : SheetNumbers
        Of the float.

    Returns
    -------
    tuple of Table and Para
        A row to a rule, the one that is kept least first; a sentence where nothing is asked.
    """
    texts, one = numbers.texts, numbers.one
    # gaps of a float without a depth rest on a guess
    kept = tuple(_asked_of_all(numbers) if one.verdict == "unknown" else _checked(numbers))
    if not kept:
        return (Para(text=texts.of("sheet_member.nothing_asked")),)
    header = ("asked", "protects", "here")
    table = Table(
        header=tuple(texts.of(f"sheet_member.{name}") for name in header),
        rows=tuple(
            (
                texts.of(f"sheet_member.thing_{each.rule}", asked=each.asked),
                texts.of(f"sheet_member.for_{each.rule}"),
                each.here,
            )
            for each in kept
        ),
        widths=_WIDTHS,
    )
    return table, Para(text=_sources(kept, numbers), look="quiet")


def _checked(numbers: SheetNumbers) -> Iterator[_Kept]:
    """Each rule once, at the thing that it is kept least from: the first in the list."""
    texts, seen = numbers.texts, set()
    for each in numbers.one.clearances:
        rule = _RULE_OF.get(each.kind, each.kind)
        if each.spare is None or rule in seen:
            continue
        seen.add(rule)
        line = clearance_line(each, numbers.assessment.field, texts=texts)
        limit = each.required_m if each.required_m2 is None else each.required_m2
        yield _Kept(
            rule=rule,
            asked=_asked(rule, limit or 0.0, numbers),
            here=texts.of("sheet_member.keeps", thing=line.name, much=line.amount),
            source=each.rule or "",
        )


def _asked_of_all(numbers: SheetNumbers) -> Iterator[_Kept]:
    """The field's rules, where nobody knows how this float keeps them."""
    for rule, each in numbers.assessment.field.settings.rules.items():
        yield _Kept(
            rule=rule,
            asked=_asked(rule, each.limit, numbers),
            here=numbers.texts.of("sheet_member.unknown"),
            source=each.source,
        )


def _asked(rule: str, limit: float, numbers: SheetNumbers) -> str:
    if rule == "deck_area_max":
        return area_text(limit, numbers.units)
    if limit == 0:
        return numbers.texts.of("sheet_member.no_distance")
    return asked_text(limit, numbers.units)


def _sources(kept: tuple[_Kept, ...], numbers: SheetNumbers) -> str:
    """Each source once, with what it asks."""
    texts = numbers.texts
    said: dict[str, list[str]] = {}
    for each in kept:
        said.setdefault(each.source, []).append(texts.of(f"sheet_member.name_{each.rule}"))
    listed = (
        texts.of("sheet_member.source_of", rules=", ".join(names), source=source)
        for source, names in said.items()
        if source
    )
    return texts.of("sheet_member.sources", sources="; ".join(listed))
