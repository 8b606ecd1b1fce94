"""The table of texts: places, plural forms, what a translation may get wrong, who uses it."""

import re
import tomllib
from importlib.resources import files
from pathlib import Path

import pytest
from pseudo_language import PSEUDO

import lakemap.outputs
from lakemap.basis.errors import BadInputError
from lakemap.outputs.words.plurals import FORMS, PLURALS, forms_of, plural_rule
from lakemap.outputs.words.texts import ENGLISH, SCRIPT_SECTIONS, Texts, read_texts

OUTPUTS = Path(lakemap.outputs.__file__).parent
EN = files("lakemap.outputs.words").joinpath("languages", "en.toml").read_text(encoding="utf-8")


def made(tmp_path, *changes, name="fr.toml"):
    """A copy of the English table with some lines put otherwise."""
    text = EN
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def problems(path):
    with pytest.raises(BadInputError) as caught:
        read_texts(path)
    return [problem.line() for problem in caught.value.problems]


def test_places_are_filled_and_thousands_parted():
    texts = Texts(code="en", table={"a": "{thing} has {count}", "b": "{x}{x}"})
    assert texts.of("a", thing="{count}", count=1200) == "{count} has 1,200"
    assert texts.of("b", x="ab") == "abab"
    with pytest.raises(KeyError):
        texts.of("a", thing="x")


# Unicode CLDR, cardinal rules, by hand: Polish 1 · 2-4 but not 12-14 · the rest; Czech 1 · 2-4 · the
# rest; Russian 1 but not 11 · 2-4 but not 12-14 · the rest; French 0 and 1 · the rest.
@pytest.mark.parametrize(
    ("code", "by_form"),
    [
        ("en", {"one": [1], "other": [0, 2, 11, 21, 101]}),
        ("en-GB", {"one": [1], "other": [0, 2]}),
        ("fr", {"one": [0, 1], "other": [2, 10, 101]}),
        ("pt", {"one": [0, 1], "other": [2]}),
        ("pt-PT", {"one": [1], "other": [0, 2]}),
        ("pl", {"one": [1], "few": [2, 4, 22, 104], "many": [0, 5, 11, 12, 14, 21, 101, 112]}),
        ("cs", {"one": [1], "few": [2, 3, 4], "other": [0, 5, 22, 102]}),
        ("uk", {"one": [1, 21, 101], "few": [2, 24, 104], "many": [0, 5, 11, 14, 111, 112]}),
        ("ja", {"other": [0, 1, 2]}),
    ],
)
def test_plural_forms(code, by_form):
    rule = plural_rule(code)
    assert {
        form: [n for n in numbers if rule(n) == form] for form, numbers in by_form.items()
    } == by_form
    assert forms_of(code) == by_form.keys()


def test_a_count_takes_its_form():
    table = {"n": {"one": "{count} jeden", "few": "{count} dwa", "many": "pięć {count}"}}
    texts = Texts(code="pl", table=table)
    assert [texts.of("n", count=n) for n in (1, 3, 12)] == ["1 jeden", "3 dwa", "pięć 12"]
    assert Texts(code="ja", table={"n": "{count} 個"}).of("n", count=1) == "1 個"


def test_english_is_whole_by_its_own_rules(tmp_path):
    assert read_texts(made(tmp_path)) == ENGLISH
    assert forms_of("en") == {"one", "other"}
    assert all(PLURALS[code](0) in FORMS for code in PLURALS)


def test_another_language_is_read(tmp_path):
    path = made(
        tmp_path,
        ('code = "en"', 'code = "ja"'),
        ('secondary = "Secondary"\nblocks = { one = "{count} block", other = "{count} blocks" }',
         'secondary = "二次"\nblocks = "ブロック{count}個"'),
        *[(line, re.sub(r"\{ one = .*, (other = .*) \}", r"{ \1 }", line))
          for line in EN.splitlines() if "{ one = " in line and not line.startswith("blocks =")],
    )  # fmt: skip
    texts = read_texts(path)
    assert texts.code == "ja"
    assert texts.of("way.blocks", count=1) == "ブロック1個"
    assert texts.of("headline.conflict", number="2", count=2) == "2 floats are in conflict"


def test_everything_wrong_is_told_at_once(tmp_path):
    path = made(
        tmp_path,
        ('code = "en"', 'code = "pl"'),
        ('empty = "No floats yet. Add rows to the floats file."\n', ""),
        ('close = "Close this float"', 'clsoe = "Zamknij"'),
        ('near = "Comes within {far} of {thing}; {asked} is asked."', 'near = "{far}, {thign}"'),
        ('title = "Loads in the storm"', "title = 3"),
        ('mean = "Steady pull"', 'mean = { one = "a", few = "b", many = "c" }'),
    )
    said = problems(path)
    for line in (
        "fr.toml list.empty: is missing; in English it is 'No floats yet. Add rows to the floats file.'",
        "fr.toml panel.close: is missing; in English it is 'Close this float'",
        "fr.toml panel.clsoe: is no key; those of languages/en.toml are",
        "fr.toml sentence.near: {thign} is no place of this text; in English it is"
        " 'Comes within {far} of {thing}; {asked} is asked.'",
        "fr.toml sentence.near: {asked} is missing; in English it is"
        " 'Comes within {far} of {thing}; {asked} is asked.'",
        "fr.toml load.title: must be a text, as 'Loads in the storm'",
        "fr.toml load.mean: has plural forms, but no count to choose one by; write one text, as"
        " 'Steady pull'",
        "fr.toml way.blocks: needs the plural forms few, many, one; it has one, other",
    ):
        assert line in said


