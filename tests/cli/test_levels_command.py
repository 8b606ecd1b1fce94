"""`levels`: what it prints, its options, what it says of bad input; nothing is written."""

import json

import pytest

from lakemap.cli import main

TAMBER = "data/tamber-lake"
READ = "date,level_ft\n2023-05-01,0.4\n2023-06-20,-0.2\n2024-06-01,0.1\n2024-07-15,-1.4\n"


def run(capsys, *words):
    code = main(("levels", *words))
    return code, *capsys.readouterr()


def test_the_demo_lake(capsys):
    code, out, err = run(capsys, TAMBER)
    assert (code, err) == (0, "")
    assert out.startswith("Tamber Lake swim floats: 120 gauge readings in 9 years, 2017-04-14 to")
    assert "What the lowest water of each year did to the circles" in out
    assert '  [levels]\n  low = "-1.4 ft"\n  normal = "-0.1 ft"\n  high = "0.9 ft"\n' in out
    assert 'low = "-1.5 ft", the lowest reading, is on the safe side.' in " ".join(out.split())


def test_json_alone_on_standard_output_and_the_field_is_left_as_it_is(capsys, folder):
    here = folder(levels__csv=READ)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    code, out, err = run(capsys, str(here), "--json")
    document = json.loads(out)
    assert code == 0
    assert document["format"] == "lakemap levels 1"
    assert document["field"] == "pond"
    assert document["readings"] == 4
    assert document["below_low"]["readings"] == 1  # the settings' low is −1 ft
    assert [one["year"] for one in document["years"]] == [2023, 2024]
    assert all(line.startswith("note: ") for line in err.splitlines())
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before


def test_a_period_of_whole_years_or_days(capsys, folder):
    here = str(folder(levels__csv=READ))
    for since, until, count in (
        ("2023", "2023", 2),
        ("2023-06-20", "2024-06-01", 2),
        ("2024", None, 2),
    ):
        words = ["--since", since, *(["--until", until] if until else []), "--json"]
        assert json.loads(run(capsys, here, *words)[1])["readings"] == count


def test_shares_of_the_time(capsys, folder):
    here = str(folder(levels__csv=READ))
    wide = json.loads(run(capsys, here, "--low-share", "0", "--high-share", "100 %", "--json")[1])
    assert wide["levels_m"]["low"] == wide["lowest"]["level_m"]
    assert wide["levels_m"]["high"] == wide["highest"]["level_m"]
    less = json.loads(run(capsys, here, "--low-share", "20%", "--json")[1])
    assert less["levels_m"]["low"] > wide["levels_m"]["low"]


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        (("--since", "soon"), ["--since: 'soon' is no date; write a year, as 2019, or a day, as 2019-05-15"]),
        (("--since", "2024-13-01"), ["--since: '2024-13-01' is no date; write a year, as 2019, or a day, as 2019-05-15"]),
        (("--until", "0000"), ["--until: '0000' is no date; write a year, as 2019, or a day, as 2019-05-15"]),
        (("--since", "2024", "--until", "2023"), ["--since: 2024-01-01 is after --until 2023-12-31; the earlier day comes first"]),
        (
            ("--low-share", "50", "--high-share", "x"),
            [
                "--low-share: '50' must be per cent of the time, from 0 to less than 50, as 2",
                "--high-share: 'x' must be per cent of the time, over 50 up to 100, as 98",
            ],
        ),
        (("--high-share", "nan"), ["--high-share: 'nan' must be per cent of the time, over 50 up to 100, as 98"]),
        (("--since", "2031"), ["--since: no reading in this period; the readings run from 2023-05-01 to 2024-07-15"]),
    ],
)  # fmt: skip
def test_bad_options_are_told_at_once(capsys, folder, words, lines):
    code, out, err = run(capsys, str(folder(levels__csv=READ)), *words)
    assert (code, out) == (2, "")
    assert err.splitlines()[:-1] == lines


@pytest.mark.parametrize("text", [None, "date,level_ft\n"])
def test_a_field_without_readings_says_what_to_write(capsys, folder, text):
    code, out, err = run(capsys, str(folder(levels__csv=text)))
    assert (code, out) == (2, "")
    assert err.splitlines()[0] == (
        "levels.csv: there are no gauge readings; write one a row under `date,level_ft`, such as"
        " `2025-06-12,-0.3`"
    )
    code, out, _ = run(capsys, str(folder(levels__csv=text)), "--json")
    assert code == 2
    assert json.loads(out)["problems"][0]["code"] == "no_levels"


def test_bad_rows_are_told_with_their_row(capsys, folder):
    code, _, err = run(
        capsys, str(folder(levels__csv="date,level_ft\n2024-02-30,1\n2024-03-01,x\n"))
    )
    assert code == 2
    assert "levels.csv row 2 date" in err
    assert "levels.csv row 3 level" in err


def test_a_field_without_floats_has_levels_too(capsys, folder):
    header = "float_id,lon,lat,length_ft,width_ft\n"
    code, out, _ = run(capsys, str(folder(levels__csv=READ, floats__csv=header)))
    assert code == 0
    assert "2024" in out
