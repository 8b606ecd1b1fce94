"""`lakemap export`: words, what is refused before anything is read, files replaced whole."""

import pytest

from lakemap.cli import main
from lakemap.cli.parser import build_parser

OWNED = (
    "float_id,lon,lat,length_ft,width_ft,depth_ft,owner\n1,-37.005,41.005,10,8,10,Ada Wren\n"
    "2,-37.004,41.006,12,10,12,Bo Fenn\n"
)


def run(capsys, *words):
    code = main(["export", *words])
    return code, *capsys.readouterr()


def test_what_is_said(capsys, folder, tmp_path):
    here, out = folder(floats__csv=OWNED), tmp_path / "out.gpkg"
    code, said, wrong = run(capsys, str(here), "--to", str(out))
    assert (code, wrong) == (0, "")
    assert said.splitlines() == [
        f"written: {out} (lake 1, zones 0, floats 2, primaries 2, secondaries 2, circles 2,"
        " soundings 0)",
        "left out: owner; --owners puts them in",
    ]


@pytest.mark.parametrize("ending", ["gpx", "kml", "gpkg", "geojson", "xlsx", "csv", "CSV"])
def test_every_ending(capsys, folder, tmp_path, ending):
    out = tmp_path / f"out.{ending}"
    assert run(capsys, str(folder()), "--to", str(out))[0] == 0
    assert out.stat().st_size > 0


def test_owners_only_where_asked_for(capsys, folder, tmp_path):
    here, out = str(folder(floats__csv=OWNED)), tmp_path / "out.csv"
    run(capsys, here, "--to", str(out))
    assert "Ada" not in out.read_text(encoding="utf-8")
    code, said, _ = run(capsys, here, "--to", str(out), "--owners")
    assert (code, said) == (0, f"written: {out} (floats 2)\n")
    assert "Ada Wren" in out.read_text(encoding="utf-8")


def test_a_waypoint_file_has_no_owners(capsys, folder, tmp_path):
    out = tmp_path / "out.gpx"
    _, said, _ = run(capsys, str(folder(floats__csv=OWNED)), "--to", str(out), "--owners")
    assert "left out: owner; it holds names and places only" in said
    assert "Ada" not in out.read_text(encoding="utf-8")


def test_an_ending_that_is_not_known(capsys, folder, tmp_path):
    code, said, wrong = run(capsys, str(folder()), "--to", str(tmp_path / "out.shp"))
    assert (code, said) == (2, "")
    assert "'out.shp' must end in .gpkg, .geojson, .kml, .gpx, .xlsx or .csv" in wrong


def test_all_that_is_wrong_at_once(capsys, tmp_path):
    code, _, wrong = run(capsys, "nowhere", "--to", str(tmp_path / "not" / "out"))
    assert code == 2
    assert "is no folder; make it first" in wrong
    assert "must end in" in wrong
    assert "2 problems; nothing was written" in wrong


def test_a_folder_is_no_file(capsys, folder, tmp_path):
    (tmp_path / "out.kml").mkdir()
    code, _, wrong = run(capsys, str(folder()), "--to", str(tmp_path / "out.kml"))
    assert code == 2
    assert "is a folder; name a file" in wrong


@pytest.mark.parametrize("name", ["floats.csv", "FLOATS.CSV", "zones.gpkg", "lake.kml"])
def test_the_field_itself_stays(capsys, folder, name):
    here = folder()
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    code, _, wrong = run(capsys, str(here), "--to", str(here / name))
    assert code == 2
    assert f"{name} would stand among the field's own files; write it elsewhere" in wrong
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before


def test_the_field_stays_by_another_way_to_it(capsys, folder, tmp_path, monkeypatch):
    here = folder()
    monkeypatch.chdir(here)
    code, _, wrong = run(capsys, str(here), "--to", "floats.csv")
    assert code == 2
    assert "would stand among the field's own files" in wrong


def test_a_file_is_replaced_whole(capsys, folder, tmp_path):
    here, out = str(folder()), tmp_path / "out.csv"
    out.write_text("an older and much longer file\n" * 1000, encoding="utf-8")
    assert run(capsys, here, "--to", str(out))[0] == 0
    assert out.read_text(encoding="utf-8").startswith("float_id,lon,lat,")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out.csv", "pond"]


def test_a_field_that_cannot_be_read_leaves_the_file(capsys, folder, tmp_path):
    out = tmp_path / "out.csv"
    out.write_text("as it was", encoding="utf-8")
    code, _, wrong = run(capsys, str(folder(floats__csv="float_id\n1\n")), "--to", str(out))
    assert code == 2
    assert "nothing was written" in wrong
    assert out.read_text(encoding="utf-8") == "as it was"


def test_the_file_must_be_named(capsys, folder):
    code, _, wrong = run(capsys, str(folder()))
    assert code == 2
    assert "--to" in wrong


def test_help_tells_what_each_ending_holds(capsys):
    with pytest.raises(SystemExit):
        build_parser().parse_args(["export", "--help"])
    said = capsys.readouterr().out
    for word in (".gpkg", ".geojson", ".kml", ".xlsx", ".csv", ".gpx", "they come in again"):
        assert word in said
