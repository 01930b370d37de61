"""Drawing on a part: what only a browser can show."""

from __future__ import annotations

import re
import time

import pytest


@pytest.fixture
def drawn(window, plan, address):
    """The small plan with the hull to be drawn on."""
    wide = window(address)
    wide.page.wait_for_selector("html[data-ready]")
    wide.text = lambda: (plan / "plan.yaml").read_text(encoding="utf-8")
    on_part(wide, "hull")
    return wide


def on_part(made, name):
    made.page.get_by_role("button", name="Parts", exact=True).click()
    made.page.locator(".leaf .list:not(.drawn) .row", has_text=name).first.click()
    made.page.get_by_role("heading", name=f"Drawn on {name}").wait_for()


def press(made, *places, part="hull"):
    for place in places:
        made.page.mouse.click(*made.at(part, place))


def step(made, words):
    """The step that can be taken back, once the server has it."""
    made.page.get_by_role("button", name=f"Take back: {words}", exact=True).wait_for()
    until(made, "!rushlight.desk.state.saving")


def until(made, script):
    """Ask again until the page says yes (its security policy allows no waiting inside the page)."""
    end = time.monotonic() + 20
    while not made.page.evaluate(script):
        assert time.monotonic() < end, script
        time.sleep(0.05)


def hull(made):
    return made.page.evaluate("rushlight.desk.state.plan.parts.find(part => part.name === 'hull')")


def test_points_of_an_outline_are_dragged_put_in_taken_out_and_taken_back(drawn):
    page = drawn.page
    press(drawn, [60, 0])
    drawn.drag(drawn.at("hull", [200, 40]), drawn.at("hull", [215, 37.5]))
    step(drawn, "outline of hull mended")
    assert hull(drawn)["outline_mm"][2] == [215, 40]  # level with its neighbour
    middle = drawn.at("hull", [95, 0])
    drawn.drag(middle, (middle[0], middle[1] + 30))
    step(drawn, "point put into outline of hull")
    assert len(hull(drawn)["outline_mm"]) == 5
    page.get_by_label("take out point 2").click()
    step(drawn, "point taken out of outline of hull")
    assert hull(drawn)["outline_mm"] == [[0, 0], [190, 0], [215, 40], [0, 40]]
    for _ in range(3):
        page.locator("#sheet").press("Control+z")
        until(drawn, "!rushlight.desk.state.saving")
    page.get_by_text("Nothing to take back").wait_for()
    assert "outline_mm: [[0, 0], [190, 0], [200, 40], [0, 40]]" in drawn.text()
    assert "# kept: this comment stays" in drawn.text()


def test_an_outline_is_traced_point_by_point(drawn):
    drawn.page.get_by_label("Outline: drawn anew, point by point").click()
    press(drawn, [0, 0], [180, 0], [195, 20], [180, 40], [0, 40])
    assert drawn.page.get_by_text("5 points so far").is_visible()
    press(drawn, [0, 0])
    step(drawn, "outline of hull drawn")
    assert hull(drawn)["outline_mm"] == [[0, 0], [180, 0], [195, 20], [180, 40], [0, 40]]


def test_openings_and_keep_outs_of_every_form(drawn):
    page = drawn.page
    page.get_by_label("Opening: a rectangle").click()
    drawn.drag(drawn.at("hull", [50, 5]), drawn.at("hull", [70, 15]))
    step(drawn, "opening on hull drawn")
    page.get_by_label("Opening: by its corners").click()
    press(drawn, [80, 5], [95, 5], [87, 15], [80, 5])
    step(drawn, "opening 2 on hull drawn")
    page.get_by_label("Keep-out: round").click()
    drawn.drag(drawn.at("hull", [140, 10]), drawn.at("hull", [146, 10]))
    step(drawn, "keep-out on hull drawn")
    now = hull(drawn)
    assert [row["rect_mm"] for row in now["openings"]] == [[50, 5, 20, 10], None]
    assert now["openings"][1]["outline_mm"] == [[80, 5], [95, 5], [87, 15]]
    assert (now["keep_outs"][0]["centre_mm"], now["keep_outs"][0]["radius_mm"]) == ([140, 10], 6)
    page.get_by_label("What is there").select_option("post")
    step(drawn, "keep-out on hull: why changed")
    page.get_by_label("Name", exact=True).fill("mast")
    page.get_by_label("Name", exact=True).press("Enter")
    step(drawn, "keep-out named mast")
    drawn.drag(drawn.at("hull", [140, 10]), drawn.at("hull", [150, 14]))
    step(drawn, "mast on hull moved") if page.get_by_role("button", name="Take back: mast on hull moved").count() else step(drawn, "mast on hull mended")
    page.get_by_role("button", name="Remove", exact=True).click()
    step(drawn, "mast on hull removed")
    assert "why: post" not in drawn.text()


