"""`lakemap upkeep --shopping`: what to buy, as a table, a part of the document, a file."""

import argparse
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_quantity
from lakemap.cli.out_files import file_problems
from lakemap.season.buying.prices import Shopping, read_prices, shopping
from lakemap.season.buying.shopping import shopping_list
from lakemap.season.buying.to_buy import pieces_to_buy
from lakemap.season.upkeep.upkeep import Upkeep

_CHOICES = "all, due or new"
_TITLES = {
    "all": "Everything that all rigs are made of",
    "due": "What is to be replaced this season",
    "new": "What the proposed floats take",
}


def shopping_problems(asked: argparse.Namespace) -> list[Problem]:
    """Return what is wrong with the options of a shopping list."""
    found = [
        Problem(code="bad_option", text=f"belongs to --shopping {_CHOICES}", column=option)
        for option, value in (("--allowance", asked.allowance), ("--out", asked.out))
        if value is not None and asked.shopping is None
    ]
    if asked.allowance is not None:
        try:
            if parse_quantity(asked.allowance, "length") < 0:
                text = f"{asked.allowance!r}: need 0 or more, such as 1 ft"
                found.append(Problem(code="bad_option", text=text, column="--allowance"))
        except ValueError as error:
            found.append(Problem(code="bad_option", text=str(error), column="--allowance"))
    return found + _out_problems(asked)


def _out_problems(asked: argparse.Namespace) -> list[Problem]:
    from lakemap.exporting.shopping_file import SHOPPING_FILES  # noqa: PLC0415 - only with --out

    if asked.out is None:
        return []
    named = " or ".join(SHOPPING_FILES)
    return file_problems(Path(asked.out), endings=SHOPPING_FILES, named=named)


def shopping_of(told: Upkeep, asked: argparse.Namespace) -> Shopping:
    """Return what to buy, with the field's own prices."""
    spare = None if asked.allowance is None else parse_quantity(asked.allowance, "length")
    pieces = pieces_to_buy(told, asked.shopping, float_id=asked.float_id)
    items = shopping_list(pieces, spare_m=spare)
    return shopping(items, read_prices(told.assessment.field.prices))


def shopping_text(found: Shopping, told: Upkeep, asked: argparse.Namespace) -> str:
    """Return the list as a table."""
    from lakemap.outputs.upkeep.shopping_table import shopping_table  # noqa: PLC0415

    title = _TITLES[asked.shopping]
    if asked.float_id is not None:
        title = f"{title}, float {asked.float_id} alone"
    elif asked.shopping == "due":
        title = f"{title}, by {told.until.isoformat()}"
    return shopping_table(found, title=title, units=told.assessment.field.settings.units)


def write_shopping(found: Shopping, told: Upkeep, asked: argparse.Namespace) -> list[str]:
    """Write the list where it was asked for; what was written, in words."""
    if asked.out is None:
        return []
    from lakemap.exporting.shopping_file import shopping_file  # noqa: PLC0415 - only with --out
    from lakemap.saving.atomic import write_whole  # noqa: PLC0415

    settings, out = told.assessment.field.settings, Path(asked.out)
    suffix = out.suffix.lower()
    data = shopping_file(found, suffix=suffix, name=settings.name, units=settings.units)
    try:
        write_whole(out, data)
    except OSError as error:
        text = f"can't be written: {error.strerror}"
        raise BadInputError([Problem(code="not_written", text=text, file=str(out))]) from None
    return [f"shopping list: {out} ({len(found.orders):,} items)"]
