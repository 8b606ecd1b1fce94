"""All floats of a plan as the text of a new floats.csv."""

from collections.abc import Sequence

from lakemap.basis.records import Float, Units
from lakemap.inputs.floats import COLUMNS
from lakemap.saving.cells import Style, Written, cell_of, fixed
from lakemap.saving.coordinates import DEGREE_DIGITS
from lakemap.saving.float_rows import told
from lakemap.saving.table_edits import column_name

_ALWAYS = ("float_id", "length", "width")
_STYLE = Style(delimiter=",", decimal=".", ending="\n")


def floats_csv_text(floats: Sequence[Float], *, units: Units) -> str:
    """Return floats as a floats.csv, for fields whose own file can't be changed in place.

    Parameters
    ----------
    floats : sequence of Float
        All of them.
    units : Units
        Of the measured columns.

    Returns
    -------
    str
        One row per float; unknown columns are kept as text.
    """
    said = [told(one) for one in floats]
    bases = [base for base in COLUMNS if base in _ALWAYS or any(base in row for row in said)]
    others = list(dict.fromkeys(name for one in floats for name in one.extra))
    names = {base: column_name(base, COLUMNS, (), units) for base in bases}
    header = ["float_id", "lon", "lat", *(names[base] for base in bases[1:]), *others]
    lines = [[Written(text=name) for name in header]]
    for one, row in zip(floats, said, strict=True):
        cells = [
            cell_of(row.get(base), names[base], base=base, dimension=COLUMNS[base], units=units)
            for base in bases
        ]
        place = [fixed(value, DEGREE_DIGITS) for value in (one.lon, one.lat)]
        extra = [Written(text=one.extra.get(name, "")) for name in others]
        lines.append([cells[0], *place, *cells[1:], *extra])
    return "".join(",".join(_STYLE.text(cell) for cell in line) + "\n" for line in lines)
