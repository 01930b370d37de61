"""An LED without a resistor of its own."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.network import has_own_resistor
from rushlight.stages.resistors import LEAST_OHM


def _look(design: Design) -> tuple[Trouble, ...]:
    if design.power.supply is None:
        return ()
    wired = {end for lead in design.loom.leads for end in (lead.start, lead.end)}
    ohms = {row.emitter: row.value_ohm for row in design.power.resistors if row.exact_ohm > LEAST_OHM}
    told = {row.emitter for row in design.power.resistors if row.exact_ohm <= LEAST_OHM}
    bare = [
        emitter for emitter in design.loom.emitters
        if emitter.name in wired and emitter.name not in told and has_own_resistor(design.drawer, emitter)
        and not design.loom.beyond(emitter.name) and not design.power.regulator(emitter.name)
        and ohms.get(emitter.name, 0.0) <= LEAST_OHM
    ]
    if not bare:
        return ()
    needed = [row.exact_ohm for row in design.power.resistors if row.emitter == bare[0].name]
    cure = f"Give it {plain(needed[0])} ohm." if needed and len(bare) == 1 else ""
    verb = "has" if len(bare) == 1 else "have"
    names = listed([emitter.name for emitter in bare])
    return (Trouble(item=bare[0].name, spot=bare[0].spot, cure=cure,
                    says=capital(f"{names} {verb} no resistor worth the name.")),)


RULE = Rule(
    key="electric.own-resistor",
    grade=Grade.WILL_FAIL,
    title="LED without its own resistor",
    unit="",
    why="LEDs in parallel share a resistor unevenly, and one without any takes all that the supply gives.",
    cure="Fit each LED, or each string of LEDs, with a resistor of its own.",
    source=PRACTICE,
    practice="parallel_12v",
    look=_look,
)
