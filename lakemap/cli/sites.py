"""`lakemap sites`: where new floats may go, how many fit, and why not here."""

import argparse
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.typed_places import read_position
from lakemap.cli.dialogue import read_length
from lakemap.cli.out_files import file_problems
from lakemap.cli.terminal import Progress, say
from lakemap.inputs.folder import read_field
from lakemap.mapping import Assessment, assess
from lakemap.siting.records import SiteAsk, Sites

if TYPE_CHECKING:
    from collections.abc import Callable

_Read = TypeVar("_Read")
_LENGTHS = ("length", "width", "riser", "ground")
_ENDINGS = (".html", ".htm", ".geojson")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Options:
    """What was asked for, in SI."""

    length_m: float | None
    width_m: float | None
    riser_m: float | None
    ground_m: float | None
    at: tuple[float, float] | None  # lat, lon
    out: Path | None


def run_sites(asked: argparse.Namespace) -> int:
    """Find sites for new floats, or tell why one place is none."""
    options = _read(asked)
    tell = Progress()
    try:
        tell("reading")
        field = read_field(asked.folder)
        assessment = assess(field, tell=tell)
        ask = _ask(assessment, asked, options)
        if options.at is not None:
            return _why(assessment, ask, options.at, tell, as_json=asked.json)
        return _find(assessment, ask, options, tell, asked)
    finally:
        tell.done()


def _find(
    assessment: Assessment,
    ask: SiteAsk,
    options: _Options,
    tell: Progress,
    asked: argparse.Namespace,
) -> int:
    from lakemap.sites import find_sites  # noqa: PLC0415 - after the options are known to be good

    sites = find_sites(assessment, ask, tell=tell)
    tell.done()
    added = _add(assessment, sites, asked)
    if options.out is not None:
        _write(options.out, assessment, sites)
    if asked.json:
        from lakemap.outputs.sites.document import sites_document  # noqa: PLC0415 - only with --json

        _print(sites_document(assessment, sites, added=added))
    else:
        from lakemap.outputs.sites.table import sites_table  # noqa: PLC0415 - not with --json

        say(sites_table(assessment, sites))
    stream = sys.stderr if asked.json else None
    if asked.write:
        where = assessment.field.floats_file
        what = (
            f"added to {where}: float {', '.join(added)}" if added else f"added to {where}: nothing"
        )
        say(what, stream)
    if options.out is not None:
        say(f"{'map' if options.out.suffix != '.geojson' else 'layer'}: {options.out}", stream)
    return 0


def _why(
    assessment: Assessment,
    ask: SiteAsk,
    at: tuple[float, float],
    tell: Progress,
    *,
    as_json: bool,
) -> int:
    from lakemap.sites import why_not  # noqa: PLC0415 - after the options are known to be good

    lat, lon = at
    why = why_not(assessment, ask, lon=lon, lat=lat)
    tell.done()
    if as_json:
        from lakemap.outputs.sites.document import why_document  # noqa: PLC0415 - only with --json

        _print(why_document(assessment, why, ask))
    else:
        from lakemap.outputs.sites.table import why_table  # noqa: PLC0415 - not with --json

        say(why_table(assessment, why, ask))
    return 0


def _print(document: dict[str, Any]) -> None:
    say(json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False))


def _ask(assessment: Assessment, asked: argparse.Namespace, options: _Options) -> SiteAsk:
    from lakemap.sites import template  # noqa: PLC0415 - after the options are known to be good

    like = template(
        assessment,
        like=asked.like,
        length_m=options.length_m,
        width_m=options.width_m,
        riser_m=options.riser_m,
        ground_m=options.ground_m,
    )
    return SiteAsk(like=like, lot=asked.lot, count=asked.count, seed=asked.seed)


def _add(assessment: Assessment, sites: Sites, asked: argparse.Namespace) -> tuple[str, ...]:
    """Add the sites to the floats file if that is asked for."""
    if not asked.write:
        return ()
    from lakemap.outputs.sites.proposed_rows import add_proposed  # noqa: PLC0415 - only with --write

    return add_proposed(Path(asked.folder), assessment.field, sites.sites, sites.ask)


def _write(out: Path, assessment: Assessment, sites: Sites) -> None:
    """Write the map with the sites on it, or the sites as a layer."""
    if out.suffix.lower() == ".geojson":
        from lakemap.outputs.atomic import write_atomic  # noqa: PLC0415 - only with --out
        from lakemap.outputs.sites.document import sites_geojson  # noqa: PLC0415

        layer = sites_geojson(assessment, sites)
        write_atomic(out, json.dumps(layer, ensure_ascii=False, allow_nan=False) + "\n")
    else:
        from lakemap.outputs.web.page import draw  # noqa: PLC0415 - folium is slow to import

        draw(assessment, out, sites=sites)


def _read(asked: argparse.Namespace) -> _Options:
    """Read every option before any file; every slip is told at once."""
    problems: list[Problem] = []
    metres = {name: _value(asked, name, read_length, problems) for name in _LENGTHS}
    at = _value(asked, "at", read_position, problems)
    problems += _about_deck(asked)
    problems += _about_counts(asked)
    out = None if asked.out is None else Path(asked.out)
    if out is not None:
        problems += _about_out(out)
    for option, given in (("--out", asked.out), ("--write", asked.write)):
        if asked.at is not None and given:
            text = f"--at tells of one place only; leave out {option}"
            problems.append(Problem(code="two_ways", text=text, column=option))
    if problems:
        raise BadInputError(problems)
    return _Options(
        length_m=metres["length"],
        width_m=metres["width"],
        riser_m=metres["riser"],
        ground_m=metres["ground"],
        at=at,
        out=out,
    )


def _value(
    asked: argparse.Namespace, name: str, read: "Callable[[str], _Read]", problems: list[Problem]
) -> "_Read | None":
    """One option's value; None where it was left out or is none."""
    given = getattr(asked, name)
    if given is None:
        return None
    try:
        return read(given)
    except ValueError as error:
        problems.append(Problem(code="bad_option", text=str(error), column=f"--{name}"))
        return None


def _about_deck(asked: argparse.Namespace) -> list[Problem]:
    if asked.like is not None and (asked.length or asked.width):
        text = "give --like, or --length and --width, not both"
        return [Problem(code="two_ways", text=text, column="--like")]
    if (asked.length is None) != (asked.width is None):
        text = 'give --length and --width together, as in --length "10 ft" --width "8 ft"'
        return [Problem(code="half_a_way", text=text)]
    return []


def _about_counts(asked: argparse.Namespace) -> list[Problem]:
    problems = []
    for option, value, least in (("--count", asked.count, 1), ("--seed", asked.seed, 0)):
        if value < least:
            text = f"{value} is too few; write a whole number from {least} on"
            problems.append(Problem(code="bad_option", text=text, column=option))
    return problems


def _about_out(out: Path) -> list[Problem]:
    return file_problems(out, endings=_ENDINGS, named=".html or .geojson")
