"""Resistors that run at more than half of what they are made for."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import Resistor
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    share = design.drawer.habit("resistor_heat").high or 0.5
    hot: dict[tuple[float, str], list[Resistor]] = {}
    for row in design.power.resistors:
        if row.dissipated_w > share * row.rating_w * (1 + 1e-9):
            hot.setdefault((row.value_ohm, row.size), []).append(row)
    return tuple(_trouble(design, rows, share) for rows in hot.values())


def _trouble(design: Design, rows: list[Resistor], share: float) -> Trouble:
    """The hottest of those of one value and size."""
    row = max(rows, key=lambda row: row.dissipated_w)
    over = row.dissipated_w > row.rating_w
    names = listed([f"'{row.emitter}'" for row in rows])
    return Trouble(
        item=row.emitter, spot=design.loom.emitter(row.emitter).spot, number=1000 * row.dissipated_w,
        limit=1000 * share * row.rating_w, grade=Grade.DANGEROUS if over else None,
        says=f"The {plain(row.value_ohm, 3)} ohm resistor of {names} turns {plain(1000 * row.dissipated_w, 3)} mW into "
             f"heat; {plain(100 * share)} % of its {plain(row.rating_w)} W are {plain(1000 * share * row.rating_w, 3)} "
             "mW.",
        cure=f"Take one rated {plain(row.dissipated_w / share)} W or more, a lower supply voltage, or two LEDs in "
             "series on one resistor.",
    )


RULE = Rule(
    key="heat.resistor-over-rating",
    grade=Grade.DOUBTFUL,
    title="Resistor over half of its rating",
    unit="mW",
    why="A resistor at its full rating is at 150 degC and more: hot enough to melt styrene and to burn a finger.",
    cure="Take a larger one.",
    source="habit resistor_heat: common practice; ratings from memory, typical",
    practice="resistor_heat",
    look=_look,
)