def test_a_bay_a_string_and_a_depth_are_written_when_they_are_measured(drawn):
    page = drawn.page
    page.get_by_label("Bay: a rectangle").click()
    drawn.drag(drawn.at("hull", [50, 5]), drawn.at("hull", [80, 15]))
    page.get_by_role("button", name="Write it").click()
    page.get_by_text("Still to be said: free depth behind it, reached by.").wait_for()
    assert "bays" not in drawn.text()
    page.get_by_label("Free depth behind it").fill("14")
    page.get_by_label("Free depth behind it").press("Enter")
    page.get_by_label("Reached by").select_option("magnet hatch")
    page.get_by_role("button", name="Write it").click()
    step(drawn, "bay on hull drawn")
    page.get_by_label("String: between two marks").click()
    assert page.get_by_text("pull it taut").first.is_visible()
    press(drawn, [10, 20], [150, 20])
    page.get_by_label("Length along the inside").fill("162")
    page.get_by_role("button", name="Write it").click()
    step(drawn, "string 1 on hull drawn")
    page.get_by_label("Depth: at a point").click()
    press(drawn, [110, 12])
    page.get_by_label("Depth here").fill("9.5")
    page.get_by_role("button", name="Write it").click()
    step(drawn, "depth 1 on hull drawn")
    now = hull(drawn)
    assert now["bays"][0] == {"name": "bay", "rect_mm": [50, 5, 30, 10], "depth_mm": 14, "access": "magnet hatch", "note": ""}
    assert now["relief"]["strings"] == [{"from_mm": [10, 20], "to_mm": [150, 20], "length_mm": 162}]
    assert now["relief"]["heights"] == [{"at_mm": [110, 12], "height_mm": 9.5}]


def test_a_crossing_leads_from_one_part_to_another(drawn):
    page = drawn.page
    page.get_by_label("Crossing: two ends").click()
    press(drawn, [60, 10], [90, 10])
    assert page.get_by_text("a crossing leads from one part to another").is_visible()
    press(drawn, [25, 15], part="lid")
    page.get_by_role("combobox", name="Kind", exact=True).select_option("plug")
    page.get_by_role("button", name="Write it").click()
    page.get_by_role("button", name=re.compile("Take back: crossing on hull drawn")).wait_for()
    assert page.evaluate("rushlight.desk.state.plan.crossings[1].ends") == [{"part": "hull", "at_mm": [60, 10]}, {"part": "lid", "at_mm": [25, 15]}]


def test_a_bad_shape_is_told_at_its_place_and_nothing_is_lost(drawn):
    page, before = drawn.page, drawn.text()
    press(drawn, [60, 0])
    drawn.drag(drawn.at("hull", [200, 40]), drawn.at("hull", [100, -20]))
    page.get_by_text("The outline would cross itself").wait_for()
    assert drawn.text() == before
    page.get_by_role("button", name="As it was").click()
    assert hull(drawn)["outline_mm"][2] == [200, 40]
    drawn.drag(drawn.at("hull", [0, 40]), drawn.at("hull", [60, 40]))
    page.get_by_text("would leave the lamp 'stern' outside").wait_for()
    assert drawn.text() == before
    drawn.drag(drawn.at("hull", [60, 40]), drawn.at("hull", [5, 40]))
    step(drawn, "outline of hull mended")
    assert hull(drawn)["outline_mm"][3] == [5, 40]


