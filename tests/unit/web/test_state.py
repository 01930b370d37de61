"""What the screens show, told whole and as what changed."""

from __future__ import annotations

import random
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

import rushlight
from rushlight.model.change import Change
from rushlight.web.state import MOST_HELD, Looks, pieces, shown_json
from rushlight.working_plan import do_again, first_look, make_changes, start_work, take_back

DEMOS = Path(rushlight.__file__).parent / "demos"


@pytest.mark.parametrize(("old", "now", "told"), [
    ("abc", "abc", [[0, 3]]), ("abc", "abXc", [[0, 2], "X!", [2, 3]]), ("abc", "ac", [[0, 1], [2, 3]]),
    ("abc", "cab", [[2, 3], [0, 2]]), ("", "X", ["X!"]), ("abc", "", []),
])
def test_a_list_is_told_by_the_old_one(old, now, told):
    assert pieces(now, old, lambda item: f"{item}!", mark=str) == told


def merged(held, told):
    """As the page does it."""
    now = dict(held)
    for key, value in told.items():
        if isinstance(value, list) and key != "circuits":
            now[key] = [item for piece in value for item in (held[key][slice(*piece)] if isinstance(piece, list) else [piece])]
        else:
            now[key] = value
    return now


def random_edit(working, chance):
    """An edit as the screens make it, or one taken back."""
    plan = working.plan
    if working.steps.undo and chance.random() < 0.2:
        return take_back(working)
    if working.steps.redo and chance.random() < 0.5:
        return do_again(working)
    lamp = chance.choice([lamp for lamp in plan.lamps if lamp.at_mm])
    row = chance.choice(plan.rows) if plan.rows else None
    edits = [
        Change("set", "lamps", lamp.name, {"at_mm": [lamp.at_mm[0] + chance.choice([0.01, 0.02]), lamp.at_mm[1]]}),
        Change("set", "lamps", lamp.name, {"states": [chance.choice(plan.states).name]}),
        Change("set", "lamps", lamp.name, {"size_mm": None, "model_mm": chance.choice([0.4, 1.1, 4.0])}),
        Change("add", "lamps", f"new {chance.random()}", {"colour": "red", "states": [plan.states[0].name]}),
        Change("set", "subject", "", {"viewing_distance_mm": chance.uniform(300, 900)}),
        Change("set", "plan", "", {"version": chance.choice([None, *(row.name for row in plan.versions)])}),
        *([Change("set", "rows", row.name, {"pitch_mm": None, "count": chance.randint(2, 9)})] if row else []),
    ]
    return make_changes(working, [chance.choice(edits)], seen=working.revision, what="edited")


@pytest.mark.parametrize("demo", ["tug", "lighthouse"])
def test_what_changed_gives_the_whole_and_the_look_is_the_one_worked_out_anew(demo, tmp_path):
    shutil.copytree(DEMOS / demo, tmp_path / "plan")
    working, chance, looks = start_work(tmp_path / "plan"), random.Random(3), Looks({})
    look = first_look(working)
    held = shown_json(look, None)
    for _ in range(25):
        working = random_edit(working, chance)
        before, look = look, first_look(working, look)
        looks.add(working.revision, look)
        assert replace(look) == first_look(working)
        told = shown_json(look, before)
        held = {name: merged(held[name], told[f"{name}_now"]) for name in held}
        assert held == shown_json(first_look(working), None)
    assert looks.newest is look
    assert len(looks.held) <= MOST_HELD


def test_a_moved_lamp_is_told_alone(tmp_path):
    shutil.copytree(DEMOS / "tug", tmp_path / "plan")
    working = start_work(tmp_path / "plan")
    look, lamp = first_look(working), working.plan.lamps[0]
    moved = make_changes(working, [Change("set", "lamps", lamp.name, {"at_mm": [lamp.at_mm[0] + 0.5, lamp.at_mm[1]]})],
                         seen=working.revision, what="moved")
    told = shown_json(first_look(moved, look), look)
    assert list(told["plan_now"]) == ["lamps"]
    assert [item["name"] for item in told["plan_now"]["lamps"] if isinstance(item, dict)] == [lamp.name]
    assert [item["name"] for item in told["look_now"]["lamps"] if isinstance(item, dict)] == [lamp.name]
    assert "circuits" not in told["look_now"]


def test_the_api_tells_what_changed_to_a_page_that_holds_the_plan(client):
    path = f"/api/plans/{client.plan}"
    whole = client.get(path).json()
    change = {"action": "set", "kind": "lamps", "name": whole["plan"]["lamps"][0]["name"], "values": {"note": "seen"}}
    body = {"revision": whole["revision"], "holds": whole["revision"], "what": "noted", "changes": [change]}
    told = client.post(f"{path}/changes", json=body).json()
    assert told["since"] == whole["revision"]
    assert "plan" not in told
    assert merged(whole["plan"], told["plan_now"]) == client.get(path).json()["plan"]
    back = client.post(f"{path}/undo?holds={told['revision']}").json()
    assert merged(client.get(path).json()["plan"], {}) == whole["plan"]
    assert back["since"] == told["revision"]
    assert "since" not in client.get(f"{path}?holds=unknown").json()
