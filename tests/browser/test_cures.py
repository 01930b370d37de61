"""A finding's cure as a button: it says what it will change, takes the finding away, and is taken back."""

from __future__ import annotations


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
