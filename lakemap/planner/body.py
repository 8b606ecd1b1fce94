"""The body of an ask: its kind, its size, its time, and JSON that holds nothing odd."""

import asyncio
import json
import math
import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final, NoReturn

from starlette.requests import Request

from lakemap.planner.guard import RefusedError

_BAD, _TIMEOUT, _TOO_LARGE, _WRONG_TYPE = 400, 408, 413, 415
_MB: Final = 1024 * 1024
_MOST: Final = 8 * _MB
_MOST_OF: Mapping[str, int] = MappingProxyType({"ground-keep": 32 * _MB})  # a picture in base64
_DRAINED: Final = 16 * _MB  # read and dropped, so that a page hears why instead of a broken line
_MOST_PARTS: Final = 1_000_000
_DEEPEST: Final = 24
_MOST_WHOLE: Final = 2**53  # beyond it a number in the page is not the one that it sends
_JSON_TYPE = re.compile(r"application/json(\s*;\s*charset=\"?utf-8\"?)?\s*", re.IGNORECASE)


async def read_body(request: Request, name: str, *, seconds: float) -> bytes:
    """Read the body of an ask.

    Parameters
    ----------
    request : Request
        Its header is known to be good.
    name : str
        Of the ask, for its limit.
    seconds : float
        The whole body must be there by then.

    Returns
    -------
    bytes
        All of it.

    Raises
    ------
    RefusedError
        If it is not said to be JSON, too large or too slow.
    """
    most = _MOST_OF.get(name, _MOST)
    _check_type(request)
    declared = int(request.headers.get("content-length", "0"))
    if declared > most + _DRAINED:
        raise _too_large(most)
    kept = bytearray()
    size = 0
    try:
        async with asyncio.timeout(seconds):
            async for part in request.stream():
                size += len(part)
                if max(size, declared) <= most:
                    kept += part
                elif size > most + _DRAINED:
                    break
    except TimeoutError:
        text = f"the ask did not arrive within {seconds:g} s; nothing was saved"
        raise RefusedError(_TIMEOUT, text) from None
    if size > most:
        raise _too_large(most)
    return bytes(kept)


def _too_large(most: int) -> RefusedError:
    text = f"the ask is larger than {most // _MB} MB; nothing was saved"
    return RefusedError(_TOO_LARGE, text)


def _check_type(request: Request) -> None:
    kinds = request.headers.getlist("content-type")
    if len(kinds) != 1 or not _JSON_TYPE.fullmatch(kinds[0]):
        text = "an ask must be application/json in UTF-8"
        raise RefusedError(_WRONG_TYPE, text)
    if request.headers.getlist("content-encoding"):
        raise RefusedError(_WRONG_TYPE, "an ask must not be compressed")


def parse_object(data: bytes) -> dict[str, Any]:
    """Parse JSON that must be an object.

    Parameters
    ----------
    data : bytes
        UTF-8.

    Returns
    -------
    dict
        Every number finite, every text free of halves of a sign, nothing nested too deep.

    Raises
    ------
    RefusedError
        If it is anything else.
    """
    if sum(map(data.count, (b",", b"[", b"{"))) > _MOST_PARTS:
        raise RefusedError(_TOO_LARGE, f"the ask has more than {_MOST_PARTS:,} parts")
    try:
        parsed = json.loads(data.decode("utf-8"), parse_constant=_no_number)
        _check_parts(parsed)
    except RecursionError:
        raise RefusedError(_BAD, "the ask is nested too deep") from None
    except ValueError as error:
        raise RefusedError(_BAD, f"the ask can't be read: {error}") from None
    if not isinstance(parsed, dict):
        raise RefusedError(_BAD, "an ask must be a JSON object")
    return parsed


def _no_number(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number")


def _check_parts(parsed: object) -> None:
    """Look at every part, one level after the other."""
    level = [parsed]
    for _ in range(_DEEPEST):
        inner: list[object] = []
        for part in level:
            inner += _inside(part)
        if not inner:
            return
        level = inner
    raise RecursionError


def _inside(part: object) -> list[object]:
    """What a list or an object holds; a text or a number is checked."""
    if isinstance(part, dict):
        return [*part.keys(), *part.values()]
    if isinstance(part, list):
        return part
    if isinstance(part, str):
        if not part.isascii():
            part.encode("utf-8")  # half of a sign can't be written into any file
    elif isinstance(part, float):
        if not math.isfinite(part):
            raise ValueError("a number is too large")
    elif isinstance(part, int) and abs(part) > _MOST_WHOLE:
        raise ValueError("a whole number is too large")
    return []
