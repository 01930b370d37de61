"""How many lamps there are: the pictures disagree, or the plan builds another number."""

from __future__ import annotations

from rushlight.findings._words import Entry, entries, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Row, Strip
from rushlight.stages.lamps import row_places

Count = tuple[int, int]


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for entry in entries(design):
        counts = [row.count for row in entry.evidence if row.count and row.says == "for"]
        if counts and (trouble := _trouble(design, entry, counts)):
            found.append(trouble)
    return tuple(found)


def _trouble(design: Design, entry: Entry, counts: list[Count]) -> Trouble | None:
    built = _built(entry)
    least, most = min(low for low, _ in counts), max(high for _, high in counts)
    if least == most == built:
        return None
    agree = max(low for low, _ in counts) <= min(high for _, high in counts)
    inside = least <= built <= most
    shown = f"{least}" if least == most else f"{least} to {most}"
    where = " a side" if isinstance(entry, Row) and entry.mirror else ""
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name),
        grade=Grade.COULD_BE_BETTER if agree and inside else None,
        says=f"The evidence shows {shown} of '{entry.name}'; the plan builds {built}{where}.",
    )


def _built(entry: Entry) -> int:
    if isinstance(entry, Row):
        return len(row_places(entry))
    return len(entry.openings) if isinstance(entry, Strip) else 1


RULE = Rule(
    key="plan.count-disputed",
    grade=Grade.DOUBTFUL,
    title="Number of lamps is disputed",
    unit="",
    why="Pictures that disagree leave the number open, and a row with one hole too many cannot be undone.",
    cure="Count again on the clearest picture, and correct the row's count or the evidence.",
    source="common practice, no source",
    look=_look,
)
