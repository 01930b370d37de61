"""A constant-current regulator with more volts across it than it bears."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    over = [row for row in design.power.regulators if row.most_v > row.max_v]
    if not over:
        return ()
    row = max(over, key=lambda row: row.most_v / row.max_v)
    return (Trouble(
        item=row.emitter, spot=design.loom.emitter(row.emitter).spot, number=row.most_v, limit=row.max_v,
        says=capital(f"{listed([one.emitter for one in over])}: {plain(row.most_v)} V stand across the {row.part}, "
                     f"which bears {plain(row.max_v)} V."),
    ),)


RULE = Rule(
    key="electric.regulator-over-volts",
    grade=Grade.WILL_FAIL,
    title="Regulator over its rated voltage",
    unit="V",
    why="Over its rating it breaks through, and the LED gets all that the supply gives.",
    cure="Use a lower supply voltage, more LEDs in series, or a part that bears more.",
    source=NETWORK + "; ratings of the drawer",
    look=_look,
)
