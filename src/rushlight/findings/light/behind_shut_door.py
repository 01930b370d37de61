"""Lamps that are lit behind a shut door."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.poses import LitDoor, lit_doors


def _look(design: Design) -> tuple[Trouble, ...]:
    doors: dict[tuple[str, str], list[LitDoor]] = {}
    for row in lit_doors(design):
        doors.setdefault((row.part, row.opening.name), []).append(row)
    return tuple(_trouble(rows) for rows in doors.values() if any(row.doorway.seen <= 0.0 for row in rows))


def _trouble(rows: list[LitDoor]) -> Trouble:
    shut = [row for row in rows if row.doorway.seen <= 0.0]
    first, never = shut[0], len(shut) == len(rows)
    assert first.opening.door is not None
    names = listed(list(dict.fromkeys(f"'{lamp.group}'" for row in shut for lamp in row.lamps)))
    states = listed([f"'{row.state}'" for row in shut])
    return Trouble(
        item=first.lamps[0].group, spot=first.lamps[0].spot, grade=Grade.WILL_FAIL if never else None,
        says=f"{names} will be lit behind '{first.opening.door.part}', which is shut in {states}"
             + ("; it is seen in no state." if never else "."),
        cure=f"Give '{first.opening.door.part}' another pose in {states}, or take these states from {names}.",
    )


RULE = Rule(
    key="light.behind-shut-door",
    grade=Grade.COULD_BE_BETTER,
    title="Lit behind a shut door",
    unit="",
    why="Nothing is seen of it, and it takes current.",
    cure="Open the door in that state, or leave the lamp dark.",
    source="the plan's own poses",
    look=_look,
)
