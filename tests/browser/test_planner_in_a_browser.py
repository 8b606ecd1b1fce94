"""The planner as people use it: floats dragged, pushed, typed, added, saved; wide and by touch."""

import os
import re
import shutil

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from conftest import HERE
from planned_field import (
    HIGH_RADIUS_M,
    PLACES,
    RADIUS_M,
    Plan,
    cells,
    differing,
    served,
    started,
    until,
    write_field,
)

CHROMIUM = os.environ.get("LAKEMAP_CHROMIUM") or shutil.which("chromium")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip
WIDE = {"viewport": {"width": 1440, "height": 900}}
PHONE = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}
NEAR_M = 0.6  # a pixel or two of the map
pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def browser():
    if CHROMIUM is None:
        if os.environ.get("LAKEMAP_BROWSER_REQUIRED"):
            pytest.fail("no Chromium; install it, or name one in LAKEMAP_CHROMIUM")
        pytest.skip("no Chromium; install it, or name one in LAKEMAP_CHROMIUM")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        launched = play.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield launched
        launched.close()


@pytest.fixture
def folder(tmp_path):
    return write_field(tmp_path / "pond", lots={"1": "7"})


@pytest.fixture
def plan(browser, folder):
    with served(folder) as address, Plan(browser, address, **WIDE) as window:
        yield window
        window.quiet()


@pytest.fixture
def phone(browser, folder):
    with served(folder) as address, Plan(browser, address, **PHONE) as window:
        yield window
        window.quiet()


def button(plan, name):
    return plan.page.get_by_role("button", name=name, exact=True)


def changes(plan):
    return plan.page.evaluate("planner.steps.changes")


# --- by hand


def test_first_it_says_what_is_saved(plan):
    assert plan.headline() == "Two conflicts"
    assert plan.unsaved() == "Nothing changed yet"
    assert plan.float("1")["r"] == pytest.approx(RADIUS_M, abs=0.01)
    assert button(plan, "Undo").is_disabled()
    assert button(plan, "Save plan").is_disabled()
    assert plan.page.get_by_role("link", name="Draw lake and zones").first.get_attribute("href") == "./ground"  # fmt: skip


def test_a_float_dragged_out_of_a_circle_ends_two_conflicts(plan):
    plan.choose("1")
    plan.drag("1", -20, 0, drop=False)
    until(plan.page, "byId('headline').textContent", "No conflict left")  # while it is held
    held = plan.float("1")
    assert (held["x"], held["y"]) == pytest.approx((-50, 0), abs=0.3)
    assert plan.unsaved() == "Nothing changed yet"
    plan.page.mouse.up()
    plan.settled()
    assert plan.unsaved() == "1 change, not saved"
    assert [plan.float(name)["verdict"] for name in "123"] == ["clear"] * 3
    rows = plan.page.locator("#rows .row").all_inner_texts()
    assert any("Moved 20" in row and "west" in row and "conflict → clear" in row for row in rows)
    assert any("Not moved; float 1 made room" in row for row in rows)
    gaps = plan.page.evaluate("planner.field.look.chosen.clear.filter((one) => one.against === '2').map((one) => one.gap)")  # fmt: skip
    # the primaries are as far apart as the plan has them, less two circles
    far = -16 - plan.float("1")["x"] - 2 * RADIUS_M
    assert gaps == [pytest.approx(100 * far, abs=2)]


def test_a_float_that_is_not_chosen_goes_with_the_mouse_at_once(plan):
    plan.choose("3")
    plan.drag("3", 0, -10)  # now the map is near
    plan.page.get_by_role("button", name="Whole lake").click()
    plan.drag("2", 10, 0)
    assert plan.page.evaluate("planner.field.look.chosen.id") == "2"
    assert changes(plan).keys() == {"2", "3"}
    assert plan.float("2")["x"] == pytest.approx(-6, abs=NEAR_M)


def test_escape_puts_a_held_float_back_and_then_undoes_moves(plan):
    plan.choose("1")
    plan.drag("1", -20, 0, drop=False)
    plan.page.keyboard.press("Escape")
    plan.page.mouse.up()
    plan.settled()
    assert changes(plan) == {}
    assert plan.float("1")["x"] == pytest.approx(-30, abs=0.01)
    assert plan.headline() == "Two conflicts"
    plan.drag("1", -20, 0)
    assert plan.headline() == "No conflict left"
    plan.page.keyboard.press("Escape")
    plan.settled()
    assert plan.float("1")["x"] == pytest.approx(-30, abs=0.01)
    assert plan.headline() == "Two conflicts"
    plan.page.keyboard.press("Escape")
    assert plan.page.evaluate("planner.field.look.chosen") is None


