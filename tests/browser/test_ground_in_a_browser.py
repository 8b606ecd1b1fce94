"""A lake drawn by hand in a real browser: over a picture, on a grid, by keys, by touch; and kept."""

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import shapely
from drawn_lake import (
    CHANNEL,
    DEPTHS,
    ISLAND,
    LAKE,
    MARKS,
    OUTLINE,
    SWIM,
    TRUTH,
    Drawer,
    picture,
    place,
    served,
)

from lakemap.inputs.folder import read_field
from lakemap.lake.projection import LakeProjection

DATA = Path(__file__).parents[2] / "data"
CHROMIUM = os.environ.get("LAKEMAP_CHROMIUM") or shutil.which("chromium")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip
WIDE = {"viewport": {"width": 1440, "height": 900}}
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}  # fmt: skip
HOSTILE = '"><script>document.title="run"</script><img src=x onerror=alert(1)>'
FOOT = 0.3048
pytestmark = pytest.mark.browser


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


@pytest.fixture(scope="module")
def photo():
    return picture()


@contextlib.contextmanager
def drawing(browser, folder, **context):
    with served(folder) as server, Drawer(browser, server, **(context or WIDE)) as drawer:
        yield drawer


@contextlib.contextmanager
def command(folder):
    """The planner as people start it."""
    words = [sys.executable, "-m", "lakemap", "plan", str(folder), "--no-open"]
    started = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
    try:
        lines = iter(started.stdout.readline, "")
        address = next(line for line in lines if line.startswith("planner: ")).split()[1]
        yield SimpleNamespace(address=address)
    finally:
        started.send_signal(signal.SIGINT)
        started.communicate(timeout=20)


def on_ground(geometry):
    return TRUTH.project(geometry)


def save(drawer):
    page = drawer.page
    drawer.step("save")
    drawer.rest()
    page.locator('#panel [data-id="save"]').click()
    drawer.until("document.querySelector('#panel h2').textContent === 'Saved'")
    drawer.ready()


def draw_all(drawer):
    """Everything that a lake has, once the picture is fixed."""
    page = drawer.page
    drawer.step("outline")
    drawer.corners(OUTLINE)
    drawer.click(OUTLINE[0])
    drawer.rest()
    drawer.step("islands")
    page.get_by_role("button", name="Draw an island").click()
    drawer.corners(ISLAND)
    page.keyboard.press("Enter")
    drawer.rest()
    drawer.step("areas")
    page.get_by_role("button", name="Draw a swim area").click()
    drawer.corners(SWIM)
    page.keyboard.press("Enter")
    page.keyboard.type("Town beach")  # the name's field has the focus
    drawer.step("areas")
    page.get_by_role("button", name="Draw a boat channel").click()
    drawer.corners(CHANNEL)
    page.keyboard.press("Enter")
    page.keyboard.type("60")  # and here the width's
    drawer.step("depths")
    for x, y, depth in DEPTHS:
        drawer.click((x, y))
        page.keyboard.type(depth)
        page.keyboard.press("Enter")
    drawer.step("levels")
    for name, level in (("low", "-1.5"), ("normal", "0"), ("high", "1 ft")):
        page.locator(f'[data-id="{name}"]').fill(level)
    drawer.rest()


def check_against_the_picture(field):
    assert field.settings.name == "Invented Lake"
    # positions to 1e-7 degrees are good to 8 mm; a click is good to a pixel of the screen, 0.6 m
    lake = on_ground(field.lake)
    assert shapely.hausdorff_distance(lake, LAKE) < 0.7
    assert lake.area == pytest.approx(LAKE.area, rel=0.005)
    swim, channel = field.zones
    assert swim.label == "Town beach"
    assert shapely.hausdorff_distance(on_ground(swim.geometry), shapely.Polygon(SWIM)) < 0.7
    assert shapely.hausdorff_distance(on_ground(channel.geometry), shapely.LineString(CHANNEL)) < 0.7  # fmt: skip
    assert channel.width_m == pytest.approx(60 * FOOT)
    xy = np.column_stack(TRUTH.to_xy(field.soundings.lon, field.soundings.lat))
    assert np.hypot(*(xy - [(x, y) for x, y, _ in DEPTHS]).T).max() < 0.7
    feet = np.array([4, 9, 11.5, 14, 12, 13, 8, 3.2 / FOOT])
    assert field.soundings.depth_m == pytest.approx(feet * FOOT)
    assert field.settings.levels.low_m == pytest.approx(-1.5 * FOOT)


