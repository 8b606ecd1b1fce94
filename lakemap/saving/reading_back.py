"""Bytes read as a file of that name would be."""

import tempfile
from pathlib import Path

from lakemap.basis.errors import ProblemLog
from lakemap.inputs.cells import RawTable
from lakemap.inputs.layers import read_layer


def read_as(name: str, data: bytes, log: ProblemLog) -> RawTable | None:
    """Read bytes as a file of that name would be read.

    Parameters
    ----------
    name : str
        Its ending tells the format.
    data : bytes
        What it holds.
    log : ProblemLog
        Gains every problem.

    Returns
    -------
    RawTable or None
        None where it can't be read.
    """
    with tempfile.TemporaryDirectory() as made:
        path = Path(made) / name
        path.write_bytes(data)
        return read_layer(path, log)
