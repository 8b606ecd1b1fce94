"""The page's data made small, and scripts and styles that mean the same."""

from lakemap.outputs.web.compact import CLEAR_KEYS, compact, small_script, small_style


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


def unpacked(packed):
    """Floats as dicts again, words that stand as numbers as words again."""
    names = packed["names"]
    floats = [dict(zip(packed["floatKeys"], row, strict=True)) for row in packed["floats"]]
    for one in floats:
        one["clear"] = [
            {
                key: names[value] if key in WORDS and isinstance(value, int) else value
                for key, value in zip(packed["clearKeys"], row, strict=False)
            }
            for row in one.get("clear", ())
        ]
    return floats


CLEARANCE = {
    "name": "Shore",
    "detail": "gap",
    "amount": "1 ft",
    "state": "clear",
    "kind": "shore",
    "against": "lake",
}
TABLES = {"rows": [], "floatRows": [], "cautions": []}
WORDS = {key for key in CLEAR_KEYS if key not in {"bar", "to", "gap"}}


def test_clearances_are_rows_of_the_keys():
    one = {
        "clear": [CLEARANCE | {"gap": 12}],
        "rows": [["Riser", "20 ft", "designed"]],
        "floatRows": [["Weight", "9 lb"]],
        "cautions": ["local_codes"],
    }
    packed = compact(data(floats=[one]))
    (found,) = unpacked(packed)
    assert packed["floats"][0][0][0][-1] != 0
    assert found["clear"][0]["gap"] == 12
    assert found["clear"][0]["name"] == "Shore"
    names = packed["names"]
    name, value, note = found["rows"][0]
    assert (names[name], value, names[note]) == ("Riser", "20 ft", "designed")
    assert names[found["floatRows"][0][0]] == "Weight"
    assert [names[k] for k in found["cautions"]] == ["local_codes"]


def test_words_that_come_again_stand_once():
    """Also those that look like numbers: a float's name may be 15."""
    ones = [
        TABLES | {"id": str(k), "clear": [CLEARANCE | {"against": "15", "detail": f"gap {k}"}] * 2}
        for k in range(3)
    ]
    packed = compact(data(floats=ones))
    assert packed["names"].count("15") == 1
    assert packed["names"][0] == ""
    for one, given in zip(unpacked(packed), ones, strict=True):
        for key, value in given["clear"][0].items():
            assert one["clear"][0][key] == value
            assert type(one["clear"][0][key]) is type(value)
    once = compact(data(floats=[TABLES | {"clear": [CLEARANCE]}]))
    assert "gap" not in once["names"]  # a number and its entry would be longer
    assert unpacked(once)[0]["clear"][0]["detail"] == "gap"


def test_floats_in_short_form_keep_their_values():
    packed = compact(data(floats=[{"id": "1", "x": 3}, {"id": "2", "x": 4}]))
    assert packed["floatKeys"] == ["id", "x"]
    assert packed["floats"] == [["1", 3], ["2", 4]]
    assert compact(data())["floats"] == []


def test_scripts_lose_comments_and_indents_only():
    script = "// about\nconst a = 'http://x'; // kept\n\n  if (a) {\n    b();\n  }\n"
    assert small_script(script) == "const a = 'http://x'; // kept\nif (a) {\nb();\n}\n"


def test_styles_lose_what_means_nothing():
    style = (
        "/* a\n b */ .x > i,\n.y :hover {\n  top: 0;\n  margin: 0 1px; color: rgb(0 0 0 / 5%);\n}\n"
        "@media (max-width: 2em) { .z a:focus { width: calc(1px + 2em); } }\n"
    )
    assert small_style(style) == (
        ".x > i,.y :hover{top:0;margin:0 1px;color:rgb(0 0 0 / 5%)}"
        "@media (max-width:2em){.z a:focus{width:calc(1px + 2em)}}"
    )