def test_arrow_keys_move_it_and_a_run_of_them_is_one_step(plan):
    plan.choose("1")
    for key in ("ArrowLeft", "ArrowLeft", "ArrowLeft", "Shift+ArrowUp"):
        plan.page.keyboard.press(key)
    plan.settled()
    f = plan.float("1")
    assert (f["x"], f["y"]) == pytest.approx((-30 - 3 * 0.25, 2.5), abs=0.01)
    plan.page.keyboard.press("Control+z")
    plan.settled()
    assert changes(plan) == {}
    plan.page.wait_for_timeout(1100)  # a second later it is another run
    plan.page.keyboard.press("ArrowLeft")
    plan.page.wait_for_timeout(1100)
    plan.page.keyboard.press("ArrowLeft")
    plan.page.keyboard.press("Control+z")
    plan.settled()
    assert plan.float("1")["x"] == pytest.approx(-30.25, abs=0.01)


def test_with_no_float_chosen_arrows_move_the_map(plan):
    before = plan.page.evaluate("planner.field.map.getCenter().lng")
    plan.page.locator("#field").focus()
    plan.page.keyboard.press("ArrowRight")
    plan.page.wait_for_timeout(400)
    assert plan.page.evaluate("planner.field.map.getCenter().lng") > before
    assert changes(plan) == {}


# --- typing


def test_a_riser_typed_changes_the_circle(plan):
    plan.choose("1")
    plan.page.get_by_label("Riser").fill("8")
    until(plan.page, "Object.keys(planner.steps.changes).length", 1)
    plan.settled()
    assert changes(plan) == {"1": {"riser_length": "8"}}
    assert plan.float("1")["r"] == pytest.approx((12**2 - 8**2) ** 0.5 + 2.5, abs=0.02)
    assert "was 6" in plan.page.locator("#about-riser_length").inner_text()
    plan.page.get_by_label("Riser").fill("6 m")
    until(plan.page, "Object.keys(planner.steps.changes).length", 0)  # that is what is saved
    plan.settled()
    assert plan.float("1")["r"] == pytest.approx(RADIUS_M, abs=0.01)


def test_what_can_not_be_read_is_said_beside_its_field_and_not_saved(plan, folder):
    before = (folder / "floats.csv").read_bytes()
    plan.choose("1")
    plan.page.get_by_label("Ground chain").fill("a lot")
    until(plan.page, "byId('of-ground_length').getAttribute('aria-invalid')", "true")
    note = plan.page.locator("#about-ground_length")
    assert "a lot" in note.inner_text()
    assert plan.page.get_by_label("Ground chain").get_attribute("aria-describedby") == "about-ground_length"  # fmt: skip
    assert plan.float("1")["r"] == pytest.approx(RADIUS_M, abs=0.01)
    plan.page.keyboard.press("Control+s")
    assert "can’t be read" in plan.page.get_by_role("dialog").inner_text()
    assert (folder / "floats.csv").read_bytes() == before


def test_a_blank_is_filled_by_the_tool_and_the_field_says_so(plan):
    """Of a float that is set, what stands in for a blank is assumed; of a proposed one, designed."""
    plan.choose("1")
    plan.page.get_by_label("Riser").fill("")
    until(plan.page, "byId('about-riser_length').textContent.startsWith('assumed')")
    riser = plan.page.get_by_label("Riser")
    assert riser.input_value() == ""
    assert riser.get_attribute("placeholder").endswith(" m")


def test_typing_in_one_field_is_one_step(plan):
    plan.choose("1")
    riser = plan.page.get_by_label("Riser")
    riser.fill("7")
    until(plan.page, "JSON.stringify(planner.steps.changes)", '{"1":{"riser_length":"7"}}')
    riser.fill("7.5")
    until(plan.page, "JSON.stringify(planner.steps.changes)", '{"1":{"riser_length":"7.5"}}')
    riser.press("Escape")
    plan.page.keyboard.press("Control+z")
    plan.settled()
    assert changes(plan) == {}


# --- undo, redo, put back


