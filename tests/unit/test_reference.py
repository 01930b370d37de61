"""The page of findings is as the code would make it now."""

from __future__ import annotations

from pathlib import Path

from rushlight.findings import FINDINGS
from rushlight.reference import GROUPS, findings_reference, write_page

PAGE = Path(__file__).parents[2] / "docs" / "generated" / "findings.md"


def test_page_is_not_stale() -> None:
    """If this fails: `python -m rushlight.reference`."""
    assert PAGE.read_text(encoding="utf-8") == findings_reference()


def test_every_kind_and_its_practice_is_told() -> None:
    page = findings_reference()
    assert f"{len(FINDINGS)} kinds" in page
    for rule in FINDINGS:
        assert f"### {rule.title}\n\n`{rule.key}`, {rule.grade.words}" in page
        assert rule.source in page and rule.why in page
        assert rule.practice is None or f"- Practice: `{rule.practice}`" in page


def test_every_group_has_its_chapter() -> None:
    assert {rule.key.split(".")[0] for rule in FINDINGS} == set(GROUPS)


def test_page_is_written(tmp_path: Path) -> None:
    assert write_page(tmp_path).read_text(encoding="utf-8") == findings_reference()
