"""The planner's server on a real socket: who is let in, what is answered, what is refused."""

import base64
import contextlib
import hashlib
import json
import re
import socket
import time

import pytest
from served import PAGE, Desk, Served
from starlette.datastructures import Headers

from lakemap.basis.errors import BadInputError
from lakemap.planner.body import parse_object
from lakemap.planner.guard import Guard, RefusedError
from lakemap.planner.server import PlanServer


@pytest.fixture(scope="module")
def planner():
    with Served(header_s=1.0, body_s=1.0, idle_s=1) as served:
        served.open()
        yield served


def text_of(answer):
    """The words of the one problem that an ask was answered with."""
    status, headers, body = answer
    assert headers["content-type"] == "application/json"
    (problem,) = json.loads(body)["problems"]
    return status, problem["text"]


def test_the_address_works_once_and_then_for_the_same_browser_alone():
    with Served() as served:
        assert served.get("/")[0] == 403
        assert served.get("/open/wrong")[0] == 403
        status, headers = served.open()
        assert (status, headers["location"]) == (303, "/")
        parts = headers["set-cookie"].split("; ")
        assert parts[0].startswith(f"lakemap-{served.port}=")
        assert set(parts[1:]) == {"Path=/", "HttpOnly", "SameSite=Strict"}  # no age, no domain
        assert served.get("/")[0] == 200
        again = served.get(f"/open/{served.token}")
        assert (again[0], again[1]["set-cookie"]) == (303, headers["set-cookie"])
        status, _, page = served.get(f"/open/{served.token}", cookie=None)
        assert status == 403
        assert "works once" in page
        assert "press Ctrl-C, start it again" in page
        assert served.cookie.split("=")[1] not in page
        assert served.get(f"/open/{served.token}x")[0] == 403
        assert served.get("/open/")[0] == 403


def test_two_planners_have_two_secrets(planner):
    with Served() as other:
        assert other.token != planner.token
        assert other.get("/", cookie=planner.cookie)[0] == 403
        renamed = planner.cookie.replace(str(planner.port), str(other.port))
        assert other.get("/", cookie=renamed)[0] == 403
        misnamed = planner.cookie.replace(str(planner.port), str(other.port))
        assert planner.get("/", cookie=misnamed)[0] == 403


def test_our_cookie_is_found_among_others_and_beside_a_false_one(planner):
    name = planner.cookie.split("=")[0]
    assert planner.get("/", cookie=f"a=b; {name}=false; {planner.cookie}; c")[0] == 200
    assert planner.get("/", cookie=f"{planner.cookie}x")[0] == 403
    assert planner.get("/", cookie=f"{name}=\xe9")[0] == 403
    assert planner.get("/", cookie=name)[0] == 403


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:{port}", "127.0.0.1", "localhost", "127.0.0.1:80", "127.0.0.1:{port}.evil.example", "127.0.0.1.evil.example:{port}", "user@127.0.0.1:{port}", "[::1]:{port}", "0.0.0.0:{port}", "LOCALHOST:{port}", "127.1:{port}", ""],
)  # fmt: skip
def test_a_name_that_leads_here_is_no_name_of_ours(planner, host):
    status, headers, page = planner.get("/", host=host.format(port=planner.port))
    assert status == 403
    assert "http://127.0.0.1" in page
    assert headers["connection"] == "close"
    # and the token isn't spent or looked at
    status, _, page = planner.get(f"/open/{planner.token}", host=host.format(port=planner.port))
    assert (status, "set-cookie" in page) == (403, False)


def test_localhost_is_ours_with_its_own_origin(planner):
    local = f"localhost:{planner.port}"
    assert planner.get("/", host=local)[0] == 200
    assert planner.ask("plan", {}, host=local, origin=f"http://{local}")[0] == 200
    assert planner.ask("plan", {}, host=local)[0] == 403


def test_two_hosts_or_none(planner):
    two = b"GET / HTTP/1.1\r\nHost: %s\r\nHost: evil.example\r\n\r\n" % planner.host.encode()
    assert planner.raw(two).startswith(b"HTTP/1.1 400 ")
    assert planner.raw(b"GET / HTTP/1.1\r\n\r\n").startswith(b"HTTP/1.1 400 ")
    assert planner.raw(b"GET / HTTP/1.0\r\n\r\n").startswith(b"HTTP/1.1 403 ")


