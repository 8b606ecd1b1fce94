"""`lakemap compare`: words, JSON, the map, every problem of both folders, nothing private."""

import json
import shutil

import pytest

from lakemap.cli import main
from lakemap.cli.parser import build_parser

LAKE = "lon,lat\n-37.01,40.99\n-36.99,40.99\n-36.99,41.01\n-37.01,41.01\n"
HEAD = "float_id,lon,lat,length_ft,width_ft,depth_ft,riser_length_ft,ground_length_ft,owner\n"
OLD = f"{HEAD}1,-37.005,41.005,10,8,10,14,10,Ada Wren\n2,-37.004,41.006,12,10,12,14,10,Bo Fenn\n"
NEW = (
    f"{HEAD}2,-37.004,41.006,12,10,12,14,10,Cleo Marsh\n1,-37.005,41.0052,10,8,10,14,10,Ada Wren\n"
)


@pytest.fixture
def both(folder, tmp_path):
    """Two folders: one float moved, the other's owner changed, the rows in another order."""
    here = folder(lake__csv=LAKE, floats__csv=OLD)
    old, new = tmp_path / "pond-2024", tmp_path / "pond-2025"
    shutil.copytree(here, old)
    shutil.copytree(here, new)
    (new / "floats.csv").write_text(NEW, encoding="utf-8")
    return str(old), str(new)


def run(capsys, *words):
    code = main(["compare", *words])
    return code, *capsys.readouterr()


def test_the_answer(capsys, both):
    code, out, err = run(capsys, *both)
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "What changed from pond-2024 to pond-2025"
    assert lines[1].startswith("1 float moved. Conflicts: 0, as before.")
    # 0.0002 degrees of latitude: 22.2 m by 111,048 m a degree at 41 degrees
    assert "float 1: Moved 72.9 ft north" in out
    assert "Fenn" not in out
    assert "Marsh" not in out


def test_owners_are_told_where_they_are_asked_for(capsys, both):
    code, out, _ = run(capsys, *both, "--owners")
    assert code == 0
    assert "float 2: Owner Bo Fenn → Cleo Marsh" in out


def test_json_is_one_document(capsys, both):
    code, out, err = run(capsys, *both, "--json")
    assert (code, err) == (0, "")
    document = json.loads(out)
    assert (document["format"], document["old"], document["new"]) == (
        "lakemap 1 compare", "pond-2024", "pond-2025",
    )  # fmt: skip
    assert [one["float_id"] for one in document["floats"] if one["change"] == "moved"] == ["1"]
    assert "Marsh" not in out


def test_the_map_is_written(capsys, both, tmp_path):
    out = tmp_path / "changes.html"
    code, said, _ = run(capsys, *both, "--out", str(out))
    assert code == 0
    assert said.splitlines()[-1] == f"map: {out}"
    page = out.read_text(encoding="utf-8")
    assert 'id="changes-sheet"' in page
    assert "Marsh" not in page
    code, said, err = run(capsys, *both, "--out", str(out), "--owners", "--json")
    assert code == 0
    assert json.loads(said)["format"] == "lakemap 1 compare"
    assert err == f"map: {out}\n"
    assert "Cleo Marsh" in out.read_text(encoding="utf-8")


def test_a_folder_with_itself(capsys, both):
    old, _ = both
    code, out, _ = run(capsys, old, f"{old}/../pond-2024")
    assert code == 0
    assert out.startswith("Nothing changed: ")
    code, out, _ = run(capsys, old, old, "--json")
    assert code == 0
    assert json.loads(out)["floats"] == []


def test_folders_of_one_name_are_told_apart(capsys, both, tmp_path):
    old, new = both
    shutil.copytree(new, tmp_path / "later" / "pond-2024")
    _, out, _ = run(capsys, old, str(tmp_path / "later" / "pond-2024"))
    assert out.splitlines()[0] == f"What changed from {old} to {tmp_path / 'later' / 'pond-2024'}"


def test_the_problems_of_both_are_told_at_once(capsys, both, tmp_path):
    from pathlib import Path

    old, new = map(Path, both)
    (old / "floats.csv").write_text(OLD.replace(",12,10,12,", ",12,,12,"), encoding="utf-8")
    (new / "floats.csv").write_text(NEW.replace("41.006", "91.006"), encoding="utf-8")
    (new / "field.toml").write_text("levels = 3\n", encoding="utf-8")
    out = tmp_path / "changes.html"
    code, said, err = run(capsys, *both, "--out", str(out))
    assert (code, said) == (2, "")
    assert f"{old / 'floats.csv'} row 3 width_ft: " in err
    assert f"{new / 'floats.csv'} row 2 lat: " in err
    assert f"{new / 'field.toml'} " in err
    assert "in 3 files; nothing was written" in err
    assert not out.exists()
    code, said, _ = run(capsys, *both, "--json")
    assert code == 2
    assert {Path(one["file"]).parent.name for one in json.loads(said)["problems"]} == {
        "pond-2024",
        "pond-2025",
    }


def test_what_only_the_check_finds_is_told_with_its_folder(capsys, both):
    from pathlib import Path

    old, new = both
    # a primary reckoned from its secondary lies on land, which nobody sees before floats are placed
    row = "1,-36.99001,41.005,10,8,10,14,10,,secondary,270\n"
    text = HEAD.replace("owner\n", "owner,position_of,bearing_deg\n") + row
    Path(new, "floats.csv").write_text(text, encoding="utf-8")
    code, _, err = run(capsys, old, new)
    assert code == 2
    assert f"{Path(new, 'floats.csv')} row 2 position_of: float 1: the primary reckoned" in err


def test_folders_that_are_not_there(capsys):
    code, out, err = run(capsys, "no-such-1", "no-such-2")
    assert (code, out) == (2, "")
    assert "no-such-1: the folder is not there" in err
    assert "no-such-2: the folder is not there" in err


def test_two_lakes(capsys):
    code, out, err = run(capsys, "data/small-pond", "data/tamber-lake")
    assert (code, out) == (2, "")
    assert (
        "these are two lakes: Small Pond at -38.2000,-101.4999, Tamber Lake swim floats at" in err
    )


@pytest.mark.parametrize(
    ("out", "says"),
    [("no/such/folder/a.html", "is no folder; make it first"), ("a.svg", "must end in .html")],
)
def test_slips_are_told_before_anything_is_read(capsys, out, says):
    code, said, err = run(capsys, "no-such-field", "no-such-other", "--out", out)
    assert (code, said) == (2, "")
    assert says in err
    assert "no-such-field" not in err


def test_help_teaches_by_example(capsys):
    with pytest.raises(SystemExit):
        build_parser().parse_args(["compare", "--help"])
    out = capsys.readouterr().out
    for words in (
        "OLD NEW",
        "--json",
        "--out FILE.html",
        "--owners",
        "lakemap compare tamber-2024",
    ):
        assert words in out
