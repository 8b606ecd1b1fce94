"""What the server asks of a desk, and what it says in its place when that fails."""

import json
import traceback
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Protocol

from lakemap.basis.errors import BadInputError

_OK, _NOT_FOUND, _UNPROCESSABLE, _FAILED = 200, 404, 422, 500
_UNKNOWN = "unknown_ask"
_WENT_WRONG = (
    "something went wrong here; nothing was saved. The terminal where `lakemap plan` runs shows"
    " what; the plan in this window is still there"
)


class Answering(Protocol):
    """A desk: one field folder, asked by one thread at a time."""

    def page(self, name: str) -> str:
        """Return the HTML of a page, "" or "ground"."""

    def answer(self, name: str, body: dict[str, Any]) -> Mapping[str, Any]:
        """Answer one ask; a problem `unknown_ask` where there is none of this name."""

    def close(self) -> None:
        """End what still runs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of one ask or page, ready to be sent."""

    status: int
    text: str  # JSON of an ask; of a page HTML, or plain text where it failed


def problems_text(texts: Iterable[str]) -> str:
    """Return what a page is told where an ask has no answer.

    Parameters
    ----------
    texts : iterable of str
        One sentence each.

    Returns
    -------
    str
        JSON.
    """
    return json.dumps({"problems": [{"text": text} for text in texts]}, ensure_ascii=False)


def answer_of(desk: Answering, name: str, body: dict[str, Any]) -> Outcome:
    """Ask a desk; whatever goes wrong there is an answer too.

    Parameters
    ----------
    desk : Answering
        Of the folder.
    name : str
        Of the ask.
    body : dict
        As the page sent it.

    Returns
    -------
    Outcome
        200, or 404, 422 and 500 with `problems`.
    """
    try:
        answer = desk.answer(name, body)
        text = json.dumps(answer, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        return Outcome(status=_OK, text=text)
    except Exception as error:  # noqa: BLE001 - no ask may end the server
        status, texts = _told(error)
        return Outcome(status=status, text=problems_text(texts))


def page_of(desk: Answering, name: str) -> Outcome:
    """Ask a desk for a page.

    Parameters
    ----------
    desk : Answering
        Of the folder.
    name : str
        "" or "ground".

    Returns
    -------
    Outcome
        200 with HTML; else 422 or 500 with plain text.
    """
    try:
        return Outcome(status=_OK, text=desk.page(name))
    except Exception as error:  # noqa: BLE001 - no page may end the server
        status, texts = _told(error)
        return Outcome(status=status, text="\n".join(texts))


def _told(error: Exception) -> tuple[int, list[str]]:
    """What people are told; a traceback goes to the terminal alone."""
    if isinstance(error, BadInputError):
        fatal = [problem for problem in error.problems if problem.fatal] or error.problems
        unknown = any(problem.code == _UNKNOWN for problem in fatal)
        return _NOT_FOUND if unknown else _UNPROCESSABLE, [problem.line() for problem in fatal]
    traceback.print_exception(error)
    if isinstance(error, OSError) and error.filename and error.strerror:
        return _FAILED, [f"{error.filename}: {error.strerror}; nothing was saved"]
    return _FAILED, [_WENT_WRONG]
