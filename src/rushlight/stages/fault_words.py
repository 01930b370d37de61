"""Faults, probes and places in the modeller's words."""

from __future__ import annotations

from rushlight.electric.fault import Fault
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead
from rushlight.stages.fault_finding import Look, Probe

WIRE = {
    "open": "broken, or one of its joints is open",
    "poor joint": "one of its joints is cold, or it hangs by a strand",
}
PARTS = {
    "fuse": ("the fuse", "blown or not in its holder"), "makers": ("the controller's own feed", "not joined"),
    "supply": ("the supply", "one cell is dead, or is the wrong way round"),
}


def fault_words(design: Design, fault: Fault) -> str:
    """A fault and where to look for it, as one sentence."""
    name = fault.element
    if fault.kind == "none":
        return "Nothing that shows."
    if name.startswith("lead "):
        return _lead_words(design, name.removeprefix("lead "), fault)
    if " / " in name or name.startswith("dimmer "):
        return _emitter_words(design, name.removeprefix("dimmer ").rsplit(" / ", 1), fault)
    if name in PARTS:
        what, how = PARTS[name]
        return f"{what.capitalize()}: {how}{'' if fault.kind != 'poor joint' else ', or a poor contact'}."
    return f"{_in_bay(name).capitalize()}: {_bay_fault(fault)}."


def _lead_words(design: Design, name: str, fault: Fault) -> str:
    lead = next(row for row in design.loom.leads if row.name == name)
    return f"Lead {name} ({lead.colour}), from {lead.start} to {lead.end}{_way(lead)}: {WIRE[fault.kind]}."


def _way(lead: Lead) -> str:
    if not lead.legs:
        return ""
    first, last = lead.legs[0], lead.legs[-1]
    ends = [(first.part, first.points_mm[0]), (last.part, last.points_mm[-1])]
    return ", " + " to ".join(f"{part} {x:.0f}, {y:.0f} mm" for part, (x, y) in ends)


def _emitter_words(design: Design, name: list[str], fault: Fault) -> str:
    emitter = design.loom.emitter(name[0])
    segment = f", segment {name[1]}" if emitter.segments > 1 and len(name) > 1 else ""
    spot = emitter.spot
    where = f"{emitter.name}{segment}, {spot.part} {spot.x_mm:.0f}, {spot.y_mm:.0f} mm"
    how = {
        "open": "the LED is dead, or a joint at it or at its resistor is open",
        "reversed": "the LED is the wrong way round",
        "short": "the LED's legs touch", "poor joint": "a cold joint at it or at its resistor",
        "wrong resistor": f"its resistor is {fault.factor:g} times what it should be: read its bands again",
    }
    return f"{where}: {how[fault.kind]}."


def _in_bay(name: str) -> str:
    word, _, rest = name.partition(" ")
    return {
        "contact": f"contact {rest} of the switch", "feed": f"the lead from the switch to feed {rest}",
        "tie": f"the link at throw {'.'.join(rest.split('.')[:2])} of the switch",
        "maker": f"what makes the rhythm of circuit {rest}",
        "diode": f"the diode at throw {rest.split('.')[0]} of the switch",
    }.get(word, name)


def _bay_fault(fault: Fault) -> str:
    return {
        "open": "it does not close, or a joint is open", "stuck": "it stays closed", "poor joint": "a cold joint",
        "reversed": "it is the wrong way round", "short": "it is bridged",
        "wrong resistor": f"it is {fault.factor:g} times what it should be",
    }.get(fault.kind, fault.kind)


def probe_words(probe: Probe) -> str:
    """What to do, with the dial and where the probes go."""
    if probe.kind == "look":
        return f"Look, with the switch on '{probe.state}': which lamps are dark or much too dim beside their like?"
    if probe.kind == "supply":
        return (f"Switch on '{probe.state}', meter on mA DC in the lead from the supply's plus: what does the supply "
                "give?")
    if probe.kind == "resistor":
        return f"Switch on '{probe.state}', meter on 20 V DC across the resistor of {probe.plus}."
    return (f"Switch on '{probe.state}', meter on 20 V DC: red probe on {place_words(probe.plus)}, black probe on "
            f"{place_words(probe.back)}.")


def place_words(name: str) -> str:
    """A place for a probe: a terminal in the bay, a leg of an LED, a splice."""
    if name.startswith("bay "):
        circuit = name.removeprefix("bay ")
        return "the return in the bay" if circuit == "R" else f"feed {circuit} in the bay"
    if name.endswith(("+", "-")):
        side = "plus" if name.endswith("+") else "return"
        return f"the {side} side of {name[:-1]}"
    return f"splice {name}"


def outcome_words(probe: Probe, shown: tuple[float, float] | Look) -> str:
    """What a probe would show."""
    if isinstance(shown, Look):
        dark = f"dark: {', '.join(sorted(shown.dark))}" if shown.dark else ""
        dim = f"dim: {', '.join(sorted(shown.dim))}" if shown.dim else ""
        return "; ".join(part for part in (dark, dim) if part) or "all as they should"
    if probe.kind == "supply":
        return f"{shown[0]:.1f} mA"
    return f"{shown[0]:.2f} V" if shown[1] - shown[0] < 0.005 else f"{shown[0]:.1f} to {shown[1]:.1f} V"
