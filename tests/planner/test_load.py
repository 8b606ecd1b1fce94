"""Many at once on loopback: no error, no lost answer, no growing memory."""

import http.client
import json
import os
import re
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

HERE = Path(__file__).parent
TAMBER = HERE.parents[1] / "data" / "tamber-lake"
CLIENTS, SECONDS = 50, 10.0
PATIENCE_S = 120.0
MOST_GROWTH_MB = 64  # over all of it; a leak of one answer or connection each would be far more
pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="needs /proc to see memory"),
]


def real_planner():
    return [sys.executable, "-m", "lakemap", "plan", str(TAMBER), "--no-open"]


def plain_planner():
    return [sys.executable, str(HERE / "served.py"), "."]


class Client:
    """Asks again and again on a line of its own, as the page does while a float is dragged."""

    def __init__(self, number, host, cookie):
        self.number, self.host, self.cookie = number, host, cookie
        self.times_s, self.wrong, self.stale = [], [], 0

    def run(self, end):
        line = http.client.HTTPConnection(self.host, timeout=PATIENCE_S)
        seq = 0
        while time.monotonic() < end:
            seq += 1
            body = self.body(seq)
            began = time.monotonic()
            try:
                line.request("POST", "/ask/plan", json.dumps(body), self.headers())
                answer = line.getresponse()
                got = json.loads(answer.read())
            except (OSError, http.client.HTTPException, ValueError) as error:
                self.wrong.append(repr(error))
                break
            self.times_s.append(time.monotonic() - began)
            if answer.status != 200:
                self.wrong.append((answer.status, got))
            self.stale += got == {"stale": True}
        line.close()

    def headers(self):
        return {"Content-Type": "application/json", "Origin": f"http://{self.host}", "Cookie": self.cookie}  # fmt: skip

    def body(self, seq):
        change = {"x": float(self.number), "y": float(seq % 7)}
        return {"changes": {"21": change}, "quick": True, "chosen": None, "page": f"p{self.number}", "seq": seq}  # fmt: skip


def resident_mb(pid):
    pages = int(Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


def load(host, cookie, seconds):
    clients = [Client(k, host, cookie) for k in range(CLIENTS)]
    end = time.monotonic() + seconds
    threads = [threading.Thread(target=client.run, args=(end,)) for client in clients]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(PATIENCE_S)
    return clients


@pytest.mark.parametrize("command", [plain_planner, real_planner])
def test_fifty_clients(command, capsys):
    process = subprocess.Popen(command(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    try:
        address = re.search(r"http://(\S+?)(/open/\S+)", process.stdout.readline())
        host = address.group(1)
        line = http.client.HTTPConnection(host, timeout=PATIENCE_S)
        line.request("GET", address.group(2))
        cookie = line.getresponse().headers["set-cookie"].split(";")[0]
        line.close()
        load(host, cookie, SECONDS / 5)  # caches and threads have their size after this
        before = resident_mb(process.pid)
        clients = load(host, cookie, SECONDS)
        after = resident_mb(process.pid)
    finally:
        process.terminate()
        _, err = process.communicate(timeout=PATIENCE_S)
    assert [wrong for client in clients for wrong in client.wrong] == []
    assert all(client.times_s for client in clients)  # nobody starved
    assert after - before < MOST_GROWTH_MB
    assert (process.returncode, err) == (0, "")
    with capsys.disabled():
        print(f"\n{command.__name__}: {told(clients, before, after)}")


def told(clients, before, after):
    times = sorted(1000 * took for client in clients for took in client.times_s)
    at = [times[int(share * (len(times) - 1))] for share in (0.5, 0.95, 1)]
    stale = sum(client.stale for client in clients)
    return (
        f"{len(times) / SECONDS:.0f} asks/s, {stale} stale; ms median {at[0]:.1f},"
        f" 95 % {at[1]:.1f}, most {at[2]:.1f}; memory {before:.0f} then {after:.0f} MB"
    )