def test_undo_and_redo_by_button_and_by_key(plan):
    plan.choose("1")
    plan.drag("1", -20, 0)
    plan.choose("3")
    plan.page.get_by_label("Deck length").fill("5")
    until(plan.page, "Object.keys(planner.steps.changes).length", 2)
    plan.settled()
    button(plan, "Undo").click()
    plan.settled()
    assert changes(plan).keys() == {"1"}
    button(plan, "Undo").click()
    plan.settled()
    assert (changes(plan), plan.headline()) == ({}, "Two conflicts")
    assert button(plan, "Undo").is_disabled()
    plan.page.keyboard.press("Control+y")
    plan.page.keyboard.press("Control+Shift+z")
    plan.settled()
    assert changes(plan).keys() == {"1", "3"}
    assert plan.headline() == "No conflict left"


def test_each_change_can_be_put_back(plan):
    plan.choose("1")
    plan.drag("1", -20, 0)
    button(plan, "Put float 1 back as it is saved").click()
    plan.settled()
    assert (changes(plan), plan.headline()) == ({}, "Two conflicts")
    assert plan.float("1")["x"] == pytest.approx(-30, abs=0.01)


# --- new floats


def add_at(plan, x, y):
    button(plan, "Add a float").click()
    plan.page.mouse.click(*plan.at(x, y))


def test_a_float_added_where_there_is_room_stands_there(plan):
    add_at(plan, 50, -50)
    until(plan.page, "planner.field.look.chosen && planner.field.look.chosen.id", "4")
    plan.settled()
    assert changes(plan)["4"] | {"x": 0, "y": 0} == {"new": True, "x": 0, "y": 0, "length": "4 m", "width": "3 m"}  # fmt: skip
    f = plan.float("4")
    assert (f["x"], f["y"]) == pytest.approx((50, -50), abs=NEAR_M)
    assert f["verdict"] == "clear"
    plan.page.keyboard.press("Control+z")
    plan.settled()
    assert plan.float("4") is None


def test_why_not_here_and_the_nearest_place_where_it_may_lie(plan):
    add_at(plan, 40, 34)
    dialog = plan.page.get_by_role("dialog")
    dialog.wait_for()
    assert "float 3" in dialog.inner_text()
    assert changes(plan) == {}
    dialog.get_by_role("button", name="Put it there").click()
    until(plan.page, "planner.field.look.chosen && planner.field.look.chosen.id", "4")
    plan.settled()
    assert plan.float("4")["verdict"] in {"clear", "tight"}
    assert plan.headline() == "Two conflicts left"


def test_it_may_be_put_there_all_the_same(plan):
    add_at(plan, 40, 34)
    button(plan, "Put it here all the same").click()
    until(plan.page, "planner.field.look.chosen && planner.field.look.chosen.id", "4")
    plan.settled()
    assert plan.headline() == "Four conflicts left"
    button(plan, "Take this new float away").click()
    plan.settled()
    assert (changes(plan), plan.headline()) == ({}, "Two conflicts")


def test_a_float_is_added_by_keyboard_at_the_middle_of_the_map(plan):
    button(plan, "Add a float").press("Enter")
    plan.page.keyboard.press("Enter")
    plan.page.get_by_role("dialog").wait_for()  # the middle is too near to float 2
    plan.page.keyboard.press("Escape")
    assert not plan.page.get_by_role("dialog").is_visible()
    assert changes(plan) == {}


def test_best_places_stand_by_letter_and_take_a_float(plan):
    button(plan, "Look for places").click()
    until(plan.page, "planner.places.state", "done")
    plan.page.get_by_role("button", name=re.compile("^Place A ")).click()
    button(plan, "Put a float here").click()
    until(plan.page, "planner.field.look.chosen && planner.field.look.chosen.id", "4")
    plan.settled()
    assert plan.float("4")["verdict"] == "clear"
    assert plan.headline() == "Two conflicts left"
    assert "The plan has changed" in plan.page.locator("#rows").inner_text()


def test_a_float_retired_and_brought_back(plan):
    plan.choose("2")
    button(plan, "Retire this float").click()
    plan.settled()
    assert changes(plan) == {"2": {"status": "retired"}}
    assert plan.headline() == "No conflict left"
    button(plan, "Bring it back").click()
    plan.settled()
    assert (changes(plan), plan.headline()) == ({}, "Two conflicts")


# --- water and wind


