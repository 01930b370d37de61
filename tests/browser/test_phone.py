"""A phone at the bench: let in, ticks, readings, pieces, a photograph, out of reach and back, two devices, sent away."""

from __future__ import annotations

import io
import re

import pytest
import yaml
from PIL import Image

PHONE = {"width": 360, "height": 740, "has_touch": True, "is_mobile": True}


def open_bench(window, address):
    wide = window(address)
    wide.fresh()
    wide.page.get_by_role("button", name="Bench", exact=True).click()
    wide.page.get_by_role("button", name="Let a phone in").click()
    wide.page.locator(".b-code").wait_for()
    return wide


def code_and_link(wide):
    return wide.page.locator(".b-code").inner_text(), wide.page.locator(".b-door strong").first.inner_text().rstrip("/")


def come_in(window, wide, name="red phone", **more):
    """By the QR's address, the code in its fragment."""
    code, link = code_and_link(wide)
    phone = window(f"/#{code}", address=link, **{**PHONE, **more})
    phone.page.get_by_label("What shall this phone be called?").fill(name)
    phone.page.get_by_role("button", name="Come in").click()
    phone.page.locator(".b-step").first.wait_for(state="attached")
    return phone


def log_of(plan):
    return yaml.safe_load((plan / "plan.yaml").read_text(encoding="utf-8")).get("as_built", [])


def step_of(made, text):
    return made.page.locator(".b-step", has=made.page.locator(".b-name strong", has_text=re.compile(f"^{text}")))


def test_the_whole_journey_of_a_phone(window, plan, address, axe):
    wide = open_bench(window, address)
    code, link = code_and_link(wide)
    assert axe(wide, "the door is open") == []
    stranger = window("/", address=link, **PHONE)
    assert "Wren" not in stranger.page.content()
    stranger.page.get_by_label("Code").fill(f"{(int(code) + 1) % 10**6:06}")
    stranger.page.get_by_role("button", name="Come in").click()
    stranger.page.get_by_text("That is not the code").wait_for()
    assert axe(stranger, "pairing") == []
    phone = come_in(window, wide)
    page = phone.page
    assert page.get_by_role("heading", level=1).inner_text() == "Pilot cutter <i>Wren</i>"
    assert "#" not in page.url
    wide.page.get_by_text("red phone").wait_for()
    # a tick is seen on the computer at once, by name
    step_of(phone, "Buy parts").locator(".b-tick").click()
    wide.page.get_by_role("button", name="Take back: buy parts and spares: ticked (red phone)").wait_for()
    assert step_of(wide, "Buy parts").get_by_text("red phone").is_visible()
    # a gate asks for its readings, judges them at once, and lets pass
    gate = step_of(phone, "Test every LED")
    gate.locator(".b-tick").click()
    assert gate.get_by_role("button", name="Gate passed").is_disabled()
    fields, notes = gate.locator(".b-type input"), gate.get_by_role("button", name=re.compile("^Note "))
    for n in range(fields.count()):
        fields.nth(n).fill("2,6")
        notes.nth(n).click()
    gate.locator(".b-found").nth(fields.count() - 1).wait_for()
    found = axe(phone, "gate")
    assert found == [], "\n".join(found)
    passes = gate.get_by_role("button", name=re.compile("Gate passed|Pass it all the same"))
    passes.click()
    gate.get_by_role("button", name=re.compile("is done; take the tick back")).wait_for()
    step_of(wide, "Test every LED").get_by_role("button", name=re.compile("is done; take the tick back")).wait_for()
    entry = next(row for row in log_of(plan) if row["step"] == "test_parts")
    assert {row["value"] for row in entry["readings"]} == {2.6} and entry["by"] == "red phone"


