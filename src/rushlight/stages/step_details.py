"""What each step of the work handles: its items, and its numbers in words."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rushlight.electric.switch import BUTTONS
from rushlight.model.design import PlacedLamp, Source
from rushlight.model.design_loom import Bundle, Lead, Splice, Tail
from rushlight.model.design_power import Regulator
from rushlight.stages.gates import regulator_tests
from rushlight.stages.rhythms import channels, made_rhythms
from rushlight.stages.shopping import ohm_text
from rushlight.stages.switching import board_of

if TYPE_CHECKING:
    from rushlight.stages.build import Build

TOUCH_EARTH = "white, blue and green LEDs dislike static: touch earthed metal before you take them up"

HARDY_LAWS = ("red", "deep_red", "orange", "amber", "yellow", "yellow_green")
"""Rows of led_laws.csv whose chips bear some static (from memory, typical of AlGaInP)."""

MOST_STRINGS = 12
"""More strings than these are told by their number alone."""

BLOCKING = ("black", "foil", "metallic")
"""Kinds of coat that stop light by absorbing or by being closed; the others are there to reflect."""


def step_items(build: Build, key: str, part: str | None) -> tuple[str, ...]:
    """Names of the things that a step handles on its part, in the plan's order."""
    if key in ("mark_holes", "drill"):
        return _holed(build, part)
    if key in ("open_windows", "fit_clear", "mask_clear", "diffuser"):
        return _openings(build, part)
    if key in ("feed_fibre", "glue_fibre"):
        return _tails_on(build, part)
    loom = build.loom
    if key == "fit_led":
        return tuple(emitter.name for emitter in loom.emitters if emitter.spot.part == part)
    if key == "route":
        return tuple(lead.name for lead in loom.leads if any(leg.part == part for leg in lead.legs))
    if key == "trim":
        return tuple(tail.lamp for tail in loom.tails)
    return tuple(row.name for row in _everywhere(build, key))


def _everywhere(build: Build, key: str) -> tuple[Tail | Lead | Splice | Bundle, ...]:
    """What the steps handle that are done once for the whole build."""
    loom = build.loom
    if key in ("tube_on", "solder", "shrink"):
        return loom.splices
    if key in ("join_bundle", "bundle_test"):
        return loom.bundles
    if key == "cut_fibre":
        return loom.tails
    return loom.leads if key == "cut_wire" else ()


def _tails_on(build: Build, part: str | None) -> tuple[str, ...]:
    on_part = {lamp.name for lamp in build.lamps if lamp.spot and lamp.spot.part == part}
    return tuple(tail.name for tail in build.loom.tails if tail.lamp in on_part)


def _holed(build: Build, part: str | None) -> tuple[str, ...]:
    return tuple(lamp.name for lamp, _ in _holes(build, part))


def _holes(build: Build, part: str | None) -> list[tuple[PlacedLamp, Source]]:
    return [
        (lamp, source) for lamp, source in zip(build.lamps, build.sources, strict=True)
        if lamp.spot and lamp.spot.part == part and source.hole_mm
    ]


def _openings(build: Build, part: str | None) -> tuple[str, ...]:
    return tuple(opening.name for row in build.plan.parts if row.name == part for opening in row.openings)


def step_details(build: Build, key: str, part: str | None) -> tuple[str, ...]:
    """What the step means here, in numbers."""
    loom = build.loom
    if key in ("mark_holes", "drill"):
        return _drilled(build, part)
    if key in ("block_coat", "reflect_coat"):
        return _coated(build, key, part)
    if key in ("test_parts", "solder", "fit_led") and _dislikes_static(build):
        return (*_joints(build, key), TOUCH_EARTH)
    if key == "test_regulators":
        return _regulators(build)
    if key == "bench_test" and build.power.regulators:
        return _held(build)
    if key == "cut_wire":
        total_m = sum(lead.cut_mm for lead in loom.leads) / 1000
        return (f"{len(loom.leads)} leads, {total_m:.1f} m of wire in all: see the cut list; label both ends",)
    if key == "cut_fibre":
        total_m = sum(tail.cut_mm for tail in loom.tails) / 1000
        return (f"{len(loom.tails)} tails, {total_m:.1f} m of fibre in all: cut square, polish",)
    if key == "trim":
        return ("trim almost flush, after paint, with a sharp blade", *_tips(build, part))
    if key == "tube_on":
        return ("slide each tube on before its joint is soldered, well away from the heat",)
    if key == "solder":
        return _joints(build, key)
    if key == "controller":
        return _channels(build)
    if key == "glue_fibre":
        return ("canopy glue, PVA or slow epoxy; never solvent cement, hot glue or fuming superglue",)
    return ()