def test_higher_water_draws_smaller_circles_until_it_is_put_back(plan):
    slider = plan.page.get_by_role("slider", name="Lake level")
    slider.press("End")
    assert slider.get_attribute("aria-valuetext") == "high +1 m"
    until(plan.page, f"Math.abs(BY_ID.get('3').radii[0] - {HIGH_RADIUS_M}) < 0.02")
    until(plan.page, "byId('level-note').textContent.startsWith('At +1')")
    assert plan.headline() == "Two conflicts"  # low water decides
    button(plan, "Lake level and wind as stored").click()
    assert plan.float("3")["r"] == pytest.approx(RADIUS_M, abs=0.01)
    assert slider.get_attribute("aria-valuetext") == "low 0 m"


def test_the_dial_turns_all_floats_into_one_wind(plan):
    dial = plan.page.get_by_role("slider", name="Wind from")
    dial.press("Home")
    assert dial.get_attribute("aria-valuetext") == "N, 0°"
    until(plan.page, "FLOATS.every((f) => f.lies === 180)")
    for name, (x, y) in PLACES.items():
        hook = plan.float(name)["hook"]
        assert hook[0] == pytest.approx(x, abs=0.05)
        assert y - 6.05 < hook[1] < y
    dial.press("ArrowRight")
    assert dial.get_attribute("aria-valuenow") == "5"


def test_what_moves_while_a_wind_is_shown_lies_in_it_too(plan):
    plan.page.get_by_role("slider", name="Wind from").press("Home")
    plan.choose("1")
    plan.drag("1", -20, 0)
    until(plan.page, "Math.abs(BY_ID.get('1').hook[0] - BY_ID.get('1').x) < 0.05")
    assert plan.float("1")["lies"] == 180
    assert plan.headline() == "No conflict left"


# --- saving


def test_save_changes_only_the_cells_that_changed(plan, folder):
    path = folder / "floats.csv"
    was, before = path.read_bytes(), cells(path)
    plan.choose("1")
    plan.drag("1", -20, 5)
    plan.page.get_by_label("Riser").fill("6.5")
    until(plan.page, "planner.steps.changes['1'].riser_length", "6.5")
    plan.settled()
    wanted = plan.float("1")
    plan.page.keyboard.press("Control+s")
    dialog = plan.page.get_by_role("dialog")
    dialog.wait_for()
    assert "floats.csv" in dialog.inner_text()
    after = cells(path)
    changed = differing(before, after)
    assert changed.keys() == {("1", "lon"), ("1", "lat"), ("1", "riser_length_m")}
    assert changed["1", "riser_length_m"] == "6.5"
    x, y = HERE.to_xy([float(after["1"]["lon"])], [float(after["1"]["lat"])])
    assert (x[0], y[0]) == pytest.approx((wanted["x"], wanted["y"]), abs=0.01)
    kept = [one for one in folder.iterdir() if one.name.startswith("floats.csv.")]
    assert [one.read_bytes() for one in kept] == [was]
    assert plan.unsaved() == "All is saved"
    button(plan, "Close").click()
    plan.page.reload()
    until(plan.page, "typeof planner !== 'undefined' && planner.answer !== null")
    assert plan.float("1")["x"] == pytest.approx(wanted["x"], abs=0.01)
    assert (changes(plan), plan.unsaved()) == ({}, "Nothing changed yet")


def test_conflicts_are_told_when_they_are_saved_and_work_goes_on(plan, folder):
    plan.choose("3")
    plan.drag("3", 0, -10)
    button(plan, "Save plan").click()
    dialog = plan.page.get_by_role("dialog")
    dialog.wait_for()
    assert "Saved with 2 conflicts" in dialog.inner_text()
    button(plan, "Close").click()
    plan.drag("3", 0, -5)
    button(plan, "Save plan").click()
    until(plan.page, "byId('unsaved').textContent", "All is saved")
    after = cells(folder / "floats.csv")["3"]
    y = HERE.to_xy([float(after["lon"])], [float(after["lat"])])[1]
    assert y[0] == pytest.approx(25, abs=NEAR_M)


