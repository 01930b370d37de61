"""Which single reading at the bench would narrow the answer most: each guess in turn is taken as known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.design_light import LampLight, WayOut
from rushlight.stages.build import Build
from rushlight.stages.bundles import BUNDLE_WIDTH, tied_so
from rushlight.stages.leaks import leaks_of
from rushlight.stages.light import lamp_lights
from rushlight.stages.measured_found import (
    LED_VOLTAGE,
    POST_PAINT,
    USUAL_GAPS,
    Found,
    Place,
)
from rushlight.stages.measured_places import put_in
from rushlight.stages.parts_law import most_apart
from rushlight.stages.reading_answers import (
    QUESTIONS,
    Answer,
    Direct,
    Gain,
    Narrowed,
    crosses,
    gains_of,
)
from rushlight.stages.reading_guesses import (
    INTENSITY,
    METHODS,
    Usual,
    believed,
    guesses,
    left_of,
    thing_of,
    usual_of,
)
from rushlight.stages.readings_current import cut_of, with_light_read, with_supply_read
from rushlight.stages.readings_direct import (
    ROOM_LIGHT,
    direct_answers,
    direct_readings,
    stray_answer,
    tied_widths,
    warmth_left,
)
from rushlight.stages.readings_led import with_voltage_read
from rushlight.stages.readings_supply import awake_by_volts, run_by_ohm_left, run_left
from rushlight.stages.strays import strays_of
from rushlight.stages.supplies import CELL_OHM, UNIT_VOLTS
from rushlight.stages.ways_out import ways_out
from rushlight.tables import row_by
from rushlight.units import Range

BY_CURRENT = (LED_VOLTAGE, UNIT_VOLTS, CELL_OHM)
"""Guesses that what lamps take hangs on, and with it light, warmth, run time and a bank's waking."""

ALIKE = 4
"""Lamps of a group are alike where both ends of their light agree to a quarter of a stop (project rule)."""

ROUND = ("post", "post root", "fibre", "LED")
"""Ways out that run round what stands in the wall; the others are holes in it."""

NOT_OF_LAMPS = ("transmittance_1mm", "stray light", POST_PAINT, ROOM_LIGHT[2], *USUAL_GAPS)
"""Guesses that no lamp's own light hangs on: it is not worked out anew for them."""

