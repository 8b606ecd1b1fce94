"""`lakemap sites`: options, problems before any file is read, words, JSON, files; the search stands in."""

import json
import sys
from pathlib import Path
from types import ModuleType

import pytest
from sites_by_hand import make_capacity, make_site, make_sites, make_why

from lakemap.basis.records import Float
from lakemap.cli import main
from lakemap.cli.parser import build_parser
from lakemap.inputs.folder import read_field

LAKE = "lon,lat\n-37.01,40.99\n-36.99,40.99\n-36.99,41.01\n-37.01,41.01\n"
LEAST = "float_id,lon,lat,length_ft,width_ft,status\n1,-37.005,41.005,10,8,\n2,-37.004,41.006,12,10,set\n"


@pytest.fixture
def here(folder):
    return str(folder(lake__csv=LAKE, floats__csv=LEAST))


@pytest.fixture
def asked(monkeypatch):
    """What the command asks of the search, which finds two sites at once."""
    seen = {}

    def template(assessment, **options):
        seen["template"] = options
        lengths = {name: options[name] for name in ("riser_m", "ground_m")}
        deck = {"length_m": 3.048, "width_m": 2.4384}
        return Float(float_id="new", row=0, lon=0.0, lat=0.0, status="proposed", **deck, **lengths)

    def find_sites(assessment, ask, *, tell):
        seen["ask"] = ask
        tell("looking")
        sites = (make_site(), make_site(2, 70.0, 50.0))
        return make_sites(ask=ask, sites=sites, closed=(), capacity=make_capacity())

    def why_not(assessment, ask, *, lon, lat):
        seen["at"] = (lat, lon)
        return make_why()

    module = ModuleType("lakemap.sites")
    module.template, module.find_sites, module.why_not = template, find_sites, why_not
    monkeypatch.setitem(sys.modules, "lakemap.sites", module)
    return seen


def run(capsys, *words):
    code = main(["sites", *words])
    return code, *capsys.readouterr()


def test_the_answer(capsys, asked, here):
    code, out, err = run(capsys, here)
    assert code == 0
    assert err == ""
    assert out.startswith("2 sites found for a 10 by 8 ft float; 3 in all would fit")
    assert asked["template"] == {
        "like": None, "length_m": None, "width_m": None, "riser_m": None, "ground_m": None,
    }  # fmt: skip
    assert (asked["ask"].count, asked["ask"].seed, asked["ask"].lot) == (10, 1, None)


def test_options_arrive_in_si(capsys, asked, here):
    code, _, _ = run(
        capsys, here, "--length", "10 ft", "--width", "8 ft", "--riser", "12 ft 6 in", "--ground",
        "3 m", "--lot", "7", "--count", "4", "--seed", "9",
    )  # fmt: skip
    assert code == 0
    assert asked["template"]["length_m"] == pytest.approx(3.048)
    assert asked["template"]["width_m"] == pytest.approx(2.4384)
    assert asked["template"]["riser_m"] == pytest.approx(3.81)
    assert asked["template"]["ground_m"] == 3.0
    assert (asked["ask"].lot, asked["ask"].count, asked["ask"].seed) == ("7", 4, 9)


def test_like_a_float(capsys, asked, here):
    run(capsys, here, "--like", "3")
    assert asked["template"]["like"] == "3"


def test_json_is_one_document(capsys, asked, here):
    code, out, err = run(capsys, here, "--json")
    assert code == 0
    assert err == ""
    document = json.loads(out)
    assert [site["rank"] for site in document["sites"]] == [1, 2]
    assert document["capacity"]["upper_bound"] == 5


def test_why_not_here(capsys, asked, here):
    code, out, _ = run(capsys, here, "--at", "-38.2,-101.5")
    assert code == 0
    assert asked["at"] == (-38.2, -101.5)
    assert "11.2 ft too near float A" in out
    code, out, _ = run(capsys, here, "--at=-38.2,-101.5", "--json")
    assert code == 0
    assert json.loads(out)["at"]["allowed"] is False


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--length", "10 ft"), "give --length and --width together"),
        (("--like", "3", "--length", "10 ft", "--width", "8 ft"), "not both"),
        (("--length", "10", "--width", "8 ft"), "--length"),
        (("--count", "0"), "--count"),
        (("--seed", "-1"), "--seed"),
        (("--at", "north"), "write LAT,LON"),
        (("--at", "41,-37", "--write"), "leave out --write"),
        (("--at", "41,-37", "--out", "a.html"), "leave out --out"),
        (("--riser", "0 ft"), "--riser"),
        (("--out", "a.kml"), "must end in .html or .geojson"),
        (("--out", "no/such/folder/a.html"), "is no folder"),
    ],
)
def test_slips_are_told_before_anything_is_read(capsys, words, says):
    code, out, err = run(capsys, "no-such-field", *words)
    assert code == 2
    assert out == ""
    assert says in err
    assert "no-such-field" not in err


def test_every_slip_is_told_at_once(capsys):
    code, out, err = run(
        capsys, "no-such-field", "--count", "0", "--out", "a.kml", "--at", "north", "--json"
    )
    assert code == 2
    problems = json.loads(out)["problems"]
    assert {one["column"] for one in problems} == {"--count", "--out", "--at"}
    assert "4 problems" in err  # --at and --out together is one more


def test_the_map_and_the_layer_are_written(capsys, asked, here, tmp_path):
    out = tmp_path / "a.html"
    code, said, _ = run(capsys, here, "--out", str(out))
    assert code == 0
    assert said.splitlines()[-1] == f"map: {out}"
    assert 'id="sites-sheet"' in out.read_text(encoding="utf-8")
    out = tmp_path / "a.geojson"
    code, said, err = run(capsys, here, "--out", str(out), "--json")
    assert code == 0
    assert json.loads(said)["format"] == "lakemap 1"
    assert err == f"layer: {out}\n"
    assert json.loads(out.read_text(encoding="utf-8"))["type"] == "FeatureCollection"


def test_sites_are_added_to_the_floats(capsys, asked, here):
    code, out, _ = run(capsys, here, "--write")
    assert code == 0
    assert out.splitlines()[-1] == "added to floats.csv: float 3, 4"
    floats = read_field(here).floats
    assert [(one.float_id, one.status) for one in floats[2:]] == [
        ("3", "proposed"),
        ("4", "proposed"),
    ]


def test_json_names_the_added_floats(capsys, asked, here):
    code, out, err = run(capsys, here, "--write", "--json")
    assert code == 0
    assert json.loads(out)["added"] == ["3", "4"]
    assert err == "added to floats.csv: float 3, 4\n"


def test_without_write_the_floats_file_stays(capsys, asked, here):
    run(capsys, here)
    assert (Path(here) / "floats.csv").read_text(encoding="utf-8") == LEAST


def test_a_field_without_floats_asks_for_the_deck(capsys, folder):
    here = folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n")
    code, out, err = run(capsys, str(here))
    assert code == 2
    assert out == ""
    assert "give --length and --width" in err


def test_an_unknown_float_is_named(capsys, here):
    code, _, err = run(capsys, here, "--like", "no such")
    assert code == 2
    assert "no float 'no such'" in err


def test_help_teaches_by_example(capsys):
    with pytest.raises(SystemExit):
        build_parser().parse_args(["sites", "--help"])
    out = capsys.readouterr().out
    for option in ("--length", "--width", "--like", "--riser", "--ground", "--lot", "--count", "--at",
                   "--write", "--seed", "--json", "--out"):  # fmt: skip
        assert option in out
    assert "lakemap sites data/tamber-lake" in out
