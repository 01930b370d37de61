"""A floodlight whose pool on the ground is lost in the light of the room."""

from __future__ import annotations

from rushlight.findings._lights import times_current
from rushlight.findings._words import likely_ends, plain
from rushlight.model.design import Design
from rushlight.model.design_light import Pool
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.leaks import room_here
from rushlight.stages.wanted_look import TOO_DIM, over_words

PLAINLY = 5.0
"""Ordinary looking needs three to ten times the contrast that is just seen (physics of contrast, from memory)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    room = room_here(design.drawer, design.plan.subject.viewing_room)
    limit = PLAINLY * room.least_contrast * room.illuminance_lx
    dimmest: dict[str, Pool] = {}
    for pool in sorted(design.light.pools, key=lambda pool: pool.centre_lx.typical):
        if pool.centre_lx.typical < limit * (1 - 1e-9):
            dimmest.setdefault(design.lamp(pool.lamp).group, pool)
    return tuple(_trouble(design, pool, limit=limit, room_lx=room.illuminance_lx) for pool in dimmest.values())


def _trouble(design: Design, pool: Pool, *, limit: float, room_lx: float) -> Trouble:
    centre = pool.centre_lx.typical
    times = limit / centre if centre > 0 else 0.0
    more = f"Give it {plain(times_current(design, pool.lamp, times))} times the current" if times else "Light it"
    sure = over_words(pool.centre_lx, pool.likely_lx, limit, too=TOO_DIM)
    return Trouble(
        item=design.lamp(pool.lamp).group, spot=design.lamp(pool.lamp).spot, number=centre, limit=limit,
        says=f"'{pool.lamp}' throws about {plain(centre)} lx ({likely_ends(pool.likely_lx, pool.centre_lx, plain)}) on "
             f"what lies {plain(pool.height_mm)} mm below it; against the {plain(room_lx)} lx of the room "
             f"{plain(limit)} lx are plainly seen: {sure}.",
        cure=f"{more}, hang it lower, or show the model in a darker room.",
    )


RULE = Rule(
    key="light.pool-too-dim",
    grade=Grade.COULD_BE_BETTER,
    title="Floodlight lost in the room's light",
    unit="lx",
    why="A floodlight is known by the pool that it throws; without it there is only a bright dot.",
    cure="More light, or less of the room's.",
    source="distance law; five times the least contrast that the viewing room lets one see (project proposal)",
    look=_look,
)
