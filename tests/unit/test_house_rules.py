"""Habits of the house that a machine can check."""

from __future__ import annotations

import dataclasses
import importlib
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import rushlight
from rushlight.tables import parse_rows
from rushlight.units import SUFFIXES

ROOT = Path(rushlight.__file__).parents[2]
MODEL = Path(rushlight.__file__).parent / "model"
SOURCE = ROOT / "src" / "rushlight"
TEXT = (".py", ".md", ".toml", ".yaml", ".csv", ".typ", ".js", ".html", ".css", ".lock", ".txt")

DIMENSIONLESS = {
    "ideality", "scale", "certainty", "ratio", "dark_share", "walls_reflect", "board_reflects", "value", "to", "low", "typical", "high", "number",
    "limit", "contrast", "cycles_per_deg", "on_share", "flat_share", "kept_share", "last_share", "light_share", "first_share", "first_times", "first_ratio", "warm_share", "cold_share", "fresh_share", "drift_share", "needed", "spare", "pack", "x", "y", "numerical_aperture",
    "tolerance", "knee_share", "stretch", "factor", "size", "line", "column", "cycles", "minutes", "reading", "share", "gap", "position", "ring",
    "off_share", "seen_share", "likely_times", "angle_share", "believed", "before", "least_share", "most_share", "times_seen", "times_spots", "times_posts", "ratio_spots", "ratio_posts", "posts_share", "left_share", "beam_order", "evenness", "match", "reflectance", "iso", "f_number",
}
"""Names of numbers that have no unit, or whose unit stands in a field beside them."""


def tracked_files() -> list[Path]:
    shown = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if shown.returncode:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in shown.stdout.splitlines() if (ROOT / name).suffix in TEXT]


def test_the_linter_has_no_complaint() -> None:
    shown = subprocess.run([sys.executable, "-m", "ruff", "check", "."], cwd=ROOT, capture_output=True, text=True, check=False)
    assert shown.returncode == 0, shown.stdout[-3000:]


def test_the_type_checker_has_no_complaint() -> None:
    kept = ["--cache-dir", os.devnull] if os.environ.get("CI") else []  # a fresh machine never comes back for it
    shown = subprocess.run([sys.executable, "-m", "mypy", *kept], cwd=ROOT, capture_output=True, text=True, check=False)
    assert shown.returncode == 0, shown.stdout[-3000:]


@pytest.mark.parametrize("path", sorted((SOURCE / "data").glob("*.csv")), ids=lambda path: path.stem)
def test_every_row_of_a_table_has_a_source(path: Path) -> None:
    rows = parse_rows(path.read_text(encoding="utf-8"))
    assert rows
    assert all((row.get("source") or "").strip() for row in rows), path.name


def test_lock_files_hold_exact_versions_and_no_addresses() -> None:
    for name in ("requirements.lock", "requirements-test.lock"):
        lines = [line for line in (ROOT / name).read_text().splitlines() if line and not line.startswith("#")]
        assert lines and all(re.fullmatch(r"[a-z0-9-]+==[0-9][0-9a-z.+]*(; .+)?", line) for line in lines), name


def test_every_dependency_is_locked() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    locked = "\n".join((ROOT / name).read_text() for name in ("requirements.lock", "requirements-test.lock"))
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    for line in wanted:
        name = re.match(r"[A-Za-z0-9_.-]+", line)[0].lower().replace("_", "-").replace(".", "-")
        assert re.search(rf"^{re.escape(name)}==", locked, re.M), name


def test_numbers_of_the_model_name_their_units() -> None:
    files = sorted(path for path in MODEL.glob("*.py") if path.stem.startswith(("plan", "drawer", "design")))
    assert len(files) >= 3
    for module in (path.stem for path in files):
        for kind in vars(importlib.import_module(f"rushlight.model.{module}")).values():
            if not (dataclasses.is_dataclass(kind) and isinstance(kind, type)):
                continue
            for field in dataclasses.fields(kind):
                if field.type in ("float", "float | None", "Range", "Range | None") and field.name not in DIMENSIONLESS:
                    assert has_unit(field.name), f"{kind.__name__}.{field.name}"


def has_unit(name: str) -> bool:
    return any(name.endswith(f"_{suffix}") for suffix in SUFFIXES) or name.endswith(
        ("reflectance", "transmittance", "transmittance_1mm", "density")
    )


def test_no_machine_and_no_registry_is_named() -> None:
    forbidden = [rf"(?<![\w.])/{word}/[a-z.]" for word in ("work", "root", "farm")]
    forbidden += [r"pypi\.org", r"registry\.npm", r"files\.pythonhosted"]
    for path in tracked_files():
        text = path.read_text(encoding="utf-8", errors="replace")
        for pattern in forbidden:
            found = re.search(pattern, text)
            assert not found or path.name == "test_house_rules.py", f"{path.relative_to(ROOT)}: {found}"


def test_start_needs_the_standard_library_alone() -> None:
    code = "import ast,sys; t=ast.parse(open('start.py').read()); print([a.name for n in ast.walk(t) if isinstance(n,ast.Import) for a in n.names]+[n.module for n in ast.walk(t) if isinstance(n,ast.ImportFrom)])"
    shown = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    names = {name.split(".")[0] for name in re.findall(r"'([\w.]+)'", shown.stdout)}
    assert names <= set(sys.stdlib_module_names), names


def test_ci_calls_the_test_command_of_the_readme() -> None:
    assert "python3 start.py test" in (ROOT / ".ci" / "run").read_text()
    assert os.access(ROOT / ".ci" / "run", os.X_OK)
