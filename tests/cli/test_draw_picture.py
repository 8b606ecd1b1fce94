"""`draw --out` with a picture: which endings, which paper, and nothing written where all is not well."""

import re
import struct
from pathlib import Path

import pytest
from pypdf import PdfReader

from lakemap.cli import main
from lakemap.cli.parser import build_parser
from lakemap.outputs import typeset

DATA = Path(__file__).parents[2] / "data"
POND, TAMBER = str(DATA / "small-pond"), str(DATA / "tamber-lake")


def run(capsys, *words):
    code = main(list(words))
    return code, *capsys.readouterr()


def inches(path):
    return [float(side) / 72 for side in PdfReader(path).pages[0].mediabox[2:]]


def test_the_usual_paper_goes_with_the_units(capsys, tmp_path):
    code, out, _ = run(capsys, "draw", TAMBER, "--out", str(tmp_path / "x.pdf"))
    assert code == 0
    assert inches(tmp_path / "x.pdf") == pytest.approx([8.5, 11])
    assert out.splitlines()[-1].endswith("x.pdf (letter, upright)")
    assert out.startswith("Five floats are in conflict")
    assert run(capsys, "draw", POND, "--out", str(tmp_path / "y.PDF"))[0] == 0
    assert inches(tmp_path / "y.PDF") == pytest.approx([210 / 25.4, 297 / 25.4], abs=1e-4)


def test_paper_landscape_and_dots_as_asked(capsys, tmp_path):
    out = tmp_path / "x.png"
    words = ("--paper", "a5", "--landscape", "--dpi", "90", "--out", str(out))
    code, said, _ = run(capsys, "draw", POND, *words)
    assert code == 0
    assert "(a5, landscape)" in said
    assert struct.unpack(">II", out.read_bytes()[16:24]) == pytest.approx(
        [90 * 210 / 25.4, 90 * 148 / 25.4], abs=1
    )


def test_what_the_table_had_no_room_for_is_told(capsys, tmp_path):
    svg, pdf = tmp_path / "x.svg", tmp_path / "x.pdf"
    _, said, _ = run(capsys, "draw", TAMBER, "--paper", "a5", "--out", str(svg))
    left = int(re.search(r"its table has no room for (\d+) floats; a .pdf lists all", said)[1])
    assert f"and {left} more: see the PDF." in svg.read_text(encoding="utf-8")
    _, said, _ = run(capsys, "draw", TAMBER, "--paper", "a5", "--out", str(pdf))
    assert "(a5, upright, 2 pages)" in said
    assert "no room" not in said


def test_html_is_the_map_still(capsys, tmp_path):
    out = tmp_path / "x.html"
    assert run(capsys, "draw", POND, "--out", str(out))[0] == 0
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--out", "x.jpg"], "--out: 'x.jpg' must end in .html for the map, or in .svg, .png or .pdf"),
        (["--out", "x"], "--out: 'x' must end in .html"),
        (["--paper", "a3"], "--paper: the map has no paper; --paper goes with --out FILE.svg"),
        (["--out", "x.html", "--landscape"], "--landscape: the map has no paper"),
        (["--out", "x.pdf", "--dpi", "300"], "--dpi: a .pdf has no dots; --dpi goes with --out FILE.png"),
        (["--out", "x.png", "--dpi", "5"], "--dpi: 5 dots per inch; give 50 to 600, as in --dpi 200"),
        # 16.5 by 23.4 in: 70 million dots are 425 to the inch
        (["--out", "x.png", "--paper", "a2", "--dpi", "600"], "give 50 to 400 on a2"),
        (["--out", "none/x.svg"], "none is no folder; make it first"),
        (["--out", "x.png", "--paper", "a6"], "argument --paper: invalid choice: 'a6'"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said_before_anything_is_read(
    capsys, tmp_path, monkeypatch, words, said
):
    monkeypatch.chdir(tmp_path)
    code, _, err = run(capsys, "draw", "no-such-folder", *words)
    assert code == 2
    assert said in err
    assert "no-such-folder" not in err
    assert list(tmp_path.iterdir()) == []


def test_all_that_is_wrong_is_told_at_once(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    _, _, err = run(capsys, "draw", POND, "--out", "none/x.gif", "--dpi", "7")
    assert "none is no folder" in err
    assert "'x.gif' must end in" in err
    assert "7 dots per inch" in err
    assert "3 problems; nothing was written" in err


@pytest.mark.parametrize("kind", ["pdf", "png"])
def test_a_missing_extra_is_named_and_an_old_file_stays(capsys, tmp_path, monkeypatch, kind):
    real = typeset.importlib.util.find_spec
    monkeypatch.setattr(
        typeset.importlib.util, "find_spec", lambda name: None if name == "typst" else real(name)
    )
    out = tmp_path / f"x.{kind}"
    out.write_bytes(b"old")
    code, _, err = run(capsys, "draw", "no-such-folder", "--out", str(out))
    assert code == 2
    assert "pip install 'lakemap[paper]'" in err
    assert err.count("\n") == 2  # the problem, and that nothing was written
    assert out.read_bytes() == b"old"
    svg = tmp_path / "x.svg"
    assert run(capsys, "draw", POND, "--out", str(svg))[0] == 0
    assert svg.is_file()


def test_a_picture_that_cannot_be_made_leaves_the_old_one(capsys, tmp_path, monkeypatch):
    def fail(*_args, **_more):
        raise OSError(28, "No space left on device", "x")

    monkeypatch.setattr("lakemap.outputs.poster.poster.to_pdf", fail)
    out = tmp_path / "x.pdf"
    out.write_bytes(b"old")
    assert run(capsys, "draw", POND, "--out", str(out))[0] == 2
    assert out.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["x.pdf"]


def test_owners_are_named_only_when_asked(capsys, tmp_path, folder):
    floats = (
        "float_id,lon,lat,length_ft,width_ft,depth_ft,owner\n1,-37.005,41.005,10,8,10,A. Secret\n"
    )
    here, out = str(folder(floats__csv=floats)), tmp_path / "x.svg"
    assert run(capsys, "draw", here, "--out", str(out))[0] == 0
    assert "Secret" not in out.read_text(encoding="utf-8")
    assert run(capsys, "draw", here, "--owners", "--out", str(out))[0] == 0
    assert "A. Secret" in out.read_text(encoding="utf-8")


def test_the_papers_are_those_that_can_be_set():
    for name in typeset.PAPERS:
        asked = build_parser().parse_args(["draw", "x", "--paper", name])
        assert asked.paper == name
