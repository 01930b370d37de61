"""Reference pages made from the code: every kind of finding."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from rushlight.findings import FINDINGS
from rushlight.findings.cures import CURES
from rushlight.model.finding import Rule

GROUPS = {
    "plan": "The plan: evidence, places, rules",
    "light": "Light",
    "electric": "Electric",
    "loom": "Loom: fibres, bundles, wires",
    "heat": "Heat",
    "build": "Build: order, reach, cautions",
}
"""Title of each group's chapter, in the order of the page."""


def findings_reference() -> str:
    """The page docs/generated/findings.md: every kind of finding, in groups.

    Returns
    -------
    str
        Markdown, the same for the same code.
    """
    counts = Counter(rule.key.split(".")[0] for rule in FINDINGS)
    chapters = [_chapter(group) for group in GROUPS if counts[group]]
    return "\n".join([_HEAD.format(count=len(FINDINGS), cured=len(CURES)), *chapters])


_HEAD = """# Findings

Made from the code; do not edit. {count} kinds. A finding says that the plan is fine as a document, and that the build
would not be. Its key never changes. Where it rests on a habit of the trade, the number is a default: put your own under
`practice` in the plan.

{cured} kinds are marked *one edit*: where a single edit of the plan cures one, `rushlight check` names it and the app
offers it as a button, to be taken back like any other step. It is offered only where it is known; the rest takes
your eyes, your hands or your decision.

Grades, worst first: dangerous, will fail, doubtful, could be better. Some kinds grade a single finding up or down.
"""


def _chapter(group: str) -> str:
    own = [rule for rule in FINDINGS if rule.key.split(".")[0] == group]
    return "\n".join([f"## {GROUPS[group]}", "", *(_entry(rule) for rule in own)])


def _entry(rule: Rule) -> str:
    lines = [
        f"### {rule.title}",
        "",
        f"`{rule.key}`, {rule.grade.words}" + (f", in {rule.unit}" if rule.unit else ""),
        "",
        f"- Why: {rule.why}",
        f"- Cure: {rule.cure}" + (" *One edit.*" if rule.key in CURES else ""),
        f"- Source: {rule.source}",
    ]
    if rule.practice is not None:
        lines.append(f"- Practice: `{rule.practice}`")
    if rule.caution is not None:
        lines.append(f"- Caution: `{rule.caution}`")
    return "\n".join([*lines, ""])


def write_page(folder: Path) -> Path:
    """The page written into a folder as findings.md; its path is given back."""
    path = folder / "findings.md"
    path.write_text(findings_reference(), encoding="utf-8", newline="\n")
    return path


if __name__ == "__main__":
    write_page(Path("docs/generated"))
