"""The table of commands: each told once, each listed, each with help that shows an example."""

import argparse

import pytest

from lakemap.cli.command_words import Command, mark, picks, takes
from lakemap.cli.field_commands import FIELD_COMMANDS
from lakemap.cli.parser import COMMANDS, build_parser
from lakemap.cli.season_commands import SEASON_COMMANDS

TOLD = (*FIELD_COMMANDS, *SEASON_COMMANDS)


def parsers():
    actions = build_parser()._actions
    return next(a for a in actions if isinstance(a, argparse._SubParsersAction)).choices


def test_every_command_is_listed_once():
    assert sorted(COMMANDS) == sorted(one.name for one in TOLD)
    assert list(parsers()) == list(COMMANDS)


@pytest.mark.parametrize("one", TOLD, ids=lambda one: one.name)
def test_help_says_what_it_does_and_gives_examples(one):
    said = parsers()[one.name].format_help()
    assert one.says.splitlines()[0] in said
    for example in one.examples:
        assert example.startswith(f"lakemap {one.name} ")
        assert example in said
    for word in one.words:
        assert word.name in said or str(word.how["metavar"]) in said


@pytest.mark.parametrize("one", TOLD, ids=lambda one: one.name)
def test_every_example_can_be_parsed(one):
    import shlex

    for example in one.examples:
        words = shlex.split(example.partition(" > ")[0])[1:]
        assert build_parser().parse_args(words).command == one.name


def test_one_example_is_no_examples():
    one = Command(name="x", brief="b", says="Says.", examples=("lakemap x",), words=())
    assert one.description == "Says.\n\nexample:\n  lakemap x"


def test_words_are_as_argparse_takes_them():
    assert takes("--dpi", "N", "dots", type=int).how == {
        "metavar": "N",
        "help": "dots",
        "type": int,
    }
    assert picks("--kind", ("a", "b"), None).how == {"choices": ("a", "b"), "help": None}
    assert mark("--json", "one document", group="other").group == "other"