def test_a_new_and_a_retired_float_are_saved_as_rows(plan, folder):
    before = cells(folder / "floats.csv")
    add_at(plan, 50, -50)
    until(plan.page, "planner.field.look.chosen && planner.field.look.chosen.id", "4")
    plan.choose("2")
    button(plan, "Retire this float").click()
    plan.settled()
    button(plan, "Save plan").click()
    until(plan.page, "byId('unsaved').textContent", "All is saved")
    after = cells(folder / "floats.csv")
    assert {key: value for key, value in differing(before, after).items() if key[0] != "4"} == {("2", "status"): "retired"}  # fmt: skip
    assert (after["4"]["status"], after["4"]["length_m"]) == ("proposed", "4")
    button(plan, "Close").click()
    add_at(plan, -50, -50)
    until(plan.page, "planner.field.look.chosen && planner.field.look.chosen.id", "5")


def test_a_reload_keeps_what_is_not_saved(plan):
    plan.choose("1")
    plan.drag("1", -20, 0)
    kept = changes(plan)
    plan.page.reload()
    until(plan.page, "typeof planner !== 'undefined' && planner.answer !== null")
    assert changes(plan) == kept
    assert "Your plan of 1 change is back." in plan.page.locator("#message").inner_text()
    assert plan.headline() == "No conflict left"
    button(plan, "Drop it").click()
    plan.settled()
    assert (changes(plan), plan.headline()) == ({}, "Two conflicts")
    plan.page.reload()
    until(plan.page, "typeof planner !== 'undefined' && planner.answer !== null")
    assert changes(plan) == {}


def test_what_is_changed_while_it_saves_is_not_lost(plan, folder):
    plan.choose("1")
    plan.drag("1", -20, 0)

    def push_on(route):
        plan.page.keyboard.press("Shift+ArrowUp")
        route.continue_()

    plan.page.route("**/ask/save", push_on)
    button(plan, "Save plan").click()
    until(
        plan.page,
        "typeof planner !== 'undefined' && planner.answer !== null && byId('said').textContent.startsWith('Saved')",
    )
    assert changes(plan).keys() == {"1"}
    f = plan.float("1")
    assert (f["x"], f["y"]) == pytest.approx((-50, 2.5), abs=NEAR_M)
    row = cells(folder / "floats.csv")["1"]
    assert HERE.to_xy([float(row["lon"])], [float(row["lat"])])[1][0] == pytest.approx(
        0, abs=NEAR_M
    )


def test_leaving_with_an_unsaved_plan_is_asked(plan):
    plan.choose("1")
    plan.drag("1", -20, 0)
    asked = []
    plan.page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    plan.page.close(run_before_unload=True)
    for _ in range(100):
        if asked:
            break
        plan.page.wait_for_timeout(50)
    assert asked == ["beforeunload"]


def test_of_two_windows_the_second_save_is_refused_and_its_plan_kept(plan, folder):
    other = plan.window(plan.origin)
    plan.page.bring_to_front()
    plan.choose("1")
    plan.drag("1", -20, 0)
    button(plan, "Save plan").click()
    until(plan.page, "byId('unsaved').textContent", "All is saved")
    saved = (folder / "floats.csv").read_bytes()
    other.bring_to_front()
    first, plan.page = plan.page, other
    plan.choose("3")
    plan.drag("3", 0, -10)
    button(plan, "Save plan").click()
    dialog = other.get_by_role("dialog")
    dialog.wait_for()
    assert "changed since this page read it" in dialog.inner_text()
    assert (folder / "floats.csv").read_bytes() == saved
    assert plan.unsaved() == "1 change, not saved"
    dialog.get_by_role("button", name="Read the folder again").click()
    until(other, "typeof planner !== 'undefined' && planner.answer !== null && byId('headline').textContent", "No conflict left")  # fmt: skip
    assert changes(plan).keys() == {"3"}
    assert plan.float("1")["x"] == pytest.approx(-50, abs=NEAR_M)
    button(plan, "Save plan").click()
    until(other, "byId('unsaved').textContent", "All is saved")
    first.close()


@pytest.mark.parametrize("is_late", [False, True], ids=["before it asks", "before it hears"])
def test_a_planner_killed_while_it_saves_leaves_a_whole_file(browser, folder, is_late):
    path = folder / "floats.csv"
    before = cells(path)
    with started(folder) as (address, run), Plan(browser, address, **WIDE) as plan:
        plan.choose("1")
        plan.drag("1", -20, 0)

        def kill(route):
            if is_late:
                route.fetch()
            run.kill()
            run.wait()
            route.abort()

        plan.page.route("**/ask/save", kill)
        button(plan, "Save plan").click()
        dialog = plan.page.get_by_role("dialog")
        dialog.wait_for()
        assert "stopped answering" in dialog.inner_text()
        until(
            plan.page,
            "!byId('lost').hidden && byId('lost').textContent.includes('does not answer')",
        )
        changed = differing(before, cells(path)).keys()
        assert changed == ({("1", "lon"), ("1", "lat")} if is_late else set())
        assert plan.unsaved() == "1 change, not saved"
        assert plan.page.evaluate(
            "Object.values(localStorage).some((text) => text.includes('\"x\"'))"
        )


