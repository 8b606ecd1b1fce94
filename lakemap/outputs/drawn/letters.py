"""How wide text comes out, by a wide sans, so that no other runs over where this one fits."""

import unicodedata
from collections.abc import Mapping
from functools import cache
from typing import Final

# Advance widths in 1/2048 of the letters' size, a row from its first character on.
# Source: the hmtx table of DejaVu Sans 2.35 and of its bold.
_REGULAR: Final = {
    0x20: (  # Latin
        "651 821 942 1716 1303 1946 1597 563 799 799 1024 1716 651 739 651 690 1303 1303 1303 "
        "1303 1303 1303 1303 1303 1303 1303 690 690 1716 1716 1716 1087 2048 1401 1405 1430 "
        "1577 1294 1178 1587 1540 604 604 1343 1141 1767 1532 1612 1235 1612 1423 1300 1251 "
        "1499 1401 2025 1403 1251 1403 799 690 799 1716 1024 1024 1255 1300 1126 1300 1260 "
        "721 1300 1298 569 569 1186 569 1995 1298 1253 1300 1300 842 1067 803 1298 1212 1675 "
        "1212 1212 1075 1303 690 1303 1716 "
    ),
    0x391: (  # Greek
        "1401 1405 1141 1401 1294 1403 1540 1612 604 1343 1401 1767 1532 1294 1612 1540 1235 "
        "0 1294 1251 1251 1612 1403 1612 1565 604 1251 1350 1107 1298 693 1185 1350 1307 1212 "
        "1253 1107 1114 1298 1253 693 1207 1212 1303 1144 1142 1253 1233 1300 1202 1298 1233 "
        "1185 1351 1183 1351 1715 "
    ),
    0x410: (  # Cyrillic
        "1401 1405 1405 1249 1600 1294 2206 1313 1532 1532 1454 1540 1767 1540 1612 1540 1235 "
        "1430 1251 1248 1763 1403 1590 1404 2190 2240 1705 1807 1405 1430 2211 1423 1255 1263 "
        "1207 1076 1416 1260 1845 1089 1331 1331 1237 1309 1545 1339 1253 1339 1300 1126 1193 "
        "1212 1751 1212 1394 1210 1874 1929 1447 1617 1207 1124 1724 1232 "
    ),
}
_BOLD: Final = {
    0x20: (  # Latin
        "713 934 1067 1716 1425 2052 1786 627 936 936 1071 1716 778 850 778 748 1425 1425 "
        "1425 1425 1425 1425 1425 1425 1425 1425 819 819 1716 1716 1716 1188 2048 1585 1561 "
        "1503 1700 1399 1399 1681 1714 762 762 1587 1305 2038 1714 1741 1501 1741 1577 1475 "
        "1397 1663 1585 2259 1579 1483 1485 936 748 936 1716 1024 1024 1382 1466 1214 1466 "
        "1389 891 1466 1458 702 702 1362 702 2134 1458 1407 1466 1466 1010 1219 979 1458 1335 "
        "1892 1321 1335 1192 1458 748 1458 1716 "
    ),
    0x391: (  # Greek
        "1585 1561 1305 1585 1399 1485 1714 1741 762 1587 1585 2038 1714 1294 1741 1714 1501 "
        "0 1399 1397 1483 1741 1579 1740 1741 762 1483 1407 1140 1458 798 1383 1407 1466 1395 "
        "1407 1140 1210 1458 1407 798 1455 1296 1507 1395 1210 1407 1620 1466 1214 1595 1307 "
        "1383 1602 1321 1626 1780 "
    ),
    0x410: (  # Cyrillic
        "1585 1561 1561 1305 1824 1399 2507 1455 1714 1714 1674 1701 2038 1714 1741 1714 1501 "
        "1503 1397 1579 2031 1579 1900 1655 2530 2715 1924 2122 1561 1503 2404 1577 1382 1430 "
        "1296 1070 1654 1389 2038 1190 1435 1435 1390 1500 1674 1415 1407 1415 1466 1214 1187 "
        "1335 2032 1321 1518 1406 2175 2264 1539 1852 1295 1214 1991 1315 "
    ),
}
_UNITS: Final = 2048
_SIGNS: Final = {  # the bold's, for both
    "−": 1716, "×": 1716, "·": 778, "•": 1309, "²": 898, "°": 1024, "–": 1024, "—": 2048,
    "’": 778, "“": 1346, "”": 1346, "«": 1323, "»": 1323, "ß": 1473, "æ": 2147,
    "Æ": 2222, "œ": 2241, "Œ": 2390, "ø": 1407, "Ø": 1741, "đ": 1466, "ł": 760,
    "\xa0": 713, "…": 2048,
}  # fmt: skip
# Of what no row has: nothing, a whole square, a picture, else more than nearly all letters.
_MARK, _SQUARE, _PICTURE, _OTHER = 0, 2048, 2900, 2300
_HAIR: Final = 1e-6  # what rounding may add to a width
_MARKS: Final = frozenset({"Mn", "Me", "Cf"})
_SHOWN_AS_PICTURE: Final = frozenset({"So", "Cc"})  # a control sign as the one for no sign
_DOTS: Final = "…"


