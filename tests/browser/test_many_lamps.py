"""Big plans stay easy: filters, groups, many lamps at once, the grid of lamps by states, versions and worth."""

from __future__ import annotations

import re

MORE = """versions: [{name: early}, {name: late}]
version: late
"""


def opened(window, plan, address, leaf):
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    text = text.replace("lamps:\n", MORE + "lamps:\n").replace("rhythm: Fl(2) R 10s,", "rhythm: Fl(2) R 10s, versions: [late],")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    wide = window(address)
    wide.page.wait_for_selector("html[data-ready]")
    wide.page.get_by_role("button", name=leaf, exact=True).click()
    return wide, wide.page


def words(plan):
    return (plan / "plan.yaml").read_text(encoding="utf-8")


def test_filters_and_groups(window, plan, address):
    _, page = opened(window, plan, address, "Lamps")
    rows = page.locator(".roll .row:not(.titled)")
    assert rows.count() == 3
    page.locator("summary", has_text="Filters").click()
    page.get_by_role("combobox", name="Lit when").select_option("moored")
    assert rows.count() == 2
    page.get_by_text("2 of 3 entries, 6 of 7 lamps.").wait_for()
    page.get_by_role("combobox", name="Colour").select_option("red")
    assert [row.inner_text().split("\n")[0] for row in rows.all()] == ["beacon"]
    page.get_by_role("button", name="Show all again").click()
    page.get_by_label("Listed").select_option("part")
    heads = page.locator(".roll .row.titled")
    assert [re.sub(r"\s+", " ", head.inner_text()) for head in heads.all()] == ["hull 2 with 6 lamps", "lid 1 with 1 lamp"]
    heads.first.click()
    page.get_by_text("2 chosen.").wait_for()


def test_many_at_once(window, plan, address):
    """What differs says so and stays; what is typed goes to all; a tick between becomes a tick."""
    _, page = opened(window, plan, address, "Lamps")
    page.get_by_role("button", name="Choose all 3").click()
    many = page.get_by_role("region", name="All chosen at once")
    assert many.get_by_label("Colour").get_attribute("placeholder") == "differs"
    assert many.get_by_label("Worth").input_value() == "must"
    many.get_by_label("Size on the subject, mm").fill("90")
    many.get_by_label("Size on the subject, mm").press("Enter")
    page.get_by_role("button", name="Take back: 3 of the lamps: size changed").wait_for()
    assert words(plan).count("size_mm: 90") == 3
    assert words(plan).count("colour: white") == 1
    many.get_by_label("moored").check()
    page.get_by_role("button", name="Take back: 3 of the lamps: lit when moored").wait_for()
    many.get_by_label("Worth").select_option("wished")
    page.get_by_role("button", name="Take back: 3 of the lamps: wished").wait_for()
    page.get_by_role("button", name="Take back: 3 of the lamps: wished").click()
    page.get_by_role("button", name="Take back: 3 of the lamps: lit when moored").wait_for()


def test_grid_by_keys(window, plan, address):
    """Arrow keys go from cell to cell; Space ticks a cell, a whole row, a whole column."""
    _, page = opened(window, plan, address, "Light")
    grid = page.get_by_role("grid", name="Lamps by states")
    assert grid.locator("[tabindex='0']").count() == 1
    page.get_by_label("stern lit when under way").focus()
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "stern lit when moored"
    page.keyboard.press("Space")
    page.get_by_role("button", name="Take back: stern lit when moored").wait_for()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Home")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "ports lit in every state"
    page.keyboard.press("Space")
    page.get_by_role("button", name="Take back: ports lit in every state").wait_for()
    page.get_by_label("all 3 listed lit when moored").uncheck()
    page.get_by_role("button", name="Take back: 3 of the lamps dark when moored").wait_for()
    page.get_by_label("stern lit when under way").uncheck()
    page.get_by_role("button", name="Take back: stern dark when under way").wait_for()
    page.get_by_label("same below: the states of stern for the rows below").click()
    page.get_by_role("button", name="Take back: states of stern for the rows below").wait_for()
    assert not page.get_by_label("ports lit when under way").is_checked()


def test_versions_and_worth(window, plan, address):
    """What each version leaves out is told; another is chosen; lamps follow."""
    _, page = opened(window, plan, address, "Lamps")
    page.locator("summary", has_text="Versions and worth").click()
    page.get_by_text("It leaves out beacon.").wait_for()
    page.get_by_role("radio", name="early").check()
    page.get_by_role("button", name="Take back: version early is built").wait_for()
    page.get_by_role("button", name="beacon").get_by_text("not in this version").wait_for()
    assert "version: early" in words(plan)
    page.get_by_label("Another version of the subject").fill("as sold")
    page.get_by_role("button", name="Add it").click()
    page.get_by_role("button", name="Take back: version as sold added").wait_for()