@pytest.mark.parametrize(
    "origin",
    ["null", "http://evil.example", "https://127.0.0.1:{port}", "http://127.0.0.1", "http://localhost:{port}", "http://127.0.0.1:{port}.evil.example", "http://127.0.0.1:{port}/", "", None],
)  # fmt: skip
def test_an_ask_must_come_from_our_own_page(planner, origin):
    origin = origin and origin.format(port=planner.port)
    status, text = text_of(planner.ask("plan", {}, origin=origin))
    assert (status, text) == (403, "Another page asked for this. The planner answers its own pages only.")  # fmt: skip
    if origin is not None:
        assert planner.get("/", origin=origin)[0] == 403


@pytest.mark.parametrize(("site", "status"), [("same-origin", 200), ("none", 200), ("cross-site", 403), ("same-site", 403), ("odd", 403)])  # fmt: skip
def test_what_the_browser_says_of_the_asker(planner, site, status):
    assert planner.get("/", sec_fetch_site=site)[0] == status
    assert planner.ask("plan", {}, sec_fetch_site=site)[0] == status
    if status == 403:
        with Served() as fresh:  # a page elsewhere can't spend the address either
            assert fresh.get(f"/open/{fresh.token}", sec_fetch_site=site)[0] == 403
            assert fresh.open()[0] == 303


def test_nothing_is_answered_without_the_cookie(planner):
    asked = len(planner.desk.asked)
    for method, path in (("GET", "/"), ("GET", "/ground"), ("POST", "/ask/plan"), ("GET", "/x")):
        sent = planner.send(method, path, b"{}", {"cookie": None, "origin": f"http://{planner.host}", "content_type": "application/json"})  # fmt: skip
        assert sent[0] == 403
    assert len(planner.desk.asked) == asked


@pytest.mark.parametrize(
    "path",
    ["/ask", "/ask/", "/ask/plan/", "/ask/Plan", "/ask/../ground", "/ask/..%2fground", "/%61sk/plan", "//", "/./", "/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/ground/", "/ground%00", "/%00", "/index.html", "/field.toml", "/ask/" + "a" * 41, "/" + "a" * 10000, "http://evil.example/", "*"],
)  # fmt: skip
def test_no_other_address(planner, path):
    assert planner.get(path)[0] == 404
    assert planner.ask("x", {})[0] == 200
    sent = planner.send("POST", path, b"{}", {"origin": f"http://{planner.host}", "content_type": "application/json"})  # fmt: skip
    assert sent[0] == 404


@pytest.mark.parametrize("line", [b"GET /\x00 HTTP/1.1", b"GET /a b HTTP/1.1", b"GET /\xff HTTP/1.1", b"\x16\x03\x01\x02\x00\x01", b"GET / HTTP/9.9", b"PRI * HTTP/2.0"])  # fmt: skip
def test_what_is_no_http_ends_the_connection(planner, line):
    got = planner.raw(line + b"\r\nHost: " + planner.host.encode() + b"\r\n\r\n")
    assert re.match(rb"HTTP/1.1 (400|403|404|405) ", got)
    assert planner.get("/")[0] == 200


def test_a_long_header_or_address(planner):
    long = b"GET /%s HTTP/1.1\r\nHost: %s\r\nX: %s" % (b"a" * 9000, planner.host.encode(), b"b" * 9000)  # fmt: skip
    assert planner.raw(long).startswith(b"HTTP/1.1 400 ")  # it never ends
    for more in ("X: " + "b" * 300_000, "\r\n".join(f"X{i}: b" for i in range(30_000))):
        got = planner.raw(planner.head("GET", "/", more))
        assert re.match(rb"HTTP/1.1 (400|431) ", got)
    got = planner.raw(planner.head("GET", "/" + "a" * 300_000))
    assert re.match(rb"HTTP/1.1 (400|404) ", got)
    assert planner.get("/", x="b" * 15_000)[0] == 200