def test_by_keys_alone_and_by_typing_in_inches(drawn):
    page = drawn.page
    page.get_by_label("Opening: a rectangle").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")  # the sheet has the focus: one in the middle
    step(drawn, "opening on hull drawn")
    page.get_by_role("button", name="By its corners instead").click()
    step(drawn, "opening on hull by its corners")
    x, y = hull(drawn)["openings"][0]["outline_mm"][1]
    page.get_by_label("Point 2: choose it").focus()
    page.keyboard.press("Enter")
    for key in ("ArrowRight", "Shift+ArrowRight", "Alt+ArrowDown"):
        page.keyboard.press(key)
    until(drawn, f"rushlight.desk.state.plan.parts[0].openings[0].outline_mm[1][1] === {round(y - 0.1, 2)}")
    assert hull(drawn)["openings"][0]["outline_mm"][1] == [x + 11, round(y - 0.1, 2)]
    page.evaluate("rushlight.desk.set({unit: 'inch'})")
    field = page.get_by_label("x of point 2, in")
    field.fill("4 1/4")
    field.press("Enter")
    until(drawn, "rushlight.desk.state.plan.parts[0].openings[0].outline_mm[1][0] === 107.95")
    field.fill("wide")
    field.press("Enter")
    assert page.get_by_text("'wide' is no length").is_visible()
    page.keyboard.press("Escape")
    page.locator("#sheet").focus()
    page.keyboard.press("Delete")
    step(drawn, "point taken out of opening on hull")


def hull_photograph(folder):
    """A light hull with a window on a dark mat, 4 px a mm, zero at (100, 300)."""
    from PIL import Image, ImageDraw

    at = lambda x, y: (100 + 4 * x, 300 - 4 * y)  # noqa: E731
    image = Image.new("RGB", (1060, 420), (45, 95, 75))
    draw = ImageDraw.Draw(image)
    draw.polygon([at(0, 0), at(180, 0), at(205, 20), at(190, 45), at(0, 45)], fill=(210, 208, 200))
    draw.rectangle((*at(130, 32), *at(150, 24)), fill=(45, 95, 75))
    (folder / "pictures").mkdir()
    image.save(folder / "pictures" / "hull.png")


def test_an_outline_is_offered_from_the_picture_and_taken(drawn, plan):
    page = drawn.page
    assert page.get_by_text("With a picture whose scale is known").is_visible()
    hull_photograph(plan)
    picture = "{file: hull.png, points: [{pixel: [100, 300], at_mm: [0, 0]}, {pixel: [900, 300], at_mm: [200, 0]}]}"
    text = drawn.text().replace("outline_mm: [[0, 0], [190", f"picture: {picture}, outline_mm: [[0, 0], [190")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    page.get_by_role("button", name="Offer an outline from the picture").click()
    page.get_by_text("is drawn on the sheet as a broken line").wait_for()
    assert page.get_by_label("hole 1").is_checked()
    assert drawn.text() == text
    page.get_by_role("button", name="Take it", exact=True).click()
    step(drawn, "outline of hull taken from its picture")
    now = hull(drawn)
    assert len(now["outline_mm"]) <= 7
    for x, y in ((0, 0), (180, 0), (205, 20), (190, 45), (0, 45)):
        assert min(abs(x - p) + abs(y - q) for p, q in now["outline_mm"]) < 1.2
    assert len(now["openings"]) == 1
    page.locator("#sheet").press("Control+z")
    until(drawn, "rushlight.desk.state.plan.parts[0].outline_mm.length === 4 && !rushlight.desk.state.plan.parts[0].openings.length")


