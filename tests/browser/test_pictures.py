"""A photograph becomes the ground that a part is drawn on, in millimetres."""

from __future__ import annotations

import base64
import math

import pytest
import yaml

from pinhole import Pinhole

SHEET = [(0.0, 0.0), (297.0, 0.0), (297.0, 210.0), (0.0, 210.0)]
HULL = [(20.0, 60.0), (270.0, 60.0), (285.0, 110.0), (240.0, 150.0), (40.0, 150.0)]
DOTS = [(100.0, 100.0), (200.0, 110.0)]
OBLIQUE = Pinhole(1700, 1500, 1100, height_mm=520, foot_mm=(150, -40), tilt_deg=18, roll_deg=3)
SQUARE_ON = Pinhole(1700, 1500, 1100, height_mm=600, foot_mm=(150, 100))


@pytest.fixture(scope="module")
def photograph(tmp_path_factory):
    """A hull half on a sheet of A4 on a mat, drawn by a camera whose place is known."""
    home = tmp_path_factory.mktemp("photographs")

    def made(camera, name):
        path = home / name
        shapes = [((245, 245, 240), SHEET), ((120, 120, 118), HULL)]
        camera.photograph(shapes, [((20, 20, 20), dot, 3) for dot in DOTS], finer=1).save(path, quality=90)
        return path

    return made


def drop(page, target, path, at, name=None):
    """Let go of a file over a place of the page."""
    data = base64.b64encode(path.read_bytes()).decode()
    page.evaluate(
        """([selector, data, name, at]) => {
            const file = new File([Uint8Array.from(atob(data), letter => letter.charCodeAt(0))], name);
            const carried = new DataTransfer();
            carried.items.add(file);
            for (const kind of ["dragover", "drop"]) {
                document.querySelector(selector).dispatchEvent(new DragEvent(kind, {dataTransfer: carried, bubbles: true, cancelable: true, clientX: at[0], clientY: at[1]}));
            }
        }""",
        [target, data, name or path.name, list(at)],
    )


def gauge(page):
    page.wait_for_selector(".gauge[data-shown=yes]")


def on_screen(page, pixel):
    x, y = page.evaluate(
        "pixel => { const g = rushlight.gauge, [x, y] = g.screenOf(pixel), box = g.canvas.getBoundingClientRect(); return [x + box.left, y + box.top]; }",
        list(pixel),
    )
    return x, y


def press(page, pixel):
    page.mouse.click(*on_screen(page, pixel))


def laid(page, number):
    """Wait until the sheet shows the picture of a part: nothing is left for the server to do."""
    for _ in range(600):
        if page.evaluate("number => Boolean((rushlight.sheet.pictures.get(number) || {}).ready)", number):
            return
        page.wait_for_timeout(100)
    raise AssertionError("the picture did not come")


def part_of(plan, name):
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    return next(part for part in yaml.safe_load(text)["parts"] if part["name"] == name)


