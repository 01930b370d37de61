"""Every benchmark in full; writes docs/benchmarks.md and docs/measured/*.csv. `python3 start.py prove` calls it.

Run alone: python benchmarks/prove.py [--quick] [--only NAME ...]; --quick prints and writes nothing, --only measures
some anew and leaves the others' rows as they are, each with the day and revision of its own.
"""

from __future__ import annotations

import csv
import datetime
import os
import platform
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
DOCS = HERE.parent / "docs"
sys.path.insert(0, str(HERE))

import bench_app  # noqa: E402
import bench_circles  # noqa: E402
import bench_evening  # noqa: E402
import bench_faults  # noqa: E402
import bench_frozen  # noqa: E402
import bench_light  # noqa: E402
import bench_network  # noqa: E402
import bench_routes  # noqa: E402
import bench_scale  # noqa: E402
import bench_sheets  # noqa: E402
import bench_strings  # noqa: E402
import bench_supplies  # noqa: E402
import bench_switch  # noqa: E402

PACKAGES = ("numpy", "scipy", "shapely", "typst", "pyyaml")

BENCHES = (
    ("scale", bench_scale, "Plans of many sizes",
     "Opening, designing, checking and the book, each size in a process of its own. `cpu_s` is processor time after "
     "imports, `grown` how often as much as the size before took, `peak_mb` the most memory held so far. The made-up "
     "plan (`tests/large_plan.py`) has a part for each 100 lamps: 70 on fibre, 20 single LEDs, 10 openings lit by a "
     "strip. Aims, on an idle core: the demo designed and checked in under 2 s, its book in under 5 s, 2,000 lamps "
     "designed in under 20 s."),
    ("sheets", bench_sheets, "The sheets of a large plan",
     "Processor seconds of each sheet of the made-up plan's book by its number of lamps, caches empty before. `power` "
     "is that of the lamps with which it grew between the two largest sizes: 1 is in step with them, 2 is each lamp "
     "with each other. Aim: no sheet over 1.5. Steps under 0.1 s are left out."),
    ("routes", bench_routes, "Routes, trees and tails",
     "Times of one run; `ratio` is to the first size of the same task."),
    ("circles", bench_circles, "Bundles in section",
     "Gap to the published best circle (mixes: to the best of far longer searches of our own), and time over a fixed "
     "numpy job (`yardsticks`). Aims for equal fibres: best known to 19 in 0.2 s, 0.001 % to 37, 0.02 % to 61, 0.1 % "
     "to 100 in 2 s, 0.2 % to 200 in 10 s; for mixes of two or three sizes up to 50 fibres 0.2 % in 2 s."),
    ("light", bench_light, "Light",
     "Processor seconds of one run. `yardstick_s` is the general way named in the task, `ratio` how often as long it "
     "took."),
    ("network", bench_network, "The DC network",
     "Against the ngspice process on the same looms, where it is installed, in turn: ours, ngspice, ours, ngspice, so "
     "that other work on the machine falls on both. Times are medians; `ngspice_over_ours` is how often as long "
     "ngspice took, its start included, the median over 15 turns; half of the turns lie within `half_of_them`. "
     "`peak_mb` is the most memory that set-up and solve hold at once, `grown` how often as long they take as at the "
     "size before. Aims: 2,000 LEDs in 50 ms and 20 times; never slower at 100 to 500; 100 LEDs in 45 columns in "
     "15 ms."),
    ("strings", bench_strings, "LEDs in series",
     "Rows of like LEDs on eight cells: the stage that lays and solves a loom for each length of string, beside the "
     "stage that lays the loom of single LEDs, in one run of the same design (processor time, medians of 5). "
     "`strings_over_loom` is how often as long it took, `for_each_length` that for each length that was weighed."),
    ("supplies", bench_supplies, "Another supply",
     "One other supply worked out beside a whole design of the edited plan from nothing, in turn in one run. "
     "`design_over_candidate` is how often as long the whole design took, the median over the turns; half of the turns "
     "lie within `half_of_them`; `same` says whether both have the same currents. Nothing of it runs in a normal "
     "design."),
    ("switch", bench_switch, "The switch",
     "Every way in which up to six circuits may be lit in two to four states (673 classes): all switches of all "
     "families found, each proved by a solve in every position (`wrong`: plans that light a wrong lamp). `ngspice_s` "
     "is a process for each plan, reckoned from 12 of them. Aim: found and proved in under 10 s together."),
    ("faults", bench_faults, "All faults at once",
     "Readings of 1,500 faults in 5 states; `one_by_one_s` is our own solve of one faulty network after the other, "
     "`ngspice_s` the ngspice process on each, both reckoned from 12 of them. Aim: 200 LEDs in 1 s."),
    ("evening", bench_evening, "The evening",
     "Cells and walls along their curves beside SciPy's general solver on the same equation (`apart`: share of the "
     "charge, kelvin), and the power stage of the demo beside the same without an evening."),
    ("app", bench_app, "The app in a browser",
     "A browser of its own for each size, open before the clock starts, and a server for each start, on the clock, so "
     "that other work on the machine counts; `ratio` is to the smallest size. Of five starts the middle one is told; "
     "the very first, in which Python compiles the program, is not counted. A drag ends when the plan with the moved "
     "lamp, its hole and its circuit has come back; the slow stages follow. The plan is the made-up one, without "
     "pictures."),
    ("frozen", bench_frozen, "The self-contained folder",
     "Made by `python3 start.py freeze`; started with the network off and no other Python in sight, a demo opened, its "
     "design and its book asked for. Seconds since the start."),
)


