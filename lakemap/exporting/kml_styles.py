"""How the layers look in a KML file: colours and widths, by layer, verdict and kind of zone."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from lakemap.exporting.records import Table
from lakemap.exporting.xml_text import element, text_element
from lakemap.outputs.drawn.marks import INK

_ZONE_LINE: Final = "#2F4A45"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Of one kind of thing; colours as #RRGGBB, shares of 1."""

    line: str
    width: float = 1.5
    fill: str = "#FFFFFF"
    fill_share: float = 0.0
    point: float = 0.0  # size of its mark
    label: float = 0.0  # size of its name


_LOOKS: Final = {
    "lake": Look(line="#3E7391", fill="#CDE4EA", fill_share=0.4),
    "floats": Look(line=INK["clear"], point=0.8, label=0.9),
    "primaries": Look(line="#12232E", point=0.5),
    "secondaries": Look(line="#6F8089", point=0.4),
    "circles-conflict": Look(line=INK["conflict"], width=3.0, fill="#FFE1DA", fill_share=0.6),
    "circles-tight": Look(line="#FFC44A", width=2.5, fill="#FFF3D2", fill_share=0.4),
    "circles-unknown": Look(line=INK["unknown"], width=2.0),
    "circles-clear": Look(line=INK["clear"], width=1.2),
    "zones-swim_area": Look(line=_ZONE_LINE, fill_share=0.5),
    "zones-channel": Look(line=_ZONE_LINE, width=2.0, fill_share=0.4),
    "zones-frontage": Look(line=_ZONE_LINE, width=0.8),
    "zones-intake": Look(line=_ZONE_LINE, fill_share=0.5),
    "zones-hazard": Look(line=_ZONE_LINE, width=2.0, fill=_ZONE_LINE, fill_share=0.3),
    "zones-no_float": Look(line=_ZONE_LINE, width=2.0, fill=_ZONE_LINE, fill_share=0.3),
    "zones-ramp": Look(line="#6F777A", fill="#6F777A", fill_share=0.9),
    "zones-dock": Look(line="#5C5750", fill="#5C5750", fill_share=0.9),
}
_BY: Final = {"circles": "verdict", "zones": "kind"}


def style_xml() -> Iterator[str]:
    """Yield the styles that a document begins with, in the order of the KML schema."""
    for name, look in _LOOKS.items():
        yield element(
            "Style",
            (
                element("IconStyle", _colour(look.line) + text_element("scale", f"{look.point:g}")),
                element("LabelStyle", text_element("scale", f"{look.label:g}")),
                element("LineStyle", _colour(look.line) + text_element("width", f"{look.width:g}")),
                element("PolyStyle", _colour(look.fill, look.fill_share)),
            ),
            id=f"look-{name}",
        )


def _colour(hexed: str, share: float = 1.0) -> str:
    """Return a colour as KML has it: share, blue, green, red."""
    red, green, blue = hexed[1:3], hexed[3:5], hexed[5:7]
    return text_element("color", f"{round(255 * share):02x}{blue}{green}{red}".lower())


def style_names(table: Table) -> list[str]:
    """Return the style of each row of a layer.

    Parameters
    ----------
    table : Table
        A layer.

    Returns
    -------
    list of str
        Such as `#look-circles-tight`.
    """
    by = _BY.get(table.name)
    if by is None:
        return [f"#look-{table.name}"] * len(table.rows)
    return [f"#look-{table.name}-{value}" for value in table.column(by)]
