"""Connections that may not hold the planner up: those that send nothing, or never end a header."""

import asyncio
from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from uvicorn.protocols.http.h11_impl import H11Protocol


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How long and how much the server bears with."""

    header_s: float = 10.0  # for a whole header
    body_s: float = 20.0  # for a whole body
    idle_s: int = 60  # between two asks; a browser keeps its connection
    connections: int = 100
    waiting: int = 80  # asks


class PatientProtocol(H11Protocol):
    """HTTP/1.1 by h11, with a time limit on all that is no request in progress.

    The library times out only a kept connection on which nothing at all arrives; here a header
    that comes byte by byte, or a body after its answer, ends too. Where there are too many
    connections the one that would be given up next makes room.
    """

    limits: ClassVar[Limits] = Limits()
    _timer: asyncio.TimerHandle | None = None
    _in_header = False

    @property
    def is_asking(self) -> bool:
        """Return whether a request is in progress."""
        return self.cycle is not None and not self.cycle.response_complete

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Start the time for the first header."""
        super().connection_made(transport)
        make_room(self.connections, self.limits.connections)
        self._begin_header()

    def data_received(self, data: bytes) -> None:
        """Read on; a header gets no more time for coming in pieces."""
        super().data_received(data)
        if not self.is_asking:
            self._begin_header()

    def on_response_complete(self) -> None:
        """Start the time for the answer to be taken and for the next ask."""
        self._in_header = False
        self._stop_timer()
        super().on_response_complete()
        if not self.is_asking:  # the next request may have lain there already
            idle_s = 0.0 if self.transport.is_closing() else self.limits.idle_s
            self._start_timer(idle_s + self.limits.header_s)

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the time."""
        super().connection_lost(exc)
        self._stop_timer()

    def ends_at(self) -> float:
        """Return the loop's time at which this is given up, unless it asks something."""
        return float("inf") if self._timer is None else self._timer.when()

    def _begin_header(self) -> None:
        if not self._in_header:
            self._in_header = True
            self._stop_timer()
            self._start_timer(self.limits.header_s)

    def _start_timer(self, seconds: float) -> None:
        self._timer = self.loop.call_later(seconds, self._give_up)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None

    def _give_up(self) -> None:
        self._timer = None
        if not self.is_asking:
            self.transport.abort()  # to close politely would wait for a client that may not read


def make_room(connections: Iterable[object], most: int) -> None:
    """End connections that ask nothing, until no more than some are open.

    Parameters
    ----------
    connections : iterable of PatientProtocol
        All of the server.
    most : int
        So many may stay.
    """
    ours = [each for each in connections if isinstance(each, PatientProtocol)]
    still = [each for each in ours if not each.transport.is_closing()]
    idle = sorted((each for each in still if not each.is_asking), key=PatientProtocol.ends_at)
    for each in idle[: max(len(still) - most, 0)]:
        each.transport.abort()