def test_an_oblique_photograph_dropped_on_a_part(window, plan, address, photograph, axe):
    """Dropped, four corners of A4, its fit told; a lamp placed on a mark of the photograph has the mark's millimetres."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    drop(page, "#sheet", photograph(OBLIQUE, "hull half.jpg"), wide.at("hull", [100, 20]))
    gauge(page)
    assert axe(wide, "the gauge") == []
    assert "four corners" in page.locator(".gauge-tell").inner_text()
    seen = OBLIQUE.seen(SHEET)
    for n in (2, 0, 3, 1):
        press(page, seen[n])
    page.get_by_text("Four points always fit").wait_for()
    said = page.locator(".gauge-form").inner_text()
    assert "No residual: four points leave nothing over" in said
    assert "One pixel is" in said and "If each point is off by 1 px" in said
    page.get_by_role("button", name="Check a distance").click()
    for dot in DOTS:
        press(page, OBLIQUE.seen([dot])[0])
    page.get_by_label("Measured on the part, mm").fill(f"{math.dist(*DOTS):.2f}")
    page.get_by_text("it agrees").wait_for()
    assert page.get_by_text("Four points always fit").count() == 0
    page.get_by_label("frame the part anew").check()
    page.get_by_label("Left, mm").fill("-5")
    page.get_by_label("Left, mm").press("Enter")
    assert axe(wide, "the gauge, filled in") == []
    page.get_by_role("button", name="Put it under hull").click()
    page.get_by_role("button", name="Take back: picture of hull given its size").wait_for()
    picture, outline = part_of(plan, "hull")["picture"], part_of(plan, "hull")["outline_mm"]
    assert (picture["file"], len(picture["points"]), len(picture["checks"])) == ("hull half.jpg", 4, 1)
    assert (plan / "pictures" / "hull half.jpg").read_bytes() == photograph(OBLIQUE, "hull half.jpg").read_bytes()
    zero = [-5.0, SHEET[0][1] - picture["points"][0]["at_mm"][1]]
    mark = [DOTS[0][0] - zero[0], DOTS[0][1] - zero[1]]
    page.locator(".leaf .row", has_text="hull").wait_for()
    page.get_by_role("button", name="Lamps", exact=True).click()
    at = _dark_spot(page, lambda: wide.at("hull", mark))
    page.mouse.dblclick(*at)
    page.get_by_role("button", name="Take back: lamp placed").wait_for()
    text = yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8"))
    lamp = text["lamps"][-1]["at_mm"]
    assert math.dist(lamp, mark) < 1.5, (lamp, mark, outline)


def _dark_spot(page, near):
    """The middle of the dark dot on the sheet near a place of the screen (asked anew, as the sheet fits itself)."""
    import io
    import time

    import numpy as np
    from PIL import Image

    for _ in range(600):
        shown = np.asarray(Image.open(io.BytesIO(page.screenshot())).convert("L"), dtype=float)
        x, y = (round(number) for number in near())
        window = shown[y - 14 : y + 14, x - 14 : x + 14]
        if window.max() < 200 and window.min() < 70:
            rows, columns = np.nonzero(window < 80)
            return x - 14 + columns.mean() + 0.5, y - 14 + rows.mean() + 0.5
        time.sleep(0.1)
    raise AssertionError("the photograph's dot is not where it should be")


def test_two_points_a_check_that_fails_and_a_new_part(window, plan, address, photograph):
    """A new part comes from a picture; a wrong distance is found by the check."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("button", name="Parts", exact=True).click()
    page.get_by_label("A new part from a picture").set_input_files(str(photograph(SQUARE_ON, "deck.jpg")))
    gauge(page)
    page.get_by_label("Two points and their distance").check()
    for corner in SHEET[:2]:
        press(page, SQUARE_ON.seen([corner])[0])
    page.get_by_label("Distance between the two, mm").fill("310")
    page.get_by_text("Two points always fit").wait_for()
    page.get_by_role("button", name="Check a distance").click()
    for dot in DOTS:
        press(page, SQUARE_ON.seen([dot])[0])
    page.get_by_label("Measured on the part, mm").fill("100.5")
    page.get_by_text("too long").wait_for()
    page.get_by_text("Too rough").wait_for()
    page.get_by_label("Distance between the two, mm").fill("297")
    page.get_by_text("it agrees").wait_for()
    page.locator(".gauge").get_by_label("Name of the part").fill("deck")
    for word, edge in (("Left", 0), ("Right", 297), ("Low", 0), ("Top", 210)):
        page.get_by_label(f"{word}, mm").fill(str(edge))
        page.get_by_label(f"{word}, mm").press("Enter")
    page.get_by_role("button", name="Make the part").click()
    page.get_by_role("button", name="Take back: deck made from a picture").wait_for()
    laid(page, 2)
    deck = part_of(plan, "deck")
    assert deck["outline_mm"] == [[0, 0], [297, 0], [297, 210], [0, 210]]
    page.keyboard.press("Control+z")
    page.get_by_text("Nothing to take back").wait_for()
    assert (plan / "pictures" / "deck.jpg").exists()


