"""The words that `lakemap` understands, with help that teaches by example."""

import argparse
import difflib
import re
from collections.abc import Iterator, Sequence
from typing import NoReturn

from lakemap import __version__
from lakemap.cli.command_words import Word
from lakemap.cli.field_commands import FIELD_COMMANDS
from lakemap.cli.season_commands import SEASON_COMMANDS

# in the order in which help lists them
_TOLD = {one.name: one for one in (*FIELD_COMMANDS, *SEASON_COMMANDS)}
COMMANDS = {name: _TOLD[name].brief for name in (
    "start", "draw", "check", "size", "rig", "sites", "levels", "compare", "export", "plan",
    "upkeep", "sheets", "gather",
)}  # fmt: skip
_TOP = """\
Draws the map of a lake's swim floats, checks that none swings into what it should not,
and sizes their moorings.

first time:
  lakemap start my-lake              a folder with files to fill in
  lakemap draw my-lake               writes maps/my-lake.html
one float, no folder:
  lakemap rig --depth "10 ft" --length "10 ft" --width "8 ft"
"""


class _Parser(argparse.ArgumentParser):
    """A parser that names the nearest option to a mistyped one."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong in one line and where help is."""
        options = list(_options_of(self))
        for word in message.split():
            near = difflib.get_close_matches(word, options, n=1) if word.startswith("--") else []
            if near and "unrecognized" in message:
                message = f"no option {word}; did you mean {near[0]}?"
                break
        self.exit(2, f"lakemap: {message}\nfor help: {self.prog} --help\n")


def _options_of(parser: argparse.ArgumentParser) -> Iterator[str]:
    """Every option of a parser and of its commands."""
    for action in parser._actions:  # noqa: SLF001 - argparse has no public list of them
        yield from action.option_strings
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            for sub in action.choices.values():
                yield from _options_of(sub)


def join_negatives(words: Sequence[str]) -> list[str]:
    """Join an option to a value that starts with a minus, such as `--at -44.01,170.5`.

    Parameters
    ----------
    words : sequence of str
        The words after `lakemap`.

    Returns
    -------
    list of str
        The same, with `--at=-44.01,170.5`; argparse would take the minus for an option.
    """
    joined: list[str] = []
    for word in words:
        before = joined[-1] if joined else ""
        if before.startswith("--") and "=" not in before and re.match(r"[-−][\d.]", word):
            joined[-1] = f"{before}={word}"
        else:
            joined.append(word)
    return joined


def find_slip(words: Sequence[str]) -> str | None:
    """Return what to say of a mistyped command, or None.

    Parameters
    ----------
    words : sequence of str
        The words after `lakemap`.

    Returns
    -------
    str or None
        One sentence with the nearest command.
    """
    named = next((word for word in words if not word.startswith("-")), None)
    if named is None or named in COMMANDS or (words and words[0] in {"-h", "--help"}):
        return None
    near = difflib.get_close_matches(named, COMMANDS, n=1)
    hint = f"did you mean `lakemap {near[0]}`?" if near else f"there are: {', '.join(COMMANDS)}"
    return f"lakemap: no command {named!r}; {hint}"


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line.

    Returns
    -------
    argparse.ArgumentParser
        Its result has `command` and the options of that command.
    """
    parser = _Parser(
        prog="lakemap",
        description=_TOP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"lakemap {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    for name, brief in COMMANDS.items():
        sub = commands.add_parser(
            name,
            help=brief,
            description=_TOLD[name].description,
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        _add_words(sub, _TOLD[name].words)
    return parser


def _add_words(parser: argparse.ArgumentParser, words: Sequence[Word]) -> None:
    """Add what a command takes, each word under its heading."""
    groups: dict[str | None, argparse._ActionsContainer] = {None: parser}
    for word in words:
        if word.group not in groups:
            groups[word.group] = parser.add_argument_group(word.group)
        groups[word.group].add_argument(word.name, **word.how)
