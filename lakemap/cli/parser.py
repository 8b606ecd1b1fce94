"""The words that `lakemap` understands, with help that teaches by example."""

import argparse
import difflib
import re
from collections.abc import Iterator, Sequence
from typing import NoReturn

from lakemap import __version__

COMMANDS = {
    "start": "make a new field folder with commented files to fill in",
    "draw": "read, check and size a field, and write its map as one HTML file or on paper",
    "check": "tell every clearance of every float, the worst first",
    "size": "tell each rig's weights, buoyancy and cautions",
    "rig": "answer one question: how do I moor this float?",
    "sites": "find where new floats may go, and how many fit",
    "compare": "tell what changed between two versions of a field, and what that did",
    "export": "write the field as one file for maps, phones and spreadsheets",
    "plan": "move floats about in the browser and see at once what that does",
}
_TOP = """\
Draws the map of a lake's swim floats, checks that none swings into what it should not,
and sizes their moorings.

first time:
  lakemap start my-lake              a folder with files to fill in
  lakemap draw my-lake               writes maps/my-lake.html
one float, no folder:
  lakemap rig --depth "10 ft" --length "10 ft" --width "8 ft"
"""
_FOLDER_HELP = "the field folder, with field.toml, the lake and the floats"


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
    for name, add in (
        ("start", _add_start),
        ("draw", _add_draw),
        ("check", _add_check),
        ("size", _add_size),
        ("rig", _add_rig),
        ("sites", _add_sites),
        ("compare", _add_compare),
        ("export", _add_export),
        ("plan", _add_plan),
    ):
        sub = commands.add_parser(
            name,
            help=COMMANDS[name],
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        add(sub)
    return parser


def _describe(parser: argparse.ArgumentParser, what: str, *examples: str) -> None:
    lines = "\n".join(f"  {example}" for example in examples)
    parser.description = f"{what}\n\nexample{'s' * (len(examples) > 1)}:\n{lines}"


def _add_start(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Makes a new field folder with commented files to fill in.\n"
        "Nothing that exists is overwritten.",
        "lakemap start my-lake",
        "lakemap start my-lake --lake shore.geojson",
        'lakemap start my-lake --at 44.0123,-72.0456 --size "600 ft"',
    )
    parser.add_argument("folder", metavar="FOLDER", help="the folder to make")
    parser.add_argument("--lake", metavar="FILE", help="a file with the outline of the lake")
    parser.add_argument("--at", metavar="LAT,LON", help="the middle of the lake, as phones give it")
    parser.add_argument("--size", metavar="LENGTH", help="how long the lake is, such as 600 ft")


def _add_draw(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Reads, checks and sizes a field, and writes its map as one HTML file that needs no\n"
        "network; or, by the ending of --out, a picture on paper for a notice board or a\n"
        "newsletter. Nothing is written into the field's folder.",
        "lakemap draw data/tamber-lake",
        "lakemap draw data/tamber-lake --out members.html",
        "lakemap draw data/tamber-lake --out board.pdf --paper a3 --landscape",
    )
    parser.add_argument("folder", metavar="FOLDER", help=_FOLDER_HELP)
    parser.add_argument(
        "--out",
        metavar="FILE",
        help=".html: write the map here, not to maps/FOLDER.html; .svg, .png, .pdf: a picture",
    )
    parser.add_argument(
        "--paper",
        choices=("letter", "legal", "tabloid", "a5", "a4", "a3", "a2"),
        help="size of a picture (letter; a4 where lengths are in metres)",
    )
    parser.add_argument("--landscape", action="store_true", help="a picture on its long side")
    parser.add_argument("--dpi", type=int, metavar="N", help="dots per inch of a .png (200)")
    parser.add_argument(
        "--owners", action="store_true", help="put owners, permits and notes into the file"
    )


def _add_check(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Tells every clearance of every float, the worst first. Exit code 1 says that something\n"
        "is in conflict.",
        "lakemap check data/tamber-lake",
        "lakemap check data/tamber-lake --json > check.json",
        "lakemap check data/tamber-lake --ways-out",
    )
    parser.add_argument("folder", metavar="FOLDER", help=_FOLDER_HELP)
    parser.add_argument(
        "--ways-out",
        action="store_true",
        help="the least changes that end each conflict; with --json these alone",
    )
    parser.add_argument("--json", action="store_true", help="write one JSON document instead")


def _add_size(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Tells what the storm asks of each rig and what the rig gives: pulls, uplift, holding,\n"
        "the weakest part, and what is not sure. --working shows how each number comes about.",
        "lakemap size data/tamber-lake",
        "lakemap size data/tamber-lake --float 15 --working",
        "lakemap size data/tamber-lake --float 15 --out float-15.svg",
    )
    parser.add_argument("folder", metavar="FOLDER", help=_FOLDER_HELP)
    parser.add_argument("--float", metavar="ID", dest="float_id", help="only this float")
    parser.add_argument(
        "--working", action="store_true", help="every number: formula, inputs, source, range"
    )
    parser.add_argument(
        "--out", metavar="FILE.svg", help="write the float's pictures, with --float"
    )
    parser.add_argument("--json", action="store_true", help="write one JSON document instead")


def _add_rig(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Tells how to moor one float: what to buy, how to lay it, and what is not sure.\n"
        "On a terminal it asks for what you leave out.",
        'lakemap rig --depth "10 ft" --length "10 ft" --width "8 ft" --bottom sand',
        'lakemap rig --depth "10 ft" --length "10 ft" --width "8 ft" --wind "40 mph" --working',
        "lakemap rig --depth 3.2m --length 3m --width 2.5m --out float-12.html",
    )
    parser.add_argument("--depth", metavar="LENGTH", help="depth at the primary, at normal level")
    parser.add_argument("--length", metavar="LENGTH", help="the deck's longer side")
    parser.add_argument("--width", metavar="LENGTH", help="the deck's shorter side")
    parser.add_argument("--bottom", help="sand, gravel, silt, mud, clay or rock")
    parser.add_argument(
        "--low", metavar="LENGTH", help="how far the lake falls below normal (0 ft)"
    )
    parser.add_argument(
        "--high", metavar="LENGTH", help="how far the lake rises above normal (0 ft)"
    )
    parser.add_argument("--tubes", type=int, metavar="N", help="number of tubes (2)")
    parser.add_argument("--tube-diameter", metavar="LENGTH", help="of each tube (19 in)")
    parser.add_argument("--weight", metavar="WEIGHT", help="of the float, dry, such as 900 lb")
    parser.add_argument("--hook", choices=("centre", "edge"), default="centre")
    parser.add_argument("--people", type=int, metavar="N", default=4, help="aboard at once (4)")
    parser.add_argument("--wind", metavar="SPEED", help="10-minute mean of the storm (50 mph)")
    parser.add_argument("--gust", metavar="SPEED", help="of 3 s (from the wind)")
    parser.add_argument(
        "--fetch", metavar="LENGTH", help="open water to windward (half a mile, 800 m)"
    )
    parser.add_argument("--wake", metavar="LENGTH", help="height of a wake 100 ft off (2 ft)")
    parser.add_argument(
        "--holding",
        choices=("practice", "unburied", "buried"),
        default="practice",
        help="which answer the weights are chosen by (practice)",
    )
    parser.add_argument("--units", choices=("ft-lb", "m-kg"), help="by default as the depth has it")
    parser.add_argument(
        "--working", action="store_true", help="every number: formula, inputs, source, range"
    )
    parser.add_argument("--json", action="store_true", help="write one JSON document instead")
    parser.add_argument(
        "--out", metavar="FILE", help=".html: a page to hand to a member; .svg: pictures"
    )


def _add_sites(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Finds where new floats may go, the best place first, and how many fit. Without --length\n"
        "and --width it takes the commonest deck of the field.",
        'lakemap sites data/tamber-lake --length "10 ft" --width "8 ft"',
        "lakemap sites data/tamber-lake --like 15 --count 5 --out sites.html",
        "lakemap sites data/tamber-lake --at 41.3097,-37.6195",
    )
    parser.add_argument("folder", metavar="FOLDER", help=_FOLDER_HELP)
    parser.add_argument("--length", metavar="LENGTH", help="the deck's longer side")
    parser.add_argument("--width", metavar="LENGTH", help="the deck's shorter side")
    parser.add_argument("--like", metavar="ID", help="a float like this one")
    parser.add_argument(
        "--riser", metavar="LENGTH", help="a riser of this length (else designed at each place)"
    )
    parser.add_argument(
        "--ground", metavar="LENGTH", help="a ground chain of this length (else designed)"
    )
    parser.add_argument("--lot", metavar="NAME", help="only within this lot's frontage")
    parser.add_argument("--count", type=int, metavar="N", default=10, help="sites at most (10)")
    parser.add_argument(
        "--at", metavar="LAT,LON", help="why not here: every rule at this place, and its spare"
    )
    parser.add_argument(
        "--write", action="store_true", help="add the sites to floats.csv as proposed floats"
    )
    parser.add_argument(
        "--seed", type=int, metavar="N", default=1, help="where the search for room begins (1)"
    )
    parser.add_argument("--json", action="store_true", help="write one JSON document instead")
    parser.add_argument(
        "--out", metavar="FILE", help=".html: the map with the sites; .geojson: a layer"
    )


def _add_compare(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Tells what moved or changed from one version of a field to another, and what that did to\n"
        "verdicts, spares, circles and pulls.",
        "lakemap compare tamber-2024 tamber-2025",
        "lakemap compare tamber-2024 tamber-2025 --out changes.html",
    )
    parser.add_argument("old", metavar="OLD", help="the field folder as it was")
    parser.add_argument("new", metavar="NEW", help="the field folder as it is now")
    parser.add_argument("--json", action="store_true", help="write one JSON document instead")
    parser.add_argument(
        "--out", metavar="FILE.html", help="write the map of NEW with what changed drawn in"
    )
    parser.add_argument(
        "--owners", action="store_true", help="tell changed owners, permits and notes too"
    )


def _add_export(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Writes the field as one file for other programs; the ending says which kind:\n"
        "  .gpkg, .geojson  everything, in layers: lake, zones, floats, primaries, secondaries,\n"
        "                   circles, soundings; SI units\n"
        "  .kml             the same without soundings, in coloured folders for viewers\n"
        "  .xlsx            sheets in your units: floats, clearances, sizing, zones\n"
        "  .csv             the floats alone, as a floats file\n"
        "  .gpx             primaries and secondaries as waypoints: names and places only\n"
        "All but .gpx hold every column of every float: named floats.gpkg, floats.kml and so on,\n"
        "they come in again in a field folder. So do lake and zones of a .gpkg, .geojson or .kml,\n"
        "and soundings of the first two. Settings and inspections stay in the folder.",
        "lakemap export data/tamber-lake --to tamber.gpkg",
        "lakemap export data/tamber-lake --to tamber.gpx",
        "lakemap export data/tamber-lake --to board.xlsx --owners",
    )
    parser.add_argument("folder", metavar="FOLDER", help=_FOLDER_HELP)
    parser.add_argument("--to", metavar="FILE", required=True, help="the file to write")
    parser.add_argument(
        "--owners",
        action="store_true",
        help="put owners, permits, notes and columns of your own into the file",
    )


def _add_plan(parser: argparse.ArgumentParser) -> None:
    _describe(
        parser,
        "Opens the planner in the browser, for this machine alone: it moves floats, changes their\n"
        "rigs and saves. Where the folder has no lake yet, it draws one. Ctrl-C ends it.",
        "lakemap plan data/tamber-lake",
    )
    parser.add_argument("folder", metavar="FOLDER", help="a field folder, or one that is to be")
    parser.add_argument("--port", type=int, metavar="N", help="listen here (a free port)")
    parser.add_argument("--no-open", action="store_true", help="only print the address")
