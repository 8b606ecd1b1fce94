"""What a layer's file is read by, where the rest of the field is not whole yet."""

from dataclasses import dataclass
from pathlib import Path

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import Field, Geometry, Levels, Units
from lakemap.inputs.settings import read_settings


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerSettings:
    """Of field.toml, or what goes without it."""

    crs: str = "EPSG:4326"
    units: Units = "ft-lb"
    levels: Levels | None = None
    lake: Geometry = None


def layer_settings(folder: Path, field: Field | None) -> LayerSettings:
    """Return what a layer is read by.

    Parameters
    ----------
    folder : Path
        Of the field.
    field : Field or None
        As read; None: it can't be read yet, as its lake is not drawn.

    Returns
    -------
    LayerSettings
        From the field, or from what can be read of field.toml.
    """
    if field is not None:
        own = field.settings
        return LayerSettings(crs=own.crs, units=own.units, levels=own.levels, lake=field.lake)
    path = folder / "field.toml"
    found = None
    if path.is_file():
        found = read_settings(path, ProblemLog(), folder_name=folder.resolve().name)
    if found is None:
        return LayerSettings()
    return LayerSettings(crs=found.crs, units=found.units, levels=found.levels)
