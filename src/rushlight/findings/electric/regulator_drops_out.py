"""A constant-current regulator that the supply leaves too little before it is flat."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.design_power import Regulator
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.regulators import HOLDS_SHARE


def _look(design: Design) -> tuple[Trouble, ...]:
    low: dict[str, list[Regulator]] = {}
    for row in design.power.regulators:
        if row.flat_share < HOLDS_SHARE:
            low.setdefault(row.part, []).append(row)
    return tuple(_trouble(design, rows) for rows in low.values())


def _trouble(design: Design, rows: list[Regulator]) -> Trouble:
    row = min(rows, key=lambda row: row.flat_share)
    string = design.loom.string_of(row.emitter)
    fewer = ", fewer LEDs in series" if string else ""
    return Trouble(
        item=row.emitter, spot=design.loom.emitter(row.emitter).spot, number=row.flat_share, limit=HOLDS_SHARE,
        says=capital(f"{listed([one.emitter for one in rows])}: on the flat supply the {row.part} is left "
                     f"{plain(row.flat_v)} V at the worst and gives {row.flat_share:.0%} of its current; it wants "
                     f"about {plain(row.drop_out_v)} V."),
        cure=f"Use one more cell in series{fewer}, or a part of a lower knee.",
    )


RULE = Rule(
    key="electric.regulator-drops-out",
    grade=Grade.DOUBTFUL,
    title="Regulator drops out before the cells are flat",
    unit="share",
    why="Below its knee a regulator is no more than a resistor: the light it should hold fades after all.",
    cure="Leave it more voltage.",
    source=NETWORK + "; knee of the part's data sheet; nine tenths of the current is the project's proposal",
    look=_look,
)
