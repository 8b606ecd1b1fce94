"""A formula with its numbers put in, where that can be done without a mistake."""

import re
from collections.abc import Mapping
from typing import Final

_LETTERS: Final = "A-Za-z\u0391-\u03a9\u03b1-\u03c9∇"  # Latin, Greek
_NAME: Final = rf"[{_LETTERS}]+(?:_\w+)?[₀-₉′]*"
_KNOWN: Final = frozenset({"π", "min", "max", "exp", "tanh", "sinh", "arsinh", "sin", "cos", "tan"})


def with_numbers(words: str, symbol: str, numbers: Mapping[str, str]) -> str:
    """Return the right side of a formula with a number for each symbol.

    Parameters
    ----------
    words : str
        The formula in symbols, such as `R = √(S² − d²)`.
    symbol : str
        Of the result.
    numbers : mapping of str to str
        Number and unit for each symbol of the inputs.

    Returns
    -------
    str
        Such as `√((10.82 m)² − (4.562 m)²)`; blank where the formula holds anything besides its
        inputs, numbers and functions, or does not use every input.
    """
    left, sign, right = words.partition(" = ")
    if left.strip() != symbol or not sign or "=" in right:
        return ""
    used: set[str] = set()
    strange = False

    def put(found: re.Match[str]) -> str:
        nonlocal strange
        name = found[0]
        if name in numbers:
            used.add(name)
            return f"({numbers[name]})"
        strange = strange or name not in _KNOWN
        return name

    longest = sorted(numbers, key=lambda name: (-len(name), name))
    ends = rf"(?![{_LETTERS}₀-₉′_])"
    names = "|".join(rf"(?<![{_LETTERS}_]){re.escape(name)}{ends}" for name in longest)
    told = re.sub(f"{names}|{_NAME}" if names else _NAME, put, right)
    return "" if strange or used != numbers.keys() else told
