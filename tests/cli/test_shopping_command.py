"""`upkeep --shopping` as a user types it."""

import csv
import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from lakemap.cli import main

POND = Path(__file__).parents[2] / "data" / "small-pond"
PRICES = "part,size,price,per\n=chain,10 mm,5,m\nchain,10 mm,4.5,m\nblock,,3.25,piece\n"


@pytest.fixture
def pond(tmp_path):
    folder = tmp_path / "small-pond"
    shutil.copytree(POND, folder)
    (folder / "prices.csv").write_text(PRICES, encoding="utf-8")
    return folder


def test_the_list_is_told_with_what_it_costs_and_what_has_no_price(pond, capsys):
    assert main(["upkeep", str(pond), "--shopping", "all", "--on", "2026-04-20"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Everything that all rigs are made of:")
    assert "that have no price" in said
    # the pond's rows tell no status, so all five are set
    (line,) = (line for line in said.splitlines() if line.startswith("block"))
    count = int(line.split("hollow")[1].split()[0])
    assert line.rstrip().endswith(f"{count * 3.25:.2f}")


def test_the_document_holds_the_list_and_is_null_without(pond, capsys):
    assert main(["upkeep", str(pond), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["shopping"] is None
    assert main(["upkeep", str(pond), "--json", "--shopping", "all"]) == 0
    found = json.loads(capsys.readouterr().out)["shopping"]
    assert sum(float(item["cost"] or 0) for item in found["items"]) == float(found["total"])


@pytest.mark.parametrize("suffix", [".csv", ".xlsx"])
def test_a_file_for_the_shop_holds_the_same_list_and_no_formula(pond, tmp_path, capsys, suffix):
    floats = (pond / "floats.csv").read_text(encoding="utf-8").splitlines()
    head, *rows = floats
    assert head.startswith("float_id")
    rows[0] = f'"=1+1",{rows[0].split(",", 1)[1]}'
    (pond / "floats.csv").write_text("\n".join([head, *rows]), encoding="utf-8")
    out = tmp_path / f"list{suffix}"
    assert main(["upkeep", str(pond), "--shopping", "all", "--out", str(out)]) == 0
    assert f"shopping list: {out}" in capsys.readouterr().out
    if suffix == ".csv":
        told = list(csv.reader(out.read_text(encoding="utf-8").splitlines()))
        assert not any(cell.startswith(("=", "+", "@")) for row in told for cell in row)
    else:
        sheet = openpyxl.load_workbook(out).active
        told = list(sheet.values)
        assert {cell.data_type for row in sheet for cell in row} <= {"s", "n"}
    assert told[0][:3] == (list if suffix == ".csv" else tuple)(("part", "size", "pieces"))
    assert any("=1+1" in str(row[-1]) for row in told[1:])


def test_slips_of_the_options_are_told_at_once_and_nothing_is_written(pond, capsys, tmp_path):
    words = ["upkeep", str(pond), "--allowance", "-3 ft", "--out", str(tmp_path / "list.pdf")]
    assert main(words) == 2
    said = capsys.readouterr().err
    assert said.count("belongs to --shopping") == 2
    assert "need 0 or more" in said
    assert "must end in .csv or .xlsx" in said
    assert not list(tmp_path.glob("list*"))


def test_every_file_that_was_asked_for_is_written_whatever_is_shown(tmp_path, capsys):
    lake = str(POND.parent / "tamber-lake")
    days, bought = tmp_path / "season.ics", tmp_path / "list.csv"
    words = ["upkeep", lake, "--on", "2026-04-20", "--shopping", "due", "--calendar", str(days)]
    assert main(words) == 0
    assert f"calendar: {days}" in capsys.readouterr().out
    assert days.read_text(encoding="utf-8").startswith("BEGIN:VCALENDAR")
    assert main([*words[:6], "--json", "--out", str(bought)]) == 0
    told = capsys.readouterr()
    assert len(bought.read_text(encoding="utf-8").splitlines()) == 1 + len(
        json.loads(told.out)["shopping"]["items"]
    )
    assert f"shopping list: {bought}" in told.err


def test_a_proposed_float_has_a_list_though_it_has_no_state(capsys):
    lake = str(POND.parent / "tamber-lake")
    assert main(["upkeep", lake, "--shopping", "new", "--float", "36"]) == 0
    assert "float 36 alone" in capsys.readouterr().out
    assert main(["upkeep", lake, "--float", "36"]) == 2
    assert "is proposed" in capsys.readouterr().err
