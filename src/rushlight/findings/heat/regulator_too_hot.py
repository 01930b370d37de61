"""A constant-current regulator that gets too hot."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import Regulator
from rushlight.model.finding import Grade, Rule, Trouble

SPARE_K = 25.0
"""A junction is kept so far below what its data sheet allows (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    hot = [row for row in design.power.regulators if _junction_c(design, row) > row.max_junction_c - SPARE_K]
    if not hot:
        return ()
    row = max(hot, key=lambda row: _junction_c(design, row) - row.max_junction_c)
    at_c = _junction_c(design, row)
    over = at_c > row.max_junction_c
    limit = row.max_junction_c - (0.0 if over else SPARE_K)
    return (Trouble(
        item=row.emitter, spot=design.loom.emitter(row.emitter).spot, number=at_c, limit=limit,
        grade=Grade.WILL_FAIL if over else None,
        says=capital(f"{listed([one.emitter for one in hot])}: {plain(1000 * row.dissipated_w / row.count, 3)} mW in "
                     f"each {row.part} take its junction to {plain(at_c, 3)} degC on the fresh supply; "
                     f"{plain(limit, 3)} degC is the limit."),
    ),)


def _junction_c(design: Design, row: Regulator) -> float:
    """At the worst."""
    return air_c(design, row) + row.rise_k


def air_c(design: Design, row: Regulator) -> float:
    """The warmest air of the space that a regulator lies in [degC]."""
    part = design.loom.emitter(row.emitter).spot.part
    spaces = {space.name: space.parts for space in design.plan.spaces}
    air = max((heat.air_rise_k.high for heat in design.heat.spaces if part in spaces[heat.space]), default=0.0)
    return design.heat.room_c.high + air


RULE = Rule(
    key="heat.regulator-too-hot",
    grade=Grade.DOUBTFUL,
    title="Regulator too hot",
    unit="degC",
    why="A regulator turns all that the LEDs leave into heat in a speck of plastic: hot, it gives less, and softens "
        "the styrene it touches.",
    cure="Use a lower supply, more LEDs in series on it, two of half the current side by side, or give it "
         "copper and air.",
    source="thermal resistance of the part on its smallest pad; 25 K to spare is the project's proposal",
    look=_look,
)
