"""A finding's cure as a button: it says what it will change, takes the finding away, and is taken back; so another supply."""

from __future__ import annotations

from strip_plans import white_house as house

APART = """() => {
  const cards = [...document.querySelectorAll(".notes .note")].map(card => card.getBoundingClientRect());
  cards.sort((one, other) => one.top - other.top);
  return cards.every((card, n) => n === 0 || card.top >= cards[n - 1].bottom - 1);
}"""
"""No note lies on another."""


def test_a_cure_is_pressed_and_taken_back(window, plan, address):
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    (plan / "plan.yaml").write_text(text.replace("supply: {kind: cells}", "supply: {kind: cells, in_series: 1}"), encoding="utf-8")
    wide = window(address)
    page = wide.page
    wide.fresh()
    note = page.locator(".note", has_text="V arrive").first
    note.get_by_role("button").first.click()
    cure = page.get_by_role("button", name="Put 3 AA cells in series instead of 1")
    cure.focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Take back: Put 3 AA cells").wait_for()
    assert "in_series" not in (plan / "plan.yaml").read_text(encoding="utf-8")  # three is what is meant when left out
    wide.fresh()
    assert page.locator(".note", has_text="V arrive").count() == 0
    page.get_by_role("button", name="Take it back").click()
    page.get_by_role("button", name="Do again: Put 3 AA cells").wait_for()
    wide.fresh()
    assert page.locator(".note", has_text="V arrive").count() >= 1
    assert "in_series: 1" in (plan / "plan.yaml").read_text(encoding="utf-8")


def test_another_supply_is_looked_at_taken_and_given_back(window, plan, address):
    before = (plan / "plan.yaml").read_text(encoding="utf-8")
    wide = window(address)
    page = wide.page
    wide.fresh()
    page.locator(".thumb", has_text="Power").click()
    page.get_by_text("Other supplies: the lightest, the cheapest").click()
    page.get_by_text("Lightest in the model: ").wait_for()
    assert page.get_by_role("group", name="3 x AA in series").get_by_text("As planned").count() == 1
    page.get_by_role("button", name="Take this one: usb adapter").click()
    page.get_by_role("button", name="Take back: Feed the model from usb adapter").wait_for()
    assert "kind: usb adapter" in (plan / "plan.yaml").read_text(encoding="utf-8")
    wide.fresh()
    page.get_by_role("group", name="usb adapter, 5 V").get_by_text("As planned").wait_for()
    page.get_by_role("button", name="Take it back").click()
    page.get_by_role("button", name="Do again: Feed the model from usb adapter").wait_for()
    assert (plan / "plan.yaml").read_text(encoding="utf-8") == before


def test_an_edit_is_tried_before_it_is_pressed_and_one_that_brings_nothing_stands_beside_it(window, plan, address):
    (plan / "plan.yaml").write_text(house(0.6), encoding="utf-8")
    wide = window(address, width=1280, height=1100)  # so high that each note lies where it speaks of
    page = wide.page
    wide.fresh()
    page.locator(".note", has_text="light swings").first.get_by_role("button").first.click()
    page.get_by_text("But then comes, so see to it as well: The wall of 'wall' glows").wait_for()
    page.wait_for_function(APART)
    page.get_by_role("button", name="Instead: Put a second sheet").click()
    page.get_by_role("button", name="Take back: Put a second sheet").wait_for()
    wide.fresh()
    assert page.locator(".note", has_text="light swings").count() == 0
    assert page.locator(".note", has_text="glows with about").count() == 0
