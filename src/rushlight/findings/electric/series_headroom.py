"""LEDs in series, or one LED, that take nearly all of the lowest supply voltage."""

from __future__ import annotations

from rushlight.electric.led import voltage_at_current
from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric import drift
from rushlight.findings.electric._currents import by_part
from rushlight.findings.electric._words import PRACTICE, cells_of
from rushlight.findings.electric.supply_low import starved
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.network import emitter_law


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.power.supply
    if supply is None:
        return ()
    told = {emitter.name for emitter in starved(design)} | drift.drifting(design)
    told |= {row.emitter for row in design.power.regulators}
    lowest_v = supply.flat_v if cells_of(design) else supply.nominal_v
    limit = design.drawer.habit("series_headroom").high or 0.8
    found = []
    for emitters in by_part(row for row in design.loom.emitters if row.name not in told).values():
        emitters.sort(key=lambda row: _in_series(design, row), reverse=True)
        share = _sum_v(design, emitters[0]) / lowest_v
        if share > limit:
            found.append(_trouble(design, emitters, share=share, limit=limit, lowest_v=lowest_v))
    return tuple(found)


def _sum_v(design: Design, emitter: Emitter) -> float:
    """Forward voltages of the LEDs that lie in series, at the current that each is meant to take."""
    amps = emitter.aim_current_a / max(emitter.segments, 1)
    return _in_series(design, emitter) * sum(
        float(voltage_at_current(law, amps)) for law in emitter_law(design.drawer, emitter).laws
    )


def _in_series(design: Design, emitter: Emitter) -> int:
    """How many like LEDs stand in the emitter's string."""
    string = design.loom.string_of(emitter.name)
    return len(string.emitters) if string else 1


def _trouble(design: Design, emitters: list[Emitter], *, share: float, limit: float, lowest_v: float) -> Trouble:
    names = listed([emitter.name for emitter in emitters])
    count = _in_series(design, emitters[0]) * len(emitter_law(design.drawer, emitters[0]).laws)
    what = "LED takes" if count == 1 else f"{count} LEDs in series take"
    return Trouble(
        item=emitters[0].name, spot=emitters[0].spot, number=share, limit=limit,
        says=capital(f"{names}: the {what} {plain(share * lowest_v)} V of the lowest {plain(lowest_v)} V, "
                     f"{share:.0%} of it; {limit:.0%} is the most."),
        cure=f"Use a supply that never falls under {plain(share * lowest_v / limit)} V, or fewer LEDs in series.",
    )


RULE = Rule(
    key="electric.series-headroom",
    grade=Grade.COULD_BE_BETTER,
    title="Little voltage left for the resistor",
    unit="share",
    why="The resistor sets the current by what is left over: with little left, every tenth of a volt of cells or LEDs "
        "changes the light.",
    cure="Use a higher supply voltage, or fewer LEDs in series.",
    source=PRACTICE,
    practice="series_headroom",
    look=_look,
)
