"""The map file: same bytes, nothing from elsewhere, all text escaped, owners only when asked."""

import base64
import hashlib
import json
import re
import stat
from xml.etree.ElementTree import ParseError

import pytest
import shapely
from conftest import make_field, make_float, make_zone
from defusedxml.ElementTree import fromstring

from lakemap.mapping import assess
from lakemap.outputs.atomic import write_atomic
from lakemap.outputs.drawn.picture import field_svg
from lakemap.outputs.drawn.scene import build_scene
from lakemap.outputs.web.page import draw, page_html
from lakemap.outputs.web.page_frame import embedded_json

HOSTILE = ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "`${alert(1)}`", "</script><b>", "{{ 7*7 }}{% raw %}", "<!--slot:data-->"]  # fmt: skip


def hostile_field():
    floats = [
        make_float(name, -80 + 30 * k, 0, lot=name, owner=name, note=name)
        for k, name in enumerate(HOSTILE)
    ]
    zones = [
        make_zone(
            "swim_area",
            shapely.box(-90, 40, -60, 60),
            label=HOSTILE[0],
            source=HOSTILE[1],
            clearance_m=1.0,
        )
    ]
    return make_field(floats, zones=zones, folder=HOSTILE[1])


@pytest.fixture(scope="module")
def hostile():
    return page_html(assess(hostile_field()), owners=True)


def test_the_same_field_gives_the_same_bytes(square):
    assert page_html(assess(square)) == page_html(assess(square))


def test_hostile_text_stays_text(hostile):
    assert "<script>alert" not in hostile
    assert "<img src=x" not in hostile
    assert hostile.count("</script>") == 4  # the first, the data, the library, the page's own
    data = json.loads(re.search(r'id="field-data">(.*?)</script>', hostile, re.DOTALL).group(1))
    at = data["floatKeys"].index("id")
    assert [row[at] for row in data["floats"]] == HOSTILE
    assert "49" not in data["floats"][4][at]


def test_the_policy_names_every_inline_script_and_style(hostile):
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', hostile).group(1)
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    for tag in ("script", "style"):
        for text in re.findall(rf"<{tag}>(.*?)</{tag}>", hostile, re.DOTALL):
            digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
            assert f"'sha256-{digest}'" in policy
    assert not re.search(r"\son\w+=\"", hostile.replace(HOSTILE[1], ""))
    assert not re.search(r"<[^>]*\sstyle=", hostile)


def test_nothing_is_fetched(hostile):
    markup = re.sub(r"<script.*?</script>|<style.*?</style>", "", hostile, flags=re.DOTALL)
    assert not re.search(r"<[^>]*\s(?:src|href)=", markup)
    styles = "".join(re.findall(r"<style>(.*?)</style>", hostile, re.DOTALL))
    assert "url(" not in styles
    assert "@import" not in styles


def test_owners_only_when_asked(square):
    field = make_field([make_float("A", owner="A. Secret", permit="P-77", note="keep this quiet")])
    plain, told = page_html(assess(field)), page_html(assess(field), owners=True)
    for word in ("A. Secret", "P-77", "keep this quiet"):
        assert word not in plain
        assert word in told


def test_script_data_cannot_end_its_block():
    text = embedded_json({"a": "</script><!-- & \u2028"})
    assert not set("<>&\u2028") & set(text)
    assert json.loads(text) == {"a": "</script><!-- & \u2028"}


def test_the_picture_is_sound_xml_without_scripts():
    assessment = assess(hostile_field())
    text = field_svg(assessment, build_scene(assessment))
    try:
        root = fromstring(text)
    except ParseError as error:
        pytest.fail(f"not XML: {error}")
    tags = {node.tag.rpartition("}")[2] for node in root.iter()}
    assert "script" not in tags
    words = "".join(root.itertext())
    assert HOSTILE[0][:23] in words
    assert "style=" not in text


def test_the_sheet_stands_there_without_scripts(square):
    page = page_html(assess(square))
    sheet = page[page.index('<section class="sheet"') :]
    assert "Float A: Comes within 1.00 m of float C; 2 m is asked." in sheet
    assert sheet.count('<span class="w-') == 4
    assert "Local codes, permits and licensed practice decide" in sheet


def test_a_lake_without_floats_or_depths_is_drawn():
    page = page_html(assess(make_field([], bed_m=None)))
    assert "No floats yet. Add rows to the floats file." in page


def test_draw_writes_whole_or_not_at_all(square, tmp_path, monkeypatch):
    out = tmp_path / "map.html"
    draw(assess(square), out)
    first = out.read_bytes()
    assert first.startswith(b"<!DOCTYPE html>")
    assert stat.S_IMODE(out.stat().st_mode) & 0o444 == 0o444

    def fail(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", fail)
    with pytest.raises(OSError, match="No space"):
        write_atomic(out, "half")
    assert out.read_bytes() == first
    assert [path.name for path in tmp_path.iterdir()] == ["map.html"]


def test_island_names_and_not_sounded_water_are_drawn(square):
    lake = shapely.Polygon(
        shapely.box(-100, -100, 100, 100).exterior, [shapely.box(50, 50, 70, 70).exterior]
    )
    from conftest import HERE

    field = make_field(
        square.floats,
        lake=shapely.multipolygons([HERE.unproject(lake)]),
        island_names=("Heron Rock",),
    )
    assert "Heron Rock" in page_html(assess(field))
    assert "not sounded" in page_html(assess(make_field(square.floats, bed_m=None)))
