"""Which single reading at the bench would narrow the answer most: each guess in turn is taken as known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight, Leak
from rushlight.model.drawer import Drawer
from rushlight.model.plan_part import Part
from rushlight.stages.build import Build
from rushlight.stages.fibre_light import in_colour, led_joint
from rushlight.stages.leaks import leaks_of
from rushlight.stages.light import lamp_lights
from rushlight.stages.measured import JOINT, POLISHED, Found, Place, lamp_in, put_in, value_at
from rushlight.stages.rooms import BOXED_ROOM
from rushlight.stages.spaces import rises_over_k, space_box
from rushlight.stages.strays import strays_of
from rushlight.tables import row_by
from rushlight.units import Range

METHODS: dict[tuple[str, str], str] = {
    ("leds", "intensity_mcd"): "led intensity", ("leds", "half_angle_deg"): "led half angle",
    ("strips", "flux_lm_per_m"): "strip flux",
    ("diffusers", "transmittance"): "diffuser", ("diffusers", "reflectance"): "diffuser",
    ("walls", "transmittance_1mm"): "wall", ("walls", "reflectance"): "reflectance",
    ("coats", "density"): "coat", ("coats", "reflectance"): "reflectance", ("habits", "value"): "fibre joint",
    ("bench", "stray light"): "stray light", ("bench", "fibre end"): "fibre end",
    ("bench", "room paint"): "reflectance",
    ("bench", "fibre length"): "fibre length", ("bench", "fibre bend"): "fibre bend",
}
"""The method of bench_methods.csv that measures a guess."""

WIDEST = 1e-6
"""A range that begins at nothing counts from this share of its upper end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One guess, and what knowing it would do.

    `table`, `row` and `column` say which guess it is; `method`, `of` and `state` where the reading goes: `what`, `of`
    and `state` of an entry under the plan's `measured`. `now` is what is believed, `leaves` what would be left of it.
    `stops` is by how much it narrows the answers that it touches, all in all (a stop is a factor of 2); `undecided` how
    many of them are undecided today, so that a finding hangs on them; `most` the answer that it narrows most.
    """

    table: str
    row: str
    column: str
    method: str
    of: str
    measure: str
    now: Range
    leaves: Range
    stops: float
    touched: int
    undecided: int
    most: str
    before: Range
    after: Range
    state: str | None = None


@dataclass(frozen=True, slots=True)
class _Answer:
    """A number that findings are about; `lamps` is how many lamps it stands for, `lamp` one of them in a state."""

    value: Range
    undecided: bool
    lamps: int = 1
    lamp: tuple[str, str] | None = None


def readings_of(design: Design) -> tuple[Reading, ...]:
    """Every guess about light that this design hangs on, the one worth measuring first in front.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    tuple of Reading
        Those that narrow something. Answers are the intensity of each lamp or row (against what is wanted), the stray
        light of each part (against what is allowed) and the warmth of each space (against what its plastic bears).
        Only undecided answers count, if there are any: a range that
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
    warm = _warmth_answers(design)
    deciding = any(answer.undecided for answer in (*now.values(), *warm.values()))
    found = []
    for place in _guesses(build):
        known = put_in(build.drawer, Found(*place, _left(build.drawer, place)))
        then = _answers(replace(build, drawer=known), design, even, counts)
        found.append(_reading(build.drawer, place, (now, then), deciding=deciding))
    found += [_of_lamp(design, group, answer, deciding=deciding) for group, answer in now.items() if answer.lamp]
    found += [_of_warmth(design, space, answer, deciding=deciding) for space, answer in warm.items()]
    ranked = [reading for reading in found if reading is not None]
    return tuple(sorted(ranked, key=lambda row: -row.stops))


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
                              counts[group], (name, light.state))
    return made | {f"stray light of {leak.part}": _stray(leak) for leak in leaks_of(build, strays_of(build, lights))}


