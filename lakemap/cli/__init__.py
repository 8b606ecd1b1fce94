"""Words in, words out: the `lakemap` command."""

import argparse
import sys
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from typing import Final

from lakemap.basis.errors import BadInputError
from lakemap.cli.parser import build_parser, find_slip, join_negatives
from lakemap.cli.terminal import make_safe, say, say_problems

# each command has a module of its name, but for those that share one
_HOMES: Final[Mapping[str, str]] = dict.fromkeys(("draw", "check", "size"), "commands")
DONE, IN_CONFLICT, FAILED = 0, 1, 2


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    argv : sequence of str, optional
        The words after `lakemap`; by default those of this process.

    Returns
    -------
    int
        0 done; 1 done and something is in conflict (only `check`); 2 bad input or failure.
    """
    make_safe(sys.stdout, sys.stderr)
    words = join_negatives(sys.argv[1:] if argv is None else argv)
    slip = find_slip(words)
    if slip is not None:
        say(slip, sys.stderr)
        return FAILED
    parser = build_parser()
    if not words:
        parser.print_help()
        return DONE
    try:
        asked = parser.parse_args(words)
    except SystemExit as stop:  # argparse has said why
        return DONE if stop.code in (None, 0) else FAILED
    return _run(asked)


def _runner(command: str) -> Callable[[argparse.Namespace], int]:
    """The function of one command; what the others need is not imported."""
    home = import_module(f"lakemap.cli.{_HOMES.get(command, command)}")
    run: Callable[[argparse.Namespace], int] = getattr(home, f"run_{command}")
    return run


def _run(asked: argparse.Namespace) -> int:
    """Run the command that was asked for, and tell what went wrong as words, never a traceback."""
    as_json = getattr(asked, "json", False)
    try:
        return _runner(asked.command)(asked)
    except BadInputError as error:
        say_problems(error.problems, as_json=as_json)
        return FAILED
    except BrokenPipeError:  # the reader, such as `head`, has seen enough
        sys.stderr.close()
        return DONE
    except OSError as error:
        say(f"{error.filename or 'a file'}: {error.strerror or error}", sys.stderr)
        return FAILED
    except KeyboardInterrupt:
        say("stopped; nothing half-written is left", sys.stderr)
        return FAILED
