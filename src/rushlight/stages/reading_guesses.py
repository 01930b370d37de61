"""The guesses that readings would replace: which a build uses, what is believed of each, what a reading leaves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from rushlight.model.plan_part import Part
from rushlight.stages.aside import ASIDE, aside_of
from rushlight.stages.build import Build
from rushlight.stages.fibre_light import in_colour, led_joint
from rushlight.stages.measured_found import (
    HOLE_PLAY,
    JOINT,
    LED_VOLTAGE,
    LIP_LAP,
    POLISHED,
    POST_GAP,
    POST_PAINT,
    POST_ROOT,
    SEAM_GAP,
    USUAL_GAPS,
    Place,
)
from rushlight.stages.measured_places import value_at
from rushlight.stages.outlook import seen_range
from rushlight.stages.reading_answers import leaves_share, narrowed
from rushlight.stages.readings_led import left_v
from rushlight.stages.rooms import BOXED_ROOM
from rushlight.stages.supplies import CELL_OHM, UNIT_VOLTS, in_cells, printed_v, unit_name
from rushlight.stages.ways_out import TAPE, root_times
from rushlight.units import Range

INTENSITY = "intensity_mcd"

METHODS: dict[tuple[str, str], str] = {
    ("leds", "intensity_mcd"): "led intensity", ("leds", "half_angle_deg"): "led half angle",
    ("strips", "flux_lm_per_m"): "strip flux",
    ("diffusers", "transmittance"): "diffuser", ("diffusers", "reflectance"): "diffuser",
    ("walls", "transmittance_1mm"): "wall", ("walls", "reflectance"): "reflectance",
    ("coats", "density"): "coat", ("coats", "reflectance"): "reflectance", ("habits", "value"): "fibre joint",
    ("bench", "stray light"): "stray light", ("bench", "fibre end"): "fibre end",
    ("bench", "room paint"): "reflectance",
    ("bench", LED_VOLTAGE): LED_VOLTAGE,
    ("bench", "fibre length"): "fibre length", ("bench", "fibre bend"): "fibre bend",
    **{("bench", what): what for what in (ASIDE, *USUAL_GAPS, POST_PAINT, UNIT_VOLTS, CELL_OHM)},
}
"""The method of bench_methods.csv that measures a guess."""

Usual = tuple[tuple[str, str | float], ...]


def guesses(build: Build) -> Iterator[Place]:
    """Ranges that this build's light uses and a method narrows, each once."""
    places = [*_of_emitters(build), *(place for part in build.plan.parts for place in _of_part(part)),
              ("bench", "holes", HOLE_PLAY)]
    places += _of_domes(build)
    if build.loom.tails:
        places += [JOINT, *_of_tails(build)]
    supply = build.plan.supply
    if supply is not None:
        places.append(("bench", supply.cell, CELL_OHM) if in_cells(build.plan)
                      else ("bench", unit_name(supply), UNIT_VOLTS))
    for place in dict.fromkeys(places):
        now, left = believed(build, place), left_of(build, place)
        if now.low < left.low or left.high < now.high:
            yield place


def _of_emitters(build: Build) -> Iterator[Place]:
    openings = {lamp.name: lamp.opening for lamp in build.lamps}
    for emitter in build.loom.emitters:
        if emitter.kind == "strip":
            yield ("strips", emitter.part_row, "flux_lm_per_m")
        else:
            yield ("leds", emitter.part_row, "intensity_mcd")
            yield ("leds", emitter.part_row, "half_angle_deg")
            if build.drawer.measured(LED_VOLTAGE, emitter.part_row) is None:
                yield ("bench", emitter.part_row, LED_VOLTAGE)
        yield ("bench", emitter.kind, "stray light")
    own = {name for space in build.plan.spaces for name in (space.name, *space.windows)}
    if any(row.kind == "room" and openings[lamp] not in own for row in build.loom.emitters for lamp in row.lamps):
        yield ("bench", BOXED_ROOM, "room paint")


