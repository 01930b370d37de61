"""LEDs of one kind side by side whose currents may differ visibly from part to part."""

from __future__ import annotations

import math

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._currents import worst_currents
from rushlight.findings.electric._words import NETWORK
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import EmitterCurrent
from rushlight.model.drawer import Drawer
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.apart import SUPPLY
from rushlight.stages.parts_law import light_ratio, most_apart

LEAST_A = 1e-9

CURES = {
    "resistors": "Buy resistors of 1 %, or sort those that you have with a meter.",
    "contacts": "Solder the lamps that should match rather than plugging them, or raise the supply's voltage.",
}
"""Where LEDs do most of the harm the rule's own cure holds."""


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = most_apart(design.drawer)
    told = {emitter.name for emitter in starved(design)}
    regulated = {row.emitter for row in design.power.regulators}  # these have findings of their own
    alike: dict[tuple[str, str], list[Emitter]] = {}
    for emitter in design.loom.emitters:
        if emitter.kind != "strip" and emitter.name not in told | regulated:
            alike.setdefault((emitter.circuit, emitter.part_row), []).append(emitter)
    worst = worst_currents(design)
    found = []
    for emitters in alike.values():
        ratios = {
            row.name: _side_by_side(design.drawer, row, worst[row.name])
            for row in emitters if row.name in worst
        }
        if len(ratios) > 1 and max(ratios.values()) > limit:
            first = max(ratios, key=lambda name: ratios[name])
            found.append(_trouble(emitters, ratios[first], limit, worst[first]))
    return tuple(found)


def _side_by_side(drawer: Drawer, emitter: Emitter, worst: EmitterCurrent) -> float:
    """The most over the least light, without what the supply does: it moves all at once [-]."""
    high_a, low_a = _ends_a(worst)
    return light_ratio(drawer, emitter, high_a, low_a)


def _ends_a(worst: EmitterCurrent) -> tuple[float, float]:
    """The most and the least current, the supply's share taken off evenly at both ends [A]."""
    by_supply = math.sqrt(dict(worst.apart).get(SUPPLY, 1.0))
    return worst.current_a.high / by_supply, max(worst.current_a.low, LEAST_A) * by_supply


def _trouble(emitters: list[Emitter], ratio: float, limit: float, worst: EmitterCurrent) -> Trouble:
    ranked = sorted((row for row in worst.apart if row[0] != SUPPLY), key=lambda row: -row[1])
    harm, cure, (high_a, low_a) = "", "", _ends_a(worst)
    if ranked:
        (cause, times), rest = ranked[0], [f"{name} {plain(each, 3)}" for name, each in ranked[1:]]
        harm = f" {cause} do most of it: {plain(times, 3)} times the current by themselves ({listed(rest)})."
        cure = CURES.get(cause, "")
    return Trouble(
        item=emitters[0].name, spot=emitters[0].spot, number=ratio, limit=limit,
        says=capital(f"{listed([emitter.name for emitter in emitters])}: resistors of one value, yet one LED may take "
                     f"{plain(high_a / low_a, 3)} times the current of another and be {plain(ratio, 3)} times as "
                     f"bright; {plain(limit)} times is the most for lamps that should look alike.{harm}"),
        cure=cure,
    )


RULE = Rule(
    key="electric.parallel-differ",
    grade=Grade.DOUBTFUL,
    title="LEDs in parallel may differ",
    unit="times",
    why="LEDs of one kind differ by a few tenths of a volt, resistors by their tolerance, contacts by a few "
        "hundredths of an ohm; with little voltage left for the resistor that is a lot of current.",
    cure="Use a higher supply voltage, or buy LEDs of one bin and try them side by side before soldering.",
    source=NETWORK + " with LEDs of low and high forward voltage, resistors and contacts at both ends",
    look=_look,
)
