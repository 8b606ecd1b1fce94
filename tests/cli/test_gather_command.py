"""`lakemap gather`: its words, its options, what is refused before anything is read, its JSON."""

import json

import pytest
from sounder_logs import LAT, LON, dpt, rmc

from lakemap.cli import main
from lakemap.cli.gather import asked_of
from lakemap.cli.parser import build_parser

LOG = "".join(
    rmc(43200 + k, LAT, LON + k * 6e-5) + dpt(f"{depth:.2f}", 0.3)
    for k, depth in enumerate([5.0] * 8 + [1.0] + [5.0] * 8 + [0.0])
) + rmc(43218, LAT, LON + 18 * 6e-5)
GAUGE = "date,level_ft\n2025-06-14,0.2\n"
SAID = f"""\
some.log: 16 soundings %s
  37 lines of an NMEA log: 16 good soundings
  2025-06-14: the lake stood at 0.2 ft, by the gauge on 2025-06-14
  the transducer hangs 1 ft below the surface, as the log says (DPT): added
  not corrected for the speed of sound: with the usual 1,500 m/s a sounder reads
    1.2 %% too deep in fresh water of 68 F (--water-temperature corrects it)
  not taken:
    1  a depth of 0 or less: the sounder had lost the bottom
       (line 36: 0.0 ft at {LAT:.5f},{LON + 17.5 * 6e-5:.5f})
    1  far from those around it (--keep-outliers keeps them)
       (line 18: 4.3 ft, around it 17.4 ft)
  far from those around them, 1 that %s dropped:
    line            position   depth  around it
      18  41.00500,-37.00449  4.3 ft    17.4 ft

"""


CARE = """
Take care on the water: cold water; boats and propellers; weather and life
  jackets.
Not for navigation: positions and depths are only as good as what was gathered;
  steer by what you see.
Local codes, permits and licensed practice decide.
"""


@pytest.fixture
def here(folder, tmp_path):
    (tmp_path / "some.log").write_text(LOG, encoding="ascii", newline="")
    return folder(levels__csv=GAUGE)


def run(capsys, here, *words, file="some.log"):
    code = main(["gather", str(here), str(here.parent / file), *words])
    return code, *capsys.readouterr()


def options(*words):
    return asked_of(build_parser().parse_args(["gather", "pond", "some.log", *words]))


def test_what_a_preview_says(capsys, here):
    code, said, wrong = run(capsys, here, "--preview")
    assert (code, wrong) == (0, "")
    assert said == SAID % ("would be added", "would be") + (
        f"nothing was written: this was a preview\n{CARE}"
    )
    assert not (here / "soundings.csv").exists()


def test_what_is_said_when_it_is_written_and_again(capsys, here):
    code, said, _ = run(capsys, here)
    assert (code, said) == (0, SAID % ("taken", "were") + f"written: soundings.csv\n{CARE}")
    assert len((here / "soundings.csv").read_text(encoding="utf-8").splitlines()) == 17
    code, said, _ = run(capsys, here)
    assert code == 0
    assert said.startswith("some.log: 0 soundings taken\n")
    assert "    16  already in soundings.csv, or in a file before this one\n" in said
    assert said.endswith(f"\nnothing was written: there was nothing new\n{CARE}")
    assert not (here / "soundings.csv.before").exists()


def test_one_document_for_scripts(capsys, here):
    code, said, wrong = run(capsys, here, "--json")
    assert (code, wrong) == (0, "")
    document = json.loads(said)
    assert (document["format"], document["preview"]) == ("lakemap gather 1", False)
    (file,) = document["files"]
    assert (file["file"], file["kind"], file["taken"]) == ("some.log", "soundings", 16)
    assert [one["count"] for one in file["left"]] == [1, 1]
    assert file["table"][1][0] == "18"
    assert document["written"] == [
        {"file": "soundings.csv", "kept": None, "done": True, "says": []}
    ]


