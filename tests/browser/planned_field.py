"""A field whose circles are right triangles, served by the planner as people start it; and a visit.

The bed lies 8 m deep, riser and ground chain are 10 m together, so a hook reaches 6 m (6-8-10); the
deck of 4 by 3 m adds the half of its diagonal of 5 m: circles of 8.5 m. One metre more water leaves
sqrt(100 - 81) + 2.5 m.
"""

import contextlib
import csv
import subprocess
import sys
import threading
import time

import numpy as np
from conftest import HERE, SIDE_M

from lakemap.planner.desk import Desk
from lakemap.planner.server import PlanServer

RADIUS_M = 8.5
HIGH_RADIUS_M = 19**0.5 + 2.5
PLACES = {"1": (-30.0, 0.0), "2": (-16.0, 0.0), "3": (40.0, 40.0)}  # 1 and 2 overlap by 3 m
SETTINGS = """\
name = "Square Pond"
units = "m-kg"
[levels]
low = "0 m"
normal = "0 m"
high = "1 m"
[accuracy]
position = "0.1 m"
[rules.neighbour]
distance = "1 m"
source = "an example"
[rules.shore]
distance = "2 m"
source = "an example"
"""
COLUMNS = ("float_id", "lon", "lat", "position_of", "status", "lot", "length_m", "width_m", "hook_depth_m",
           "riser_length_m", "ground_length_m", "bearing_deg", "note")  # fmt: skip
PATIENCE_S = 30.0


def write_field(folder, *, places=PLACES, lots=None, side_m=SIDE_M):
    """Write the field's files."""
    folder.mkdir(parents=True)
    half = side_m / 2
    (folder / "field.toml").write_text(SETTINGS, encoding="utf-8")
    corners = np.array([(-half, -half), (half, -half), (half, half), (-half, half)])
    _write(folder / "lake.csv", ("lon", "lat"), _lonlat(corners))
    grid = np.linspace(-0.45, 0.45, 13) * side_m
    points = np.column_stack([v.ravel() for v in np.meshgrid(grid, grid)])
    rows = [(*at, "8") for at in _lonlat(points)]
    _write(folder / "soundings.csv", ("lon", "lat", "depth_m"), rows)
    at = _lonlat(np.array(list(places.values())))
    floats = [
        (name, lon, lat, "primary", "set", (lots or {}).get(name, ""), "4", "3", "0", "6", "4", "90", "kept as it is")
        for name, (lon, lat) in zip(places, at, strict=True)
    ]  # fmt: skip
    _write(folder / "floats.csv", COLUMNS, floats)
    return folder


def _lonlat(points):
    lon, lat = HERE.to_lonlat(points[:, 0], points[:, 1])
    return [(f"{x:.9f}", f"{y:.9f}") for x, y in zip(lon.tolist(), lat.tolist(), strict=True)]


def _write(path, header, rows):
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([header, *rows])


def cells(path):
    """The cells of a floats file, by float and column."""
    with path.open(newline="", encoding="utf-8") as file:
        return {row["float_id"]: row for row in csv.DictReader(file)}


def differing(before, after):
    """What changed between two floats files: float, column, value now."""
    return {
        (name, column): value
        for name, row in after.items()
        for column, value in row.items()
        if before.get(name, {}).get(column) != value
    }


@contextlib.contextmanager
def served(folder):
    """The planner in a thread; gives its address."""
    server = PlanServer(Desk(folder), tell=lambda _text: None)
    thread = threading.Thread(target=server.run)
    thread.start()
    try:
        yield server.address
    finally:
        server.stop()
        thread.join(PATIENCE_S)
        assert not thread.is_alive()


@contextlib.contextmanager
def started(folder):
    """The planner as a command of its own, which can be killed."""
    command = [sys.executable, "-m", "lakemap", "plan", str(folder), "--no-open"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as run:
        try:
            line = next(line for line in run.stdout if line.startswith("planner: "))
            yield line.removeprefix("planner: ").strip(), run
        finally:
            run.kill()


def until(page, script, wanted=True):  # noqa: FBT002 - reads as a sentence
    """Wait for what the page says: asked from outside, its policy forbids it to wait for us."""
    from playwright.sync_api import Error

    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            got = page.evaluate(script)
        except Error as error:  # the page was being read anew
            if "context was destroyed" not in error.message:
                raise
            continue
        if got == wanted:
            return
        page.wait_for_timeout(20)
    raise AssertionError(f"{script} is {got!r}, not {wanted!r}")


class Plan:
    """One window of the planner, and all that it complained of or asked for elsewhere."""

    def __init__(self, browser, address, **context):
        self.context = browser.new_context(**context)
        self.said, self.asked = [], []
        self.page = self.window(address)

    def window(self, address):
        page = self.context.new_page()
        page.on("console", lambda message: self.said.append(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))
        self.origin = "/".join(address.split("/")[:3])
        page.goto(address)
        until(page, "typeof planner !== 'undefined' && planner.answer !== null")
        return page

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.context.close()

    def quiet(self):
        others = [url for url in self.asked if not url.startswith((self.origin, "data:"))]
        assert (self.said, others) == ([], [])

    def settled(self, page=None):
        """Wait until all that was asked is answered and drawn."""
        until(
            page or self.page,
            "!planner.talk.isBusy('plan') && !planner.talk.isBusy('lie') && planner.since === null",
        )

    def choose(self, name):
        self.page.get_by_role("searchbox").fill(name)
        self.page.get_by_role("searchbox").press("Enter")
        until(self.page, "planner.field.look.chosen && planner.field.look.chosen.id", name)
        self.page.get_by_role("searchbox").fill("")
        self.page.locator("#field").focus()
        self.settled()
        self.page.wait_for_timeout(250)  # the map may be on its way there

    def float(self, name):
        return self.page.evaluate("(name) => { const f = BY_ID.get(name); return f && {x: f.x, y: f.y, r: f.radii[0], verdict: f.verdict, lies: f.lies, hook: f.hook}; }", name)  # fmt: skip

    def at(self, x, y):
        """Where a place in metres lies on the screen."""
        return self.page.evaluate("([x, y]) => { const c = cameraOf(planner.field.map), box = byId('field').getBoundingClientRect(); return [box.left + x * c.ppm + c.left, box.top + c.top - y * c.ppm]; }", [x, y])  # fmt: skip

    def headline(self):
        return self.page.locator("#headline").inner_text()

    def unsaved(self):
        return self.page.locator("#unsaved").inner_text()

    def drag(self, name, dx, dy, *, drop=True):
        """Drag a float's primary by some metres with the mouse."""
        f = self.float(name)
        start, end = self.at(f["x"], f["y"]), self.at(f["x"] + dx, f["y"] + dy)
        self.page.mouse.move(*start)
        self.page.mouse.down()
        for share in np.linspace(0, 1, 12)[1:].tolist():
            self.page.mouse.move(*(a + (b - a) * share for a, b in zip(start, end, strict=True)))
        if drop:
            self.page.mouse.up()
            self.settled()
