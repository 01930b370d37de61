"""What stands behind the door to the network, and what does not."""

import time

import pytest
from starlette.testclient import TestClient

from rushlight.web.desk import Desk
from rushlight.web.guard import STATIC
from rushlight.web.network_door import Inside
from rushlight.web.pairing import Guests
from rushlight.web.phone_app import OPEN_FILES, OWN_FILES, PHONE_HEADERS, make_phone_app

HOST = "192.168.7.5:4567"
OWN = {"origin": f"http://{HOST}"}
KNOWN = {
    "of": "x", "title": "A boat", "sittings": 1, "lamps": [{"name": "stern"}, {"name": "bow"}],
    "steps": [
        {"key": "drill", "part": "hull", "title": "drill", "kind": "part", "readings": []},
        {"key": "bench_test", "part": None, "title": "bench test", "kind": "gate", "readings": [{"name": "no short"}]},
    ],
    "pieces": [{"piece": "lead A1"}], "drawings": [{"title": "hull", "svg": "<svg/>"}],
    "meters": {"bench_test": [{"title": "no short", "svg": "<svg/>", "mind": ["red on return"]}]},
    "find": {"states": ["moving", "moored"], "resistors": {"bow": ["moving"]}, "places": ["SA1", "bay R"]},
}


@pytest.fixture
def inside(desk: Desk, client) -> Inside:
    bench = client.portal.call(desk.bench, client.plan)
    bench.known = dict(KNOWN)
    made = Inside(desk, bench, Guests(time.monotonic), HOST)
    made.guests.new_code()
    return made


@pytest.fixture
def phone(inside):
    with TestClient(make_phone_app(inside), base_url=f"http://{HOST}", raise_server_exceptions=False) as made:
        yield made


@pytest.fixture
def paired(phone, inside):
    answer = phone.post("/pair", json={"code": inside.guests.code, "name": "red phone"}, headers=OWN)
    assert answer.status_code == 200
    phone.cookie = answer.headers["set-cookie"]
    return phone


def act(paired, **row):
    answer = paired.post("/bench/acts", json={"acts": [{"id": "1", **row}]}, headers=OWN)
    assert answer.status_code == 200, answer.text
    return answer.json()


# --- before a phone is in -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", ["/bench", "/bench/log", "/events", "/bench/drawings/0", "/static/bench.css", "/nothing",
                                  *(f"/static/{name}" for name in OWN_FILES)])
def test_nothing_is_read_before_a_phone_is_in(phone, path):
    answer = phone.get(path)
    assert answer.status_code == 401
    assert "boat" not in answer.text


def test_the_pairing_page_is_all_there_is(phone):
    page = phone.get("/").text
    assert "code" in page and "boat" not in page and "bench/phone.js" not in page
    for name in OPEN_FILES:
        assert phone.get(f"/static/{name}").status_code == 200


def test_a_wrong_code_is_told_and_sets_nothing(phone):
    answer = phone.post("/pair", json={"code": "x"}, headers=OWN)
    assert answer.json()["in"] is False and "not the code" in answer.json()["says"]
    assert "set-cookie" not in answer.headers


def test_a_long_body_is_no_code(phone):
    assert phone.post("/pair", json={"code": "1" * 3000}, headers=OWN).status_code == 413


# --- a phone that is in -------------------------------------------------------------------------------------------


def test_the_cookie_is_out_of_reach_of_scripts_and_other_sites(paired):
    told = paired.cookie.lower()
    assert "httponly" in told and "samesite=strict" in told and "domain" not in told


def test_a_phone_that_is_in_sees_the_bench(paired):
    assert "bench/phone.js" in paired.get("/").text
    told = paired.get("/bench").json()
    assert told["title"] == "A boat" and told["log"] == [] and "svg" not in told["drawings"][0]
    assert paired.get("/bench/drawings/0").json()["svg"] == "<svg/>"
    assert paired.get("/bench/drawings/9").status_code == 404
    for name in OWN_FILES:
        assert paired.get(f"/static/{name}").status_code == 200, name


@pytest.mark.parametrize("path", ["/api/start", "/api/plans/{plan}", "/api/plans/{plan}/bench", "/plan/{plan}", "/api/door", "/static/js/app.js",
                                  "/static/js/desk.js", "/static/index.html", "/static/../app.py", "/static/js/bench/../app.js",
                                  "/static/%2e%2e/app.py", "/fonts/../../make.py"])
def test_editor_other_plans_and_the_doors_handle_are_not_there(paired, client, path):
    assert paired.get(path.format(plan=client.plan)).status_code == 404