Alike = list[tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One guess, and what knowing it would do.

    `table`, `row` and `column` say which guess it is; `method`, `of` and `usual` where the reading goes: `what`, `of`
    and further keys of an entry under the plan's `measured`. `now` is what is believed, `leaves` what would be left of
    it; `gains` what it does, question by question.
    """

    table: str
    row: str
    column: str
    method: str
    of: str
    measure: str
    now: Range
    leaves: Range
    gains: tuple[Gain, ...]
    usual: tuple[tuple[str, str | float], ...] = ()

    @property
    def state(self) -> str | None:
        """The state that it is read in, where it is of a thing that is lit."""
        return next((str(value) for key, value in self.usual if key == "state"), None)

    @property
    def best(self) -> Gain:
        """The question in which it does most."""
        return max(self.gains, key=lambda gain: (gain.settles, gain.stops))

    @property
    def stops(self) -> float:
        """By how much it narrows all that it touches."""
        return sum(gain.stops for gain in self.gains)

    @property
    def touched(self) -> int:
        """How many answers it narrows."""
        return sum(gain.touched for gain in self.gains)

    @property
    def undecided(self) -> int:
        """How many of them have an open verdict today."""
        return sum(gain.undecided for gain in self.gains)

    @property
    def settles(self) -> float:
        """How many open verdicts it may be expected to close."""
        return sum(gain.settles for gain in self.gains)

    @property
    def most(self) -> str:
        """The answer that it narrows most."""
        return self.best.most

    @property
    def before(self) -> Range:
        """That answer today."""
        return self.best.before

    @property
    def after(self) -> Range:
        """That answer once it is read."""
        return self.best.after

    @property
    def at_once(self) -> bool:
        """Whether it needs nothing built: the others wait for the lamps to be lit."""
        return row_by("bench_methods", "what", self.method)["when"] == "at once"

    def gain_in(self, question: str) -> Gain | None:
        """What it does in one question; None where it narrows nothing there."""
        return next((gain for gain in self.gains if gain.question == question), None)


def readings_of(design: Design) -> tuple[Reading, ...]:
    """Every guess that a verdict on this design hangs on, the one worth measuring first in front.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    tuple of Reading
        Only what touches an answer with an open verdict, if there is any: a range that lies on one side of its limits
        gives the same finding whatever is measured. Else every reading that narrows something.
    Source
    ------
    `every_reading`; ranked by how many open verdicts each may be expected to close, then by stops.
    """
    return worth_first(every_reading(design))


def worth_first(every: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """Of all readings those that the open verdicts hang on; all of them where none is open."""
    kept = [_open_alone(row) for row in every if row.undecided] or list(every)
    return tuple(sorted(kept, key=lambda row: (-row.settles, -row.stops)))


def _open_alone(row: Reading) -> Reading:
    return replace(row, gains=tuple(gain for gain in row.gains if gain.undecided))


def first_by_question(every: tuple[Reading, ...]) -> dict[str, tuple[Reading, ...]]:
    """For each question that a reading narrows its readings, the best in front."""
    def rank(question: str) -> tuple[Reading, ...]:
        own = [(row, row.gain_in(question)) for row in every]
        told = [(row, gain) for row, gain in own if gain is not None]
        return tuple(row for row, _ in sorted(told, key=lambda pair: (-pair[1].settles, -pair[1].stops)))

    return {question: found for question in QUESTIONS if (found := rank(question))}


def answers_of(design: Design) -> dict[str, Answer]:
    """Every number that a finding is about and a reading could narrow, by its name.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    dict of str to Answer
        The intensity of each lamp or row (against what is wanted), the stray light of each part (in times of what is
        just seen in the room), the warmth of each space (against what its plastic bears), each bundle's width (against
        tubes and face), the run time of the state that lasts least, the pulses and bands of what a controller dims.
    Source
    ------
    The laws of the stages that made the design.
    """
    return dict(_today(design).answers)


def every_reading(design: Design) -> tuple[Reading, ...]:
    """Every guess that this design hangs on and a method of the bench narrows.

    Parameters
    ----------
    design : Design
        A whole design.
    Returns
    -------
    tuple of Reading
        In each question only answers with an open verdict count, if it has any.
    Source
    ------
    One at a time, each range exchanged for what its method leaves of it about the middle (`leaves_share` of
    bench_methods.csv, never wider than before) and what hangs on it worked out anew, at the outside and what of that is
    likely; nothing is linearised. A lamp's reading counts what it tells of its sisters, by `sisters.sister_times`.
    """
    today = _today(design)
    open_in = {question: any(one.undecided for one in today.answers.values() if one.question == question)
               for question in QUESTIONS}
    found = [_of_guess(today, place, open_in) for place in guesses(today.build)]
    found += [_of_direct(_with_light(today, one), open_in) for one in direct_readings(design, today.answers)]
    return tuple(row for row in found if row.gains)


@dataclass(frozen=True, slots=True)
class _Today:
    """A design with its guesses as they are: thinned to one of alike lamps, what these give, and all answers."""

    design: Design
    build: Build
    alike: Alike
    lights: tuple[LampLight, ...]
    answers: Mapping[str, Answer]

    def left(self, known: Build, column: str) -> tuple[Narrowed, ...]:
        """What is left of all light in a build of which more is known, by the column of the guess."""
        lights = self.lights if column in NOT_OF_LAMPS else lamp_lights(known, self.design.aims)
        return tuple(Narrowed(name=name, answer=self.answers[name], left=then.value, lamps=self.answers[name].lamps,
                              likely=then.likely)
                     for name, then in _light_answers(known, self.design, self.alike, lights).items())


def _today(design: Design) -> _Today:
    alike = _alike(design)
    build = _thinned(design, alike)
    lights = lamp_lights(build, design.aims)
    answers = _light_answers(build, design, alike, lights) | direct_answers(design)
    return _Today(design, build, alike, lights, answers)


def _with_light(today: _Today, one: Direct) -> Direct:
    """A bundle's width says where its tails lie before the LED too, and so how bright they are; the room's light what
    of all light is seen."""
    build = today.build
    if one.place[2] == BUNDLE_WIDTH:
        known = replace(build, loom=tied_so(build.loom, tied_widths(today.design, one.place, one.leaves)))
    elif one.place == ROOM_LIGHT:
        known = replace(build, drawer=put_in(build.drawer, Found(*ROOM_LIGHT, one.leaves)))
    else:
        return one
    return replace(one, narrows=(*one.narrows, *today.left(known, one.place[2])))


def _of_direct(one: Direct, open_in: Mapping[str, bool]) -> Reading:
    return Reading(
        table=one.place[0], row=one.place[1], column=one.place[2], method=one.place[2], of=one.of,
        measure=row_by("bench_methods", "what", one.place[2])["how"], now=one.now, leaves=one.leaves,
        gains=gains_of(one.narrows, open_in), usual=one.usual,
    )


def _of_guess(today: _Today, place: Place, open_in: Mapping[str, bool]) -> Reading:
    """A guess of a part: all light, by its volts warmth and run time too, with what its method leaves of it."""
    build, design, answers = today.build, today.design, today.answers
    left, usual = left_of(build, place), usual_of(build, place)
    known, method = _known(build, place, left, usual), METHODS[place[0], place[2]]
    narrows = [*today.left(known, place[2])]
    if place[2] in BY_CURRENT:
        runs = (run_by_ohm_left(design, answers, known.power, left) if place[2] == CELL_OHM
                else run_left(design, answers, known.power))
        narrows += [*warmth_left(design, answers, known.power), *runs, *awake_by_volts(design, answers, known.power)]
    return Reading(
        table=place[0], row=place[1], column=place[2], method=method, of=thing_of(place),
        measure=row_by("bench_methods", "what", method)["how"], now=believed(build, place), leaves=left,
        gains=gains_of(narrows, open_in), usual=usual,
    )


def _known(build: Build, place: Place, left: Range, usual: Usual) -> Build:
    """The build as it would be with one guess known; with an LED's intensity goes how its light goes with current."""
    if place[2] == LED_VOLTAGE:
        return replace(build, power=with_voltage_read(build.power, build.drawer, build.loom, place[1]))
    if place[2] in BY_CURRENT:
        cut = cut_of(believed(build, place), left, high_takes_most=place[2] == UNIT_VOLTS)
        return replace(build, power=with_supply_read(build.drawer, build.loom, build.power, cut))
    if place[2] == INTENSITY:
        drawer = put_in(build.drawer, Found(*place, left, at_ma=float(dict(usual)["at_ma"])))
        return replace(build, drawer=drawer, power=with_light_read(drawer, build.loom, build.power, place[1]))
    return replace(build, drawer=put_in(build.drawer, Found(*place, left)))


