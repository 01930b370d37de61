"""The start page's routes: lights of the rules, a folder that is typed, plans that went."""

from __future__ import annotations

import json
import shutil

import pytest

from rushlight.cli import main
from rushlight.web.door import ROUTES

SHIP = {"kind": "ship", "states": ["towing", "at anchor"], "length_m": "32", "tow_length_m": 250, "propulsion": "power"}
ANSWERS = {"title": "Invented tug", "scale": "96", "part": "hull", "length_mm": "330", "height_mm": 60}


def error_of(answer, status):
    assert answer.status_code == status
    return answer.json()["error"]["says"]


@pytest.mark.parametrize(("kind", "asks"), [
    ("ship", "length_m"), ("aircraft", None), ("road vehicle", "side"), ("rail vehicle", None), ("obstruction", "height_m"),
    ("sea mark", "region"),
])
def test_questions_and_states_of_each_kind(client, kind, asks):
    body = client.post("/api/lights/known", json={"kind": kind}).json()
    assert len(body["states"]) >= 3
    assert asks is None or asks in [row["key"] for row in body["asks"]]


def test_states_follow_the_means_of_propulsion(client):
    def states(**more):
        return client.post("/api/lights/known", json={"kind": "ship", **more}).json()["states"]

    assert "under sail with engine running" not in states(propulsion="oars")
    assert states(propulsion="oars") != states(propulsion="power")


def test_the_lamps_are_those_of_the_command(client, tmp_path):
    """The page, the plan that it begins, and `rushlight lights --into` hold the same lamps with the same rules."""
    shown = client.post("/api/lights", json=SHIP).json()
    assert "Never use it to equip" in shown["statements"][0]
    begun = client.post("/api/plans", json={**ANSWERS, "lights": SHIP})
    plan = client.get(f"/api/plans/{begun.json()['id']}").json()["plan"]
    assert [row["name"] for row in plan["lamps"]] == [row["name"] for row in shown["lamps"]]
    assert all(row["part"] is None and row["evidence"][0]["kind"] == "rule" for row in plan["lamps"])
    assert [(row["name"], row["rule"]) for row in plan["states"]] == [("towing", "towing"), ("at anchor", "at anchor")]
    assert (plan["subject"]["length_m"], plan["subject"]["propulsion"], plan["subject"]["kind"]) == (32, "power", "ship")
    (tmp_path / "plan.yaml").write_text(
        'rushlight: 1\nsubject: {title: t, scale: "1:96"}\nstates: [{name: towing}, {name: at anchor}]\n'
        "parts: [{name: hull, outline_mm: [[0, 0], [9, 0], [9, 9]]}]\nsupply: {kind: cells}\n", encoding="utf-8")
    words = ["lights", "ship", "--length", "32", "--tow", "250", "--state", "towing", "--state", "at anchor", "--into"]
    assert main([*words, str(tmp_path)]) == 0
    by_command = client.post("/api/open", json={"folder": str(tmp_path)}).json()["id"]
    assert client.get(f"/api/plans/{by_command}").json()["plan"]["lamps"] == plan["lamps"]


@pytest.mark.parametrize("kind", ["aircraft", "road", "rail", "obstruction", "sea mark"])
def test_a_plan_begins_for_every_kind(client, kind):
    first = client.post("/api/lights/known", json={"kind": kind}).json()["states"][1]
    lights = {"kind": kind, "states": [first], "height_m": 60}
    begun = client.post("/api/plans", json={**ANSWERS, "lights": lights})
    assert begun.status_code == 201, begun.text
    body = client.get(f"/api/plans/{begun.json()['id']}").json()
    assert [row["name"] for row in body["plan"]["lamps"]] == [row["name"] for row in client.post("/api/lights", json=lights).json()["lamps"]]


@pytest.mark.parametrize(("change", "status", "says"), [
    ({"states": []}, 422, "states"), ({"states": "towing"}, 422, "states"), ({"states": ["towed"]}, 404, "towing"),
    ({"length_m": "long"}, 422, "number above 0"), ({"length_m": -1}, 422, "number above 0"), ({"kind": "spoon"}, 404, "spoon"),
    ({"tow_length_m": ""}, 422, "tow_length_m"), ({"propulsion": "steam"}, 404, "steam"), ({"states": ["towing"] * 40}, 422, "states"),
])
def test_what_the_rules_cannot_answer_is_said(client, change, status, says):
    asked = {**SHIP, **change}
    assert says in error_of(client.post("/api/lights", json=asked), status)
    assert says in error_of(client.post("/api/plans", json={**ANSWERS, "lights": asked}), status)
    assert not list(client.desk.plans_home.glob("*/plan.yaml"))


@pytest.mark.parametrize("shape", ["{}", "'{}'", ' "{}" ', "{}/plan.yaml", "file://{}"])
def test_a_folder_that_is_typed(client, folder, shape):
    assert client.post("/api/open", json={"folder": shape.format(folder)}).json() == {"id": client.plan}


@pytest.mark.parametrize("text", ["", "boat", "../boat", "/", "/no/such/folder", "/etc/passwd", "x" * 9000, "/a\0b", "~nobody-at-all/x"])
def test_a_folder_without_a_plan_is_refused_and_nothing_told_of_it(client, text):
    says = error_of(client.post("/api/open", json={"folder": text}), 422)
    assert "plan" in says or "path" in says
    assert "root:" not in says


def test_a_typed_plan_with_problems_names_them(client, folder):
    copy = shutil.copytree(folder, folder.with_name("other"))
    (copy / "plan.yaml").write_text("rushlight: 1\n", encoding="utf-8")
    answer = client.post("/api/open", json={"folder": str(copy)})
    assert answer.status_code == 422
    assert answer.json()["error"]["problems"]


def test_recent_plans_say_what_is_missing_and_are_forgotten(client, folder):
    def recent():
        return client.get("/api/start").json()["recent"]

    assert [row["missing"] for row in recent()] == [""]
    (folder / "plan.yaml").rename(folder / "kept.yaml")
    assert "no plan.yaml" in recent()[0]["missing"]
    folder.rename(folder.with_name("moved"))
    assert "not there any more" in recent()[0]["missing"]
    assert client.post("/api/recent/forget", json={"folder": str(folder)}).json()["recent"] == []
    assert recent() == []
    assert (folder.with_name("moved") / "kept.yaml").exists()
    assert json.loads((folder.parent / "config" / "recent.json").read_text()) == []


def test_every_route_is_tried_here_or_with_the_api():
    from pathlib import Path

    here = Path(__file__)
    text = here.read_text(encoding="utf-8") + here.with_name("test_api.py").read_text(encoding="utf-8")
    assert all(route.path in text for route in ROUTES)
