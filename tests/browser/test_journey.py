"""One whole journey, by the page alone: from an empty plan and an oblique photograph to the book, and on after a kill."""

from __future__ import annotations

import base64
import re

import pytest
import yaml

from pinhole import Pinhole

SHEET = [(0.0, 0.0), (297.0, 0.0), (297.0, 210.0), (0.0, 210.0)]
HULL = [(20.0, 60.0), (270.0, 60.0), (285.0, 122.0), (240.0, 150.0), (40.0, 150.0)]
CAMERA = Pinhole(1700, 1500, 1100, height_mm=520, foot_mm=(150, -40), tilt_deg=18, roll_deg=3)
STATES = ("under way", "at anchor", "moored")
LAMPS = {"under way": [(245.0, 120.0), (60.0, 130.0)], "at anchor": [(150.0, 140.0)], "moored": [(120.0, 90.0)]}
"""On the sheet of A4, in millimetres; each placed while its state is shown."""

SETTLED = """before => { const { plan, chosen, saving } = rushlight.desk.state;
  return !saving && plan.lamps.length > before && chosen[0] === `lamps/${plan.lamps[plan.lamps.length - 1].name}`; }"""

DROP = """([data, at]) => {
  const carried = new DataTransfer();
  carried.items.add(new File([Uint8Array.from(atob(data), letter => letter.charCodeAt(0))], "hull half.jpg"));
  for (const kind of ["dragover", "drop"]) document.querySelector("#sheet").dispatchEvent(
    new DragEvent(kind, { dataTransfer: carried, bubbles: true, cancelable: true, clientX: at[0], clientY: at[1] }));
}"""


@pytest.fixture
def photograph(tmp_path):
    """A hull half on a sheet of A4 on a mat, seen obliquely by a camera whose place is known; drawn by the test."""
    path = tmp_path / "hull half.jpg"
    CAMERA.photograph([((245, 245, 240), SHEET), ((120, 120, 118), HULL)], [], finer=1).save(path, quality=90)
    return path


