"""Requests in, answers out: a few fixed addresses, none of which is ever a file's."""

import re
import traceback
from collections.abc import Mapping
from functools import partial
from types import MappingProxyType
from typing import Any, Final

from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from lakemap.outputs.web.page_frame import policy
from lakemap.planner.body import parse_object, read_body
from lakemap.planner.connections import Limits
from lakemap.planner.guard import Guard, RefusedError
from lakemap.planner.plain_page import WAY_IN, plain_page
from lakemap.planner.talk import Answering, Outcome, answer_of, page_of, problems_text
from lakemap.planner.worker import Turn, Worker

_OK, _SEE_OTHER, _FAILED = 200, 303, 500
_BAD, _FORBIDDEN, _NOT_FOUND, _WRONG_METHOD = 400, 403, 404, 405
_PAGES: Mapping[str, str] = MappingProxyType({"/": "", "/ground": "ground"})
_OPEN, _ASK = "/open/", "/ask/"
_NAME = re.compile(r"[a-z][a-z_-]{0,39}")
_OVERTAKEN = frozenset({"plan", "lie"})  # asked while a hand moves: only the latest counts
_LONGEST_PAGE: Final = 64
_JSON, _HTML = "application/json", "text/html; charset=utf-8"
_PLAIN_POLICY = "default-src 'none'; base-uri 'none'; form-action 'none'"
_FRAMES = "; frame-ancestors 'none'"
_ALWAYS: Mapping[str, str] = MappingProxyType(
    {
        "x-content-type-options": "nosniff",
        "referrer-policy": "no-referrer",
        "cache-control": "no-store",
        "cross-origin-opener-policy": "same-origin",
        "cross-origin-resource-policy": "same-origin",
    }
)


class App:
    """The planner as an ASGI application.

    Parameters
    ----------
    desk : Answering
        Answers the asks, in the worker's thread only.
    guard : Guard
        Tells who may ask.
    worker : Worker
        Does the desk's work.
    limits : Limits
        Of the server.
    """

    def __init__(self, desk: Answering, *, guard: Guard, worker: Worker, limits: Limits) -> None:
        self._desk = desk
        self._guard = guard
        self._worker = worker
        self._limits = limits

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        request = Request(scope, receive)
        answer = await self._answer(request)
        for name, value in _ALWAYS.items():
            answer.headers[name] = value
        answer.headers.setdefault("content-security-policy", _PLAIN_POLICY + _FRAMES)
        await answer(scope, receive, send)

    async def _answer(self, request: Request) -> Response:
        """Answer one request; a refusal and a failure are answers too."""
        try:
            return await self._route(request)
        except RefusedError as error:
            return _refusal(error, request)
        except ClientDisconnect:
            return Response(status_code=_BAD)  # nobody reads it
        except Exception as error:  # noqa: BLE001 - no request may end the server
            traceback.print_exception(error)
            return _refusal(RefusedError(_FAILED, "Something went wrong here."), request)

    async def _route(self, request: Request) -> Response:
        self._guard.check_place(request.method, request.headers)
        path = _path(request)
        if path.startswith(_OPEN):
            _check_method(request, "GET")
            cookie = self._guard.open(path.removeprefix(_OPEN), request.headers)
            return Response(status_code=_SEE_OTHER, headers={"location": "/", "set-cookie": cookie})
        self._guard.check_cookie(request.headers)
        if path in _PAGES:
            _check_method(request, "GET")
            return await self._page(_PAGES[path])
        name = path.removeprefix(_ASK)
        if not path.startswith(_ASK) or not _NAME.fullmatch(name):
            raise RefusedError(_NOT_FOUND, "There is nothing at this address.")
        _check_method(request, "POST")
        return await self._ask(name, request)

    async def _page(self, name: str) -> Response:
        outcome = await self._worker.do(partial(page_of, self._desk, name))
        if outcome.status != _OK:
            return _html(plain_page(*outcome.text.splitlines()), status=outcome.status)
        return _html(outcome.text)

    async def _ask(self, name: str, request: Request) -> Response:
        data = await read_body(request, name, seconds=self._limits.body_s)
        body = parse_object(data)
        turn = _take_turn(name, body)
        outcome: Outcome = await self._worker.do(
            partial(answer_of, self._desk, name, body), turn=turn
        )
        return Response(outcome.text, status_code=outcome.status, media_type=_JSON)


def _path(request: Request) -> str:
    """The path as it was sent: what is written otherwise, such as %61sk, is another address."""
    raw: bytes = request.scope["raw_path"]
    return raw.decode("ascii", "replace")


def _check_method(request: Request, method: str) -> None:
    if request.method != method:
        text = f"This address answers {method} only."
        raise RefusedError(_WRONG_METHOD, text, headers={"allow": method})


def _take_turn(name: str, body: dict[str, Any]) -> Turn | None:
    """Take what tells old asks from new ones out of the body; it is not the desk's."""
    page, number = body.pop("page", None), body.pop("seq", None)
    if page is None or number is None:
        return None
    if not isinstance(page, str) or len(page) > _LONGEST_PAGE:
        raise RefusedError(_BAD, f"page must be a text of at most {_LONGEST_PAGE} signs")
    if not isinstance(number, int):
        raise RefusedError(_BAD, "seq must be a whole number")
    return Turn(page=page, name=name, number=number) if name in _OVERTAKEN else None


def _html(text: str, *, status: int = _OK) -> Response:
    """A page with the policy that its own scripts and styles make."""
    allowed = policy(text, images="data: blob:", connects="'self'") + _FRAMES
    headers = {"content-security-policy": allowed, "content-type": _HTML}
    return Response(text, status_code=status, headers=headers)


def _refusal(error: RefusedError, request: Request) -> Response:
    """Words that a page can show where it asked, a page of its own else."""
    if _path(request).startswith(_ASK):
        text = problems_text([error.text])
        answer = Response(text, status_code=error.status, media_type=_JSON)
    else:
        way_in = [WAY_IN] if error.status == _FORBIDDEN else []
        answer = _html(plain_page(error.text, *way_in), status=error.status)
    answer.headers.update(error.headers)
    answer.headers["connection"] = "close"  # what else the asker sends is not read
    return answer