@pytest.mark.parametrize(
    ("code", "line"),
    [
        ('"xx"', "the plural forms of 'xx' are not known"),
        ('"x y"', "'x y' is no code of a language; write one, as 'fr'"),
        ("7", "7 is no code of a language"),
    ],
)
def test_a_language_without_a_rule_is_refused(tmp_path, code, line):
    said = problems(made(tmp_path, ('code = "en"', f"code = {code}")))
    assert len(said) == 1
    assert said[0].startswith(f"fr.toml language.code: {line}")


def test_a_file_that_is_no_table_is_refused(tmp_path):
    path = tmp_path / "fr.toml"
    path.write_text("= what", encoding="utf-8")
    assert problems(path)[0].startswith("fr.toml: cannot be read: ")
    path.write_text("", encoding="utf-8")
    assert problems(path)[0] == "fr.toml language.code: write one, as 'fr'"
    assert problems(tmp_path / "none.toml")[0].startswith("none.toml: cannot be read: ")


def scripts():
    return {
        path.name: path.read_text(encoding="utf-8")
        for path in (OUTPUTS / "web" / "assets").glob("*.js")
    }


def keys_asked(text, call):
    """Keys that a script or a module asks for; one that is put together is a pattern."""
    sections = {key.partition(".")[0] for key in ENGLISH.table}
    asked = re.findall(call + r"\(\s*f?[`'\"]([^`'\"]+)", text)
    quoted = re.findall(r"[`'\"]([a-z_]+\.[a-z_${}]+)[`'\"]", text)
    files_ = ("css", "js", "html", "toml")
    quoted = [key for key in quoted if not key.endswith(files_)]
    found = {*asked, *(key for key in quoted if key.partition(".")[0] in sections)}
    return {re.escape(re.sub(r"\$?\{.*", "@", key)).replace("@", r"\w+") for key in found}


def test_every_key_that_is_asked_for_stands_in_the_table():
    for name, text in scripts().items():
        for pattern in keys_asked(text, r"\bwords"):
            held = [key for key in ENGLISH.table if re.fullmatch(pattern, key)]
            assert held, (name, pattern)
            sections = {key.partition(".")[0] for key in held}
            extra = {"sites.js": {"site"}, "levels.js": {"gauge"}}.get(name, set())
            assert sections <= set(SCRIPT_SECTIONS) | extra, (name, pattern)
    for path in OUTPUTS.rglob("*.py"):
        for pattern in keys_asked(path.read_text(encoding="utf-8"), r"\btexts\.of"):
            if pattern not in {r"\w+", r"\w+\.\w+"}:  # put together from end to end
                assert any(re.fullmatch(pattern, key) for key in ENGLISH.table), (
                    path.name,
                    pattern,
                )
    page = (OUTPUTS / "web" / "assets" / "page.html").read_text(encoding="utf-8")
    assert set(re.findall(r"<!--text:([\w.]+)-->", page)) <= ENGLISH.table.keys()


def test_scripts_and_markup_hold_no_words_of_their_own():
    """What is shown comes through words(); no letters stand between quotes with a blank in them."""
    page = re.sub(
        r"<!--.*?-->", "", (OUTPUTS / "web" / "assets" / "page.html").read_text(encoding="utf-8")
    )
    assert not re.search(r">[^<]*[A-Za-z]{2}[^<]*<", page)
    assert not re.search(r'(?:aria-label|placeholder|title|alt)="[^"]*[A-Za-z]', page)
    shown = re.compile(
        r"(?:text|'aria-label'|placeholder|textContent)\s*[:=]\s*[`'\"]([^`'\"]*[A-Za-z]{2}[^`'\"]*)"
    )
    for name, text in scripts().items():
        plain = re.sub(r"\$\{[^}]*\}", "", text)
        assert shown.findall(plain) == [], name


def test_the_pseudo_language_has_the_places_and_forms_of_the_table(tmp_path):
    lines = []
    for key, text in PSEUDO.table.items():
        section, _, name = key.partition(".")
        value = (
            f'"{text}"' if isinstance(text, str)
            else "{ " + ", ".join(f'{form} = "{one}"' for form, one in text.items()) + " }"
        )  # fmt: skip
        lines.append(f"{section}.{name} = {value}")
    path = tmp_path / "pl.toml"
    path.write_text('language.code = "pl"\n' + "\n".join(lines), encoding="utf-8")
    assert tomllib.loads(path.read_text(encoding="utf-8"))["language"] == {"code": "pl"}
    assert read_texts(path) == PSEUDO
