"""The frame of every page: one HTML text that needs no network, with a policy that holds it so."""

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

import folium
from branca.element import Element

_POLICY = (
    "default-src 'none'; img-src {images}; style-src {styles}; script-src {scripts};"
    " connect-src {connects}; base-uri 'none'; form-action 'none'"
)
POLICY_SLOT = "<!--slot:policy-->"
_INLINE_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
_INLINE_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)


class _Plain(Element):
    """Text that goes into the page as it stands; the library would read it as a template."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text

    def render(self, **_kwargs: object) -> str:
        """Return the text."""
        return self.text


class FieldMap(folium.Map):
    """A map page whose library, style and data all stand in the one file.

    Parameters
    ----------
    head : str
        Goes into the head: policy, title, styles, the map library.
    body : str
        The page itself with its data.
    script : str
        Draws the data.
    """

    default_js: list[tuple[str, str]] = []  # noqa: RUF012 - the library's own name and form
    default_css: list[tuple[str, str]] = []  # noqa: RUF012

    def __init__(self, *, head: str, body: str, script: str) -> None:
        super().__init__(tiles=None)
        self._head, self._body, self._script = head, body, script

    def render(self, **kwargs: object) -> str:
        """Return the whole page."""
        figure: Any = self.get_root()
        figure.header.add_child(_Plain(self._head), name="head")
        figure.html.add_child(_Plain(self._body), name="body")
        figure.script.add_child(_Plain(self._script), name="script")
        figure.header.render(**kwargs)
        return str(figure._template.render(this=figure, kwargs=kwargs))  # noqa: SLF001 - see _Plain


def asset(name: str, *, package: str = "lakemap.outputs.web") -> str:
    """Return the text of a file that belongs to a page.

    Parameters
    ----------
    name : str
        In the package's `assets`.
    package : str
        Whose it is.

    Returns
    -------
    str
        As it stands there.
    """
    return files(package).joinpath("assets", name).read_text(encoding="utf-8")


def policy(text: str, *, images: str = "data:", connects: str = "'none'") -> str:
    """Return the content security policy, with the hash of every inline script and style.

    Parameters
    ----------
    text : str
        The whole page.
    images, connects : str
        Where pictures and answers may come from.

    Returns
    -------
    str
        The value of the policy.
    """
    hashes = {
        name: " ".join(dict.fromkeys(_hash(found) for found in pattern.findall(text)))
        for name, pattern in (("scripts", _INLINE_SCRIPT), ("styles", _INLINE_STYLE))
    }
    return _POLICY.format(**hashes, images=images, connects=connects)


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def embedded_json(data: Mapping[str, Any]) -> str:
    """Return JSON that can stand in a script block: nothing in it can end the block.

    Parameters
    ----------
    data : mapping
        JSON-able.

    Returns
    -------
    str
        With <, >, & and the two line ends that scripts know as escapes.
    """
    text = json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text
