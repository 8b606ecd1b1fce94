"""One thread that does the desk's work, and the short queue before it."""

import asyncio
from collections import deque
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from types import MappingProxyType

from lakemap.planner.guard import RefusedError
from lakemap.planner.talk import Outcome

_UNAVAILABLE = 503
_AGAIN: Mapping[str, str] = MappingProxyType({"retry-after": "1"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """Which of a page's asks this is; a later one of the same name makes it stale."""

    page: str
    name: str
    number: int

    def is_before(self, other: "Turn | None") -> bool:
        """Tell whether the same page has asked the same later."""
        return (
            other is not None
            and (self.page, self.name) == (other.page, other.name)
            and self.number < other.number
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Job:
    work: Callable[[], Outcome]
    turn: Turn | None
    done: asyncio.Future[Outcome]


class Worker:
    """Does one piece of work at a time in a thread of its own, in the order it was asked.

    The event loop stays free for other connections; a desk needs no locks. All but the work
    itself happens on the event loop.

    Parameters
    ----------
    most_waiting : int
        So many may wait; one more is refused.
    """

    def __init__(self, *, most_waiting: int) -> None:
        self._most = most_waiting
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="desk")
        self._waiting: deque[_Job] = deque()
        self._running: _Job | None = None
        self._ending = False
        self._idle = asyncio.Event()
        self._idle.set()

    @property
    def is_busy(self) -> bool:
        """Return whether something is being done or waits."""
        return self._running is not None

    async def do(self, work: Callable[[], Outcome], *, turn: Turn | None = None) -> Outcome:
        """Have one piece of work done.

        A waiting piece that this one follows is answered as stale, and this one takes its place.

        Parameters
        ----------
        work : callable
            Raises nothing.
        turn : Turn or None
            None for work that never gets stale.

        Returns
        -------
        Outcome
            Of the work, or that it was stale.

        Raises
        ------
        RefusedError
            If too many wait, or the planner is being stopped.
        """
        if self._ending:
            raise RefusedError(_UNAVAILABLE, "the planner is being stopped; nothing was saved")
        job = _Job(work=work, turn=turn, done=asyncio.get_running_loop().create_future())
        if turn is not None and any(turn.is_before(other) for other in self._turns()):
            return stale()
        if not self._take_place(job):
            if len(self._waiting) >= self._most:
                text = "too many asks wait; nothing was saved. Try again in a moment"
                raise RefusedError(_UNAVAILABLE, text, headers=_AGAIN)
            self._waiting.append(job)
        if self._running is None:
            self._begin_next()
        return await job.done

    def _turns(self) -> list[Turn | None]:
        running = [] if self._running is None else [self._running]
        return [job.turn for job in (*running, *self._waiting)]

    def _take_place(self, job: _Job) -> bool:
        """Put a job where one waits that it makes stale; at the end a drag might never come on."""
        for place, other in enumerate(self._waiting):
            if other.turn is not None and other.turn.is_before(job.turn):
                self._waiting[place] = job
                if not other.done.done():
                    other.done.set_result(stale())
                return True
        return False

    def _begin_next(self) -> None:
        if not self._waiting:
            self._idle.set()
            return
        self._idle.clear()
        job = self._running = self._waiting.popleft()
        done = asyncio.get_running_loop().run_in_executor(self._thread, job.work)
        done.add_done_callback(lambda done: self._end(job, done))

    def _end(self, job: _Job, done: asyncio.Future[Outcome]) -> None:
        self._running = None
        try:
            if not job.done.done():  # it is where nobody waits any more
                job.done.set_result(done.result())
        finally:
            self._begin_next()

    async def finish(self) -> None:
        """Take no more work, and wait until all that was asked is done."""
        self._ending = True
        await self._idle.wait()
        self._thread.shutdown()


def stale() -> Outcome:
    """Return the answer to an ask that a later one has made needless.

    Returns
    -------
    Outcome
        JSON.
    """
    return Outcome(status=200, text='{"stale":true}')
