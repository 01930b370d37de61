"""Every route of the API, and what it refuses."""

from __future__ import annotations

import json

import pytest

from own_loop import run_to_end
from rushlight.web.api import MOST_BODY, ROUTES, _told
from rushlight.web.desk import Desk
from rushlight.web.worker import Done


def api(client, rest=""):
    return f"/api/plans/{client.plan}{rest}"


def state(client):
    return client.get(api(client)).json()


def move(client, name, to, revision=None, what="moved"):
    change = {"action": "set", "kind": "lamps", "name": name, "values": {"at_mm": to}}
    body = {"revision": revision or state(client)["revision"], "what": what, "changes": [change]}
    return client.post(api(client, "/changes"), json=body)


def place(body, name):
    return next(lamp["at_mm"] for lamp in body["plan"]["lamps"] if lamp["name"] == name)


def error_of(answer, status, kind):
    """The one form of every error."""
    assert answer.status_code == status
    assert set(answer.json()) == {"error"}
    error = answer.json()["error"]
    assert error["kind"] == kind
    assert error["says"]
    return error


# --- start --------------------------------------------------------------------------------------------------------


def test_the_start_page_knows_recent_plans_and_demos(client, folder):
    body = client.get("/api/start").json()
    assert body["recent"] == [{"id": client.plan, "title": "A boat", "folder": str(folder), "missing": ""}]
    assert body["demos"] == ["tug", "lighthouse", "lantern"]


def test_a_demo_is_opened_as_a_copy_each_time_another(client):
    first = client.post("/api/demos", json={"name": "lantern"})
    second = client.post("/api/demos", json={"name": "lantern"})
    assert (first.status_code, second.status_code) == (201, 201)
    folders = sorted(path.name for path in client.desk.plans_home.iterdir())
    assert folders == ["demo-lantern", "demo-lantern-2"]
    assert client.get(f"/api/plans/{second.json()['id']}").json()["plan"]["lamps"]


def test_an_unknown_demo_is_named(client):
    error = error_of(client.post("/api/demos", json={"name": "lanturn"}), 404, "unknown")
    assert error["nearest"] == "lantern"


ANSWERS = {"title": "Invented <b>boat</b>", "kind": "ship", "scale": "72", "part": "hull", "length_mm": "300",
           "height_mm": 60, "states": ["under way", " at anchor ", ""]}


def test_a_new_plan_from_a_few_answers(client):
    begun = client.post("/api/plans", json=ANSWERS)
    body = client.get(f"/api/plans/{begun.json()['id']}").json()
    assert body["plan"]["subject"]["title"] == "Invented <b>boat</b>"
    assert [row["name"] for row in body["plan"]["states"]] == ["under way", "at anchor"]
    assert body["plan"]["parts"][0]["outline_mm"][2] == [300, 60]
    assert body["plan"]["lamps"] == []


@pytest.mark.parametrize(("key", "value"), [
    ("title", " "), ("part", None), ("scale", "abc"), ("scale", 0), ("length_mm", -3), ("length_mm", "1e9"), ("kind", "spoon"),
    ("states", ["same", "same"]),
])
def test_a_new_plan_with_a_bad_answer_is_refused_in_words(client, key, value):
    answer = client.post("/api/plans", json={**ANSWERS, key: value})
    assert answer.status_code == 422
    assert answer.json()["error"]["says"]
    assert not list(client.desk.plans_home.glob("*/plan.yaml"))


# --- a plan -------------------------------------------------------------------------------------------------------


def test_a_plan_with_its_lamps_in_their_places(client):
    body = state(client)
    assert body["plan"]["subject"]["title"] == "A boat"
    lamp = body["look"]["lamps"][1]
    assert (lamp["part"], lamp["at_mm"], lamp["letter"], lamp["rhythm"]) == ("hull", [90, 30], "R", "Fl(2) R 10s")
    assert lamp["hole_mm"] > 0
    assert body["steps"] == {"undo": None, "redo": None}


def test_words_for_the_forms(client):
    body = client.get("/api/words").json()
    assert "warm white" in body["colours"]
    worth = next(row for row in body["keys"]["lamps"] if row["key"] == "worth")
    assert worth["choices"] == ["must", "wished", "left out"]
    depth = next(row for row in body["keys"]["bays"] if row["key"] == "depth_mm")
    assert (depth["unit"], depth["must"]) == ("mm", True)
    assert "white styrene" in body["drawer"]["walls"]


