"""What a plan can hold, without a file: how bright a lamp is wanted, what makes it, and why the reader would not take it."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

SIZES = [(1280, 800), (390, 844)]


def opened(window, address, leaf, size=SIZES[0]):
    made = window(address, *size)
    made.page.wait_for_selector("html[data-ready]")
    made.page.locator(".thumb", has_text=leaf).click()
    return made, made.page


def words(plan):
    return (plan / "plan.yaml").read_text(encoding="utf-8")


def typed(page, label, text):
    page.get_by_label(label, exact=True).fill(text)
    page.get_by_label(label, exact=True).press("Enter")


def picked(page, label, word):
    page.get_by_role("combobox", name=label, exact=True).select_option(word)


def back(page, step):
    page.get_by_role("button", name=f"Take back: {step}").wait_for()


def chosen(page, lamp):
    page.locator(".roll .row", has_text=lamp).click()
    page.locator("details.bright").wait_for()
    if page.locator("details.bright").get_attribute("open") is None:
        page.locator("details.bright > summary").click()


def test_how_bright_a_lamp_is_wanted(window, plan, address):
    """Each of the ways; nothing is written before the number or the name is there; each step can be taken back."""
    _, page = opened(window, address, "Lamps")
    chosen(page, "stern")
    page.get_by_text("How bright: to be seen in a dim room").wait_for()
    picked(page, "It should be", "like")
    page.get_by_text("Say the rest below; until then it is to be seen in a dim room.").wait_for()
    assert "brightness" not in words(plan)
    picked(page, "As bright as", "ports")
    back(page, "stern: how bright it should look")
    typed(page, "Times as bright", "0.5")
    page.get_by_text("How bright: 0.5 times as bright as ports").wait_for()
    assert "brightness: {like: ports, ratio: 0.5}" in words(plan)
    picked(page, "It should be", "cd")
    typed(page, "The subject's own intensity, cd", "12")
    page.get_by_text("How bright: 12 cd of the subject, by equal illuminance").wait_for()
    picked(page, "Carried to the scale", "equal luminance")
    page.get_by_text("How bright: 12 cd of the subject, by equal luminance").wait_for()
    assert "subject_intensity_cd: 12" in words(plan) and "carry: equal luminance" in words(plan)
    picked(page, "It should be", "mcd")
    typed(page, "Intensity on the model, mcd", "3,5")
    page.get_by_text("How bright: 3.5 mcd on the model").wait_for()
    picked(page, "It should be", "seen")
    picked(page, "Plain to see in", "lit room")
    page.get_by_text("How bright: to be seen in a lit room").wait_for()
    picked(page, "It should be", "room")
    page.get_by_text("How bright: to be seen in a dim room").wait_for()
    assert "brightness" not in words(plan)
    page.get_by_role("button", name="Take back: stern: how bright it should look").click()
    page.get_by_text("How bright: to be seen in a lit room").wait_for()
    assert "seen_in: lit room" in words(plan) and "# kept: this comment stays" in words(plan)


def test_a_refused_wish_is_told_at_its_field(window, plan, address):
    """The reader's own words stand below the field that was typed in, and what was typed stays to be mended."""
    made, page = opened(window, address, "Lamps")
    chosen(page, "stern")
    picked(page, "It should be", "mcd")
    typed(page, "Intensity on the model, mcd", "1e9")
    wrong = page.locator(".bright [role=alert]")
    wrong.wait_for()
    assert wrong.inner_text() == "Found '1000000000'; expected a luminous intensity from 0.000001 to 10 000 000 mcd."
    field = page.get_by_label("Intensity on the model, mcd")
    assert field.input_value() == "1e9" and field.get_attribute("aria-invalid") == "true"
    assert page.locator(".over .word").count() == 0
    assert "brightness" not in words(plan)
    typed(page, "Intensity on the model, mcd", "abc")
    page.get_by_text("'abc' is no number.").wait_for()
    typed(page, "Intensity on the model, mcd", "5")
    back(page, "stern: how bright it should look")
    assert wrong.count() == 0
    page.locator(".roll .row", has_text="beacon").click()
    page.locator("details.bright > summary", has_text="dim room").click()
    picked(page, "It should be", "like")
    picked(page, "As bright as", "stern")
    back(page, "beacon: how bright it should look")
    page.locator(".roll .row", has_text="stern").click()
    picked(page, "It should be", "like")
    picked(page, "As bright as", "beacon")
    wrong.wait_for()
    assert "expected" in wrong.inner_text()
    made.wrong.clear()  # the browser tells the refusals on its console


