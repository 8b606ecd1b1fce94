"""What a waypoint says in its name or its notes: which float, what of it, and the wind."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final, get_args

from lakemap.basis.records import PositionOf

_POINTS: Final = (
    "n", "nne", "ne", "ene", "e", "ese", "se", "sse",
    "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw",
)  # fmt: skip
_LETTERS: Final = {"north": "n", "east": "e", "south": "s", "west": "w"}
_WORDS: Final = re.compile(r"\b(?:(?:north|south|east|west)(?:ern|erly)?[\s-]*)+", re.IGNORECASE)
_WIND: Final = re.compile(r"\bwinds?\b", re.IGNORECASE)
_NOT_A_BEARING: Final = r"(?!\s*(?:mph|kn|kts?|knots?|m/s|km/h|kph|bft|beaufort|ft|\d|[:.,]\d))"
_WAY: Final = re.compile(
    rf"(?<![\w.])(?P<deg>\d{{1,3}}(?:\.\d+)?)\s*(?P<mark>°|deg\w*)?{_NOT_A_BEARING}"
    r"|\b(?P<point>[nsew]{1,3})\b",
    re.IGNORECASE,
)
_TOWARDS: Final = re.compile(r"\b(?:to|towards?|into)\b", re.IGNORECASE)
_FAR: Final = 40  # signs between the word wind and where it came from
_BEAUFORT: Final = 12.0  # a bare number up to here may be a force
_WHAT: Final[tuple[tuple[PositionOf, re.Pattern[str]], ...]] = (
    ("primary", re.compile(r"\bprim(?:ary|aries)?\b", re.IGNORECASE)),
    ("secondary", re.compile(r"\bsec(?:ondary|ondaries)?\b", re.IGNORECASE)),
)
_FLOAT: Final = re.compile(r"\bfloats?\b", re.IGNORECASE)
_DAYS: Final = re.compile(
    r"\b\d{4}-\d{1,2}-\d{1,2}(?:[T ]\d{1,2}:\d{2}\S*)?|\b\d{1,2}/\d{1,2}(?:/\d{2,4})?\b"
    r"|\b\d{1,2}:\d{2}(?::\d{2})?\b"
)
# a number after one of these was given by the phone
_BY_ITSELF: Final = re.compile(
    r"\b(?:way\s*points?|wpt?s?|pins?|points?|markers?|marks?|locations?|spots?)[\s#_-]*\d+\b"
    r"|^\s*(?:dropped\s+)?(?:way\s*point|wpt?|pin|point|marker|mark|location|spot)\s*$",
    re.IGNORECASE,
)
_EDGE: Final = " \t\r\n#:;,.-–_()[]"


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """The texts of a waypoint."""

    name: str = ""
    comment: str = ""
    description: str = ""
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What they say; None: nothing."""

    float_id: str | None = None
    position_of: PositionOf | None = None
    wind_from_deg: float | None = None
    unknown: str | None = None  # what stands where a float is named, but is none
    wind_unread: bool = False  # there is a wind, but not where it came from


def read_words(words: Words, ids: Sequence[str]) -> Told:
    """Read what a waypoint says.

    The name comes first, then comment and description; for what was fixed, the type too. A word
    `float` before the number is how people call it, after the number it says what was fixed; a
    wind without either means the float.

    Parameters
    ----------
    words : Words
        Of the waypoint.
    ids : sequence of str
        Of the field's floats.

    Returns
    -------
    Told
        As far as it goes.
    """
    texts = [text for text in (words.name, words.comment, words.description) if text.strip()]
    winds = [_wind(text) for text in texts]
    wind = next((found for found, _, _ in winds if found is not None), None)
    bare = [rest for _, rest, _ in winds]
    who, unknown = None, None
    for text, rest in zip(texts, bare, strict=True):
        who = _float(text, rest, ids)
        if who is not None:
            break
        unknown = unknown or _named(rest)
    what = _what(bare, words.kind, who)
    if what is None and wind is not None:
        what = "float"
    return Told(
        float_id=who,
        position_of=what,
        wind_from_deg=wind,
        unknown=None if who is not None else unknown,
        wind_unread=wind is None and any(is_there for _, _, is_there in winds),
    )


def nearest_id(text: str, ids: Iterable[str]) -> str | None:
    """Return the float whose number or name is most like a text; None: none is."""
    by_fold = {one.casefold(): one for one in ids}
    close = get_close_matches(text.casefold(), by_fold, n=1, cutoff=0.5)
    return by_fold[close[0]] if close else None


def bearing_of(text: str) -> float | None:
    """Return the bearing that a text is: degrees, or one of sixteen points in letters or words.

    Parameters
    ----------
    text : str
        Such as `270`, `W`, `south-southwest`.

    Returns
    -------
    float or None
        0 to 360 degrees; None: it is none.
    """
    found = _WAY.fullmatch(_in_letters(text.strip()))
    return None if found is None else _degrees(found, is_sure=True)


