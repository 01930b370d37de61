"""On a phone nothing that is looked at whole is cut, and no tick has to be pushed aside to be reached."""

from __future__ import annotations

PHONE = {"width": 390, "height": 844, "has_touch": True}
FINGER_PX = 44
STATES = ("under way", "moored", "at anchor", "aground", "towing", "fishing with a trawl", "on pilotage duty",
          "not under command", "restricted in her ability to manoeuvre", "dressed overall")


def opened(window, plan, address, **size):
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    more = ", ".join(f"{{name: {name}}}" for name in STATES[1:])
    (plan / "plan.yaml").write_text(text.replace("{name: moored}", more), encoding="utf-8")
    made = window(address, **size)
    made.page.wait_for_selector("html[data-ready]")
    made.page.get_by_role("button", name="Light", exact=True).click()
    made.page.get_by_role("grid", name="Lamps by states").wait_for()
    return made, made.page


def test_ticks_of_many_states_need_no_pushing_aside(window, plan, address):
    made, page = opened(window, plan, address, **PHONE)
    choice, frame = page.get_by_label("States side by side"), page.locator(".scroll.grid")
    pages = choice.locator("option").all_inner_texts()
    assert all(any(state in words for words in pages) for state in STATES)
    reached = []
    for n in range(len(pages)):
        choice.select_option(str(n))
        wide, inner = frame.evaluate("box => [box.scrollWidth, box.clientWidth]")
        assert wide <= inner
        ticks = page.locator("[aria-label^='stern lit when ']")
        reached += [tick.get_attribute("aria-label").removeprefix("stern lit when ") for tick in ticks.all()]
        for cell in page.locator(".grid tbody .cell, .grid tbody button, .pages button, .pages select").all():
            box = cell.bounding_box()
            assert min(box["width"], box["height"]) >= FINGER_PX
            assert box["x"] >= 0 and box["x"] + box["width"] <= PHONE["width"]
    assert reached == list(STATES)
    page.get_by_label("stern lit when dressed overall").check()
    page.get_by_role("button", name="Take back: stern lit when dressed overall").wait_for()
    for _ in pages[1:]:
        page.get_by_role("button", name="The states before these").click()
    assert page.get_by_label("stern lit when under way").is_checked()
    assert page.get_by_role("button", name="The states before these").is_disabled()
    made.fresh()


def test_arrow_keys_go_through_all_states_and_turn_to_those_out_of_sight(window, plan, address):
    _, page = opened(window, plan, address)
    page.get_by_label("stern lit when under way").focus()
    for state in STATES[1:]:
        page.keyboard.press("ArrowRight")
        assert page.evaluate("document.activeElement.getAttribute('aria-label')") == f"stern lit when {state}"
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "stern lit when under way"
    assert page.get_by_role("grid").locator("[tabindex='0']").count() == 1


def test_pictures_of_the_light_leaf_are_whole(window, address):
    made = window(address, **PHONE)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Light", exact=True).click()
    page.locator("details.topic").first.wait_for()
    made.unfold()
    seen = page.locator(".drawing svg:has(image)")
    assert seen.count() >= 2
    for picture in seen.all():
        wide, inner = picture.evaluate("svg => [svg.getBoundingClientRect().width, svg.parentElement.clientWidth]")
        assert 0.8 * inner <= wide <= inner


def test_no_drawing_is_pushed_aside_and_each_is_seen_large_when_pressed(window, address):
    made = window(address, width=360, height=780, has_touch=True)
    page = made.page
    made.fresh()
    least = "svg => Math.min(...[...svg.querySelectorAll('text')].map(text => text.getBoundingClientRect().height))"
    for leaf in ("Light", "Power"):
        page.locator(".thumb", has_text=leaf).click()
        page.locator("details.topic").first.wait_for()
        made.unfold()
        for picture in page.locator(".drawn").all():
            wide, inner = picture.evaluate("it => [it.querySelector('svg').getBoundingClientRect().width, it.closest('figure').clientWidth]")
            assert 0 < wide <= inner + 0.5
            assert picture.locator("svg").evaluate(least) >= 6.8
    drawn = page.get_by_role("button", name="Larger: Supply and switch")
    small = page.locator(".drawn", has=drawn).locator("svg").evaluate(least)
    drawn.tap(position={"x": 20, "y": 20})
    large = page.get_by_role("dialog", name="Supply and switch")
    pane = large.locator(".b-pane")
    assert pane.locator("svg").evaluate(least) > 1.5 * small
    box = pane.bounding_box()
    assert box["x"] >= 0 and box["x"] + box["width"] <= 360 and box["height"] > 400
    pane.tap()
    wide = pane.locator("svg").evaluate("svg => svg.getBoundingClientRect().width")
    assert wide <= box["width"] + 0.5  # whole
    page.keyboard.press("Escape")
    large.wait_for(state="detached")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Larger: Supply and switch"
    page.keyboard.press("Enter")
    large.get_by_role("button", name="Close").tap()
    large.wait_for(state="detached")


