"""`lakemap plan`: the planner, a page in the browser that changes a field."""

import argparse
import sys
import threading
import webbrowser
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.cli.terminal import Progress, say

_LEAST_PORT, _MOST_PORT = 1024, 65535
_EXTRA = ("starlette", "uvicorn", "h11", "anyio")  # and what they stand on


def run_plan(asked: argparse.Namespace) -> int:
    """Serve the planner until Ctrl-C."""
    _check_port(asked.port)
    folder = Path(asked.folder)
    try:
        from lakemap.planner.server import PlanServer  # noqa: PLC0415 - may not be installed
    except ModuleNotFoundError as error:
        raise _not_installed(error) from error
    from lakemap.planner.desk import Desk  # noqa: PLC0415 - slow to import
    from lakemap.planner.opening import has_field, usual_port  # noqa: PLC0415 - the same

    tell = Progress()
    try:
        tell("reading")
        is_there = has_field(folder, tell=tell)
        server = PlanServer(Desk(folder), port=asked.port, usual=usual_port(folder), tell=_say_now)
    finally:
        tell.done()
    if not is_there:
        say(_about_new(folder))
    say(f"planner: {server.address}")
    _say_now("The address works once, for one browser on this machine. Ctrl-C ends the planner.")
    if not asked.no_open:
        threading.Thread(target=_open, args=(server.address,), daemon=True).start()
    server.run()
    saved = f"what was saved is in {folder}" if folder.exists() else "nothing was saved"
    _say_now(f"the planner has ended; {saved}")
    return 0


def _check_port(port: int | None) -> None:
    if port is not None and not _LEAST_PORT <= port <= _MOST_PORT:
        text = f"{port} is no port for this; write {_LEAST_PORT} to {_MOST_PORT}, or leave it out"
        raise BadInputError([Problem(code="bad_option", text=text, column="--port")])


def _not_installed(error: ModuleNotFoundError) -> Exception:
    """What to install; another missing module is a fault of ours."""
    name = (error.name or "").partition(".")[0]
    if name not in _EXTRA:
        return error
    text = f"`lakemap plan` needs {name}, which is not installed: run pip install 'lakemap[plan]'"
    return BadInputError([Problem(code="not_installed", text=text)])


def _about_new(folder: Path) -> str:
    if folder.exists():
        return f"{folder} has no field yet: the page draws its lake"
    return f"{folder} is not there yet: the page draws a lake, and its first save makes the folder"


def _open(address: str) -> None:
    """Open the browser; some wait until it is closed, so this has a thread of its own."""
    if not webbrowser.open(address):
        _say_now("no browser could be opened; copy the address into one")


def _say_now(text: str) -> None:
    """Say it even where the output is no terminal and would be kept back."""
    say(text)
    sys.stdout.flush()