def test_a_heic_gets_a_word(window, plan, address, tmp_path):
    """What cannot be read is told with what to do; nothing is kept, and the refusal is no server error."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    heic = tmp_path / "IMG_0001.jpg"
    heic.write_bytes(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 400)
    drop(page, "#sheet", heic, wide.at("hull", [100, 20]))
    page.get_by_text("most compatible").wait_for()
    assert not list((plan / "pictures").iterdir())
    page.get_by_role("button", name="Understood").click()
    wide.wrong[:] = [text for text in wide.wrong if "422" not in text]


def test_dropped_beside_the_parts_the_app_asks(window, plan, address, photograph):
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    drop(page, ".thumbs", photograph(SQUARE_ON, "seen.jpg"), (20, 20))
    page.get_by_role("button", name="A picture of the subject").click()
    page.get_by_role("button", name="Take back: picture seen.jpg put among the references").wait_for()
    assert "seen.jpg" in (plan / "plan.yaml").read_text(encoding="utf-8")


DROPPED_AT_ONCE = """new MutationObserver((_, watch) => {
    if (!document.documentElement.dataset.ready) return;
    watch.disconnect();
    const carried = new DataTransfer();
    carried.items.add(new File([new Uint8Array(9)], "early.jpg"));
    for (const kind of ["dragover", "drop"])
        document.body.dispatchEvent(new DragEvent(kind, {dataTransfer: carried, bubbles: true, cancelable: true}));
}).observe(document, {subtree: true, attributes: true, attributeFilter: ["data-ready"]})"""


def test_a_picture_dropped_as_soon_as_the_page_is_ready_is_asked_about(window, plan, address):
    page = window("/").page
    page.add_init_script(DROPPED_AT_ONCE)
    page.goto(page.url.rstrip("/") + address)
    page.get_by_text("Where does early.jpg belong?").wait_for(timeout=10_000)


def test_by_keyboard_alone(window, plan, address, photograph):
    """Points are placed by Enter and moved by arrows; the zero and the turn too."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("button", name="Parts", exact=True).focus()
    page.keyboard.press("Enter")
    page.locator(".leaf .row", has_text="lid").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Put a picture on it").set_input_files(str(photograph(SQUARE_ON, "lid.jpg")))
    gauge(page)
    page.get_by_label("Two points and their distance").focus()
    page.keyboard.press("Space")
    page.locator(".gauge canvas").focus()
    page.keyboard.press("Enter")
    for _ in range(3):
        page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Enter")
    page.get_by_text("One pixel is").wait_for()
    before = page.evaluate("rushlight.gauge.shown.draft.pixels[1]")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Alt+ArrowUp")
    page.keyboard.press("Shift+ArrowDown")
    after = page.evaluate("rushlight.gauge.shown.draft.pixels[1]")
    assert [after[0] - before[0], after[1] - before[1]] == pytest.approx([1, 9.9], abs=1e-6)
    page.get_by_role("button", name="Turn left").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Put the zero").focus()
    page.keyboard.press("Enter")
    page.locator(".gauge canvas").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Put it under lid").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Take back: picture of lid given its size").wait_for()
    laid(page, 1)
    assert part_of(plan, "lid")["picture"]["turned_deg"] == 90
    page.wait_for_timeout(100)
    assert page.evaluate("document.activeElement.id || document.activeElement.type") in ("sheet", "file", "submit")


@pytest.mark.parametrize("light", ["1", "0"])
def test_narrow_by_day_and_by_night(window, address, photograph, axe, light):
    """At 360 px by touch: the glass shows the point under the finger; nothing is cut off sideways."""
    narrow = window(address, width=360, height=740, has_touch=True)
    page = narrow.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_label("Room light").fill(light)
    page.get_by_role("button", name="Parts", exact=True).click()
    page.locator(".leaf .row", has_text="hull").click()
    page.get_by_label("Put a picture on it").set_input_files(str(photograph(OBLIQUE, f"narrow {light}.jpg")))
    gauge(page)
    for pixel in OBLIQUE.seen(SHEET):
        page.touchscreen.tap(*on_screen(page, pixel))
    page.get_by_text("One pixel is").wait_for()
    assert page.evaluate("[document.querySelector('.gauge').scrollWidth, innerWidth]") == [360, 360]
    assert axe(narrow, "the gauge at 360 px") == []
    page.get_by_role("button", name="Leave without it").click()
    assert axe(narrow, "a part with a picture that has no size") == []
