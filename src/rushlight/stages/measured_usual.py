"""What a reading of a thing of the plan is held against: what is reckoned of it where it had not been read."""

from __future__ import annotations

from dataclasses import replace

from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.optics.eye import room_lux
from rushlight.stages.build import Build
from rushlight.stages.filming import asked_pulses_hz
from rushlight.stages.heat import power_inside_w, shown_w
from rushlight.stages.leaks import ROOMS
from rushlight.stages.light import lamp_lights
from rushlight.stages.measured_found import POST_PAINT, lamp_in
from rushlight.stages.spaces import rises_over_k, room_c, space_box
from rushlight.stages.supplies import FEED_POWER
from rushlight.stages.ways_out import usual_root_times
from rushlight.units import Range

Key = tuple[str, str]
"""What was read, and of what: as in the drawer's bench."""


def usual_readings(design: Design) -> dict[Key, Range]:
    """Of what was read of things of the plan what is reckoned of them without the reading.

    Parameters
    ----------
    design : Design
        With its readings.
    Returns
    -------
    dict
        By what was read and of what a range, in the reading's unit. Only of what was read; what is believed of parts of
        the drawer stands beside their readings (`BenchValue.believed`).
    Source
    ------
    The stages' own laws with that one kind of reading taken out.
    """
    read = {(one.what, one.of) for one in design.drawer.bench}
    every = _room(design) | _feeds(design) | _spaces(design, read) | _roots(design)
    if any(what == "lamp" for what, _ in read):
        every |= _lamps(design)
    return {key: usual for key, usual in every.items() if key in read}


def _without(drawer: Drawer, *methods: str) -> Drawer:
    return replace(drawer, bench=tuple(row for row in drawer.bench if row.what not in methods))


def _build(design: Design, drawer: Drawer) -> Build:
    return Build(design.plan, drawer, design.lamps, design.sources, design.circuits, design.loom, design.power)


def _room(design: Design) -> dict[Key, Range]:
    return {("room light", "room"): room_lux(ROOMS[design.plan.subject.viewing_room]),
            ("pulse rate", "controller"): asked_pulses_hz(design.plan)}


def _roots(design: Design) -> dict[Key, Range]:
    return {(POST_PAINT, part.name): usual_root_times(design.drawer, part) for part in design.plan.parts}


def _feeds(design: Design) -> dict[Key, Range]:
    return {(FEED_POWER, state.state): shown_w(design.plan, state) for state in design.power.states}


def _spaces(design: Design, read: set[Key]) -> dict[Key, Range]:
    """Warmth at the power that was read; that power against all that any state burns there."""
    drawer, found = _without(design.drawer, "hull warmth", FEED_POWER), dict[Key, Range]()
    for space in design.plan.spaces:
        watts = design.drawer.measured("hull power", space.name)
        if watts is None or ("hull warmth", space.name) not in read:
            continue
        box = space_box(design.plan, space, drawer)
        found["hull warmth", space.name] = rises_over_k(box, watts, room_c(design.plan))[0]
        build = _build(design, drawer)
        burnt = [power_inside_w(build, state, space.parts) for state in design.power.states if state.lit]
        if burnt:
            found["hull power", space.name] = Range(
                min(one.low for one in burnt), max(one.typical for one in burnt), max(one.high for one in burnt))
    return found


def _lamps(design: Design) -> dict[Key, Range]:
    lights = lamp_lights(_build(design, _without(design.drawer, "lamp")), design.aims)
    return {("lamp", lamp_in(light.lamp, light.state)): light.looked_at.intensity_cd for light in lights}
