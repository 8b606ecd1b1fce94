"""Floats saved into a spreadsheet: the changed cells of its first sheet, and nothing else."""

import io
import zipfile

import openpyxl
import pytest
from openpyxl.styles import Font

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field
from lakemap.saving.floats import save_floats
from lakemap.saving.records import FloatChange, Saved
from lakemap.saving.sheet_spans import column_and_row, column_letters, sheet_spans
from lakemap.saving.stamps import stamp_of

FT = 0.3048
HEAD = ["float_id", "lon", "lat", "length_ft", "width_ft", "riser_length", "owner", "twice"]
SHEET = "xl/worksheets/sheet1.xml"
NEW = {"length": 3.048, "width": 6 * FT, "owner": "=1+1", "riser_length": 20 * FT}


def book_file(here, fill=id):
    """A book with styles, a second sheet, a formula and shared strings."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(HEAD)
    sheet.append([1, -37.005, 41.005, 10, 8, "20 ft", "A & B", None])
    sheet.append([2, -37.004, 41.006, 12, 10, None, None, None])
    sheet["A1"].font = Font(bold=True)
    sheet["E2"].number_format = "0.00"
    sheet.column_dimensions["G"].width = 40
    sheet.freeze_panes = "A2"
    fill(sheet)
    book.create_sheet("More")["A1"] = "untouched"
    book.save(here / "floats.xlsx")


def save(here, *changes):
    stamp, field = stamp_of(here), read_field(here)
    before = (here / "floats.xlsx").read_bytes()
    made = save_floats(here, field, changes, stamp=stamp)
    assert isinstance(made, Saved)
    assert (here / "floats.xlsx.before").read_bytes() == before
    after = (here / "floats.xlsx").read_bytes()
    old, new = (parts(data) for data in (before, after))
    assert list(old) == list(new)
    assert {name for name in old if old[name] != new[name]} == {SHEET}
    return made, read_field(here), grid(before), grid(after)


def parts(data):
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        return {name: book.read(name) for name in book.namelist()}


def grid(data):
    """Values, bold and number format of every cell, by the general library."""
    sheet = openpyxl.load_workbook(io.BytesIO(data)).worksheets[0]
    return {
        cell.coordinate: (cell.value, cell.font.b, cell.number_format)
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


@pytest.fixture
def xlsx(folder):
    def make(fill=id):
        here = folder(floats__csv=None)
        book_file(here, fill)
        return here

    return make


def test_cells_change_and_keep_their_looks(xlsx):
    change = FloatChange(
        float_id="1",
        position=(-37.006, 41.005),
        values={"width": 9 * FT, "owner": "<C> & 'D'\n\"E\""},
    )
    blanked = FloatChange(float_id="2", values={"length": 11.5 * FT, "riser_length": 10 * FT})
    made, field, before, after = save(xlsx(), change, blanked)
    changed = {
        "B2": (-37.006, False, "General"),
        "E2": (9, False, "0.00"),
        "G2": ("<C> & 'D'\n\"E\"", False, "General"),
        "D3": (11.5, False, "General"),
        "F3": ("10 ft", False, "General"),
    }
    assert after == before | changed
    assert after["A1"] == ("float_id", True, "General")
    assert made.notes == ()
    assert field.floats[1].riser_m == pytest.approx(10 * FT, rel=1e-9)


def test_a_cell_is_blanked(xlsx):
    _, field, before, after = save(xlsx(), FloatChange(float_id="1", values={"owner": None}))
    assert after == {name: held for name, held in before.items() if name != "G2"}
    assert field.floats[0].owner is None


def test_a_new_float_in_a_new_row_and_column(xlsx):
    new = FloatChange(float_id="3", new=True, position=(-37.003, 41.004), values=NEW)
    made, field, before, after = save(xlsx(), new)
    row = {"A4": 3, "B4": -37.003, "C4": 41.004, "D4": 10, "E4": 6, "F4": "20 ft", "G4": "=1+1", "I4": "proposed"}  # fmt: skip
    values = {name: held[0] for name, held in after.items()}
    assert values == {name: held[0] for name, held in before.items()} | row | {"I1": "status"}
    assert made.notes == ("floats.xlsx had no column for it: status was added",)
    assert field.floats[2].owner == "=1+1"  # a text, not a formula


def test_a_new_float_goes_below_the_last_one_not_below_empty_rows(xlsx):
    def fill(sheet):
        for number in (4, 5, 900):
            sheet.cell(number, 2).number_format = "0.000"

    _, _, _, after = save(
        xlsx(fill), FloatChange(float_id="3", new=True, position=(-37.003, 41.004), values=NEW)
    )
    assert after["B4"] == (-37.003, False, "0.000")
    assert after["A4"][0] == 3


def test_formulas(xlsx):
    def fill(sheet):
        sheet["H2"] = "=D2*2"
        sheet["E3"] = "=5*2"

    here = xlsx(fill)
    # the general library keeps no results: give the formula that is read one, as a spreadsheet does
    held = parts((here / "floats.xlsx").read_bytes())
    held[SHEET] = (
        held[SHEET]
        .replace(b"<f>5*2</f><v />", b"<f>5*2</f><v>10</v>")
        .replace(b"<f>5*2</f><v/>", b"<f>5*2</f><v>10</v>")
    )
    write(here, held)
    made, field, before, after = save(here, FloatChange(float_id="1", values={"length": 11 * FT}))
    assert after == before | {"D2": (11, False, "General")}
    assert "holds formulas; open and save it in the spreadsheet" in made.notes[0]
    assert field.floats[1].width_m == pytest.approx(10 * FT)
    said = refused(here, FloatChange(float_id="2", values={"width": 3.0}))
    assert "cell E3 is a formula; change it in the spreadsheet" in said


def write(here, held):
    with zipfile.ZipFile(here / "floats.xlsx", "w", zipfile.ZIP_DEFLATED) as book:
        for name, data in held.items():
            book.writestr(name, data)


def refused(here, *changes):
    stamp, field = stamp_of(here), read_field(here)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    with pytest.raises(BadInputError) as told:
        save_floats(here, field, changes, stamp=stamp)
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before
    return str(told.value)


# written by hand: a prefix, cells and rows without names, a row without cells, other parts about it
BY_HAND = """<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:dimension ref="A1:E3"/>\
<!-- <sheetData> a comment --><x:sheetData><x:row><x:c t="s"><x:v>0</x:v></x:c><x:c t="s"><x:v>1</x:v></x:c>\
<x:c t="s"><x:v>2</x:v></x:c><x:c t="s"><x:v>3</x:v></x:c><x:c t="s"><x:v>4</x:v></x:c></x:row>
<x:row r="3" spans="1:5" ht='20'><x:c r="A3" t="inlineStr"><x:is><x:t>7</x:t></x:is></x:c><x:c r="B3"><x:v>-37.005</x:v></x:c>\
<x:c r="C3" s="0"><x:v>41.005</x:v></x:c><x:c r="D3"><x:v>10</x:v></x:c><x:c r="E3"><x:v>8</x:v></x:c></x:row><x:row r="4"/>\
</x:sheetData><x:pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/></x:worksheet>"""


def test_a_sheet_written_by_hand(xlsx):
    here = xlsx()
    held = parts((here / "floats.xlsx").read_bytes())
    main = "http://schemas.openxmlformats.org"
    strings = "".join(f"<si><t>{name}</t></si>" for name in HEAD[:5])
    more = {
        SHEET: BY_HAND,
        "xl/sharedStrings.xml": f'<sst xmlns="{main}/spreadsheetml/2006/main">{strings}</sst>',
        "[Content_Types].xml": held["[Content_Types].xml"].decode().replace(
            "</Types>",
            '<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>',
        ),
        "xl/_rels/workbook.xml.rels": held["xl/_rels/workbook.xml.rels"].decode().replace(
            "</Relationships>",
            f'<Relationship Id="rId77" Type="{main}/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>',
        ),
    }  # fmt: skip
    write(here, held | {name: text.encode() for name, text in more.items()})
    change = FloatChange(float_id="7", values={"length": 12 * FT, "lot": "4 a"})
    new = FloatChange(float_id="8", new=True, position=(-37.003, 41.004), values={"length": 3.048, "width": 3.048, "status": "set"})  # fmt: skip
    _, field, _, _ = save(here, change, new)
    text = parts((here / "floats.xlsx").read_bytes())[SHEET].decode()
    wanted = BY_HAND
    for old, one in [
        ('ref="A1:E3"', 'ref="A1:F4"'),
        ("<x:v>4</x:v></x:c></x:row>", '<x:v>4</x:v></x:c><x:c r="F1" t="inlineStr"><x:is><x:t xml:space="preserve">lot</x:t></x:is></x:c></x:row>'),
        ('<x:row r="3" spans="1:5" ht=', '<x:row r="3" ht='),
        ('<x:c r="D3"><x:v>10</x:v></x:c>', '<x:c r="D3"><x:v>12</x:v></x:c>'),
        ("<x:v>8</x:v></x:c></x:row>", '<x:v>8</x:v></x:c><x:c r="F3" t="inlineStr"><x:is><x:t xml:space="preserve">4 a</x:t></x:is></x:c></x:row>'),
        ('<x:row r="4"/>', '<x:row r="4"><x:c r="A4" t="inlineStr"><x:is><x:t xml:space="preserve">8</x:t></x:is></x:c><x:c r="B4"><x:v>-37.003000000</x:v></x:c>'
         '<x:c r="C4"><x:v>41.004000000</x:v></x:c><x:c r="D4"><x:v>10</x:v></x:c><x:c r="E4"><x:v>10</x:v></x:c></x:row>'),
    ]:  # fmt: skip
        assert wanted.count(old) == 1
        wanted = wanted.replace(old, one)
    assert text == wanted
    assert [one.float_id for one in field.floats] == ["7", "8"]


def test_texts_no_spreadsheet_holds(xlsx):
    said = refused(xlsx(), FloatChange(float_id="1", values={"owner": "bell \x07"}))
    assert "can't stand in a spreadsheet (cell G2)" in said


@pytest.mark.parametrize(
    "sheet",
    [
        BY_HAND.replace("<x:worksheet", '<!DOCTYPE x [<!ENTITY a "b">]><x:worksheet'),
        BY_HAND.replace('r="4"', 'r="2"'),
        BY_HAND.replace("</x:worksheet>", ""),
        "",
    ],
)
def test_odd_sheets_are_refused(sheet):
    with pytest.raises(BadInputError, match="can't be changed in place"):
        sheet_spans(sheet.encode(), "floats.xlsx")


def test_names_of_cells():
    # by hand: Z is 26, AA 27, XFD 16384
    for letters, column in [
        ("A", 1),
        ("Z", 26),
        ("AA", 27),
        ("AZ", 52),
        ("ZZ", 702),
        ("XFD", 16384),
    ]:
        assert column_letters(column) == letters
        assert column_and_row(f"{letters}7") == (column, 7)
    assert column_and_row("7B") == (0, 0)


def test_the_open_sign_of_a_spreadsheet(xlsx):
    here = xlsx()
    (here / "~$floats.xlsx").touch()
    assert "is open in a spreadsheet" in refused(
        here, FloatChange(float_id="1", values={"owner": "x"})
    )
