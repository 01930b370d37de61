"""What gives a window of a lit room more light, as tried on the plan: white coats inside, a clearer sheet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Emitter
from rushlight.model.plan import Plan, Space
from rushlight.model.plan_part import Opening, Part
from rushlight.stages.coats import WHITE
from rushlight.stages.rooms import opening_named, room_light, shared_space

MOST_WHITE = 3
"""So many more coats of white a builder may spray into a room; more show little (project rule)."""

SHOWS = 1.1
"""What gives less than a tenth more is no way at all (project rule)."""

OFF = 1.02
"""A way is enough only so much over what is lacking: the network gives each LED a little less when others take more."""


@dataclass(frozen=True, slots=True)
class RoomWay:
    """A changed plan that gives a window `times` its light: `count` coats on `parts`, or the sheet `sheet`."""

    times: float
    count: int = 0
    parts: tuple[str, ...] = ()
    sheet: str = ""


def more_white(design: Design, light: LampLight, emitter: Emitter, lacks: float) -> RoomWay | None:
    """The fewest coats of white over what the walls of a window's room have that give so many times the light.

    Parameters
    ----------
    design : Design
        The whole design.
    light : LampLight
        A window of a lit room, in the state that counts.
    emitter : Emitter
        Its LED.
    lacks : float
        How many times the light is wanted [-].
    Returns
    -------
    RoomWay or None
        The most that coats do where none is enough; None where they do next to nothing, or no room is in the plan.
    Source
    ------
    `stages.rooms.room_light` of the changed plan: white over dark paint shows it through, so that each coat counts.
    """
    space = _space(design, light)
    if space is None:
        return None
    best = None
    for count in range(1, MOST_WHITE + 1):
        def painted(part: Part, more: int = count) -> Part:
            return replace(part, coats=(*part.coats, *(WHITE,) * more)) if part.name in space.parts else part

        times = _times(design, light, emitter, painted)
        if times > SHOWS and (best is None or times > best.times):
            best = RoomWay(times, count, space.parts)
        if times >= lacks * OFF:
            break
    return best


def clearer_sheet(design: Design, light: LampLight, emitter: Emitter, lacks: float) -> RoomWay | None:
    """The least clear sheet in place of all that are there which gives so many times the light and hides the LED as
    they do; None where none does."""
    spot, window = design.lamp(light.lamp).spot, design.lamp(light.lamp).opening
    opening = opening_named(design.plan, spot.part if spot else None, window)
    if opening is None or not opening.diffusers:
        return None
    there = {row.sheet for row in opening.diffusers}
    hides = any(design.drawer.diffuser(name).hides_source for name in there)
    sold = sorted((row for row in design.drawer.diffusers if row.name not in there and (row.hides_source or not hides)),
                  key=lambda row: (row.transmittance.typical, row.name))
    for row in sold:
        def hung(part: Part, sheet: str = row.name) -> Part:
            return replace(part, openings=tuple(_one_sheet(own, sheet) if spot and part.name == spot.part
                                                and own.name == window else own for own in part.openings))

        times = _times(design, light, emitter, hung)
        if times >= lacks * OFF:
            return RoomWay(times, sheet=row.name)
    return None


def _one_sheet(opening: Opening, sheet: str) -> Opening:
    return replace(opening, diffusers=(replace(opening.diffusers[0], sheet=sheet),))


def _space(design: Design, light: LampLight) -> Space | None:
    """The room behind a window, if the plan has it."""
    lamp, plan = design.lamp(light.lamp), design.plan
    opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    own = next((space for space in plan.spaces if opening is not None and space.name == opening.name), None)
    return shared_space(plan, opening) or own


def _times(design: Design, light: LampLight, emitter: Emitter, changed: Callable[[Part], Part]) -> float:
    plan = replace(design.plan, parts=tuple(changed(part) for part in design.plan.parts))
    now = _seen(design, design.plan, light, emitter)
    return _seen(design, plan, light, emitter) / now if now > 0 else 0.0


def _seen(design: Design, plan: Plan, light: LampLight, emitter: Emitter) -> float:
    """What is seen of a window with its LED at one current."""
    lamp = design.lamp(light.lamp)
    opening = opening_named(plan, lamp.spot.part if lamp.spot else None, lamp.opening)
    led = design.drawer.led(emitter.part_row)
    return room_light(plan, design.drawer, led, opening=opening, light_a=1.0, state=light.state)[1].typical