@cache
def _widths(*, bold: bool) -> Mapping[str, int]:
    rows = _BOLD if bold else _REGULAR
    found = dict(_SIGNS)
    for first, row in rows.items():
        found |= {chr(first + k): int(width) for k, width in enumerate(row.split())}
    return found


@cache
def _letter(sign: str, *, bold: bool) -> int:
    """Units that one sign takes; an accent takes none beside its letter."""
    known = _widths(bold=bold)
    plain = unicodedata.normalize("NFD", sign)[0]
    if plain in known:
        return known[plain]
    if unicodedata.category(plain) in _MARKS:
        return _MARK
    if unicodedata.category(plain) in _SHOWN_AS_PICTURE:
        return _PICTURE
    return _SQUARE if unicodedata.east_asian_width(plain) in {"W", "F"} else _OTHER


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a line of text comes out at most.

    Parameters
    ----------
    text : str
        One line.
    size : float
        Of its letters, in any unit.
    bold : bool
        Whether they are bold.

    Returns
    -------
    float
        In the unit of `size`.
    """
    return sum(_letter(sign, bold=bold) for sign in text) * size / _UNITS


def cut_to(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """Return a text as it fits into a room, with … where it was cut.

    Parameters
    ----------
    text : str
        One line.
    room : float
        How wide it may be, in the unit of `size`.
    size : float
        Of its letters.
    bold : bool
        Whether they are bold.

    Returns
    -------
    str
        Empty where not even … has room.
    """
    if width(text, size, bold=bold) <= room + _HAIR:
        return text
    left = room - width(_DOTS, size, bold=bold)
    if left < 0:
        return ""
    kept = 0
    while width(text[: kept + 1], size, bold=bold) <= left:
        kept += 1
    return text[:kept].rstrip() + _DOTS


def _pieces(word: str, room: float, size: float, *, bold: bool) -> list[str]:
    """A word in as many pieces as its length asks for; each has one sign at least."""
    if width(word, size, bold=bold) <= room:
        return [word]
    pieces, start = [], 0
    while start < len(word):
        end = start + 1
        while end < len(word) and width(word[start : end + 1], size, bold=bold) <= room:
            end += 1
        pieces.append(word[start:end])
        start = end
    return pieces


def wrap(
    text: str, room: float, size: float, *, bold: bool = False, most: int | None = None
) -> list[str]:
    """Return a text as lines that fit into a room.

    Parameters
    ----------
    text : str
        Words and blanks; a word too long for a line is broken.
    room : float
        How wide a line may be, in the unit of `size`.
    size : float
        Of its letters.
    bold : bool
        Whether they are bold.
    most : int or None
        Lines; the last one is cut with … where there would be more.

    Returns
    -------
    list of str
        Without empty lines.
    """
    lines: list[str] = []
    for word in text.split():
        for part in _pieces(word, room, size, bold=bold):
            longer = f"{lines[-1]} {part}" if lines else part
            if lines and width(longer, size, bold=bold) <= room:
                lines[-1] = longer
            else:
                lines.append(part)
    if most is None or len(lines) <= most:
        return lines
    rest = " ".join(lines[most - 1 :])
    return [*lines[: most - 1], cut_to(rest, room, size, bold=bold)]
