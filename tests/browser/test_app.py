"""What only a browser can show."""

from __future__ import annotations

import io
import re

import pytest
import yaml
from PIL import Image


def lamp_places(text: str) -> list[str]:
    return re.findall(r"name: stern.*?at_mm: \[([^\]]*)\]", text, re.S)


def test_start_page_new_plan_and_first_lamp(window, server):
    """From nothing to a plan with a lamp, by the page alone; an empty plan says what to do first."""
    wide = window("/")
    page = wide.page
    page.get_by_label("What does the model show?").fill("Ferry <script>alert(1)</script>")
    page.get_by_role("button", name="Begin").click()
    page.wait_for_url("**/plan/*")
    page.wait_for_selector("html[data-ready]")
    assert page.get_by_role("heading", level=1).inner_text().startswith("Ferry <script>alert(1)</script>")
    page.get_by_role("button", name="Lamps", exact=True).click()
    assert page.get_by_text("No lamps yet").is_visible()
    page.mouse.dblclick(*wide.at("hull", [150, 30]))
    page.get_by_role("button", name="Take back: lamp placed").wait_for()
    assert page.get_by_label("x, mm").input_value() == "150"
    assert "Take back: begun" not in page.content()


def test_drag_findings_undo_redo(window, plan, address):
    """A lamp dragged is saved at once, everything is worked out anew, and the step is taken back by name."""
    wide = window(address)
    page = wide.page
    wide.fresh()
    x, y = wide.at("hull", [20, 25])
    before = page.get_by_role("status").first.inner_text()
    wide.drag((x, y), (x + 30, y))
    page.get_by_role("button", name="Take back: stern moved").wait_for()
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    assert lamp_places(text) != ["20, 25"]
    assert "# kept: this comment stays" in text
    wide.fresh()
    page.keyboard.press("ArrowUp")
    page.get_by_role("button", name="Take back: stern moved").wait_for()
    page.keyboard.press("Control+z")
    page.get_by_role("button", name="Do again: stern moved").wait_for()
    page.keyboard.press("Control+z")
    page.get_by_text("Nothing to take back").wait_for()
    assert lamp_places((plan / "plan.yaml").read_text(encoding="utf-8")) == ["20, 25"]
    page.keyboard.press("Control+Shift+z")
    page.get_by_role("button", name="Take back: stern moved").wait_for()
    wide.fresh()
    assert before


def test_a_finding_shows_its_place_and_follows_the_edit(window, address):
    """A lamp without evidence is a finding; taking the lamp away takes the finding away."""
    wide = window(address)
    page = wide.page
    wide.fresh()
    notes = page.locator(".note", has_text="speaks for 'stern'")
    assert notes.count() == 1
    notes.get_by_role("button").click()
    assert page.locator(".note.on").get_by_text("Cure").is_visible()
    page.get_by_role("button", name="Lamps", exact=True).click()
    page.locator(".leaf .list .row", has_text="stern").click()
    page.get_by_role("button", name="Remove", exact=True).click()
    page.get_by_role("button", name="Take back: stern removed").wait_for()
    wide.fresh()
    assert page.locator(".note", has_text="speaks for 'stern'").count() == 0
    assert page.locator(".note", has_text="speaks for 'beacon'").count() == 1


def test_room_light_and_states(window, address):
    """The room light takes sheet and plates from paper to soot; a state is chosen by its word; rhythms start still."""
    wide = window(address)
    page = wide.page
    wide.fresh()
    assert page.locator("html").get_attribute("data-plate") == "day"
    page.get_by_label("Room light").fill("0")
    assert page.locator("html").get_attribute("data-plate") == "night"
    page.get_by_role("radio", name="moored").click()
    assert page.get_by_role("radio", name="moored").get_attribute("aria-checked") == "true"
    assert "6 of 7 lamps lit when moored" in page.locator("#sheet").get_attribute("aria-label")
    assert page.get_by_role("button", name="Play the rhythms").is_visible()
    page.wait_for_selector("#sheet[data-light=sharp]")
    picture = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    red, _, blue = picture.getpixel(tuple(round(value) for value in wide.at("lid", [40, 10])))
    assert red > 120 and red > blue + 60  # the beacon glows red
    assert max(picture.getpixel((600, 700))) < 60  # soot


