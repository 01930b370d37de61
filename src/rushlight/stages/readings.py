"""Which single reading at the bench would narrow the answer most: each guess in turn is taken as known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight, Leak
from rushlight.model.drawer import Drawer
from rushlight.model.plan_part import Part
from rushlight.optics.fibre import joint_factor
from rushlight.optics.fibre_loss import attenuation_db_per_m, finish_db
from rushlight.stages.fibre_light import in_colour, led_joint
from rushlight.stages.leaks import leaks_of
from rushlight.stages.light import lamp_lights
from rushlight.stages.measured import POLISHED, Found, put_in
from rushlight.stages.order import Build
from rushlight.stages.parts_law import joint_of
from rushlight.stages.strays import stray_share, strays_of
from rushlight.tables import row_by
from rushlight.units import Range

Place = tuple[str, str, str]
"""Table, row and column of a guess; `habits` and `bench` stand for what is no row of a part."""

JOINT: Place = ("habits", "fibre_joint", "value")

METHODS: dict[tuple[str, str], str] = {
    ("leds", "intensity_mcd"): "led intensity", ("strips", "flux_lm_per_m"): "strip flux",
    ("diffusers", "transmittance"): "diffuser", ("diffusers", "reflectance"): "diffuser",
    ("walls", "transmittance_1mm"): "wall", ("walls", "reflectance"): "reflectance",
    ("coats", "density"): "coat", ("coats", "reflectance"): "reflectance", ("habits", "value"): "fibre joint",
    ("bench", "stray light"): "stray light", ("bench", "fibre end"): "fibre end",
    ("bench", "fibre length"): "fibre length", ("bench", "fibre bend"): "fibre bend",
}
"""The method of bench_methods.csv that measures a guess."""

WIDEST = 1e-6
"""A range that begins at nothing counts from this share of its upper end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One guess, and what knowing it would do.

    `table`, `row` and `column` say which guess it is; `method` and `row` where the reading goes: `what` and `of` of an
    entry under the plan's `measured`. `now` is what is believed, `leaves` what the guess would then be known to.
    `stops` is by how much it narrows the answers that it touches, all in all (a stop is a factor of 2); `undecided` how
    many of them are undecided today, so that a finding hangs on them; `most` the answer that it narrows most.
    """

    table: str
    row: str
    column: str
    method: str
    measure: str
    now: Range
    leaves: Range
    stops: float
    touched: int
    undecided: int
    most: str
    before: Range
    after: Range


@dataclass(frozen=True, slots=True)
class _Answer:
    """A number that findings are about; `lamps` is how many lamps it stands for."""

    value: Range
    undecided: bool
    lamps: int = 1


def readings_of(design: Design) -> tuple[Reading, ...]:
    """Every guess about light that this design hangs on, the one worth measuring first in front.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    tuple of Reading
        Those that narrow something. Answers are the intensity of each lamp or row (against what is wanted) and the
        stray light of each part (against what is allowed). Only undecided answers count, if there are any: a range that
        lies on one side of its limits gives the same finding whatever is measured.
    Source
    ------
    One at a time, each range exchanged for what its method leaves of it about the middle (`leaves_share` of
    bench_methods.csv, never wider than before) and the light worked out anew; nothing is linearised.
    """
    build = _thinned(design)
    even = design.drawer.habit("equal").high or 1.5
    counts = _counts(design)
    now = _answers(build, design, even, counts)
    deciding = any(answer.undecided for answer in now.values())
    found = []
    for place in _guesses(build):
        known = put_in(build.drawer, Found(*place, _left(build.drawer, place)))
        then = _answers(replace(build, drawer=known), design, even, counts)
        reading = _reading(build.drawer, place, (now, then), deciding=deciding)
        if reading is not None:
            found.append(reading)
    return tuple(sorted(found, key=lambda row: -row.stops))


def _thinned(design: Design) -> Build:
    """The design with one lamp of each row on each emitter: its sisters hang on the same guesses.

    Lamps that shine inward all stay: their light adds up inside.
    """
    group = {lamp.name: lamp.name if lamp.facing == "inward" else lamp.group for lamp in design.lamps}
    seen: set[tuple[str, str]] = set()
    emitters = []
    for emitter in design.loom.emitters:
        kept = []
        for lamp in emitter.lamps:
            key = (group[lamp], emitter.part_row)
            if key not in seen:
                seen.add(key)
                kept.append(lamp)
        emitters.append(replace(emitter, lamps=tuple(kept)))
    loom = replace(design.loom, emitters=tuple(emitters))
    return Build(design.plan, design.drawer, design.lamps, design.sources, design.circuits, loom, design.power)


def _counts(design: Design) -> dict[str, int]:
    counts: dict[str, int] = {}
    for lamp in design.lamps:
        counts[lamp.group] = counts.get(lamp.group, 0) + 1
    return counts


def _answers(build: Build, design: Design, even: float, counts: dict[str, int]) -> dict[str, _Answer]:
    strongest: dict[str, LampLight] = {}
    lights = lamp_lights(build, design.aims)
    for light in lights:
        best = strongest.get(light.lamp)
        if best is None or light.intensity_cd.typical > best.intensity_cd.typical:
            strongest[light.lamp] = light
    made = {}
    for name, light in strongest.items():
        group = design.lamp(name).group
        wanted = light.wanted_cd
        made[group] = _Answer(light.intensity_cd, _crosses(light.intensity_cd, (wanted / even, wanted * even)),
                              counts[group])
    return made | {f"stray light of {leak.part}": _stray(leak) for leak in leaks_of(build, strays_of(build, lights))}


def _stray(leak: Leak) -> _Answer:
    return _Answer(leak.luminance_cd_m2, _crosses(leak.luminance_cd_m2, (leak.allowed_cd_m2,)))


def _crosses(value: Range, limits: Iterable[float]) -> bool:
    return any(value.low < limit < value.high for limit in limits)


def _guesses(build: Build) -> Iterator[Place]:
    """Ranges that this build's light uses and a method narrows, each once."""
    places = [*_of_emitters(build), *(place for part in build.plan.parts for place in _of_part(part))]
    if build.loom.tails:
        places += [JOINT, *_of_tails(build)]
    for place in dict.fromkeys(places):
        now, left = value_at(build.drawer, place), _left(build.drawer, place)
        if now.low < left.low or left.high < now.high:
            yield place


