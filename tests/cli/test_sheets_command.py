"""`sheets`: which files, for which floats, and nothing written where all is not well."""

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from lakemap.cli import main
from lakemap.cli.parser import build_parser
from lakemap.inputs.folder import read_field
from lakemap.outputs import typeset

DATA = Path(__file__).parents[2] / "data"
POND, TAMBER = str(DATA / "small-pond"), str(DATA / "tamber-lake")
KINDS = ("setting", "inspection", "lifting", "member")


def run(capsys, *words):
    code = main(["sheets", *words])
    return code, *capsys.readouterr()


@pytest.fixture(autouse=True)
def elsewhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_file_to_a_kind_in_a_folder_of_its_own(capsys, elsewhere):
    code, out, err = run(capsys, POND)
    assert (code, err) == (0, "")
    names = [f"small-pond-{kind}.html" for kind in KINDS]
    assert sorted(path.name for path in (elsewhere / "sheets").iterdir()) == sorted(names)
    assert out.splitlines() == [
        f"{words}: sheets/{name} (5 floats, a4)"
        for words, name in zip(
            ("setting sheets", "inspection sheets", "lifting sheets", "members’ sheets"),
            names,
            strict=True,
        )
    ]
    for name in names:
        assert (elsewhere / "sheets" / name).read_text("utf-8").count("<section") == 5


def test_one_kind_of_one_float_as_pdf_on_the_paper_asked_for(capsys, elsewhere):
    words = (TAMBER, "--kind", "member", "--float", "15", "--paper", "a4", "--out", "own.pdf")
    code, out, _ = run(capsys, *words)
    assert (code, out) == (0, "members’ sheets: own.pdf (1 float, a4)\n")
    assert not (elsewhere / "sheets").exists()
    told = PdfReader("own.pdf")
    assert len(told.pages) == 1
    assert [float(side) for side in told.pages[0].mediabox[2:]] == pytest.approx(
        [595.276, 841.89], abs=0.01
    )


def test_all_that_concerns_one_float_in_one_file(capsys):
    code, out, _ = run(capsys, POND, "--float", "2", "--out", "two.html")
    assert (code, out) == (0, "sheets: two.html (1 float, a4)\n")
    text = Path("two.html").read_text("utf-8")
    assert re.findall(r'<section[^>]* id="(\w+)=2"', text) == list(KINDS)


def test_what_is_planned_is_set_and_what_is_retired_only_lifted(capsys):
    assert run(capsys, TAMBER, "--float", "37", "--out", "planned.html")[0] == 0
    text = Path("planned.html").read_text("utf-8")
    assert re.findall(r'id="(\w+)=37"', text) == ["setting", "member"]
    assert run(capsys, TAMBER, "--float", "39", "--out", "gone.html")[0] == 0
    assert re.findall(r'id="(\w+)=39"', Path("gone.html").read_text("utf-8")) == ["float"]
    code, _, err = run(capsys, TAMBER, "--float", "39", "--kind", "setting", "--out", "no.html")
    assert code == 2
    assert "float 39 is retired and has no setting sheet; ask for --kind lifting" in err
    assert not Path("no.html").exists()


def test_the_level_of_the_day_is_reckoned_with_and_said(capsys):
    def depth(*words):
        assert (
            run(capsys, POND, "--kind", "setting", "--float", "1", "--out", "x.html", *words)[0]
            == 0
        )
        text = Path("x.html").read_text("utf-8")
        return float(re.search(r"([\d.]+) m deep", text)[1]), text

    usual, text = depth()
    assert "lake at its normal level" in text
    more, text = depth("--level", "20 cm")
    assert more == pytest.approx(usual + 0.2)
    assert "lake at +0.2 m on its gauge" in text
    less, text = depth("--level", "-0.1 m")
    assert less == pytest.approx(usual - 0.1)
    assert "lake at −0.1 m on its gauge" in text