def test_steps_are_numbered_through_all_sittings_as_gates_and_book_name_them(window, address):
    made = window(address, **PHONE)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Order", exact=True).click()
    page.locator(".steps li").first.wait_for()
    shown = page.locator(".steps li").evaluate_all("rows => rows.map(row => getComputedStyle(row, '::before').content)")
    assert page.locator(".steps").count() > 1 and shown == [f'"{n}"' for n in range(1, len(shown) + 1)]


def test_a_long_note_is_read_whole_and_stays_one_line(window, plan, address):
    made = window(address, **PHONE)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Lamps").click()
    page.locator(".leaf .list .row", has_text="stern").click()
    words = "Seen on the second picture alone, behind the rail, and perhaps only a reflection of the lamp on the quay"
    page.get_by_label("Note").fill(f"{words}\nor of the moon")
    page.get_by_label("Note").press("Enter")
    page.get_by_role("button", name="Take back: stern: note changed").wait_for()
    assert f"{words} or of the moon" in " ".join((plan / "plan.yaml").read_text(encoding="utf-8").split())
    inner, whole, wide, room = page.get_by_label("Note").evaluate("at => [at.clientHeight, at.scrollHeight, at.scrollWidth, at.clientWidth]")
    assert whole <= inner + 1 and wide <= room + 1


def test_what_is_pressed_often_is_large_enough_for_a_finger(window, address):
    made = window(address, **PHONE)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Lamps").click()
    for button in page.locator(".doing button, #leaf > header button, .foot button").all():
        box = button.bounding_box()
        assert min(box["width"], box["height"]) >= FINGER_PX - 0.5, button.inner_text()


def test_every_leaf_is_at_hand(window, address):
    made = window(address, **PHONE)
    for thumb in made.page.locator(".thumb").all():
        box = thumb.bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= PHONE["width"] and box["height"] >= FINGER_PX


def test_a_table_of_words_stands_as_cards_only_where_its_rows_do_not_fit(window, address):
    """The same cards at both widths: on a laptop for the tables that need them there, on a phone for the narrower ones too."""
    made = window(address)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Light", exact=True).click()
    page.locator("details.topic table.cards").first.wait_for(state="attached")
    made.unfold()
    page.wait_for_function("document.querySelectorAll('table.cards.narrow').length > 0")
    laptop = page.locator("table.cards.narrow").count()
    rows = page.locator("table.cards:not(.narrow)")
    assert rows.count() > 0
    assert rows.first.locator("thead").is_visible() and rows.first.locator("td").first.evaluate("cell => getComputedStyle(cell).display") == "table-cell"
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_function("document.querySelectorAll('table.cards:not(.narrow)').length === 0")
    assert page.locator("table.cards.narrow").count() > laptop
    page.set_viewport_size({"width": 1280, "height": 820})
    page.wait_for_function("count => document.querySelectorAll('table.cards.narrow').length === count", arg=laptop)


def test_on_a_tablet_the_leaf_leaves_the_model_its_room(window, address):
    """Beside a leaf the sheet would be a strip; the leaf lies below it, and the whole model is seen."""
    made = window(address, width=768, height=1024, has_touch=True)
    page = made.page
    made.fresh()
    page.get_by_role("button", name="Light", exact=True).click()
    page.locator("#leaf").wait_for()
    left, right = page.locator("#sheet").evaluate("box => [box.getBoundingClientRect().left, box.getBoundingClientRect().right]")
    assert (left, right) == (0, 768)
    (x0, _), (x1, _) = made.at("hull", [0, 0]), made.at("hull", [200, 40])
    assert 300 < x1 - x0 < 768
