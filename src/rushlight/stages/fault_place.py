"""Where on the model a fault or a probe is: places on parts, and the leads that are meant."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.electric.fault import Fault
from rushlight.model.design import Design
from rushlight.model.place import Point


@dataclass(frozen=True, slots=True)
class Place:
    """A place on a part [mm]; `lead` names the lead whose whole run is meant."""

    part: str
    at_mm: Point
    lead: str = ""


def fault_places(design: Design, fault: Fault) -> tuple[Place, ...]:
    """Where to look for a fault; nothing for 'none', or where the plan gives the supply no bay.

    Parameters
    ----------
    design : Design
        With its loom.
    fault : Fault
        One of the known faults; of two at once the places of both.
    Returns
    -------
    tuple of Place
        Each once. A lead has both its ends; what sits in the bay has the bay's middle.
    """
    if fault.kind == "none":
        return ()
    names = [name for one in fault.singles for name in (one.element, one.other, one.at) if name] \
        if hasattr(fault, "singles") else [fault.element]
    return tuple(dict.fromkeys(place for name in names for place in element_places(design, name)))


def element_places(design: Design, name: str) -> tuple[Place, ...]:
    """Where an element or a node of the network is."""
    if name.startswith("lead "):
        return _lead_ends(design, name.removeprefix("lead "))
    if name.startswith("node "):
        return probe_places(design, name.removeprefix("node "))
    bare = name.removeprefix("dimmer ")
    for word in (bare, bare.rsplit(" / ", 1)[0], bare.rstrip("+-")):
        found = _emitter(design, word)
        if found:
            return found
    return bay_place(design)


def probe_places(design: Design, place: str) -> tuple[Place, ...]:
    """Where a probe is held: a splice, a side of an LED, a terminal in the bay."""
    for splice in design.loom.splices:
        if splice.name == place:
            return (Place(splice.spot.part, splice.spot.at_mm),)
    if place.startswith("bay "):
        return _terminal(design, place) or bay_place(design)
    return _emitter(design, place.rstrip("+-")) or _terminal(design, place)


def bay_place(design: Design) -> tuple[Place, ...]:
    """The middle of the supply's bay."""
    wanted = design.plan.supply.bay if design.plan.supply else None
    for part in design.plan.parts:
        for bay in part.bays:
            if bay.name == wanted:
                x, y, width, height = bay.rect_mm
                return (Place(part.name, (x + width / 2, y + height / 2)),)
    return ()


def _emitter(design: Design, name: str) -> tuple[Place, ...]:
    return tuple(Place(row.spot.part, row.spot.at_mm) for row in design.loom.emitters if row.name == name)[:1]


def _lead_ends(design: Design, name: str) -> tuple[Place, ...]:
    lead = next((row for row in design.loom.leads if row.name == name), None)
    if lead is None:
        return ()
    if not lead.legs:  # its two ends lie at one place
        return (*probe_places(design, lead.start), *probe_places(design, lead.end))[:1]
    first, last = lead.legs[0], lead.legs[-1]
    return (Place(first.part, first.points_mm[0], name), Place(last.part, last.points_mm[-1], name))


def _terminal(design: Design, place: str) -> tuple[Place, ...]:
    """Where the first lead of a terminal or a plug starts or ends."""
    for lead in design.loom.leads:
        if lead.legs and lead.start == place:
            return (Place(lead.legs[0].part, lead.legs[0].points_mm[0]),)
        if lead.legs and lead.end == place:
            return (Place(lead.legs[-1].part, lead.legs[-1].points_mm[-1]),)
    return ()