def test_a_picture_without_contrast_offers_nothing_and_says_why(drawn, plan):
    from PIL import Image

    (plan / "pictures").mkdir()
    Image.new("RGB", (900, 400), (120, 120, 120)).save(plan / "pictures" / "grey.png")
    picture = "{file: grey.png, points: [{pixel: [50, 300], at_mm: [0, 0]}, {pixel: [850, 300], at_mm: [200, 0]}]}"
    (plan / "plan.yaml").write_text(drawn.text().replace("outline_mm: [[0, 0], [190", f"picture: {picture}, outline_mm: [[0, 0], [190"), encoding="utf-8")
    drawn.page.get_by_role("button", name="Offer an outline from the picture").click()
    drawn.page.get_by_text("The part does not stand out").wait_for()


def test_parts_are_begun_renamed_mirrored_and_taken_out(drawn):
    page = drawn.page
    page.get_by_text("A mirrored copy for the other side").click()
    page.get_by_label("Name of the copy").fill("other hull")
    page.get_by_role("button", name="Copy it mirrored").click()
    step(drawn, "hull copied mirrored as other hull")
    assert page.evaluate("rushlight.desk.state.plan.parts[2].outline_mm") == [[200, 0], [10, 0], [0, 40], [200, 40]]
    on = page.locator(".leaf .list:not(.drawn) .row", has_text="lid")
    on.click()
    page.get_by_label("Name of this part").fill("roof")
    page.get_by_label("Name of this part").press("Enter")
    step(drawn, "lid named roof")
    assert page.evaluate("rushlight.desk.state.plan.lamps[1].part") == "roof"
    page.get_by_text("Take this part out").click()
    assert page.get_by_text("On it: 1 lamp, 1 crossing.").is_visible()
    page.get_by_role("button", name="Take roof out").click()
    step(drawn, "roof taken out")
    assert page.evaluate("rushlight.desk.state.plan.lamps.map(lamp => lamp.part)") == ["hull", None]
    page.get_by_text("A new part", exact=True).click()
    page.get_by_label("Name of the part").fill("deck")
    page.get_by_role("button", name="Begin it as a rectangle").click()
    step(drawn, "deck begun")
    page.get_by_role("heading", name="Drawn on deck").wait_for()


@pytest.mark.parametrize("light", ["1", "0"])
def test_every_screen_of_drawing_passes_the_accessibility_checker(drawn, axe, light):
    page = drawn.page
    page.get_by_label("Room light").fill(light)
    page.locator(".leaf summary").evaluate_all("all => all.forEach(one => one.click())")
    assert axe(drawn, "a part with its forms open") == []
    press(drawn, [60, 0])
    drawn.drag(drawn.at("hull", [200, 40]), drawn.at("hull", [100, -20]))
    page.get_by_text("The outline would cross itself").wait_for()
    assert axe(drawn, "a proposal that is not written") == []
    page.get_by_role("button", name="As it was").click()
    page.get_by_label("Bay: a rectangle").click()
    drawn.drag(drawn.at("hull", [50, 5]), drawn.at("hull", [80, 15]))
    page.get_by_role("button", name="Write it").click()
    assert axe(drawn, "what must be said of a new bay") == []


def test_by_touch_at_360_px(window, address):
    """A finger reaches a point from 20 px away, and taps trace an opening; nothing is cut off sideways."""
    made = window(address, width=360, height=740, has_touch=True)
    page = made.page
    page.wait_for_selector("html[data-ready]")
    on_part(made, "hull")

    def tap(*place):
        page.locator("#sheet").scroll_into_view_if_needed()
        x, y = made.at("hull", place)
        left, top = page.evaluate("(() => { const box = document.getElementById('sheet').getBoundingClientRect(); return [box.left, box.top]; })()")
        page.touchscreen.tap(left + x, top + y)

    page.get_by_label("Opening: by its corners").click()
    for place in ((60, 12), (90, 12), (90, 28), (60, 12)):
        tap(*place)
    step(made, "opening on hull drawn")
    assert hull(made)["openings"][0]["outline_mm"] == [[60, 12], [90, 12], [90, 28]]
    wide, inner = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide <= inner
    tap(60, 12)
    assert page.evaluate("rushlight.desk.state.drawing.figure") == "openings/opening"


