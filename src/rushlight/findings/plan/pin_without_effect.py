"""A held choice that no stage of the design can use."""

from __future__ import annotations

from collections.abc import Iterable

from rushlight.findings._words import listed, spot_of
from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_bench import Pin
from rushlight.stages.network import has_own_resistor
from rushlight.stages.series import like_leds

OF_FIBRE = (
    "illuminator_part", "fibres_per_led", "fibre_mm", "bundle", "fibre_inlet", "bundle_joint", "led_dome",
    "bundle_gap_mm",
)

FOR = {
    "current_ma": "a lamp, row, strip, circuit or illuminator",
    "resistor_ohm": "a lamp, row, dimmed strip, circuit or illuminator",
    "led": "a lamp or row",
    "gauge_awg": "a circuit, return or all",
    "leds_in_series": "a circuit with two like LEDs or more, or all",
    "regulator": "a circuit with bare LEDs, or all",
    **dict.fromkeys(OF_FIBRE, "a lamp or row made by fibre"),
}
"""What each choice can be held for, in the modeller's words."""

MADE_BY = {"led": "an LED", "fibre": "fibre", "room": "an LED in a room", "strip": "a strip"}


def _look(design: Design) -> tuple[Trouble, ...]:
    if not design.plan.pinned:
        return ()
    usable = usable_names(design)
    return tuple(
        _trouble(design, pin, usable[pin.choice]) for pin in design.plan.pinned if pin.of not in usable[pin.choice]
    )


def usable_names(design: Design) -> dict[str, tuple[str, ...]]:
    """For each choice that can be held the names that some stage looks for, as the stages do."""
    lit = [(lamp, source) for lamp, source in zip(design.lamps, design.sources, strict=True) if lamp.states]
    own = [(lamp, source) for lamp, source in lit if source.kind != "strip"]
    fibre = _names(lamp for lamp, source in own if source.kind == "fibre")
    return {
        "current_ma": _of_current(design, own),
        "resistor_ohm": _of_resistor(design, own),
        "led": _names(lamp for lamp, _ in own),
        **dict.fromkeys(OF_FIBRE, fibre),
        "gauge_awg": (*(circuit.name for circuit in design.circuits), "return", "all"),
        "leds_in_series": _of_series(design),
        "regulator": _of_regulator(design),
    }


def _names(lamps: Iterable[PlacedLamp]) -> tuple[str, ...]:
    """Rows and lamps, each once."""
    found = list(lamps)
    return tuple(dict.fromkeys([lamp.group for lamp in found] + [lamp.name for lamp in found]))


def _bare(design: Design, own: list[tuple[PlacedLamp, Source]]) -> tuple[str, ...]:
    """Lamps and rows whose LED takes a resistor: one that is pre-wired settles its current itself."""
    return _names(lamp for lamp, source in own if design.drawer.led(source.led).pre_wired_v is None)


def _of_current(design: Design, own: list[tuple[PlacedLamp, Source]]) -> tuple[str, ...]:
    names = _bare(design, own)
    strips = [row.name for row in design.loom.emitters if row.kind == "strip"]
    bright = [row.name for row in design.loom.emitters if row.kind == "illuminator"]
    circuits = [row.name for row in design.circuits if {*row.lamps} & {*names, *_of_strips(design, strips)}]
    return (*names, *strips, *circuits, *bright)


def _of_strips(design: Design, strips: list[str]) -> list[str]:
    return [lamp.name for lamp in design.lamps if lamp.group in strips]


def _of_resistor(design: Design, own: list[tuple[PlacedLamp, Source]]) -> tuple[str, ...]:
    beyond = {lamp for row in design.loom.emitters if design.loom.beyond(row.name) for lamp in row.lamps}
    own = [(lamp, source) for lamp, source in own if lamp.name not in beyond]
    fitted = [
        row for row in design.loom.emitters if has_own_resistor(design.drawer, row) and not design.loom.beyond(row.name)
        and not design.power.regulator(row.name)
    ]
    lamps = [lamp for row in fitted if row.kind == "strip" for lamp in row.lamps]
    circuits = list(dict.fromkeys(row.circuit for row in fitted))
    return tuple(dict.fromkeys([*_bare(design, own), *(row.name for row in fitted), *lamps, *circuits]))


def _of_series(design: Design) -> tuple[str, ...]:
    alike = like_leds(design.plan, design.drawer, design.circuits, design.loom.emitters)
    return (*dict.fromkeys(like.circuit for like in alike), "all") if alike else ()


def _of_regulator(design: Design) -> tuple[str, ...]:
    bare = [row for row in design.loom.emitters if row.kind != "strip" and has_own_resistor(design.drawer, row)]
    return (*dict.fromkeys(row.circuit for row in bare), "all") if bare else ()


def _trouble(design: Design, pin: Pin, usable: tuple[str, ...]) -> Trouble:
    of_rows = {lamp.name for lamp in design.lamps if lamp.made_of == "rows"}
    names = [f"'{name}'" for name in usable if name not in of_rows]
    here = f"; here that is {listed(names)}" if names else "; here is none"
    return Trouble(
        item=pin.of, spot=spot_of(design, pin.of),
        says=f"The choice {pin.choice} {pin.value} is held for '{pin.of}', and nothing in the build can use it: "
             f"{_reason(design, pin)}.",
        cure=f"Hold {pin.choice} for {FOR[pin.choice]}{here}. Or take it out.",
    )


def _reason(design: Design, pin: Pin) -> str:
    kinds = [
        (lamp, source) for lamp, source in zip(design.lamps, design.sources, strict=True)
        if pin.of in (lamp.group, lamp.name)
    ]
    if kinds and pin.choice == "gauge_awg":
        return "wire is held by its circuit"
    if kinds:
        return _reason_of_lamp(design, *kinds[0])
    if pin.of in ("return", "all"):
        return "that names wire alone"
    if any(row.name == pin.of for row in design.circuits):
        return "none of its LEDs are alike" if pin.choice == "leds_in_series" else "it is a circuit"
    if any(row.name == pin.of for row in design.loom.emitters):
        return "it is the LED of a bundle of fibres"
    return "it is not built"


def _reason_of_lamp(design: Design, lamp: PlacedLamp, source: Source) -> str:
    if not lamp.states:
        return "it is never lit"
    if any(design.loom.beyond(row.name) for row in design.loom.emitters if lamp.name in row.lamps):
        return "its LED stands in series behind one that has the resistor"
    if source.kind != "strip" and design.drawer.led(source.led).pre_wired_v is not None:
        return "its LED is pre-wired and has its resistor built in"
    return f"it is made by {MADE_BY[source.kind]}"


RULE = Rule(
    key="plan.pin-without-effect",
    grade=Grade.DOUBTFUL,
    title="Held choice without effect",
    unit="",
    why="You count on a choice that the design has not heard of; it is worked out as if you had not held it.",
    cure="Hold it for something that can have it.",
    source="the names that each stage of the design looks for",
    look=_look,
)
