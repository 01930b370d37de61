"""Reference pictures beside the part: a light seen there is marked, tied to a lamp, moved, and taken back."""

from __future__ import annotations

import io
import re

from PIL import Image

PICTURE = """references:
  - name: dusk
    file: dusk.png
    marks: [{name: glow, at_px: [100, 80]}]
lamps:
"""


def opened(window, plan, address, **size):
    (plan / "pictures").mkdir()
    Image.new("RGB", (400, 240), (40, 44, 60)).save(plan / "pictures" / "dusk.png")
    text = (plan / "plan.yaml").read_text(encoding="utf-8").replace("lamps:\n", PICTURE)
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    made = window(address, **size)
    made.page.wait_for_selector("html[data-ready]")
    made.page.get_by_role("button", name="Evidence", exact=True).click()
    made.page.wait_for_selector(".lookat img")
    return made, made.page


def words(plan):
    return (plan / "plan.yaml").read_text(encoding="utf-8")


def marked(plan, name):
    """Where a mark is, in pixels of the picture."""
    found = re.search(rf"name: {name}\b[^}}]*?at_px:\s*\[([^\]]*)\]", words(plan), re.S)
    return [float(number) for number in found.group(1).split(",")]


def on_picture(page, x, y):
    box = page.locator(".lookat img").bounding_box()
    return box["x"] + x / 400 * box["width"], box["y"] + y / 240 * box["height"]


def test_a_mark_is_tied_by_pressing_the_lamp_and_taken_back(window, plan, address):
    wide, page = opened(window, plan, address)
    page.mouse.click(*on_picture(page, 100, 80))
    page.get_by_text("Marked but not placed, on all pictures: 1").wait_for()
    page.get_by_role("button", name="Tie: press the lamp on the sheet").click()
    page.mouse.click(*wide.at("hull", [20, 25]))
    page.get_by_role("button", name="Take back: glow tied to stern").wait_for()
    assert "lamp: stern" in words(plan)
    assert "mark: glow" in words(plan) and "kind: picture" in words(plan)
    page.get_by_text("Marked but not placed, on all pictures: 0").wait_for()
    page.get_by_label("How sure that it is a light").fill("40")
    page.get_by_label("How sure that it is a light").press("Enter")
    page.get_by_role("button", name="Take back: glow: 40 % sure").wait_for()
    assert words(plan).count("certainty: 0.4") == 2  # the mark's own, and that of its evidence
    for _ in range(2):
        page.get_by_role("button", name="Take back: glow").click()
        page.get_by_role("button", name="Do again: glow").wait_for()
        page.wait_for_timeout(300)
    assert "lamp: stern" not in words(plan) and "kind: picture" not in words(plan)


def test_marks_are_set_and_moved_by_hand_and_by_keys(window, plan, address):
    _, page = opened(window, plan, address)
    page.get_by_role("button", name="Mark lights").click()
    page.mouse.click(*on_picture(page, 300, 120))
    page.get_by_role("button", name="Take back: light 1 marked on dusk").wait_for()
    page.get_by_role("group", name="dusk: 2 lights marked").focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Take back: light 2 marked on dusk").wait_for()
    page.get_by_role("button", name="Done marking").click()
    mark = page.get_by_role("button", name="light 1, 100 % sure")
    mark.focus()
    page.keyboard.press("Shift+ArrowDown")
    page.get_by_role("button", name="Take back: light 1 moved on dusk").wait_for()
    _, y = marked(plan, "light 1")
    assert abs(y - 130) <= 2
    start, end = on_picture(page, 100, 80), on_picture(page, 150, 60)
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(*end, steps=4)
    page.mouse.up()
    page.get_by_role("button", name="Take back: glow moved on dusk").wait_for()
    assert max(abs(was - now) for was, now in zip((150, 60), marked(plan, "glow"), strict=True)) <= 2


def test_a_new_lamp_for_a_mark_and_a_new_picture(window, plan, address):
    wide, page = opened(window, plan, address)
    page.locator("#leaf .list .row", has_text="glow").first.click()
    page.get_by_role("button", name="New lamp: press its place on the sheet").click()
    page.mouse.click(*wide.at("hull", [150, 10]))
    page.get_by_role("button", name="Take back: glow placed for the mark glow").wait_for()
    assert "lamp: glow" in words(plan)
    page.get_by_text("Lamps that no picture shows: 3").wait_for()
    page.locator("#sheet").focus()
    page.keyboard.press("Delete")
    page.get_by_role("button", name="Take back: glow removed").wait_for()
    assert "lamp: glow" not in words(plan)
    page.get_by_role("button", name="Take back: glow removed").click()
    page.get_by_role("button", name="Do again: glow removed").wait_for()
    image = io.BytesIO()
    Image.new("RGB", (200, 100), (90, 80, 60)).save(image, "PNG")
    page.locator("input[type=file]").set_input_files({"name": "yard.png", "mimeType": "image/png", "buffer": image.getvalue()})
    page.get_by_role("button", name="Take back: picture yard.png put among the references").wait_for()
    assert page.get_by_role("combobox", name="Picture").input_value() == "yard"
    page.wait_for_selector(".lookat img")


def test_narrow(window, plan, address):
    _, page = opened(window, plan, address, width=360, height=740, has_touch=True)
    wide, inner = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide <= inner
    page.locator(".lookat").scroll_into_view_if_needed()
    page.touchscreen.tap(*on_picture(page, 100, 80))
    page.get_by_role("region", name="The mark glow").wait_for()
