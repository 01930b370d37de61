"""The app in a real browser: start to interactive, frames while panning, drag to first fresh answer, weight, memory.

Run: python benchmarks/bench_app.py [--full]. Each size has a browser of its own, which stands open before the clock
starts, and a server for each start. Python keeps what it compiled, as it does for users: the very first start, which
compiles all, is not counted. A start ends with the first frame in which the page is usable; of five the middle one is
told. Other work on the machine slows every number. Needs chromium and Playwright; without them there are no rows.
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
from collections.abc import Callable
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parent
QUICK, FULL = (100,), (100, 2000)
FLAGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"]
DRAGS, PATIENCE_MS = 7, 180_000
STARTS, SETTLED_S = 5, 1.0

AIMS = {
    "program starts to page usable [s]": {100: 0.8, 2000: 1.5}, "frames a second while panning": {2000: 60},
    "drag end to first fresh answer [ms]": {100: 50, 2000: 150},
    "page over the wire, without pictures [kB]": {100: 250},
}

IS_USABLE = "() => document.documentElement.dataset.ready === 'yes'"
IS_FRESH = "() => document.documentElement.dataset.fresh === 'yes'"
"""Looked at in each frame: the browser driver's own wait for a selector looks twice a second after a while."""

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
    try:
        starts = [start(browser, home, plan)["starts"] for _ in range(STARTS)]
        last = start(browser, home, plan, then=all_else)
    finally:
        browser.close()
    usable, listens, cpu = (statistics.median(times) for times in zip(*starts[1:], last.pop("starts"), strict=True))
    return {"program starts to page usable [s]": usable, "of it the program's processor time [s]": cpu,
            "program starts to listening [s]": listens, **last}


def start(browser: Any, home: Path, plan: Path, then: Callable[..., dict[str, Any]] | None = None) -> dict[str, Any]:
    """When the page was usable and the program listened after one start [s], and what is measured then."""
    context = browser.new_context(viewport={"width": 1280, "height": 820})
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto("about:blank")
    time.sleep(SETTLED_S)
    weighed = weigh(page)
    began = time.perf_counter()
    process, address = started(home, plan)
    try:
        listens = time.perf_counter() - began
        page.goto(address)
        page.wait_for_function(IS_USABLE)
        times = time.perf_counter() - began, listens, cpu_s(process.pid)
        page.evaluate("document.fonts.ready.then(() => true)")  # fonts belong to the page's weight
        return {"starts": times, **(then(page, process.pid, dict(weighed), began) if then else {})}
    finally:
        stop(process)
        context.close()


def all_else(page: Any, pid: int, weighed: dict[str, int], began: float) -> dict[str, Any]:
    """What is measured once the page is usable."""
    page.wait_for_function(IS_FRESH)
    worked_out = time.perf_counter() - began
    frames = page.evaluate(PANNED)
    return {
        "program starts to whole design [s]": worked_out,
        "frames a second while panning": 1000 / statistics.mean(frames),
        "drag end to first fresh answer [ms]": drags(page),
        "page over the wire, without pictures [kB]": sum(weighed.values()) / 1000,
        "of it the plan itself [kB]": weighed.get("json", 0) / 1000,
        "of it fonts [kB]": weighed.get("font", 0) / 1000,
        "server's memory [MB]": memory_mb(pid),
    }


def started(home: Path, plan: Path) -> tuple[subprocess.Popen[str], str]:
    """The program on a plan, and its page."""
    own = {**os.environ, "XDG_CONFIG_HOME": str(home / "config"), "APPDATA": str(home / "config"),
           "PYTHONPYCACHEPREFIX": str(home / "compiled")}
    own.pop("PYTHONDONTWRITEBYTECODE", None)
    command = [sys.executable, "-m", "rushlight.cli", "open", "--no-browser", "--plans", str(home / "plans"), str(plan)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, env=own, text=True)
    assert process.stdout
    found = re.search(r"http://\S+", process.stdout.readline())
    assert found, "the server did not start"
    return process, found.group()


def stop(process: subprocess.Popen[str]) -> None:
    """End the program as its user does, and wait until none of its processes is left: they would slow what follows."""
    ours = family(process.pid)
    process.terminate()
    process.wait()
    while any((_status(pid, "State") or "Z")[0] != "Z" for pid in ours):
        time.sleep(0.05)


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


def cpu_s(pid: int) -> float:
    """Processor time of a process so far [s]; 0 where the system does not tell."""
    try:
        told = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return 0.0
    return (int(told[11]) + int(told[12])) / os.sysconf("SC_CLK_TCK")


def memory_mb(pid: int) -> float:
    """What the server and its processes hold, memory that they share counted once [MB]; 0 where it is not told."""
    return sum(int((_status(one, "Pss", "smaps_rollup") or "0").split()[0]) / 1024 for one in family(pid))


def family(pid: int) -> list[int]:
    """A process and all below it; alone where the system does not tell."""
    all_of_them = [int(entry.name) for entry in Path("/proc").glob("[0-9]*")]
    parents = {one: int(_status(one, "PPid") or "0") for one in all_of_them}
    ours = [pid]
    for parent in ours:
        ours += [one for one, above in parents.items() if above == parent]
    return ours


def _status(pid: int, key: str, file: str = "status") -> str | None:
    try:
        found = re.search(rf"^{key}:\s+(.+)", Path(f"/proc/{pid}/{file}").read_text(), re.MULTILINE)
    except OSError:
        return None
    return found.group(1) if found else None


if __name__ == "__main__":
    for row in run("--full" in sys.argv):
        print("  ".join(f"{value!s:>12}" for value in row.values()))
