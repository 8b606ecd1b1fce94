"""The texts of the map page: one table to a language, of which English ships."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from lakemap.basis.errors import BadInputError, Problem
from lakemap.outputs.words.plurals import FORMS, PLURALS, forms_of, plural_rule

Text = str | Mapping[str, str]  # one text, or one for each plural form

_PLACE: Final = re.compile(r"\{(\w+)\}")
_CODE: Final = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*")
_COUNT: Final = "count"  # the place whose number decides between plural forms
SCRIPT_SECTIONS: Final = (
    "verdict",
    "verdict_begins",
    "count",
    "chosen",
    "compass",
    "map",
    "here",
    "call",
    "list",
    "panel",
    "side",
    "work",
    "load",
    "part",
    "hold",
    "way",
    "deck",
    "amount",
)  # fmt: skip - those that the page's scripts take


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """All texts of the page in one language.

    Parameters
    ----------
    code : str
        Of the language, as `en`.
    table : mapping
        Text by key, as `list.empty`.
    """

    code: str
    table: Mapping[str, Text]

    def of(self, key: str, **places: object) -> str:
        """Return a text with its places filled.

        Parameters
        ----------
        key : str
            Of the text.
        **places : object
            By their names in the text; a whole number gets its thousands parted.

        Returns
        -------
        str
            In the plural form that `count` asks for, where the text has forms.
        """
        text = self.table[key]
        if not isinstance(text, str):
            rule, count = plural_rule(self.code), places[_COUNT]
            text = text[rule(count) if rule and isinstance(count, int) else "other"]
        return _PLACE.sub(lambda found: _shown(places[found.group(1)]), text)

    def sections(self, *names: str) -> dict[str, Text]:
        """Return the texts of some sections by their whole keys.

        Parameters
        ----------
        *names : str
            Of sections.

        Returns
        -------
        dict
            JSON-able.
        """
        return {
            key: text if isinstance(text, str) else dict(text)
            for key, text in self.table.items()
            if key.partition(".")[0] in names
        }


def _shown(value: object) -> str:
    return f"{value:,}" if type(value) is int else str(value)


def _flat(tables: Mapping[str, Any], before: str = "") -> Iterator[tuple[str, Any]]:
    """Each text with its whole key; a table of nothing but plural forms is one text."""
    for name, value in tables.items():
        if isinstance(value, dict) and not (value and value.keys() <= FORMS):
            yield from _flat(value, f"{before}{name}.")
        else:
            yield f"{before}{name}", value


def _texts(read: Mapping[str, Any]) -> Texts:
    table = dict(_flat({name: part for name, part in read.items() if name != "language"}))
    return Texts(code=read["language"]["code"], table=MappingProxyType(table))


def _english() -> Texts:
    file = files("lakemap.outputs.words").joinpath("languages", "en.toml")
    return _texts(tomllib.loads(file.read_text(encoding="utf-8")))


ENGLISH: Final = _english()


def read_texts(path: str | Path) -> Texts:
    """Read the texts of another language.

    Parameters
    ----------
    path : str or path
        A copy of `languages/en.toml` in other words.

    Returns
    -------
    Texts
        Whole: no text is missing, no place misspelt.

    Raises
    ------
    BadInputError
        With everything that is wrong.
    """
    file = Path(path)
    try:
        read = tomllib.loads(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        text = f"cannot be read: {error}"
        raise BadInputError([Problem(code="bad_texts", text=text, file=file.name)]) from error
    wrong = [*_wrong_code(read), *_wrong_texts(read)]
    if wrong:
        raise BadInputError(
            Problem(code="bad_texts", text=text, file=file.name, column=key) for key, text in wrong
        )
    return _texts(read)


def _code(read: Mapping[str, Any]) -> object:
    language = read.get("language")
    return language.get("code") if isinstance(language, dict) else None


def _wrong_code(read: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    code = _code(read)
    if not isinstance(code, str) or not _CODE.fullmatch(code):
        said = "" if code is None else f"{code!r} is no code of a language; "
        yield "language.code", f"{said}write one, as 'fr'"
    elif plural_rule(code) is None:
        known = ", ".join(sorted(PLURALS))
        yield (
            "language.code",
            f"the plural forms of {code!r} are not known; add its rule to outputs/words/plurals.py,"
            f" which has {known}",
        )


def _wrong_texts(read: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    code, english = _code(read), ENGLISH.table
    forms = forms_of(code) if isinstance(code, str) else frozenset()
    table = dict(_flat({name: part for name, part in read.items() if name != "language"}))
    for key, model in english.items():
        if key in table:
            yield from ((key, text) for text in _wrong_text(table[key], model, forms))
        else:
            yield key, f"is missing; in English it is {_sample(model)!r}"
    for key in sorted(table.keys() - english.keys()):
        yield key, "is no key; those of languages/en.toml are"


def _sample(text: Text) -> str:
    return text if isinstance(text, str) else text["other"]


def _wrong_text(text: object, english: Text, forms: frozenset[str]) -> Iterator[str]:
    """What is wrong with one text, held against the English one."""
    said = _sample(english)
    if isinstance(text, str):
        yield from _wrong_places(text, english, "")
    elif not isinstance(text, dict) or not all(isinstance(one, str) for one in text.values()):
        yield f"must be a text, as {said!r}"
    elif isinstance(english, str) and f"{{{_COUNT}}}" not in english:
        yield f"has plural forms, but no count to choose one by; write one text, as {said!r}"
    else:
        if forms and text.keys() != forms:
            has = ", ".join(sorted(text))
            yield f"needs the plural forms {', '.join(sorted(forms))}; it has {has}"
        for form, one in text.items():
            yield from _wrong_places(one, english, f"{form}: ")


def _wrong_places(text: str, english: Text, form: str) -> Iterator[str]:
    """Places that a text must not have, or lacks; a plural form may leave out its count."""
    models = [english] if isinstance(english, str) else list(english.values())
    held = [set(_PLACE.findall(model)) for model in models]
    found, known, asked = set(_PLACE.findall(text)), set.union(*held), set.intersection(*held)
    if form:
        known, asked = known | {_COUNT}, asked - {_COUNT}
    for place in sorted(found - known):
        yield f"{form}{{{place}}} is no place of this text; in English it is {_sample(english)!r}"
    for place in sorted(asked - found):
        yield f"{form}{{{place}}} is missing; in English it is {_sample(english)!r}"
