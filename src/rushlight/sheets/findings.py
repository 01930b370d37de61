"""Findings, worst first, each with its cure."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.finding import Finding, Grade
from rushlight.model.sheet import Block, Column, Note, Sheet, Table
from rushlight.sheets.amounts import amount, sentence
from rushlight.sheets.words import slug

NOTHING = "Nothing that rushlight knows of would go wrong. What it does not look at is told in its page of limits."

WHAT_TO_DO: dict[Grade, str] = {
    Grade.DANGEROUS: "Do not build this before it is cured.",
    Grade.WILL_FAIL: "Built like this it will not work.",
    Grade.DOUBTFUL: "It may work; look at it before you go on.",
    Grade.COULD_BE_BETTER: "It works; this would make it better.",
}


def draw(design: Design, findings: tuple[Finding, ...]) -> tuple[Sheet, ...]:
    """One table a grade, the worst grade first."""
    blocks: tuple[Block, ...] = tuple(
        _table(grade, rows) for grade in sorted(Grade, reverse=True)
        if (rows := tuple(finding for finding in findings if finding.grade is grade))
    )
    return (Sheet("findings", "Findings", blocks or (Note(NOTHING),)),)


def counted(findings: tuple[Finding, ...]) -> str:
    """How many of each grade, in words."""
    counts = ((sum(finding.grade is grade for finding in findings), grade) for grade in sorted(Grade, reverse=True))
    words = ", ".join(f"{count} {grade.words}" for count, grade in counts if count)
    return words or "none"


def _table(grade: Grade, findings: tuple[Finding, ...]) -> Table:
    columns = (
        Column("item", "What and where", wide=True), Column("says", "What is wrong", wide=True),
        Column("why", "Why", wide=True),
        Column("cure", "Cure", wide=True),
    )
    rows = tuple((_where(row), _says(row), sentence(row.why), sentence(row.cure)) for row in findings)
    return Table(f"findings-{slug(grade.words)}", sentence(grade.words), columns, rows, WHAT_TO_DO[grade])


def _where(row: Finding) -> str:
    if row.spot is None:
        return row.item
    part = "" if row.spot.part == row.item else f"{row.spot.part} "
    return f"{row.item} ({part}at {row.spot.x_mm:.0f}, {row.spot.y_mm:.0f} mm)"


def _says(row: Finding) -> str:
    if row.number is None or row.limit is None:
        return sentence(row.says)
    unit = row.unit.strip()
    return f"{sentence(row.says)} ({amount(row.number, unit, 3)} against {amount(row.limit, unit, 3)})"
