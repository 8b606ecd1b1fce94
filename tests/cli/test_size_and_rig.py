"""`size` and `rig` with the computed rig: working, pictures, defaults that can be overridden."""

import json
from pathlib import Path

import pytest
from defusedxml.ElementTree import fromstring

from lakemap.cli import main

DATA = Path(__file__).parents[2] / "data"
POND, TAMBER = str(DATA / "small-pond"), str(DATA / "tamber-lake")
RIG = ("rig", "--depth", "10 ft", "--length", "10 ft", "--width", "8 ft")


def run(capsys, *words):
    code = main(list(words))
    return code, *capsys.readouterr()


def test_size_tells_loads_answers_and_cautions(capsys):
    code, out, _ = run(capsys, "size", POND)
    assert code == 0
    head = out.splitlines()[0]
    for word in ("steady pull", "highest", "weakest part", "slides at"):
        assert word in head
    assert out.count("unburied: ") == 5
    assert "Local codes, permits and licensed practice decide." in out


def test_one_float_has_its_ways_and_parts(capsys):
    _, out, _ = run(capsys, "size", TAMBER, "--float", "15")
    flat = " ".join(out.split())
    for words in (
        "way to build it, practice",
        "way to build it, no uplift",
        "way to build it, snatch",
    ):
        assert words in flat
    assert "parts, hook to primary: eye bolt 5/8 in" in flat
    assert "Ada" not in out


def test_the_working(capsys):
    code, out, _ = run(capsys, "size", TAMBER, "--float", "15", "--working")
    assert code == 0
    assert out.startswith("The working of float 15")
    assert "source: " in out
    assert "F = F_wind + F_drift + F_current" in out


def test_a_picture_of_one_float(capsys, tmp_path):
    out = tmp_path / "f.svg"
    code, said, _ = run(capsys, "size", TAMBER, "--float", "15", "--out", str(out))
    assert code == 0
    assert said.splitlines()[-1] == f"picture: {out}"
    fromstring(out.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--out", "f.svg"), "one picture shows one float; say which, as --float 15"),
        (("--float", "15", "--out", "f.png"), "'f.png' must end in .svg"),
        (("--float", "15", "--out", "nowhere/f.svg"), "nowhere is no folder; make it first"),
    ],
)
def test_slips_of_the_picture_are_told_before_the_work(capsys, tmp_path, monkeypatch, words, said):
    monkeypatch.chdir(tmp_path)
    code, _, err = run(capsys, "size", TAMBER, *words)
    assert code == 2
    assert said in err
    assert list(tmp_path.iterdir()) == []


def test_the_document_of_size_has_no_null_that_could_be_known(capsys):
    _, out, _ = run(capsys, "size", TAMBER, "--json")
    for one in json.loads(out)["floats"]:
        sizing = one["sizing"]
        assert None not in sizing["storm"].values()
        assert None not in sizing["loads_n"].values()
        assert sizing["primary"]["decides"] == "practice"
        assert set(sizing["primary"]["enough"]) == {"practice", "unburied", "buried"}
        if one["verdict"] not in {None, "unknown"}:
            assert sizing["primary"]["uplift_n"] is not None
            assert sizing["line"]["weak_link"] is not None


def rig(capsys, *words):
    code, out, err = run(capsys, *RIG, *words)
    assert code == 0, err
    return out


def test_rig_names_its_storm_and_every_default_can_be_overridden(capsys):
    out = rig(capsys, "--bottom", "sand")
    assert "50 mph over 2,640.0 ft of open water" in out
    calmer = rig(
        capsys, "--wind", "20 mph", "--fetch", "300 ft", "--wake", "1 ft", "--bottom", "gravel"
    )
    assert "20 mph over 300.0 ft of open water" in calmer
    pulls = [
        int(text.split("a steady pull of ")[1].split(" lb")[0].replace(",", ""))
        for text in (out, calmer)
    ]
    assert pulls[1] < pulls[0] / 3


def test_rig_designs_by_the_answer_asked_for(capsys):
    words = ("--wind", "15 mph", "--fetch", "300 ft", "--bottom", "gravel", "--json")
    practice = json.loads(rig(capsys, *words))["rig"]["sizing"]["primary"]
    held = json.loads(rig(capsys, *words, "--holding", "unburied"))["rig"]["sizing"]["primary"]
    assert practice["blocks"] == practice["practice_blocks"]
    assert held["decides"] == "unburied"
    assert held["enough"]["unburied"] is True


def test_rig_shows_its_working_and_draws(capsys, tmp_path):
    assert rig(capsys, "--working").startswith("The working of float new")
    picture, page = tmp_path / "r.svg", tmp_path / "r.html"
    assert f"picture: {picture}" in rig(capsys, "--out", str(picture))
    svg = picture.read_text(encoding="utf-8")
    fromstring(svg)
    assert "Open water around it" not in svg  # the water is invented
    assert f"page: {page}" in rig(capsys, "--out", str(page))
    assert "Three ways to build it" in page.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--wind", "200 mph"), "'200 mph' must be above 0 and no more than 134 mph (60 m/s)"),
        (("--fetch", "70 mi"), "'70 mi' must be no more than 100 km (62 mi)"),
        (("--gust", "20 mph"), "'20 mph' must not be below the mean wind"),
        (("--out", "x.pdf"), "'x.pdf' must end in .html or .svg"),
        (("--wind", "fast"), "'fast' is no quantity"),
    ],
)
def test_slips_of_rig(capsys, words, said):
    code, _, err = run(capsys, *RIG, *words)
    assert code == 2
    assert said in err
