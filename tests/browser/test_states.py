"""The states at the foot: by their names or by the positions of the switch; a picture of each in one file."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from PIL import Image


def test_switch_positions_and_a_picture_of_each_state(window, address):
    wide = window(address)
    page = wide.page
    wide.fresh()
    page.get_by_role("button", name="By switch").click()
    group = page.get_by_role("radiogroup", name="Position of the switch")
    assert [row.inner_text().split()[0] for row in group.get_by_role("radio").all()][:2] == ["1", "2"]
    group.get_by_role("radio", name="2 moored").click()
    assert "6 of 7 lamps lit when moored" in page.locator("#sheet").get_attribute("aria-label")
    if group.get_by_role("radio", name="off").count():
        group.get_by_role("radio", name="off").click()
        assert "switched off" in page.locator("#sheet").get_attribute("aria-label")
    page.get_by_role("button", name="By state").click()
    page.get_by_label("Room light").fill("0")
    with page.expect_download() as got:
        page.get_by_role("button", name="Save one of each state").click()
    archive = zipfile.ZipFile(io.BytesIO(Path(got.value.path()).read_bytes()))
    assert archive.testzip() is None
    assert len(archive.namelist()) == 2 and all(name.endswith(".png") for name in archive.namelist())
    x, y = (round(value) for value in wide.at("hull", [20, 25]))
    reds = [Image.open(archive.open(name)).convert("RGB").getpixel((x, y)) for name in archive.namelist()]
    assert sum(reds[0]) > sum(reds[1]) + 60  # the sternlight shines under way, not moored


def test_what_a_picture_by_night_cannot_show_is_said_beside_the_lamps(window, address):
    wide = window(address)
    wide.fresh()
    wide.page.get_by_role("button", name="Light", exact=True).click()
    said = wide.page.locator("p.quiet", has_text="By night:")
    said.scroll_into_view_if_needed()
    assert "Light comes through the wall of hull" in said.inner_text() and "seen in" in said.inner_text()
