"""The picture that was drawn over, kept with the field if its owner wants that."""

import base64
import binascii
import json
import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final, NoReturn

from lakemap.basis.errors import BadInputError, Problem
from lakemap.saving.atomic import write_whole

_FOLDER: Final = ".plan"
_ABOUT: Final = "picture.json"
MOST_BYTES: Final = 20 * 1024 * 1024  # ours
_KINDS: Final = {b"\x89PNG\r\n\x1a\n": "png", b"\xff\xd8\xff": "jpg"}
_MOST_POINTS: Final = 100


def keep_picture(folder: Path, body: Mapping[str, Any]) -> str:
    """Keep a picture with the field, or only what is known of one that is kept.

    Parameters
    ----------
    folder : Path
        Of the field; must exist.
    body : mapping
        `picture` in base64, or None for the one that is kept already; `about`: its points.

    Returns
    -------
    str
        The file's name in the folder.

    Raises
    ------
    BadInputError
        If it is no PNG or JPEG, too large, or its points are no points.
    """
    about = _about(body.get("about"))
    given = body.get("picture")
    if given is None:
        kept = _kept(folder)
        if kept is None:
            _refuse("no picture is kept here; choose it again")
        name = kept.name
    else:
        data = _decoded(given)
        name = f"picture.{_kind(data)}"
        if not folder.is_dir() or (folder / _FOLDER).is_symlink():
            _refuse(f"there is no folder for it, or {_FOLDER} is a link; save the drawing first")
        (folder / _FOLDER).mkdir(exist_ok=True)
        write_whole(folder / _FOLDER / name, data)
        for other in _names():
            if other != name:
                (folder / _FOLDER / other).unlink(missing_ok=True)
    text = json.dumps(about, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
    write_whole(folder / _FOLDER / _ABOUT, text.encode("utf-8"))
    return f"{_FOLDER}/{name}"


def drop_picture(folder: Path) -> None:
    """Take the kept picture away, and what is known of it.

    Parameters
    ----------
    folder : Path
        Of the field.
    """
    for name in (*_names(), _ABOUT):
        (folder / _FOLDER / name).unlink(missing_ok=True)


def has_picture(folder: Path) -> bool:
    """Tell whether a picture is kept.

    Parameters
    ----------
    folder : Path
        Of the field.

    Returns
    -------
    bool
        By its file.
    """
    return _kept(folder) is not None


def kept_picture(folder: Path) -> dict[str, Any]:
    """Return the kept picture as the page takes it.

    Parameters
    ----------
    folder : Path
        Of the field.

    Returns
    -------
    dict
        `picture` in base64 and `about`; both None where none is kept.

    Raises
    ------
    BadInputError
        If what stands there is no such picture.
    """
    path = _kept(folder)
    if path is None:
        return {"picture": None, "about": None}
    if path.stat().st_size > MOST_BYTES:
        _refuse(f"{_FOLDER}/{path.name} is larger than {MOST_BYTES >> 20} MB; take it away")
    data = path.read_bytes()
    _kind(data)
    about: object = None
    try:
        about = json.loads((path.parent / _ABOUT).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        about = {"points": [], "kind": "similarity"}
    return {"picture": base64.b64encode(data).decode("ascii"), "about": _about(about)}


def _names() -> list[str]:
    return [f"picture.{ending}" for ending in _KINDS.values()]


def _kept(folder: Path) -> Path | None:
    found = (folder / _FOLDER / name for name in _names())
    return next((path for path in found if path.is_file() and not path.is_symlink()), None)


def _decoded(given: object) -> bytes:
    if not isinstance(given, str):
        _refuse("the picture did not arrive; choose it again")
    if len(given) > MOST_BYTES * 4 // 3 + 4:
        text = f"the picture is larger than {MOST_BYTES >> 20} MB; save it smaller, or as a JPEG"
        _refuse(text)
    try:
        return base64.b64decode(given, validate=True)
    except (binascii.Error, ValueError):
        _refuse("the picture arrived broken; choose it again")


def _kind(data: bytes) -> str:
    """The ending of a picture's file, by how its bytes begin, whatever its name was."""
    found = next((ending for begin, ending in _KINDS.items() if data.startswith(begin)), None)
    if found is None:
        _refuse("this is no PNG or JPEG picture, whatever its name says; save it as one of these")
    return found


def _about(given: object) -> dict[str, Any]:
    """What is known of a picture: points with their positions, and how it is laid."""
    said = "the points of the picture can't be read; load the page again"
    if not isinstance(given, Mapping):
        _refuse(said)
    try:
        points: list[dict[str, Any]] = [
            {"u": float(one["u"]), "v": float(one["v"]), "place": str(one["place"])[:100]}
            for one in list(given["points"])[:_MOST_POINTS]
        ]
    except (KeyError, TypeError, ValueError):
        _refuse(said)
    if not all(math.isfinite(one["u"]) and math.isfinite(one["v"]) for one in points):
        _refuse(said)
    kind = "affine" if given.get("kind") == "affine" else "similarity"
    return {"points": points, "kind": kind}


def _refuse(text: str) -> NoReturn:
    raise BadInputError([Problem(code="bad_picture", text=text)])
