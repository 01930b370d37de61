"""Faults, probes and places in the modeller's words."""

from __future__ import annotations

from dataclasses import replace

from rushlight.electric.rewired import REWIRED_KINDS, Fault
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead
from rushlight.stages.fault_probe import APART_OHM, COPPER_V, DIODE_V, JOINED_OHM, LED_V, THROUGH_V
from rushlight.stages.fault_rewired_words import lead_of, rewired_words, upper
from rushlight.stages.fault_seen import BETWEEN, Look, Probe, Verdict

WIRE = {
    "open": "broken, or one of its joints is open",
    "poor joint": "one of its joints is cold, or it hangs by a strand",
}
PARTS = {
    "fuse": ("the fuse", "blown or not in its holder"), "makers": ("the controller's own feed", "not joined"),
}
BESIDE = {-1: "dimmer than X", 0: "as bright as X", 1: "brighter than X"}

BLOWN = " The fuse has gone because of it (a resettable one has cut off): mend it before you switch on again."


def fault_words(design: Design, fault: Fault) -> str:
    """A fault and where to look for it, as one sentence."""
    name = fault.element
    if fault.kind == "none":
        return "Nothing that shows."
    if fault.kind == "two":
        return " ".join(["Two at once:", *(fault_words(design, one) for one in fault.parts)])
    if fault.blown:
        return fault_words(design, replace(fault, blown=False)) + BLOWN
    if fault.kind in REWIRED_KINDS:
        return rewired_words(design, fault)
    if fault.kind == "weak supply":
        return f"The supply: {_cells(design, fault)}."
    if name.startswith("lead "):
        return _lead_words(design, name.removeprefix("lead "), fault)
    if " / " in name or name.startswith("dimmer "):
        return _emitter_words(design, name.removeprefix("dimmer ").rsplit(" / ", 1), fault)
    if name in PARTS:
        what, how = PARTS[name]
        how = {"poor joint": "a poor contact", "short": "its plus and its return touch"}.get(fault.kind, how)
        return f"{upper(what)}: {how}{ohm_words(fault)}."
    return f"{upper(in_bay(name))}: {_bay_fault(fault)}{ohm_words(fault)}."


def _lead_words(design: Design, name: str, fault: Fault) -> str:
    lead = lead_of(design, name)
    how = WIRE[fault.kind] + ohm_words(fault)
    legs = ("the minus of ", "the plus of ") if lead.net == "link" else ("", "")
    return f"Lead {name} ({lead.colour}), from {legs[0]}{lead.start} to {legs[1]}{lead.end}{_way(lead)}: {how}."


def _cells(design: Design, fault: Fault) -> str:
    count = design.plan.supply.in_series if design.plan.supply else 1
    return "one cell is dead" if round(count * (1 - fault.factor)) < 2 else "one cell is the wrong way round"


def ohm_words(fault: Fault) -> str:
    """How much a cold joint adds, where that is known."""
    return f" ({fault.ohm[0]:g} to {fault.ohm[1]:g} ohm too much)" if fault.ohm[1] > fault.ohm[0] else ""


def _way(lead: Lead) -> str:
    if not lead.legs:
        return ""
    first, last = lead.legs[0], lead.legs[-1]
    ends = [(first.part, first.points_mm[0]), (last.part, last.points_mm[-1])]
    return ", " + " to ".join(f"{part} {x:.0f}, {y:.0f} mm" for part, (x, y) in ends)


def _emitter_words(design: Design, name: list[str], fault: Fault) -> str:
    emitter = design.loom.emitter(name[0])
    part = "regulator" if design.power.regulator(name[0]) else "resistor"
    its = "" if design.loom.beyond(name[0]) else f" or at its {part}"
    segment = f", segment {name[1]}" if emitter.segments > 1 and len(name) > 1 else ""
    spot = emitter.spot
    where = f"{emitter.name}{segment}, {spot.part} {spot.x_mm:.0f}, {spot.y_mm:.0f} mm"
    how = {
        "open": f"the LED is dead, or a joint at it{its} is open",
        "reversed": "the LED is the wrong way round",
        "short": "the LED's legs touch", "poor joint": f"a cold joint at it{its}",
        "regulator bridged": "its regulator is bridged: the LED takes all that the supply gives",
        "regulator reversed": "its regulator is the wrong way round and guards nothing: the ring belongs to the LED",
        "wrong resistor": f"its resistor is {fault.factor:g} times what it should be: read its bands again",
    }
    return f"{where}: {how[fault.kind]}."


def in_bay(name: str) -> str:
    """A part in the bay: a contact, a feed, a steering diode, what makes a rhythm."""
    word, _, rest = name.partition(" ")
    return {
        "contact": f"contact {rest} of the switch", "channel": f"the channel of circuit {rest}: its driver or its pin",
        "feed": f"the lead from the switch to feed {rest}",
        "tie": f"the link from throw {'.'.join(rest.split('.')[:2])} of the switch to feed {_feeds(rest)}",
        "maker": f"what makes the rhythm of circuit {rest}",
        "diode": f"the diode from throw {rest.split('.')[0]} of the switch to feed {_feeds(rest)}",
    }.get(word, name)


