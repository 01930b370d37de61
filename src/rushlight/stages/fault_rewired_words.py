"""Bridges, swapped leads and leads on a wrong splice in the modeller's words."""

from __future__ import annotations

from rushlight.electric.rewired import Fault
from rushlight.model.design import Design
from rushlight.model.design_loom import Lead


def lead_of(design: Design, name: str) -> Lead:
    """The lead of that name."""
    return next(row for row in design.loom.leads if row.name == name)


def rewired_words(design: Design, fault: Fault) -> str:
    """What is joined that should not be, and where on the model."""
    if fault.kind == "bridged":
        return _bridged(design, fault)
    one = lead_of(design, fault.element.removeprefix("lead "))
    if fault.kind == "wrong splice":
        far = one.end if _is_at(one.start, fault.at) else one.start
        return (f"Lead {one.name} ({one.colour}) to {far} is joined to the wrong place: it sits on "
                f"{_place(design, fault.other)}, and belongs on {_place(design, fault.at)}.")
    two = lead_of(design, fault.other.removeprefix("lead "))
    where = f"{one.name} ({one.colour}) and {two.name} ({two.colour})"
    if not fault.at and one.end == two.end:
        return (f"{_emitter(design, one.end)}: its two leads are swapped, {where}; {one.name} belongs on "
                f"{_place(design, f'node {one.start}')}, {two.name} on {_place(design, f'node {two.start}')}.")
    near = one.end if fault.at and _is_at(one.end, fault.at) else one.start
    return (f"Leads {where} are swapped: {one.name} belongs on {_place(design, f'node {near}')}, {two.name} on "
            f"{_place(design, f'node {two.start}')}.")


def _is_at(end: str, node: str) -> bool:
    return node in (f"node {end}", f"{end}+", f"{end}-")


def _bridged(design: Design, fault: Fault) -> str:
    if fault.element.endswith("+") and fault.other == f"{fault.element[:-1]}-":
        return (f"{_emitter(design, fault.element[:-1])}: its two leads touch before the resistor, by solder or bared "
                "wire.")
    one, two = _place(design, fault.element), _place(design, fault.other)
    return f"{upper(one)} and {two} touch: a bridge of solder or bared wire joins them."


def upper(text: str) -> str:
    """The text with its first letter large; names inside keep theirs."""
    return text[:1].upper() + text[1:]


def _place(design: Design, node: str) -> str:
    name = node.removeprefix("node ")
    if name.startswith("bay "):
        circuit = name.removeprefix("bay ")
        return "the return in the bay" if circuit == "R" else f"feed {circuit} in the bay"
    splice = next((row for row in design.loom.splices if row.name == name), None)
    if splice is None:
        return _emitter(design, name.rstrip("+-"))
    return f"splice {name} at {splice.spot.part} {splice.spot.x_mm:.0f}, {splice.spot.y_mm:.0f} mm"


def _emitter(design: Design, name: str) -> str:
    spot = design.loom.emitter(name).spot
    return f"{name}, {spot.part} {spot.x_mm:.0f}, {spot.y_mm:.0f} mm"
