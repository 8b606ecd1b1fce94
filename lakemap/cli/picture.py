"""`lakemap draw --out` with a picture: which file, which paper, and what is wrong with either."""

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from lakemap.basis.errors import Problem
from lakemap.cli.out_files import file_problems
from lakemap.mapping import Assessment

PAGES: Final = frozenset({".html", ".htm"})
PICTURES: Final = frozenset({".svg", ".png", ".pdf"})
_DPI, _LEAST_DPI, _MOST_DPI = 200, 50, 600
_MOST_DOTS: Final = 7e7  # about a gigabyte while it is drawn


def out_problems(asked: argparse.Namespace) -> list[Problem]:
    """Return what is wrong with the file and the options; told before anything is read.

    Parameters
    ----------
    asked : argparse.Namespace
        Of `draw`.

    Returns
    -------
    list of Problem
        Empty where all fits together.
    """
    kind = ".html" if asked.out is None else Path(asked.out).suffix.lower()
    problems = list(_about_options(asked, kind))
    if asked.out is not None:
        problems += _about_file(Path(asked.out), kind)
    return problems


def _about_file(out: Path, kind: str) -> Iterator[Problem]:
    named = ".html for the map, or in .svg, .png or .pdf for a picture"
    yield from file_problems(out, endings=PAGES | PICTURES, named=named)
    if kind in PICTURES - {".svg"}:
        from lakemap.outputs.typeset import extra_problem  # noqa: PLC0415 - only for paper

        problem = extra_problem(named=kind)
        if problem is not None:
            yield problem


def _about_options(asked: argparse.Namespace, kind: str) -> Iterator[Problem]:
    given = {"--paper": asked.paper is not None, "--landscape": asked.landscape}
    for option, is_given in given.items():
        if is_given and kind in PAGES:
            text = f"the map has no paper; {option} goes with --out FILE.svg, .png or .pdf"
            yield Problem(code="bad_option", text=text, column=option)
    if asked.dpi is not None and kind in PAGES | PICTURES - {".png"}:
        text = f"a {kind} has no dots; --dpi goes with --out FILE.png"
        yield Problem(code="bad_option", text=text, column="--dpi")
    most = _most_dpi(asked.paper)
    if asked.dpi is not None and not _LEAST_DPI <= asked.dpi <= most:
        on = "" if most == _MOST_DPI else f" on {asked.paper}"
        text = f"{asked.dpi} dots per inch; give {_LEAST_DPI} to {most}{on}, as in --dpi {_DPI}"
        yield Problem(code="bad_option", text=text, column="--dpi")


def _most_dpi(paper: str | None) -> int:
    """What a large sheet leaves of it: all dots stand in memory at once."""
    from lakemap.outputs.typeset import PAPERS, POINTS_PER_INCH  # noqa: PLC0415 - only to draw

    if paper is None:  # letter or A4
        return _MOST_DPI
    sheet = PAPERS[paper]
    square_inches = sheet.width_pt * sheet.height_pt / POINTS_PER_INCH**2
    return min(_MOST_DPI, int((_MOST_DOTS / square_inches) ** 0.5) // 50 * 50)


def write_picture(assessment: Assessment, asked: argparse.Namespace, out: Path) -> list[str]:
    """Write the picture that was asked for.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    asked : argparse.Namespace
        Of `draw`, without problems.
    out : Path
        Where it goes.

    Returns
    -------
    list of str
        What it became, in lines.
    """
    from lakemap.outputs.poster.poster import Wish, draw_picture  # noqa: PLC0415 - only for a picture
    from lakemap.outputs.typeset import PAPERS, usual_paper  # noqa: PLC0415

    paper = PAPERS[asked.paper or usual_paper(assessment.field.settings.units)]
    name = f"{paper.name}, {'landscape' if asked.landscape else 'upright'}"
    paper = paper.turned() if asked.landscape else paper
    wish = Wish(paper=paper, dpi=asked.dpi or _DPI, owners=asked.owners)
    drawn = draw_picture(assessment, out, wish)
    pages = f", {drawn.pages} pages" if drawn.pages > 1 else ""
    lines = [f"picture: {out} ({name}{pages})"]
    if drawn.unlisted:
        lines.append(f"its table has no room for {drawn.unlisted:,} floats; a .pdf lists all")
    return lines
