"""`lakemap plan`: what it opens, what it says, and what it won't begin with."""

import sys
import threading
import webbrowser
from types import ModuleType

import pytest
from served import PATIENCE_S, Desk

from lakemap.cli import main
from lakemap.planner.server import PlanServer


@pytest.fixture
def begun(monkeypatch):
    """What the command begins: the desk's folder, the port, what a browser is sent to."""
    seen = {"desks": [], "opened": [], "ran": [], "asked": threading.Event(), "opens": True}

    def desk(folder):
        seen["desks"].append(folder)
        return Desk(folder)

    def run(server):
        seen["ran"].append(server)
        if seen.get("browser"):
            assert seen["asked"].wait(PATIENCE_S)
        server._socket.close()

    def opener(address):
        seen["opened"].append(address)
        seen["asked"].set()
        return seen["opens"]

    module = ModuleType("lakemap.planner.desk")
    module.Desk = desk
    monkeypatch.setitem(sys.modules, "lakemap.planner.desk", module)
    monkeypatch.setattr(PlanServer, "run", run)
    monkeypatch.setattr(webbrowser, "open", opener)
    return seen


def plan(capsys, *words):
    code = main(["plan", *map(str, words)])
    return code, *capsys.readouterr()


def test_a_field(capsys, begun, folder):
    here = folder()
    code, out, err = plan(capsys, here, "--no-open")
    (server,) = begun["ran"]
    assert (code, err) == (0, "")
    assert out == (
        f"planner: {server.address}\n"
        "The address works once, for one browser on this machine. Ctrl-C ends the planner.\n"
        f"the planner has ended; what was saved is in {here}\n"
    )
    assert begun["desks"] == [here]
    assert begun["opened"] == []


def test_the_browser_is_opened(capsys, begun, folder):
    begun["browser"] = True
    assert plan(capsys, folder())[0] == 0
    assert begun["opened"] == [begun["ran"][0].address]


def test_no_browser_to_open(capsys, begun, folder, monkeypatch):
    begun |= {"browser": True, "opens": False}
    said = threading.Event()
    monkeypatch.setattr("lakemap.cli.plan._say_now", lambda text: "no browser" in text and said.set())  # fmt: skip
    assert plan(capsys, folder())[0] == 0
    assert said.wait(PATIENCE_S)


def test_a_folder_that_is_to_be(capsys, begun, tmp_path):
    new = tmp_path / "new"
    code, out, _ = plan(capsys, new, "--no-open")
    assert code == 0
    assert out.startswith(f"{new} is not there yet: the page draws a lake, and its first save makes the folder\n")  # fmt: skip
    assert out.endswith("the planner has ended; nothing was saved\n")
    assert not new.exists()
    new.mkdir()
    code, out, _ = plan(capsys, new, "--no-open")
    assert code == 0
    assert out.startswith(f"{new} has no field yet: the page draws its lake\n")


@pytest.mark.parametrize("missing", [{"lake__csv": None}, {"floats__csv": None, "field__toml": None}])  # fmt: skip
def test_a_folder_that_lacks_some_of_it(capsys, begun, folder, missing):
    code, out, _ = plan(capsys, folder(**missing), "--no-open")
    assert (code, "has no field yet" in out) == (0, True)


def test_floats_that_cant_be_read(capsys, begun, folder):
    here = folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n1,-37.005,41.005,abc,8\n")
    checked = main(["check", str(here)]), *capsys.readouterr()
    assert plan(capsys, here) == checked
    assert checked[0] == 2
    assert "abc" in checked[2]
    # what is missing besides doesn't hide it
    (here / "lake.csv").unlink()
    assert "abc" in plan(capsys, here)[2]
    assert begun["desks"] == begun["opened"] == []


def test_a_primary_on_land_is_bad_data_here_too(capsys, begun, folder):
    """Its secondary is in the water, so that only the check of the whole field finds it."""
    row = (
        "1,-37.005,41.00001,10,8,10,secondary,0"  # 1 m off the south shore, its primary 10 ft south
    )
    here = folder(floats__csv=f"float_id,lon,lat,length_ft,width_ft,ground_length_ft,position_of,bearing_deg\n{row}\n")  # fmt: skip
    checked = main(["check", str(here)]), *capsys.readouterr()
    assert checked[0] == 2
    assert "lies outside the lake" in checked[2]
    assert plan(capsys, here) == checked
    assert begun["desks"] == []


def test_a_file_is_no_folder(capsys, begun, folder):
    file = folder() / "lake.csv"
    code, _, err = plan(capsys, file)
    assert code == 2
    assert "is a file; name its folder" in err
    code, _, err = plan(capsys, file / "new")
    assert code == 2
    assert f"{file / 'new'}: there can be no such folder: {file} is a file" in err


@pytest.mark.parametrize("port", ["80", "0", "65536", "-1"])
def test_ports(capsys, begun, folder, port):
    code, _, err = plan(capsys, folder(), f"--port={port}")
    assert code == 2
    assert f"--port: {port} is no port for this; write 1024 to 65535, or leave it out" in err


def test_a_port_of_ones_own(capsys, begun, folder):
    taken = PlanServer(Desk())
    port = taken.address.split(":")[2].split("/")[0]
    code, _, err = plan(capsys, folder(), "--port", port)
    assert code == 2
    assert f"--port: {port} can't be had" in err
    taken._socket.close()
    assert plan(capsys, folder(), "--port", port, "--no-open")[0] == 0
    assert f"127.0.0.1:{port}/" in begun["ran"][0].address


@pytest.mark.parametrize("missing", ["starlette", "uvicorn"])
def test_what_has_to_be_installed(capsys, begun, folder, monkeypatch, missing):
    for name in [name for name in sys.modules if name.split(".")[0] == missing or name.startswith("lakemap.planner.")]:  # fmt: skip
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, missing, None)
    code, out, err = plan(capsys, folder())
    assert (code, out) == (2, "")
    assert err.splitlines()[0] == f"`lakemap plan` needs {missing}, which is not installed: run pip install 'lakemap[plan]'"  # fmt: skip
    assert len(err.splitlines()) == 2


def test_help(capsys):
    assert main(["plan", "--help"]) == 0
    out = capsys.readouterr().out
    assert "lakemap plan data/tamber-lake" in out
    assert "--no-open" in out