def _of_domes(build: Build) -> Iterator[Place]:
    """What domes send to their side, where lamps are looked at from there."""
    sources = {source.lamp: source for source in build.sources}
    for lamp in (lamp for lamp in build.lamps if lamp.arc_deg is not None):
        seen = seen_range(build.plan, build.drawer, lamp, sources[lamp.name])
        if seen.low < seen.high:
            yield ("bench", aside_of(sources[lamp.name]), ASIDE)


def _of_tails(build: Build) -> Iterator[Place]:
    """Losses on the way: ends that are not polished, the fibre's length in its lamps' colour, bends."""
    leds = {lamp: emitter.part_row for emitter in build.loom.emitters for lamp in emitter.lamps}
    groups = {lamp.name: lamp.group for lamp in build.lamps}
    for tail in (tail for tail in build.loom.tails if tail.lamp in leds):
        fibre = build.drawer.fibre(tail.fibre_mm)
        joint = led_joint(build.plan, build.drawer, groups[tail.lamp], tail.lamp)
        yield from (("bench", end, "fibre end") for end in (joint.inlet, tail.tip) if end != POLISHED)
        yield ("bench", in_colour(fibre, build.drawer.led(leds[tail.lamp])), "fibre length")
        if tail.bends:
            yield ("bench", fibre.name, "fibre bend")


def _of_part(part: Part) -> Iterator[Place]:
    for sheet in sorted({row.sheet for opening in part.openings for row in opening.diffusers}):
        yield from (("diffusers", sheet, "transmittance"), ("diffusers", sheet, "reflectance"))
    yield from (("walls", part.wall, "transmittance_1mm"), ("walls", part.wall, "reflectance"))
    if part.seams_mm and part.seams_closed != "filled" and part.seam_gap_mm is None:
        yield ("bench", part.name, SEAM_GAP)
    if part.seams_mm and part.seams_closed == "lip behind":
        yield ("bench", part.name, LIP_LAP)
    yield from (("bench", part.name, POST_GAP if post.height_mm is not None else POST_ROOT)
                for post in part.keep_outs if post.why == "post" and not part.holes_sealed)
    yield from (("bench", part.name, POST_PAINT) for post in part.keep_outs
                if post.why == "post" and post.height_mm is None and part.coats and not part.holes_sealed)
    if part.seams_mm and part.seams_closed == "taped inside":
        yield ("coats", TAPE, "density")
    for coat in part.coats:
        yield from (("coats", coat, "density"), ("coats", coat, "reflectance"))


def believed(build: Build, place: Place) -> Range:
    """What is taken for it today."""
    if place[2] == POST_PAINT:
        return root_times(build.drawer, build.plan.part(place[1]))
    value = value_at(build.drawer, place)
    assert value is not None, "only of what the plan names nothing is believed before the design is made"
    return value


def left_of(build: Build, place: Place) -> Range:
    """What a reading would leave of a guess."""
    if place[2] == LED_VOLTAGE:
        return left_v(believed(build, place))
    return narrowed(believed(build, place), leaves_share(METHODS[place[0], place[2]]))


def usual_of(build: Build, place: Place) -> Usual:
    """What its entry usually holds besides: an LED is best read at the current that it will have."""
    if place[2] == INTENSITY:
        return (("at_ma", _own_ma(build, place[1])),)
    return (("printed_v", printed_v(place[1])),) if place[2] == UNIT_VOLTS else ()


def _own_ma(build: Build, led: str) -> float:
    """The current that most LEDs of a kind have, to two digits; where none is lit that of its data sheet [mA]."""
    own = {one.name for one in build.loom.emitters if one.kind != "strip" and one.part_row == led}
    each_ma = [float(f"{1000.0 * row.current_a.typical:.2g}")
               for state in build.power.states for row in state.lit if row.emitter in own]
    count = Counter(at_ma for at_ma in each_ma if at_ma > 0.0)
    return max(count, key=lambda at_ma: (count[at_ma], at_ma), default=build.drawer.led(led).test_ma)


def thing_of(place: Place) -> str:
    """What the plan calls the thing; a fibre's loss is also kept by colour, a joint is tried on an LED of one's own."""
    if place[2] == UNIT_VOLTS:
        return place[1].rpartition(" of ")[0]
    return place[1].rpartition(", ")[0] if place[2] == "fibre length" else "" if place == JOINT else place[1]
