"""XML, a piece at a time: every text is escaped here."""

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

DECLARATION = '<?xml version="1.0" encoding="UTF-8"?>\n'


def element(tag: str, inside: str | Iterable[str], /, **attributes: str) -> str:
    """Return an element about XML that is ready.

    Parameters
    ----------
    tag : str
        The name of the element.
    inside : str or iterable of str
        XML.
    **attributes : str
        Any text.

    Returns
    -------
    str
        The element.
    """
    given = "".join(f" {key}={quoteattr(value)}" for key, value in attributes.items())
    held = inside if isinstance(inside, str) else "".join(inside)
    return f"<{tag}{given}>{held}</{tag}>"


def text_element(tag: str, text: str, /, **attributes: str) -> str:
    """Return an element about a text.

    Parameters
    ----------
    tag : str
        The name of the element.
    text : str
        Any text without control characters.
    **attributes : str
        Any text.

    Returns
    -------
    str
        The element.
    """
    return element(tag, escape(text), **attributes)
