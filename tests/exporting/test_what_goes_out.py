"""Of every format: nothing private unless asked for, the same bytes, control characters told."""

import subprocess
import sys

import pytest
from sent_out import BY_SECONDARY, ENDINGS, FILES, OWNERS, assessed, rows_text, sent, words_in

from lakemap.exporting.export import export

PRIVATE = ("Wren", "TL-2007", "and quotes", "555 0100", "C calc", "rung")


@pytest.mark.parametrize("ending", ENDINGS)
def test_nothing_private(folder, tmp_path, ending):
    assessment = assessed(folder)
    text = words_in(sent(assessment, tmp_path / f"out{ending}", owners=False))
    assert not [word for word in PRIVATE if word in text]
    # the sentence that defers to the code says permits, of nobody's
    plain = text.replace("Local codes, permits and licensed practice decide.", "").lower()
    assert not [word for word in ("owner", "permit", "phone") if word in plain]
    if ending != ".gpx":
        asked = words_in(sent(assessment, tmp_path / f"all{ending}"))
        assert [word for word in PRIVATE if word in asked] == list(PRIVATE)


@pytest.mark.parametrize("ending", ENDINGS)
def test_what_is_left_out_is_said(folder, tmp_path, ending):
    told = export(assessed(folder), tmp_path / f"out{ending}")
    assert any(
        note.startswith("left out: owner, permit, note, fid, =phone;") for note in told.notes
    )


@pytest.mark.parametrize("ending", [ending for ending in ENDINGS if ending != ".gpx"])
def test_control_characters_are_dropped_and_said(folder, tmp_path, ending):
    path = tmp_path / f"out{ending}"
    told = export(assessed(folder), path, owners=True)
    assert told.notes == ("control characters were dropped from floats note (row 2)",)
    text = words_in(path)
    assert "bell rung" in text
    assert "bell\x07 rung" not in text
    assert "bell\\u0007 rung" not in text


def test_many_control_characters_are_not_all_named(folder, tmp_path):
    rows = [BY_SECONDARY | {"float_id": str(k), "lon": str(-37.004 + k / 1e4)} for k in range(9)]
    told = export(assessed(folder, floats__csv=rows_text(*rows)), tmp_path / "o.csv", owners=True)
    assert told.notes[0].endswith("floats note (row 6) and 3 more")


SCRIPT = """
import sys
from pathlib import Path
from lakemap.exporting.export import export
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
assessment = assess(read_field(sys.argv[1]))
for ending in sys.argv[3:]:
    export(assessment, Path(sys.argv[2]) / f"out{ending}", owners=True)
"""


def test_same_field_same_bytes(folder, tmp_path):
    here = folder(**FILES)
    made = []
    for seed in ("1", "2"):
        out = tmp_path / seed
        out.mkdir()
        env = {"PYTHONHASHSEED": seed, "TZ": f"UTC-{seed}", "PATH": "", "SYSTEMROOT": ""}
        words = [sys.executable, "-c", SCRIPT, str(here), str(out), *ENDINGS]
        subprocess.run(words, check=True, env=env)
        made.append({ending: (out / f"out{ending}").read_bytes() for ending in ENDINGS})
    for ending in ENDINGS:
        assert made[0][ending] == made[1][ending], ending
    assert len(OWNERS) == 5


@pytest.mark.parametrize("ending", ENDINGS)
def test_a_failed_write_leaves_the_old_file(folder, tmp_path, monkeypatch, ending):
    path = tmp_path / f"out{ending}"
    path.write_bytes(b"as it was")
    assessment = assessed(folder)

    def fail(*_args, **_more):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", fail)
    with pytest.raises(OSError, match="No space"):
        export(assessment, path)
    assert path.read_bytes() == b"as it was"
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == [path.name]
