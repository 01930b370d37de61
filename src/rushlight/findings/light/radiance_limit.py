"""A fibre that should shine brighter than the face of its LED, which no fibre does."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Aim, Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.fibre import source_luminance_cd_m2
from rushlight.stages.fibre_light import launch_into, led_joint
from rushlight.stages.led_currents import DERATE
from rushlight.stages.parts_law import disc_mm2


def _look(design: Design) -> tuple[Trouble, ...]:
    aims = {aim.lamp: aim for aim in design.aims}
    core = {source.lamp: disc_mm2(source.seen_mm) * 1e-6 for source in design.sources}
    found = []
    for emitter in design.loom.emitters:
        if emitter.kind != "illuminator":
            continue
        limit = _face_cd_m2(design, emitter)
        over = [(aims[lamp].wanted_cd / core[lamp], aims[lamp]) for lamp in emitter.lamps if lamp in aims]
        over = [pair for pair in over if pair[0] > limit * (1 + 1e-9)]
        if over:
            found.append(_trouble(design, emitter, over, limit))
    return tuple(found)


def _face_cd_m2(design: Design, emitter: Emitter) -> float:
    """Luminance of the LED's face, filed or not, at the most current that it is run at."""
    led, lamp = design.drawer.led(emitter.part_row), design.lamp(emitter.lamps[0])
    joint = led_joint(design.plan, design.drawer, lamp.group, lamp.name)
    return source_luminance_cd_m2(launch_into(led, led.max_ma * DERATE / 1000, joint)).typical


def _trouble(design: Design, emitter: Emitter, over: list[tuple[float, Aim]], limit: float) -> Trouble:
    most, aim = max(over, key=lambda pair: pair[0])
    names = [f"'{row.lamp}'" for _, row in over]
    fibre_mm = design.source(aim.lamp).fibre_mm or 0.0
    most_ma = design.drawer.led(emitter.part_row).max_ma * DERATE
    return Trouble(
        item=aim.lamp, spot=design.lamp(aim.lamp).spot, number=most, limit=limit,
        says=f"{listed(names)} should shine with {plain(most)} cd/m2 at the tip; the face of '{emitter.name}' "
             f"({emitter.part_row}) has {plain(limit)} cd/m2 at {plain(most_ma)} mA.",
        cure=f"Take fibre of {plain(fibre_mm * (most / limit) ** 0.5, 3)} mm or more, an LED of higher brightness, or "
             "be content with less.",
    )


RULE = Rule(
    key="light.radiance-limit",
    grade=Grade.DOUBTFUL,
    title="Fibre brighter than its LED's face",
    unit="cd/m2",
    why="No fibre is brighter than the face that feeds it: a better joint, polish or lens adds nothing.",
    cure="Thicker fibre or a brighter LED.",
    source="conservation of radiance: at most L pi NA^2 A of the core",
    look=_look,
)
