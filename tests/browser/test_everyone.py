"""For every person: the accessibility checker on every screen, by day and by night, wide, narrow and enlarged."""

from __future__ import annotations

import pytest

SIZES = {
    "wide": {"width": 1280, "height": 820},
    "narrow": {"width": 360, "height": 740, "has_touch": True},
    "enlarged": {"width": 640, "height": 410, "device_scale_factor": 2},  # 1280 x 820 at 200 % zoom
}
LIGHTS = {"day": 1.0, "dusk": 0.45, "night": 0.0}


@pytest.fixture(params=SIZES)
def size(request):
    return SIZES[request.param]


def by_light(page):
    """Each position of the room light, by its name; set as its control does."""
    for name, light in LIGHTS.items():
        page.evaluate("light => window.rushlight.desk.set({ light })", light)
        page.wait_for_selector(f"html[data-plate={'day' if light >= 0.5 else 'night'}]")
        yield name


def no_sideways(page):
    wide, inner = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    return wide <= inner


SEEN = """() => {
  const copy = document.documentElement.cloneNode(true);
  for (const words of copy.querySelectorAll(".roomlight .now")) words.textContent = "";
  return copy.outerHTML.replace(/[\\d.]+/g, "0");
}"""
"""The page but for its numbers and the word for the room light: where that and the plate are the same, so is what the checker says."""