def test_problems_are_told_and_nothing_is_written(capsys, here):
    code, said, wrong = run(capsys, here, file="other.log")
    assert (code, said) == (2, "")
    assert "other.log: there is no such file in" in wrong
    assert wrong.endswith("1 problem in 1 file; nothing was written\n")
    assert main(["gather", str(here)]) == 2


def test_options_in_si():
    asked = options(
        "--transducer-depth", "1 ft 6 in", "--sound-speed", "4800 ft/s", "--sounder-speed",
        "1463 m/s", "--level", "-0.5 ft", "--every", "20 ft", "--date", "2025-06-14",
        "--depth-unit", "ft", "--as", "soundings", "--keep-outliers", "--preview",
    )  # fmt: skip
    assert asked.transducer_depth_m == pytest.approx(0.4572)
    assert asked.sound_speed_m_s == pytest.approx(1463.04)
    assert asked.sounder_speed_m_s == 1463
    assert asked.level_m == pytest.approx(-0.1524)
    assert asked.every_m == pytest.approx(6.096)
    assert asked.day.isoformat() == "2025-06-14"
    assert (asked.depth_unit, asked.kind) == ("ft", "soundings")
    assert asked.keep_outliers
    assert asked.preview
    assert options("--every", "0").every_m == 0


@pytest.mark.parametrize("text", ["68 F", "68F", "20 C", "20.0 °C", "68 °f"])
def test_a_temperature_is_a_speed_of_sound(text):
    # 1482.36 m/s by Bilaniuk and Wong (1993) at 20 degrees C
    assert options("--water-temperature", text).sound_speed_m_s == pytest.approx(1482.36, abs=0.05)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--water-temperature", "68"), "'68' is no temperature; write it with its unit"),
        (("--water-temperature", "20 F"), "'20 F': no lake is that cold or hot"),
        (("--water-temperature", "68 F", "--sound-speed", "1480 m/s"), "not both"),
        (("--sound-speed", "340 m/s"), "'340 m/s' is no speed of sound in water"),
        (("--sound-speed", "1480"), "'1480' has no unit"),
        (("--sounder-speed", "fast"), "--sounder-speed: 'fast' is no quantity"),
        (("--transducer-depth", "1"), "--transducer-depth: '1' has no unit"),
        (("--transducer-depth", "-1 ft"), "write how far below the surface it hangs"),
        (("--transducer-depth", "100 ft"), "write how far below the surface it hangs"),
        (("--every", "-1 ft"), "'-1 ft': write the side of a square"),
        (("--date", "14.6.2025"), "'14.6.2025' is no date; write year-month-day"),
        (("--level", "high"), "--level: 'high' is no quantity"),
        (("--wind-from", "400"), "'400' is no bearing"),
        (("--as", "photos"), "invalid choice: 'photos'"),
    ],
)
def test_options_that_are_wrong(capsys, here, words, said):
    code, _, wrong = run(capsys, here, *words)
    assert code == 2
    assert said in wrong
    assert not (here / "soundings.csv").exists()


def test_all_wrong_options_at_once(capsys, here):
    _, _, wrong = run(capsys, here, "--every", "x", "--level", "y", "--date", "z")
    assert "3 problems" in wrong


def test_help_teaches_by_example(capsys):
    assert main(["gather", "--help"]) == 0
    said = capsys.readouterr().out
    assert "lakemap gather my-lake saturday.log --preview" in said
    assert "--transducer-depth" in said


def test_nothing_is_wider_than_a_terminal(capsys, here, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    for words in (["--help"], [str(here), str(here.parent / "some.log")]):
        assert main(["gather", *words]) == 0
        assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


def test_a_name_does_not_steer_the_terminal(capsys, here):
    name = "a\x1b[2J\u202eb.log"
    (here.parent / name).write_text("", encoding="utf-8")
    _, _, wrong = run(capsys, here, file=name)
    assert wrong.startswith("a\ufffd[2J\ufffdb.log: the file is empty\n")
    (here.parent / name).write_text(LOG, encoding="ascii", newline="")
    _, said, _ = run(capsys, here, "--preview", file=name)
    assert said.startswith("a\ufffd[2J\ufffdb.log: 16 soundings would be added\n")
