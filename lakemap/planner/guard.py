"""Who may ask the planner: the one browser that opened its address, and no other page in it."""

import secrets
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final, Protocol

_FORBIDDEN, _TOO_LARGE = 403, 431
_OURSELVES = frozenset({"same-origin", "none"})  # none: typed, or opened from outside the browser
_MOST_HEADER: Final = 16 * 1024  # bytes, as for a header that comes in pieces
_NONE: Mapping[str, str] = MappingProxyType({})

AS_PRINTED = "Open the address as the terminal printed it, beginning with http://127.0.0.1."
FROM_ELSEWHERE = "Another page asked for this. The planner answers its own pages only."
NOT_OPENED = (
    "This browser has not opened the planner yet, or the planner was started anew since. Use the"
    " address that the terminal printed last."
)
USED = (
    "This address works once, and it was used. If its window is still open, go on there. If it"
    " was not you who opened it, stop the planner."
)


class RefusedError(Exception):
    """An ask that is not answered.

    Parameters
    ----------
    status : int
        Of HTTP.
    text : str
        For people: why, and what would be right.
    headers : mapping of str to str
        Go with the refusal.
    """

    def __init__(self, status: int, text: str, *, headers: Mapping[str, str] = _NONE) -> None:
        super().__init__(text)
        self.status = status
        self.text = text
        self.headers = headers


class Headers(Protocol):
    """The header lines of a request."""

    def getlist(self, key: str) -> list[str]:
        """Return every value of one name."""

    @property
    def raw(self) -> list[tuple[bytes, bytes]]:
        """All of them."""


class Guard:
    """Tells who may come in: the address's secret opens once, a cookie from then on.

    Parameters
    ----------
    port : int
        Where the planner listens.
    """

    def __init__(self, port: int) -> None:
        self._hosts = (f"127.0.0.1:{port}", f"localhost:{port}")
        self._cookie = f"lakemap-{port}"  # cookies don't know ports: two planners must not mix
        self._session = secrets.token_urlsafe(32)
        self._token = secrets.token_urlsafe(32)
        self._used = False

    @property
    def address(self) -> str:
        """Return what opens the planner, once."""
        return f"http://{self._hosts[0]}/open/{self._token}"

    def check_place(self, method: str, headers: Headers) -> None:
        """Refuse what another site, or a name that leads here, makes a browser ask.

        Parameters
        ----------
        method : str
            Of HTTP.
        headers : Headers
            Of the request.

        Raises
        ------
        RefusedError
            If host, origin or what the browser says of the asker is not ours.
        """
        if sum(len(name) + len(value) for name, value in headers.raw) > _MOST_HEADER:
            raise RefusedError(_TOO_LARGE, "The header of this request is too long.")
        hosts = headers.getlist("host")
        if len(hosts) != 1 or hosts[0] not in self._hosts:
            raise RefusedError(_FORBIDDEN, AS_PRINTED)
        origins = headers.getlist("origin")
        if any(origin != f"http://{hosts[0]}" for origin in origins):
            raise RefusedError(_FORBIDDEN, FROM_ELSEWHERE)
        if method == "POST" and not origins:
            raise RefusedError(_FORBIDDEN, FROM_ELSEWHERE)
        if not _OURSELVES.issuperset(headers.getlist("sec-fetch-site")):
            raise RefusedError(_FORBIDDEN, FROM_ELSEWHERE)

    def check_cookie(self, headers: Headers) -> None:
        """Refuse a browser that has not opened the address.

        Parameters
        ----------
        headers : Headers
            Of the request.

        Raises
        ------
        RefusedError
            If it has no cookie of this planner.
        """
        if not self._is_known(headers):
            raise RefusedError(_FORBIDDEN, NOT_OPENED)

    def open(self, token: str, headers: Headers) -> str:
        """Let one browser in.

        Parameters
        ----------
        token : str
            As it stood in the address.
        headers : Headers
            Of the request.

        Returns
        -------
        str
            The cookie that the browser is to keep.

        Raises
        ------
        RefusedError
            If the token is wrong, or another browser has used it.
        """
        if not _same(token, self._token):
            raise RefusedError(_FORBIDDEN, NOT_OPENED)
        if self._used and not self._is_known(headers):
            raise RefusedError(_FORBIDDEN, USED)
        self._used = True
        return f"{self._cookie}={self._session}; Path=/; HttpOnly; SameSite=Strict"

    def _is_known(self, headers: Headers) -> bool:
        """Any cookie of our name may be the one: another program here may have set one too."""
        given = _cookies(headers.getlist("cookie"), self._cookie)
        return any(_same(value, self._session) for value in given)


def _cookies(lines: Iterable[str], name: str) -> list[str]:
    pairs = (pair.partition("=") for line in lines for pair in line.split(";"))
    return [value.strip() for key, _, value in pairs if key.strip() == name]


def _same(given: str, secret: str) -> bool:
    return secrets.compare_digest(given.encode("utf-8", "replace"), secret.encode("utf-8"))
