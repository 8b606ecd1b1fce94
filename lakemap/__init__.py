"""Maps, checks and sizes the two-cluster moorings of a lake's swim floats."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from lakemap.inputs.folder import read_field as read_field
    from lakemap.mapping import assess as assess
    from lakemap.outputs.web.page import draw as draw

__version__ = "0.1.0"
__all__ = ["__version__", "assess", "draw", "read_field"]

# Where each public name lives; loaded on first use, so that `import lakemap` stays quick.
_HOMES = {
    "read_field": "lakemap.inputs.folder",
    "assess": "lakemap.mapping",
    "draw": "lakemap.outputs.web.page",
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - what a module holds is what it holds
    """Load one public name from the module that holds it."""
    if name not in _HOMES:
        raise AttributeError(f"module 'lakemap' has no attribute {name!r}")
    from importlib import import_module  # noqa: PLC0415 - only needed here

    return getattr(import_module(_HOMES[name]), name)
