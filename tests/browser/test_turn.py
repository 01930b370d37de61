"""Turning round the model by night: the stern light goes out, the sidelight comes on; what is kept lands in the plan."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

SIDES = [
    ("name: stern,", "name: stern, facing: astern, arc_deg: [112.5, 247.5],"),
    ("colour: red, states: [under way, moored], rhythm: Fl(2) R 10s", "colour: green, facing: starboard, arc_deg: [0, 112.5], states: [under way, moored]"),
    ("name: hull,", "name: hull, faces: starboard,"),
]


def brightness(wide, part: str, at: list[float]) -> int:
    wide.page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    wide.page.wait_for_selector("canvas[data-light=sharp]")
    x, y = (round(value) for value in wide.at(part, at))
    return sum(Image.open(io.BytesIO(wide.page.screenshot())).convert("RGB").getpixel((x, y)))


def written(page, plan: Path, words: str, *, there: bool = True) -> None:
    """Waits until the file on the disk holds the words, or no longer does."""
    for _ in range(600):
        if (words in (plan / "plan.yaml").read_text(encoding="utf-8")) is there:
            return
        page.wait_for_timeout(50)
    raise AssertionError(words)


def test_the_viewer_turns_round_the_model(window, plan, address, axe):
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    for old, new in SIDES:
        assert old in text
        text = text.replace(old, new)
    (plan / "plan.yaml").write_text(text, encoding="utf-8")
    wide = window(address)
    page = wide.page
    wide.fresh()
    page.get_by_label("Room light").fill("0")
    turn = page.get_by_role("group", name="Seen from")
    assert "each part square on" in turn.inner_text()
    square = brightness(wide, "hull", [20, 25]), brightness(wide, "lid", [40, 10])
    bearing = turn.get_by_label("Seen from")
    seen = {}
    for at in ("180", "90"):
        bearing.fill(at)
        page.wait_for_function("words => document.querySelector('.turn').innerText.includes(words)", arg={"180": "astern", "90": "starboard"}[at])
        seen[at] = brightness(wide, "hull", [20, 25]), brightness(wide, "lid", [40, 10])
    assert seen["180"][0] == square[0] and seen["180"][1] < square[1] - 60
    assert seen["90"][1] == square[1] and seen["90"][0] < square[0] - 60
    assert "1 of 2 lit lamps send no light there" in turn.text_content()
    assert axe(wide) == []
    turn.get_by_role("button", name="Keep in the plan").click()
    wide.page.wait_for_function("() => !document.querySelector('.turn button') || !document.querySelector('.turn').innerText.includes('Keep')")
    written(page, plan, "viewing_bearing_deg: 90")
    turn.get_by_role("button", name="Square on").click()
    assert "each part square on" in turn.inner_text()
    turn.get_by_role("button", name="As the plan has it").click()
    assert "starboard: 1 of 2" in turn.text_content()


def test_a_part_is_told_where_it_faces(window, plan, address):
    wide = window(address)
    page = wide.page
    wide.fresh()
    page.get_by_role("button", name="Parts", exact=True).click()
    page.locator(".leaf").get_by_role("button", name="hull").first.click()
    page.get_by_text("Faces: nobody said").click()
    page.get_by_label("Its outer face looks").select_option("up")
    page.get_by_label("The top of its drawing points").select_option("port")
    page.get_by_text("Faces: up").wait_for()
    page.wait_for_function("() => rushlight.desk.state.plan.parts[0].top_edge === 'port'")
    page.get_by_label("Its outer face looks").select_option("bearing")
    page.get_by_label("Bearing, clockwise, 0 is ahead, deg").fill("135")
    page.get_by_label("Bearing, clockwise, 0 is ahead, deg").press("Enter")
    page.get_by_text("Faces: 135 degrees").wait_for()
    page.get_by_label("Leans up by, deg").fill("12")
    page.get_by_label("Leans up by, deg").press("Enter")
    page.wait_for_function("() => rushlight.desk.state.plan.parts[0].leans_deg === 12")
    written(page, plan, "leans_deg: 12")
    text = (plan / "plan.yaml").read_text(encoding="utf-8")
    assert "faces_deg: 135" in text and "faces: up" not in text and "top_edge: port" in text
    page.get_by_label("Its outer face looks").select_option("")
    page.get_by_text("Faces: nobody said").wait_for()
    written(page, plan, "faces", there=False)
