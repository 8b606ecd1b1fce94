"""The sheets of a field: which float gets which page, and the pages in file order.

What a page says is written kind by kind: `setting_page`, `inspection_page`, `lifting_page` and
`member_page`, each `(ground, one, ask, figures) -> SheetPage`.
"""

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Final, TypeAlias

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Status
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.sheets.asked import SheetAsk
from lakemap.outputs.sheets.blocks import SheetKind, SheetPage
from lakemap.outputs.sheets.inspection import inspection_page
from lakemap.outputs.sheets.lifting import lifting_page
from lakemap.outputs.sheets.member import member_page
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.setting import setting_page
from lakemap.season.facts.sheet_ground import SheetGround, sheet_ground

Writer: TypeAlias = Callable[[SheetGround, AssessedFloat, SheetAsk, Figures], SheetPage]
_WRITERS: Final[Mapping[SheetKind, Writer]] = MappingProxyType(
    {
        "setting": setting_page,
        "inspection": inspection_page,
        "lifting": lifting_page,
        "member": member_page,
    }
)
# what lies in the water is inspected and lifted; what is planned is set, and told its member
_STATUSES: Final[Mapping[SheetKind, frozenset[Status]]] = MappingProxyType(
    {
        "setting": frozenset({"set", "proposed"}),
        "inspection": frozenset({"set"}),
        "lifting": frozenset({"set"}),
        "member": frozenset({"set", "proposed"}),
    }
)
NAMES: Final[Mapping[SheetKind, str]] = MappingProxyType(
    {
        "setting": "Setting sheets",
        "inspection": "Inspection sheets",
        "lifting": "Lifting sheets",
        "member": "Members’ sheets",
    }
)


def build_pages(
    assessment: Assessment,
    kinds: Sequence[SheetKind],
    *,
    ask: SheetAsk,
    float_id: str | None = None,
    tell: Callable[[str], None] = lambda _: None,
) -> dict[SheetKind, tuple[SheetPage, ...]]:
    """Return the pages of one or more kinds of sheet.

    Setting and members' sheets are for floats that are set or proposed, inspection and lifting
    sheets for those that are set. A retired float has none but a lifting sheet, and that only
    where the float is asked for: its blocks may still lie there.

    Parameters
    ----------
    assessment : Assessment
        Of the whole field.
    kinds : sequence of str
        Of `setting`, `inspection`, `lifting`, `member`.
    ask : SheetAsk
        The level of the day, and whether owners may be named.
    float_id : str or None
        Only this float; None: all, in file order.
    tell : callable
        Told what is being done.

    Returns
    -------
    dict
        Pages by kind; kinds without a page are left out.

    Raises
    ------
    BadInputError
        If there is no such float, or nothing that has a sheet of these kinds.
    """
    chosen = assessment.floats if float_id is None else assessment.only(float_id).floats
    wanted = {
        kind: [one for one in chosen if _has_page(one, kind, named=float_id is not None)]
        for kind in kinds
    }
    if not any(wanted.values()):
        raise BadInputError([_nothing(chosen, kinds, float_id)])
    ground, figures = sheet_ground(assessment), Figures(assessment)
    pages: dict[SheetKind, tuple[SheetPage, ...]] = {}
    for kind, floats in wanted.items():
        if floats:
            tell(f"{NAMES[kind].lower()}, {len(floats)} pages")
            pages[kind] = tuple(_WRITERS[kind](ground, one, ask, figures) for one in floats)
    return pages


def _has_page(one: AssessedFloat, kind: SheetKind, *, named: bool) -> bool:
    status = one.record.status
    return status in _STATUSES[kind] or (named and kind == "lifting" and status == "retired")


def _nothing(
    chosen: Sequence[AssessedFloat], kinds: Sequence[SheetKind], float_id: str | None
) -> Problem:
    """Why there is no page at all."""
    if float_id is not None:
        status = chosen[0].record.status
        may = [kind for kind in NAMES if _has_page(chosen[0], kind, named=True)]
        text = (
            f"float {float_id.strip()} is {status} and has no {' or '.join(kinds)} sheet;"
            f" ask for --kind {' or '.join(may)}"
        )
        return Problem(code="no_sheet", text=text, column="--kind")
    statuses = sorted(set().union(*(_STATUSES[kind] for kind in kinds)), reverse=True)
    text = f"no float of the floats file is {' or '.join(statuses)}, so there is no sheet to write"
    return Problem(code="no_sheet", text=text, column="status")
