"""The page for showing, opened from the disk with the network off."""

from __future__ import annotations

import base64
import dataclasses
import io
import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import rushlight
from designed import designed
from plans import STANDING
from rushlight.open_plan import OpenPlan, open_plan, write_share
from rushlight.share.page import share_page
from rushlight.sheets.dark import glows, half_cd_m2, laid_out, shown_parts
from rushlight.sheets.glow import View, glow_pixels
from rushlight.sheets.night_pools import paper_pools

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.fixture(scope="module")
def held(tmp_path_factory) -> OpenPlan:
    home = tmp_path_factory.mktemp("shared")
    shutil.copytree(DEMOS / "lighthouse", home / "lighthouse")
    return open_plan(home / "lighthouse")


@pytest.fixture(scope="module")
def shared(held) -> Path:
    return write_share(held, held.folder.parent / "show.html", pictures=True).page


def night_pixels(page) -> np.ndarray:
    """The canvas of the picture by night, as a lossless picture: a list of its numbers takes seconds to cross over."""
    kept = page.evaluate("document.querySelector('#night').toDataURL('image/png')")
    return np.array(Image.open(io.BytesIO(base64.b64decode(kept.split(",")[1]))).convert("RGB"), dtype=int)


@pytest.fixture
def show(window, shared):
    """Opens the page; the window's own rule is kept: no error, and no request but the page itself."""
    def opened(width=1280, **more):
        made = window("/show.html", width=width, address=f"file://{shared.parent}", offline=True, **more)
        made.page.wait_for_selector("html[data-ready]")
        return made

    return opened


@pytest.mark.parametrize("width", [1280, 360])
@pytest.mark.parametrize("light", ["0", "0.45", "1"])
def test_it_opens_anywhere_and_everyone_can_use_it(show, axe, width, light):
    made = show(width)
    asked = []
    made.page.on("request", lambda request: asked.append(request.url))
    made.page.get_by_label("Room light").fill(light)
    assert axe(made, light) == []
    assert made.page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert [url for url in asked if not url.startswith(("data:", "blob:"))] == []


def test_state_and_room_light_by_keyboard(show):
    page = show().page
    radios = page.get_by_role("radio")
    radios.first.focus()
    page.keyboard.press("ArrowRight")
    assert radios.nth(1).is_checked()
    name = page.locator("label", has=page.locator("input:checked")).inner_text()
    assert page.locator("#says").inner_text().startswith(f"State: {name}. Room: night.")
    before = page.evaluate("document.documentElement.dataset.plate")
    page.get_by_label("Room light").focus()
    page.keyboard.press("End")
    assert (before, page.evaluate("document.documentElement.dataset.plate")) == ("night", "day")
    assert page.evaluate("[...document.querySelector('#night').getContext('2d').getImageData(3, 3, 1, 1).data]") == [247, 241, 229, 255]


def test_it_shows_the_book_s_own_picture(show, held):
    """Where no picture lies, the canvas is the book's, pixel by pixel."""
    design = held.design
    layout = laid_out(shown_parts(design))
    view = View(layout.scale, design.plan.subject.viewing_distance_mm, half_cd_m2(design))
    book = glow_pixels(glows(design, design.plan.states[0], layout), layout.width_mm, layout.height_mm, view,
                       paper_pools(design, design.plan.states[0].name, layout))
    shown = night_pixels(show().page)
    assert shown.shape == book.shape
    # Pixels that lie outside all parts, and so on bare ground.
    bare = np.ones(book.shape[:2], dtype=bool)
    for laid in layout.parts:
        xs, ys = zip(*(laid.at(point) for point in laid.part.outline_mm), strict=True)
        bare[max(round(5 * (layout.height_mm - max(ys))) - 2, 0) : round(5 * (layout.height_mm - min(ys))) + 3,
             max(round(5 * min(xs)) - 2, 0) : round(5 * max(xs)) + 3] = False
    assert bare.mean() > 0.2
    assert np.abs(shown - book.astype(int))[bare].max() <= 1 and np.ptp(book[bare]) > 8