def test_a_lake_from_nothing_over_a_picture(browser, photo, tmp_path):
    """The whole way by the command itself, and the field against the lake in the picture."""
    folder = tmp_path / "invented"
    begun = time.monotonic()
    with command(folder) as server, Drawer(browser, server, **WIDE) as drawer:
        page = drawer.page
        page.locator('[data-id="name"]').fill("Invented Lake")
        drawer.choose_picture(photo)
        drawer.until("app.picture.isShown")
        drawer.fix()
        draw_all(drawer)
        save(drawer)
        written = page.locator("#panel .written").inner_text().split()
        link = page.get_by_role("link", name="Go on to the floats").get_attribute("href")
        drawer.quiet()
    print(f"\nfrom an empty folder to a field: {time.monotonic() - begun:.0f} s by a script")
    assert link == "./"
    assert set(written) == {path.name for path in folder.iterdir() if path.suffix}
    check_against_the_picture(read_field(folder))


def turned(xy):
    """Rows of a similarity's linear form: x = r u + s v + e, y = r v - s u + f."""
    u, v = np.asarray(xy).T
    one, none = np.ones(len(u)), np.zeros(len(u))
    return np.vstack([np.column_stack([u, v, one, none]), np.column_stack([v, -u, none, one])])


def least_squares(start, end):
    """The similarity by numpy alone, and what it leaves over at each point."""
    wanted = np.concatenate(end.T)
    fit = np.linalg.lstsq(turned(start), wanted, rcond=None)[0]
    return fit, np.hypot(*(turned(start) @ fit - wanted).reshape(2, -1))


def test_a_lake_is_as_right_as_its_picture_s_points(browser, photo, tmp_path):
    """Positions off by a phone's metres: the page tells the residual, the lake is off no more."""
    off = np.array([[4.0, -3.0], [-5.0, 1.0], [2.0, 4.0], [-1.0, -2.0]])
    marks = [*MARKS, (-190.0, -120.0)]
    with drawing(browser, tmp_path / "lake") as drawer:
        drawer.choose_picture(photo)
        drawer.until("app.picture.isShown")
        drawer.fix(marks, off=off)
        drawer.step("outline")
        drawer.corners(OUTLINE)
        drawer.click(OUTLINE[0])
        drawer.rest()
        said = drawer.state(
            "[app.picture.told.rms, app.picture.told.points.map((one) => one.residual)]"
        )
        save(drawer)
        drawer.quiet()
    fit, left = least_squares(np.array(marks), np.array(marks) + off)
    rms = float(np.sqrt(np.mean(left**2)))
    assert float(said[0].split()[0]) == pytest.approx(rms / FOOT, abs=2.0)  # a pixel is 2 ft here
    assert [float(text.split()[0]) for text in said[1]] == pytest.approx(left / FOOT, abs=2.5)
    lake = on_ground(read_field(tmp_path / "lake").lake)
    moved = shapely.transform(shapely.Polygon(OUTLINE), lambda xy: (turned(xy) @ fit).reshape(2, -1).T)  # fmt: skip
    assert shapely.hausdorff_distance(lake, moved) < 1.0
    assert shapely.hausdorff_distance(lake, shapely.Polygon(OUTLINE)) < left.max() + 1.0


