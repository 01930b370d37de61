"""Fibre that gets warmer than PMMA likes: at its LED, or in the air of a closed space."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.thermal.led_rise import limit_of


def _look(design: Design) -> tuple[Trouble, ...]:
    advise = limit_of("PMMA fibre").advise_c
    joints = [_joint(design, bundle, advise) for bundle in design.loom.bundles]
    return tuple(trouble for trouble in (*joints, *_spaces(design, advise)) if trouble is not None)


def _joint(design: Design, bundle: Bundle, advise: float) -> Trouble | None:
    """The face that a bundle touches is no hotter than the junction behind it."""
    heat = next((row for row in design.heat.leds if row.emitter == bundle.emitter), None)
    bears = min(design.drawer.fibre(mm).max_temp_c for mm in bundle.fibre_mm)
    if heat is None or heat.junction_c.high <= min(advise, bears):
        return None
    over = heat.junction_c.high > bears
    limit = bears if over else advise
    return Trouble(
        item=bundle.emitter, spot=design.loom.emitter(bundle.emitter).spot, number=heat.junction_c.high, limit=limit,
        grade=Grade.WILL_FAIL if over else None,
        says=f"The LED of '{bundle.emitter}' may reach {plain(heat.junction_c.high, 3)} degC where its bundle "
             f"touches it; the fibre bears {plain(limit, 3)} degC.",
        cure="Lower its current, or leave 2 mm of air between LED and bundle inside the sleeve.",
    )


def _spaces(design: Design, advise: float) -> list[Trouble | None]:
    found: list[Trouble | None] = []
    for row in design.heat.spaces:
        parts = next(space.parts for space in design.plan.spaces if space.name == row.space)
        fibres = [tail.fibre_mm for tail in design.loom.tails if any(leg.part in parts for leg in tail.legs)]
        air = design.heat.room_c.high + row.air_rise_k.high
        if not fibres or air <= advise:
            continue
        bears = min(design.drawer.fibre(mm).max_temp_c for mm in fibres)
        over = air > bears
        found.append(Trouble(
            item=row.space, spot=Spot(parts[0], *design.plan.part(parts[0]).outline_mm[0]), number=air,
            limit=bears if over else advise, grade=Grade.WILL_FAIL if over else None,
            says=f"The air in '{row.space}' reaches {plain(air, 3)} degC at most in '{row.state}', and {len(fibres)} "
                 f"fibres run through it that bear {plain(bears if over else advise, 3)} degC.",
        ))
    return found


RULE = Rule(
    key="heat.fibre-too-warm",
    grade=Grade.DOUBTFUL,
    title="Fibre too warm",
    unit="degC",
    why="Warm PMMA shrinks back and turns cloudy, and its tails go dim one after the other.",
    cure="Less power inside the space, or vents.",
    source="usual limit of plastic fibre (70 degC, from memory); the LED's face is no hotter than its "
           "junction",
    look=_look,
)