def test_a_phone_that_is_sent_away_is_out(paired, inside):
    inside.guests.send_away(inside.guests.phones()[0].key)
    assert paired.get("/bench").status_code == 401
    assert "bench/phone.js" not in paired.get("/").text


@pytest.mark.parametrize("host", ["192.168.7.5", "192.168.7.5:80", "evil.example", "localhost:4567", "127.0.0.1:4567", ""])
def test_the_host_is_exactly_the_served_address(paired, host):
    assert paired.get("/bench", headers={"host": host}).status_code == 403


@pytest.mark.parametrize("headers", [{}, {"origin": "null"}, {"origin": "http://evil.example"}, {"origin": "http://192.168.7.5"},
                                     {**OWN, "sec-fetch-site": "cross-site"}])
def test_acts_come_from_its_own_pages_alone(paired, folder, headers):
    before = (folder / "plan.yaml").read_bytes()
    answer = paired.post("/bench/acts", json={"acts": [{"id": "1", "kind": "tick", "step": "drill", "part": "hull"}]}, headers=headers)
    assert answer.status_code == 403
    assert (folder / "plan.yaml").read_bytes() == before


def test_another_site_cannot_even_read(paired):
    assert paired.get("/bench", headers={"sec-fetch-site": "cross-site"}).status_code == 403


@pytest.mark.parametrize("path", ["/", "/bench", "/nothing", "/static/phone.css"])
def test_every_answer_says_what_may_be_loaded(phone, path):
    answer = phone.get(path)
    for key, value in PHONE_HEADERS.items():
        assert answer.headers[key] == value
    assert "unsafe" not in answer.headers["Content-Security-Policy"]


# --- acts ---------------------------------------------------------------------------------------------------------


def test_a_tick_is_entered_under_the_phones_name(paired, client):
    told = act(paired, kind="tick", step="drill", part="hull", at_ms=1.7e12)
    assert told["results"] == [{"id": "1", "refused": ""}]
    assert told["log"][0] | {"step": "drill", "by": "red phone"} == told["log"][0]
    assert told["log"][0]["when"].startswith("2023-11-1")
    assert client.get(f"/api/plans/{client.plan}/bench/log").json()["log"] == told["log"]
    assert told["undo"] == "drill: ticked (red phone)"


def test_an_act_that_was_taken_is_not_taken_again_even_if_it_was_undone_since(paired, client):
    """Its answer was lost on the way; meanwhile the computer took the tick back."""
    act(paired, kind="tick", step="drill", part="hull")
    client.post(f"/api/plans/{client.plan}/undo", json={})
    assert act(paired, kind="tick", step="drill", part="hull")["log"] == []


def test_what_does_not_fit_is_refused_in_words_and_the_rest_is_taken(paired):
    rows = [
        {"id": "a", "kind": "tick", "step": "dance", "part": None}, {"id": "b", "kind": "tick", "step": "drill", "part": "hull"},
        {"id": "c", "kind": "tick", "step": "bench_test", "part": None},
        {"id": "d", "kind": "read", "step": "bench_test", "what": "no tall", "value": 1}, {"id": "e", "kind": "cut", "step": "lead A9"},
        {"id": "f", "kind": "read", "step": "bench_test", "what": "no short", "value": "many"}, {"id": "g", "kind": "cut", "step": "lead A1", "length_mm": 9},
    ]
    told = paired.post("/bench/acts", json={"acts": rows}, headers=OWN).json()
    assert [row["id"] for row in told["results"] if row["refused"]] == ["a", "c", "d", "e", "f"]
    assert [row["step"] for row in told["log"]] == ["drill", "lead A1"]


def test_what_is_seen_and_read_on_the_way_to_a_fault_is_one_entry_of_the_log(paired, folder):
    find = {"step": "find_fault", "part": None}
    act(paired, kind="look", what="moving", dark=["bow"], dim=["bow", "stern"], **find)
    told = act(paired, kind="read", what="moving: SA1 to bay R", value=4.1, **find, id="2")
    (row,) = told["log"]
    assert (row["step"], row["how"], row["looks"][0]["dark"], row["looks"][0]["dim"]) == ("find_fault", "begun", ["bow"], ["stern"])
    assert [(one["what"], one["value"], one["by"]) for one in row["readings"]] == [("moving: SA1 to bay R", 4.1, "red phone")]
    assert "dark: bow" in (folder / "plan.yaml").read_text(encoding="utf-8")
    told = act(paired, kind="look", what="moving", **find, id="3")
    assert [(look["state"], look["dark"]) for look in told["log"][0]["looks"]] == [("moving", [])]
    assert act(paired, kind="unlook", what="moving", **find, id="4")["log"][0]["looks"] == []
    told = act(paired, kind="read", **find, what="mended: open, lead A1", value=1, id="m")
    assert told["log"][-1]["readings"][-1]["what"] == "mended: open, lead A1"
    told = act(paired, kind="mended", **find, id="5")
    assert told["log"] == [] and told["undo"] == "find the fault: mended, begun anew (red phone)"


