"""How a command is told: its name, what it does, examples, and the words that it takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """An option or a word that a command takes."""

    name: str  # `--out`, or `folder` where it is told by its place
    how: Mapping[str, Any] = field(default_factory=dict)  # as argparse takes it
    group: str | None = None  # under which heading of the help it stands


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One command of the command line."""

    name: str
    brief: str
    says: str
    examples: tuple[str, ...]
    words: tuple[Word, ...]

    @property
    def description(self) -> str:
        """What its help begins with."""
        lines = "\n".join(f"  {example}" for example in self.examples)
        return f"{self.says}\n\nexample{'s' * (len(self.examples) > 1)}:\n{lines}"


def takes(
    name: str,
    metavar: str | None,
    says: str,
    *,
    group: str | None = None,
    **how: Any,  # noqa: ANN401 - as argparse takes them
) -> Word:
    """Return an option with a value, or a word told by its place.

    Parameters
    ----------
    name : str
        Of the option or word.
    metavar : str or None
        What stands for the value in the help.
    says : str
        Its help.
    group : str or None
        Heading of the help.
    **how
        As argparse takes them.

    Returns
    -------
    Word
        Told.
    """
    return Word(name=name, how={"metavar": metavar, "help": says, **how}, group=group)


def picks(
    name: str,
    choices: Sequence[str],
    says: str | None,
    *,
    group: str | None = None,
    **how: Any,  # noqa: ANN401 - as argparse takes them
) -> Word:
    """Return an option whose value is one of a few.

    Parameters
    ----------
    name : str
        Of the option.
    choices : sequence of str
        What it may be.
    says : str or None
        Its help.
    group : str or None
        Heading of the help.
    **how
        As argparse takes them.

    Returns
    -------
    Word
        Told.
    """
    return Word(name=name, how={"choices": choices, "help": says, **how}, group=group)


def mark(name: str, says: str, *, group: str | None = None) -> Word:
    """Return an option without a value.

    Parameters
    ----------
    name : str
        Of the option.
    says : str
        Its help.
    group : str or None
        Heading of the help.

    Returns
    -------
    Word
        Told.
    """
    return Word(name=name, how={"action": "store_true", "help": says}, group=group)


FOLDER: Final = takes(
    "folder", "FOLDER", "the field folder, with field.toml, the lake and the floats"
)
JSON: Final = mark("--json", "write one JSON document instead")