def test_two_windows_and_an_edit_from_outside(window, plan, address):
    """What one window does, the other shows; so does an edit of the file; a broken file is told and loses nothing."""
    one, two = window(address), window(address)
    for made in (one, two):
        made.page.wait_for_selector("html[data-ready]")
        made.page.get_by_role("button", name="Lamps", exact=True).click()
    one.page.locator(".leaf .list .row", has_text="stern").click()
    one.page.get_by_label("Note").fill("seen to")
    one.page.get_by_label("Note").press("Enter")
    two.page.get_by_role("button", name="Take back: stern: note changed").wait_for()
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    assert "seen to" in text
    (plan / "plan.yaml").write_text(text.replace("name: stern", "name: sternlight"), encoding="utf-8")
    for made in (one, two):
        made.page.locator(".leaf .list .row", has_text="sternlight").wait_for()
    (plan / "plan.yaml").write_text(text.replace("colour: red", "colour: rad"), encoding="utf-8")
    one.page.get_by_text("was edited elsewhere and cannot be read").wait_for()
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    one.page.locator(".leaf .list .row strong", has_text=re.compile("^stern$")).wait_for()


def test_rows_frame_spread_and_grid(window, plan, address):
    """A lamp spreads into a row; lamps are chosen by a frame; states are ticked in the grid."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("button", name="Lamps", exact=True).click()
    page.locator(".leaf .list .row", has_text="stern").click()
    page.get_by_role("button", name="Spread into a row").click()
    page.get_by_role("button", name="Take back: stern spread into a row").wait_for()
    page.get_by_label("How many").fill("3")
    page.get_by_label("How many").press("Enter")
    page.get_by_role("button", name="Take back: stern: count changed").wait_for()
    assert "count: 3" in (plan / "plan.yaml").read_text(encoding="utf-8")
    page.get_by_role("button", name="Close this leaf").click()
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Whole", exact=True).click()
    page.keyboard.down("Shift")
    (left, top), (right, low) = wide.at("hull", [2, 38]), wide.at("hull", [188, 2])
    wide.drag((left, top), (right, low))
    page.keyboard.up("Shift")
    page.get_by_role("button", name="Lamps", exact=True).click()
    page.get_by_text("2 chosen.").wait_for()
    page.get_by_role("button", name="Light", exact=True).click()
    page.get_by_label("ports lit when under way").check()
    page.get_by_role("button", name="Take back: ports lit when under way").wait_for()


def test_book_from_the_app(window, plan, address):
    """The book is written with its progress and opened from the leaf."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("button", name="Book", exact=True).click()
    wide.fresh()
    page.get_by_role("button", name="Write the book").click()
    link = page.get_by_role("link", name="Open the book (PDF)")
    link.wait_for()
    assert (plan / "book" / "book-a4.pdf").read_bytes().startswith(b"%PDF")
    assert link.get_attribute("href").startswith("/api/plans/")


def test_two_lamps_placed_and_doubled_in_quick_succession(window, plan, address):
    """Names are given when their turn comes: neither is refused for the other's name."""
    wide = window(address)
    page = wide.page
    page.wait_for_selector("html[data-ready]")
    for place in ([60, 10], [150, 10]):
        page.mouse.dblclick(*wide.at("hull", place))
    page.get_by_role("button", name="Take back: lamp 2 placed").wait_for()
    page.locator("#sheet").focus()
    page.keyboard.press("Control+d")
    page.keyboard.press("Control+d")
    page.locator(".leaf .list .row", has_text="lamp 4").wait_for()
    assert page.locator(".over .word").count() == 0


