"""The whole app by keyboard: every control reached, focus seen, nowhere caught; stillness; meaning never by colour alone."""

from __future__ import annotations

import re

import pytest

MOST_STOPS = 400

WATCH = """() => {
  if (window.stopOf) return;
  const known = new Map();
  const seen = (at, style) => {
    at.scrollIntoView({ block: 'nearest' });
    const box = at.getBoundingClientRect(), drawn = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
    const across = Math.max(0, Math.min(box.right, innerWidth) - Math.max(box.left, 0)), down = Math.max(0, Math.min(box.bottom, innerHeight) - Math.max(box.top, 0));
    const shares = [0.5, 0.1, 0.2, 0.3, 0.4, 0.6, 0.7, 0.8, 0.9];
    const spots = shares.flatMap(x => shares.map(y => [box.left + x * box.width, box.top + y * box.height]));
    const top = spots.some(([x, y]) => { const hit = document.elementFromPoint(x, y); return hit && (at.contains(hit) || hit.contains(at) || (at.labels && [...at.labels].some(label => label.contains(hit)))); });
    return drawn && across > 0 && down > 0 && top;
  };
  window.numberOf = at => { if (!known.has(at)) known.set(at, known.size); return known.get(at); };
  window.stopOf = at => {
    const name = at.getAttribute('aria-label') || (at.labels && at.labels[0] && at.labels[0].textContent) || at.textContent || at.title;
    return { number: numberOf(at), name: (name || '').trim().slice(0, 60), seen: seen(at, getComputedStyle(at)), html: at.outerHTML.slice(0, 160) };
  };
  window.passed = [];
  document.addEventListener('focusin', event => passed.push([event.target, stopOf(event.target)]), true);
}"""
"""Notes every element that gets the focus, with a number of its own and whether it is seen then."""

PASSED = """() => {
  const at = document.activeElement, here = at && at !== document.body, rows = passed.splice(0);
  if (here && (!rows.length || rows.at(-1)[0] === at)) rows.splice(-1, 1, [at, stopOf(at)]);
  return rows.map(([, stop]) => stop);
}"""
"""What got the focus since the last look; what has it now as it is seen now, again where nothing else got it."""

STOPS = """() => [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex]')]
  .filter(at => !at.disabled && at.tabIndex >= 0 && at.checkVisibility({ visibilityProperty: true }))
  .map(at => [numberOf(at), at.outerHTML.slice(0, 160)])"""


def tabbed(page, key="Tab"):
    """Each stop of the Tab key once round the page, wherever it begins.

    Behind the last stop the browser takes the focus, and may give it back to the first at any time: perhaps just before
    the next press, which then goes on to the second. So what got the focus is noted, not only what has it after a press.
    """
    page.evaluate(WATCH)
    page.evaluate("passed.length = 0")
    stops, outside = [], 0
    for _ in range(MOST_STOPS):
        page.keyboard.press(key)
        found = page.evaluate(PASSED)
        outside += not found
        assert outside < 5, "the page cannot be entered again"
        for stop in found:
            if stops and stop["number"] == stops[0]["number"]:
                return stops
            stops.append(stop)
    raise AssertionError(f"caught near {stops[-3:]}")


def expected_stops(page):
    """All that the Tab key should reach: number and how it begins."""
    page.evaluate(WATCH)
    return dict(map(tuple, page.evaluate(STOPS)))


def walked(page, *, back=False):
    """Nothing is left out, unseen or unnamed, and the way back is as long."""
    expected, stops = None, []
    while expected is None or expected.keys() != expected_stops(page).keys():  # a sheet that arrives in the midst of a walk
        expected = expected_stops(page)
        stops = tabbed(page)
    assert [stop for stop in stops if not stop["seen"]] == []
    assert [stop for stop in stops if not stop["name"]] == []
    assert [expected[number] for number in expected.keys() - {stop["number"] for stop in stops}] == []
    assert not back or len(tabbed(page, "Shift+Tab")) >= len(expected)
    return [stop["name"] for stop in stops]


