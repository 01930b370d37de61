"""Imports go down only, and `import rushlight` stays light."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import rushlight

ROOT = Path(rushlight.__file__).parent

LEVELS: dict[str, float] = {
    "errors": 0, "units": 1, "likely": 2, "tables": 2, "model": 3, "optics": 3, "electric": 3, "thermal": 3, "geometry": 3, "timing": 3,
    "stages": 4, "findings": 5, "sheets": 5, "book": 6, "share": 6, "files": 6, "open_plan": 7, "reference": 7, "reference_plan": 7, "reference_sheets": 7,
    "cli": 8.3,
    "reference_commands": 8.5, "cli_lights": 7.5, "cli_words": 7.5, "cli_bench_words": 7.5, "cli_bench": 7.6, "cli_open": 8.2, "cli_supplies": 8.2, "web": 8, "working_plan": 7.2, "edits_tried": 7.3, "bench_log": 7.3, "cli_drawer": 7.5, "demos": 8, "__init__": 9, "__main__": 9,
}
"""The rooms of the house, from the ground up."""

ALLOWED: frozenset[tuple[str, str]] = frozenset()
"""Neighbours that may know each other; none so far."""

LIGHT = ("scipy", "shapely", "typst", "ezdxf", "rich", "PIL", "ruamel", "yaml", "networkx", "pikepdf", "lxml")


def room_of(path: Path) -> str:
    return path.relative_to(ROOT).parts[0].removesuffix(".py")


def imported_rooms(path: Path) -> set[str]:
    found: set[str] = set()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for_types = {
        id(inner) for node in ast.walk(tree) if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if id(node) in for_types:
            continue
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module] if node.module != "rushlight" else [f"rushlight.{a.name}" for a in node.names]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        found |= {name.split(".")[1] for name in names if name.startswith("rushlight.") and "." in name}
    return found


@pytest.mark.parametrize("path", sorted(ROOT.rglob("*.py")), ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_go_down_only(path: Path) -> None:
    room = room_of(path)
    for other in imported_rooms(path) - {room, "__version__"}:
        lower = LEVELS[other] < LEVELS[room]
        assert lower or (room, other) in ALLOWED, f"{room} must not import {other}"


def test_the_package_imports_light() -> None:
    code = f"import sys, rushlight; print([name for name in {LIGHT!r} if name in sys.modules])"
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"


def test_nothing_below_files_touches_the_world() -> None:
    """No open(), printing, clock, sockets or unseeded randomness below `files`."""
    forbidden = {"open", "print", "input"}
    modules = {"socket", "time", "datetime", "logging", "secrets", "urllib"}
    for path in ROOT.rglob("*.py"):
        if LEVELS[room_of(path)] >= LEVELS["files"] or room_of(path) == "tables":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in forbidden, f"{path.name} calls {node.func.id}()"
            if isinstance(node, ast.Import):
                assert not {alias.name.split(".")[0] for alias in node.names} & modules, path.name


def loaded_after(code: str) -> set[str]:
    shown = subprocess.run([sys.executable, "-c", f"{code}\nimport sys\nprint(*sys.modules)"], capture_output=True, text=True, check=True)
    return set(shown.stdout.split())


def test_the_server_listens_before_the_engine_is_loaded() -> None:
    loaded = loaded_after("import rushlight.web.app, rushlight.web.desk, rushlight.web.serve")
    assert not {name for name in loaded if name.startswith(("rushlight.stages.", "rushlight.findings.", "scipy"))}


def test_what_the_page_shows_first_loads_no_stage_that_it_does_not_use() -> None:
    demo = ROOT / "demos" / "lantern"
    loaded = loaded_after("from pathlib import Path\nfrom rushlight.working_plan import first_look, start_work\n"
                          f"import shutil, tempfile\nhome = Path(tempfile.mkdtemp()) / 'plan'\nshutil.copytree({str(demo)!r}, home)\n"
                          "first_look(start_work(home))\nshutil.rmtree(home.parent)")
    assert "rushlight.stages.aim" in loaded
    assert not loaded & {f"rushlight.stages.{name}" for name in ("loom", "measured", "network", "strips", "tails")} | (loaded & {"scipy"})
