"""The server killed at random instants while it saves edits; afterwards all that it acknowledged must be there."""

from __future__ import annotations

import http.client
import json
import os
import random
import re
import subprocess
import sys
import threading
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rushlight.files import history
from rushlight.files._paths import checksum
from rushlight.working_plan import do_again, start_work, take_back

TEXT = """rushlight: 1
# kept: this comment outlives every edit
subject: {title: A boat, scale: 1:72, invented: yes}
states: [{name: moving}, {name: moored}]
parts: [{name: hull, outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]}]
supply: {kind: cells}
lamps:
  - {name: stern, colour: white, states: moving, part: hull, at_mm: [80, 20]}
  - {name: bow, colour: red, states: [moving, moored], part: hull, at_mm: [90, 30], rhythm: Fl(2) R 10s}
"""

PROGRAM = ["-m", "rushlight.cli", "open", "--no-browser", "--plans", "{plans}", "{plan}"]
"""The program as it is."""

SAVING_ALONE = ["-c", """
import asyncio, pathlib, sys, uvicorn
from rushlight.web import desk, serve
desk.Desk.__init__.__kwdefaults__["design"] = False
sys.exit(serve.serve(pathlib.Path("{plan}"), browser=False, plans_home=pathlib.Path("{plans}")))
"""]
"""The same without the process that works designs out: starts faster, saves alike."""

MOST_EDITS, LONGEST_S = 6, 0.06
"""It is killed at most so long after it was asked for one of the first so many edits: in the midst of one."""


@dataclass
class Told:
    """What the server acknowledged, and the edit that it was asked for last."""

    revisions: list[str] = field(default_factory=list)
    places: list[Any] = field(default_factory=list)
    asked: Any = None
    revision: str = ""


def kill_once(folder: Path, rng: random.Random, words: list[str]) -> int:
    """Start, edit until killed, then look whether anything is lost; how many edits were acknowledged."""
    process, port, path = _started(folder, words)
    told = Told()
    try:
        _edit_until_killed(port, path, rng, told, threading.Timer(rng.uniform(0, LONGEST_S), process.kill))
    finally:
        process.kill()
        process.wait(60)
        process.stdout.close()
    _nothing_is_lost(folder, told)
    return len(told.revisions)


def _started(folder: Path, words: list[str]) -> tuple[Any, int, str]:
    places = {"plans": str(folder.parent / "plans"), "plan": str(folder)}
    command = [sys.executable, *(_filled(word, places) for word in words)]
    config = str(folder.parent / "config")
    own = {**os.environ, "XDG_CONFIG_HOME": config, "APPDATA": config}
    process = subprocess.Popen(command, stdout=subprocess.PIPE, env=own, text=True)
    found = re.search(r"http://127\.0\.0\.1:(\d+)/plan/(\w+)", process.stdout.readline())
    assert found, "the server did not start"
    return process, int(found.group(1)), f"/api/plans/{found.group(2)}"


def _filled(word: str, places: dict[str, str]) -> str:
    for name, value in places.items():
        word = word.replace("{" + name + "}", value)
    return word


def _edit_until_killed(port: int, path: str, rng: random.Random, told: Told, end: threading.Timer) -> None:
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        state = _asked(line, "GET", path)
        told.revision = state["revision"]
        last = rng.randrange(MOST_EDITS)
        for number in range(100_000):
            if number == last:
                end.start()
            told.asked = None
            action = rng.choice(("moved", "moved", "moved", "undo", "redo"))
            if action == "moved":
                told.asked = [round(rng.uniform(0, 100), 2), round(rng.uniform(0, 60), 2)]
                change = {"action": "set", "kind": "lamps", "name": "stern", "values": {"at_mm": told.asked}}
                body = {"revision": told.revision, "what": f"moved {number}", "changes": [change]}
                state = _asked(line, "POST", f"{path}/changes", body)
            else:
                state = _asked(line, "POST", f"{path}/{action}", {})
            told.revision = state["revision"]
            told.revisions.append(told.revision)
            told.places.append(_place(state))
    except (OSError, http.client.HTTPException, ValueError):
        end.join()  # killed
    finally:
        line.close()


def _place(state: dict[str, Any]) -> Any:
    return next(lamp["at_mm"] for lamp in state["plan"]["lamps"] if lamp["name"] == "stern")


def _asked(line: http.client.HTTPConnection, method: str, path: str, body: Any = None) -> dict[str, Any]:
    data = None if body is None else json.dumps(body)
    line.request(method, path, data, {} if body is None else {"Content-Type": "application/json"})
    answer = line.getresponse()
    text = answer.read()
    assert answer.status == 200, text
    read: dict[str, Any] = json.loads(text)
    return read


def _nothing_is_lost(folder: Path, told: Told) -> None:
    """Of the edit that was not acknowledged all is there or nothing; of the others, all."""
    data = (folder / "plan.yaml").read_bytes()
    working = start_work(folder)
    kept = [row.checksum for row in history.revisions(folder)]
    assert set(told.revisions) <= set(kept), "an acknowledged edit is not in the history"
    assert kept[-1] == working.revision == checksum(data)
    assert history.revision_text(folder, len(kept)).encode() == data
    assert b"# kept: this comment" in data
    if told.revision and working.revision != told.revision:
        place = list(working.plan.lamps[0].at_mm)
        assert place == told.asked if told.asked else working.revision in kept[:-1], "half of an edit is there"
    if working.steps.undo:
        back = take_back(working)
        assert back.revision != working.revision
        assert do_again(back).revision == working.revision
