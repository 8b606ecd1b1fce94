"""Positions as cells of a table."""

from lakemap.basis.records import FloatArray
from lakemap.inputs.cells import Sheet
from lakemap.saving.cells import Written, fixed
from lakemap.saving.coordinates import DEGREE_DIGITS, in_crs


def places_in(sheet: Sheet, lonlat: FloatArray, crs: str) -> list[dict[str, Written]]:
    """Return positions in a table's own columns.

    Parameters
    ----------
    sheet : Sheet
        With lon and lat, or x and y.
    lonlat : ndarray, shape [n, 2]
        WGS 84 degrees.
    crs : str
        Of x, y columns.

    Returns
    -------
    list of dict
        Cells by column.
    """
    names, digits, at = ("lon", "lat"), DEGREE_DIGITS, lonlat
    if sheet.has("x") and len(lonlat):
        names = ("x", "y")
        at, digits = in_crs(lonlat, crs, "field.toml")
    return [
        {name: fixed(value, digits) for name, value in zip(names, row, strict=True)}
        for row in at.tolist()
    ]