OPENING = "relief: {flat: yes}, openings: [{name: scuttle, rect_mm: [60, 10, 6, 6]}]}\n  - {name: lid"


def test_what_makes_one_lamp_and_where_it_shows(window, plan, address):
    text = words(plan).replace("relief: {flat: yes}}\n  - {name: lid", OPENING)
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    made, page = opened(window, address, "Lamps")
    chosen(page, "stern")
    page.locator("details.made > summary").click()
    picked(page, "Made of", "fibre")
    back(page, "stern: made of fibre")
    picked(page, "Fibre, diameter in mm", "0.75")
    back(page, "stern: fibre of 0.75 mm")
    assert "source: {kind: fibre, fibre_mm: 0.75}" in words(plan)
    picked(page, "Made of", "led")
    back(page, "stern: made of led")
    picked(page, "LED", "3 mm cool white, clear 30 deg")
    back(page, "stern: made with 3 mm cool white, clear 30 deg")
    assert "source: {kind: led, led: \"3 mm cool white, clear 30 deg\"}" in words(plan).replace("'", '"')
    picked(page, "Made of", "room")
    back(page, "stern: made of room")
    picked(page, "Seen through the opening", "scuttle")
    back(page, "stern: lights scuttle")
    assert "opening: scuttle" in words(plan)
    picked(page, "Made of", "")
    back(page, "stern: made as the design chooses")
    typed(page, "Light of the rules that it is", "stern")
    back(page, "stern: is stern")
    page.get_by_role("button", name="As its rule has it: 112.5 to 247.5 deg").click()
    back(page, "stern: the sector of its rule")
    assert "arc_deg: [112.5, 247.5]" in words(plan)
    typed(page, "Shows from bearing, deg", "120")
    back(page, "stern: its sector")
    typed(page, "to bearing, deg", "400")
    wrong = page.locator(".made [role=alert]")
    wrong.wait_for()
    assert "400" in wrong.inner_text()
    typed(page, "to bearing, deg", "")
    back(page, "stern: shows all round")
    assert "arc_deg" not in words(plan)
    made.wrong.clear()  # the browser tells the refusal on its console


@pytest.mark.parametrize("size", SIZES)
def test_the_forms_of_a_lamp_for_everyone(window, address, axe, size):
    made, page = opened(window, address, "Lamps", size)
    chosen(page, "stern")
    page.locator("details.made > summary").click()
    picked(page, "It should be", "cd")
    typed(page, "The subject's own intensity, cd", "12")
    page.get_by_role("combobox", name="Carried to the scale").wait_for()
    picked(page, "Made of", "led")
    page.get_by_role("combobox", name="LED", exact=True).wait_for()
    assert axe(made) == []
    wide, inner = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide <= inner
    page.locator("details.bright").scroll_into_view_if_needed()


def comes_to_sight(page):
    """Its head at the top of the screen, or as high as the page rolls."""
    page.locator("#leaf").wait_for()
    page.wait_for_timeout(300)
    assert page.locator("#leaf").bounding_box()["y"] < 400 and page.evaluate("scrollY") > 100


def test_on_a_phone_an_opened_leaf_comes_to_sight(window, address):
    """It lies below the sheet there; beside it, on a wide screen, nothing moves."""
    _, page = opened(window, address, "Parts", SIZES[1])
    comes_to_sight(page)
    page.get_by_label("Close this leaf").click()
    page.locator(".thumb", has_text="Light").scroll_into_view_if_needed()
    page.locator(".thumb", has_text="Light").click()
    comes_to_sight(page)
    _, wide = opened(window, address, "Parts")
    assert wide.evaluate("scrollY") == 0 and wide.locator("#leaf").bounding_box()["y"] == 0


