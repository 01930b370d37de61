"""Light that shows through a wall."""

from __future__ import annotations

from rushlight.findings._ways_out import room_words
from rushlight.findings._words import likely_ends, plain
from rushlight.findings.light.bare_wall import SPOT_MM, spot_coats, spots_on
from rushlight.model.design import Design
from rushlight.model.design_light import Leak
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.coats import FOIL, order_words


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(design, leak) for leak in design.light.leaks if leak.luminance_cd_m2.typical > leak.allowed_cd_m2
    )


def _trouble(design: Design, leak: Leak) -> Trouble:
    glow, seen = leak.luminance_cd_m2.typical, leak.allowed_cd_m2
    near = f", most near '{leak.brightest_near}'" if leak.brightest_near else ""
    spots = [row for row in spots_on(design, leak.part) if row.luminance_cd_m2.typical > glow]
    told, spot = likely_ends(leak.likely_cd_m2, leak.luminance_cd_m2, plain), ""
    if spots:
        spot = f", with a spot of {plain(spots[0].luminance_cd_m2.typical)} cd/m2 beside '{spots[0].emitter}'"
    return Trouble(
        item=leak.part, spot=_spot(design, leak), number=glow, limit=seen,
        says=f"The wall of '{leak.part}' glows with about {plain(glow)} cd/m2 ({told}) in '{leak.state}'{near}{spot}; "
             f"{plain(seen)} cd/m2 is just seen in a {design.plan.subject.viewing_room}; it is {room_words(leak)}.",
        cure=_cure(design, leak),
    )


def _cure(design: Design, leak: Leak) -> str:
    spot = spot_coats(design, design.plan.part(leak.part))
    if spot and leak.coat != FOIL and (spot[0] == FOIL or spot[1] > leak.coats_needed):
        return (f"Paint it inside with {_coats(leak)} more; {SPOT_MM} mm round each source, whose spot is brighter, "
                f"from the wall in: {order_words(spot[2])}; or line it with foil. Check in the dark.")
    if leak.coat == FOIL:
        return ("Line it with foil: paint alone does not do it. From the wall in: "
                f"{order_words(leak.order)}. Check in the dark.")
    return (f"Paint it inside with {_coats(leak)} more, from the wall in: {order_words(leak.order)}; or line "
            "it with foil. Check in the dark.")


def _coats(leak: Leak) -> str:
    return f"{leak.coats_needed} coat{'s' if leak.coats_needed > 1 else ''} of {leak.coat}"


def _spot(design: Design, leak: Leak) -> Spot:
    own = [row.spot for row in design.loom.emitters if row.name == leak.brightest_near and row.spot.part == leak.part]
    return own[0] if own else Spot(leak.part, *design.plan.part(leak.part).outline_mm[0])


RULE = Rule(
    key="light.leak",
    grade=Grade.DOUBTFUL,
    title="Light leaks through a wall",
    unit="cd/m2",
    why="A wall that glows gives the model away, and it can no longer be painted inside once it is closed.",
    cure="Paint it inside, first black, then white.",
    source="inter-reflection of a closed room, wall and coats after Kubelka and Beer; figures of walls "
           "and coats are typical ones and wide: measure yours",
    look=_look,
)
