"""Something that no lead or fibre reaches."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    alike: dict[tuple[str, str], list[str]] = {}
    for row in design.loom.unrouted:
        alike.setdefault((row.part, row.why), []).append(row.item)
    return tuple(
        Trouble(item=items[0], says=capital(f"{listed(items)} on '{part}': {why.rstrip('.')}."))
        for (part, why), items in alike.items()
    )


RULE = Rule(
    key="loom.unrouted",
    grade=Grade.WILL_FAIL,
    title="Not reached by lead or fibre",
    unit="",
    why="Without a way from the bay it stays dark.",
    cure="Open a way: make a keep-out smaller, move the lamp, or add a crossing that carries what is needed.",
    source="geometry: routes among keep-outs",
    look=_look,
)