def main() -> int:
    """Run all, or those that are named; write the page and the tables."""
    if {"-h", "--help"} & set(sys.argv):
        print(__doc__)
        return 0
    quick, only = "--quick" in sys.argv, _only(sys.argv)
    made = {}
    for name, bench, title, words in BENCHES:
        if only and name not in only:
            continue
        print(f"benchmark: {title} ...", flush=True)
        rows = bench.run(not quick)
        when = f"Measured {_when()}.\n\n" if only else ""
        made[title] = f"## {title}\n\n{words}\n\n{when}{table(rows)}"
        if not quick:
            _write_csv(DOCS / "measured" / f"{name}.csv", rows)
    page = DOCS / "benchmarks.md"
    text = renewed(page.read_text(encoding="utf-8"), made) if only else "\n".join([_head(), *made.values()])
    if quick:
        print("\n".join(made.values()) if only else text)
    else:
        page.write_text(text, encoding="utf-8", newline="\n")
        print(f"written: {page}")
    return 0


def _only(arguments: list[str]) -> set[str]:
    """The benchmarks that are named; none: all of them."""
    named = set(arguments[arguments.index("--only") + 1:]) - {"--quick"} if "--only" in arguments else set()
    unknown = named - {name for name, *_ in BENCHES}
    if unknown:
        known = ", ".join(name for name, *_ in BENCHES)
        raise SystemExit(f"not a benchmark: {', '.join(sorted(unknown))}; known: {known}")
    return named


def renewed(page: str, made: dict[str, str]) -> str:
    """A page with some sections measured anew, in the order of the benchmarks; what is new is put where it belongs."""
    head, *sections = page.split("\n## ")
    held = {section.split("\n", 1)[0]: f"## {section.rstrip()}\n" for section in sections}
    held.update(made)
    known = [title for _, _, title, _ in BENCHES if title in held]
    return "\n".join([f"{head.rstrip()}\n", *(held[title] for title in known)])


def _head() -> str:
    packages = ", ".join(f"{name} {version(name)}" for name in PACKAGES)
    return (
        "# Benchmarks\n\n"
        "Made by `python3 start.py prove`; do not edit. Numbers are of one machine on one day: compare them with each "
        "other, not with another machine's. Aims are stated beside the numbers and asserted nowhere.\n\n"
        f"- machine: {platform.machine()}, {os.cpu_count()} cores{_cpu()}, {platform.system()}\n"
        f"- date: {_when()}\n"
        f"- Python {platform.python_version()}, {packages}\n"
        f"- load when it started: {_load()}\n"
    )


def _when() -> str:
    return f"{datetime.date.today().isoformat()}{_revision()}"


def _cpu() -> str:
    """The processor's name, where the system tells it."""
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return f" ({platform.processor()})" if platform.processor() else ""
    names = [line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")]
    return f" ({names[0]})" if names else ""


def _revision() -> str:
    command = ["git", "rev-parse", "--short", "HEAD"]
    asked = subprocess.run(command, cwd=HERE, capture_output=True, text=True, check=False)
    return f", revision {asked.stdout.strip()}" if asked.returncode == 0 else ""


def _load() -> str:
    """Other work on the machine slows every number down, so it is told."""
    return f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "not known"


def table(rows: list[dict[str, object]]) -> str:
    """Rows as a Markdown table; columns that no row fills are left out."""
    if not rows:
        return "Not measured here: what it needs is not there.\n"
    names = list(dict.fromkeys(name for row in rows for name in row))
    filled = [name for name in names if any(row.get(name) is not None for row in rows)]
    lines = ["| " + " | ".join(filled) + " |", "|" + " --- |" * len(filled)]
    lines += ["| " + " | ".join(_cell(row.get(name)) for name in filled) + " |" for row in rows]
    return "\n".join(lines) + "\n"


def _cell(value: object) -> str:
    return "" if value is None else str(value).replace("|", "/").replace("\n", " ")


def _write_csv(path: Path, rows: list[dict[str, object]]) -> None:
    if not rows:
        return
    path.parent.mkdir(exist_ok=True)
    names = list(dict.fromkeys(name for row in rows for name in row))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, names, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    sys.exit(main())
