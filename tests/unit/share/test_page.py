"""The page for showing: whole in itself, true to the book's numbers, and silent about what nobody asked to share."""

import base64
import dataclasses
import hashlib
import io
import json
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import pytest
from PIL import Image

import rushlight
from designed import designed
from plans import STANDING
from rushlight.cli import main
from rushlight.errors import OutOfRange
from rushlight.files.shared import shared_picture, write_page
from rushlight.model.sheet import Picture
from rushlight.open_plan import open_plan, write_share
from rushlight.share.page import share_page
from rushlight.sheets.dark import glows, half_cd_m2, laid_out, shown_parts
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.shown import shown_picture
from rushlight.sheets.standing import standing_pictures
from rushlight.web.answer import glow_json

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.fixture(scope="module")
def opened(tmp_path_factory):
    home = tmp_path_factory.mktemp("share") / "lighthouse"
    shutil.copytree(DEMOS / "lighthouse", home)
    return open_plan(home)


@pytest.fixture(scope="module")
def page(opened):
    return share_page(opened.design)


def lit(page):
    return json.loads(re.search(r'<script type="application/json" id="lit">(.*?)</script>', page, re.S).group(1))


def test_light_is_that_of_book_and_app(opened, page):
    """One exposure, one eye, the same strengths, places, sizes and colours for all three."""
    design, numbers, said = opened.design, lamp_numbers(opened.design), lit(page)
    app, layout = glow_json(design), laid_out(shown_parts(design))
    wanted = json.loads(json.dumps(dataclasses.asdict(shown_picture(design))))
    for pool in wanted["pools"]:
        pool |= {"lamps": [], "edge_mm": []}  # the page has their edges on its own sheet
    wanted["own_hues"] = {}  # and each lamp's own beside its place
    assert said["picture"] == wanted
    assert said["picture"]["half_cd_m2"] == half_cd_m2(design)
    for state, told in zip(design.plan.states, said["states"], strict=True):
        mine = app[state.name]
        assert {"name": told["name"], "mcd": told["mcd"]} == {"name": state.name, "mcd": {str(numbers[lamp]): row["mcd"] for lamp, row in mine.items()}}
        of = [lamp for lamp in design.lamps if lamp.name in mine and lamp.spot and numbers[lamp.name] not in told["behind"]]
        for lamp, glow in zip(of, glows(design, state, layout), strict=True):
            there = said["lamps"][str(numbers[lamp.name])]
            assert there["at"] == pytest.approx(glow.at_mm, abs=1e-4) and there["radius"] == pytest.approx(glow.radius_mm, abs=1e-4)
            assert told["shapes"].get(str(numbers[lamp.name]), there["shape"]) == [pytest.approx(point, abs=1e-4) for point in glow.shape_mm]
            assert (there.get("xy") or said["picture"]["hues"][there["colour"]]) == pytest.approx(glow.xy, abs=1e-6)
            assert told["mcd"][str(numbers[lamp.name])] == pytest.approx(1000 * glow.intensity_cd, rel=1e-4)


class Loads(HTMLParser):
    """Every attribute that could make a browser ask for something."""

    def __init__(self):
        super().__init__()
        self.asked, self.acts = [], []

    def handle_starttag(self, tag, attrs):
        self.asked += [value for key, value in attrs if key in ("src", "href", "srcset", "action", "data", "poster", "xlink:href")]
        self.acts += [key for key, _ in attrs if key.startswith("on") or key == "style"]


def test_it_asks_for_nothing_and_its_policy_names_what_it_holds(page):
    found = Loads()
    found.feed(page)
    assert found.acts == [] and found.asked == []
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page).group(1)
    assert policy.startswith("default-src 'none'") and "unsafe" not in policy and "http" not in policy
    for tag in ("style", "script"):
        text = re.search(rf"<{tag}>(.*?)</{tag}>", page, re.S).group(1)
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in policy
    assert "http://" not in page and "https://" not in page


def test_markup_in_names_is_text(opened):
    evil = "</script><img src=x onerror=alert(1)>"
    plan = opened.design.plan
    lamps = (dataclasses.replace(opened.design.lamps[0], rhythm="steady"), *opened.design.lamps[1:])
    design = dataclasses.replace(opened.design, lamps=lamps, plan=dataclasses.replace(
        plan, subject=dataclasses.replace(plan.subject, title=evil),
        parts=tuple(dataclasses.replace(part, note=evil) for part in plan.parts)))
    made = share_page(design)
    assert "<img" not in made and made.count("</script>") == 2
    assert "&lt;/script&gt;&lt;img" in made


