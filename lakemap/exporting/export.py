"""A field as one file for other programs, by the file's ending."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from lakemap.exporting.clean import cleaned
from lakemap.exporting.csv_table import csv_bytes
from lakemap.exporting.floats_table import left_out
from lakemap.exporting.geojson import geojson_bytes
from lakemap.exporting.geopackage import geopackage_bytes
from lakemap.exporting.gpx import gpx_bytes
from lakemap.exporting.kml import kml_bytes
from lakemap.exporting.layers import map_layers
from lakemap.exporting.records import Export, Table
from lakemap.exporting.sheets import sheets
from lakemap.exporting.words import lake_words
from lakemap.exporting.xlsx import xlsx_bytes
from lakemap.mapping import Assessment
from lakemap.outputs.words.cautions import cautions_for_task
from lakemap.saving.atomic import write_whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """One kind of file."""

    write: Callable[[Export], bytes]
    in_sheets: bool  # tables in the user's units, not layers of a map in SI
    holds: tuple[str, ...]  # tables that it has
    tells_owners: bool = True


_LAYERS = ("lake", "zones", "floats", "primaries", "secondaries", "circles", "soundings")
FORMATS: Mapping[str, Format] = MappingProxyType(
    {
        ".gpkg": Format(write=geopackage_bytes, in_sheets=False, holds=_LAYERS),
        ".geojson": Format(write=geojson_bytes, in_sheets=False, holds=_LAYERS),
        ".kml": Format(write=kml_bytes, in_sheets=False, holds=_LAYERS[:-1]),
        ".gpx": Format(
            write=gpx_bytes,
            in_sheets=False,
            holds=("primaries", "secondaries"),
            tells_owners=False,
        ),
        ".xlsx": Format(
            write=xlsx_bytes, in_sheets=True, holds=("floats", "clearances", "sizing", "zones")
        ),
        ".csv": Format(write=csv_bytes, in_sheets=True, holds=("floats",)),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Exported:
    """What was written."""

    counts: Mapping[str, int]  # rows by table
    notes: tuple[str, ...]


def export(assessment: Assessment, path: Path, *, owners: bool = False) -> Exported:
    """Write a field as one file; its ending says of which kind.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    path : Path
        Ends in one of `FORMATS`; a file that stands there is replaced, whole or not at all.
    owners : bool
        True keeps owners, permits, notes, and columns that are not known.

    Returns
    -------
    Exported
        How many rows each table has, and what people should know.

    Raises
    ------
    OSError
        If it can't be written.
    """
    kind = FORMATS[path.suffix.lower()]
    made = _made(assessment, kind, owners=owners)
    write_whole(path, kind.write(made))
    counts = {table.name: len(table.rows) for table in made.tables}
    return Exported(counts=MappingProxyType(counts), notes=made.notes)


def _made(assessment: Assessment, kind: Format, *, owners: bool) -> Export:
    """Return what goes out, cleaned, with what is to be said of it."""
    field = assessment.field
    shown = owners and kind.tells_owners
    every = (sheets if kind.in_sheets else map_layers)(assessment, owners=shown)
    tables: tuple[Table, ...] = tuple(table for table in every if table.name in kind.holds)
    hidden = () if shown else left_out(field)
    notes: tuple[str, ...] = ()
    if hidden:
        how = "--owners puts them in" if kind.tells_owners else "it holds names and places only"
        notes = (f"left out: {', '.join(hidden)}; {how}",)
    return cleaned(
        Export(
            name=field.settings.name,
            dated="" if field.dated is None else field.dated.isoformat(),
            about=_about(assessment),
            tables=tables,
            cautions=cautions_for_task("sharing", assessment),
            notes=notes,
        )
    )


def _about(assessment: Assessment) -> str:
    return (
        f"{lake_words(assessment)} Swing circles are drawn at low water, the largest; each outline"
        " contains the true circle."
    )
