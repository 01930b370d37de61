"""The app in a real browser: one server and one browser for all tests; any error, foreign request or server error fails."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
CI = bool(os.environ.get("CI"))
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]
PATIENCE_MS = 120_000
NEXT_ROOM = "127.0.0.2"
"""Stands for this computer's address in a local network."""

START = f"""import sys
import rushlight.web.lan as lan
lan.private_addresses = lambda: ("{NEXT_ROOM}",)
from rushlight.cli import main
sys.exit(main(sys.argv[1:]))
"""

AXE = Path(__file__).parent / "vendor" / "axe.min.js"
"""The accessibility checker, vendored for the tests alone."""

PLAN = """rushlight: 1
# kept: this comment stays when the app edits the plan
subject: {title: Pilot cutter <i>Wren</i>, scale: 1:72, kind: ship, length_m: 14, invented: yes}
states: [{name: under way, rule: Under way}, {name: moored}]
parts:
  - {name: hull, outline_mm: [[0, 0], [190, 0], [200, 40], [0, 40]], relief: {flat: yes}}
  - {name: lid, outline_mm: [[0, 0], [50, 0], [50, 20], [0, 20]], relief: {flat: yes}}
crossings:
  - {name: seam, kind: fixed, ends: [{part: hull, at_mm: [100, 30]}, {part: lid, at_mm: [5, 10]}]}
supply: {kind: cells}
lamps:
  - {name: stern, part: hull, at_mm: [20, 25], colour: white, states: under way, size_mm: 120}
  - {name: beacon, part: lid, at_mm: [40, 10], colour: red, states: [under way, moored], rhythm: Fl(2) R 10s, size_mm: 120}
rows:
  - {name: ports, part: hull, along_mm: [[40, 25], [120, 25]], count: 5, colour: warm white, states: moored, size_mm: 80}
"""


FAILED = pytest.StashKey[bool]()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: Any) -> Any:
    """Keeps on a test that it failed, for what tidies up after it."""
    report = yield
    if report.when == "call":
        item.stash[FAILED] = report.failed
    return report


@dataclass
class Server:
    """The program itself, in a process of its own."""

    process: subprocess.Popen[str]
    address: str
    plans: Path
    log: Path
    page: str = ""


def _server(home: Path, plan: Path | None = None, port: int = 0) -> Server:
    """The program on a free port; it says its address once it listens."""
    log = home / "server.log"
    command = [sys.executable, "-c", START, "open", "--no-browser", "--plans", str(home / "plans"), "--port", str(port)]
    command += [str(plan)] if plan else []
    own = {**os.environ, "XDG_CONFIG_HOME": str(home / "config"), "APPDATA": str(home / "config")}
    with log.open("w") as trouble:
        process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=trouble, env=own, text=True)
    assert process.stdout
    said = process.stdout.readline()
    found = re.search(r"http://127\.0\.0\.1:\d+", said)
    if not found:
        process.kill()
        raise AssertionError(f"the server did not start: {log.read_text()}")
    return Server(process, found.group(), home / "plans", log, said.split("open at ")[1].split()[0])


@pytest.fixture(scope="session")
def server(tmp_path_factory) -> Iterator[Server]:
    made = _server(tmp_path_factory.mktemp("app"))
    try:
        yield made
    finally:
        made.process.terminate()
        made.process.wait(60)
        made.process.stdout.close()
    told = made.log.read_text().partition("ERROR:    Cancel ")[0]  # what was still being worked out as the server was stopped
    assert "Traceback" not in told, told


@pytest.fixture
def another(tmp_path) -> Iterator[Any]:
    """Starts a further server, on a plan; its page."""
    started: list[Server] = []

    def start(plan: Path, port: int = 0) -> str:
        home = tmp_path / f"another {len(started)}"
        home.mkdir()
        started.append(_server(home, plan, port))
        return started[-1].page

    yield start
    for made in started:
        made.process.kill()
        made.process.wait(60)
        made.process.stdout.close()


@pytest.fixture
def own_server(tmp_path) -> Iterator[Any]:
    """Starts the program with a home of this test's own; again, it finds what it left there."""
    home = tmp_path / "own home"
    home.mkdir()
    started: list[Server] = []

    def start(port: int = 0) -> Server:
        started.append(_server(home, None, port))
        return started[-1]

    yield start
    for made in started:
        made.process.kill()
        made.process.wait(60)
        made.process.stdout.close()


