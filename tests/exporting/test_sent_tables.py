"""XLSX and CSV: typed cells, the user's units, no formula out of any text."""

import csv
import io
from datetime import date, datetime

import openpyxl
import pytest
from conftest import make_field, make_float
from sent_out import HEAD, assessed, rows_text, sent

from lakemap.mapping import assess

FT, LBF = 0.3048, 4.4482216152605
HOSTILE = ("=cmd|' /C calc'!A0", "+1", "-2+3", "@SUM(A1)", "\t=1", "'=x", "''-1", '=HYPERLINK("x")')


def book_of(path):
    return openpyxl.load_workbook(path)


def rows_of(sheet):
    header, *rows = sheet.iter_rows()
    names = [cell.value for cell in header]
    return [dict(zip(names, row, strict=True)) for row in rows]


def test_sheets_and_types(folder, tmp_path):
    book = book_of(sent(assessed(folder), tmp_path / "out.xlsx"))
    assert book.sheetnames == ["floats", "clearances", "sizing", "zones"]
    first = rows_of(book["floats"])[0]
    assert first["float_id"].value == 7
    assert first["riser_length_ft"].value == 20.5
    assert first["tube_diameter_in"].value == 19
    assert first["hook_depth_in"].value == -11
    assert first["tubes"].value == 2
    assert first["set_on"].value in (datetime(2019, 5, 13), date(2019, 5, 13))  # noqa: DTZ001
    assert first["set_on"].is_date
    assert first["lot"].value == "=2+5"
    assert rows_of(book["floats"])[1]["lot"].value == "007"
    assert rows_of(book["zones"])[1]["width_ft"].value == 40


def test_clearances_and_sizing_are_those_of_the_assessment(folder, tmp_path):
    assessment = assessed(folder)
    book = book_of(sent(assessment, tmp_path / "out.xlsx"))
    listed = [(one, c) for one in assessment.floats for c in one.clearances]
    rows = rows_of(book["clearances"])
    assert len(rows) == len(listed)
    for row, (one, clearance) in zip(rows, listed, strict=True):
        assert str(row["float_id"].value) == one.record.float_id
        assert row["kind"].value == clearance.kind
        for name, metres in (("gap_ft", clearance.gap_m), ("spare_ft", clearance.spare_m)):
            asked = None if metres is None else pytest.approx(metres / FT, rel=1e-10)
            assert row[name].value == asked
        if clearance.kind == "deck_area_max":
            area = one.record.length_m * one.record.width_m / FT**2
            assert row["deck_ft2"].value == pytest.approx(area, rel=1e-10)
    sized = rows_of(book["sizing"])[0]
    pull = assessment.floats[0].sizing.loads_n.peak / LBF
    assert sized["peak_pull_lb"].value == pytest.approx(pull, rel=1e-10)
    assert sized["wind_mph"].value == pytest.approx(50, rel=1e-10)  # the storm's default
    told = assessment.floats[0].sizing
    for name, value in (
        ("draft_ft", told.float.draft_m / FT),
        ("reserve_lb", told.float.reserve_n / LBF),
        ("float_weight_lb", 812.5),
        ("fetch_ft", told.storm.fetch_m / FT),
        ("primary_blocks", 10),
        ("riser_ft", 20.5),
        ("walk_radius_ft", 14),
        ("holding_buried_lb", told.primary.holding_n.buried / LBF),
    ):
        assert sized[name].value == pytest.approx(value, rel=1e-10), name
    assert sized["enough_by_practice"].value is assessment.floats[0].sizing.primary.enough.practice


def test_metric_sheets(tmp_path):
    assessment = assess(make_field([make_float("A", primary_blocks=6)]))
    book = book_of(sent(assessment, tmp_path / "out.xlsx"))
    assert rows_of(book["floats"])[0]["riser_length_m"].value == 6
    sized = rows_of(book["sizing"])[0]
    assert sized["swing_radius_low_m"].value == 10.5  # by hand: see the square lake
    dry = assessment.floats[0].sizing.primary.dry_n
    assert sized["primary_dry_kg"].value == pytest.approx(dry / 9.80665, rel=1e-10)


@pytest.mark.parametrize("text", HOSTILE)
def test_no_formula_in_a_book(tmp_path, text):
    floats = [make_float(text.strip(), note=text, owner=text, extra={text: text})]
    book = book_of(sent(assess(make_field(floats)), tmp_path / "out.xlsx"))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert not [cell.coordinate for cell in cells if cell.data_type == "f"]
    texts = [cell for cell in cells if cell.value == text]
    assert texts
    assert all(cell.data_type == "s" for cell in texts)
    begins = [cell for cell in texts if text[0] in "=+-@\t" and cell.row > 1]
    assert all(cell.quotePrefix for cell in begins)


@pytest.mark.parametrize("text", HOSTILE)
def test_no_formula_in_a_csv(tmp_path, text):
    floats = [make_float(text.strip(), note=text, owner=text, extra={text: text})]
    path = sent(assess(make_field(floats)), tmp_path / "out.csv")
    table = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))
    for row in table:
        for cell in row:
            is_number = cell.lstrip("-").replace(".", "").isdigit()
            assert is_number or not cell.startswith(("=", "+", "-", "@", "\t"))
    assert all(len(row) == len(table[0]) for row in table)


def test_a_csv_is_a_floats_file(folder, tmp_path):
    path = sent(assessed(folder), tmp_path / "out.csv", owners=False)
    header, *rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline=""))
    assert header[:5] == ["float_id", "lon", "lat", "length_ft", "width_ft"]
    assert "riser_length_ft" in header
    first = dict(zip(header, rows[0], strict=True))
    assert (first["lon"], first["lat"]) == ("-37.005123457", "40.996123457")
    assert first["riser_length_ft"] == "20.5"
    assert first["fittings"] == "eye bolt 5/8 in; shackle 1/2 in 2"
    assert first["set_on"] == "2019-05-13"
    assert [row[0] for row in rows] == ["7", "'@8 <script>alert(1)</script>", "9", "10"]


def test_tables_without_floats(folder, tmp_path):
    bare = assessed(folder, floats__csv=rows_text(head=HEAD[:10]), zones__csv=None)
    assert sent(bare, tmp_path / "out.csv").read_text() == "float_id,lon,lat,length_ft,width_ft\n"
    book = book_of(sent(bare, tmp_path / "out.xlsx"))
    assert [sheet.max_row for sheet in book] == [1, 1, 1, 1]
