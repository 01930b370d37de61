"""The app in a real browser: start to interactive, frames while panning, drag to first fresh answer, weight, memory.

Run: python benchmarks/bench_app.py [--full]. Each size has a server and a browser of its own; other work on the machine
slows every number. Needs chromium and Playwright; without them there are no rows.
"""

from __future__ import annotations

import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
QUICK, FULL = (100,), (100, 2000)
FLAGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
DRAGS, PATIENCE_MS = 7, 180_000

AIMS = {
    "program starts to page usable [s]": {100: 0.8, 2000: 1.5}, "frames a second while panning": {2000: 60},
    "drag end to first fresh answer [ms]": {100: 50, 2000: 150},
    "page over the wire, without pictures [kB]": {100: 250},
}

PANNED = """async () => {
  const { sheet } = rushlight, times = [];
  const step = time => new Promise(done => requestAnimationFrame(done));
  let last = await step();
  for (let n = 0; n < 120; n += 1) {
    sheet.view = { ...sheet.view, x: sheet.view.x + (n % 40 < 20 ? 2 : -2) };
    sheet.moved();
    const now = await step();
    times.push(now - last);
    last = now;
  }
  return times;
}"""

LOOKED_AT = """name => {
  const lamp = rushlight.desk.state.plan.lamps.find(row => row.name === name);
  rushlight.sheet.lookAt(lamp.part, lamp.at_mm);
  return [lamp.part, lamp.at_mm];
}"""

WATCH = """() => {
  window.told = [];
  window.addEventListener('pointerup', () => {
    window.told.push({ up: performance.now(), revision: rushlight.desk.state.revision });
  }, true);
  rushlight.desk.listeners.add(state => {
    const last = window.told[window.told.length - 1];
    if (last && !last.fresh && state.revision !== last.revision) last.fresh = performance.now();
  });
}"""


def run(full: bool) -> list[dict[str, object]]:
    """One row a quantity and size, with its aim where there is one and its ratio to the smallest size."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        return []
    if chromium is None:
        return []
    rows: list[dict[str, object]] = []
    first: dict[str, float] = {}
    with sync_playwright() as play:
        for lamps in FULL if full else QUICK:
            with tempfile.TemporaryDirectory() as home:
                measured = one(play, chromium, lamps, Path(home))
            for what, value in measured.items():
                ratio = value / first.setdefault(what, value) if value else None
                aim = AIMS.get(what, {}).get(lamps)
                rows.append({"what": what, "lamps": lamps, "measured": round(value, 2), "aim": aim,
                             "ratio": ratio and round(ratio, 2)})
    return rows


def one(play: Any, chromium: str, lamps: int, home: Path) -> dict[str, float]:
    """Every quantity at one size."""
    sys.path.insert(0, str(HERE.parent / "tests"))
    from large_plan import large_plan

    plan = home / "plan"
    plan.mkdir()
    (plan / "plan.yaml").write_text(large_plan(lamps), encoding="utf-8")
    browser = play.chromium.launch(executable_path=chromium, args=FLAGS)
    page = browser.new_page(viewport={"width": 1280, "height": 820})
    page.set_default_timeout(PATIENCE_MS)
    weighed = weigh(page)
    began = time.perf_counter()
    process, address = started(home, plan)
    try:
        listens = time.perf_counter() - began
        page.goto(address)
        page.wait_for_selector("html[data-ready]")
        usable = time.perf_counter() - began
        bytes_now = dict(weighed)
        page.wait_for_selector("html[data-fresh=yes]")
        worked_out = time.perf_counter() - began
        frames = page.evaluate(PANNED)
        return {
            "program starts to page usable [s]": usable, "program starts to listening [s]": listens,
            "program starts to whole design [s]": worked_out,
            "frames a second while panning": 1000 / statistics.mean(frames),
            "drag end to first fresh answer [ms]": drags(page),
            "page over the wire, without pictures [kB]": sum(bytes_now.values()) / 1000,
            "of it the plan itself [kB]": bytes_now.get("json", 0) / 1000,
            "of it fonts [kB]": bytes_now.get("font", 0) / 1000,
            "server's memory [MB]": memory_mb(process.pid),
        }
    finally:
        process.kill()
        process.wait()
        browser.close()


def started(home: Path, plan: Path) -> tuple[subprocess.Popen[str], str]:
    """The program on a plan, and its page."""
    own = {**os.environ, "XDG_CONFIG_HOME": str(home / "config"), "APPDATA": str(home / "config")}
    command = [sys.executable, "-m", "rushlight.cli", "open", "--no-browser", "--plans", str(home / "plans"), str(plan)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, env=own, text=True)
    assert process.stdout
    found = re.search(r"http://\S+", process.stdout.readline())
    assert found, "the server did not start"
    return process, found.group()


def weigh(page: Any) -> dict[str, int]:
    """Bytes over the wire by kind of file, counted while the page loads; pictures are left out."""
    kinds: dict[str, str] = {}
    weights: dict[str, int] = {}
    line = page.context.new_cdp_session(page)
    line.send("Network.enable")
    line.on("Network.responseReceived", lambda told: kinds.__setitem__(told["requestId"], kind_of(told["response"])))

    def loaded(told: dict[str, Any]) -> None:
        kind = kinds.get(told["requestId"], "other")
        if kind != "picture":
            weights[kind] = weights.get(kind, 0) + int(told["encodedDataLength"])

    line.on("Network.loadingFinished", loaded)
    return weights


def kind_of(response: dict[str, Any]) -> str:
    """Kind of a file by its media type."""
    mime = response["mimeType"]
    for word, kind in (("json", "json"), ("font", "font"), ("image/jpeg", "picture"), ("image/png", "picture")):
        if word in mime:
            return kind
    return "page"


def drags(page: Any) -> float:
    """Median from letting a lamp go until the plan with it has come back [ms]."""
    page.evaluate(WATCH)
    name = page.evaluate("rushlight.desk.state.plan.lamps[0].name")
    for number in range(DRAGS):
        part, at = page.evaluate(LOOKED_AT, name)
        x, y = page.evaluate("([part, at]) => rushlight.sheet.screenOf(part, at)", [part, at])
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 6, y + 2, steps=2)
        page.mouse.move(x + (12 if number % 2 else -12), y, steps=2)
        page.mouse.up()
        page.wait_for_function("number => window.told.length > number && window.told[number].fresh", arg=number)
    waits = page.evaluate("window.told.map(row => row.fresh - row.up)")
    return float(statistics.median(waits))


def memory_mb(pid: int) -> float:
    """What the server and its processes hold [MB]; 0 where the system does not tell."""
    total = 0.0
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            status = (entry / "status").read_text()
            parent = int(re.search(r"PPid:\s+(\d+)", status).group(1))  # type: ignore[union-attr]
            if pid in (int(entry.name), parent):
                total += int(re.search(r"VmRSS:\s+(\d+)", status).group(1)) / 1024  # type: ignore[union-attr]
        except (OSError, AttributeError):
            continue
    return total


if __name__ == "__main__":
    for row in run("--full" in sys.argv):
        print("  ".join(f"{value!s:>12}" for value in row.values()))