def _feeds(rest: str) -> str:
    return rest.rsplit(".", 1)[-1].replace("+", " and ")


def _bay_fault(fault: Fault) -> str:
    return {
        "open": "it does not close, or a joint is open", "stuck": "it stays closed", "poor joint": "a cold joint",
        "reversed": "it is the wrong way round", "short": "it is bridged",
        "wrong resistor": f"it is {fault.factor:g} times what it should be",
    }.get(fault.kind, fault.kind)


def probe_words(probe: Probe, dial: str = "20 V DC") -> str:
    """What to do, with the dial (of a voltage) and where the probes go."""
    if probe.kind == "look":
        return (f"Look, with the switch on '{probe.state}': which lamps are dark or much too dim beside their like, "
                "and which are lit though they should be dark?")
    if probe.kind == "supply":
        return (f"Switch on '{probe.state}', meter on mA DC in the lead from the supply's plus: what does the supply "
                "give?")
    if probe.kind == "beside":
        return (f"Look, with the switch on '{probe.state}': is {probe.plus} as bright as {probe.back}, which is meant "
                "to be its like?")
    if probe.kind == "ohms":
        return (f"Supply taken off, switch on '{probe.state}', meter on 200 ohm: one probe on "
                f"{place_words(probe.plus)}, the other on {place_words(probe.back)}.")
    if probe.kind == "diode":
        return (f"Supply taken off, switch on '{probe.state}', meter on diode test: red probe on "
                f"{place_words(probe.plus)}, black probe on {place_words(probe.back)}.")
    if probe.kind == "resistor":
        return f"Switch on '{probe.state}', meter on {dial} across the resistor of {probe.plus}."
    return (f"Switch on '{probe.state}', meter on {dial}: red probe on {place_words(probe.plus)}, black probe on "
            f"{place_words(probe.back)}.")


def place_words(name: str) -> str:
    """A place for a probe: a terminal in the bay, a leg of an LED, a splice."""
    if name.startswith("bay "):
        circuit = name.removeprefix("bay ")
        if circuit == "+":
            return "the plus behind the fuse, at the switch"
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
        lit = f"lit though it should be dark: {', '.join(sorted(shown.lit))}" if shown.lit else ""
        return "; ".join(part for part in (dark, dim, lit) if part) or "all as they should"
    if probe.kind == "beside":
        return " or ".join(BESIDE[k] for k in range(round(shown[0]), round(shown[1]) + 1)).replace("X", probe.back)
    if probe.kind == "ohms":
        words = f"a few ohm, under {JOINED_OHM:g}" if shown[0] <= JOINED_OHM else ""
        return " or ".join(part for part in (words, "OL, or far more" if shown[1] > APART_OHM else "") if part)
    if probe.kind == "diode":
        return _diode_words(*shown)
    if probe.kind == "supply":
        most = f"{shown[1]:.1f} mA"
        return most if shown[1] - shown[0] < 0.05 else f"{shown[0]:.1f} to {most}"
    low, high = (digits_of(end, 1) for end in shown)
    middle = (shown[0] + shown[1]) / 2
    return f"{digits_of(middle, 2)} V" if shown[1] - shown[0] < 0.005 or low == high else f"{low} to {high} V"


def _diode_words(low: float, high: float) -> str:
    """Copper, a steering diode, an LED or nothing: what may show of these."""
    through = low <= THROUGH_V
    first = f"under {COPPER_V:g} V" if high <= COPPER_V else f"under {THROUGH_V:g} V"
    first = f"{DIODE_V:g} to {THROUGH_V:g} V" if low >= DIODE_V else first
    over = f"OL, or over {LED_V:g} V" if high > LED_V else ""
    return " or ".join(part for part in (first if through else "", over) if part)


def digits_of(value: float, places: int) -> str:
    """So many digits after the point; nothing has no minus."""
    return f"{round(value, places) + 0.0:.{places}f}"


def why_words(found: Verdict) -> str:
    """Why the next probe and no nearer one; empty where nothing is proposed."""
    groups = len(found.suspects)
    if found.next_probe is None or groups < 2:
        return ""
    left = max(round(found.left_after), 1)
    told = f"Why this one: of the {groups} that can be told apart it leaves about {left}"
    if groups == 2:
        told = "Why this one: it tells the two apart" if left == 1 else "Why this one: it may tell the two apart"
    far = ("; its places need not lie at the fault, what goes wrong there shows here too"
           if found.next_probe.kind in BETWEEN else "")
    return f"{told}, and with what comes after it no other leads there sooner{far}."
