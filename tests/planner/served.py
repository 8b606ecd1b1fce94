"""A planner that really listens, with a desk whose answers are known; and ways to ask it.

As a script it serves until it gets a signal: `python served.py FOLDER`.
"""

import contextlib
import http.client
import json
import socket
import sys
import threading
import time
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.planner.connections import Limits
from lakemap.planner.server import PlanServer

PAGE = "<!DOCTYPE html><html><head><title>desk</title><style>p { color: red; }</style></head><body><p>the page</p><script>'use strict';</script></body></html>"
PATIENCE_S = 20.0  # for what should come at once; a loaded machine is slow, not wrong


class Desk:
    """Answers at once, or when its gate is opened; tells what it was asked."""

    def __init__(self, folder=None):
        self.folder = folder
        self.gate, self.entered = threading.Event(), threading.Event()
        self.asked, self.threads, self.closed = [], set(), False

    def page(self, name):
        if name == "ground":
            raise BadInputError([Problem(code="x", text="<b>no lake</b>", file="lake.csv")])
        return PAGE

    def answer(self, name, body):
        self.asked.append((name, body))
        self.threads.add(threading.get_ident())
        if name == "slow":
            self.entered.set()
            self.gate.wait()
        if name == "bad":
            odd = Problem(code="x", text="'abc' is no length", column="length")
            raise BadInputError([odd, Problem(code="y", text="a note", fatal=False)])
        if name == "unknown":
            raise BadInputError([Problem(code="unknown_ask", text="nothing here answers this")])
        if name == "broken":
            raise ZeroDivisionError("secret detail")
        if name == "full":
            raise OSError(28, "No space left on device", "floats.csv")
        if name == "nan":
            return {"x": float("nan")}
        return {"name": name, "got": body}

    def close(self):
        self.closed = True


class Served:
    """One planner in a thread."""

    def __init__(self, desk=None, **limits):
        self.desk = desk or Desk()
        self.told = []
        self.server = PlanServer(self.desk, limits=Limits(**limits), tell=self.told.append)
        self.port = int(self.server.address.split(":")[2].split("/")[0])
        self.token = self.server.address.rsplit("/", 1)[1]
        self.host = f"127.0.0.1:{self.port}"
        self.thread = threading.Thread(target=self.server.run)
        self.thread.start()
        self.cookie = None

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.desk.gate.set()
        self.server.stop()
        self.thread.join(PATIENCE_S)
        assert not self.thread.is_alive()

    def get(self, path="/", **headers):
        return self.send("GET", path, None, headers)

    def ask(self, name, body, **headers):
        data = body if isinstance(body, (bytes, str)) else json.dumps(body)
        ours = {"origin": f"http://{self.host}", "content-type": "application/json"}
        return self.send("POST", f"/ask/{name}", data, ours | headers)

    def send(self, method, path, body, headers):
        """Status, headers and body; a header of None is left out."""
        given = {"host": self.host, "cookie": self.cookie} | {
            name.replace("_", "-"): value for name, value in headers.items()
        }
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        line.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in given.items():
            if value is not None:
                line.putheader(name, value)
        if body is not None:
            data = body if isinstance(body, bytes) else body.encode()
            line.putheader("content-length", str(len(data)))
            line.endheaders(data)
        else:
            line.endheaders()
        answer = line.getresponse()
        got = answer.status, answer.headers, answer.read().decode()
        line.close()
        return got

    def open(self):
        """Use the token, as the browser does; the cookie is kept."""
        status, headers, _ = self.get(f"/open/{self.token}")
        if status == 303:
            self.cookie = headers["set-cookie"].split(";")[0]
        return status, headers

    def head(self, method, path, *more):
        """The bytes of a header that is let in."""
        lines = [f"{method} {path} HTTP/1.1", f"Host: {self.host}", f"Cookie: {self.cookie}"]
        lines += [f"Origin: http://{self.host}", "Content-Type: application/json", *more]
        return ("\r\n".join(lines) + "\r\n\r\n").encode()

    def raw(self, *parts, wait_s=0.0):
        """Send bytes piece by piece; return all that comes until the other side ends."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE_S) as line:
            with contextlib.suppress(ConnectionError):  # it may answer before all is sent
                for part in parts:
                    line.sendall(part)
                    time.sleep(wait_s)
            return read_all(line)


def read_all(line):
    """All that comes until the other side ends; a broken line ends it too."""
    got = bytearray()
    with contextlib.suppress(ConnectionError):
        while part := line.recv(65536):
            got += part
    return bytes(got)


class _WaitingDesk(Desk):
    """Its slow answer comes when there is a file `go`; it says that it has begun by `begun`."""

    def answer(self, name, body):
        if name == "save":
            Path(self.folder, "begun").touch()
            while not Path(self.folder, "go").exists():
                time.sleep(0.01)
            Path(self.folder, "saved").touch()
        return {"name": name, "got": body}


def main():
    server = PlanServer(_WaitingDesk(sys.argv[1]), tell=lambda text: print(text, flush=True))
    print(server.address, flush=True)
    server.run()
    print("ended", flush=True)


if __name__ == "__main__":
    main()
