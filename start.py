#!/usr/bin/env python3
"""Set rushlight up and run it: `python3 start.py`, or with open, test, prove. Standard library alone.

    python3 start.py          makes the environment, designs and checks the demo, writes its book
    python3 start.py open     makes the environment and opens the app on a copy of the demo
    python3 start.py test     makes the environment for the tests and passes them
    python3 start.py prove    runs the full counts and the benchmarks and writes what it measured into docs/
    python3 start.py freeze   makes a folder with a program to double-click, for computers without Python
"""

from __future__ import annotations

import hashlib
import os
import platform
import shutil
import subprocess
import sys
import venv
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
ENVIRONMENT = HERE / ".venv"
LEAST = (3, 11)
DEBIAN_PACKAGES = {"ngspice": "ngspice", "pdftoppm": "poppler-utils", "chromium": "chromium", "node": "nodejs"}
COPY_DEMO = "import sys, pathlib, rushlight.open_plan as o; o.copy_demo('tug', pathlib.Path(sys.argv[1]))"


def main() -> int:
    """Do what the first word asks."""
    if sys.version_info < LEAST:
        print(f"rushlight needs Python {LEAST[0]}.{LEAST[1]} or newer; this is {platform.python_version()}.")
        return 2
    jobs = {"": run_demo, "open": open_app, "test": run_tests, "prove": prove, "freeze": freeze}
    word = sys.argv[1] if len(sys.argv) > 1 else ""
    if word not in jobs:
        print(f"start.py does not know '{word}'. It knows: nothing (the demo), open, test, prove, freeze.")
        return 2
    return jobs[word]()


def run_demo() -> int:
    """The main job on the demo."""
    python = environment("requirements.lock")
    status = call(python, "-m", "rushlight.cli", "demo", "tug", str(HERE / "out" / "tug"))
    if status == 0:
        print("\nTo see it in the app: python3 start.py open")
    return status


def open_app() -> int:
    """The app on a copy of the demo; the same copy next time."""
    python = environment("requirements.lock")
    copy = HERE / "out" / "tug"
    if not (copy / "plan.yaml").exists():
        must(python, "-c", COPY_DEMO, str(copy))
    return call(python, "-m", "rushlight.cli", "open", str(copy), "--plans", str(HERE / "out" / "plans"), *sys.argv[2:])


def run_tests() -> int:
    """All tests, after all that they need."""
    with ThreadPoolExecutor(1) as beside:  # two downloads that do not wait for each other
        tools = beside.submit(debian_tools)
        python = environment("requirements.lock", "requirements-test.lock")
        missing = tools.result()
    if missing and os.environ.get("CI"):
        print(f"missing under CI: {', '.join(missing)}")
        return 1
    return call(python, "-m", "pytest", "-n", "auto", *sys.argv[2:])


def prove() -> int:
    """Full counts and benchmarks."""
    python = environment("requirements.lock", "requirements-test.lock")
    debian_tools()
    tests = call(python, "-m", "pytest", "-n", "auto", "-m", "slow or not slow")
    return tests or freeze() or call(python, str(HERE / "benchmarks" / "prove.py"))


def freeze() -> int:
    """The self-contained folder, made in an environment of its own; on Linux proved with the network off."""
    python = environment("requirements.lock", "requirements-freeze.lock", folder=HERE / ".venv-freeze")
    made = call(python, str(HERE / "tools" / "freeze.py"), str(HERE / "out" / "frozen"))
    if made or sys.platform != "linux":
        return made
    return call(python, str(HERE / "tools" / "prove_frozen.py"), str(HERE / "out" / "frozen" / "rushlight"))


# --- the environment ----------------------------------------------------------------------------------------------


def environment(*locks: str, folder: Path = ENVIRONMENT) -> Path:
    """The environment's Python, with everything of the lock files in it; quick when nothing changed."""
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    stamp = folder / "rushlight-locks.txt"
    texts = [(HERE / name).read_text(encoding="utf-8") for name in (*locks, "pyproject.toml")]
    wanted = {line.strip() for text in texts[:-1] for line in text.splitlines() if "==" in line}
    mark = hashlib.sha256(texts[-1].encode()).hexdigest()
    known = set(stamp.read_text(encoding="utf-8").splitlines()) if stamp.exists() and python.exists() else set()
    if wanted | {mark} <= known:
        return python
    print("Making the environment (once; a minute or two) ...", flush=True)
    if not python.exists():
        venv.create(folder, with_pip=True)
    # Most of what comes with the libraries is never imported; what is, Python compiles as it is first used.
    quiet = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-compile"]
    must(python, *quiet, *(word for name in locks for word in ("--requirement", str(HERE / name))))
    must(python, *quiet, "--no-deps", "--editable", str(HERE))
    stamp.write_text("\n".join(sorted(wanted | (known & wanted) | {mark})), encoding="utf-8")
    return python


def must(python: Path, *words: str) -> None:
    """Run a set-up step; stop in words when it fails."""
    if call(python, *words) != 0:
        print("Setting up failed. Is there a way to the package index (PyPI)? Nothing else was changed.")
        raise SystemExit(1)


def call(python: Path, *words: str) -> int:
    """Run the environment's Python; its exit status."""
    return subprocess.call([str(python), *words], cwd=HERE)


# --- programs that only tests need --------------------------------------------------------------------------------


def debian_tools() -> list[str]:
    """Install what the tests need from Debian's packages where that is allowed; the names still missing."""
    missing = [tool for tool in DEBIAN_PACKAGES if shutil.which(tool) is None]
    packages = [DEBIAN_PACKAGES[tool] for tool in missing]
    if packages and shutil.which("apt-get") and getattr(os, "geteuid", lambda: 1)() == 0:
        subprocess.call(["apt-get", "update", "-qq"])
        subprocess.call(["apt-get", "install", "-y", "-qq", *packages])
        missing = [tool for tool in missing if shutil.which(tool) is None]
    if missing:
        print(f"To run every test, install: {', '.join(DEBIAN_PACKAGES[tool] for tool in missing)}")
    return missing


if __name__ == "__main__":
    sys.exit(main())
