"""A closed space whose wall gets warmer than its plastic likes."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import SpaceHeat
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, row) for row in design.heat.spaces if row.wall_c.high > row.advise_c)


def _trouble(design: Design, row: SpaceHeat) -> Trouble:
    space = next(entry for entry in design.plan.spaces if entry.name == row.space)
    part = design.plan.part(space.parts[0])
    stop = row.wall_c.high > row.stop_c
    limit = row.stop_c if stop else row.advise_c
    melts = row.wall_c.typical > row.stop_c
    room = design.heat.room_c.high
    share = max(row.advise_c - room, 0.0) / max(row.wall_c.high - room, 1e-9)
    return Trouble(
        item=row.space, spot=Spot(part.name, *part.outline_mm[0]), number=row.wall_c.high, limit=limit,
        grade=Grade.DANGEROUS if melts else Grade.WILL_FAIL if stop else None,
        says=f"In '{row.state}' up to {plain(row.power_w.high)} W warm the walls of '{row.space}' to "
             f"{plain(row.wall_c.high, 3)} degC at most in a room of {plain(room, 3)} degC, the air in it to "
             f"{plain(room + row.air_rise_k.high, 3)} degC; {part.wall} bears {plain(limit, 3)} degC."
             f"{_evening_words(design, row)}",
        cure=f"Bring its power down to {plain(row.power_w.high * share)} W at most (dimmer strips, shorter lit times)"
             f"{_vents(row)}.",
    )


def _vents(row: SpaceHeat) -> str:
    if row.vents_for_mm2 is None:
        return ""
    return f", or give it vents of {plain(row.vents_for_mm2)} mm2 in all, half of them low, half high"


def _evening_words(design: Design, row: SpaceHeat) -> str:
    """How long the state may stay on from cold, and whether the described evening is short enough."""
    held = "" if row.hold_h is None else (
        f" Left on from cold, they pass {plain(row.advise_c, 3)} degC after {plain(60 * row.hold_h)} min.")
    evening = next((one for one in design.heat.evening if one.space == row.space), None)
    if evening is None:
        return held
    if evening.advise_h is None:
        return f"{held} The evening as described stays below it."
    return f"{held} In the evening as described they do so after {plain(60 * evening.advise_h)} min."


RULE = Rule(
    key="heat.wall-too-warm",
    grade=Grade.DOUBTFUL,
    title="Walls of a space too warm",
    unit="degC",
    why="Warm styrene creeps and its glue joints let go long before it melts, and the model is closed for good.",
    cure="Less power inside, shorter times, or vents.",
    source="free convection of a closed box, safe end of 30 %, a fresh supply and the LEDs that burn "
           "most; limits of the wall's plastic as the drawer has them",
    caution="styrene_heat",
    look=_look,
)