def test_a_long_header_that_comes_whole():
    """The library measures only what it has to wait for."""
    guard = Guard(8000)
    for size, refused in ((16 * 1024 - 100, False), (16 * 1024, True)):
        raw = [(b"host", b"127.0.0.1:8000"), (b"x", b"b" * size)]
        with pytest.raises(RefusedError) if refused else contextlib.nullcontext() as told:
            guard.check_place("GET", Headers(raw=raw))
        assert not refused or told.value.status == 431


@pytest.mark.parametrize("method", ["HEAD", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND"])  # fmt: skip
@pytest.mark.parametrize(("path", "allowed"), [("/", "GET"), ("/ground", "GET"), ("/ask/plan", "POST"), ("/open/x", "GET")])  # fmt: skip
def test_no_other_method(planner, method, path, allowed):
    status, headers, _ = planner.send(method, path, None, {"origin": f"http://{planner.host}"})
    assert (status, headers["allow"]) == (405, allowed)
    assert not [name for name in headers if name.startswith("access-control")]


def test_pages_are_got_and_asks_are_posted(planner):
    assert planner.get("/ask/plan")[0] == 405
    assert planner.send("POST", "/", b"", {"origin": f"http://{planner.host}"})[0] == 405


@pytest.mark.parametrize("kind", [None, "", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "application/json; charset=latin-1", "application/jsonx", "application/json, text/plain"])  # fmt: skip
def test_an_ask_is_json(planner, kind):
    assert planner.ask("plan", {}, content_type=kind)[0] == 415


def test_json_kinds_that_are_right(planner):
    assert planner.ask("plan", {}, content_type="application/json;charset=UTF-8")[0] == 200
    assert planner.ask("plan", {}, content_encoding="gzip")[0] == 415


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("", "can't be read"), ("{", "can't be read"), ("[]", "must be a JSON object"), ("1", "must be a JSON object"), ('"a"', "must be a JSON object"), ("null", "must be a JSON object"),
        ('{"a":NaN}', "NaN is no number"), ('{"a":-Infinity}', "-Infinity is no number"), ('{"a":1e999}', "a number is too large"), ('{"a":-1e999}', "a number is too large"),
        ('{"a":' + "9" * 5000 + "}", "can't be read"), ('{"a":9007199254740993}', "a whole number is too large"),
        (b'{"a":"\xff"}', "can't be read"), ('{"a":"\\ud800"}', "can't be read"), ('{"\\udfff":1}', "can't be read"), ("\ufeff{}", "can't be read"), ("{} {}", "can't be read"),
        ('{"a":' + "[" * 100000 + "]" * 100000 + "}", "nested too deep"), ('{"a":' + "[" * 30 + "]" * 30 + "}", "nested too deep"), ('{"a":' * 5000 + "1" + "}" * 5000, "nested too deep"),
        ('{"page":1,"seq":1}', "page must be"), ('{"page":"' + "x" * 65 + '","seq":1}', "page must be"), ('{"page":"x","seq":"1"}', "seq must be"), ('{"page":"x","seq":1.5}', "seq must be"),
    ],
)  # fmt: skip
def test_json_that_is_odd(planner, body, said):
    asked = len(planner.desk.asked)
    status, text = text_of(planner.ask("plan", body))
    assert status == 400
    assert said in text
    assert len(planner.desk.asked) == asked


def test_json_of_too_many_parts():
    with pytest.raises(RefusedError, match="more than 1,000,000 parts"):
        parse_object(b'{"a":[' + b"[]," * 600_000 + b"[]]}")
    assert len(parse_object(b'{"a":[' + b"0," * 999_000 + b"0]}")["a"]) == 999_001


def test_json_that_is_right(planner):
    body = {"changes": {"21": {"x": -12.5, "y": 1e-9, "length": "10 ft é 😀"}}, "quick": True, "deep": [[[1]]]}  # fmt: skip
    status, headers, got = planner.ask("plan", body)
    assert (status, headers["content-type"]) == (200, "application/json")
    assert json.loads(got) == {"name": "plan", "got": body}
    assert json.loads(planner.ask("ground-save", {})[2])["name"] == "ground-save"


def test_a_page_and_its_turn_are_not_the_desks(planner):
    assert json.loads(planner.ask("plan", {"page": "p", "seq": 3, "x": 1})[2])["got"] == {"x": 1}


