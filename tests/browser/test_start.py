"""The start page: a plan from the rules, by its folder, and plans that went."""

from __future__ import annotations


def test_a_plan_that_begins_with_the_rules_lamps(window, axe, server):
    made = window("/")
    page = made.page
    page.get_by_label("What does the model show?").fill("Invented tug")
    page.get_by_label("begin with the lights that published rules ask for").check()
    assert page.get_by_role("button", name="Begin").is_disabled()
    page.get_by_label("Its length, m").fill("32")
    page.get_by_label("towing", exact=True).check()
    page.locator(".lights .caution", has_text="Length of the tow, m is missing").wait_for()
    page.get_by_label("Length of the tow, m").fill("250")
    table = page.get_by_role("region", name="Lamps that the rules ask for")
    table.get_by_text("sidelight port").wait_for()
    assert "COLREGs" in table.inner_text()
    assert page.get_by_text("Never use it to equip a real craft").is_visible()
    assert axe(made) == []
    page.get_by_role("button", name="Begin").click()
    page.wait_for_url("**/plan/*")
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("button", name="Lamps", exact=True).click()
    row = page.locator(".leaf .list .row", has_text="sidelight port")
    assert "not placed yet" in row.inner_text()
    made.wrong[:] = [text for text in made.wrong if "422" not in text]


def test_a_plan_by_its_folder_and_one_that_went(window, axe, plan, address):
    made = window("/")
    page = made.page
    page.get_by_label("Open a plan by its folder").fill(str(plan.parent / "nothing"))
    page.get_by_role("button", name="Open", exact=True).click()
    page.locator(".caution", has_text="a folder with a plan.yaml in it").wait_for()
    page.get_by_label("Open a plan by its folder").fill(str(plan))
    page.get_by_role("button", name="Open", exact=True).click()
    page.wait_for_url(f"**{address}")
    page.wait_for_selector("html[data-ready]")
    away = plan.rename(plan.with_name("elsewhere"))
    page.goto(made.address)
    row = page.locator(".gone", has_text=str(plan))
    row.get_by_text("not there any more").wait_for()
    assert axe(made) == []
    row.get_by_role("button").click()
    row.wait_for(state="hidden")
    assert (away / "plan.yaml").exists()
    made.wrong.clear()