def _of_emitters(build: Build) -> Iterator[Place]:
    for emitter in build.loom.emitters:
        if emitter.kind == "strip":
            yield ("strips", emitter.part_row, "flux_lm_per_m")
        else:
            yield ("leds", emitter.part_row, "intensity_mcd")
        yield ("bench", emitter.kind, "stray light")


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


BEND_TIMES = Range(0.5, 1.0, 2.0)
"""How far a bend's loss lies off the typical law, in words: its angle and launch decide the real span."""


def _bench_value(drawer: Drawer, name: str, column: str) -> Range:
    """What stands in no table of parts, as measured or as the laws have it."""
    measured = drawer.measured(column, name)
    if measured is not None:
        return measured
    if column == "fibre end":
        return finish_db(name)
    if column == "fibre bend":
        return BEND_TIMES
    if column == "fibre length":
        colour = name.rpartition(", ")[2]
        return attenuation_db_per_m(next(led.dominant_nm for led in drawer.leds if led.colour == colour))
    return stray_share(drawer, name)


def _of_part(part: Part) -> Iterator[Place]:
    for sheet in sorted({row.sheet for opening in part.openings for row in opening.diffusers}):
        yield from (("diffusers", sheet, "transmittance"), ("diffusers", sheet, "reflectance"))
    yield from (("walls", part.wall, "transmittance_1mm"), ("walls", part.wall, "reflectance"))
    for coat in part.coats:
        yield from (("coats", coat, "density"), ("coats", coat, "reflectance"))


def value_at(drawer: Drawer, place: Place) -> Range:
    """What is believed of a guess today."""
    table, name, column = place
    if place == JOINT:
        return joint_of(drawer) or joint_factor()
    if table == "bench":
        return _bench_value(drawer, name, column)
    value: Range = getattr(next(row for row in getattr(drawer, table) if row.name == name), column)
    return value


def _left(drawer: Drawer, place: Place) -> Range:
    """What a reading would leave of a guess: its middle with the error of the method, never wider than before."""
    now, method = value_at(drawer, place), row_by("bench_methods", "what", METHODS[place[0], place[2]])
    share, middle = float(method["leaves_share"]), now.typical
    return Range(max(now.low, middle * (1.0 - share)), middle, min(now.high, middle * (1.0 + share)))


def _reading(
    drawer: Drawer, place: Place, answers: tuple[dict[str, _Answer], dict[str, _Answer]], *, deciding: bool
) -> Reading | None:
    now, then = answers
    gains = {key: _stops(answer.value) - _stops(then[key].value) for key, answer in now.items()}
    touched = {key: gain for key, gain in gains.items() if gain > 1e-6 and (now[key].undecided or not deciding)}
    if not touched:
        return None
    most = max(touched, key=lambda key: touched[key])
    table, row, column = place
    method = METHODS[table, column]
    return Reading(
        table=table, row=row, column=column, method=method, measure=row_by("bench_methods", "what", method)["how"],
        now=value_at(drawer, place), leaves=_left(drawer, place),
        stops=sum(gain * now[key].lamps for key, gain in touched.items()),
        touched=sum(now[key].lamps for key in touched),
        undecided=sum(now[key].lamps for key in touched if now[key].undecided),
        most=most, before=now[most].value, after=then[most].value,
    )


def _stops(value: Range) -> float:
    if value.high <= 0.0:
        return 0.0
    return math.log2(value.high / max(value.low, WIDEST * value.high))
