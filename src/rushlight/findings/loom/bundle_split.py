"""A bundle that the modeller holds together and that one LED cannot feed."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.fibre_light import led_joint
from rushlight.stages.pins import held


def _look(design: Design) -> tuple[Trouble, ...]:
    if not any(pin.choice == "bundle" for pin in design.plan.pinned):
        return ()
    bundles: dict[str, list[PlacedLamp]] = {}
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        name = held(design.plan, "bundle", lamp.group, lamp.name)
        if name and lamp.states and source.kind == "fibre":
            bundles.setdefault(name, []).append(lamp)
    return tuple(
        _trouble(design, name, lamps, leds) for name, lamps in bundles.items() if len(leds := _leds(design, lamps)) > 1
    )


def _leds(design: Design, lamps: list[PlacedLamp]) -> dict[str, PlacedLamp]:
    """The LEDs that feed them, each with the first of its lamps."""
    of = {tail.lamp: tail.emitter for tail in design.loom.tails}
    return {of[lamp.name]: lamp for lamp in reversed(lamps) if lamp.name in of}


def _trouble(design: Design, name: str, lamps: list[PlacedLamp], leds: dict[str, PlacedLamp]) -> Trouble:
    first, second = list(reversed(leds.values()))[:2]
    return Trouble(
        item=name, spot=first.spot, number=float(len(leds)), limit=1.0,
        says=f"The bundle '{name}' is held together for {listed([lamp.name for lamp in lamps])}, and {len(leds)} LEDs "
             f"feed it: {_reason(design, first, second)}.",
        cure="Make them alike in that, or hold two bundles (plan file: bundle under pinned).",
    )


def _reason(design: Design, one: PlacedLamp, other: PlacedLamp) -> str:
    """What tells two lamps apart that one LED would have to share."""
    circuits = [next((row.name for row in design.circuits if lamp.name in row.lamps), "") for lamp in (one, other)]
    if circuits[0] != circuits[1]:
        return (f"'{one.name}' and '{other.name}' are not switched together (circuits {circuits[0]} and {circuits[1]})")
    if one.colour.name != other.colour.name:
        return f"'{one.name}' is {one.colour.name}, '{other.name}' {other.colour.name}"
    joints = [led_joint(design.plan, design.drawer, lamp.group, lamp.name) for lamp in (one, other)]
    if joints[0] != joints[1]:
        return (f"'{one.name}' and '{other.name}' meet their LED in another way (plan file: fibre_inlet, "
                "bundle_joint under pinned)")
    return f"another LED is named for '{one.name}' than for '{other.name}'"


RULE = Rule(
    key="loom.bundle-split",
    grade=Grade.DOUBTFUL,
    title="Held bundle on two LEDs",
    unit="LEDs",
    why="You count on one LED for these lamps; the design needs more, with their holes, leads and resistors.",
    cure="Let its lamps be switched together, of one colour, and joined to the LED alike.",
    source="one LED has one colour, one current and one switch",
    look=_look,
)