NAMES = """() => {
  const { sheet } = rushlight, told = [], pen = CanvasRenderingContext2D.prototype, fill = pen.fillText;
  pen.fillText = function (words, x, y) { told.push([words, x + this.measureText(words).width]); return fill.call(this, words, x, y); };
  sheet.fit();
  sheet.changed = true;
  sheet.paint();
  pen.fillText = fill;
  return [sheet.size.width, Object.fromEntries(told)];
}"""


def test_a_long_name_of_a_short_part_is_whole_on_a_narrow_sheet(window, plan, address):
    """All parts in sight means their names too, also that of a slim part at the right."""
    text = words(plan).replace("name: lid, outline_mm: [[0, 0], [50, 0], [50, 20], [0, 20]]", "name: lid, outline_mm: [[0, 0], [4, 0], [4, 40], [0, 40]]")
    text = text.replace("at_mm: [5, 10]", "at_mm: [2, 10]").replace("at_mm: [40, 10]", "at_mm: [2, 30]").replace("lid", "the mast as it was")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    made = window(address, *SIZES[1])
    made.page.wait_for_selector("html[data-ready]")
    wide, told = made.page.evaluate(NAMES)
    assert told["the mast as it was"] <= wide and told["hull"] <= wide


# --- closed rooms ----------------------------------------------------------------------------------------------------


def test_a_closed_room_is_made_changed_and_taken_out(window, plan, address):
    """Heat is then reckoned for the real hull; a room behind a window has that window's name."""
    text = words(plan).replace("relief: {flat: yes}}\n  - {name: lid", OPENING)
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    made, page = opened(window, address, "Parts")
    page.locator("details.spaces > summary", has_text="none said yet").click()
    page.get_by_text("In none yet: hull, lid.").wait_for()
    make = page.get_by_role("button", name="Make this room")
    make.click()
    page.get_by_text("Still to be said: its name, the parts that form it, length, width, height.").wait_for()
    page.get_by_label("Name of the new room").fill("hull inside")
    new = page.locator(".newspace")
    new.get_by_role("checkbox", name="hull").check()
    expect(new.get_by_label("Length, mm")).to_have_value("200")
    expect(new.get_by_label("Height, mm")).to_have_value("40")
    new.get_by_label("Width, mm").fill("35")
    make.click()
    back(page, "room hull inside made")
    assert "size_mm: [200, 35, 40]" in words(plan)
    page.locator(".space > summary", has_text="hull inside").click()
    room = page.locator(".space")
    room.get_by_label("Width, mm").fill("0")
    room.get_by_label("Width, mm").press("Enter")
    room.get_by_role("alert").wait_for()
    assert "expected" in room.get_by_role("alert").inner_text() and "size_mm: [200, 35, 40]" in words(plan)
    room.get_by_label("Width, mm").fill("38")
    room.get_by_label("Width, mm").press("Enter")
    back(page, "hull inside: its size")
    room.get_by_role("checkbox", name="lid").check()
    back(page, "hull inside: its parts")
    assert "Its walls: hull, 1.2 mm white styrene; lid, 1.2 mm white styrene." in room.inner_text()
    room.get_by_role("checkbox", name="Shut for good at close-up").uncheck()
    back(page, "hull inside: can be opened")
    typed(page, "Free area of vents, mm²", "12")
    back(page, "hull inside: its vents")
    assert "vents_mm2: 12" in words(plan) and "sealed: no" in words(plan).replace("false", "no")
    typed(page, "Name of the room", "inside")
    back(page, "hull inside named inside")
    typed(page, "Air where the model stands, °C", "33")
    back(page, "how warm the room is")
    assert "room_c: 33" in words(plan)
    made.fresh()
    page.locator(".thumb", has_text="Light").click()
    page.locator("details.topic").first.wait_for()
    made.unfold()
    page.locator("#leaf table", has_text="inside").first.wait_for()
    made.wrong.clear()  # the browser tells the refusal on its console