def test_a_body_that_is_said_to_be_large(planner):
    got = planner.raw(planner.head("POST", "/ask/plan", "Content-Length: 99999999999"))
    assert got.startswith(b"HTTP/1.1 413 ")
    assert b"larger than 8 MB" in got
    eight = 8 * 1024 * 1024
    assert planner.ask("plan", b'{"a":"' + b"x" * (eight - 8) + b'"}')[0] == 200
    assert text_of(planner.ask("plan", b'{"a":"' + b"x" * (eight - 7) + b'"}'))[0] == 413
    assert planner.ask("ground-keep", b'{"a":"' + b"x" * 3 * eight + b'"}')[0] == 200
    status, text = text_of(planner.ask("ground-keep", b'{"a":"' + b"x" * 4 * eight + b'"}'))
    assert (status, "larger than 32 MB" in text) == (413, True)
    for length in ("-1", "1e3", "x", "1, 2"):
        got = planner.raw(planner.head("POST", "/ask/plan", f"Content-Length: {length}"))
        assert got.startswith(b"HTTP/1.1 400 ")


def test_a_body_that_doesnt_say_how_large_it_is(planner):
    chunk = b"100000\r\n" + b" " * 0x100000 + b"\r\n"
    head = planner.head("POST", "/ask/plan", "Transfer-Encoding: chunked")
    got = planner.raw(head, b"2\r\n{}\r\n0\r\n\r\n" + planner.head("GET", "/x"))
    assert got.startswith(b"HTTP/1.1 200 ")
    assert planner.raw(head, *[chunk] * 9, b"0\r\n\r\n").startswith(b"HTTP/1.1 413 ")
    with socket.create_connection(("127.0.0.1", planner.port)) as line:
        line.sendall(head)
        sent = 0
        try:
            while sent < 200:  # 200 MB: it doesn't read on for ever
                line.sendall(chunk)
                sent += 1
        except OSError:
            pass
    assert sent < 60
    assert planner.get("/")[0] == 200


def test_a_header_that_never_ends_and_a_line_that_says_nothing(planner):
    assert planner.raw() == b""
    assert planner.raw(b"GET / HTTP/1.1\r\nHost: ", b"1") == b""
    # byte by byte makes it no longer
    slow = [b"GET / HTTP/1.1\r\n", *[b"X: y\r\n"] * 60]
    with pytest.raises(OSError), socket.create_connection(("127.0.0.1", planner.port)) as line:  # noqa: PT011, PT012 - a broken pipe or a reset, as the system has it
        for part in slow:
            line.sendall(part)
            line.settimeout(0.1)
            try:
                if line.recv(1) == b"":
                    raise ConnectionResetError
            except TimeoutError:
                pass


def get_on(line, served):
    """One page, on a line that is kept."""
    line.sendall(served.head("GET", "/"))
    got = b""
    while b"</html>" not in got:
        part = line.recv(65536)
        assert part
        got += part


def test_the_second_header_on_a_kept_line_is_timed_too():
    with Served(header_s=0.5, idle_s=600) as served:
        served.open()
        with socket.create_connection(("127.0.0.1", served.port), timeout=20) as line:
            get_on(line, served)
            time.sleep(1.0)  # the time for the first header is over, and doesn't count any more
            get_on(line, served)
            line.sendall(b"GET / HTTP/1.1\r\n")
            assert line.recv(65536) == b""


def test_what_follows_an_answer_is_timed_too(planner):
    # a body that a page doesn't want, said to be endless and sent slowly
    head = planner.head("GET", "/", "Content-Length: 1000000")
    assert planner.raw(head, *[b"x"] * 5, wait_s=0.1).endswith(b"</html>")


def test_a_body_that_never_ends(planner):
    got = planner.raw(planner.head("POST", "/ask/plan", "Content-Length: 10"), b"{")
    assert got.startswith(b"HTTP/1.1 408 ")
    assert b"did not arrive within 1 s" in got
    chunked = planner.head("POST", "/ask/plan", "Transfer-Encoding: chunked")
    assert planner.raw(chunked, *[b"1\r\n \r\n"] * 15, wait_s=0.1).startswith(b"HTTP/1.1 408 ")


