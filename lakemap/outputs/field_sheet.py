"""The print sheet."""

from lakemap.outputs.scene import Scene
from lakemap.mapping import Assessment

SHEET_CSS = ""


def sheet_html(assessment: Assessment, scene: Scene, *, owners: bool = False) -> str:
    return '<section class="sheet"></section>'