def test_a_room_behind_a_window_is_made_and_another_taken_out(window, plan, address):
    text = words(plan).replace("relief: {flat: yes}}\n  - {name: lid", OPENING).replace("supply:", "spaces: [{name: inside, parts: [hull], size_mm: [200, 35, 40]}]\nsupply:")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    _, page = opened(window, address, "Parts")
    page.locator("details.spaces > summary").click()
    page.locator(".newspace > summary").click()
    page.get_by_role("combobox", name="It is").select_option(label="the room behind scuttle on hull")
    expect(page.get_by_label("Name of the new room")).to_have_value("scuttle")
    for label, mm in (("Width along the wall, mm", "20"), ("Depth behind it, mm", "15"), ("Height, mm", "18")):
        page.locator(".newspace").get_by_label(label).fill(mm)
    page.get_by_role("button", name="Make this room").click()
    back(page, "room scuttle made")
    assert "size_mm: [20, 15, 18]" in words(plan)
    page.locator(".space > summary", has_text="inside").click()
    page.get_by_role("button", name="Take this room out").first.click()
    back(page, "room inside taken out")
    page.get_by_role("button", name="Take back: room inside taken out").click()
    page.locator(".space > summary", has_text="inside").wait_for()


@pytest.mark.parametrize("size", SIZES)
def test_the_forms_of_closed_rooms_for_everyone(window, plan, address, axe, size):
    text = words(plan).replace("supply:", "spaces: [{name: hull inside, parts: [hull], size_mm: [200, 35, 40]}]\nsupply:")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    made, page = opened(window, address, "Parts", size)
    page.locator("details.spaces > summary").click()
    page.locator(".newspace > summary").click()
    page.locator(".space > summary").click()
    assert axe(made) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.locator(".space").scroll_into_view_if_needed()


# --- strips ----------------------------------------------------------------------------------------------------------

WINDOWS = "relief: {flat: yes}, openings: [{name: left, rect_mm: [30, 8, 16, 6]}, {name: right, rect_mm: [60, 8, 16, 6]}]}\n  - {name: lid"
STRIP = "strips: [{name: cabin, part: hull, openings: [left], along_mm: [[30, 11], [80, 11]], gap_mm: 8, states: moored}]\n"


def with_windows(plan, more=""):
    text = words(plan).replace("relief: {flat: yes}}\n  - {name: lid", WINDOWS).replace("kind: cells", "kind: adapter")
    (plan / "plan.yaml").write_text(text + more, encoding="utf-8")


def test_a_strip_is_put_behind_openings_and_changed(window, plan, address):
    with_windows(plan)
    made, page = opened(window, address, "Lamps")
    page.locator("details.newstrip > summary").click()
    page.get_by_role("button", name="Put it there").click()
    page.get_by_text("Still to be said: the openings that it lights, the gap before it.").wait_for()
    new = page.locator(".newstrip")
    new.get_by_role("checkbox", name="left").check()
    new.get_by_role("checkbox", name="right").check()
    new.get_by_label("Gap before it, mm").fill("8")
    page.get_by_role("button", name="Put it there").click()
    back(page, "strip strip put behind 2 openings")
    assert "openings: [left, right]" in words(plan) and "along_mm: [[30, 11], [76, 11]]" in words(plan)
    form = page.locator(".form.chosen")
    form.get_by_label("Gap before it, mm").fill("0")
    form.get_by_label("Gap before it, mm").press("Enter")
    form.get_by_role("alert").wait_for()
    assert "expected" in form.get_by_role("alert").inner_text() and "gap_mm: 8" in words(plan)
    form.get_by_label("Gap before it, mm").fill("12")
    form.get_by_label("Gap before it, mm").press("Enter")
    back(page, "strip: its gap")
    form.get_by_label("Walls of its channel throw back, %").fill("80")
    form.get_by_label("Walls of its channel throw back, %").press("Enter")
    back(page, "strip: walls of its channel")
    form.get_by_label("Width of its channel, mm").fill("30")
    form.get_by_label("Width of its channel, mm").press("Enter")
    back(page, "strip: width of its channel")
    page.get_by_role("combobox", name="Ends of its channel").select_option("walled")
    back(page, "strip: ends of its channel")
    assert "channel_width_mm: 30" in words(plan) and "channel_ends: walled" in words(plan)
    page.get_by_role("combobox", name="Kind of strip").select_option(index=1)
    page.get_by_role("button", name="Take back: strip: is 12 V").wait_for()
    form.get_by_role("checkbox", name="right").uncheck()
    back(page, "strip: its openings")
    assert all(text in words(plan) for text in ("gap_mm: 12", "walls_reflect: 0.8", "strip: ", "openings: left")) or "openings: [left]" in words(plan)
    form.get_by_role("checkbox", name="left").click()
    form.get_by_text("It lights one opening at least; or remove it.").wait_for()
    made.wrong.clear()  # the browser tells the refusal on its console


