"""A bare LED too bright to be looked into."""

from __future__ import annotations

from rushlight.findings._lights import brightest, mcd
from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.blue_light import blue_w_per_lm, intensity_limit_cd


def _look(design: Design) -> tuple[Trouble, ...]:
    kinds = {emitter.lamps[0]: emitter for emitter in design.loom.emitters if emitter.kind == "led"}
    bright: dict[float, list[LampLight]] = {}
    for name, light in brightest(design).items():
        if name in kinds:
            led = design.drawer.led(kinds[name].part_row)
            limit = intensity_limit_cd(blue_w_per_lm(led.cct_k, led.dominant_nm))
            if light.intensity_cd.high > limit:
                bright.setdefault(limit, []).append(light)
    return tuple(_trouble(design, lights, limit) for limit, lights in bright.items())


def _trouble(design: Design, lights: list[LampLight], limit: float) -> Trouble:
    light = max(lights, key=lambda light: light.intensity_cd.high)
    most = light.intensity_cd.high
    names = listed([f"'{light.lamp}'" for light in lights])
    return Trouble(
        item=light.lamp, spot=design.lamp(light.lamp).spot, number=most, limit=limit,
        says=f"{names} may give {mcd(most)} bare{_likely(light)}; from {mcd(limit)} of this colour on a lamp "
             "leaves the low-risk group at 200 mm.",
    )


def _likely(light: LampLight) -> str:
    """How much of it is likely, where that is less."""
    told = mcd(light.likely_cd.high)
    return "" if told == mcd(light.intensity_cd.high) else f" at the outside, likely up to {told}"


RULE = Rule(
    key="light.blue-glare",
    grade=Grade.DANGEROUS,
    title="Bare LED too bright to look into",
    unit="cd",
    why="Blue light from a bright point can harm the eye before it hurts; at the bench one looks at it from a hand's "
        "breadth.",
    cure="Hide or diffuse the die, lower its current, and do not stare into it while you test.",
    source="IEC 62471 risk groups, small sources at 200 mm (from memory); blue-light weights of LED colours",
    caution="blue_light",
    look=_look,
)