def test_an_ask_that_is_given_up_midway(planner):
    asked = len(planner.desk.asked)
    with socket.create_connection(("127.0.0.1", planner.port)) as line:
        line.sendall(planner.head("POST", "/ask/plan", "Content-Length: 10") + b"{")
    assert planner.get("/")[0] == 200
    assert len(planner.desk.asked) == asked


def test_idle_lines_hold_nobody_up():
    with Served(connections=20) as served:
        served.open()
        with socket.create_connection(("127.0.0.1", served.port), timeout=20) as kept:
            get_on(kept, served)
            lines = [socket.create_connection(("127.0.0.1", served.port)) for _ in range(150)]
            assert served.get("/")[0] == 200
            assert served.ask("plan", {})[0] == 200
            get_on(kept, served)  # who has asked stays before who has not
        for line in lines:
            line.close()


def test_small_answers_leave_at_once(planner):
    """Not held back until the other side has acknowledged the part before (40 ms an ask)."""
    with socket.create_connection(("127.0.0.1", planner.port)) as line:
        line.sendall(planner.head("GET", "/"))
        line.recv(1)
        (kept,) = [
            connection.transport.get_extra_info("socket")
            for connection in planner.server._server.server_state.connections
            if connection.client == line.getsockname()
        ]
        assert kept.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


def test_security_headers_are_everywhere(planner):
    answers = [
        planner.get("/"), planner.get("/ground"), planner.get("/x"), planner.get("/", cookie=None), planner.get("/", host="x"), planner.get(f"/open/{planner.token}"),
        planner.ask("plan", {}), planner.ask("plan", "["), planner.ask("bad", {}), planner.ask("plan", {}, content_type="x"), planner.ask("plan", {}, origin=None),
    ]  # fmt: skip
    for _, headers, _ in answers:
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
        assert headers["cache-control"] == "no-store"
        assert headers["cross-origin-opener-policy"] == "same-origin"
        assert headers["cross-origin-resource-policy"] == "same-origin"
        assert headers["content-security-policy"].startswith("default-src 'none'; ")
        assert headers["content-security-policy"].endswith("frame-ancestors 'none'")
        assert "unsafe" not in headers["content-security-policy"]
        assert "server" not in headers
        assert not [name for name in headers if name.lower().startswith("access-control")]


def test_the_pages_policy_knows_its_own_script_alone(planner):
    status, headers, page = planner.get("/")
    assert (status, page, headers["content-type"]) == (200, PAGE, "text/html; charset=utf-8")
    said = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))  # fmt: skip
    digest = base64.b64encode(hashlib.sha256(b"'use strict';").digest()).decode()
    assert said["script-src"] == f"'sha256-{digest}'"
    digest = base64.b64encode(hashlib.sha256(b"p { color: red; }").digest()).decode()
    assert said["style-src"] == f"'sha256-{digest}'"
    assert said["connect-src"] == "'self'"
    assert said["img-src"] == "data: blob:"


def test_problems_of_the_desk(planner, capfd):
    assert text_of(planner.ask("bad", {})) == (422, "length: 'abc' is no length")
    assert text_of(planner.ask("unknown", {})) == (404, "nothing here answers this")
    assert capfd.readouterr().err == ""
    status, text = text_of(planner.ask("broken", {}))
    assert status == 500
    assert "something went wrong here; nothing was saved" in text
    assert "secret" not in text
    err = capfd.readouterr().err
    assert "Traceback" in err
    assert "secret detail" in err
    status, text = text_of(planner.ask("full", {}))
    assert (status, text) == (500, "floats.csv: No space left on device; nothing was saved")
    assert text_of(planner.ask("nan", {}))[0] == 500
    status, _, page = planner.get("/ground")
    assert status == 422
    assert "lake.csv: &lt;b&gt;no lake&lt;/b&gt;" in page
    assert planner.ask("plan", {})[0] == 200


def test_a_port_that_is_taken(planner):
    with pytest.raises(BadInputError, match=rf"--port: {planner.port} can't be had"):
        PlanServer(Desk(), port=planner.port)


def test_only_this_machine_is_listened_to(planner):
    for other in ("127.0.0.2", "::1"):
        with pytest.raises(OSError), socket.create_connection((other, planner.port), timeout=2):  # noqa: PT011 - refused or unreachable, as the system has it
            pass
