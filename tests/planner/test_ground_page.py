"""The page's text and the kept picture: nothing runs, nothing leaves the folder."""

import base64
import json
import re
from html.parser import HTMLParser

import pytest
from drawings import whole_lake

from lakemap.basis.errors import BadInputError
from lakemap.inputs.scaffold import start_folder
from lakemap.planner.ground import Ground
from lakemap.planner.ground_reading import stamp_key, stamp_now

PNG = b"\x89PNG\r\n\x1a\n" + b"picture" * 9
JPEG = b"\xff\xd8\xff\xe0" + b"picture" * 9
ABOUT = {"points": [{"u": 1.5, "v": 2, "place": "44.1, -72.1"}], "kind": "affine"}
HOSTILE = '</script><script>document.title="run"</script><!--slot:data-->'


def text_of(data):
    return base64.b64encode(data).decode()


class Seen(HTMLParser):
    """Tags, and the text of the page's data."""

    def __init__(self):
        super().__init__()
        self.scripts, self.sources, self.inside = 0, [], None

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self.scripts += tag == "script"
        self.sources += [v for k, v in attrs if k in {"src", "href", "action"} and v != "./"]
        assert not [k for k in given if k.startswith("on")]


def seen(page):
    parser = Seen()
    parser.feed(page)
    return parser


def data_of(page):
    found = re.search(r'<script type="application/json" id="ground-data">(.*?)</script>', page)
    return json.loads(found.group(1))


def test_an_empty_place_gives_the_page_of_a_new_field(tmp_path):
    ground = Ground(tmp_path / "not" / "there")
    assert ground.lacks_lake
    page = ground.page()
    data = data_of(page)
    assert (data["mode"], data["folder"], data["middle"]) == ("new", "there", None)
    assert str(tmp_path) not in page  # the way to the folder is nobody's business
    assert not (tmp_path / "not").exists()


