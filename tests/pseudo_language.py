"""A language that nobody speaks: every text of the page in other letters, turned about and longer.

No letter of English is left in it, so whatever is still English on a page drawn with it does not come
from the table. The words of a text stand in the opposite order, which a page that puts sentences
together itself does not survive, and a text is 30 % longer. Its plural forms are those of Polish, of
which whole numbers take three; each form ends in its own sign.
"""

import re

from lakemap.outputs.words.texts import ENGLISH, Texts

_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_OTHERS = "абцдефгхийклмнопярстувшхыз"  # one for one, of the Cyrillic block
_TURNED = str.maketrans(_LETTERS + _LETTERS.upper(), _OTHERS + _OTHERS.upper())
_PARTED = re.compile(r"(\{\w+\})")
FORM_SIGNS = {"one": "¹", "few": "²", "many": "³"}
LONGER = 0.3


def turned(text):
    """One text in the pseudo-language, without its brackets."""
    pieces = [
        part if part.startswith("{") else part.translate(_TURNED) for part in _PARTED.split(text)
    ]
    words = "".join(pieces).split(" ")
    letters = len(_PARTED.sub("", text))
    return " ".join([*reversed(words), *(["ж" * round(LONGER * letters)] if letters > 3 else [])])


def _wrapped(text, sign=""):
    return f"⟦{turned(text)}{sign}⟧"


def _text(text):
    if isinstance(text, str):
        return _wrapped(text)
    return {form: _wrapped(text["other"], sign) for form, sign in FORM_SIGNS.items()}


PSEUDO = Texts(code="pl", table={key: _text(text) for key, text in ENGLISH.table.items()})