def test_drawings_only_unless_pictures_are_asked_for(opened, page, tmp_path):
    assert "data:image" not in page and str(opened.folder) not in page
    bare = write_share(opened, tmp_path / "a.html")
    full = write_share(opened, tmp_path / "b.html", pictures=True)
    assert (bare.pictures, bare.size_bytes) == (0, (tmp_path / "a.html").stat().st_size)
    assert full.pictures == (tmp_path / "b.html").read_text(encoding="utf-8").count("data:image/jpeg") > 0


def test_a_shared_picture_says_nothing_of_place_camera_or_owner(tmp_path):
    from rushlight.files.drawer_csv import read_drawer
    from rushlight.files.plan_yaml import read_plan

    (tmp_path / "pictures").mkdir()
    image, tags = Image.new("RGB", (3000, 1500), "tan"), Image.Exif()
    tags[0x010F], tags[0x8298] = "A Camera", "An Owner"
    tags.get_ifd(0x8825).update({1: "N", 2: (51.0, 28.0, 38.0)})
    image.save(tmp_path / "pictures" / "p.jpg", exif=tags, comment=b"secret")
    (tmp_path / "plan.yaml").write_text(
        "rushlight: 1\nsubject: {title: A, scale: 1:72}\nstates: [{name: one}]\nparts:\n  - {name: hull, outline_mm: [[0, 0], [90, 0], [90, 40]], "
        "picture: {file: p.jpg, points: [{pixel: [0, 1500], at_mm: [0, 0]}, {pixel: [3000, 1500], at_mm: [100, 0]}]}}\n", encoding="utf-8")
    laid = shared_picture(tmp_path, read_plan(tmp_path, read_drawer(None)).plan.parts[0])
    for word in (b"Exif", b"Camera", b"Owner", b"secret"):
        assert word not in laid.jpeg
    with Image.open(io.BytesIO(laid.jpeg)) as held:
        assert max(held.size) <= 1400 and not held.getexif()


def test_a_page_that_cannot_be_written_or_is_too_large_is_told_and_leaves_the_old_one(opened, tmp_path, monkeypatch):
    with pytest.raises(OutOfRange, match="can be written"):
        write_page(tmp_path / "no" / "where.html", b"x")
    (tmp_path / "a.html").write_text("old", encoding="utf-8")
    monkeypatch.setattr("rushlight.open_plan.MOST_SHARED_BYTES", 1000)
    with pytest.raises(OutOfRange, match="leave the pictures out"):
        write_share(opened, tmp_path / "a.html")
    assert (tmp_path / "a.html").read_text(encoding="utf-8") == "old"


def test_the_command(tmp_path, capsys):
    shutil.copytree(DEMOS / "lantern", tmp_path / "lantern", ignore=shutil.ignore_patterns("history.db*"))
    assert main(["share", str(tmp_path / "lantern"), "--to", str(tmp_path / "l.html")]) == 0
    assert "drawings only" in capsys.readouterr().out
    assert (tmp_path / "l.html").read_text(encoding="utf-8").startswith("<!doctype html>")


def test_the_same_page_for_the_same_plan(opened, page):
    assert share_page(opened.design) == page


# --- as it stands ---------------------------------------------------------------------------------------------------


def test_the_book_s_pictures_of_the_model_as_it_stands_one_for_each_state(page):
    standing = designed(STANDING)
    made = share_page(standing)
    shown = re.findall(r'<figure class="stands" data-state="(\d)"( hidden)?><svg .*?<title>(.*?)</title>', made)
    assert shown == [("0", "", "Night, as it stands"), ("1", " hidden", "Dusk, as it stands")]
    pngs = re.findall(r'href="data:image/png;base64,([^"]+)"', made)
    drawn = [mark.png for drawing in standing_pictures(standing) for layer in drawing.layers for mark in layer.marks
             if isinstance(mark, Picture)]
    assert [base64.b64decode(png) for png in pngs] == drawn
    assert made.count("Seen from ahead, 65 degrees to starboard") == 2
    assert "As it stands" not in page, "nothing stands on anything there"
