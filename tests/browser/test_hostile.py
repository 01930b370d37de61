"""In the browser: a disk that refuses, things that vanish, other programs and other windows; a clear word, and no loss."""

from __future__ import annotations

import os
import re
import sqlite3
import sys

import pytest

INFINITE = -1


@pytest.fixture
def refusing(server):
    """The server's disk takes no byte more while the block runs: a true refusal by the system."""
    if sys.platform != "linux":
        pytest.skip("needs Linux's limits of another process")
    import resource
    from contextlib import contextmanager

    @contextmanager
    def block():
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (0, INFINITE))
        try:
            yield
        finally:
            resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (INFINITE, INFINITE))

    return block


def lamps_open(window, address):
    made = window(address)
    made.page.wait_for_selector("html[data-ready]")
    made.page.get_by_role("button", name="Lamps", exact=True).click()
    return made


def choose(page, name):
    page.locator(".leaf .list .row strong", has_text=re.compile(f"^{name}$")).click()
    page.get_by_label("Note").wait_for()


def note(page, text):
    page.get_by_label("Note").fill(text)
    page.get_by_label("Note").press("Enter")


def empty(page):
    from playwright.sync_api import expect

    expect(page.get_by_label("Note")).to_have_value("", timeout=60_000)


def told(made):
    """The browser tells refusals on its console; they were expected."""
    made.wrong[:] = [text for text in made.wrong if "Failed to load resource" not in text]


def test_a_disk_that_takes_no_byte_more(window, plan, address, refusing):
    made = lamps_open(window, address)
    page, before = made.page, (plan / "plan.yaml").read_bytes()
    choose(page, "stern")
    with refusing():
        note(page, "lost?")
        page.locator(".over", has_text="nothing was changed").wait_for()
        empty(page)
        assert (plan / "plan.yaml").read_bytes() == before
    page.get_by_role("button", name="Understood").click()
    note(page, "kept")
    page.get_by_role("button", name="Take back: stern: note changed").wait_for()
    assert "note: kept" in (plan / "plan.yaml").read_text(encoding="utf-8")
    told(made)


