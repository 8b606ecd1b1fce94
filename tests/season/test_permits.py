"""Until when permits run, as people write it."""

from datetime import date

import pytest
from conftest import make_float

from lakemap.season.upkeep.permits import permits, runs_until


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("TL-2007 until 2027-05-01", date(2027, 5, 1)),
        ("TL-2007, expires 2027-05-01", date(2027, 5, 1)),
        ("Expires: 2027-05-01", date(2027, 5, 1)),
        ("expiry date 2027-05-01", date(2027, 5, 1)),
        ("valid to 2027-05-01", date(2027, 5, 1)),
        ("2025-05-01 to 2027-05-01", date(2027, 5, 1)),
        ("2025-05-01 – 2027-05-01", date(2027, 5, 1)),
        ("2025-05-01/2027-05-01", date(2027, 5, 1)),
        ("issued 2025-05-01, until 2027-05-01", date(2027, 5, 1)),
        ("TL-2007", None),
        ("granted 2025-05-01", None),
        ("TL-2007 2027-05-01", None),
        ("until 2027-13-01", None),
        ("until May 2027", None),
    ],
)
def test_the_day_in_a_permits_text(text, day):
    assert runs_until(text) == day


def test_what_has_run_out_runs_out_or_says_nothing():
    floats = [
        make_float("1", permit="until 2026-04-19"),
        make_float("2", permit="until 2026-04-20"),
        make_float("3", permit="until 2026-10-02"),
        make_float("4", permit="TL-4"),
        make_float("5", permit="expires May 2026"),
        make_float("6"),
        make_float("7", permit="until 2026-01-01", status="retired"),
        make_float("8", permit="until 2026-10-01"),
    ]
    found = permits(floats, on=date(2026, 4, 20), until=date(2026, 10, 1))
    assert [(one.float_id, one.state) for one in found] == [
        ("1", "overdue"), ("2", "due"), ("3", "later"), ("4", "no date"), ("5", "unread"),
        ("8", "due"),
    ]  # fmt: skip