def test_a_planner_that_is_silent_for_a_while_is_asked_again(plan):
    plan.choose("1")
    plan.page.route("**/ask/plan", lambda route: route.abort())
    plan.page.keyboard.press("ArrowLeft")
    until(plan.page, "byId('lost').hidden", wanted=False)
    plan.page.keyboard.press("ArrowLeft")
    assert plan.float("1")["x"] == pytest.approx(-30.5, abs=0.01)
    plan.page.unroute("**/ask/plan")
    until(plan.page, "byId('lost').hidden")
    plan.settled()
    assert plan.float("1")["x"] == pytest.approx(-30.5, abs=0.01)
    plan.said.clear()  # the browser tells of each ask that failed


# --- beside the saved field


def test_compare_lists_what_differs_and_goes_back(plan):
    plan.choose("1")
    plan.drag("1", -20, 0)
    button(plan, "Compare with saved").click()
    until(plan.page, "planner.compared !== null")
    rows = plan.page.locator("#rows")
    assert "Compared with saved" in rows.inner_text()
    assert "Moved 20" in rows.inner_text()
    button(plan, "Compare with saved").click()
    assert "What changed" in rows.inner_text()


# --- by touch


def swipe(plan, start, end):
    """One finger, from place to place on the screen."""
    session = plan.page.context.new_cdp_session(plan.page)
    for share in np.linspace(0, 1, 10).tolist():
        x, y = (a + (b - a) * share for a, b in zip(start, end, strict=True))
        kind = "touchMove" if share else "touchStart"
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    session.detach()


def test_by_touch_a_float_is_chosen_dragged_and_saved(phone, folder):
    before = cells(folder / "floats.csv")
    page = phone.page
    page.touchscreen.tap(*phone.at(*PLACES["1"]))
    until(page, "planner.field.look.chosen && planner.field.look.chosen.id", "1")
    phone.settled()
    swipe(phone, phone.at(-30, 0), phone.at(-30, 15))
    phone.settled()
    assert phone.float("1")["y"] == pytest.approx(15, abs=NEAR_M)
    assert phone.unsaved() == "1 change, not saved"
    page.get_by_role("button", name="Undo", exact=True).tap()
    phone.settled()
    assert changes(phone) == {}
    page.get_by_role("button", name="Redo", exact=True).tap()
    phone.settled()
    page.get_by_role("button", name="Save plan").tap()
    until(page, "byId('unsaved').textContent", "All is saved")
    assert differing(before, cells(folder / "floats.csv")).keys() == {("1", "lon"), ("1", "lat")}


def test_by_touch_the_map_moves_where_no_handle_is(phone):
    page = phone.page
    centre = page.evaluate("planner.field.map.getCenter().lng")
    x, y = phone.at(0, 0)
    swipe(phone, (x, y), (x - 80, y))
    page.wait_for_timeout(300)
    assert page.evaluate("planner.field.map.getCenter().lng") > centre
    assert changes(phone) == {}


def test_the_phone_has_all_in_reach(phone):
    page = phone.page
    for name in ("Undo", "Redo", "Add a float", "Save plan"):
        box = page.get_by_role("button", name=name, exact=True).bounding_box()
        assert box["height"] >= 52
        assert box["width"] >= 52
        assert box["y"] > 844 * 0.6
    for name, inside in (
        ("Changes", "#find"),
        ("Float", "#panel h2"),
        ("Water and wind", "#slide-wind"),
    ):
        tab = page.get_by_role("tab", name=name)
        assert tab.bounding_box()["height"] >= 52
        tab.tap()
        page.wait_for_timeout(300)
        assert page.locator(inside).is_visible()
        assert page.get_by_role("button", name="Save plan").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


# --- many floats