def test_the_run_of_a_strip_is_typed(window, plan, address):
    with_windows(plan, STRIP)
    _, page = opened(window, address, "Lamps")
    page.locator(".roll .row", has_text="cabin").click()
    page.locator("details.run > summary").click()
    page.get_by_label("add after point 1").click()
    back(page, "cabin: laid anew")
    assert "along_mm: [[30, 11], [55, 11], [80, 11]]" in words(plan)
    typed(page, "y of point 2, mm", "14")
    page.get_by_label("take out point 3 of the run").wait_for()
    back(page, "cabin: laid anew")
    page.get_by_role("button", name="Along the middle of its openings").click()
    back(page, "cabin: laid along the middle of its openings")
    assert "along_mm: [[30, 11], [46, 11]]" in words(plan)
    page.get_by_role("button", name="Take back: cabin: laid along the middle of its openings").click()
    expect(page.get_by_label("y of point 2, mm")).to_have_value("14")


@pytest.mark.parametrize("size", SIZES)
def test_the_forms_of_strips_for_everyone(window, plan, address, axe, size):
    with_windows(plan, STRIP)
    made, page = opened(window, address, "Lamps", size)
    page.locator("details.newstrip > summary").click()
    page.locator(".roll .row", has_text="cabin").click()
    page.locator("details.run > summary").click()
    page.get_by_role("combobox", name="Kind of strip").wait_for()
    assert axe(made) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


# --- states ----------------------------------------------------------------------------------------------------------


def order(page):
    return page.locator(".states .state").all_inner_texts()


def test_states_are_added_renamed_ordered_and_taken_out(window, plan, address):
    """All that names a state follows it; comments of the file stay."""
    (plan / "plan.yaml").write_text(words(plan) + "evening: [{state: moored, minutes: 20}]\n", encoding="utf-8")
    made, page = opened(window, address, "Light")
    page.locator("details.statesform > summary").click()
    page.get_by_role("button", name="Add this state").click()
    page.get_by_text("It needs a name.").wait_for()
    page.get_by_label("Another state").fill("at anchor")
    picked(page, "Lit in it at first", "moored")
    page.get_by_role("button", name="Add this state").click()
    back(page, "state at anchor added")
    expect(page.get_by_label("ports lit when at anchor")).to_be_checked()
    assert order(page) == ["under way", "moored", "at anchor"]
    page.locator(".state-of > summary", has_text="moored").click()
    one = page.locator(".state-of", has=page.locator("summary", has_text="moored"))
    one.get_by_label("Name of the state").fill("under way")
    one.get_by_label("Name of the state").press("Enter")
    one.get_by_text("There is a state of that name.").wait_for()
    one.get_by_label("Name of the state").fill("alongside")
    one.get_by_label("Name of the state").press("Enter")
    back(page, "moored named alongside")
    assert "moored" not in words(plan) and "evening: [{state: alongside, minutes: 20}]" in words(plan).replace("evening:\n  - {state: alongside, minutes: 20}", "evening: [{state: alongside, minutes: 20}]")
    page.locator(".state-of > summary", has_text="at anchor").click()
    page.get_by_label("Earlier: at anchor").click()
    back(page, "at anchor earlier among the states")
    assert order(page) == ["under way", "at anchor", "alongside"]
    assert "# kept: this comment stays" in words(plan)
    page.get_by_label("Take at anchor out").click()
    back(page, "state at anchor taken out")
    assert order(page) == ["under way", "alongside"] and "at anchor" not in words(plan)
    page.get_by_role("button", name="Take back: state at anchor taken out").click()
    page.get_by_role("button", name="Take back: at anchor earlier among the states").wait_for()
    assert order(page) == ["under way", "at anchor", "alongside"]
    made.wrong.clear()


