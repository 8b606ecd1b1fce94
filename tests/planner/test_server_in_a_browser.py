"""The planner's door as a real browser finds it: the address, the page's asks, a page elsewhere."""

import contextlib
import functools
import http.server
import os
import shutil
import threading

import pytest
from served import Desk, Served

CHROMIUM = os.environ.get("LAKEMAP_CHROMIUM") or shutil.which("chromium")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip
SCRIPT = "async function ask(name) { const got = await fetch(`ask/${name}`, {method: 'POST', headers: {'Content-Type': 'application/json'}, body: '{\"a\":1}'}); return [got.status, await got.json()]; }"
PAGE = f'<!DOCTYPE html><html><head><link rel="icon" href="data:,"></head><body>ours<script>{SCRIPT}</script></body></html>'
pytestmark = pytest.mark.browser


class PageDesk(Desk):
    def page(self, _name):
        return PAGE


@pytest.fixture(scope="module")
def browser():
    if CHROMIUM is None:
        if os.environ.get("LAKEMAP_BROWSER_REQUIRED"):
            pytest.fail("no Chromium; install it, or name one in LAKEMAP_CHROMIUM")
        pytest.skip("no Chromium; install it, or name one in LAKEMAP_CHROMIUM")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture
def planner():
    with Served(PageDesk()) as served:
        yield served


@contextlib.contextmanager
def elsewhere(folder):
    """A site of somebody else on this machine."""
    handler = functools.partial(_Quiet, directory=folder)
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_):
        pass


def test_the_address_opens_and_the_page_is_answered(browser, planner):
    context = browser.new_context()
    page = context.new_page()
    page.goto(planner.server.address)
    assert page.url == f"http://{planner.host}/"
    answered = page.evaluate("ask('plan')")
    assert answered == [200, {"name": "plan", "got": {"a": 1}}]
    assert page.evaluate("document.cookie") == ""
    assert page.evaluate("fetch('https://example.org/').catch(error => 'held')") == "held"
    page.goto(f"http://{planner.host}/ground")  # as its people would type it
    assert page.evaluate("ask('why')")[0] == 200
    page.goto(planner.server.address)  # the same browser may use it again
    assert page.url == f"http://{planner.host}/"
    context.close()


def test_another_browser_is_told_what_to_do(browser, planner):
    planner.open()
    for size in ({"width": 1440, "height": 900}, {"width": 390, "height": 844}):
        context = browser.new_context(viewport=size)
        page = context.new_page()
        assert page.goto(planner.server.address).status == 403
        text = page.inner_text("main")
        assert "This address works once, and it was used." in text
        assert page.evaluate("getComputedStyle(document.querySelector('main')).borderRadius") == "10px"  # fmt: skip
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        if folder := os.environ.get("LAKEMAP_SHOTS"):
            page.screenshot(path=f"{folder}/refused-{size['width']}.png")
        context.close()


def test_a_page_elsewhere_reaches_nothing(browser, planner, tmp_path):
    """It shares our cookie's site, as all of this machine does, but not our origin."""
    (tmp_path / "index.html").write_text("<!DOCTYPE html>theirs", encoding="utf-8")
    context = browser.new_context()
    page = context.new_page()
    page.goto(planner.server.address)
    before = len(planner.desk.asked)
    with elsewhere(str(tmp_path)) as site:
        page.goto(f"{site}/index.html")
        ours = f"http://{planner.host}"
        post = "{method: 'POST', mode: 'no-cors', credentials: 'include', body: '{}'}"
        assert page.evaluate(f"fetch('{ours}/ask/save', {post}).catch(() => 'held')") == "held"
        json_post = post.replace("'no-cors'", "'cors', headers: {'Content-Type': 'application/json'}")  # fmt: skip
        assert page.evaluate(f"fetch('{ours}/ask/save', {json_post}).catch(() => 'held')") == "held"
        assert page.evaluate(f"fetch('{ours}/').catch(() => 'held')") == "held"
        frame = f"new Promise(done => {{ const f = document.createElement('iframe'); f.src = '{ours}/'; f.onload = () => {{ try {{ done(f.contentDocument === null ? 'held' : f.contentDocument.body.textContent); }} catch {{ done('held'); }} }}; document.body.append(f); }})"
        assert page.evaluate(frame) == "held"
        assert all("ours" not in frame.content() for frame in page.frames[1:])
    assert len(planner.desk.asked) == before
    context.close()