def checked(window, axe, what):
    """What the checker says by day, dusk and night, asked once of what looks alike; nothing may hang over the side."""
    wrong, seen = [], set()
    for name in by_light(window.page):
        page = window.page.evaluate(SEEN)  # its plate stands in it
        if page not in seen:
            wrong += axe(window, f"[{what}, {name}]")
        seen.add(page)
    return wrong if no_sideways(window.page) else [*wrong, f"[{what}] hangs over the side"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_start_page(window, axe, size, scheme):
    made = window("/", color_scheme=scheme, **size)
    made.page.get_by_role("button", name="A lantern board").wait_for()
    assert axe(made) == []
    assert no_sideways(made.page)


@pytest.mark.parametrize("demo", ["A harbour with its lighthouse", "A lantern board"])
def test_every_leaf_of_a_demo_opens(window, demo):
    """An adapter that runs for ever, rhythms with a program, a picture under the part: no screen may fall over them."""
    made = window("/")
    page = made.page
    page.get_by_role("button", name=demo).click()
    page.wait_for_url("**/plan/*")
    made.fresh()
    for name in page.locator(".thumb").all_inner_texts():
        page.locator(".thumb", has_text=name).click()
        page.locator("#leaf").get_by_role("heading", level=2, name=name).wait_for()
        for waiting in ("Fetching it", "Being worked out"):
            page.locator("#leaf").get_by_text(waiting).wait_for(state="hidden")
    if demo.startswith("A harbour"):
        page.locator(".thumb", has_text="Power").click()
        page.locator("details.topic").first.wait_for()
        made.unfold()
        page.get_by_text("as long as it is plugged in").first.wait_for()
        page.locator("summary", has_text="program/main.py").click()
        assert "('A', 2, True" in page.get_by_label("Program", exact=True).inner_text()


def test_every_leaf(window, axe, size, address):
    """Each leaf with its sheets, found by the thumb index, so that a new one is checked as well."""
    made = window(address, **size)
    page = made.page
    made.fresh()
    wrong = checked(made, axe, "sheet")
    names = page.locator(".thumb").all_inner_texts()
    assert len(names) >= 9
    for name in names:
        page.locator(".thumb", has_text=name).click()
        page.locator("#leaf").wait_for()
        for waiting in ("Fetching it", "Being worked out"):
            page.locator("#leaf").get_by_text(waiting).wait_for(state="hidden")
        made.unfold()
        wrong += checked(made, axe, name)
    assert not wrong, "\n".join(wrong)


def test_chosen_finding_clash_and_trouble(window, axe, size, address):
    """What opens on the way: a lamp's own form, a finding, a clash, trouble, a file that cannot be read, the server gone."""
    made = window(address, **size)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Lamps").click()
    page.locator(".leaf .list .row", has_text="ports").click()
    wrong = checked(made, axe, "a row chosen")
    page.locator(".leaf .list .row", has_text="stern").click()
    page.get_by_label("x, mm").wait_for()
    wrong += checked(made, axe, "a lamp chosen")
    page.locator(".note button").first.click()
    page.locator(".note.on").wait_for()
    wrong += checked(made, axe, "a finding")
    for what, state in {
        "clash": {"clash": {"items": ["stern"], "what": "stern moved", "changes": []}},
        "trouble": {"trouble": {"says": "The disk is full.", "problems": []}},
        "outside": {"outside": [{"says": "plan.yaml:3: colour: found 'rad', expected a colour"}]},
        "gone": {"gone": "The app's server does not answer; waiting for it."},
        "stale": {"stage": "loom", "revision": "0"},
        "failed": {"failed": "Working it out stopped."},
    }.items():
        kept = page.evaluate("state => { const kept = rushlight.desk.state; rushlight.desk.set(state); return Object.fromEntries(Object.keys(state).map(key => [key, kept[key]])); }", state)
        wrong += checked(made, axe, what)
        page.evaluate("kept => rushlight.desk.set(kept)", kept)
    assert not wrong, "\n".join(wrong)


def test_a_plan_that_cannot_be_opened(window, axe, plan, address, size):
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    (plan / "plan.yaml").write_text(text.replace("colour: red", "colour: rad"), encoding="utf-8")
    made = window(address, **size)
    made.page.get_by_text("This plan cannot be opened").wait_for()
    assert axe(made) == []
    made.wrong.clear()  # the browser tells the refusal on its console


def test_many_lamps_and_evidence(window, axe, plan, address, size):
    """Filters, versions, many at once, laying out, a chosen lamp, the grid, a picture with its marks, a cure."""
    from PIL import Image

    (plan / "pictures").mkdir()
    Image.new("RGB", (400, 240), (40, 44, 60)).save(plan / "pictures" / "dusk.png")
    picture = ("references:\n  - {name: dusk, file: dusk.png, marks: [{name: glow, at_px: [100, 80], lamp: stern}, {name: glint, at_px: [300, 90]}]}\n"
               "versions: [{name: early}, {name: late}]\nversion: late\nlamps:\n")
    text = (plan / "plan.yaml").read_text(encoding="utf-8").replace("lamps:\n", picture).replace("kind: cells", "kind: cells, in_series: 1")
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    made = window(address, **size)
    page = made.page
    made.fresh()
    page.evaluate("window.rushlight.desk.set({ leaf: 'lamps', filtersOpen: true, groupBy: 'part', chosen: ['lamps/stern', 'lamps/beacon'] })")
    page.locator("summary", has_text="Versions and worth").click()
    page.locator("summary", has_text="Lay out").click()
    wrong = checked(made, axe, "many lamps")
    page.evaluate("window.rushlight.desk.set({ chosen: ['rows/ports'] })")
    page.locator("summary", has_text="Lay out").click()
    wrong += checked(made, axe, "a row")
    page.evaluate("window.rushlight.desk.set({ leaf: 'light' })")
    page.get_by_role("grid").wait_for()
    wrong += checked(made, axe, "grid")
    page.evaluate("window.rushlight.desk.set({ leaf: 'references', mark: 'glint' })")
    page.locator(".lookat img").wait_for()
    page.get_by_role("button", name="Mark lights").click()
    wrong += checked(made, axe, "evidence")
    page.evaluate("window.rushlight.desk.set({ leaf: '', note: 0 })")
    wrong += checked(made, axe, "a cure")
    assert not wrong, "\n".join(wrong)