def until(page, true):
    """Asked again and again: the page's policy lets nobody else's script wait in it."""
    for _ in range(600):
        if true():
            return
        page.wait_for_timeout(50)
    raise AssertionError("it never came")


def test_rhythms_start_still_and_stop(show):
    page = show(reduced_motion="reduce").page
    levels = "[...document.querySelectorAll('.lamps > g')].map(one => one.dataset.lit).join()"
    still = page.evaluate(levels)
    page.wait_for_timeout(300)
    assert page.evaluate(levels) == still
    page.get_by_role("button", name="Play the rhythms").click()
    until(page, lambda: page.evaluate(levels) != still)
    page.get_by_role("button", name="Stop the rhythms").click()
    until(page, lambda: page.evaluate(levels) == still)


def test_printed_without_its_controls(show):
    page = show().page
    page.emulate_media(media="print")
    assert not page.locator("#controls").is_visible()
    assert page.locator("#sheet").is_visible() and page.get_by_role("table").is_visible()


def test_made_from_the_app(window, plan, address, axe):
    """A button, its progress, and the file; nothing is made inside the app's own pages."""
    wide = window(address)
    page = wide.page
    wide.fresh()
    page.get_by_role("button", name="Book", exact=True).click()
    page.get_by_text("Drawings only; no picture leaves the computer.").wait_for()
    page.get_by_role("button", name="Make the page for showing").click()
    with page.expect_download() as kept:
        page.get_by_role("link", name="Save the page").click()
    text = Path(kept.value.path()).read_text(encoding="utf-8")
    assert text == (plan / "share.html").read_text(encoding="utf-8")
    assert "Pilot cutter &lt;i&gt;Wren&lt;/i&gt;" in text and "data:image" not in text
    assert axe(wide, "book and page") == []


def test_turned_it_shows_the_book_s_picture_from_there(window, tmp_path):
    """The plan's own place and any other: pixel by pixel what the book would show from there, exposed for the plan's own."""
    shutil.copytree(DEMOS / "tug", tmp_path / "tug")
    plan = tmp_path / "tug" / "plan.yaml"
    plan.write_text(plan.read_text(encoding="utf-8").replace("  viewing_room:", "  viewing_bearing_deg: 30\n  viewing_height_deg: 10\n  viewing_room:", 1), encoding="utf-8")
    held = open_plan(tmp_path / "tug")
    write_share(held, tmp_path / "show.html")
    made = window("/show.html", address=f"file://{tmp_path}", offline=True)
    page = made.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("radio", name="under way").check()
    assert "Seen from ahead, 30 degrees to starboard, 10 degrees up" in page.locator("#terms").inner_text()
    dark = []
    for bearing in (30.0, 180.0, 285.0, None):
        if bearing is None:
            page.get_by_role("button", name="Square on").click()
        elif bearing != 30.0:
            page.get_by_label("Seen from").fill(f"{bearing:.0f}")
        subject = dataclasses.replace(held.design.plan.subject, viewing_bearing_deg=bearing)
        design = dataclasses.replace(held.design, plan=dataclasses.replace(held.design.plan, subject=subject))
        layout, state = laid_out(shown_parts(design)), design.plan.states[1]
        view = View(layout.scale, subject.viewing_distance_mm, half_cd_m2(held.design))
        book = glow_pixels(glows(design, state, layout), layout.width_mm, layout.height_mm, view, paper_pools(design, state.name, layout))
        shown = night_pixels(page)
        assert shown.shape == book.shape and np.abs(shown - book.astype(int)).max() <= 1, bearing
        dark.append(int(book.astype(int).sum()))
    assert len(set(dark)) == 4


def test_the_model_as_it_stands_follows_the_state(window, tmp_path, axe):
    (tmp_path / "stands.html").write_text(share_page(designed(STANDING)), encoding="utf-8")
    made = window("/stands.html", address=f"file://{tmp_path}", offline=True)
    page = made.page
    page.wait_for_selector("html[data-ready]")
    shown = page.locator(".stands:visible title")
    assert shown.all_text_contents() == ["Night, as it stands"]
    page.get_by_role("radio", name="dusk").check()
    assert shown.all_text_contents() == ["Dusk, as it stands"] and axe(made) == []
