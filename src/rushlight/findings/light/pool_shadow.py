"""Something on the ground throws a shadow across a floodlight's pool."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import PoolMap, PoolShadow
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot

MOST_SHARE = 0.1
"""Share of a pool that may lie in shadow before it is told (project proposal)."""

STILL_LIT = 0.5
"""Where other lamps leave this much, the shadow is soft enough to pass (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    worst: dict[tuple[str, str], tuple[PoolMap, PoolShadow]] = {}
    for ground in design.light.grounds:
        for row in ground.shadows:
            key = (design.lamp(row.lamp).group, row.of)
            seen = row.left_share < STILL_LIT and row.share > MOST_SHARE
            if seen and (key not in worst or row.share > worst[key][1].share):
                worst[key] = (ground, row)
    return tuple(_trouble(design, ground, row) for ground, row in worst.values())


def _trouble(design: Design, ground: PoolMap, row: PoolShadow) -> Trouble:
    tall, lamp = plain(row.tall_mm, 3), row.lamp
    if row.reach_mm is None:
        falls = f"'{row.of}' is {tall} mm high, no lower than '{lamp}', so that all behind it is dark"
        cure = f"Hang '{lamp}' {plain(2 * row.tall_mm, 3)} mm high or higher"
    else:
        falls = f"The shadow of '{row.of}' in the light of '{lamp}' reaches {plain(row.reach_mm, 3)} mm beyond it"
        shorter = row.reach_mm * (row.lamp_mm - row.tall_mm) / (2 * row.lamp_mm - row.tall_mm)
        cure = f"Hung {plain(2 * row.lamp_mm, 3)} mm high it would reach {plain(shorter, 3)} mm"
    return Trouble(
        item=design.lamp(lamp).group, spot=_middle(ground, row), number=100 * row.share, limit=100 * MOST_SHARE,
        says=f"{falls}; {plain(100 * row.share)} % of its pool lies in it.",
        cure=f"{cure}. Or move the lamp to the other side, or light the shadow from there with a second one.",
    )


def _middle(ground: PoolMap, row: PoolShadow) -> Spot | None:
    """A place in the shadow."""
    if ground.part is None or not row.outlines_mm:
        return None
    corners = row.outlines_mm[0][:-1]
    return Spot(ground.part, *(sum(corner[k] for corner in corners) / len(corners) for k in (0, 1)))


RULE = Rule(
    key="light.pool-shadow",
    grade=Grade.COULD_BE_BETTER,
    title="Shadow across a floodlight's pool",
    unit="%",
    why="A bare LED is small, so its shadows have hard edges that draw the eye.",
    cure="Higher, from the other side, or a second lamp.",
    source="straight rays; a tenth of the pool (project proposal)",
    look=_look,
)