@pytest.mark.parametrize("size", SIZES)
def test_the_forms_of_states_for_everyone(window, address, axe, size):
    made, page = opened(window, address, "Light", size)
    page.locator("details.statesform > summary").click()
    page.locator(".state-of > summary", has_text="under way").click()
    minutes = page.get_by_label("Shown on a usual evening, minutes").first
    minutes.fill("-3")
    minutes.press("Enter")
    page.locator(".state-of [role=alert]").wait_for()
    assert "expected" in page.locator(".state-of [role=alert]").inner_text()
    assert axe(made) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    made.wrong.clear()  # the browser tells the refusal on its console


# --- choices that are held -------------------------------------------------------------------------------------------


def test_a_choice_is_held_beside_what_the_tool_chose_and_let_go_again(window, plan, address):
    made, page = opened(window, address, "Lamps")
    chosen(page, "stern")
    page.locator("details.held > summary", has_text="all as the design chooses").click()
    current = page.get_by_label("Current of each LED, mA")
    current.wait_for()
    assert "The design chose " in page.locator("details.held").inner_text()
    page.get_by_role("heading", name="What could make it").wait_for()
    assert "times the wanted light" in page.locator("details.held").inner_text()
    current.fill("5000")
    current.press("Enter")
    wrong = page.locator(".held [role=alert]")
    wrong.wait_for()
    assert "5000" in wrong.inner_text() and "expected" in wrong.inner_text() and "pinned" not in words(plan)
    current.fill("3.5")
    current.press("Enter")
    back(page, "Current of each LED of stern held")
    assert "current_ma" in words(plan) and "3.5" in words(plan)
    made.fresh()
    page.get_by_text("You hold it; the design takes 3.5 mA.").wait_for()
    page.get_by_label("Let the tool choose again: Current of each LED of stern").click()
    back(page, "Current of each LED of stern chosen by the design again")
    assert "pinned" not in words(plan)
    expect(current).to_have_value("")
    picked(page, "Fibre, diameter", "0.75")
    back(page, "Fibre, diameter of stern held")
    bundle = page.get_by_label("Bundle that it goes into")
    bundle.fill("aft")
    bundle.press("Enter")
    back(page, "Bundle that it goes into of stern held")
    assert "choice: fibre_mm" in words(plan) and "value: aft" in words(plan)
    made.fresh()
    page.get_by_text("You hold it; the design takes 0.75 mm.").wait_for()
    made.wrong.clear()  # the browser tells the refusal on its console


@pytest.mark.parametrize("size", SIZES)
def test_all_that_is_held_at_a_glance_for_everyone(window, plan, address, axe, size):
    """Wire and circuits are held in the leaf Power; a lamp's own in its form; each goes by a press."""
    (plan / "plan.yaml").write_text(words(plan) + "pinned: [{of: stern, choice: current_ma, value: '5'}, "
                                     "{of: stern, choice: fibre_inlet, value: cut}]\n", encoding="utf-8")
    made, page = opened(window, address, "Power", size)
    page.locator("details.held > summary", has_text="Choices that you hold: 2").click()
    page.get_by_text("Fibre ends at the LED of stern: cut").wait_for()
    page.get_by_text("Current of each LED of stern: 5 mA").wait_for()
    picked(page, "Hold something of", "all")
    picked(page, "Wire, AWG", "28")
    back(page, "Wire, AWG of all held")
    assert axe(made) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_label("let the tool choose again: Current of each LED of stern: 5 mA").click()
    back(page, "Current of each LED of stern chosen by the design again")
    assert "current_ma" not in words(plan) and "gauge_awg" in words(plan)
    page.locator("details.held > summary").scroll_into_view_if_needed()
