"""The cautions of a sheet: in full where the page has room, else the general ones by name."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from lakemap.outputs.sheets.blocks import Cautions, SheetPage
from lakemap.outputs.sheets.layout import lay_out
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.typeset import PAPERS
from lakemap.outputs.words.cautions import CLOSING, Caution, Task, cautions_of_task

_LEAST_PT: Final = 8.5  # smaller letters are no price for a sentence that stands on the map too
_ALWAYS: Final = frozenset({"under_load", "lifting"})  # the work itself


def with_cautions(page: SheetPage, tasks: Sequence[Task], numbers: SheetNumbers) -> SheetPage:
    """Return a page with the cautions that go with its tasks.

    Parameters
    ----------
    page : SheetPage
        Its footer has the one that closes them.
    tasks : sequence of Task
        What the sheet is for.
    numbers : SheetNumbers
        Of the float.

    Returns
    -------
    SheetPage
        With every caution in full if that still goes on one sheet of letter paper in letters that
        are read in a boat. If not, those that the field's map has in full too go by their names.
    """
    told = [
        each
        for task in tasks
        for each in cautions_of_task(task, numbers.assessment, numbers.one)
        if each is not CLOSING
    ]
    every = tuple(dict.fromkeys(told))
    full = _page(page, [each.said(numbers.texts) for each in every], numbers)
    parts = lay_out(full, PAPERS["letter"])
    if len(parts) == 1 and parts[0].fit.type_pt >= _LEAST_PT:
        return full
    return _page(page, _shortened(every, numbers), numbers)


def _shortened(every: Sequence[Caution], numbers: SheetNumbers) -> list[str]:
    texts = numbers.texts
    named = [each for each in every if "map" in each.tasks and each.key not in _ALWAYS]
    said = [each.said(texts) for each in every if each not in named]
    if named:
        names = ", ".join(each.name(texts) for each in named)
        said.append(texts.of("sheet_any.also", names=names))
    return said


def _page(page: SheetPage, said: Sequence[str], numbers: SheetNumbers) -> SheetPage:
    box = Cautions(texts=tuple(said), title=numbers.texts.of("panel.care"))
    return replace(page, blocks=(*page.blocks, box))