def test_an_opening_of_a_part_is_changed_by_its_name(client):
    change = {"action": "add", "kind": "parts", "name": "hull", "list": "openings", "item": "window", "values": {"rect_mm": [10, 10, 20, 8]}}
    body = client.post(api(client, "/changes"), json={"revision": state(client)["revision"], "what": "drawn", "changes": [change]}).json()
    opening = body["plan"]["parts"][0]["openings"][0]
    assert (opening["rect_mm"], opening["shape"][2]) == ([10, 10, 20, 8], [30, 18])
    assert body["plan"]["parts"][0]["keep_outs"] == []


def test_a_change_is_saved_and_named(client, folder):
    body = move(client, "stern", [70, 20], what="stern moved").json()
    assert place(body, "stern") == [70, 20]
    assert body["steps"]["undo"] == "stern moved"
    assert "[70, 20]" in (folder / "plan.yaml").read_text(encoding="utf-8")


def test_undo_and_redo_also_after_a_restart(client, folder, tmp_path):
    from starlette.testclient import TestClient

    from rushlight.web.app import make_app

    move(client, "stern", [70, 20], what="stern moved")
    again = Desk(tmp_path / "plans", design=False)
    with TestClient(make_app(again), base_url="http://127.0.0.1:8000") as other:
        other.plan = other.portal.call(again.open, folder).key
        body = other.post(api(other, "/undo")).json()
        assert place(body, "stern") == [80, 20]
        assert body["steps"] == {"undo": None, "redo": "stern moved"}
        assert place(other.post(api(other, "/redo")).json(), "stern") == [70, 20]


def test_two_windows_on_different_lamps_agree(client):
    seen = state(client)["revision"]
    move(client, "stern", [70, 20], seen)
    body = move(client, "bow", [91, 31], seen).json()
    assert (place(body, "stern"), place(body, "bow")) == ([70, 20], [91, 31])


def test_two_windows_on_one_lamp_clash(client):
    seen = state(client)["revision"]
    move(client, "stern", [70, 20], seen)
    error = error_of(move(client, "stern", [60, 20], seen), 409, "clash")
    assert error["items"] == ["stern"]
    assert place(state(client), "stern") == [70, 20]


def test_an_edit_from_outside_appears(client, folder):
    text = (folder / "plan.yaml").read_text(encoding="utf-8")
    (folder / "plan.yaml").write_text(text.replace("[80, 20]", "[50, 20]"), encoding="utf-8")
    bench = client.portal.call(client.desk.bench, client.plan)
    client.portal.call(client.desk.look_outside, bench)
    assert place(state(client), "stern") == [50, 20]


def test_an_edit_from_outside_with_problems_is_told_and_goes_when_mended(client, folder):
    text = (folder / "plan.yaml").read_text(encoding="utf-8")
    bench = client.portal.call(client.desk.bench, client.plan)
    (folder / "plan.yaml").write_text(text.replace("white", "whote"), encoding="utf-8")
    client.portal.call(client.desk.look_outside, bench)
    assert "whote" in state(client)["outside"][0]["says"]
    error = error_of(move(client, "bow", [1, 2]), 422, "problem")
    assert error["problems"][0]["line"] > 0
    (folder / "plan.yaml").unlink()
    client.portal.call(client.desk.look_outside, bench)
    assert "no such file" in state(client)["outside"][0]["says"]
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    client.portal.call(client.desk.look_outside, bench)
    assert state(client)["outside"] == []


@pytest.mark.parametrize(("body", "status", "kind"), [
    ({}, 422, "refused"), ({"changes": []}, 422, "refused"), ({"changes": [3]}, 422, "refused"),
    ({"changes": [{"action": "burn"}]}, 422, "refused"), ({"changes": [{"action": "set", "values": 3}]}, 422, "refused"),
    ({"changes": [{"action": "set", "kind": "lamps", "name": "sturn"}]}, 409, "clash"),
])
def test_bad_changes_are_refused(client, body, status, kind):
    error_of(client.post(api(client, "/changes"), json=body), status, kind)