def test_two_thousand_floats_are_dragged(browser, tmp_path):
    rng = np.random.default_rng(6)
    places = {
        str(k + 1): tuple(at) for k, at in enumerate(rng.uniform(-1800, 1800, (2000, 2)).tolist())
    }
    folder = write_field(tmp_path / "many", places=places, side_m=4000.0)
    with served(folder) as address, Plan(browser, address, **WIDE) as plan:
        plan.choose("1000")
        x, y = places["1000"]
        plan.drag("1000", 3, 2)
        f = plan.float("1000")
        assert (f["x"], f["y"]) == pytest.approx((x + 3, y + 2), abs=NEAR_M)
        assert plan.page.locator("#rows .row").count() < 400  # made only where they are seen
        assert plan.page.evaluate("FLOATS.length") == 2000
        plan.quiet()


# --- for everybody


def nodes(plan):
    session = plan.page.context.new_cdp_session(plan.page)
    tree = session.send("Accessibility.getFullAXTree")["nodes"]
    session.detach()
    return [one for one in tree if not one.get("ignored")]


CONTROLS = {"button", "textbox", "searchbox", "slider", "checkbox", "tab", "link", "dialog"}


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_every_control_has_a_name(browser, folder, size):
    with served(folder) as address, Plan(browser, address, **size) as plan:
        plan.choose("1") if size is WIDE else plan.page.evaluate("planner.choose(BY_ID.get('1'))")
        plan.settled()
        for tab in plan.page.get_by_role("tab").all():
            tab.tap()
            found = [one for one in nodes(plan) if one["role"]["value"] in CONTROLS]
            assert [one for one in found if not one["name"]["value"].strip()] == []
        found = [one for one in nodes(plan) if one["role"]["value"] in CONTROLS]
        assert len(found) > 8
        assert [one for one in found if not one["name"]["value"].strip()] == []


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_a_checker_finds_nothing_in_any_state(browser, folder, size):
    """Contrast, names, roles, places of everything: the general rules of the axe library."""
    with served(folder) as address, Plan(browser, address, **size) as plan:

        def check(state):
            found = Axe().run(plan.page).response["violations"]
            assert [(state, one["id"], one["nodes"][0]["html"]) for one in found] == []

        check("first")
        plan.page.evaluate("planner.choose(BY_ID.get('1'))")
        plan.page.evaluate(
            "planner.set({ 1: { x: -50, y: 0, ground_length: 'no length' }, 2: { status: 'retired' } })"
        )
        plan.settled()
        for tab in plan.page.get_by_role("tab").all():
            tab.tap()
            check("a tab")
        check("changed")
        plan.page.evaluate(
            "Told.open('A title', [lines(['a line'])], [['One', null], ['Two', null]])"
        )
        check("a card")
        plan.page.evaluate("Told.shut(); planner.silent(''); planner.compare(true); ACTS.more()")
        check("silent, compared, menu")


def test_all_can_be_done_from_the_keyboard_alone(plan):
    page = plan.page
    page.keyboard.press("/")
    page.keyboard.type("1")
    page.keyboard.press("Enter")
    until(page, "planner.field.look.chosen && planner.field.look.chosen.id", "1")
    assert page.evaluate("document.activeElement.id") == "field"
    for _ in range(8):
        page.keyboard.press("Shift+ArrowLeft")
    plan.settled()
    assert plan.headline() == "No conflict left"
    reached = set()
    for _ in range(40):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("(document.activeElement.getAttribute('aria-label') || document.activeElement.id || document.activeElement.textContent).trim()"))  # fmt: skip
    assert {
        "of-riser_length",
        "slide-level",
        "slide-wind",
        "Wind from",
        "Save plan",
        "Undo",
    } <= reached
    page.keyboard.press("Control+s")
    until(page, "byId('unsaved').textContent", "All is saved")


def test_names_from_the_files_are_text(browser, tmp_path):
    names = ['<img src=x onerror="document.title=1">', "</script><b>", "`${1}`"]
    places = dict(zip(names, PLACES.values(), strict=True))
    folder = write_field(tmp_path / "odd", places=places, lots=dict.fromkeys(names, "<i>7</i>"))
    with served(folder) as address, Plan(browser, address, **WIDE) as plan:
        plan.choose(names[0])
        plan.drag(names[0], -20, 0)
        assert names[0] in plan.page.locator("#rows").inner_text()
        assert plan.page.locator("#app img, #app i").count() == 0
        assert plan.page.title() == "Planning: Square Pond"
        plan.quiet()