def test_a_regulator_in_place_of_a_resistor(window, plan, address):
    """What sets the current of a circuit is chosen, and the sheets follow."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Power", exact=True).click()
    page.get_by_text("What feeds it").click()
    page.get_by_label("Current in circuit A").select_option("nearest")
    page.get_by_role("button", name="Take back: what sets the current in circuit A").wait_for()
    made.fresh()
    assert page.get_by_label("Current in circuit A").input_value() == "nearest"
    assert page.get_by_text("mW of heat").count() >= 1
    page.locator("details.topic").first.wait_for()
    made.unfold()
    page.locator(".topic").get_by_text("Constant-current regulators").first.wait_for()
    text = yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8"))
    assert text["pinned"] == [{"of": "A", "choice": "regulator", "value": "nearest"}]


def test_a_switch_that_is_at_hand(window, plan, address):
    """A switch of one's own is named, the design takes it, and its pieces can be changed."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Power", exact=True).click()
    page.get_by_text("What feeds it").click()
    page.get_by_label("Another one that you have").select_option("switches:rotary 2P6T")
    page.get_by_role("button", name="Take back: rotary 2P6T at hand").wait_for()
    made.fresh()
    page.get_by_text("Rotary 2P6T").first.wait_for()
    page.get_by_label("Pieces: rotary 2P6T").fill("2")
    page.get_by_label("Pieces: rotary 2P6T").press("Enter")
    page.get_by_role("button", name="Take back: pieces of rotary 2P6T").wait_for()
    text = yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8"))
    assert text["at_hand"] == [{"table": "switches", "row": "rotary 2P6T", "count": 2}]
    page.get_by_role("button", name="Take out rotary 2P6T").click()
    page.get_by_role("button", name="Take back: rotary 2P6T no longer at hand").wait_for()


def test_single_resistors_that_are_at_hand(window, plan, address):
    """Values are typed as a list; what is none is told beside the list and changes nothing."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Power", exact=True).click()
    page.get_by_text("What feeds it").click()
    typed = page.get_by_label("Single resistors of 0.25 W that you have, ohm")
    typed.fill("100,220")
    typed.press("Enter")
    page.get_by_role("alert").get_by_text("'100,220' is no resistance").wait_for()
    typed.fill("100, 220 1k; 4,7k")
    typed.press("Enter")
    page.get_by_role("button", name="Take back: resistors that you have").wait_for()
    made.fresh()
    assert page.get_by_text("is no resistance").count() == 0
    text = yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8"))
    assert text["at_hand"] == [{"table": "resistors", "values_ohm": [100, 220, "1k", "4.7k"]}]
    typed.fill("")
    typed.press("Enter")
    made.fresh()
    assert "at_hand" not in yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8"))


def test_leds_as_they_warm_read_without_scrolling_aside(window, address):
    """Nine columns do not fit a leaf: words over figures on a laptop, each figure under its own heading on a narrow screen."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Power", exact=True).click()
    page.locator("table[aria-label='As LEDs warm']").wait_for(state="attached")
    page.evaluate("for (const sheet of document.querySelectorAll('details.topic')) sheet.open = true")
    table = page.get_by_role("table", name="As LEDs warm")
    table.wait_for()
    heads = table.get_by_role("columnheader")
    for width, shown in ((1280, True), (390, False)):
        page.set_viewport_size({"width": width, "height": 800})
        page.wait_for_function("shown => document.querySelector('table.entries thead').checkVisibility() === shown", arg=shown)
        room, needs = table.evaluate("table => [table.parentElement.clientWidth, table.parentElement.scrollWidth]")
        assert needs <= room
        row = table.get_by_role("row").nth(1 if shown else 0)
        assert row.get_by_text("Just on").is_visible() is not shown
        assert row.locator("td[role=cell]").count() == 9
    page.set_viewport_size({"width": 1280, "height": 800})
    assert heads.all_inner_texts() == ["Circuit", "LED or strip", "On", "Meant mA", "Just on mA", "Settled mA", "Junction °C", "Loses"]