def test_a_change_with_problems_names_them(client, folder):
    before = (folder / "plan.yaml").read_bytes()
    error = error_of(move(client, "stern", [800, 20]), 422, "problem")
    assert "outside the part" in error["problems"][0]["says"]
    assert (folder / "plan.yaml").read_bytes() == before


def test_an_item_is_added_before_another(client, folder):
    """So that states change their order: taken out, and put in again before another, as one step."""
    text = (folder / "plan.yaml").read_text(encoding="utf-8")
    changes = [{"action": "remove", "kind": "states", "name": "moored"}, {"action": "add", "kind": "states", "name": "moored", "before": "moving"}]
    answer = client.post(api(client, "/changes"), json={"revision": state(client)["revision"], "changes": changes, "what": "moored earlier"})
    assert [row["name"] for row in answer.json()["plan"]["states"]] == ["moored", "moving"]
    now = (folder / "plan.yaml").read_text(encoding="utf-8")
    assert now.split("parts:")[1] == text.split("parts:")[1]  # the rest of the file keeps its layout


def test_a_body_that_cannot_be_read(client):
    path, json_type = api(client, "/changes"), {"content-type": "application/json"}
    error_of(client.post(path, content=b"{", headers=json_type), 400, "request")
    error_of(client.post(path, content=b"[1]", headers=json_type), 400, "request")
    error_of(client.post(path, content=b'{"a": NaN}', headers=json_type), 400, "request")
    error_of(client.post(path, content=b"[" * 100_000, headers=json_type), 400, "request")
    error_of(client.post(path, content=b"a=1", headers={"content-type": "text/plain"}), 415, "request")
    error_of(client.post(path, content=b" " * (MOST_BODY + 1), headers=json_type), 413, "request")


def test_unknown_plans_and_routes(client):
    error_of(client.get("/api/plans/0123456789ab"), 404, "unknown")
    error_of(client.get("/api/nothing"), 404, "request")
    error_of(client.get(api(client, "/changes")), 405, "request")


def test_an_error_of_our_own_has_the_same_form(client, monkeypatch):
    monkeypatch.setattr("rushlight.web.api.words_json", lambda: 1 / 0)
    error = error_of(client.get("/api/words"), 500, "broken")
    assert "ZeroDivisionError" in error["says"]


# --- answers ------------------------------------------------------------------------------------------------------


def test_no_answer_yet(client):
    answer = client.get(api(client, "/answer"))
    assert answer.status_code == 202
    assert answer.json()["revision"] == state(client)["revision"]
    error_of(client.get(api(client, "/sheets/spoons")), 404, "unknown")


@pytest.mark.parametrize("rest", ["/sheets/power", "/held", "/own", "/supplies", "/stood?state=moored&bearing_deg=40",
                                  "/tried?key=light.leak&item=hull"])
def test_what_follows_from_an_answer_waits_for_it(client, rest):
    """No error: an edit may come between, and the browser would tell it as something gone wrong."""
    waiting = client.get(api(client, rest))
    assert (waiting.status_code, waiting.json()) == (202, {"waits": "The plan is still being worked out."})


@pytest.mark.parametrize("place", ["bearing_deg=361", "bearing_deg=nan", "bearing_deg=abeam", "height_deg=91"])
def test_a_side_that_there_is_not_is_told(client, place):
    said = client.get(api(client, f"/stood?state=moored&{place}"))
    assert said.status_code == 422 and "degrees" in said.text


@pytest.mark.parametrize(("kind", "status"), [("overtaken", 202), ("failed", 409)])
def test_a_job_that_was_overtaken_waits_and_one_that_failed_is_told(client, kind, status, monkeypatch):
    bench = client.portal.call(client.desk.bench, client.plan)
    bench.answered = bench.current.revision
    monkeypatch.setattr(bench.worker, "run", lambda *_, **__: Done(kind, "Says why."))
    told = client.get(api(client, "/held"))
    assert told.status_code == status and "Says why." in told.text


def test_an_answer_is_given_only_for_the_plan_as_it_stands(client):
    bench = client.portal.call(client.desk.bench, client.plan)
    bench.answer, bench.answered = json.dumps({"revision": bench.current.revision}), bench.current.revision
    assert client.get(api(client, "/answer")).status_code == 200
    move(client, "stern", [70, 20])
    assert client.get(api(client, "/answer")).status_code == 202


