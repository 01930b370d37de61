"""A wall that gets too warm under the strip that is glued to it."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import LedHeat
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for row in design.heat.leds:
        if row.wall_under_c is None:
            continue
        emitter = design.loom.emitter(row.emitter)
        wall = design.drawer.wall(design.plan.part(emitter.spot.part).wall)
        if row.wall_under_c.high > wall.advise_c:
            found.append(_trouble(design, row, advise=wall.advise_c, stop=wall.stop_c))
    return tuple(found)


def _trouble(design: Design, row: LedHeat, *, advise: float, stop: float) -> Trouble:
    emitter = design.loom.emitter(row.emitter)
    part = design.plan.part(emitter.spot.part)
    assert row.wall_under_c is not None
    warm = row.wall_under_c.high
    over = warm > stop
    room = design.heat.room_c.high
    share = max((advise - room) / (warm - room), 0.0)
    return Trouble(
        item=row.emitter, spot=emitter.spot, number=warm, limit=stop if over else advise,
        grade=Grade.DANGEROUS if row.wall_under_c.typical > stop else Grade.WILL_FAIL if over else None,
        says=f"In '{row.state}' the strip '{row.emitter}' warms the {plain(part.wall_mm)} mm {part.wall} under it to "
             f"{plain(warm, 3)} degC at most; it bears {plain(stop if over else advise, 3)} degC.{_evening_words(row)}",
        cure=f"Dim it to {plain(100 * share)} %, stick it to a strip of brass or aluminium 0.5 mm thick and three "
             "times as wide, or keep it off the wall on stand-offs.",
    )


def _evening_words(row: LedHeat) -> str:
    """What it comes to in the described evening."""
    if row.evening is None or row.evening.wall_under_c is None:
        return ""
    return (f" In the evening as described it gets to {plain(row.evening.wall_under_c, 3)} degC, "
            f"after {plain(60 * row.evening.hour_h)} min.")


RULE = Rule(
    key="heat.wall-under-strip",
    grade=Grade.DOUBTFUL,
    title="Wall under a strip too warm",
    unit="degC",
    why="Plastic leads heat badly, so the wall softens along the strip while the rest stays cool.",
    cure="Spread the heat with metal, or dim the strip.",
    source="heated band on a thin wall, 30 % either way; limits of the wall's plastic as the drawer has them",
    look=_look,
)
