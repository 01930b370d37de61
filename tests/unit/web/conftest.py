"""An app on a small plan; the slow stages are off unless a test asks for them."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from rushlight.web.app import make_app
from rushlight.web.desk import Desk

BASE = "http://127.0.0.1:8000"
TEXT = """rushlight: 1
subject: {title: A boat, scale: 1:72, invented: yes}
states: [{name: moving}, {name: moored}]
parts:
  - name: hull
    outline_mm: [[0, 0], [100, 0], [100, 60], [0, 60]]
    picture: {file: hull.png, points: [{pixel: [0, 60], at_mm: [0, 0]}, {pixel: [100, 60], at_mm: [100, 0]}]}
  - {name: lid, outline_mm: [[0, 0], [50, 0], [50, 20], [0, 20]]}
references: [{name: from ahead, file: hull.png}, {name: from memory}]
supply: {kind: cells}
lamps:
  - {name: stern, colour: white, states: moving, part: hull, at_mm: [80, 20]}
  - {name: bow, colour: red, states: [moving, moored], part: hull, at_mm: [90, 30], rhythm: Fl(2) R 10s}
"""


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    """No test sees or changes the user's own list of plans."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("APPDATA", str(tmp_path / "config"))
    monkeypatch.setattr("rushlight.files.recent.own_folder", lambda: tmp_path / "config")


@pytest.fixture
def folder(tmp_path) -> Path:
    from PIL import Image

    home = tmp_path / "boat"
    (home / "pictures").mkdir(parents=True)
    Image.new("RGB", (100, 60), "white").save(home / "pictures" / "hull.png")
    (home / "plan.yaml").write_text(TEXT, encoding="utf-8")
    return home


@pytest.fixture
def desk(tmp_path) -> Desk:
    return Desk(tmp_path / "plans", design=False)


@pytest.fixture
def client(desk, folder):
    with TestClient(make_app(desk), base_url=BASE, raise_server_exceptions=False) as made:
        made.plan = made.portal.call(desk.open, folder).key
        made.desk = desk
        yield made
