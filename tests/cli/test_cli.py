"""The command line: words in, words out, exit codes."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from lakemap.cli import main

DATA = Path(__file__).parents[2] / "data"
POND = str(DATA / "small-pond")
TAMBER = str(DATA / "tamber-lake")


def run(capsys, *words):
    code = main(list(words))
    return code, *capsys.readouterr()


def test_check_exits_1_where_something_is_in_conflict(capsys):
    code, out, _ = run(capsys, "check", TAMBER)
    assert code == 1
    assert "conflict" in out
    assert run(capsys, "check", POND)[0] == 0


def test_json_is_json_and_nothing_else(capsys):
    for command in ("check", "size"):
        _, out, _ = run(capsys, command, POND, "--json")
        document = json.loads(out)
        assert document["field"] == "small-pond"
        assert len(document["floats"]) == 5


def test_size_of_one_float(capsys):
    code, out, _ = run(capsys, "size", TAMBER, "--float", "4")
    assert code == 0
    assert out.splitlines()[2].startswith("4 ")
    code, _, err = run(capsys, "size", TAMBER, "--float", "44x")
    assert code == 2
    assert "no float '44x'" in err


def test_draw_writes_into_maps_of_this_folder(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in (DATA / "small-pond").iterdir()}
    code, out, _ = run(capsys, "draw", POND)
    assert code == 0
    assert (tmp_path / "maps" / "small-pond.html").is_file()
    assert "maps" in out.splitlines()[-1]
    assert before == {path: path.stat().st_mtime_ns for path in (DATA / "small-pond").iterdir()}
    code, _, err = run(capsys, "draw", POND, "--out", str(tmp_path / "none" / "x.html"))
    assert code == 2
    assert "is no folder; make it first" in err


def test_bad_input_as_words_and_as_json(capsys, folder):
    here = str(folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n1,-37.005,41.005,x,8\n"))
    code, out, err = run(capsys, "check", here)
    assert (code, out) == (2, "")
    assert err.splitlines() == [
        "floats.csv row 2 length_ft: 'x' is no quantity; write a number and one of ft, in, m, mm, cm, km, yd, mi",
        "1 problem in 1 file; nothing was written",
    ]
    code, out, err = run(capsys, "check", here, "--json")
    assert code == 2
    assert json.loads(out)["problems"][0]["row"] == 2
    assert "nothing was written" in err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["drwa", "x"], "no command 'drwa'; did you mean `lakemap draw`?"),
        (["quux"], "no command 'quux'; there are: start, draw, check, size, rig"),
        (["draw", POND, "--ownrs"], "no option --ownrs; did you mean --owners?"),
        (["draw"], "the following arguments are required: FOLDER"),
        (["check", "nowhere"], "is not there"),
    ],
)
def test_slips(capsys, words, said):
    code, _, err = run(capsys, *words)
    assert code == 2
    assert said in err


def test_help_teaches(capsys):
    code, out, _ = run(capsys, "--help")
    assert code == 0
    assert "lakemap start my-lake" in out
    for command in ("start", "draw", "check", "size", "rig"):
        code, out, _ = run(capsys, command, "--help")
        assert code == 0
        assert f"lakemap {command} " in out
        assert "example" in out
    assert run(capsys)[0] == 0


def test_rig_from_options(capsys, monkeypatch, tmp_path):
    monkeypatch.setattr("sys.stdin.isatty", lambda: False)
    page = tmp_path / "rig.html"
    words = [
        "--depth",
        "10 ft",
        "--length",
        "10 ft",
        "--width",
        "8 ft",
        "--low",
        "-1.5ft",
        "--high",
        "1 ft",
    ]
    code, out, _ = run(capsys, "rig", *words, "--out", str(page))
    assert code == 0
    assert "8.5 ft at low, 10.0 ft at normal, 11.0 ft at high" in out
    assert "How to moor a float" in page.read_text(encoding="utf-8")
    code, out, _ = run(capsys, "rig", *words, "--json")
    assert json.loads(out)["rig"]["depth_m"]["normal"] == pytest.approx(3.048)
    code, _, err = run(capsys, "rig", "--depth", "10", "--people", "-1")
    assert code == 2
    assert "--depth: '10' has no unit" in err
    assert "--length: is missing" in err
    assert "--people: -1 is no count" in err


def test_rig_asks_back_on_a_terminal(capsys, monkeypatch):
    answers = iter(["ten", "3 m", "3 m", "2.5 m", "sand", "", ""])
    asked = []

    def fake_input(words):
        asked.append(words)
        return next(answers)

    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("builtins.input", fake_input)
    code, out, err = run(capsys, "rig", "--units", "m-kg")
    assert code == 0
    assert "3.00 m of water" in out
    assert "'ten' is no quantity" in err
    assert asked[0] == asked[1]


def test_start_in_three_ways(capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "start", "a")[0] == 0
    code, out, _ = run(capsys, "start", "b", "--at", "-44.0123,170.5", "--size", "600 ft")
    assert code == 0
    assert "lakemap check b" in out
    assert "lakemap draw b" in out
    assert run(capsys, "check", "b")[0] == 0
    assert run(capsys, "start", "c", "--lake", str(DATA / "tamber-lake" / "lake.geojson"))[0] == 0
    code, _, err = run(capsys, "start", "a")
    assert code == 2
    code, _, err = run(capsys, "start", "d", "--at", "170.5,-44.0")
    assert code == 2
    assert "give --at and --size together" in err
    assert "looks swapped" in err


def test_the_module_runs_too():
    done = subprocess.run(
        [sys.executable, "-m", "lakemap", "--version"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stdout.startswith("lakemap 0.")


def test_help_imports_nothing_heavy():
    code = "import sys; from lakemap.cli import main; main(['--help']); print(sorted(set(sys.modules) & {'numpy', 'pandas', 'geopandas', 'folium', 'shapely', 'scipy'}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
