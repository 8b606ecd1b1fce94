"""Ctrl-C and its kin, in a process of its own: a save is never cut, and twice means at once."""

import contextlib
import http.client
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

SERVED = Path(__file__).parent / "served.py"
PATIENCE_S = 60.0
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="sends the signals of a terminal")


class Process:
    """A planner in a process, in the middle of a save."""

    def __init__(self, folder):
        self.folder = folder
        self.process = subprocess.Popen([sys.executable, str(SERVED), str(folder)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)  # fmt: skip
        address = self.process.stdout.readline().strip()
        self.host, _, path = address.removeprefix("http://").partition("/")
        self.cookie = self.send("GET", f"/{path}")[1]["set-cookie"].split(";")[0]
        self.answer = None

    def send(self, method, path, body=None):
        line = http.client.HTTPConnection(self.host, timeout=PATIENCE_S)
        headers = {"Content-Type": "application/json", "Origin": f"http://{self.host}"}
        if hasattr(self, "cookie"):
            headers["Cookie"] = self.cookie
        line.request(method, path, body, headers)
        answer = line.getresponse()
        got = answer.status, answer.headers, answer.read()
        line.close()
        return got

    def begin_save(self):
        def save():
            with contextlib.suppress(http.client.HTTPException, ConnectionError):
                self.answer = self.send("POST", "/ask/save", "{}")

        self.thread = threading.Thread(target=save, daemon=True)
        self.thread.start()
        end = time.monotonic() + PATIENCE_S
        while not (self.folder / "begun").exists():
            assert time.monotonic() < end
            time.sleep(0.01)

    def signal(self, number):
        self.process.send_signal(number)

    def end(self):
        out, err = self.process.communicate(timeout=PATIENCE_S)
        return self.process.returncode, out, err


@pytest.fixture
def planner(tmp_path):
    made = Process(tmp_path)
    yield made
    if made.process.poll() is None:
        made.process.kill()
        made.process.communicate()


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_save_in_progress_is_finished_and_answered(planner, number):
    planner.begin_save()
    planner.signal(number)
    assert planner.process.stdout.readline() == "finishing what was asked; Ctrl-C once more stops at once\n"  # fmt: skip
    assert planner.process.poll() is None
    (planner.folder / "go").touch()
    planner.thread.join(PATIENCE_S)
    assert (planner.answer[0], planner.answer[2]) == (200, b'{"name":"save","got":{}}')
    assert planner.end() == (0, "ended\n", "")
    assert (planner.folder / "saved").exists()


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_twice_stops_at_once(planner, number):
    planner.begin_save()
    planner.signal(signal.SIGINT)
    planner.process.stdout.readline()
    planner.signal(number)
    code, out, err = planner.end()
    assert (code, out, err) == (2, "", "\nstopped at once\n")
    planner.thread.join(PATIENCE_S)
    assert planner.answer is None
    assert not (planner.folder / "saved").exists()


def test_at_rest_it_ends_quietly_whatever_lines_are_open(planner):
    line = http.client.HTTPConnection(planner.host, timeout=PATIENCE_S)
    line.connect()
    planner.signal(signal.SIGINT)
    assert planner.end() == (0, "ended\n", "")
    line.close()
