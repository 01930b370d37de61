"""The registry: every file is in its tuple, every kind has its case, every practice is looked after."""

from __future__ import annotations

import importlib
import re
from pathlib import Path

import pytest

import rushlight.findings
from finding_cases import case_keys
from rushlight.findings import FINDINGS
from rushlight.findings._words import likely_ends, plain
from rushlight.tables import rows
from rushlight.units import Range

FOLDER = Path(rushlight.findings.__file__).parent
GROUPS = tuple(
    sorted(path.name for path in FOLDER.iterdir() if (path / "__init__.py").exists() and path.name != "cures")
)


@pytest.mark.parametrize("group", GROUPS)
def test_every_file_of_a_group_is_in_its_tuple(group: str) -> None:
    package = importlib.import_module(f"rushlight.findings.{group}")
    files = [path.stem for path in sorted((FOLDER / group).glob("*.py")) if not path.stem.startswith("_")]
    made = [importlib.import_module(f"rushlight.findings.{group}.{name}").RULE for name in files]
    assert {rule.key for rule in made} == {rule.key for rule in package.RULES}
    for name, rule in zip(files, made, strict=True):
        assert rule.key == f"{group}.{name.replace('_', '-')}"


def test_every_group_is_in_the_findings() -> None:
    held = [rule for group in GROUPS for rule in importlib.import_module(f"rushlight.findings.{group}").RULES]
    assert {rule.key for rule in held} == {rule.key for rule in FINDINGS}


def test_keys_are_unique_dotted_and_plain() -> None:
    keys = [rule.key for rule in FINDINGS]
    assert len(keys) == len(set(keys))
    for key in keys:
        assert re.fullmatch(r"[a-z]+\.[a-z0-9]+(-[a-z0-9]+)*", key), key


def test_every_kind_has_a_case_and_every_case_its_kind() -> None:
    assert set(case_keys()) == {rule.key for rule in FINDINGS}


def test_every_kind_says_what_why_how_and_whence() -> None:
    for rule in FINDINGS:
        assert rule.title and rule.title[0].isupper() and not rule.title.endswith("."), rule.key
        for text in (rule.why, rule.cure):
            assert text[0].isupper() and text.endswith("."), rule.key
        assert rule.source, rule.key


@pytest.mark.parametrize(("kind", "table"), [("practice", "practice_rules"), ("caution", "safety_cautions")])
def test_every_practice_and_caution_is_checked_or_told_why_not(kind: str, table: str) -> None:
    known = {row["key"] for row in rows(table)}
    checked = {key for rule in FINDINGS if (key := getattr(rule, kind)) is not None}
    excused = {row["key"] for row in rows("practice_not_checked") if row["kind"] == kind}
    assert checked <= known
    assert excused <= known
    assert checked | excused == known
    assert not checked & excused
    assert all(row["reason"] and row["source"] for row in rows("practice_not_checked"))


def test_a_source_is_named_as_people_read_it() -> None:
    """No file of ours and no module stands where a modeller reads whence a number comes."""
    for rule in FINDINGS:
        assert not re.search(r"\.csv|\bsee [a-z]+(?!\w)|\b[a-z]+\.[a-z]+_", rule.source), rule.key
        assert not re.search(r"\.csv", rule.why + rule.cure), rule.key


def test_ends_far_apart_are_told_in_words() -> None:
    inner, outer = Range(0.2, 1, 3), Range(2e-6, 1, 200)
    assert likely_ends(inner, inner, plain) == "0.2 to 3"
    assert likely_ends(inner, outer, plain) == "likely 0.2 to 3; at the outside 200 at most, perhaps next to nothing"