def _thinned(design: Design, alike: Alike) -> Build:
    """The design with one lamp of all that are alike: the others hang on the same guesses.

    Lamps that shine inward all stay: their light adds up inside.
    """
    kept = {names[0] for names in alike} | {row.name for row in design.lamps if row.facing == "inward"}
    emitters = tuple(replace(emitter, lamps=tuple(name for name in emitter.lamps if name in kept))
                     for emitter in design.loom.emitters)
    loom = replace(design.loom, emitters=emitters)
    return Build(design.plan, design.drawer, design.lamps, design.sources, design.circuits, loom, design.power)


def _alike(design: Design) -> Alike:
    """Lamps of a group on one LED's row of the drawer whose light has the same ends: a bundle's middle is none of them.

    The one that gives most in its group stands first, of the lamps and of the lists.
    """
    lights = _strongest(design.light.lamps)
    rows = {lamp: emitter.part_row for emitter in design.loom.emitters for lamp in emitter.lamps}
    found: dict[tuple[str, str, int, int], list[str]] = {}
    for lamp in design.lamps:
        if lamp.name in lights and lamp.name in rows:
            value = lights[lamp.name].intensity_cd
            found.setdefault((lamp.group, rows[lamp.name], _step(value.low), _step(value.high)), []).append(lamp.name)

    def most(name: str) -> float:
        return -lights[name].intensity_cd.typical

    return sorted((tuple(sorted(names, key=most)) for names in found.values()), key=lambda names: most(names[0]))


def _step(candela: float) -> int:
    """An intensity in steps of `ALIKE` to a factor of two."""
    return round(ALIKE * math.log2(candela)) if candela > 0 else -1_000_000


def _strongest(lights: Iterable[LampLight]) -> dict[str, LampLight]:
    """Of each lamp its light in the state in which it gives most."""
    strongest: dict[str, LampLight] = {}
    for light in lights:
        best = strongest.get(light.lamp)
        if best is None or light.intensity_cd.typical > best.intensity_cd.typical:
            strongest[light.lamp] = light
    return strongest


def _light_answers(
    build: Build, design: Design, lamps: Alike, lights: tuple[LampLight, ...]
) -> dict[str, Answer]:
    """A group's answer is that of its brightest lamps; where others of it differ, theirs bear one lamp's own name."""
    strongest, made = _strongest(lights), dict[str, Answer]()
    for alike in lamps:
        if alike[0] in strongest:
            group = design.lamp(alike[0]).group
            made[alike[0] if group in made else group] = _bright(design, strongest[alike[0]], alike)
    strays = strays_of(build, lights)
    leaks = leaks_of(build, strays)
    gaps = ways_out(replace(build, loom=design.loom), leaks, strays)
    walls = {f"stray light of {leak.part}": stray_answer(build, leak.luminance_cd_m2, leak.likely_cd_m2)
             for leak in leaks}
    return made | walls | {_gap_name(gap): stray_answer(build, gap.seen_as_cd_m2, gap.likely_seen_as_cd_m2)
                           for gap in gaps}


def _gap_name(gap: WayOut) -> str:
    name, at = gap.name.removeprefix("its "), "round" if gap.kind in ROUND else "in"
    return f"light {at} the {name} of {gap.part}" if gap.kind == "seam" else f"light {at} '{name}' of {gap.part}"


def _bright(design: Design, light: LampLight, alike: tuple[str, ...]) -> Answer:
    light, even = light.looked_at, most_apart(design.drawer)
    wanted = light.wanted_cd
    limits = (wanted / even, wanted * even)
    return Answer(question="bright", value=light.intensity_cd, likely=light.likely_cd, alike=alike,
                  lamp=(light.lamp, light.state), undecided=crosses(light.intensity_cd, limits),
                  likely_closed=not crosses(light.likely_cd, limits))