def test_a_history_that_another_program_holds(window, plan, address):
    made = lamps_open(window, address)
    page, before = made.page, (plan / "plan.yaml").read_bytes()
    choose(page, "stern")
    holder = sqlite3.connect(plan / "history.db", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    note(page, "waits")
    page.locator(".over", has_text="locked by another program").wait_for()
    assert (plan / "plan.yaml").read_bytes() == before
    holder.close()
    note(page, "goes")
    page.get_by_role("button", name="Take back: stern: note changed").wait_for()
    told(made)


def test_a_folder_and_a_picture_that_vanish_and_come_back(window, plan, address):
    from PIL import Image

    (plan / "pictures").mkdir()
    Image.new("RGB", (100, 20), "grey").save(plan / "pictures" / "hull.png")
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    picture = "picture: {file: hull.png, points: [{pixel: [0, 20], at_mm: [0, 0]}, {pixel: [100, 20], at_mm: [200, 0]}]}, "
    (plan / "plan.yaml").write_text(text.replace("{name: hull, ", "{name: hull, " + picture), encoding="utf-8")
    made = lamps_open(window, address)
    page = made.page
    (plan / "pictures" / "hull.png").rename(plan / "hull.png")
    page.get_by_role("button", name="Parts", exact=True).click()
    page.locator(".caution", has_text="pictures/hull.png").get_by_text("no such file").wait_for()
    (plan / "hull.png").rename(plan / "pictures" / "hull.png")
    page.locator(".caution", has_text="pictures/hull.png").wait_for(state="hidden")
    away = plan.rename(plan.with_name("away"))
    page.locator(".over", has_text="not in its folder any more").wait_for()
    page.get_by_role("button", name="Lamps", exact=True).click()
    choose(page, "stern")
    note(page, "waits")
    page.locator(".over", has_text="no such file").first.wait_for()
    assert not plan.exists()
    away.rename(plan)
    page.locator(".over", has_text="not in its folder any more").wait_for(state="hidden")
    note(page, "goes")
    page.get_by_role("button", name="Take back: stern: note changed").wait_for()
    told(made)


def test_two_clashes_and_an_edit_from_outside_while_they_are_open(window, plan, address):
    """Neither edit is lost, whatever comes between; an item that went meanwhile is said, and mine is kept on."""
    made = lamps_open(window, address)
    page = made.page
    for name, colour in (("stern", "green"), ("beacon", "yellow")):
        choose(page, name)
        # The window has not yet heard of the other program's edit when it sends its own.
        page.evaluate("""([name, colour]) => { const desk = rushlight.desk; return fetch(`${desk.path}/changes`, { method: 'POST',
          headers: { 'content-type': 'application/json' }, body: JSON.stringify({ revision: desk.state.revision, what: 'theirs',
          changes: [{ action: 'set', kind: 'lamps', name, values: { colour } }] }) }) && desk.edit(`lamps/${name}`, { note: `mine of ${name}` }, `note of ${name}`); }""", [name, colour])
        page.locator(".over", has_text="Changed elsewhere meanwhile").get_by_text(name).first.wait_for()
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    (plan / "plan.yaml").write_text(text.replace("name: ports", "name: portlights"), encoding="utf-8")
    page.locator(".leaf .list .row", has_text="portlights").wait_for()
    assert page.locator(".over", has_text="stern, beacon").is_visible()
    (plan / "plan.yaml").write_text(text.replace("name: beacon", "name: buoy"), encoding="utf-8")
    page.locator(".leaf .list .row", has_text="buoy").wait_for()
    page.get_by_role("button", name="Put mine on top").click()
    page.locator(".over", has_text="'beacon' is not known").wait_for()
    page.get_by_role("button", name="Put mine on top").wait_for()
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    page.locator(".leaf .list .row", has_text="beacon").wait_for()
    page.get_by_role("button", name="Put mine on top").click()
    page.get_by_role("button", name="Take back: note of stern; note of beacon").wait_for()
    saved = (plan / "plan.yaml").read_text(encoding="utf-8")
    for words in ("mine of stern", "mine of beacon", "green", "yellow"):
        assert words in saved
    told(made)


def test_the_chosen_renamed_and_removed_outside(window, plan, address):
    made = lamps_open(window, address)
    page = made.page
    choose(page, "stern")
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    (plan / "plan.yaml").write_text(text.replace("name: stern", "name: sternlight"), encoding="utf-8")
    page.locator(".leaf .list .row", has_text="sternlight").wait_for()
    assert page.get_by_label("Note").count() == 0
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Delete")
    choose(page, "sternlight")
    (plan / "plan.yaml").write_text("\n".join(line for line in text.splitlines() if "stern," not in line), encoding="utf-8")
    page.locator(".leaf .list .row", has_text="sternlight").wait_for(state="hidden")
    assert page.get_by_label("Note").count() == 0
    assert page.locator(".over .word").count() == 0


def test_a_second_server_on_the_same_plan_agrees(window, plan, address, another, tmp_path):
    """The disk is the truth: what is done by one program appears in the other, and is taken back there."""
    made = lamps_open(window, address)
    second = another(plan)
    page, other = made.page, made.page.context.new_page()
    other.goto(second)
    other.wait_for_selector("html[data-ready]")
    choose(page, "stern")
    note(page, "by the first")
    other.get_by_role("button", name="Take back: stern: note changed").wait_for()
    other.get_by_role("button", name="Take back: stern: note changed").click()
    page.get_by_role("button", name="Do again: stern: note changed").wait_for()
    empty(page)
    assert os.path.exists(plan / "history.db")


def test_a_server_that_went_keeps_what_was_not_saved_out_of_sight(window, plan, address):
    """An edit that could not be sent is not shown as if it were saved."""
    made = lamps_open(window, address)
    page = made.page
    choose(page, "stern")
    page.context.set_offline(True)
    note(page, "unsent")
    page.locator(".over", has_text="does not answer").first.wait_for()
    empty(page)
    page.context.set_offline(False)
    note(page, "sent")
    page.get_by_role("button", name="Take back: stern: note changed").wait_for()
    made.wrong.clear()