@pytest.mark.parametrize("leaf", ["Light", "Power"])
def test_no_table_of_a_sheet_scrolls_aside(window, address, leaf):
    """Tables of words, or with words between their figures, stand as cards where rows do not fit, on a laptop and on a phone."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name=leaf, exact=True).click()
    page.locator("details.topic table.cards").first.wait_for(state="attached")
    page.evaluate("for (const sheet of document.querySelectorAll('details.topic')) sheet.open = true")
    page.locator("details.topic table.cards").first.wait_for()
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 800})
        wide = page.evaluate("""() => [...document.querySelectorAll('.topic figure.table .scroll')].filter(
            frame => frame.scrollWidth > frame.clientWidth + 1).map(frame => frame.getAttribute('aria-label'))""")
        assert wide == []
    first = page.locator("details.topic table.cards").first
    first.locator("td .above").last.wait_for()  # each cell under its heading
    page.set_viewport_size({"width": 1280, "height": 800})


def test_what_feeds_it_and_a_reading(window, plan, address):
    """The supply is chosen, a rhythm gets its maker, and a lux reading narrows what is believed of an LED."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Power", exact=True).click()
    page.get_by_text("What feeds it").click()
    page.locator(".feed select").first.select_option("adapter")
    page.get_by_label("Its voltage, V").fill("9")
    page.get_by_label("Its voltage, V").press("Enter")
    page.get_by_role("button", name="Take back: supply changed").wait_for()
    page.get_by_label("Fl(2) R 10s").select_option("a small controller")
    page.get_by_role("button", name="Say what yours is").click()
    page.get_by_label("Its pins, one for each circuit").fill("2, 3")
    page.get_by_label("Its pins, one for each circuit").press("Enter")
    page.get_by_label("Its pins, one for each circuit").blur()
    page.get_by_text("Take back: controller changed").wait_for()
    assert page.get_by_label("Its pin for the button or reed").count() == 0
    page.get_by_label("What brings up the states").select_option("button")
    page.get_by_label("Its pin for the button or reed").fill("9")
    page.get_by_label("Its pin for the button or reed").press("Enter")
    made.fresh()
    page.locator("details.topic").first.wait_for()
    made.unfold()
    page.get_by_text("stepped by a push button").first.wait_for()
    page.get_by_role("button", name="Light", exact=True).click()
    page.get_by_text("Your own numbers: none yet").click()
    page.locator(".reading summary", has_text="intensity").first.click()
    reading = page.locator(".reading[open]")
    assert 0 < float(reading.get_by_label("Current that flows, mA").input_value()) < 20  # its own, not the data sheet's
    for label, value in (("Lux on its axis", "19, 21"), ("Distance to the meter, mm", "200"),
                         ("Current that flows, mA", "20")):
        reading.get_by_label(label).fill(value)
        reading.get_by_label(label).press("Enter")
    reading.get_by_role("button", name="Reckon with it").click()
    page.get_by_text("Your own numbers: 1 of them").wait_for()
    text = yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8"))
    assert (text["supply"]["kind"], text["supply"]["adapter_v"], text["controller"]["pins"]) == ("adapter", 9, [2, 3])
    assert (text["controller"]["states_by"], text["controller"]["button_pin"]) == ("button", 9)
    assert text["rhythms"] == [{"rhythm": "Fl(2) R 10s", "by": "controller"}]
    assert [(row["what"], row["readings"], row["distance_mm"]) for row in text["measured"]] == [("led intensity", [19, 21], 200)]
    page.get_by_text("intensity: 570 to 1100 mcd").first.wait_for()  # derived: 19 and 21 lux at 0.2 m, a quarter off