def test_a_level_the_lake_is_not_said_to_reach_may_be_a_slip(capsys):
    words = (TAMBER, "--kind", "member", "--float", "15", "--out", "x.html")
    assert run(capsys, *words, "--level", "1 ft")[2] == ""
    assert (
        run(capsys, *words, "--level", "4 ft")[2]
        == "note: +4 ft is above its high, +1 ft in field.toml\n"
    )


def test_no_owner_is_named_unless_asked_for_and_then_only_on_its_own_floats_pages(capsys):
    named = {one.float_id: one.owner for one in read_field(TAMBER).floats}
    people = {
        float_id: owner for float_id, owner in named.items() if owner and owner != "association"
    }
    assert len(people) > 20
    for float_id in ("4", "15"):
        words = (TAMBER, "--float", float_id, "--out", "x.html")
        assert run(capsys, *words)[0] == 0
        text = Path("x.html").read_text("utf-8")
        assert not [name for name in people.values() if name in text]
        assert run(capsys, *words, "--owners")[0] == 0
        text = Path("x.html").read_text("utf-8")
        assert {name for name in people.values() if name in text} == {people[float_id]}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--float", "51"), "no float '51'; did you mean 5?"),
        (("--out", "x.docx"), "'x.docx' must end in .html or .pdf"),
        (("--out", "none/x.pdf"), "none is no folder; make it first"),
        (("--level", "much"), "--level"),
        (("--level", "3"), "--level"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_and_nothing_is_written(capsys, elsewhere, words, says):
    code, out, err = run(capsys, POND, *words)
    assert (code, out) == (2, "")
    assert says in err
    assert list(elsewhere.iterdir()) == []


def test_everything_wrong_is_told_at_once(capsys):
    code, _, err = run(capsys, POND, "--level", "much", "--out", "none/x.docx")
    assert code == 2
    assert "3 problems" in err


def test_nothing_goes_into_the_fields_own_folder(capsys, monkeypatch, tmp_path):
    field = tmp_path / "pond"
    field.mkdir()
    for path in Path(POND).iterdir():
        (field / path.name).write_bytes(path.read_bytes())
    before = sorted(path.name for path in field.iterdir())
    assert "the field's own folder" in run(capsys, str(field), "--out", str(field / "x.html"))[2]
    monkeypatch.chdir(field)
    code, _, err = run(capsys, ".")
    assert code == 2
    assert "name a file elsewhere" in err
    assert sorted(path.name for path in field.iterdir()) == before


def test_a_field_without_a_float_has_no_sheet(capsys, tmp_path):
    field = tmp_path / "pond"
    field.mkdir()
    for path in Path(POND).iterdir():
        (field / path.name).write_bytes(path.read_bytes())
    header = (field / "floats.csv").read_text("utf-8").splitlines()[0]
    (field / "floats.csv").write_text(header + "\n", encoding="utf-8")
    code, _, err = run(capsys, str(field))
    assert code == 2
    assert "no float of the floats file is set or proposed, so there is no sheet to write" in err


def test_without_the_extra_one_message_says_what_to_do(capsys, monkeypatch):
    real = typeset.importlib.util.find_spec
    monkeypatch.setattr(
        typeset.importlib.util, "find_spec", lambda name: None if name == "typst" else real(name)
    )
    code, _, err = run(capsys, POND, "--out", "x.pdf")
    assert code == 2
    assert (
        "a .pdf needs the extra for paper: pip install 'lakemap[paper]'; .html needs nothing" in err
    )
    assert not Path("x.pdf").exists()


def test_the_help_teaches_by_example():
    parser = build_parser()
    asked = parser.parse_args(["sheets", "f", "--kind", "setting", "--level=0.4 ft"])
    assert (asked.command, asked.kind, asked.level, asked.owners) == (
        "sheets",
        "setting",
        "0.4 ft",
        False,
    )
    with pytest.raises(SystemExit):
        parser.parse_args(["sheets", "f", "--kind", "mooring"])