class Traveller:
    """What one person does at the page."""

    def __init__(self, made, plans):
        self.made, self.page, self.plans = made, made.page, plans

    def plan(self):
        return yaml.safe_load(next(self.plans.glob("*/plan.yaml")).read_text(encoding="utf-8"))

    def step(self, words):
        self.page.get_by_role("button", name=re.compile(f"^Take back: {re.escape(words)}")).wait_for()

    def until(self, true):
        for _ in range(600):
            if true():
                return
            self.page.wait_for_timeout(100)
        raise AssertionError("it did not come to be")

    def leaf(self, name):
        button = self.page.get_by_role("button", name=name, exact=True)
        if button.get_attribute("aria-expanded") != "true":
            button.click()

    def begins(self):
        page = self.page
        page.get_by_label("What does the model show?").fill("Invented coaster")
        page.get_by_label("Length of that part, mm").fill("297")
        page.get_by_label("Height of that part, mm").fill("210")
        page.get_by_label("In which states is it lit?").fill(", ".join(STATES))
        page.get_by_role("button", name="Begin").click()
        page.wait_for_url("**/plan/*")
        page.wait_for_selector("html[data-ready]")

    def rectifies(self, photograph):
        page = self.page
        page.evaluate(DROP, [base64.b64encode(photograph.read_bytes()).decode(), list(self.made.at("hull", [150, 100]))])
        page.wait_for_selector(".gauge[data-shown=yes]")
        for corner in CAMERA.seen(SHEET):
            page.mouse.click(*page.evaluate(
                "pixel => { const g = rushlight.gauge, [x, y] = g.screenOf(pixel), box = g.canvas.getBoundingClientRect(); return [x + box.left, y + box.top]; }", list(corner)))
        page.get_by_text("Four points always fit").wait_for()
        page.get_by_role("button", name="Put it under hull").click()
        self.step("picture of hull given its size")

    def traces(self):
        """The hull's corners as the rectified photograph shows them."""
        page = self.page
        self.leaf("Parts")
        page.locator(".leaf .list:not(.drawn) .row", has_text="hull").first.click()
        page.get_by_role("heading", name="Drawn on hull").wait_for()
        page.get_by_label("Outline: drawn anew, point by point").click()
        zero = self.zero()
        for x, y in (*HULL, HULL[0]):
            page.mouse.click(*self.made.at("hull", [x - zero[0], y - zero[1]]))
        self.step("outline of hull drawn")

    def zero(self):
        """Where the part's zero lies on the sheet of A4: the gauge's first corner tells."""
        x, y = self.plan()["parts"][0]["picture"]["points"][0]["at_mm"]
        return SHEET[0][0] - x, SHEET[0][1] - y

    def places(self):
        page, zero = self.page, self.zero()
        self.leaf("Lamps")
        for state, places in LAMPS.items():
            page.get_by_role("radio", name=state).click()
            for x, y in places:
                before = page.evaluate("rushlight.desk.state.plan.lamps.length")
                page.mouse.dblclick(*self.made.at("hull", [x - zero[0], y - zero[1]]))
                self.until(lambda before=before: page.evaluate(SETTLED, before))
        for name, count in (("lamp 3", 8), ("lamp 4", 10)):
            self.spreads(name, count)

    def spreads(self, name, count):
        page = self.page
        page.evaluate("key => rushlight.desk.set({ chosen: [key] })", f"lamps/{name}")
        page.get_by_role("button", name="Spread into a row").click()
        self.until(lambda: page.evaluate("name => rushlight.desk.state.chosen[0] === `rows/${name}`", name))
        self.step(f"{name} spread into a row")
        page.get_by_label("How many", exact=True).fill(str(count))
        page.get_by_label("How many", exact=True).press("Enter")
        self.step(f"{name}: count changed")

    def cures(self):
        """Each cure that a button offers, until none is left or ten were pressed."""
        page, done = self.page, []
        for _ in range(10):
            self.made.fresh()
            curable = page.evaluate("rushlight.desk.state.answer.findings.filter(row => row.edit).map(row => row.says)")
            if not curable:
                break
            page.locator(".note", has_text=curable[0]).get_by_role("button").first.click()
            before = page.evaluate("rushlight.desk.state.revision")
            page.locator(".note.on .cure").click()
            self.until(lambda before=before: page.evaluate("before => !rushlight.desk.state.saving && rushlight.desk.state.revision !== before", before))
            page.locator(".cured").wait_for()
            done.append(curable[0])
            self.made.fresh()
            now = page.evaluate("rushlight.desk.state.answer.findings.map(row => row.says)")
            assert curable[0] not in now
        return done

    def prints(self):
        page = self.page
        self.leaf("Book")
        self.made.fresh()
        page.get_by_role("button", name="Write the book").click()
        page.get_by_role("link", name="Open the book (PDF)").wait_for()
        return next(self.plans.glob("*/book/book-a4.pdf")).read_bytes()


def test_from_an_empty_plan_to_the_book_and_on_after_a_kill(own_server, window_on, photograph, axe):
    server = own_server()
    made = window_on(server)
    traveller = Traveller(made, server.plans)
    traveller.begins()
    traveller.rectifies(photograph)
    traveller.traces()
    outline, zero = traveller.plan()["parts"][0]["outline_mm"], traveller.zero()
    for (x, y), corner in zip(outline, HULL, strict=True):
        assert abs(x - (corner[0] - zero[0])) < 1 and abs(y - (corner[1] - zero[1])) < 1
    traveller.places()
    assert made.page.evaluate("rushlight.desk.state.look.lamps.length") == 20
    assert {state for lamp in made.page.evaluate("rushlight.desk.state.look.lamps") for state in lamp["states"]} == set(STATES)
    assert len(traveller.cures()) >= 1
    assert axe(made) == []
    assert traveller.prints().startswith(b"%PDF")
    kept = traveller.plan()
    server.process.kill()
    server.process.wait(60)
    made.page.get_by_text("does not answer; waiting for it").wait_for()
    own_server(port=int(server.address.rpartition(":")[2]))
    made.page.get_by_text("does not answer; waiting for it").wait_for(state="hidden")
    made.page.reload()
    made.fresh()
    assert traveller.plan() == kept
    assert made.page.evaluate("rushlight.desk.state.look.lamps.length") == 20
    last = made.page.evaluate("rushlight.desk.state.steps.undo")
    made.page.get_by_role("button", name=f"Take back: {last}").click()
    made.page.get_by_role("button", name=f"Do again: {last}").click()
    made.page.get_by_role("button", name=f"Take back: {last}").wait_for()
    assert traveller.plan() == kept
    made.wrong.clear()  # the browser tells on its console that the server had gone
