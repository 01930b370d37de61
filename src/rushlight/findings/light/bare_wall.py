"""A wall that as a whole stays dark enough, with a bright spot right beside a source."""

from __future__ import annotations

from rushlight.findings._ways_out import one_digit
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import Leak, WallSpot
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_part import Part
from rushlight.stages.coats import FOIL, cured, order_words
from rushlight.stages.painted_wall import wall_through

SPOT_MM = 30
"""So far round a source its spot on the wall is painted (project rule)."""


def spots_on(design: Design, part: str) -> list[WallSpot]:
    """A part's spots, the brightest first."""
    own = [spot for spot in design.light.spots if spot.part == part]
    return sorted(own, key=lambda spot: -spot.luminance_cd_m2.typical)


def spot_coats(design: Design, part: Part) -> tuple[str, int, tuple[str, ...]] | None:
    """Coat, how many more of it, and all coats from the wall in, against the brightest spot that is seen on a part."""
    allowed = next((leak.allowed_cd_m2 for leak in design.light.leaks if leak.part == part.name), None)
    spots = spots_on(design, part.name)
    if allowed is None or not spots or spots[0].luminance_cd_m2.typical <= allowed:
        return None
    most = wall_through(design.drawer, part).typical * allowed / spots[0].luminance_cd_m2.typical
    return cured(design.drawer, part, lambda one: wall_through(design.drawer, one).typical <= most)


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for leak in design.light.leaks:
        seen = [spot for spot in spots_on(design, leak.part) if spot.luminance_cd_m2.typical > leak.allowed_cd_m2]
        if seen and leak.luminance_cd_m2.typical <= leak.allowed_cd_m2:
            found.append(_trouble(design, leak, seen))
    return tuple(found)


def _trouble(design: Design, leak: Leak, seen: list[WallSpot]) -> Trouble:
    names, bright = listed([f"'{spot.emitter}'" for spot in seen]), seen[0].luminance_cd_m2
    at = design.loom.emitter(seen[0].emitter).spot
    return Trouble(
        item=leak.part, spot=at, number=bright.typical, limit=leak.allowed_cd_m2,
        says=f"The wall of '{leak.part}' shows a spot of {plain(bright.typical)} cd/m2 "
             f"({one_digit(seen[0].likely_cd_m2, bright)}) beside {names}; {plain(leak.allowed_cd_m2)} cd/m2 "
             "is just seen.",
        cure=_cure(design, leak),
    )


def _cure(design: Design, leak: Leak) -> str:
    """All coats there from the wall in; what is there already is told with them."""
    coats = spot_coats(design, design.plan.part(leak.part))
    assert coats is not None, "a spot that is seen"
    how = "Line" if coats[0] == FOIL else "Paint"
    return (f"{how} the wall inside, {SPOT_MM} mm round each source, to these coats in all, from the wall in: "
            f"{order_words(coats[2])}; or cover its back.")


RULE = Rule(
    key="light.bare-wall",
    grade=Grade.COULD_BE_BETTER,
    title="Bright spot on a wall beside a source",
    unit="cd/m2",
    why="The part as a whole stays dark enough, but a source a few millimetres behind the wall lights it far more.",
    cure="More black inside round each source, under the white; or cover its back.",
    source="distance law on the light that strays from each source, all that a strip gives, at its distance from the "
           "wall",
    look=_look,
)