def test_evidence_of_a_lamp(window, plan, address):
    """A lamp without evidence gets a guess, said to be one; what is added can be taken out."""
    _, page = opened(window, plan, address, "Lamps")
    page.locator(".roll .row", has_text="stern").click()
    page.locator("summary", has_text="Evidence: none yet").click()
    page.get_by_label("Another witness").select_option("guess")
    page.get_by_label("How sure, 0 to 100, %").fill("55")
    page.get_by_label("How sure, 0 to 100, %").press("Enter")
    page.locator(".evidence").get_by_role("button", name="Add it").click()
    page.get_by_role("button", name="Take back: stern: guess speaks for it").wait_for()
    assert "kind: guess" in words(plan) and "certainty: 0.55" in words(plan)
    page.get_by_label("take out: guess, 55 % sure").click()
    page.get_by_role("button", name="Take back: stern: evidence taken out").wait_for()
    assert "kind: guess" not in words(plan)


PUSHED = """async ([x, y]) => {
  const { sheet } = rushlight, frame = () => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
  const { width, height } = sheet.canvas, copy = Object.assign(document.createElement("canvas"), { width, height });
  const pen = copy.getContext("2d", { willReadFrequently: true });
  const picture = () => { pen.drawImage(sheet.canvas, 0, 0); return pen.getImageData(0, 0, width, height).data; };
  const to = { ...sheet.view, x: sheet.view.x + x / sheet.view.scale, y: sheet.view.y + y / sheet.view.scale };
  for (const step of [0, 0.3, 0.6, 1]) {
    const moved = Math.round(step * 8) / 8;
    sheet.view = { ...to, x: to.x - (1 - moved) * x / to.scale, y: to.y - (1 - moved) * y / to.scale };
    sheet.moved();
    await frame();
  }
  const kept = Boolean(sheet.kept.held), pushed = picture();
  sheet.draw();
  await frame();
  const anew = picture();
  let differing = 0;
  for (let n = 0; n < anew.length; n += 4) differing += Math.abs(anew[n] - pushed[n]) + Math.abs(anew[n + 1] - pushed[n + 1]) > 60;
  return [kept, differing / (anew.length / 4)];
}"""


def test_a_sheet_that_is_pushed_about_looks_as_if_painted_anew(window, plan, address):
    wide = window(address)
    wide.fresh()  # an answer that comes in between paints anew, and nothing is kept of the push
    for by in ((40, -24), (-400, 320)):  # a little, and further than what is kept reaches
        kept, differing = wide.page.evaluate(PUSHED, by)
        assert kept
        assert differing < 1e-3


def test_a_lamp_becomes_a_floodlight_and_is_one_no_more(window, plan, address):
    _, page = opened(window, plan, address, "Lamps")
    page.evaluate("rushlight.desk.choose('lamps/beacon')")
    page.locator("summary", has_text="Floodlight").click()
    page.get_by_label("Hangs above it").fill("40")
    page.get_by_label("Hangs above it").press("Enter")
    page.get_by_role("button", name="Take back: beacon: height of the floodlight changed").wait_for()
    page.get_by_label("Lights the outside of").select_option("hull")
    page.get_by_role("button", name="Take back: beacon: lights hull").wait_for()
    page.get_by_label("Aimed at x").fill("30")
    page.get_by_label("Aimed at x").press("Enter")
    page.get_by_role("button", name="Take back: beacon: aimed at moved").wait_for()
    assert all(word in words(plan) for word in ("lights_mm: 40", "lights_part: hull", "foot_mm: [", "aim_mm: [30, "))
    page.get_by_label("Hangs above it").fill("")
    page.get_by_label("Hangs above it").press("Enter")
    page.get_by_role("button", name="Take back: beacon: height of the floodlight changed").wait_for()
    assert "lights_" not in words(plan)


def test_the_mirrored_half_of_a_row_lights_the_same_ground(window, plan, address):
    text = words(plan).replace("count: 5,", "count: 5, lights_mm: 40, lights_part: lid, feet_mm: [[5, 5], [45, 5]], mirror: {part: hull, axis_x_mm: 90},")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    wide, page = opened(window, plan, address, "Lamps")
    page.evaluate("rushlight.desk.choose('rows/ports')")
    page.get_by_label("Its other side lights").wait_for()
    page.get_by_label("Feet mirrored about a line of it").check()
    page.get_by_role("button", name="Take back: ports: feet mirrored").wait_for()
    assert "lights_line_mm: [[0, 10], [50, 10]]" in words(plan)
    page.get_by_label("Last point of that line y").fill("12")
    page.get_by_label("Last point of that line y").press("Enter")
    page.get_by_role("button", name="Take back: ports: line moved").wait_for()
    assert "lights_line_mm: [[0, 10], [50, 12]]" in words(plan)
    page.get_by_label("Feet mirrored about a line of it").scroll_into_view_if_needed()
    wide.fresh()
