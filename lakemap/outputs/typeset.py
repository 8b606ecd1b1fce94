"""Paper: its sizes, and pages as PDF and PNG by the typesetting library of the extra `paper`.

The library is asked for only when it is needed. Nothing here knows what the pages show.
"""

import importlib.util
import re
import shutil
import struct
import tempfile
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, Literal

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Units

POINTS_PER_INCH: Final = 72.0
_INCH_MM: Final = 25.4
_INCH_M: Final = 0.0254
# A plotting library ships it, so it is the same on every device; Latin, Greek, Cyrillic, Arabic
# and Hebrew are in it.
FONT: Final = "DejaVu Sans"
_FONT_FILES: Final = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf")
_FONT_HOME: Final = ("matplotlib", "mpl-data/fonts/ttf")
_IN_FONT: Final = re.compile(
    "[\\s!-~\u00a0-\u052f\u05d0-\u05f4\u0606-\u06ff\u1e00-\u1fff\u2000-\u206f\u2074-\u209c"
    "\u20a0-\u20b5\u2190-\u22ff\u25a0-\u25ff\ufb13-\ufb4f\ufe70-\ufefc]*"
)
_FAMILY: Final = re.compile(r'font-family="[^"]*"')
_PNG_HEADER: Final = (
    33  # bytes of the signature and of the first chunk, after which others may stand
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet of paper, upright or lying on its long side."""

    name: str
    width_pt: float
    height_pt: float
    unit_pt: float  # what a page is laid out in: larger on a sheet that is read from farther off

    def turned(self) -> "Paper":
        """Return the sheet lying on its long side."""
        return Paper(
            name=self.name,
            width_pt=self.height_pt,
            height_pt=self.width_pt,
            unit_pt=self.unit_pt,
        )


def _inches(name: str, wide: float, high: float, unit_pt: float) -> Paper:
    return Paper(
        name=name,
        width_pt=wide * POINTS_PER_INCH,
        height_pt=high * POINTS_PER_INCH,
        unit_pt=unit_pt,
    )


def _millimetres(name: str, wide: float, high: float, unit_pt: float) -> Paper:
    return _inches(name, wide / _INCH_MM, high / _INCH_MM, unit_pt)


PAPERS: Final[Mapping[str, Paper]] = {  # ISO 216 and what North America calls its sheets
    paper.name: paper
    for paper in (
        _inches("letter", 8.5, 11, 0.8),
        _inches("legal", 8.5, 14, 0.8),
        _inches("tabloid", 11, 17, 1.0),
        _millimetres("a5", 148, 210, 0.66),
        _millimetres("a4", 210, 297, 0.8),
        _millimetres("a3", 297, 420, 1.0),
        _millimetres("a2", 420, 594, 1.3),
    )
}


def usual_paper(units: Units) -> str:
    """Return the name of the sheet that is usual where people use these units."""
    return "letter" if units == "ft-lb" else "a4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """Pages to be set: each one SVG picture as large as its sheet."""

    paper: Paper
    title: str
    says: str  # what the first page tells, for readers who can't see it
    pictures: Sequence[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """What pages are set from: a template of our own, and what it shows, which is data to it."""

    source: str  # in the library's own language; never holds anything that people wrote
    drawings: Mapping[str, str]  # SVG by the file's name
    texts: Mapping[str, str] = field(default_factory=dict)  # other files by name
    inputs: Mapping[str, str] = field(default_factory=dict)


def extra_problem(*, named: str, other: str = ".svg") -> Problem | None:
    """Tell what is missing to write PDF and PNG.

    Parameters
    ----------
    named : str
        The file's ending, as `.pdf`.
    other : str
        The ending of what can be written all the same.

    Returns
    -------
    Problem or None
        None where nothing is missing.
    """
    if importlib.util.find_spec("typst") is not None and _font_folder() is not None:
        return None
    install = "pip install 'lakemap[paper]'"
    text = f"a {named} needs the extra for paper: {install}; {other} needs nothing"
    return Problem(code="no_extra", text=text, column="--out")


def _font_folder() -> Path | None:
    """Where the font stands; its package is not run, that would be slow."""
    package, inside = _FONT_HOME
    found = importlib.util.find_spec(package)
    if found is None or found.origin is None:
        return None
    folder = Path(found.origin).parent / inside
    return folder if all((folder / name).is_file() for name in _FONT_FILES) else None


def to_pdf(pages: Pages) -> bytes:
    """Return pages as PDF, text as text; the same pages give the same bytes.

    Parameters
    ----------
    pages : Pages
        To be set.

    Returns
    -------
    bytes
        One file, without the date.

    Raises
    ------
    BadInputError
        If the extra is not installed.
    """
    return _set(pages, kind="pdf")


def to_png(pages: Pages, *, dpi: int) -> bytes:
    """Return the first page as PNG; the same page gives the same bytes.

    Parameters
    ----------
    pages : Pages
        To be set.
    dpi : int
        Dots per inch of the sheet; the file says it, so that it prints at its size.

    Returns
    -------
    bytes
        One file.

    Raises
    ------
    BadInputError
        If the extra is not installed.
    """
    first = Pages(
        paper=pages.paper, title=pages.title, says=pages.says, pictures=pages.pictures[:1]
    )
    png = _set(first, kind="png", dpi=dpi)
    return png[:_PNG_HEADER] + _size_chunk(dpi) + png[_PNG_HEADER:]


def _size_chunk(dpi: int) -> bytes:
    """How many dots there are to the metre (PNG specification, third edition, 11.3.4.3)."""
    dots = round(dpi / _INCH_M)
    body = b"pHYs" + struct.pack(">IIB", dots, dots, 1)
    return struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))


def _set(pages: Pages, *, kind: Literal["pdf", "png"], dpi: int | None = None) -> bytes:
    pictures = {f"{k}.svg": picture for k, picture in enumerate(pages.pictures, start=1)}
    inputs = {"title": pages.title, "says": pages.says}
    made = Template(source=_source(pages), drawings=pictures, inputs=inputs)
    return set_pages(made, kind=kind, dpi=dpi)


def set_pages(made: Template, *, kind: Literal["pdf", "png"], dpi: int | None = None) -> bytes:
    """Set pages in a folder of their own that holds nothing but them and the font.

    Parameters
    ----------
    made : Set
        The template and what it shows.
    kind : {'pdf', 'png'}
        Of the file.
    dpi : int or None
        Dots per inch of a PNG.

    Returns
    -------
    bytes
        One file; the same pages give the same bytes.

    Raises
    ------
    BadInputError
        If the extra is not installed.
    """
    fonts = _fonts(named=f".{kind}")
    import typst  # noqa: PLC0415 - an extra

    with tempfile.TemporaryDirectory(prefix="lakemap-") as name:
        folder = Path(name)
        for file in _FONT_FILES:
            shutil.copyfile(fonts / file, folder / file)
        for file, picture in made.drawings.items():
            own = _FAMILY.sub(f'font-family="{FONT}"', picture)
            (folder / file).write_text(own, encoding="utf-8")
        for file, text in made.texts.items():
            (folder / file).write_text(text, encoding="utf-8")
        main = folder / "main.typ"
        main.write_text(made.source, encoding="utf-8")
        shown = (*made.drawings.values(), *made.texts.values())
        return typst.compile(
            main,
            root=folder,
            font_paths=[folder],
            # the device's fonts only for signs that ours has not: they differ from one to another
            ignore_system_fonts=all(map(_IN_FONT.fullmatch, shown)),
            sys_inputs=dict(made.inputs),
            format=kind,
            ppi=dpi,
        )


def _fonts(*, named: str) -> Path:
    """Where the font stands; all that is missing is told."""
    problem, folder = extra_problem(named=named), _font_folder()
    if problem is not None:
        raise BadInputError([problem])
    assert folder is not None  # noqa: S101 - else there is a problem
    return folder


def _source(pages: Pages) -> str:
    """The library's own language; texts of people come in as inputs, never as a part of it."""
    wide, high = f"{pages.paper.width_pt:.3f}pt", f"{pages.paper.height_pt:.3f}pt"
    heads = (
        '#set document(title: sys.inputs.at("title"), date: none)\n'
        f"#set page(width: {wide}, height: {high}, margin: 0pt)\n"
    )
    images = (
        f'#image("{k}.svg", width: {wide}, height: {high}, alt: sys.inputs.at("says"))'
        for k in range(1, len(pages.pictures) + 1)
    )
    return heads + "\n#pagebreak()\n".join(images) + "\n"
