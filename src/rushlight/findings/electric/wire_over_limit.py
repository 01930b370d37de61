"""A lead that carries more than a wire of its gauge bears in a loom."""

from __future__ import annotations

from rushlight.electric.wire import bundled_a, single_wire_a
from rushlight.errors import OutOfRange, UnknownName
from rushlight.findings._words import capital, listed
from rushlight.findings.electric._currents import lead_currents
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def alone_a(design: Design, lead: Lead) -> float:
    """What the lead's wire bears alone in free air; twice its loom limit where no handbook has a figure."""
    wire = design.drawer.wire(lead.wire)
    try:
        return single_wire_a(wire.awg)
    except (OutOfRange, UnknownName):
        return 2 * wire.loom_limit_a


def _look(design: Design) -> tuple[Trouble, ...]:
    amps = lead_currents(design)
    over = [lead for lead in design.loom.leads if amps[lead.name] > design.drawer.wire(lead.wire).loom_limit_a]
    by_wire: dict[str, list[Lead]] = {}
    for lead in over:
        by_wire.setdefault(lead.wire, []).append(lead)
    return tuple(_trouble(design, leads, amps) for leads in by_wire.values())


def _trouble(design: Design, leads: list[Lead], amps: dict[str, float]) -> Trouble:
    worst = max(leads, key=lambda lead: amps[lead.name])
    limit = design.drawer.wire(worst.wire).loom_limit_a
    at = worst.legs[0] if worst.legs else None
    return Trouble(
        item=worst.name, number=amps[worst.name], limit=limit,
        spot=Spot(at.part, *at.points_mm[0]) if at else None,
        grade=Grade.DANGEROUS if amps[worst.name] > alone_a(design, worst) else None,
        says=capital(f"{listed([lead.name for lead in leads])}: up to {ma(amps[worst.name])} in {worst.wire}, which "
                     f"bears {ma(limit)} in a loom."),
        cure=_cure(amps[worst.name]),
    )


def _cure(amps: float) -> str:
    fitting = [gauge for gauge in range(30, 16, -2) if bundled_a(gauge) >= amps]
    if not fitting:
        return "Split the load over several leads, or lower the currents."
    return f"Use {fitting[0]} AWG, or lower the currents."


RULE = Rule(
    key="electric.wire-over-limit",
    grade=Grade.WILL_FAIL,
    title="Wire over its limit",
    unit="A",
    why="Wires that lie together in a closed model cannot give off their heat; their insulation and the plastic "
        "soften.",
    cure="Use a thicker wire.",
    source="700 circular mils an ampere (common practice); hard limit: handbook figures for single wires",
    look=_look,
)