def _in_letters(text: str) -> str:
    """Turn south-west to sw."""

    def short(found: re.Match[str]) -> str:
        parts = re.findall(r"north|south|east|west", found[0], re.IGNORECASE)
        blank = " " if found[0][-1:].isspace() else ""
        return "".join(_LETTERS[part.lower()] for part in parts) + blank

    return _WORDS.sub(short, text)


def _wind(text: str) -> tuple[float | None, str, bool]:
    """Where the wind came from, the text without it, and whether it speaks of a wind."""
    short = _in_letters(text.replace("'s", "").replace("’s", ""))
    said = _WIND.search(short)
    if said is None:
        return None, text, False
    after = short[said.end() : said.end() + _FAR].partition(";")[0]
    for found in _WAY.finditer(after):
        bearing = _degrees(found, is_sure="from" in after[: found.start()].lower())
        if bearing is not None:
            if _TOWARDS.search(after[: found.start()]):
                break
            rest = short[: said.start()] + " " + short[said.end() + found.end() :]
            return bearing, rest, True
    before = re.search(rf"(?:{_WAY.pattern})\s*$", short[: said.start()], re.IGNORECASE)
    bearing = None if before is None else _degrees(before, is_sure=False, three=True)
    if before is not None and bearing is not None:
        return bearing, short[: before.start()] + " " + short[said.end() :], True
    return None, short[: said.start()] + " " + short[said.end() :], True


def _degrees(found: re.Match[str], *, is_sure: bool, three: bool = False) -> float | None:
    """Degrees of a match; None where it may be something else, such as a force or a number."""
    if found["point"]:
        point = found["point"].lower()
        return _POINTS.index(point) * 360.0 / len(_POINTS) if point in _POINTS else None
    value, whole = float(found["deg"]), found["deg"].partition(".")[0]
    is_marked = bool(found["mark"]) or len(whole) == 3  # noqa: PLR2004 - 045
    if value > 360 or not (is_marked or is_sure or (value > _BEAUFORT and not three)):  # noqa: PLR2004
        return None
    return value


def _float(text: str, rest: str, ids: Sequence[str]) -> str | None:
    """The one float that a text names."""
    whole = _even(text)
    for one in ids:
        if _even(one) == whole:
            return one
    if _BY_ITSELF.search(rest):
        return None
    plain = _even(_DAYS.sub(" ", rest))
    spans = {one: _spans(_even(one), plain) for one in ids}
    # of 1 and 1 North only the longer counts where both stand
    held = [(a, b) for found in spans.values() for a, b in found]
    there = {
        one: [s for s in found if not any(a <= s[0] and s[1] <= b and (a, b) != s for a, b in held)]
        for one, found in spans.items()
    }
    named = {one: found for one, found in there.items() if found}
    if len(named) <= 1:
        return next(iter(named), None)
    after = [one for one, found in named.items() if any(_follows_float(plain, a) for a, _ in found)]
    first = [one for one, found in named.items() if found[0][0] == 0]
    likely = dict.fromkeys([*after, *first])
    return next(iter(likely)) if len(likely) == 1 else None


def _spans(one: str, text: str) -> list[tuple[int, int]]:
    """Where a float's name stands as a whole word."""
    if not one:
        return []
    pattern = rf"(?<![\w.]){re.escape(one)}(?!\w|\.\d)"
    return [found.span() for found in re.finditer(pattern, text)]


def _follows_float(text: str, at: int) -> bool:
    return re.search(r"\bfloats?\s*(?:no\.?|number|#)?\s*$", text[:at]) is not None


def _named(rest: str) -> str | None:
    """What is left of a text where it should name a float."""
    if _BY_ITSELF.search(rest):
        return None
    text = _DAYS.sub(" ", rest)
    for _, pattern in _WHAT:
        text = pattern.sub(" ", text)
    text = _FLOAT.sub(" ", text)
    return " ".join(text.split()).strip(_EDGE) or None


def _even(text: str) -> str:
    return " ".join(text.casefold().split())


def _what(texts: Sequence[str], kind: str, who: str | None) -> PositionOf | None:
    """What was fixed: by the first text that says it, with the type before the longer texts."""
    kinds: tuple[PositionOf, ...] = get_args(PositionOf)
    typed = next((one for one in kinds if one == kind.strip().lower()), None)
    for number, text in enumerate(texts):
        if number == 1 and typed is not None:
            return typed
        found: list[tuple[int, PositionOf]] = [
            (match.start(), what)
            for what, pattern in _WHAT
            if (match := pattern.search(text)) is not None
        ]
        if found:
            return min(found)[1]
        if _says_float(text, who):
            return "float"
    return typed


def _says_float(text: str, who: str | None) -> bool:
    """Tell whether `float` stands there by itself or after the number."""
    plain = _even(text).strip(_EDGE)
    if plain == "float":
        return True
    number = "" if who is None else _even(who)
    at = [b for _, b in _spans(number, plain)]
    return bool(at) and any(found.start() >= at[0] for found in _FLOAT.finditer(plain))
