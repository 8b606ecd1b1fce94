"""Which plural form of a text a whole number takes, by language."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

FORMS: Final = frozenset({"zero", "one", "two", "few", "many", "other"})
_FEW: Final = frozenset({2, 3, 4})
_TEENS: Final = frozenset({11, 12, 13, 14})


def _one_other(n: int) -> str:
    return "one" if n == 1 else "other"


def _none_is_one(n: int) -> str:
    return "one" if n in {0, 1} else "other"


def _always_other(_n: int) -> str:
    return "other"


def _west_slavic(n: int) -> str:
    return "one" if n == 1 else "few" if n in _FEW else "other"


def _polish(n: int) -> str:
    return "one" if n == 1 else "few" if _ends_few(n) else "many"


def _east_slavic(n: int) -> str:
    if n % 10 == 1 and n % 100 not in _TEENS:
        return "one"
    return "few" if _ends_few(n) else "many"


def _ends_few(n: int) -> bool:
    return n % 10 in _FEW and n % 100 not in _TEENS


# Source: Unicode CLDR, Language Plural Rules, cardinal numbers, for whole numbers under a million;
# the tests hold them against a browser's own.
PLURALS: Final[Mapping[str, Callable[[int], str]]] = MappingProxyType(
    dict.fromkeys(("da", "de", "el", "en", "es", "et", "fi", "hu", "it"), _one_other)
    | dict.fromkeys(("nb", "nl", "pt-pt", "sv", "tr"), _one_other)
    | dict.fromkeys(("fr", "pt"), _none_is_one)
    | dict.fromkeys(("cs", "sk"), _west_slavic)
    | dict.fromkeys(("ru", "uk"), _east_slavic)
    | dict.fromkeys(("id", "ja", "ko", "vi", "zh"), _always_other)
    | {"pl": _polish}
)


def plural_rule(code: str) -> Callable[[int], str] | None:
    """Return the rule of a language's plural forms.

    Parameters
    ----------
    code : str
        Of the language, as `en` or `en-GB`; the rule of `en-GB` is that of `en`.

    Returns
    -------
    callable or None
        From a whole number to the name of its form; None for a language that has no rule here.
    """
    whole = code.lower()
    return PLURALS.get(whole) or PLURALS.get(whole.partition("-")[0])


def forms_of(code: str) -> frozenset[str]:
    """Return the plural forms that whole numbers take in a language that has a rule here."""
    rule = plural_rule(code)
    return frozenset() if rule is None else frozenset(rule(n) for n in range(200))
