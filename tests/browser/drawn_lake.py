"""An invented lake whose geometry is known, a picture of it, and a hand that draws it on the page."""

import contextlib
import struct
import threading
import zlib

import numpy as np
import shapely
from playwright.sync_api import Error

from lakemap.lake.projection import LakeProjection
from lakemap.planner.ground import Ground
from lakemap.planner.server import PlanServer

TRUTH = LakeProjection(lon0=-37.25, lat0=41.31)
SIZE = (1200, 900)
SCALE, TURN = 0.42, np.radians(12.0)  # metres a pixel; the picture's up points 12 degrees off
WATER, LAND, SHOAL = (120, 170, 200), (205, 210, 190), (150, 190, 205)


def ring(middle, radii, count):
    """A ring about a middle whose radius goes through some values."""
    angle = 2 * np.pi * np.arange(count) / count
    radius = np.interp(np.arange(count), np.linspace(0, count, len(radii)), radii)
    return np.asarray(middle) + radius[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])


OUTLINE = ring((0, 0), (190, 150, 120, 135, 175, 140, 110, 150, 190), 24)
ISLAND = ring((40, 20), (22, 16, 20, 22), 8)
SWIM = np.array([[-150.0, 22.0], [-105.0, 15.0], [-108.0, -30.0], [-150.0, -28.0]])
CHANNEL = np.array([[-90.0, 60.0], [-20.0, 62.0], [60.0, 66.0]])
DEPTHS = [
    (-120, -10, "4"), (-80, 20, "9"), (-60, -50, "11.5"), (0, -60, "14"), (-20, 40, "12"),
    (60, -60, "13"), (110, 30, "8 ft"), (90, -20, "3.2 m"),
]  # fmt: skip
LAKE = shapely.Polygon(OUTLINE, [ISLAND])
# three points that anybody finds again: x, y on the ground
MARKS = [(-200.0, 150.0), (210.0, 140.0), (10.0, -160.0)]


def to_pixels(xy):
    """Where points on the ground are in the picture."""
    x, y = np.asarray(xy, dtype=float).reshape(-1, 2).T
    right, up = np.cos(TURN) * x + np.sin(TURN) * y, -np.sin(TURN) * x + np.cos(TURN) * y
    return np.column_stack([SIZE[0] / 2 + right / SCALE, SIZE[1] / 2 - up / SCALE])


def to_ground(u, v):
    right, up = (u - SIZE[0] / 2) * SCALE, (SIZE[1] / 2 - v) * SCALE
    return np.cos(TURN) * right - np.sin(TURN) * up, np.sin(TURN) * right + np.cos(TURN) * up


def place(x, y, digits=7):
    """A position as a phone shows it."""
    lon, lat = TRUTH.to_lonlat([x], [y])
    return f"{lat[0]:.{digits}f}, {lon[0]:.{digits}f}"


def png(pixels):
    """A PNG file of an array [height, width, 3]."""
    height, width, _ = pixels.shape
    rows = b"".join(b"\0" + row.tobytes() for row in pixels.astype(np.uint8))

    def chunk(name, data):
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    begin = b"\x89PNG\r\n\x1a\n"
    return (
        begin + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows, 6)) + chunk(b"IEND", b"")
    )


def picture():
    """The lake as seen from above, with crosses at the marks."""
    u, v = np.meshgrid(np.arange(SIZE[0]) + 0.5, np.arange(SIZE[1]) + 0.5)
    x, y = to_ground(u, v)
    shown = np.empty((SIZE[1], SIZE[0], 3))
    shown[:] = LAND
    shown[shapely.contains_xy(LAKE, x, y)] = WATER
    shown[shapely.contains_xy(shapely.Polygon(SWIM), x, y)] = SHOAL
    for mu, mv in to_pixels(MARKS):
        shown[
            ((abs(u - mu) < 2) & (abs(v - mv) < 12)) | ((abs(v - mv) < 2) & (abs(u - mu) < 12))
        ] = 60
    return png(shown)


class GroundDesk:
    """A desk that knows the drawing page alone."""

    def __init__(self, folder):
        self.ground = Ground(folder)

    def page(self, name):
        return self.ground.page() if name == "ground" else "<!DOCTYPE html><title>floats</title>"

    def answer(self, name, body):
        return self.ground.answer(name, body)

    def close(self):
        pass


