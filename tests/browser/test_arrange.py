"""Lamps laid out: along the edge of a part, along a drawn curve, on the other side, on another part, in line."""

from __future__ import annotations

import re


def opened(window, plan, address, *names, **size):
    made = window(address, **size)
    page = made.page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("button", name="Lamps", exact=True).click()
    page.evaluate("keys => rushlight.desk.set({ chosen: keys })", list(names))
    page.locator("summary", has_text="Lay out").click()
    return made, page


def words(plan):
    return (plan / "plan.yaml").read_text(encoding="utf-8")


def test_along_the_edge_by_pitch(window, plan, address):
    _, page = opened(window, plan, address, "lamps/stern")
    curve = page.get_by_role("group", name="Along a curve")
    curve.get_by_label("Inward from the edge, mm").fill("5")
    curve.get_by_label("Inward from the edge, mm").press("Enter")
    curve.get_by_label("Length along it, mm").fill("200")
    curve.get_by_label("Length along it, mm").press("Enter")
    curve.get_by_label("or one every, mm").fill("20")
    curve.get_by_label("or one every, mm").press("Enter")
    page.get_by_text("11 lamps, 20 mm apart along 200 mm, measured along the curve.").wait_for()
    curve.get_by_role("button", name="Make it a row along this").click()
    page.get_by_role("button", name="Take back: stern laid along a curve").wait_for()
    assert page.evaluate("rushlight.desk.state.look.lamps.filter(lamp => lamp.group === 'stern').length") == 11
    assert "pitch_mm: 20" in words(plan)


def test_along_points_pressed_on_the_sheet(window, plan, address):
    wide, page = opened(window, plan, address, "rows/ports")
    page.get_by_role("group", name="Along a curve").get_by_role("combobox", name="Along").select_option("drawn")
    page.get_by_role("button", name="Begin anew").click()
    page.get_by_role("button", name="Press points on the sheet").click()
    for place in ([60, 15], [100, 10]):
        page.mouse.click(*wide.at("hull", place))
        page.wait_for_timeout(400)
    page.get_by_role("button", name="Done drawing").click()
    page.get_by_role("button", name="Lay the row so").click()
    page.get_by_role("button", name="Take back: ports laid along a curve").wait_for()
    points = page.evaluate("rushlight.desk.item('rows/ports').along_mm")
    assert len(points) == 3 and points[0] == [40, 25] and abs(points[2][0] - 100) < 1


def test_mirror_copy_and_line(window, plan, address):
    text = words(plan).replace("name: stern,", "name: side port, rule: side_port, facing: port,").replace("colour: white,", "colour: red,")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    _, page = opened(window, plan, address, "lamps/side port", "lamps/beacon")
    side = page.get_by_role("group", name="On the other side")
    side.get_by_label("Mirrored onto").select_option("own middle, left and right")
    side.get_by_role("button", name="Mirror 2 of 2").click()
    page.get_by_role("button", name="Take back: 2 of the lamps mirrored").wait_for()
    found = re.search(r"name: side starboard.*?(?=\n  - |\Z)", words(plan), re.S).group()
    assert "green" in found and "side_starboard" in found and "facing: starboard" in found and "[180, 25]" in found
    page.evaluate("rushlight.desk.set({ chosen: ['lamps/side port', 'lamps/side starboard', 'lamps/beacon'] })")
    other = page.get_by_role("group", name="On another part")
    other.get_by_label("Copied to").select_option("lid")
    other.get_by_text("side port would fall outside lid").wait_for()
    assert other.get_by_role("button", name="Copy 1 of 3").is_enabled()
    page.get_by_role("button", name="Level", exact=True).is_disabled()
    page.evaluate("rushlight.desk.set({ chosen: ['lamps/beacon', 'lamps/beacon mirrored'] })")
    page.get_by_role("button", name="Upright", exact=True).click()
    page.get_by_role("button", name="Take back: 2 of the lamps: upright").wait_for()
