"""The page's data made small, and scripts and styles that mean the same."""

from lakemap.outputs.compact import CLEAR_KEYS, compact, small_script, small_style


def data(**more):
    given = {
        "floats": [], "soundings": [], "grid": None, "noDepth": -9999,
    }  # fmt: skip
    return given | more


def test_soundings_are_steps():
    packed = compact(data(soundings=[[100, 200, "3"], [150, 180, "4½"], [150, 180, "012"]]))
    assert packed["soundings"] == [100, 200, 3, 50, -20, "4½", 0, 0, 12]


def test_runs_of_blanks_are_one_number():
    grid = {"columns": 4, "depth": [-9999, -9999, 5, 0, -9999, 7, -9999, -9999]}
    assert compact(data(grid=grid))["grid"]["depth"] == [-2, 5, 0, -1, 7, -2]


def test_clearances_are_rows_of_the_keys():
    clearance = {
        "name": "Shore",
        "detail": "gap",
        "amount": "1 ft",
        "state": "clear",
        "kind": "shore",
    }
    one = {
        "clear": [clearance | {"gap": 12}],
        "rows": [["Riser", "20 ft", "designed"]],
        "floatRows": [["Weight", "9 lb"]],
    }
    packed = compact(data(floats=[one]))
    row = packed["floats"][0]["clear"][0]
    assert dict(zip(CLEAR_KEYS, row, strict=False))["gap"] == 12
    assert row[-1] != 0
    names = packed["names"]
    name, value, note = packed["floats"][0]["rows"][0]
    assert (names[name], value, names[note]) == ("Riser", "20 ft", "designed")
    assert names[packed["floats"][0]["floatRows"][0][0]] == "Weight"


def test_floats_in_short_form_stay_as_they_are():
    assert compact(data(floats=[{"id": "1"}]))["floats"] == [{"id": "1"}]


def test_scripts_lose_comments_and_indents_only():
    script = "// about\nconst a = 'http://x'; // kept\n\n  if (a) {\n    b();\n  }\n"
    assert small_script(script) == "const a = 'http://x'; // kept\nif (a) {\nb();\n}\n"
    assert "/*" not in small_style("/* a\n b */ .x {\n  top: 0;\n}\n")
