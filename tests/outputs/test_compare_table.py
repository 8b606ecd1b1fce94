"""What `compare` prints: what was changed first, figures before and now, no owner's name."""

from dataclasses import replace

import pytest
from conftest import make_float, make_settings
from two_versions import as_it_was, at, field_of, four_floats, two

from lakemap.basis.errors import Problem
from lakemap.comparing import compare
from lakemap.mapping import assess
from lakemap.outputs.compare.table import compare_table, new_notes

NAMES = ("2024", "2025")


@pytest.fixture(scope="module")
def comparison():
    return two(
        [make_float("E", 60.0, 60.0)], C=at(0.0, 42.0), B={"status": "retired", "owner": "Ada Wren"}
    )


@pytest.fixture(scope="module")
def lines(comparison):
    return compare_table(comparison, names=NAMES).splitlines()


def row_of(lines, name):
    (found,) = [line.split("  ") for line in lines if line.startswith(f"{name}  ")]
    return [cell.strip() for cell in found if cell.strip()]


def test_it_begins_with_what_was_changed(lines):
    assert lines[:3] == [
        "What changed from 2024 to 2025",
        "1 float moved, 1 added, 1 retired. Conflicts: 2 before, 0 now.",
        "Floats: conflict 2 → 0, tight 1 → 0, clear 1 → 4, retired 0 → 1.",
    ]
    assert lines[-1] == "Local codes, permits and licensed practice decide."


def test_a_row_holds_before_and_now(lines):
    assert row_of(lines, "C")[:4] == ["C", "conflict → clear", "−1.00 → 19.00", "10.50"]
    # from A the 1.0 m that C took; what is left is the gap to the beach, 25 − 10.5 − 10
    assert row_of(lines, "A")[:3] == ["A", "conflict → clear", "−1.00 → 4.50"]
    assert row_of(lines, "B")[:4] == ["B", "tight → retired", "0.00 → -", "10.50 → -"]
    assert row_of(lines, "E")[:4] == ["E", "- → clear", "- → 24.50", "- → 10.50"]


def test_each_float_is_told_in_sentences(lines):
    at_c = lines.index("float C: Moved 20 m north: conflict → clear.")
    assert "    Float A: gap 1.00 m → gap 21.00 m (19.00 m to spare)" in lines[at_c:]
    assert "float E: Added: clear, 24.50 m to spare." in lines
    assert "float B: Retired: tight → retired." in lines


def test_no_owner_is_named(comparison, lines):
    assert "Ada" not in "\n".join(lines)
    asked = compare(comparison.old, comparison.new, owners=True)
    assert "owner blank → Ada Wren" in compare_table(asked, names=NAMES)


def test_what_all_floats_share_is_told_in_the_rows_alone():
    base = make_settings()
    found = two(new={"settings": make_settings(levels=replace(base.levels, low_m=-0.6))})
    lines = compare_table(found, names=NAMES).splitlines()
    assert lines[1] == "No float was changed. Conflicts: 2 before, 3 now."
    assert lines[3] == "Low water on the gauge: −0.5 m → −0.6 m."
    # B's verdict changed with it, so it is told; D's did not
    assert "float B: Not changed; the levels changed: tight → conflict." in lines
    assert row_of(lines, "D")[1] == "clear"
    assert not any(line.startswith("float D") for line in lines)


def test_nothing_changed():
    one = as_it_was()
    same = compare_table(compare(one, one), names=("pond", "pond"))
    assert same == "Nothing changed: pond was compared with itself."
    again = compare_table(compare(one, assess(field_of(four_floats()))), names=NAMES)
    assert again.splitlines() == ["What changed from 2024 to 2025", "Nothing changed."]


def test_only_new_cautions_are_told():
    def problem(text, row):
        return Problem(code="odd", text=text, file="floats.csv", row=row, fatal=False)

    old = replace(as_it_was(), problems=(problem("an old one", 3),))
    new = replace(as_it_was(), problems=(problem("an old one", 5), problem("a new one", 6)))
    found = compare(old, new)
    assert new_notes(found) == ["floats.csv row 6: a new one"]


def test_a_terminal_without_arrows(monkeypatch, comparison):
    class Plain:
        encoding = "ascii"

    monkeypatch.setattr("lakemap.outputs.tables.grid.sys.stdout", Plain())
    text = compare_table(comparison, names=NAMES)
    assert "conflict -> clear" in text
    assert text.isascii()
