"""`check --ways-out`: after the clearances, or alone as JSON."""

import json

import pytest

from lakemap.cli import main

POND = "data/small-pond"
# two floats 10 m apart in 10 ft of water: their circles overlap
CLOSE = (
    "float_id,lon,lat,length_ft,width_ft,depth_ft,riser_length_ft,ground_length_ft\n"
    "1,-37.005,41.005,10,8,10,14,10\n2,-37.00488,41.005,10,8,10,14,10\n"
)
TOML = (
    '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n'
    '[rules.neighbour]\ndistance = "5 ft"\nsource = "example"\n'
)


def run(capsys, *words):
    code = main(words)
    return code, *capsys.readouterr()


def test_nothing_to_mend(capsys):
    code, out, _ = run(capsys, "check", POND, "--ways-out")
    assert code == 0
    assert "clear" in out
    assert out.endswith("Nothing is in conflict, so there is nothing to mend.\n")


def test_json_is_that_of_the_ways_out_alone(capsys):
    code, out, _ = run(capsys, "check", POND, "--ways-out", "--json")
    assert code == 0
    assert json.loads(out) == {"format": "lakemap 1", "field": "small-pond", "ways_out": []}


def test_conflicts_and_their_ways_out(capsys, folder):
    here = str(folder(field__toml=TOML, floats__csv=CLOSE))
    code, out, _ = run(capsys, "check", here, "--ways-out")
    assert code == 1
    assert out.index("float 1, conflict") < out.index("Ways out.")
    assert out.count("Moving the primary ") == 2
    code, out, _ = run(capsys, "check", here, "--ways-out", "--json")
    assert code == 1
    assert [one["float_id"] for one in json.loads(out)["ways_out"]] == ["1", "2"]


def test_without_the_option_nothing_is_said_of_them(capsys, folder):
    here = str(folder(field__toml=TOML, floats__csv=CLOSE))
    _, out, _ = run(capsys, "check", here)
    assert "Ways out" not in out
    _, out, _ = run(capsys, "check", here, "--json")
    assert "floats" in json.loads(out)


@pytest.mark.parametrize("words", [("size", POND, "--ways-out"), ("check", POND, "--way-out")])
def test_elsewhere_or_mistyped_it_is_no_option(capsys, words):
    assert run(capsys, *words)[0] == 2
