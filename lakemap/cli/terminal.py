"""What goes to the terminal: words, problems, progress."""

import json
import sys
import time
from collections.abc import Iterable
from typing import TextIO
from unicodedata import category

from lakemap.basis.errors import Problem

_QUIET_S = 1.0  # work shorter than this shows no progress
_STEERING = frozenset({"Cc", "Cf", "Zl", "Zp"})  # controls, turns of the way of writing, line ends


def make_safe(*streams: TextIO) -> None:
    """Let a stream that lacks a sign (a minus, a degree) write a stand-in instead of failing."""
    for stream in streams:
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def say(text: str, stream: TextIO | None = None) -> None:
    """Write one text and a line's end."""
    print(text, file=stream or sys.stdout)


def shown(text: str) -> str:
    """Return one line of which no sign steers a terminal: names of files and cells are data."""
    return "".join("\ufffd" if category(sign) in _STEERING else sign for sign in text)


def say_problems(problems: Iterable[Problem], *, as_json: bool) -> None:
    """Tell every problem of a run that wrote nothing.

    Parameters
    ----------
    problems : iterable of Problem
        In the order they were found.
    as_json : bool
        True also writes the JSON document to standard output.
    """
    found = list(problems)
    if as_json:
        from lakemap.outputs.tables.document import problems_document  # noqa: PLC0415 - only on failure

        say(json.dumps(problems_document(found), indent=2, ensure_ascii=False))
    for problem in found:
        mark = "" if problem.fatal else "note: "
        say(f"{mark}{shown(problem.line())}", sys.stderr)
    fatal = [problem for problem in found if problem.fatal]
    files = {problem.file for problem in fatal if problem.file}
    where = f" in {len(files)} file{'s' * (len(files) != 1)}" if files else ""
    number = f"{len(fatal)} problem{'s' * (len(fatal) != 1)}"
    say(f"{number}{where}; nothing was written", sys.stderr)


class Progress:
    """Tells on a terminal what long work is at; says nothing where nobody watches."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream or sys.stderr
        self._watched = self._stream.isatty()
        self._since = time.monotonic()
        self._width = 0

    def __call__(self, step: str) -> None:
        """Show one step, once the work has taken longer than a moment."""
        if self._watched and time.monotonic() - self._since > _QUIET_S:
            self._stream.write(f"\r{step} …".ljust(self._width))
            self._stream.flush()
            self._width = len(step) + 4

    def done(self) -> None:
        """Take the line away again."""
        if self._width:
            self._stream.write("\r" + " " * self._width + "\r")
            self._stream.flush()
