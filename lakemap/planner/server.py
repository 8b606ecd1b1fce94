"""The planner's server: one page on this machine, for one browser on it.

It stands on starlette and uvicorn, which are well kept: to read HTTP from clients that mean harm
is not ours to write. It listens on 127.0.0.1 only, fetches nothing and serves no file.
"""

import asyncio
import contextlib
import os
import signal
import socket
import sys
import threading
from collections.abc import Callable, Iterator
from types import FrameType
from typing import NoReturn

import uvicorn

from lakemap.basis.errors import BadInputError, Problem
from lakemap.planner.app import App
from lakemap.planner.connections import Limits, PatientProtocol
from lakemap.planner.guard import Guard
from lakemap.planner.talk import Answering
from lakemap.planner.worker import Worker

_HERE = "127.0.0.1"
_LINGER_S = 2  # for answers to be taken, once the last ask is done
_MORE_CONNECTIONS = 28  # than are kept: where all of them ask, some are told to come again
_STOPPED_AT_ONCE = 2
_SIGNALS = (signal.SIGINT, signal.SIGTERM)


class PlanServer:
    """Listens from the start; answers while `run` runs.

    Parameters
    ----------
    desk : Answering
        Answers the asks; closed at the end.
    port : int or None
        None takes the usual one, or a free one where that is taken.
    usual : int
        0 takes any. A browser keeps an unsaved plan by address, so the same folder should have the
        same port when it is opened again.
    limits : Limits
        How long and how much to bear with.
    tell : callable
        Takes words for the terminal.

    Raises
    ------
    BadInputError
        If the port can't be had.
    """

    def __init__(
        self,
        desk: Answering,
        *,
        port: int | None = None,
        usual: int = 0,
        limits: Limits | None = None,
        tell: Callable[[str], None] = print,
    ) -> None:
        self._desk = desk
        self._tell = tell
        self._limits = limits or Limits()
        self._socket = _listen_somewhere(usual) if port is None else _listen(port)
        self._guard = Guard(self._socket.getsockname()[1])
        self._server: _Server | None = None
        self._stopping = False

    @property
    def address(self) -> str:
        """Return what opens the planner, once."""
        return self._guard.address

    def run(self) -> None:
        """Serve until Ctrl-C, SIGTERM or `stop`; what was asked by then is finished."""
        try:
            with self._socket, _signals(self._on_signal):
                asyncio.run(self._serve())
        finally:
            self._desk.close()

    def stop(self) -> None:
        """Begin to end: from any thread, or before `run`."""
        self._stopping = True
        if self._server is not None:
            self._server.should_exit = True

    async def _serve(self) -> None:
        worker = Worker(most_waiting=self._limits.waiting)
        app = App(self._desk, guard=self._guard, worker=worker, limits=self._limits)
        self._server = _Server(_config(app, self._limits), worker, self._tell)
        if self._stopping:  # told so before there was a server to tell
            self._server.should_exit = True
        await self._server.serve(sockets=[self._socket])

    def _on_signal(self, _number: int, _frame: FrameType | None) -> None:
        if self._stopping:
            _end_at_once()
        if sys.stderr.isatty():
            _write(b"\n")  # after the ^C that the terminal shows
        self.stop()


class _Server(uvicorn.Server):
    """The library's server, that ends only when all that was asked is done."""

    def __init__(self, config: uvicorn.Config, worker: Worker, tell: Callable[[str], None]) -> None:
        super().__init__(config)
        self._worker = worker
        self._tell = tell

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Leave the signals to us: the library raises them once more at the end."""
        yield

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Finish the work, then the connections."""
        if self._worker.is_busy:
            self._tell("finishing what was asked; Ctrl-C once more stops at once")
        await self._worker.finish()
        await super().shutdown(sockets)
        for connection in self.server_state.connections:
            connection.transport.abort()  # whoever has not taken an answer by now
        await asyncio.sleep(0)  # for them to notice


def _config(app: App, limits: Limits) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        http=type("LimitedProtocol", (PatientProtocol,), {"limits": limits}),
        ws="none",
        loop="asyncio",
        lifespan="off",
        interface="asgi3",
        log_config=None,
        log_level="critical",  # a hostile request is no news
        access_log=False,
        server_header=False,
        proxy_headers=False,  # nobody stands between
        limit_concurrency=limits.connections + _MORE_CONNECTIONS,
        timeout_keep_alive=limits.idle_s,
        timeout_graceful_shutdown=_LINGER_S,
    )


def _listen_somewhere(usual: int) -> socket.socket:
    try:
        return _listen(usual)
    except BadInputError:
        return _listen(0)


def _listen(port: int) -> socket.socket:
    # its protocol is named because asyncio sends small answers at once only where it reads TCP
    # there; else each would wait some 40 ms for the other side to acknowledge its first half
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name == "posix":  # elsewhere the same option would let another program take the port
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((_HERE, port))
        listener.listen()
    except OSError as error:
        listener.close()
        text = f"{port} can't be had ({error.strerror}); name another, or leave it out"
        problem = Problem(code="port_taken", text=text, column="--port")
        raise BadInputError([problem]) from None
    return listener


@contextlib.contextmanager
def _signals(handler: Callable[[int, FrameType | None], None]) -> Iterator[None]:
    """Have signals handled by us; only a process's first thread can."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.signal(number, handler) for number in _SIGNALS}
    try:
        yield
    finally:
        for number, old in before.items():
            signal.signal(number, old)


def _end_at_once() -> NoReturn:
    """End without waiting for the desk's thread, which nothing can interrupt."""
    _write(b"\nstopped at once\n")
    os._exit(_STOPPED_AT_ONCE)


def _write(words: bytes) -> None:
    """Write to the terminal even from the middle of other writing, where `print` may not."""
    with contextlib.suppress(OSError):
        os.write(2, words)