def test_what_was_traced_moves_along_when_the_picture_is_fixed_better(browser, photo, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        drawer.choose_picture(photo)
        drawer.until("app.picture.isShown")
        drawer.fix(MARKS[:2])
        drawer.step("outline")
        drawer.corners(OUTLINE)
        drawer.click(OUTLINE[0])
        drawer.rest()
        drawer.step("picture")
        field = drawer.page.locator('[data-id="point 1"]')
        field.fill(place(MARKS[1][0] + 40.0, MARKS[1][1]))
        field.press("Tab")
        drawer.page.wait_for_timeout(300)
        drawer.rest()
        save(drawer)
    # two points fix a turn and a scale, by complex numbers
    a, b = (complex(*mark) for mark in MARKS[:2])
    turn = (b + 40 - a) / (b - a)
    truth = [(z.real, z.imag) for z in (a + turn * (complex(*p) - a) for p in OUTLINE)]
    lake = on_ground(read_field(tmp_path / "lake").lake)
    assert shapely.hausdorff_distance(lake, shapely.Polygon(truth)) < 1.0


def test_undo_and_redo_go_corner_by_corner(browser, photo, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        page = drawer.page
        drawer.choose_picture(photo)
        drawer.until("app.picture.isShown")
        drawer.fix()
        drawer.step("outline")
        drawer.corners(OUTLINE)
        drawer.click(OUTLINE[0])
        drawer.rest()
        whole = drawer.state("state.shapes")
        page.locator("#undo").click()
        assert drawer.state("[state.shapes.length, state.open.points.length]") == [0, 24]
        page.keyboard.press("Control+z")
        assert drawer.state("state.open.points.length") == 23
        page.keyboard.press("Control+y")
        page.keyboard.press("Control+Shift+Z")
        drawer.rest()
        assert drawer.state("state.shapes") == whole
        assert page.locator("#redo").is_disabled()
        drawer.quiet()


def test_a_reload_keeps_the_drawing_and_the_picture(browser, photo, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        page = drawer.page
        drawer.choose_picture(photo)
        drawer.until("app.picture.isShown")
        drawer.fix()
        drawer.step("outline")
        drawer.corners(OUTLINE[:20])
        half = drawer.state("state")
        page.reload()
        drawer.ready()
        assert drawer.state("state") == half
        assert drawer.state("[app.picture.isShown, app.picture.isFixed]") == [True, True]
        assert "not saved" in page.locator("#state").inner_text()
        drawer.corners(OUTLINE[20:])
        drawer.click(OUTLINE[0])
        drawer.rest()
        assert len(drawer.state("state.shapes[0].lines[0]")) == len(OUTLINE)
        save(drawer)
        page.reload()
        drawer.ready()
        assert page.locator("#state").inner_text() == "As saved"
        drawer.quiet()


def grid(drawer, place_="41.31, -37.25", size="1300"):
    page = drawer.page
    page.get_by_role("button", name="A plain grid", exact=True).click()
    page.locator('[data-id="place"]').fill(place_)
    page.locator('[data-id="size"]').fill(size)
    page.get_by_role("button", name="Go there").click()
    drawer.until("app.model.state.middle")
    drawer.rest()


BOX = [(-120.0, -80.0), (120.0, -80.0), (120.0, 80.0), (-120.0, 80.0)]


def box(drawer, kind="outline", corners=BOX):
    if drawer.state("state.open && state.open.kind") != kind:
        drawer.step("areas" if kind not in {"outline", "island"} else kind)
        drawer.page.locator(f'[data-id="{kind}"]').click()
    drawer.corners(corners)
    drawer.page.keyboard.press("Enter")
    drawer.rest()


def test_a_shore_that_crosses_itself_is_told_at_once_and_not_saved(browser, tmp_path):
    folder = tmp_path / "lake"
    with drawing(browser, folder) as drawer:
        page = drawer.page
        grid(drawer)
        drawer.corners([BOX[0], BOX[2], BOX[1]])
        page.mouse.move(*drawer.on_screen(BOX[3]))
        drawer.until("!document.getElementById('bar').hidden")
        page.wait_for_timeout(100)
        assert page.locator("#bar .v-conflict").inner_text() == "It crosses itself at the red mark."
        crossing = drawer.state("app.crossings()[0]")
        assert crossing == pytest.approx([0, 0], abs=1.0)
        drawer.click(BOX[3])
        page.keyboard.press("Enter")
        drawer.rest()
        told = page.locator("#panel .wrong li").first.inner_text()
        assert told.startswith("The outline crosses or touches itself")
        page.locator("#save").click()
        drawer.until("!document.getElementById('message').hidden")
        assert "Not saved: The outline crosses" in page.locator("#said").inner_text()
        assert not folder.exists()
        # by hand again: the corner goes back to where it does not cross
        page.keyboard.press("Escape")
        drawer.step("outline")
        page.locator(".held").click()
        drawer.drag(BOX[1], (0.0, 140.0))
        drawer.drag(BOX[3], (-120.0, 100.0))
        drawer.rest()
        assert drawer.state("app.checker.stops") == []
        drawer.quiet()


def test_corners_are_moved_added_and_deleted_by_hand(browser, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        page = drawer.page
        grid(drawer)
        box(drawer)
        drawer.drag((0.0, -80.0), (0.0, -110.0))  # out of a side
        line = np.array(drawer.state("state.shapes[0].lines[0]"))
        assert line == pytest.approx(np.insert(BOX, 1, (0.0, -110.0), axis=0), abs=1.0)
        drawer.drag((0.0, -110.0), (30.0, -120.0))
        drawer.click((120.0, 0.0))  # on a side
        line = np.array(drawer.state("state.shapes[0].lines[0]"))
        truth = [BOX[0], (30.0, -120.0), BOX[1], (120.0, 0.0), *BOX[2:]]
        assert line == pytest.approx(np.array(truth), abs=1.0)
        page.get_by_role("button", name="Delete it", exact=True).click()
        assert len(drawer.state("state.shapes[0].lines[0]")) == 5
        page.locator("#undo").click()
        assert len(drawer.state("state.shapes[0].lines[0]")) == 6
        drawer.quiet()


def test_zones_snap_to_the_shore_unless_the_switch_is_off(browser, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        page = drawer.page
        grid(drawer)
        box(drawer)
        per_m = drawer.state("app.camera.ppm")
        near = 6 / per_m
        corners = [(-120 + near, -80 + near), (-60.0, -80 - near), (-60.0, -50.0), (-110.0, -50.0)]
        box(drawer, "swim_area", corners)
        shore, swim = (np.array(drawer.state(f"state.shapes[{k}].lines[0]")) for k in (0, 1))
        assert swim[0].tolist() == shore[0].tolist()  # a corner, to the last digit
        edge = shapely.LinearRing(shore)
        assert shapely.distance(edge, shapely.points(swim[1])) < 1e-9  # a side
        assert swim[2] == pytest.approx([-60, -50], abs=1.0)
        assert shapely.distance(edge, shapely.points(swim[2])) > 25
        page.locator("#snap").click()
        box(drawer, "hazard", [(120 - near, 0.0), (90.0, 10.0), (90.0, -10.0)])
        hazard = np.array(drawer.state("state.shapes[2].lines[0]"))
        assert shapely.distance(edge, shapely.points(hazard[0])) == pytest.approx(near, abs=0.6)
        drawer.quiet()


def test_a_shore_traced_by_dragging(browser, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        page = drawer.page
        grid(drawer)
        page.get_by_role("button", name="Trace").click()
        angle = np.linspace(0.0, 2 * np.pi, 120)
        circle = np.column_stack([130 * np.cos(angle), 90 * np.sin(angle)])
        page.mouse.move(*drawer.on_screen(circle[0]))
        page.mouse.down()
        for point in circle[1:]:
            page.mouse.move(*drawer.on_screen(point))
        page.mouse.up()
        drawer.rest()
        line = np.array(drawer.state("state.shapes[0].lines[0]"))
        ellipse = shapely.LinearRing(circle[:-1])
        assert 12 < len(line) < 80  # thinned
        assert shapely.hausdorff_distance(shapely.LinearRing(line), ellipse) < 4.0
        drawer.quiet()


def corners_by_keys(drawer, field, start):
    """Through the corners: one is moved, one put in and taken away again, and out of the map."""
    page = drawer.page
    field.focus()
    page.keyboard.press("Escape")
    page.keyboard.press("Tab")  # to the shape
    page.keyboard.press("Enter")  # into it
    page.keyboard.press("Tab")
    assert drawer.state("app.look.chosen.corner") == [0, 1]
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowUp")
    moved = np.array(drawer.state("state.shapes[0].lines[0][1]")) - start
    assert moved == pytest.approx([301 * FOOT, 10 * FOOT])
    said = page.locator("#spoken").inner_text()
    assert said.startswith("Corner 2 of 4, 301.2 ft east")
    page.keyboard.press("Insert")
    assert drawer.state("state.shapes[0].lines[0].length") == 5
    page.keyboard.press("Delete")
    assert drawer.state("state.shapes[0].lines[0].length") == 4
    page.keyboard.press("Control+z")
    page.keyboard.press("Control+z")
    for _ in range(9):  # past the last corner Tab leaves the map
        page.keyboard.press("Tab")
    assert not page.evaluate("document.activeElement === document.getElementById('field')")


def test_everything_by_keys_with_typed_lengths(browser, tmp_path):
    """A lake of 300 by 200 ft from lengths and bearings; no pointer is used on the map."""
    folder = tmp_path / "lake"
    with drawing(browser, folder) as drawer:
        page = drawer.page
        grid(drawer, size="800 ft")
        legs = (("300 ft", "E"), ("200", "0"), ("91.44 m", "270"))
        for length, towards in legs:
            page.locator('[data-id="leg"]').fill(length)
            page.locator('[data-id="towards"]').fill(towards)
            page.keyboard.press("Enter")
        field = page.locator("#field")
        field.focus()
        page.keyboard.press("Enter")  # ends the shape
        drawer.rest()
        truth = np.array([[0, 0], [300, 0], [300, 200], [0, 200]]) * FOOT
        start = np.array(drawer.state("state.shapes[0].lines[0][0]"))
        assert np.array(drawer.state("state.shapes[0].lines[0]")) - start == pytest.approx(truth)
        corners_by_keys(drawer, field, start)
        page.locator('[data-id="step depths"]').press("Enter")
        field.focus()
        page.keyboard.press("ArrowUp")
        page.keyboard.press("Space")
        page.keyboard.type("12")
        page.keyboard.press("Enter")
        drawer.rest()
        assert drawer.state("state.depths.map((one) => one.depth)") == ["12"]
        save(drawer)
        drawer.quiet()
    lake = read_field(folder).lake
    where = LakeProjection.centred_on(lake)
    # (0, 0), (301, 10), (300, 200), (0, 200) ft by the shoelace: (57200 + 60000) / 2
    assert where.project(lake).area == pytest.approx(58_600 * FOOT**2, rel=1e-4)


def test_escape_leaves_a_shape_that_undo_brings_back(browser, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        grid(drawer)
        drawer.corners(BOX[:3])
        drawer.page.keyboard.press("Escape")
        assert drawer.state("state.open") is None
        drawer.page.keyboard.press("Control+z")
        drawer.rest()
        assert drawer.state("state.open.points.length") == 3
        assert drawer.state("app.look.tool") == "draw"


@pytest.mark.parametrize(
    ("data", "name"),
    [
        (b"<svg xmlns='http://www.w3.org/2000/svg' onload='document.title=1'><script>document.title='run'</script></svg>", "lake.png"),
        (b"<!DOCTYPE html><script>document.title='run'</script>", "lake.jpg"),
        (b"\x89PNG\r\n\x1a\n<html><script>document.title='run'</script>", "lake.png"),
        (b"", "lake.png"),
    ],
    ids=["svg", "html", "broken", "empty"],
)  # fmt: skip
def test_what_is_no_picture_is_refused_in_words(browser, tmp_path, data, name):
    with drawing(browser, tmp_path / "lake") as drawer:
        title = drawer.page.title()
        drawer.choose_picture(data, name)
        drawer.until("!document.getElementById('message').hidden")
        said = drawer.page.locator("#said").inner_text()
        assert "no PNG or JPEG" in said or "broken" in said
        assert drawer.state("[app.picture.isShown, state.picture]") == [False, None]
        assert drawer.page.title() == title
        drawer.quiet()


def test_names_are_shown_as_text_and_run_nowhere(browser, tmp_path):
    folder = tmp_path / "lake"
    with drawing(browser, folder) as drawer:
        page = drawer.page
        page.locator('[data-id="name"]').fill(HOSTILE)
        grid(drawer)
        box(drawer)
        box(drawer, "swim_area", [(-50.0, -30.0), (50.0, -30.0), (50.0, 30.0), (-50.0, 30.0)])
        page.keyboard.type(HOSTILE)
        drawer.rest()
        assert page.locator(".held", has_text=HOSTILE).count() == 1
        save(drawer)
        assert page.locator("#title").inner_text() == f"Editing: {HOSTILE}"
        drawer.step("areas")
        assert page.locator(".held", has_text=HOSTILE).count() == 1
        assert page.locator("#app script, #app img").count() == 0
        assert page.title() == f"Editing: {HOSTILE}"
        drawer.quiet()
    assert read_field(folder).zones[0].label == HOSTILE


@pytest.fixture
def tamber(tmp_path):
    folder = tmp_path / "tamber"
    shutil.copytree(DATA / "tamber-lake", folder)
    return folder


def test_a_zone_of_a_field_is_moved_and_the_floats_tell(browser, tamber):
    with drawing(browser, tamber) as drawer:
        page = drawer.page
        before = drawer.state("app.checker.found.effect.headline")
        assert page.locator("#headline").inner_text() == before
        page.locator(".held", has_text="Camp swim area").click()
        drawer.rest()
        lines = drawer.state("app.model.shape(app.look.chosen.key).lines[0]")
        float_ = drawer.state("DATA.floats.find((one) => one.id === '18')")
        assert float_["verdict"] == "clear"
        inner = max(lines, key=lambda corner: corner[1] + corner[0])
        drawer.drag(inner, (float_["x"], float_["y"]))
        page.wait_for_timeout(150)
        drawer.rest()
        changed = page.locator(".row", has_text="clear → conflict")
        assert "18" in changed.first.inner_text()
        assert "Camp swim area" in changed.first.inner_text()
        told = page.locator("#headline").inner_text()
        assert told != before
        save(drawer)
        assert page.locator("#headline").inner_text() == told
        assert page.locator("#panel .written").inner_text() == "zones.geojson"
        drawer.quiet()
    zone = next(one for one in read_field(tamber).zones if one.label == "Camp swim area")
    where = LakeProjection.centred_on(read_field(tamber).lake)
    corner = shapely.points(float_["x"], float_["y"])
    assert shapely.distance(where.project(zone.geometry), corner) < 1.0


def test_a_depth_of_the_file_is_changed_and_another_taken_away(browser, tamber):
    old = read_field(tamber).soundings.depth_m
    with drawing(browser, tamber) as drawer:
        page = drawer.page
        drawer.step("depths")
        first, second = drawer.state("[DATA.soundings[0], DATA.soundings[1]]")
        for x, y, _, _ in (first, second):
            page.evaluate("([x, y]) => app.showBox([x - 20, y - 20, x + 20, y + 20])", [x, y])
            drawer.rest()
            drawer.click((x, y))
            if (x, y) == (first[0], first[1]):
                page.keyboard.type("3.3 m")
                page.keyboard.press("Enter")
            else:
                page.locator("#depth").get_by_role("button", name="Take this").click()
        third = drawer.state("DATA.soundings[2]")
        page.evaluate("([x, y]) => app.showBox([x - 20, y - 20, x + 20, y + 20])", third[:2])
        drawer.rest()
        drawer.click(third[:2])  # looked at, and left as it is
        page.keyboard.press("Enter")
        drawer.rest()
        save(drawer)
        assert page.locator("#panel .written").inner_text() == "soundings.csv"
        drawer.quiet()
    now = read_field(tamber).soundings.depth_m
    assert now[:-1] == pytest.approx(old[2:])
    assert now[-1] == pytest.approx(3.3, abs=1e-3)


def test_a_draft_of_a_field_survives_and_can_be_thrown_away(browser, tamber):
    files = {path.name: path.read_bytes() for path in tamber.iterdir()}
    with drawing(browser, tamber) as drawer:
        page = drawer.page
        page.locator(".held", has_text="shoal").click()
        page.locator('#panel [data-id="delete"]').click()
        drawer.rest()
        page.reload()
        drawer.ready()
        assert drawer.state("state.shapes.some((one) => one.name === 'shoal')") is False
        drawer.step("save")
        page.get_by_role("button", name="Throw this drawing away").click()
        page.get_by_role("button", name="Throw it away").click()
        drawer.until("typeof app !== 'undefined' && app.isReady && !app.model.isChanged")
        assert drawer.state("state.shapes.some((one) => one.name === 'shoal')") is True
        drawer.quiet()
    assert {path.name: path.read_bytes() for path in tamber.iterdir()} == files


def test_a_picture_is_kept_with_the_field_only_if_asked(browser, photo, tmp_path):
    folder = tmp_path / "lake"
    for keep in (False, True):
        with drawing(browser, folder) as drawer:
            drawer.step("picture")
            drawer.choose_picture(photo)
            drawer.until("app.picture.isShown")
            drawer.fix()
            if keep:
                drawer.step("picture")
                drawer.page.get_by_label("Keep the picture with the field").check()
                drawer.step("areas")
                drawer.page.locator('[data-id="swim_area"]').click()
                drawer.corners(SWIM)
                drawer.page.keyboard.press("Enter")
            else:
                drawer.step("outline")
                drawer.corners(OUTLINE)
                drawer.click(OUTLINE[0])
            drawer.rest()
            save(drawer)
            assert (folder / ".plan").exists() is keep
            drawer.quiet()
    assert (folder / ".plan" / "picture.png").read_bytes() == photo
    about = json.loads((folder / ".plan" / "picture.json").read_text())
    assert len(about["points"]) == 3
    with drawing(browser, folder) as drawer:  # another browser, which knows nothing
        assert drawer.state("[app.picture.isShown, app.picture.isFixed]") == [True, True]
        at = drawer.state("applied(app.picture.matrix, [600, 450])")
        where = LakeProjection(*(), **dict(zip(("lon0", "lat0"), drawer.state("state.middle"), strict=True)))  # fmt: skip
        assert at == pytest.approx(np.column_stack(where.to_xy([TRUTH.lon0], [TRUTH.lat0]))[0], abs=0.7)  # fmt: skip
        drawer.quiet()


def a_finger_drags_a_corner(drawer):
    page = drawer.page
    shore = np.array(drawer.state("state.shapes[0].lines[0]"))
    # a corner dragged by a finger that lands 15 px beside it
    x, y = drawer.on_screen(OUTLINE[0])
    touch = page.context.new_cdp_session(page)
    for kind, at in (("touchStart", (x + 15, y)), ("touchMove", (x + 35, y)), ("touchMove", (x + 45, y))):  # fmt: skip
        point = {"x": at[0], "y": at[1]}
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [point]})
        page.wait_for_timeout(30)
    assert page.locator("#loupe").is_visible()
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    drawer.rest()
    moved = np.array(drawer.state("state.shapes[0].lines[0]"))
    ppm = drawer.state("app.camera.ppm")
    assert (moved[0] - shore[0])[0] == pytest.approx(45 / ppm, abs=6 / ppm)
    assert moved[1:].tolist() == shore[1:].tolist()


def test_a_lake_by_touch_on_a_phone(browser, photo, tmp_path):
    folder = tmp_path / "lake"
    with drawing(browser, folder, **PHONE) as drawer:
        page = drawer.page
        drawer.step("picture")
        drawer.choose_picture(photo)
        drawer.until("app.picture.isShown")
        drawer.fix()
        drawer.step("outline")
        drawer.corners(OUTLINE[::2])
        page.get_by_role("button", name="Finish").tap()
        drawer.rest()
        a_finger_drags_a_corner(drawer)
        page.locator("#undo").tap()
        drawer.step("depths")
        for x, y, depth in DEPTHS[:3]:
            drawer.click((x, y))
            page.wait_for_timeout(100)
            page.keyboard.type(depth)
            page.locator("#depth .main").tap()
        page.get_by_role("button", name="Done").tap()
        drawer.rest()
        assert drawer.state("state.depths.map((one) => one.depth)") == ["4", "9", "11.5"]
        save(drawer)
        drawer.quiet()
    truth = shapely.Polygon(OUTLINE[::2])
    lake = on_ground(read_field(folder).lake)
    assert shapely.hausdorff_distance(lake, truth) < 2.5  # a pixel of a phone is 2 m here


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_what_can_be_pressed_is_large_enough_and_nothing_is_cut_off(browser, tamber, size):
    with drawing(browser, tamber, **size) as drawer:
        least = 52 if drawer.touch else 40
        for step in ("picture", "areas", "depths", "save"):
            drawer.step(step)
            found = drawer.page.evaluate(
                """() => [...document.querySelectorAll('button, select, input:not([type=checkbox]):not([type=file]), a.act')]
                    .filter((node) => node.offsetParent && !node.classList.contains('handle') && !node.closest('.leaflet-control'))
                    .map((node) => [node.textContent.trim().slice(0, 30) || node.dataset.id || node.id, node.offsetHeight, node.scrollWidth - node.clientWidth])"""
            )  # fmt: skip
            small = [one for one in found if one[1] < min(least, 44) - 4]
            assert small == []
            assert [one for one in found if one[2] > 2] == []
            assert drawer.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
        drawer.quiet()


def test_a_planner_that_is_gone_is_told_and_the_drawing_stays(browser, tmp_path):
    with drawing(browser, tmp_path / "lake") as drawer:
        grid(drawer)
        box(drawer)
        drawer.context.set_offline(True)
        drawer.page.locator("#save").click()
        drawer.until("!document.getElementById('message').hidden")
        assert "does not answer" in drawer.page.locator("#said").inner_text()
        drawer.context.set_offline(False)
        assert drawer.state("state.shapes.length") == 1
        save(drawer)
    assert read_field(tmp_path / "lake").lake.area > 0