def test_photograph_pieces_loom_and_lamps(window, plan, address, axe):
    wide = open_bench(window, address)
    phone = come_in(window, wide)
    page = phone.page
    step_of(phone, "Drill").first.locator(".b-name").click()
    out = io.BytesIO()
    Image.new("RGB", (640, 480), "tan").save(out, "JPEG")
    page.locator("input[type=file]").set_input_files({"name": "bench.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()})
    page.locator(".b-photo img").wait_for()
    drilled = next(row for row in log_of(plan) if row["step"] == "drill")
    assert (plan / "pictures" / drilled["photo"]).is_file()
    page.get_by_role("button", name="Cut", exact=True).click()
    first = page.locator(".b-piece").first
    first.locator("input").fill("97")
    first.get_by_role("button", name=re.compile("^Cut ")).click()
    first.get_by_role("button", name=re.compile("take it back")).wait_for()
    wide.page.get_by_role("button", name=re.compile(r"^Take back: lead .*: cut \(red phone\)")).wait_for()
    assert [row["length_mm"] for row in log_of(plan) if "length_mm" in row] == [97]
    assert axe(phone, "cut") == []
    page.get_by_role("button", name="Loom", exact=True).click()
    page.locator(".b-pane svg").wait_for()
    page.get_by_role("button", name="Nearer").click()
    assert axe(phone, "loom") == []
    page.get_by_role("button", name="Lamps", exact=True).click()
    page.get_by_label("Find a lamp").fill("beacon")
    page.get_by_text("1 of 7").wait_for()
    page.get_by_role("button", name="Darker").click()
    assert axe(phone, "lamps, night") == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_fault_is_named_its_place_drawn_and_the_next_reading_narrows_it(window, plan, address, axe):
    """Seen on the phone, even while the computer is out of reach; judged there and on the computer."""
    file = plan / "plan.yaml"
    text = file.read_text(encoding="utf-8")
    assert text.count("10s, size_mm: 120}") == 1
    file.write_text(text.replace("10s, size_mm: 120}", "10s, size_mm: 120, source: {kind: fibre}}"), encoding="utf-8")
    wide = open_bench(window, address)
    phone = come_in(window, wide)
    page = phone.page
    page.get_by_role("button", name="Fault", exact=True).click()
    page.locator(".b-part-map").wait_for()
    assert axe(phone, "what do you see") == []
    page.context.set_offline(True)
    page.get_by_label("Part").select_option("lid")
    page.locator(".b-part-map circle").first.click()  # a tap on the drawing: the beacon is dark
    page.get_by_role("button", name="Note: 1 dark").click()
    page.get_by_text("1 entry waits to be sent").wait_for()
    page.context.set_offline(False)
    page.locator(".b-suspects li").first.wait_for()
    before = page.locator(".b-suspects li").count()
    assert "I2, lid 25, 10 mm" in page.locator(".b-suspects").inner_text()
    page.get_by_text("see first whether the LED itself is lit").wait_for()
    assert page.locator(".b-likely figure svg").first.is_visible() and page.get_by_role("img", name=re.compile("^The meter: dial at")).is_visible()
    found = axe(phone, "what is likely")
    assert found == [], "\n".join(found)
    page.get_by_label("It shows").fill("0,01 V")
    page.get_by_role("button", name=re.compile("^Note .* to ")).click()
    page.wait_for_function("before => document.querySelectorAll('.b-suspects li').length < before", arg=before)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    (entry,) = log_of(plan)
    assert entry["step"] == "find_fault" and entry["looks"][0]["dark"] == "beacon" and entry["readings"][0]["value"] == 0.01
    wide.page.get_by_role("button", name="Fault", exact=True).click()
    wide.page.locator(".b-suspects li").first.wait_for()
    assert wide.page.locator(".b-suspects").inner_text() == page.locator(".b-suspects").inner_text()
    assert axe(wide, "faults in the app") == []
    wide.page.get_by_role("button", name="I mended it: still wrong, number 1").click()
    wide.page.get_by_text("What it rests on").click()
    wide.page.get_by_text("taken as a fact").wait_for()
    wide.page.get_by_text("found before the mend").first.wait_for()  # the look: it has no number of its own
    assert [row["value"] for row in log_of(plan)[0]["readings"] if row["what"].startswith("mended: ")] == [1]
    wide.page.get_by_role("button", name="It is mended: begin anew").click()
    page.get_by_text("Nothing was seen or read yet").wait_for()
    assert log_of(plan) == []
    phone.wrong[:] = [text for text in phone.wrong if "ERR_INTERNET_DISCONNECTED" not in text]


def test_every_target_is_large_enough_for_a_finger(window, address):
    phone = come_in(window, open_bench(window, address))
    small = """[...document.querySelectorAll('button, input, select, summary, a')].filter(one => one.offsetParent)
        .map(one => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()]).filter(([, box]) => box.width < 44 || box.height < 44)"""
    for tab in ("Cut", "Loom", "Lamps", "Fault", "Order"):
        phone.page.get_by_role("button", name=tab, exact=True).click()
        if tab == "Fault":
            phone.page.locator(".b-part-map").wait_for()
        phone.page.wait_for_timeout(50)
        assert phone.page.evaluate(small) == [], tab


def test_a_phone_out_of_reach_keeps_its_ticks_with_their_time(window, plan, address):
    """The network goes while it is ticked; the page is even loaded anew after it came back; nothing is lost or doubled."""
    wide = open_bench(window, address)
    phone = come_in(window, wide)
    page, context = phone.page, phone.page.context
    context.set_offline(True)
    step_of(phone, "Buy parts").locator(".b-tick").click()
    step_of(phone, "Measure").locator(".b-tick").click()
    page.get_by_text("2 entries wait to be sent").wait_for()
    assert step_of(phone, "Buy parts").get_by_text("waits to be sent").is_visible()
    page.wait_for_timeout(1100)  # the tick's own second passes
    assert log_of(plan) == []
    page.get_by_text("The computer does not answer").wait_for()
    step_of(wide, "Measure").locator(".b-tick").click()
    wide.page.get_by_role("button", name=re.compile("^Take back: measure")).wait_for()
    context.set_offline(False)
    page.reload()
    page.locator(".b-step").first.wait_for(state="attached")
    wide.page.get_by_role("button", name=re.compile("^Take back: buy parts")).wait_for()
    page.locator(".b-waiting").wait_for(state="detached")
    log = log_of(plan)
    assert [row["step"] for row in log] == ["buy", "measure"]  # in the order of the work, not of the sending
    assert log[0]["by"] == "red phone" and log[1]["by"] == "this computer"
    phone.wrong[:] = [text for text in phone.wrong if "ERR_INTERNET_DISCONNECTED" not in text]


def test_two_phones_and_the_computer_agree(window, plan, address):
    """Both read one thing without knowing of each other: both readings are kept until one is said to count."""
    wide = open_bench(window, address)
    red = come_in(window, wide, "red phone")
    wide.page.get_by_role("button", name="A new code, for one more phone").click()
    wide.page.locator(".b-code").wait_for()
    blue = come_in(window, wide, "blue phone")
    for made in (red, blue, wide):
        step_of(made, "Test every LED").locator(".b-name").click()
    red.page.context.set_offline(True)
    for made, value in ((red, "1.5"), (blue, "1.7")):
        gate = step_of(made, "Test every LED")
        gate.locator(".b-type input").first.fill(value)
        gate.get_by_role("button", name=re.compile("^Note ")).first.click()
    step_of(wide, "Test every LED").locator(".b-found").wait_for()
    red.page.context.set_offline(False)
    for made in (red, blue, wide):
        step_of(made, "Test every LED").get_by_text("Read twice, and not alike").wait_for()
    assert sorted(row["value"] for row in log_of(plan)[0]["readings"]) == [1.5, 1.7]
    step_of(blue, "Test every LED").get_by_role("button", name="This one counts").first.click()
    for made in (red, wide):
        step_of(made, "Test every LED").get_by_text("Read twice").wait_for(state="detached")
    assert [row["value"] for row in log_of(plan)[0]["readings"]] == [1.7]  # the first that the computer heard of
    red.wrong[:] = [text for text in red.wrong if "ERR_INTERNET_DISCONNECTED" not in text]


def test_a_phone_is_sent_away_and_the_door_closes(window, address):
    wide = open_bench(window, address)
    phone = come_in(window, wide)
    wide.page.get_by_role("button", name="Send away red phone").click()
    phone.page.get_by_text("The door is closed for this phone").wait_for()
    _, link = phone.page.url, phone.address
    wide.page.get_by_role("button", name="Close the door").click()
    wide.page.get_by_role("button", name="Let a phone in").wait_for()
    with pytest.raises(Exception, match="ERR_CONNECTION_REFUSED"):
        phone.page.goto(f"{link}/")
    phone.wrong.clear()