def test_events_tell_of_changes(desk, folder):
    """What /events streams."""
    async def listened():
        bench = await desk.open(folder)
        stream = _told(bench)
        first = json.loads((await anext(stream)).removeprefix("data: "))
        assert first == {"event": "hello", "revision": bench.current.revision, "stage": ""}
        text = (folder / "plan.yaml").read_text(encoding="utf-8")
        (folder / "plan.yaml").write_text(text.replace("[80, 20]", "[50, 20]"), encoding="utf-8")
        await desk.look_outside(bench)
        second = json.loads((await anext(stream)).removeprefix("data: "))
        assert second == {"event": "plan", "revision": bench.current.revision}
        await stream.aclose()
        assert bench.listeners == set()
        await desk.stop()

    run_to_end(listened())


# --- pictures and the book ----------------------------------------------------------------------------------------


def test_pictures(client):
    hull, lid = state(client)["plan"]["parts"]
    assert hull["laid"]["box_mm"] == [-12, -12, 112, 72] and lid["laid"] is None
    assert client.get(api(client, "/parts/0/picture")).headers["content-type"] == "image/jpeg"
    assert client.get(api(client, "/references/0/picture")).headers["content-type"] == "image/jpeg"
    for path in ("/parts/1/picture", "/parts/9/picture", "/references/1/picture"):
        error_of(client.get(api(client, path)), 404, "request")


def test_a_picture_that_vanished_is_named(client, folder):
    (folder / "pictures" / "hull.png").unlink()
    error = error_of(client.get(api(client, "/parts/0/picture")), 422, "problem")
    assert "hull.png" in error["says"]


def test_no_book_no_stop_to_be_made(client):
    assert client.post(api(client, "/book/stop"), json={}).json() == {"stopped": True}


def test_the_book(client, folder):
    error_of(client.get(api(client, "/book/a4.pdf")), 404, "request")
    error_of(client.get(api(client, "/book/..%2Fplan.pdf")), 404, "request")
    error_of(client.post(api(client, "/book"), json={"paper": "a0"}), 422, "refused")
    (folder / "book").mkdir()
    (folder / "book" / "book-a4.pdf").write_bytes(b"%PDF-1.7")
    assert client.get(api(client, "/book/a4.pdf")).headers["content-type"] == "application/pdf"


def test_every_route_is_tried_here():
    """A new route comes with its test."""
    from pathlib import Path

    text = Path(__file__).read_text(encoding="utf-8")
    for route in ROUTES:
        last = [word for word in route.path.split("/") if word and not word.startswith("{")][-1]
        assert f"/{last}" in text, route.path


# --- an outline from the picture ----------------------------------------------------------------------------------


def test_an_outline_is_offered_from_the_picture(client, folder):
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (140, 100), (40, 90, 70))
    ImageDraw.Draw(image).rectangle((20, 20, 119, 79), fill="white")
    image.save(folder / "pictures" / "hull.png")
    points = [{"pixel": [20, 80], "at_mm": [0, 0]}, {"pixel": [120, 80], "at_mm": [100, 0]}]
    change = {"action": "set", "kind": "parts", "name": "hull", "values": {"picture": {"file": "hull.png", "points": points}}}
    client.post(api(client, "/changes"), json={"revision": state(client)["revision"], "what": "laid", "changes": [change]})
    body = client.get(api(client, "/parts/0/outline")).json()
    assert (body["offered"], body["part"]) == (True, "hull")
    xs, ys = zip(*body["outline_mm"], strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((0, 100, 0, 60), abs=1)
    assert client.get(api(client, "/parts/0/outline?tolerance_mm=3")).json()["tolerance_mm"] == 3


def test_an_outline_that_cannot_be_offered_is_told(client):
    body = client.get(api(client, "/parts/0/outline")).json()
    assert (body["offered"], body["why"]) == (False, "no-contrast")
    assert client.get(api(client, "/parts/1/outline")).json()["why"] == "no-picture"
    error_of(client.get(api(client, "/parts/9/outline")), 404, "request")
    error_of(client.get(api(client, "/parts/0/outline?tolerance_mm=-1")), 422, "refused")