def _tips(build: Build, part: str | None) -> tuple[str, ...]:
    """Ends at lamps of a part that are neither cut nor polished but made to be seen from all sides."""
    lies = {lamp.name: lamp.spot.part for lamp in build.lamps if lamp.spot}
    rows = {"sanded": "mat the ends with 400 to 600 grit, standing a little proud: ",
            "domed": "melt the ends to a small bead near a flame, never in it, and mat it with 600 grit (a clear one "
                     "is a lens), before they go in from outside: "}
    found = []
    for tip, words in rows.items():
        names = [tail.lamp for tail in build.loom.tails if tail.tip == tip and part in (None, lies.get(tail.lamp))]
        found += [words + ", ".join(names)] if names else []
    return tuple(found)


def _regulators(build: Build) -> tuple[str, ...]:
    """Which end is which, how to tell a sound one, and how like ones are sorted."""
    tests = tuple(
        f"{name}: {ohm_text(test.resistor_ohm)} in series, {_ma(test.right_a.low)} to {_ma(test.right_a.high)} mA the "
        f"right way round, falling as it warms; about {_ma(test.turned_a)} mA is one the wrong way round: off at once"
        for name, test in regulator_tests(build).items()
    )
    return ("the ring is the cathode and points to the LED's plus; the other end goes to the supply",
            "supply plus, meter, resistor, the end without the ring, the ring, supply minus: no LED yet", *tests,
            "write what each one gives beside it, and put like ones into lamps that are seen together",
            "no ring to be seen: the way round that gives the smaller current is right; mark that end")


def _held(build: Build) -> tuple[str, ...]:
    """What must stand across a regulator, on fresh cells and on flat ones."""
    lowest: dict[tuple[str, int], Regulator] = {}
    for row in sorted(build.power.regulators, key=lambda row: row.flat_v):
        lowest.setdefault((row.part, row.count), row)
    return tuple(
        f"across each {row.part}: {row.drop_out_v:.1f} V or more, or it drops out and the LED dims; fresh up to "
        f"{max(volts.high for _, volts in row.bench_v):.1f} V, and with a flat supply {row.flat_v:.1f} V at the worst "
        f"(at {row.emitter})"
        for row in lowest.values()
    )


def _ma(amps: float) -> str:
    return f"{1000 * amps:.2g}" if amps >= 0.001 else f"{1000 * amps:.1f}"


def _channels(build: Build) -> tuple[str, ...]:
    """Which pin lights which circuit, and where the programs lie."""
    made = channels(made_rhythms(build.plan, build.circuits, build.loom))
    pins = tuple(f"pin {row.pin} lights circuit {row.name}: {row.rhythm.text}" for row in made)
    switch = build.power.switch
    steps = () if switch is None or not switch.stepped_by else (
        f"pin {board_of(build.plan).button_pin} reads the {BUTTONS[switch.stepped_by]}: each time a step on, "
        f"{', '.join(switch.positions)}, and round again",)
    return (*pins, *steps, "programs pin_test.py and main.py: see the sheet of the rhythms")


def _joints(build: Build, key: str) -> tuple[str, ...]:
    """How many joints there are to solder, and which LEDs stand in series."""
    if key != "solder":
        return ()
    strings = build.loom.strings
    listed = tuple(f"{row.name}: {' - '.join(row.emitters)}, each minus to the next one's plus" for row in strings)
    told = listed if len(strings) <= MOST_STRINGS else (f"{len(strings)} strings in series: see the circuit sheet",)
    return (f"{len(build.loom.splices)} splices: see the splice list", *told)


def _dislikes_static(build: Build) -> bool:
    """Whether a white, blue or green LED is handled: their chips die of a spark that nobody feels."""
    rows = {emitter.part_row for emitter in build.loom.emitters if emitter.kind != "strip"}
    return any(led.name in rows and led.law not in HARDY_LAWS for led in build.drawer.leds)


def _drilled(build: Build, part: str | None) -> tuple[str, ...]:
    counts = Counter((source.drill or f"{source.hole_mm:.2f} mm", source.hole_mm) for _, source in _holes(build, part))
    return tuple(
        f"{count} hole{'' if count == 1 else 's'} with the {drill} drill"
        for (drill, _), count in sorted(counts.items(), key=str)
    )


def _coated(build: Build, key: str, part: str | None) -> tuple[str, ...]:
    coats = [coat for row in build.plan.parts if row.name == part for coat in row.coats]
    dark = [name for name in coats if build.drawer.coat(name).kind in BLOCKING]
    chosen = dark if key == "block_coat" else [name for name in coats if name not in dark]
    return tuple(chosen) or ("as the leak table asks",)
