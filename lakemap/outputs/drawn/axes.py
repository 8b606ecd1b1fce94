"""Round numbers along an axis."""

import math
from collections.abc import Iterator


def round_steps(low: float, high: float, most: int) -> Iterator[float]:
    """Yield round numbers between two values.

    Parameters
    ----------
    low, high : float
        Ends of the axis, low < high.
    most : int
        How many at most, about.

    Yields
    ------
    float
        Multiples of 1, 2 or 5 times a power of ten, rising.
    """
    rough = (high - low) / most
    ten = 10 ** math.floor(math.log10(rough))
    step = next(one * ten for one in (1, 2, 5, 10) if one * ten >= rough)
    count = math.ceil(low / step)
    while count * step <= high:
        yield round(count * step, 6)
        count += 1
