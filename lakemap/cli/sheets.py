"""`lakemap sheets`: setting, inspection, lifting and members' sheets, to print or as PDF."""

import argparse
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_quantity
from lakemap.cli.out_files import file_problems
from lakemap.cli.terminal import Progress, say
from lakemap.inputs.folder import read_field
from lakemap.mapping import Assessment, assess

if TYPE_CHECKING:
    from lakemap.outputs.sheets.blocks import SheetKind, SheetPage
    from lakemap.outputs.typeset import Paper

_ENDINGS: Final = (".html", ".htm", ".pdf")
_HOME: Final = "sheets"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Options:
    """What was asked for."""

    kinds: "tuple[SheetKind, ...]"
    level_m: float | None
    out: Path | None


def run_sheets(asked: argparse.Namespace) -> int:
    """Write the sheets, one file to a kind, and say which."""
    options = _read(asked)
    from lakemap.outputs.sheets.asked import SheetAsk  # noqa: PLC0415 - options are good
    from lakemap.outputs.sheets.sheets import build_pages  # noqa: PLC0415
    from lakemap.outputs.typeset import PAPERS, usual_paper  # noqa: PLC0415

    tell = Progress()
    try:
        tell("reading")
        assessment = assess(read_field(asked.folder), tell=tell)
        ask = SheetAsk(level_m=options.level_m, owners=asked.owners)
        pages = build_pages(assessment, options.kinds, ask=ask, float_id=asked.float_id, tell=tell)
        paper = PAPERS[asked.paper or usual_paper(assessment.field.settings.units)]
        tell("writing")
        written = list(_write(assessment, pages, options, paper))
    finally:
        tell.done()
    say("\n".join(written))
    _tell_level(assessment, options.level_m)
    return 0


def _write(
    assessment: Assessment,
    pages: "Mapping[SheetKind, Sequence[SheetPage]]",
    options: _Options,
    paper: "Paper",
) -> Iterator[str]:
    """Write one file to a kind, or all into the one that was named."""
    from lakemap.outputs.sheets.sheets import NAMES  # noqa: PLC0415 - options are good

    lake = assessment.field.settings.name
    if options.out is not None:
        every = [page for own in pages.values() for page in own]
        name = NAMES[every[0].kind] if len(pages) == 1 else "Sheets"
        _write_file(options.out, every, title=f"{name}: {lake}", paper=paper)
        yield f"{name.lower()}: {options.out} ({_count(every)}, {paper.name})"
        return
    home = Path(_HOME)
    home.mkdir(exist_ok=True)
    for kind, own in pages.items():
        out = home / f"{assessment.field.folder}-{kind}.html"
        _write_file(out, own, title=f"{NAMES[kind]}: {lake}", paper=paper)
        yield f"{NAMES[kind].lower()}: {out} ({_count(own)}, {paper.name})"


def _count(pages: "Sequence[SheetPage]") -> str:
    floats = len({page.float_id for page in pages})
    return f"{floats} float{'s' * (floats != 1)}"


def _write_file(out: Path, pages: "Sequence[SheetPage]", *, title: str, paper: "Paper") -> None:
    if out.suffix.lower() == ".pdf":
        from lakemap.outputs.sheets.pdf import sheets_pdf  # noqa: PLC0415 - only for a PDF
        from lakemap.saving.atomic import write_whole  # noqa: PLC0415

        write_whole(out, sheets_pdf(pages, title=title, paper=paper), mode=0o644)
    else:
        from lakemap.outputs.atomic import write_atomic  # noqa: PLC0415 - not for a PDF
        from lakemap.outputs.sheets.html import sheets_html  # noqa: PLC0415

        write_atomic(out, sheets_html(pages, title=title, paper=paper))


def _tell_level(assessment: Assessment, level_m: float | None) -> None:
    """A level that the lake is not said to reach may be a slip."""
    levels = assessment.field.settings.levels
    if level_m is None or levels.low_m <= level_m <= levels.high_m:
        return
    from lakemap.outputs.words.levels_and_dates import signed_text  # noqa: PLC0415 - seldom

    side = "below its low" if level_m < levels.low_m else "above its high"
    told = signed_text(levels.low_m if level_m < levels.low_m else levels.high_m, assessment)
    say(f"note: {signed_text(level_m, assessment)} is {side}, {told} in field.toml", sys.stderr)


def _read(asked: argparse.Namespace) -> _Options:
    """Read every option before any file; every slip is told at once."""
    from lakemap.outputs.sheets.blocks import KINDS  # noqa: PLC0415 - only here

    problems, level = [], None
    if asked.level is not None:
        try:
            level = parse_quantity(asked.level, "length")
        except ValueError as error:
            problems.append(Problem(code="bad_option", text=str(error), column="--level"))
    out = None if asked.out is None else Path(asked.out)
    problems += _about_out(out, folder=Path(asked.folder))
    if problems:
        raise BadInputError(problems)
    kinds = KINDS if asked.kind is None else (asked.kind,)
    return _Options(kinds=kinds, level_m=level, out=out)


def _about_out(out: Path | None, *, folder: Path) -> Iterator[Problem]:
    """What is wrong with where the sheets are to go."""
    place = Path(_HOME) if out is None else out.parent
    if out is not None:
        yield from file_problems(out, endings=_ENDINGS, named=".html or .pdf")
    if (out is None or place.is_dir()) and folder.resolve() in {
        place.resolve(),
        *place.resolve().parents,
    }:
        text = f"{place.resolve()} lies in the field's own folder; name a file elsewhere"
        yield Problem(code="bad_option", text=text, column="--out")
    if out is not None and out.suffix.lower() == ".pdf":
        from lakemap.outputs.typeset import extra_problem  # noqa: PLC0415 - only for a PDF

        problem = extra_problem(named=".pdf", other=".html")
        if problem is not None:
            yield problem