@pytest.mark.parametrize("width", [1280, 360])
def test_start_page_by_keyboard(window, width):
    page = window("/", width=width).page
    page.get_by_role("button", name="A lantern board").wait_for()
    assert "Begin" in walked(page)


@pytest.mark.parametrize("width", [1280, 360])
def test_every_leaf_by_keyboard(window, address, width):
    made = window(address, width=width)
    page = made.page
    made.fresh()
    names = walked(page, back=True)
    assert {"Subject", "Book", "Room light"} <= {name.split("day")[0].strip() for name in names}
    assert any(name.startswith("The whole model") for name in names)
    for leaf in page.locator(".thumb").all_inner_texts():
        page.locator(".thumb", has_text=leaf).focus()
        page.keyboard.press("Enter")
        page.locator("#leaf").wait_for()
        for waiting in ("Fetching it", "Being worked out"):
            page.locator("#leaf").get_by_text(waiting).wait_for(state="hidden")
        assert "Close this leaf" in walked(page), leaf


def test_a_lamp_is_found_moved_and_taken_back_without_a_mouse(window, address):
    made = window(address)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Lamps").focus()
    page.keyboard.press("Enter")
    row = page.locator(".leaf .list .row", has_text="stern")
    row.focus()
    page.keyboard.press("Space")
    page.get_by_label("x, mm").wait_for()
    page.locator("#sheet").focus()
    page.keyboard.press("Shift+ArrowRight")
    page.get_by_role("button", name="Take back: stern moved").wait_for()
    assert page.get_by_label("x, mm").input_value() == "30"
    page.get_by_role("button", name="Take back: stern moved").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Do again: stern moved").wait_for()
    assert page.get_by_label("x, mm").input_value() == "20"


def test_a_lamp_that_is_renamed_keeps_the_keyboard_where_it_was(window, address):
    """Its form is made anew under another name; who pressed Tab goes on at the next field, who pressed Enter stays."""
    made = window(address)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Lamps").click()
    page.locator(".leaf .list .row", has_text="stern").click()
    for key, label, name in (("Tab", "Part", "sternlight"), ("Enter", "Name", "stern light")):
        field = page.get_by_label("Name", exact=True)
        field.focus()
        field.fill(name)
        page.keyboard.press(key)
        page.get_by_role("button", name=f"named {name}").wait_for()
        page.locator(".leaf .list .row", has_text=name).wait_for()
        page.locator("label:has(:focus)", has_text=re.compile(rf"^\s*{label}")).wait_for()


def test_a_state_that_is_renamed_keeps_the_keyboard_where_it_was(window, address):
    made = window(address)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Light").click()
    page.locator("summary", has_text="States:").click()
    page.locator("summary", has_text="moored").last.click()
    field = page.get_by_label("Name of the state").last
    field.fill("at the quay")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="named at the quay").wait_for()
    page.locator("label:has(:focus)", has_text="In the rules it is called").wait_for()


def test_states_are_chosen_by_arrows(window, address):
    page = window(address).page
    page.wait_for_selector("html[data-ready]")
    page.get_by_role("radio", name="under way").focus()
    page.keyboard.press("ArrowRight")
    assert page.get_by_role("radio", name="moored").get_attribute("aria-checked") == "true"
    assert page.evaluate("document.activeElement.textContent") == "moored"
    page.keyboard.press("ArrowRight")
    assert page.get_by_role("radio", name="under way").get_attribute("aria-checked") == "true"


def test_nothing_moves_by_itself(window, address):
    """Only light moves, and only when asked; with reduced motion the button says so."""
    made = window(address, reduced_motion="reduce")
    page = made.page
    made.fresh()
    page.get_by_label("Room light").fill("0")
    still = "[...document.querySelectorAll('*')].filter(at => { const style = getComputedStyle(at); return parseFloat(style.transitionDuration) > 0 || (style.animationName !== 'none' && parseFloat(style.animationDuration) > 0); }).length"
    assert page.evaluate(still) == 0
    assert page.evaluate("document.getAnimations().length") == 0
    play = page.get_by_role("button", name="Play the rhythms")
    assert play.get_attribute("aria-pressed") == "false"
    assert "reduced motion" in play.get_attribute("title")
    page.wait_for_selector("#sheet[data-light=sharp]")
    first = page.locator("#sheet").screenshot()
    page.wait_for_timeout(1200)
    assert page.locator("#sheet").screenshot() == first


