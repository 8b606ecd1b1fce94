"""The prices file: what a price can be for, and what is refused."""

from fractions import Fraction

import pytest

from lakemap.basis.errors import ProblemLog
from lakemap.basis.sold_by import read_sold_by
from lakemap.inputs.cells import RawTable
from lakemap.inputs.side_tables import read_prices


@pytest.mark.parametrize(
    ("text", "unit", "amount", "lot"),
    [
        (None, "piece", 1, None),
        ("each", "piece", 1, None),
        ("FT", "ft", 1, None),
        ("100 ft", "ft", 100, None),
        ("roll of 50 m", "m", 50, "roll"),
        ("box of 10", "piece", 10, "box"),
        ("2.5 m", "m", Fraction(5, 2), None),
    ],
)
def test_what_a_price_is_for_is_read(text, unit, amount, lot):
    found = read_sold_by(text)
    assert (found.unit, found.amount, found.lot) == (unit, amount, lot)


@pytest.mark.parametrize(
    "text", ["furlong", "roll of", "roll of ft", "0 ft", "-3 m", "ft ft", "=1"]
)
def test_what_no_price_can_be_for_is_refused_and_the_choices_are_named(text):
    with pytest.raises(ValueError, match=r"roll of 100 ft"):
        read_sold_by(text)


def test_all_slips_of_the_file_are_told_at_once():
    rows = (("chain", "3/8 in", 2.0, "fathom", 0), ("shackle", "", -1, "", ""))
    columns = ("part", "size", "price", "per", "pack")
    table = RawTable(file="prices.csv", columns=columns, rows=rows, row_numbers=(2, 3))
    log = ProblemLog()
    read_prices(table, log, crs="EPSG:4326")
    told = sorted((p.row, p.column) for p in log if p.fatal)
    assert told == [(2, "pack"), (2, "per"), (3, "price")]
