"""The documents are true: links lead somewhere, commands parse, plans read, every quantity has its check."""

from __future__ import annotations

import argparse
import ast
import dataclasses
import re
import shlex
from pathlib import Path
from typing import Any

import pytest
import yaml
from PIL import Image

import rushlight
from rushlight.cli import main, parser
from rushlight.files.drawer_csv import read_drawer
from rushlight.files.history import notice
from rushlight.files.plan_yaml import read_plan
from rushlight.findings import FINDINGS
from rushlight.model import design as design_model
from rushlight.model import design_evening, design_light, design_loom, design_power
from rushlight.reference_commands import commands, commands_reference, write_page

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PACKAGE = Path(rushlight.__file__).parent
PAGES = [ROOT / "README.md", ROOT / "CHANGELOG.md", *sorted(DOCS.glob("*.md"))]
EVERY_PAGE = [*PAGES, *sorted((DOCS / "generated").glob("*.md"))]
LAWS = ("optics", "electric", "thermal", "geometry", "timing")


def page_id(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def blocks(path: Path, language: str = "") -> list[str]:
    """Fenced blocks of a language; without one, the blocks that are set in by four spaces."""
    text = path.read_text(encoding="utf-8")
    if language:
        return re.findall(rf"^```{language}\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    return re.findall(r"(?:^ {4}.*\n)+", re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL), re.MULTILINE)


def command_lines(path: Path) -> list[str]:
    lines = [line.strip() for block in blocks(path) for line in block.splitlines()]
    return [line for line in lines if line.startswith("rushlight ")]


# --- links and commands -------------------------------------------------------------------------------------------


def anchors(path: Path) -> set[str]:
    heads = re.findall(r"^#+ (.*)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("path", EVERY_PAGE, ids=page_id)
def test_links_lead_somewhere(path: Path) -> None:
    text = re.sub(r"`[^`\n]*`", "", path.read_text(encoding="utf-8"))
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        if target.startswith(("http://", "https://")):
            continue
        file, _, anchor = target.partition("#")
        there = (path.parent / file).resolve() if file else path
        assert there.exists(), f"{page_id(path)}: {target}"
        if anchor:
            assert anchor in anchors(there), f"{page_id(path)}: {target}"


@pytest.mark.parametrize("path", PAGES, ids=page_id)
def test_commands_parse(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for line in command_lines(path):
        try:
            parser().parse_args(shlex.split(line.partition("  #")[0])[1:])
        except SystemExit:
            pytest.fail(f"{page_id(path)}: {line}\n{capsys.readouterr().err}")


@pytest.mark.parametrize("path", PAGES, ids=page_id)
def test_commands_in_the_text_exist(path: Path) -> None:
    """`rushlight word` inside a sentence names a command, and its options are that command's."""
    known = commands()
    for span in re.findall(r"`rushlight ([^`]+)`", path.read_text(encoding="utf-8")):
        name, *words = shlex.split(span)
        assert name in known or name in ("COMMAND", "--version"), f"{page_id(path)}: {span}"
        options = {word for word in words if word.startswith("--")}
        if name in known:
            assert options <= set(known[name]._option_string_actions), f"{page_id(path)}: {span}"


@pytest.mark.parametrize("path", PAGES, ids=page_id)
def test_words_of_the_start_script_exist(path: Path) -> None:
    jobs = set(re.findall(r'"(\w+)": \w+', (ROOT / "start.py").read_text(encoding="utf-8").split("jobs = ")[1].splitlines()[0]))
    assert {"test", "prove"} <= jobs
    for word in re.findall(r"python3? start\.py(?: ([a-z]+))?", path.read_text(encoding="utf-8")):
        assert not word or word in jobs, f"{page_id(path)}: start.py {word}"


def test_a_wrong_command_would_be_seen() -> None:
    with pytest.raises(SystemExit):
        parser().parse_args(["ligths", "ship"])


def test_the_readme_names_both_commands() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 start.py\n" in text and "python3 start.py test" in text
    assert command_lines(ROOT / "README.md")


def test_the_first_plan_of_the_readme_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each command of the README, one after the other, in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "own"))
    lines = command_lines(ROOT / "README.md")
    for line in lines:
        assert main(shlex.split(line.partition("  #")[0])[1:]) in (0, 10, 20, 30, 40), line
    assert list(tmp_path.glob("*/book/book-a4.pdf"))


def own_plan(folder: Path) -> None:
    """The tutorial's plan with one state more, and with three revisions in its history."""
    (folder / "pictures").mkdir(parents=True)
    plan = assembled(DOCS / "how-to-lights.md")
    text = yaml.safe_dump(plan, sort_keys=False, allow_unicode=True)
    named = [part.get("picture", {}) for part in plan["parts"]] + plan.get("references", [])
    for file in {row["file"] for row in named if row.get("file")}:
        Image.new("RGB", (400, 200), "white").save(folder / "pictures" / file)
    for number in range(3):
        (folder / "plan.yaml").write_text(f"# revision {number}\n{text}", encoding="utf-8")
        notice(folder)


@pytest.mark.parametrize("path", sorted(DOCS.glob("how-to-*.md")), ids=page_id)
def test_commands_of_the_how_tos_run(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every command but those that make a book (the README's are run) or serve."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "own"))
    own_plan(tmp_path / "my-plan")
    for line in command_lines(path):
        words = shlex.split(line.partition("  #")[0])[1:]
        if words[0] not in ("book", "demo", "open"):
            assert main(words) in (0, 1, 10, 20, 30, 40), line


@pytest.mark.parametrize("path", [path for path in PAGES if blocks(path, "python")], ids=page_id)
def test_python_in_the_text_runs(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    own_plan(tmp_path / "my-plan")
    for block in blocks(path, "python"):
        exec(compile(block, str(path), "exec"), {})


# --- plans and findings in the text -------------------------------------------------------------------------------


def merged(base: dict[str, Any], more: dict[str, Any]) -> dict[str, Any]:
    """A piece of a plan laid over another: items of a list are joined by their name."""
    made = dict(base)
    for key, value in more.items():
        old = made.get(key)
        if isinstance(value, list) and isinstance(old, list) and all(isinstance(row, dict) for row in value + old):
            made[key] = _joined(old, value)
        elif isinstance(value, dict) and isinstance(old, dict) and key != "brightness":
            made[key] = merged(old, value)
        else:
            made[key] = value
    return made


def _joined(old: list[dict[str, Any]], new: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Rows with names are joined by them; a list without names takes the place of the old one."""
    if not all("name" in row for row in old + new):
        return new
    rows = {row["name"]: row for row in old}
    for row in new:
        rows[row["name"]] = merged(rows[row["name"]], row) if row["name"] in rows else row
    return list(rows.values())


def assembled(path: Path) -> dict[str, Any]:
    """All pieces of a page, one over the other; a page without a whole plan is laid over the tutorial's."""
    pieces = [yaml.load(block, Loader=yaml.BaseLoader) for block in blocks(path, "yaml")]
    plan: dict[str, Any] = {} if "rushlight" in pieces[0] else assembled(DOCS / "tutorial.md")
    for piece in pieces:
        plan = merged(plan, piece)
    return plan


WITH_PLANS = [path for path in PAGES if blocks(path, "yaml")]


@pytest.mark.parametrize("path", WITH_PLANS, ids=page_id)
def test_pieces_of_plans_read(path: Path, tmp_path: Path) -> None:
    """What a page shows of a plan is accepted by the reader."""
    (tmp_path / "plan.yaml").write_text(yaml.safe_dump(assembled(path), sort_keys=False, allow_unicode=True), encoding="utf-8")
    assert read_plan(tmp_path, read_drawer()).plan.lamps


def test_the_tutorial_shows_plans() -> None:
    assert DOCS / "tutorial.md" in WITH_PLANS


@pytest.mark.parametrize("path", PAGES, ids=page_id)
def test_findings_in_the_text_exist(path: Path) -> None:
    keys = {rule.key for rule in FINDINGS}
    groups = "|".join(sorted({key.split(".")[0] for key in keys}))
    for key in re.findall(rf"`((?:{groups})\.[a-z-]+)`", path.read_text(encoding="utf-8").replace("`plan.yaml`", "")):
        assert key in keys, f"{page_id(path)}: {key}"


@pytest.mark.parametrize("path", PAGES, ids=page_id)
def test_data_tables_in_the_text_exist(path: Path) -> None:
    for name in re.findall(r"`(?:data/)?([a-z0-9_]+\.csv)`", path.read_text(encoding="utf-8")):
        assert (PACKAGE / "data" / name).exists(), f"{page_id(path)}: {name}"


# --- checks.md: every quantity and its check ----------------------------------------------------------------------

CHECKS = (DOCS / "checks.md").read_text(encoding="utf-8")


def law_files() -> list[Path]:
    return [path for package in LAWS for path in sorted((PACKAGE / package).glob("*.py")) if path.name[0] != "_"]


def public_functions(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {node.name for node in tree.body if isinstance(node, ast.FunctionDef) and node.name[0] != "_"}


def section(title: str) -> str:
    """The text of checks.md below a heading, up to the next one."""
    found = re.search(rf"^#+ `?{re.escape(title)}`?$(.*?)(?=^#|\Z)", CHECKS, re.MULTILINE | re.DOTALL)
    return found.group(1) if found else ""


def test_every_test_file_named_exists() -> None:
    named = set(re.findall(r"`((?:outside|unit)/[\w/]+\.py)`", CHECKS))
    assert len(named) > 30
    assert not [name for name in sorted(named) if not (ROOT / "tests" / name).exists()]


def test_every_outside_test_is_named() -> None:
    files = {f"outside/{path.name}" for path in (ROOT / "tests" / "outside").glob("test_*.py")}
    assert not [name for name in sorted(files) if name not in CHECKS]


@pytest.mark.parametrize("path", law_files(), ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_law_has_its_row(path: Path) -> None:
    """Each law file has a section, and each of its public functions stands in a row of it."""
    text = section(f"{path.parent.name}/{path.name}")
    assert text, f"checks.md has no section `{path.parent.name}/{path.name}`"
    assert not sorted(name for name in public_functions(path) if f"`{name}`" not in text)


def design_values() -> list[type]:
    modules = (design_loom, design_power, design_evening, design_light, design_model)
    return [kind for module in modules for kind in vars(module).values()
            if dataclasses.is_dataclass(kind) and kind.__module__ == module.__name__]


@pytest.mark.parametrize("kind", design_values(), ids=lambda kind: kind.__name__)
def test_every_number_of_the_design_has_its_row(kind: type) -> None:
    """Each number that a design holds stands in the row of its kind."""
    row = next((line for line in CHECKS.splitlines() if line.startswith(f"| `{kind.__name__}` |")), "")
    numbers = [field.name for field in dataclasses.fields(kind) if re.search(r"\b(float|int|Range|Point)\b", str(field.type))]
    assert row or not numbers, f"checks.md has no row for {kind.__name__}"
    assert not [name for name in numbers if f"`{name}`" not in row]


def test_every_row_has_a_check_or_says_unproved() -> None:
    for line in CHECKS.splitlines():
        if line.startswith("| `"):
            last = line.rstrip(" |").rpartition("|")[2]
            assert re.search(r"unproved|outside/|unit/|guard|as above|none needed|follows", last), line


# --- generated ----------------------------------------------------------------------------------------------------


def test_commands_page_is_not_stale(tmp_path: Path) -> None:
    """If this fails: `python -m rushlight.reference_commands`."""
    assert (DOCS / "generated" / "commands.md").read_text(encoding="utf-8") == commands_reference()
    assert write_page(tmp_path).read_text(encoding="utf-8") == commands_reference()


def test_commands_page_tells_every_option() -> None:
    page = commands_reference()
    for name, command in commands().items():
        assert f"\n## {name}\n" in page
        for action in command._actions:
            if action.option_strings and not isinstance(action, argparse._HelpAction):
                assert f"| `{action.option_strings[0]}" in page
                assert action.help or action.choices, f"{name} {action.option_strings[0]} has no help"


# --- what no document may say -------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", EVERY_PAGE, ids=page_id)
def test_pages_speak_of_the_project_alone(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not re.findall(r"(?<![\w.])/(?:work|tmp|home|root|usr)/|\bissue #?\d|\bTODO\b|\bTBD\b", text)


@pytest.mark.parametrize("picture", sorted((DOCS / "pictures").glob("*")), ids=lambda path: path.name)
def test_pictures_are_small_and_used(picture: Path) -> None:
    assert picture.stat().st_size < 200_000
    assert any(f"pictures/{picture.name}" in path.read_text(encoding="utf-8") for path in PAGES)