def test_meaning_is_never_by_colour_alone(window, address):
    """Grades, lamps, the chosen and the lit are told in words and shapes; without any colour they still read."""
    made = window(address)
    page = made.page
    made.fresh()
    for note in page.locator(".note").all():
        grade = note.locator(".grade")
        assert grade.inner_text().strip() in ("dangerous", "will fail", "doubtful", "could be better")
        assert grade.locator("svg *").count() > 0
    page.locator(".thumb", has_text="Lamps").click()
    rows = page.locator(".leaf .list .row")
    assert re.search(r"\bR Fl\(2\) R 10s", rows.filter(has_text="beacon").inner_text())
    rows.filter(has_text="beacon").click()
    assert rows.filter(has_text="beacon").get_attribute("aria-pressed") == "true"
    assert page.locator(".thumb.on").evaluate("at => getComputedStyle(at).fontWeight") == "700"
    assert page.locator(".state.on").evaluate("at => getComputedStyle(at).fontWeight") == "700"


def test_plates_keep_their_contrast_at_every_position_of_the_room_light(window, address):
    """4.5 to 1 of words and 3 to 1 of edges, from the colours as the browser has them."""
    made = window(address)
    page = made.page
    page.wait_for_selector("html[data-ready]")
    pairs = page.evaluate("""async () => {
      const rows = [], tell = document.createElement('i');
      document.body.append(tell);
      const code = name => { tell.style.color = `var(--${name})`; return getComputedStyle(tell).color.match(/[\\d.]+/g).slice(0, 3).map(Number); };
      for (let n = 0; n <= 100; n += 1) {
        rushlight.desk.set({ light: n / 100 });
        await new Promise(done => setTimeout(done));
        rows.push({ light: n / 100, plates: ['plate', 'plate-soft', 'page'].map(code), words: ['ink', 'quiet', 'ember'].map(code) });
      }
      return rows;
    }""")
    assert len(pairs) == 101
    low = [(row["light"], plate, word) for row in pairs for plate in row["plates"] for word in row["words"] if contrast(plate, word) < 4.5]
    assert low == []


def contrast(one, other):
    """WCAG 2.2, relative luminance and contrast ratio."""
    def luminance(codes):
        shares = [code / 255 for code in codes]
        linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_long_leaves_fold_and_are_found_by_their_list(window, address):
    """A leaf of several sheets shows the first; the list in its head opens and reaches any other, and what was opened stays so."""
    made = window(address)
    page = made.page
    made.fresh()
    page.locator(".thumb", has_text="Power").click()
    folded = page.locator("details.topic")
    folded.first.wait_for()
    assert [one.evaluate("it => it.open") for one in folded.all()] == [True] + [False] * (folded.count() - 1)
    page.locator(".glossary > summary").focus()
    page.keyboard.press("Enter")
    page.locator(".glossary dt", has_text="feed").wait_for()
    page.locator(".contents > summary").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Run times").focus()
    page.keyboard.press("Enter")
    reached = page.locator("details.topic", has=page.get_by_role("region", name="Run times"))
    assert reached.evaluate("it => it.open && it.contains(document.activeElement)")
    assert page.locator(".contents").evaluate("it => !it.open")
    page.locator(".contents > summary").click()
    page.get_by_role("button", name="Fold all").focus()
    page.keyboard.press("Escape")
    assert page.locator(".contents").evaluate("it => !it.open")
    page.reload()
    made.fresh()
    page.locator(".thumb", has_text="Power").click()
    page.get_by_role("region", name="Run times").wait_for()
