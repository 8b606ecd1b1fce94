"""How many rolls the pieces of a shopping list are cut from."""

from collections.abc import Sequence

# a roll is no shorter than its name by this [m]; 10 pieces of 10 ft come off 100 ft
_ROUNDING_M = 1e-6


def rolls_for(cuts_m: Sequence[float], roll_m: float) -> int:
    """Return how many rolls the cuts come from, each cut in one length.

    Longest first, each from the first roll that still has it (first fit decreasing). Never more
    than 11/9 of the fewest possible and two thirds of a roll, as D. S. Johnson, Near-optimal bin
    packing algorithms, 1973, began and G. Dosa, The tight bound of first fit decreasing
    bin-packing algorithm, 2007, ended the proof.

    Parameters
    ----------
    cuts_m : sequence of float
        Lengths [m].
    roll_m : float
        Length of one roll [m], above 0.

    Returns
    -------
    int
        Rolls. A cut that is longer than a roll is joined of whole rolls and a rest.
    """
    whole, rests = 0, []
    for cut in cuts_m:
        number = int((cut + _ROUNDING_M) // roll_m) if cut > roll_m + _ROUNDING_M else 0
        whole += number
        rests.append(cut - number * roll_m)
    left: list[float] = []
    for cut in sorted(rests, reverse=True):
        if cut <= _ROUNDING_M:
            continue
        at = next((i for i, room in enumerate(left) if room + _ROUNDING_M >= cut), None)
        if at is None:
            left.append(roll_m - cut)
        else:
            left[at] -= cut
    return whole + len(left)