@contextlib.contextmanager
def served(folder):
    """The drawing page of a folder, from the planner's own server."""
    server = PlanServer(GroundDesk(folder), tell=lambda _line: None)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.stop()
        thread.join(20)


class Drawer:
    """One browser window with the drawing page, and a hand that clicks where things are."""

    def __init__(self, browser, server, **context):
        self.context = browser.new_context(**context)
        self.page = self.context.new_page()
        self.touch = context.get("has_touch", False)
        self.said, self.asked = [], []
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("pageerror", lambda error: self.said.append(f"{error} {error.stack}"))
        self.page.on("dialog", lambda dialog: self.said.append(dialog.message))
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto(server.address)
        self.page.goto(server.address.split("/open/")[0] + "/ground")
        self.ready()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.context.close()

    def until(self, said):
        """Wait until a script's words are true; asked from outside, as the policy forbids more."""
        for _ in range(1500):
            with contextlib.suppress(Error):  # the page is being loaded anew
                if self.page.evaluate(f"Boolean({said})"):
                    return
            self.page.wait_for_timeout(20)
        raise AssertionError(f"never true: {said}")

    def ready(self):
        self.until("typeof app !== 'undefined' && app.isReady")
        self.rest()

    def rest(self):
        """Until the page has painted and the machine has answered about what is drawn."""
        self.until("!app.frame && !app.drawing")
        self.until("!app.model.state.middle || app.checker.isFresh || app.checker.isLost")
        self.until("!app.frame && !app.drawing")

    def step(self, name):
        """Go to a step of the guide, which a phone has in a sheet."""
        if self.touch:
            shut = self.page.locator("#panel .shut")
            if shut.is_visible():
                shut.tap()
            for _ in range(2):
                self.page.wait_for_timeout(250)
                if self.page.evaluate("app.listSheet.stop") < 2:
                    self.page.locator("#list .handle").tap()
            self.page.wait_for_timeout(250)
        self.page.locator(f'[data-id="step {name}"]').click()
        self.page.wait_for_timeout(250 if self.touch else 0)

    def on_screen(self, xy):
        """Where a point of the ground is on the screen, as the picture or the grid shows it."""
        pixel = to_pixels(xy)[0].tolist()
        box = self.page.locator("#field").bounding_box()
        at = self.page.evaluate(
            """([pixel, xy]) => {
                const p = app.picture.isShown ? applied(app.picture.matrix, pixel) : xy;
                const { ppm, left, top } = app.camera;
                return [p[0] * ppm + left, top - p[1] * ppm];
            }""",
            [pixel, list(xy)],
        )
        return box["x"] + at[0], box["y"] + at[1]

    def click(self, xy):
        x, y = self.on_screen(xy)
        if self.touch:
            self.page.touchscreen.tap(x, y)
        else:
            self.page.mouse.click(x, y)

    def drag(self, start, end):
        self.page.mouse.move(*self.on_screen(start))
        self.page.mouse.down()
        self.page.mouse.move(*self.on_screen(end), steps=4)
        self.page.mouse.up()
        self.rest()

    def corners(self, points):
        for point in points:
            self.click(point)
            self.page.wait_for_timeout(420 if self.touch else 0)

    def state(self, of):
        return self.page.evaluate(f"(() => {{ const state = app.model.state; return {of}; }})()")

    def choose_picture(self, data, name="lake.png"):
        self.page.locator("#file").set_input_files(
            {"name": name, "mimeType": "image/png", "buffer": data}
        )

    def fix(self, marks=MARKS, off=None):
        """Mark points and type their positions, off by what is given."""
        wrong = np.zeros((len(marks), 2)) if off is None else off
        for k, (x, y) in enumerate(marks):
            if self.state("app.look.tool") != "point":
                self.page.get_by_role("button", name="Mark a point").click()
                self.page.wait_for_timeout(250 if self.touch else 0)
            self.click((x, y))
            field = self.page.locator(f'[data-id="point {k}"]')
            field.fill(place(x + wrong[k][0], y + wrong[k][1]))
            field.press("Tab")
            if k:
                self.until(f"app.picture.told && app.picture.told.points.length === {k + 1}")
                self.until("app.picture.isFixed")
        self.rest()

    def quiet(self):
        host = self.page.url.split("/ground")[0]
        others = [u for u in self.asked if not u.startswith((host, "data:", "blob:"))]
        assert (self.said, others) == ([], [])