def _warmth_answers(design: Design) -> dict[str, _Answer]:
    """How much warmer each space gets; undecided where its wall may or may not pass what its plastic bears."""
    return {
        row.space: _Answer(row.air_rise_k, _crosses(row.wall_c, (row.advise_c, row.stop_c)))
        for row in design.heat.spaces
        if row.air_rise_k.low > 0 and design.drawer.measured("hull warmth", row.space) is None
    }


def _of_lamp(design: Design, group: str, answer: _Answer, *, deciding: bool) -> Reading | None:
    """A reading of one lamp of a group as it is built: it tells of that lamp alone."""
    assert answer.lamp is not None
    name, state = answer.lamp
    left = _narrowed(answer.value, "lamp")
    return _direct(_Place("bench", lamp_in(name, state), "lamp", name, state), group, answer, left, deciding=deciding)


def _of_warmth(design: Design, space: str, answer: _Answer, *, deciding: bool) -> Reading | None:
    row = next(row for row in design.heat.spaces if row.space == space)
    share = _leaves("hull warmth")
    box = space_box(design.plan, next(own for own in design.plan.spaces if own.name == space), design.drawer)
    left, _ = rises_over_k(replace(box, measured=Range(1.0 - share, 1.0, 1.0 + share)), row.power_w, design.heat.room_c)
    return _direct(_Place("bench", space, "hull warmth", space), f"warmth of {space}", answer, left, deciding=deciding)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a reading goes that is of a thing of the plan."""

    table: str
    row: str
    column: str
    of: str
    state: str | None = None


def _direct(place: _Place, most: str, answer: _Answer, left: Range, *, deciding: bool) -> Reading | None:
    """A reading that is itself the answer: it narrows that one to what its method leaves."""
    gain = _stops(answer.value) - _stops(left)
    if gain <= 1e-6 or (deciding and not answer.undecided):
        return None
    return Reading(
        table=place.table, row=place.row, column=place.column, method=place.column, of=place.of, state=place.state,
        measure=row_by("bench_methods", "what", place.column)["how"], now=answer.value, leaves=left, stops=gain,
        touched=1, undecided=int(answer.undecided), most=most, before=answer.value, after=left,
    )


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
        now, left = _believed(build.drawer, place), _left(build.drawer, place)
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
        yield ("bench", emitter.kind, "stray light")
    own = {space.name for space in build.plan.spaces}
    if any(row.kind == "room" and openings[lamp] not in own for row in build.loom.emitters for lamp in row.lamps):
        yield ("bench", BOXED_ROOM, "room paint")


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
    for coat in part.coats:
        yield from (("coats", coat, "density"), ("coats", coat, "reflectance"))


def _believed(drawer: Drawer, place: Place) -> Range:
    value = value_at(drawer, place)
    assert value is not None, "only of what the plan names nothing is believed before the design is made"
    return value


def _left(drawer: Drawer, place: Place) -> Range:
    """What a reading would leave of a guess."""
    return _narrowed(_believed(drawer, place), METHODS[place[0], place[2]])


def _leaves(method: str) -> float:
    return float(row_by("bench_methods", "what", method)["leaves_share"])


def _narrowed(now: Range, method: str) -> Range:
    """A range's middle with the error of a method, never wider than before."""
    share, middle = _leaves(method), now.typical
    return Range(max(now.low, middle * (1.0 - share)), middle, min(now.high, middle * (1.0 + share)))


def _of(place: Place) -> str:
    """What the plan calls the thing; a fibre's loss is also kept by colour, a joint is tried on an LED of one's own."""
    return place[1].rpartition(", ")[0] if place[2] == "fibre length" else "" if place == JOINT else place[1]


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
        table=table, row=row, column=column, method=method, of=_of(place),
        measure=row_by("bench_methods", "what", method)["how"],
        now=_believed(drawer, place), leaves=_left(drawer, place),
        stops=sum(gain * now[key].lamps for key, gain in touched.items()),
        touched=sum(now[key].lamps for key in touched),
        undecided=sum(now[key].lamps for key in touched if now[key].undecided),
        most=most, before=now[most].value, after=then[most].value,
    )


def _stops(value: Range) -> float:
    if value.high <= 0.0:
        return 0.0
    return math.log2(value.high / max(value.low, WIDEST * value.high))