def test_the_policy_allows_its_own_server_and_pictures_of_its_own(tmp_path):
    page = Ground(tmp_path).page()
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page).group(1)
    rules = dict(part.strip().split(" ", 1) for part in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["connect-src"] == "'self'"
    assert rules["img-src"] == "data: blob:"
    assert "unsafe" not in policy
    assert seen(page).sources == ["data:,"]


def test_names_are_data(tmp_path):
    folder = tmp_path / "lake"
    body = whole_lake(name=HOSTILE)
    body["shapes"][2]["name"] = HOSTILE
    ground = Ground(folder)
    ground.answer("ground-save", {"drawing": body, "stamp": stamp_key(stamp_now(folder))})
    page = Ground(folder).page()
    plain = Ground(tmp_path / "other").page()
    assert seen(page).scripts == seen(plain).scripts
    data = data_of(page)
    assert data["name"] == HOSTILE
    assert HOSTILE in [one["name"] for one in data["shapes"]]


def test_a_begun_folder_fills_in_what_is_there(tmp_path):
    start_folder(tmp_path / "lake")
    data = data_of(Ground(tmp_path / "lake").page())
    assert (data["mode"], data["has_settings"]) == ("new", True)
    assert data["levels"]["low"] == "-1 ft"


def test_a_folder_that_cannot_be_read_says_why(tmp_path):
    (tmp_path / "lake.csv").write_text("lon,lat\n-72,44\n-72.1,44\n-72,44.1\n")
    (tmp_path / "floats.csv").write_text("float_id,lon,lat,length_ft,width_ft\n")
    assert not Ground(tmp_path).lacks_lake
    with pytest.raises(BadInputError, match=r"no field\.toml"):
        Ground(tmp_path).page()


def test_an_ask_that_nobody_knows(tmp_path):
    with pytest.raises(BadInputError, match="nothing here answers"):
        Ground(tmp_path).answer("ground-format", {})


def test_a_picture_is_kept_and_comes_back(tmp_path):
    ground = Ground(tmp_path)
    assert ground.answer("ground-picture", {}) == {"picture": None, "about": None}
    told = ground.answer("ground-keep", {"picture": text_of(PNG), "about": ABOUT})
    assert told == {"kept": ".plan/picture.png"}
    assert (tmp_path / ".plan" / "picture.png").read_bytes() == PNG
    assert Ground(tmp_path).answer("ground-picture", {}) == {
        "picture": text_of(PNG),
        "about": ABOUT,
    }
    assert data_of(Ground(tmp_path).page())["kept"] is True
    ground.answer("ground-keep", {"picture": text_of(JPEG), "about": ABOUT})
    assert sorted(path.name for path in (tmp_path / ".plan").iterdir()) == ["picture.jpg", "picture.json"]  # fmt: skip
    ground.answer("ground-drop", {})
    assert list((tmp_path / ".plan").iterdir()) == []


@pytest.mark.parametrize(
    ("picture", "says"),
    [
        (text_of(b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"), "no PNG or JPEG"),
        (text_of(b"<!DOCTYPE html><script>alert(1)</script>"), "no PNG or JPEG"),
        (text_of(b"GIF89a" + PNG), "no PNG or JPEG"),
        (text_of(b""), "no PNG or JPEG"),
        ("no base64!", "broken"),
        (17, "did not arrive"),
        (["a"], "did not arrive"),
        ("A" * (28 * 1024 * 1024), "larger than 20 MB"),
    ],
    ids=["svg", "html", "gif", "empty", "broken", "number", "list", "large"],
)
def test_what_is_no_picture_is_not_kept(tmp_path, picture, says):
    with pytest.raises(BadInputError, match=says):
        Ground(tmp_path).answer("ground-keep", {"picture": picture, "about": ABOUT})
    assert not (tmp_path / ".plan").exists()


@pytest.mark.parametrize(
    "about",
    [None, [], {"points": 7, "kind": "affine"}, {"points": [{"u": "nan", "v": 0, "place": ""}]}],
)
def test_points_that_are_none_are_refused(tmp_path, about):
    with pytest.raises(BadInputError, match="points of the picture"):
        Ground(tmp_path).answer("ground-keep", {"picture": text_of(PNG), "about": about})


def test_no_name_from_the_page_leads_anywhere(tmp_path):
    body = {"picture": text_of(PNG), "about": ABOUT, "name": "../evil.png", "path": "/etc/passwd"}
    Ground(tmp_path).answer("ground-keep", body)
    assert [path.name for path in tmp_path.rglob("*.png")] == ["picture.png"]


def test_a_link_in_the_place_of_the_picture_is_not_followed(tmp_path):
    secret = tmp_path / "secret.png"
    secret.write_bytes(PNG + b"secret")
    folder = tmp_path / "lake"
    (folder / ".plan").mkdir(parents=True)
    (folder / ".plan" / "picture.png").symlink_to(secret)
    assert Ground(folder).answer("ground-picture", {})["picture"] is None
    Ground(folder).answer("ground-keep", {"picture": text_of(PNG), "about": ABOUT})
    assert secret.read_bytes() == PNG + b"secret"


def test_a_folder_that_is_a_link_is_not_written_to(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "lake").mkdir()
    (tmp_path / "lake" / ".plan").symlink_to(tmp_path / "elsewhere")
    for folder in ("lake", "missing"):
        with pytest.raises(BadInputError, match="no folder for it"):
            Ground(tmp_path / folder).answer(
                "ground-keep", {"picture": text_of(PNG), "about": ABOUT}
            )
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_kept_file_that_became_something_else_is_not_served(tmp_path):
    (tmp_path / ".plan").mkdir()
    (tmp_path / ".plan" / "picture.png").write_bytes(b"<html>")
    with pytest.raises(BadInputError, match="no PNG or JPEG"):
        Ground(tmp_path).answer("ground-picture", {})
