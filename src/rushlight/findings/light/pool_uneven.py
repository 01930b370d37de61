"""Two pools of floodlight with a dark gap between them."""

from __future__ import annotations

import math

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.design_light import PoolDip, PoolMap
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.pools import EVEN_SHARE


def _look(design: Design) -> tuple[Trouble, ...]:
    worst: dict[tuple[str, str], tuple[PoolMap, PoolDip]] = {}
    for ground in design.light.grounds:
        for dip in ground.dips:
            first, second = (design.lamp(name).group for name in dip.lamps)
            if (first, second) not in worst or dip.share < worst[first, second][1].share:
                worst[first, second] = (ground, dip)
    return tuple(_trouble(design, ground, dip) for ground, dip in worst.values())


def _trouble(design: Design, ground: PoolMap, dip: PoolDip) -> Trouble:
    first, second = dip.lamps
    higher = "" if math.isinf(dip.even_height_mm) else f", or hang both so that '{first}' is at least " \
        f"{plain(math.ceil(dip.even_height_mm), 4)} mm high"
    return Trouble(
        item=design.lamp(first).group, spot=Spot(ground.part, *dip.at_mm) if ground.part else None,
        number=100 * dip.share, limit=100 * EVEN_SHARE,
        says=f"Between the pools of '{first}' and '{second}' the light falls to {plain(100 * dip.share)} % of the "
             "lesser.",
        cure=f"Aim them at most {plain(math.floor(dip.even_apart_mm), 4)} mm apart (now {plain(dip.apart_mm, 3)} mm)"
             f"{higher}.",
    )


RULE = Rule(
    key="light.pool-uneven",
    grade=Grade.COULD_BE_BETTER,
    title="Dark gap between two floodlights",
    unit="%",
    why="Pools that touch without running into one another look like a fault; pools well apart or one even field do "
        "not.",
    cure="Nearer together, or higher.",
    source="distance law; half of the lesser pool (project proposal)",
    look=_look,
)