@pytest.mark.parametrize("row", [
    {"kind": "look", "what": "flying"}, {"kind": "look", "what": "moving", "dark": ["mast"]}, {"kind": "look", "what": "moving", "dark": "bow"},
    {"kind": "read", "what": "moving: SA1 to SA9", "value": 1}, {"kind": "read", "what": "supply current, flying", "value": 1}, {"kind": "tick"},
])
def test_what_is_not_of_this_loom_is_refused_at_the_fault(paired, row):
    told = paired.post("/bench/acts", json={"acts": [{"id": "1", "step": "find_fault", "part": None, **row}]}, headers=OWN).json()
    assert told["results"][0]["refused"] and told["log"] == []


def test_the_meter_of_a_reading_and_the_fault_are_asked_for_by_themselves(paired, inside):
    page = paired.get("/bench").json()
    assert "meters" not in page and "find" not in page
    assert paired.get("/bench/meters/bench_test/0").json()["svg"] == "<svg/>"
    assert paired.get("/bench/meters/bench_test/1").status_code == 404 == paired.get("/bench/meters/dance/0").status_code
    assert paired.get("/bench/fault").status_code == 202
    inside.bench.suspected = {"of": "older", "verdict": {"kind": "nothing yet"}}
    told = paired.get("/bench/fault").json()
    assert told["verdict"]["kind"] == "nothing yet" and told["now"] is False and told["log"] == []


@pytest.mark.parametrize("body", [{}, {"acts": []}, {"acts": [1]}, {"acts": "x"}, {"acts": [{}] * 1000}])
def test_bodies_that_are_no_acts_are_refused(paired, body):
    assert paired.post("/bench/acts", json=body, headers=OWN).status_code == 422


def test_a_clock_that_runs_ahead_is_not_believed(paired):
    told = act(paired, kind="tick", step="drill", part="hull", at_ms=(time.time() + 1e6) * 1000)
    assert told["log"][0]["when"] <= time.strftime("%Y-%m-%d %H:%M:%S")


def test_every_module_of_the_bench_is_served():
    """A module that is added must be named, or phones do not get it."""
    assert {f"js/bench/{path.name}" for path in (STATIC / "js" / "bench").glob("*.js")} - {*OWN_FILES, *OPEN_FILES} <= {
        "js/bench/leaf.js", "js/bench/door.js"}


# --- photographs --------------------------------------------------------------------------------------------------


def hand_in(phone, data, headers=None, **words):
    kind = {"content-type": "application/octet-stream", **(OWN if headers is None else headers)}
    return phone.post("/bench/photo", params={"step": "drill", "part": "hull", "name": "a.png", **words}, content=data, headers=kind)


def test_a_photograph_is_kept_and_seen_and_no_other_picture_is(paired, folder):
    data = (folder / "pictures" / "hull.png").read_bytes()
    from PIL import Image

    Image.new("RGB", (50, 40), "tan").save(folder / "shot.png")
    told = hand_in(paired, (folder / "shot.png").read_bytes())
    assert told.status_code == 201, told.text
    row = told.json()["log"][0]
    assert (row["step"], row["how"], row["readings"]) == ("drill", "begun", [])
    assert paired.get(f"/bench/photo/{row['photo']}").headers["content-type"] == "image/jpeg"
    for other in ("hull.png", "../plan.yaml", "%2e%2e/plan.yaml"):
        assert paired.get(f"/bench/photo/{other}").status_code == 404
    assert data == (folder / "pictures" / "hull.png").read_bytes()


def test_what_is_no_picture_or_comes_from_elsewhere_is_not_kept(paired, phone, folder):
    before = sorted(path.name for path in (folder / "pictures").iterdir())
    assert hand_in(paired, b"<script>").status_code == 422
    assert hand_in(paired, b"x", headers={}).status_code == 403
    assert hand_in(paired, b"x", step="dance").status_code == 422
    assert sorted(path.name for path in (folder / "pictures").iterdir()) == before
