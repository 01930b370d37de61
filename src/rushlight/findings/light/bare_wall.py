"""A wall that lets light through, without an opaque coat, right beside a source."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import Leak
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.leaks import BESIDE_A_SOURCE, OPAQUE


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for leak in design.light.leaks:
        part = design.plan.part(leak.part)
        bare = not any(design.drawer.coat(name).kind in OPAQUE for name in part.coats)
        own = [row for row in design.loom.emitters if row.spot.part == part.name]
        beside = leak.luminance_cd_m2.typical * BESIDE_A_SOURCE
        if bare and own and leak.luminance_cd_m2.typical <= leak.allowed_cd_m2 < beside:
            found.append(_trouble(leak, own, beside))
    return tuple(found)


def _trouble(leak: Leak, own: list[Emitter], beside: float) -> Trouble:
    names = [f"'{row.name}'" for row in own]
    return Trouble(
        item=leak.part, spot=own[0].spot, number=beside, limit=leak.allowed_cd_m2,
        says=f"The wall of '{leak.part}' has no opaque coat: close to {listed(names)} it may glow with {plain(beside)} "
             f"cd/m2, and {plain(leak.allowed_cd_m2)} cd/m2 is just seen.",
    )


RULE = Rule(
    key="light.bare-wall",
    grade=Grade.COULD_BE_BETTER,
    title="Bare wall beside a source",
    unit="cd/m2",
    why="The part as a whole stays dark enough, but the light at grazing angle beside a source is about ten times the "
        "mean.",
    cure="Paint the wall black inside, 30 mm round each source, then white over it.",
    source="ten times the mean beside a source (project proposal, physics of an open LED); see light.leak",
    look=_look,
)