@pytest.fixture
def window_on(browser) -> Iterator[Any]:
    """Opens the start page of a server; nothing may go wrong in it."""
    opened: list[Window] = []

    def open_on(server: Server) -> Window:
        page = browser.new_page(viewport={"width": 1280, "height": 820})
        page.set_default_timeout(PATIENCE_MS)
        made = Window(page, server.address)
        page.on("pageerror", lambda error: made.wrong.append(str(error)))
        page.goto(server.address)
        opened.append(made)
        return made

    yield open_on
    for made in opened:
        made.page.close()
    assert [text for made in opened for text in made.wrong] == []


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    if CHROMIUM is None and not CI:
        pytest.skip("chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS, headless=True)
        yield opened
        opened.close()


@dataclass
class Window:
    """One page with what went wrong in it."""

    page: Any
    address: str
    wrong: list[str] = field(default_factory=list)

    def unfold(self) -> None:
        """Opens all sheets of the leaf that is open, where it has several."""
        if self.page.locator("details.topic").count():
            self.page.locator(".contents > summary").click()
            self.page.get_by_role("button", name="Open all").click()
            self.page.locator(".contents > summary").click()

    def fresh(self) -> None:
        """Wait until everything shown belongs to the plan as it stands."""
        self.page.wait_for_selector("html[data-fresh=yes], html[data-fresh=failed]", timeout=PATIENCE_MS)
        assert self.page.locator("html").get_attribute("data-fresh") == "yes", self.page.locator(".standing").inner_text()

    def at(self, part: str, place: list[float]) -> tuple[float, float]:
        """Where a place of a part is on the screen."""
        x, y = self.page.evaluate("([part, place]) => rushlight.sheet.screenOf(part, place)", [part, place])
        return x, y

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Press, move, let go."""
        mouse = self.page.mouse
        mouse.move(*start)
        mouse.down()
        mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=3)
        mouse.move(*end, steps=3)
        mouse.up()


@pytest.fixture
def window(server, browser, request, tmp_path) -> Iterator[Any]:
    """Opens pages; of a test that failed a picture of each is kept, and nothing may have gone wrong in any."""
    opened: list[Window] = []
    contexts = []

    def open_at(path: str, width: int = 1280, height: int = 820, address: str = server.address, **more: Any) -> Window:
        context = browser.new_context(viewport={"width": width, "height": height}, **more)
        context.set_default_timeout(PATIENCE_MS)
        made = Window(context.new_page(), address)
        made.page.on("console", lambda message: made.wrong.append(message.text) if message.type in ("error", "warning") else None)
        made.page.on("pageerror", lambda error: made.wrong.append(str(error)))
        made.page.on("request", lambda asked: None if _own(asked.url, address) else made.wrong.append(asked.url))
        made.page.goto(address + path)
        opened.append(made)
        contexts.append(context)
        return made

    yield open_at
    name = re.sub(r"\W+", "-", request.node.name)
    if request.node.stash.get(FAILED, False) or any(made.wrong for made in opened):
        for number, made in enumerate(opened):
            made.page.screenshot(path=str(tmp_path / f"{name}-{number}.png"))
    for context in contexts:
        context.close()
    assert server.process.poll() is None, server.log.read_text()
    assert [text for made in opened for text in made.wrong] == []


def _own(url: str, address: str) -> bool:
    return url.startswith((address, "data:", "blob:"))


@pytest.fixture(scope="session")
def axe() -> Any:
    """The accessibility checker: `assert axe(window) == []` for what the window shows now; `where` is said beside."""
    return _axe


def _axe(window: Window, where: str = "") -> list[str]:
    """Every rule of WCAG 2.2 A and AA and the checker's own best practices; an entry names rule, element and why."""
    page = window.page
    if not page.evaluate("Boolean(window.axe)"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'], iframes: false }).then(done => done.violations)")
    return [f"{where} {rule['id']}: {' '.join(map(str, node['target']))}: {node['failureSummary']}".strip()
            for rule in found for node in rule["nodes"]]


@pytest.fixture
def plan(server, tmp_path) -> Path:
    """A small plan that the server has in its list of recent ones."""
    import json

    folder = tmp_path / "wren"
    folder.mkdir()
    (folder / "plan.yaml").write_text(PLAN, encoding="utf-8")
    recent = server.log.parent / "config" / "rushlight" / "recent.json"
    recent.parent.mkdir(parents=True, exist_ok=True)
    rows = json.loads(recent.read_text()) if recent.exists() else []
    recent.write_text(json.dumps([{"folder": str(folder), "title": "Pilot cutter"}, *rows]))
    return folder


@pytest.fixture
def address(plan) -> str:
    """The plan's page."""
    return f"/plan/{hashlib.sha256(str(plan.resolve()).encode()).hexdigest()[:12]}"