def lid_moves(drawn):
    """The lid's leaf, with two ways in which it may stand."""
    drawn.page.locator(".leaf .list:not(.drawn) .row", has_text="lid").first.click()
    drawn.page.locator("summary", has_text="It moves").click()
    for name in ("shut", "wide"):
        drawn.page.get_by_label("Another stand").fill(name)
        drawn.page.get_by_role("button", name="Add it").click()
        step(drawn, f"lid: stands '{name}'")


def test_a_lid_becomes_the_door_of_an_opening(drawn):
    """Stands of a part, an opening with a sheet and that part as its door, and how it stands in the state."""
    page = drawn.page
    lid_moves(drawn)
    page.get_by_label("When under way it stands").select_option("wide")
    step(drawn, "lid wide when under way")
    page.locator(".leaf .list:not(.drawn) .row", has_text="hull").first.click()
    page.locator("#leaf").get_by_text("Opening", exact=True).locator("xpath=..").get_by_role("button", name="a rectangle").click()
    drawn.drag(drawn.at("hull", [60, 5]), drawn.at("hull", [80, 15]))
    until(drawn, "rushlight.desk.state.plan.parts[0].openings.length === 1 && !rushlight.desk.state.saving")
    page.locator("summary", has_text="Sheets behind it").click()
    page.get_by_role("button", name="Another sheet, further in").click()
    step(drawn, "opening: sheets behind it changed")
    page.locator("summary", has_text="Door: none").click()
    page.get_by_label("Shut by").select_option("lid")
    step(drawn, "opening: shut by lid")
    page.get_by_label("Hangs on").select_option("top")
    step(drawn, "opening: its door moved")
    opening = hull(drawn)["openings"][0]
    assert (opening["door"]["part"], opening["door"]["edge"]) == ("lid", "top")
    assert len(opening["diffusers"]) == 1
    poses = page.evaluate("rushlight.desk.state.plan.states[0].poses")
    assert [(row["part"], row["at"]) for row in poses] == [("lid", "wide")]
    assert "{part: lid, edge: top}" in drawn.text()


def test_a_lid_stands_on_the_hull_and_moves(drawn):
    """Where a part stands: two points, a direction, a way of moving; and to which face a fold goes."""
    page = drawn.page
    lid_moves(drawn)
    page.locator("summary", has_text="Stands on: nobody said").click()
    page.get_by_label("Stands on").select_option("hull")
    step(drawn, "lid: stands on hull")
    page.get_by_label("Towards the second, 0 is right, 90 up, deg").fill("90")
    page.get_by_label("Towards the second, 0 is right, 90 up, deg").press("Enter")
    step(drawn, "lid: turned")
    page.get_by_label("Its pose").select_option("turns it about a point")
    step(drawn, "lid: moves otherwise")
    page.get_by_label("Its pose").scroll_into_view_if_needed()
    stand = page.evaluate("rushlight.desk.state.plan.parts[1].stands")
    (ax, ay), (bx, by) = stand["at_mm"]
    assert (round(bx - ax, 6), round(by - ay, 6)) == (0, 50) and stand["pivot_mm"] == [ax, ay]
    page.get_by_label("Some of it stands where floodlights shine").uncheck()
    step(drawn, "lid: its shadow")
    assert "throws_shadow: false" in drawn.text() or "throws_shadow: no" in drawn.text()
    page.evaluate("rushlight.desk.change([{ action: 'set', kind: 'parts', name: 'lid', values: { relief: { flat: false, heights: [], strings: [], folds: [{ from_mm: [25, 0], to_mm: [25, 20], angle_deg: 90, towards: null }] } } }], 'folded')")
    until(drawn, "rushlight.desk.state.plan.parts[1].relief.folds.length === 1 && !rushlight.desk.state.saving")
    page.evaluate("rushlight.desk.drawing.choose('folds/0')")
    page.get_by_label("Folded towards the").select_option("inside")
    until(drawn, "rushlight.desk.state.plan.parts[1].relief.folds[0].towards === 'inside' && !rushlight.desk.state.saving")
    page.get_by_label("Its pose").scroll_into_view_if_needed()
