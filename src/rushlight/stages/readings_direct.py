"""Readings of things of the plan itself: a lamp as built, a space, a feed, a bundle, pulses, the room."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from rushlight.geometry.bundle import NoTube, choose_tube
from rushlight.likely import guess_of, likely_range, likely_times, ln_apart
from rushlight.model.design import Design
from rushlight.model.design_light import SpaceHeat
from rushlight.model.design_loom import Bundle
from rushlight.model.design_power import Power, StatePower
from rushlight.stages.build import Build
from rushlight.stages.bundles import BUNDLE_WIDTH, hand_times, tied, tube_size
from rushlight.stages.filming import (
    BAND_SHARE,
    asked_pulses_hz,
    dimmed_levels,
    pulse_rate_hz,
    readout_ms,
    shutters,
    worst_banding,
)
from rushlight.stages.heat import as_fed_w, power_inside_w, shown_w
from rushlight.stages.leaks import least_seen_lux, room_lux_here
from rushlight.stages.measured_found import Found, Place, lamp_in
from rushlight.stages.measured_places import put_in, value_at
from rushlight.stages.reading_answers import (
    Answer,
    Direct,
    Narrowed,
    crosses,
    leaves_share,
    narrowed,
    whole,
    within,
)
from rushlight.stages.readings_supply import (
    awake_answers,
    awake_left,
    awake_name,
    bank_readings,
    cell_readings,
    least_loaded,
    run_answers,
    run_at_h,
    run_name,
    shortest,
)
from rushlight.stages.sisters import Kin, cut_by, kin_of
from rushlight.stages.spaces import rises_over_k, space_box
from rushlight.stages.supplies import (
    FEED_POWER,
)
from rushlight.units import Range

HULL_WARMTH = "hull warmth"
ROOM_LIGHT: Place = ("bench", "room", "room light")

PULSES = "pulses a second"
BANDS = "bands in a picture"

RATES = 24
"""So many pulse rates that may be are tried for whether they show on film."""


def direct_answers(design: Design) -> dict[str, Answer]:
    """Warmth of spaces, width of bundles, run time, a bank that stays awake, pulses on film."""
    return {**_warmth_answers(design), **_fit_answers(design), **run_answers(design), **awake_answers(design),
            **_film_answers(design)}


def direct_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """Every reading of a thing of the plan; `answers` are all of the design."""
    yield from _lamp_readings(design, answers)
    yield from _warmth_readings(design, answers)
    yield from _feed_readings(design, answers)
    yield from _bundle_readings(design, answers)
    yield from cell_readings(design, answers)
    yield from bank_readings(design, answers)
    yield from _film_readings(design, answers)
    yield from _room_readings(design, answers)


# --- a lamp as it is built, and its sisters ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Like:
    """Lamps of one answer that share all that sisters share."""

    answer: str
    kin: Kin
    lamps: tuple[str, ...]


def _lamp_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """Of lamps that share a bag the one whose reading narrows most, with all that it tells of its sisters."""
    alike = _alike(design, answers)
    best: dict[object, Direct] = {}
    for like in alike:
        told = _lamp_reading(design, answers, like, alike)
        if told is not None and (like.kin.bag not in best or _all_stops(told) > _all_stops(best[like.kin.bag])):
            best[like.kin.bag] = told
    yield from best.values()


def _all_stops(one: Direct) -> tuple[float, float]:
    """Stops of the answers with an open verdict, then of all."""
    gains = [(row.answer.undecided, row.stops * row.lamps) for row in one.narrows]
    return sum(gain for is_open, gain in gains if is_open), sum(gain for _, gain in gains)


def _alike(design: Design, answers: Mapping[str, Answer]) -> list[_Like]:
    """Lamps that give light, gathered by answer and by what they share; LEDs by themselves share their bag alone."""
    build = Build(design.plan, design.drawer, design.lamps, design.sources, design.circuits, design.loom, design.power)
    kin = kin_of(build)
    found: dict[tuple[str, str, object], list[str]] = {}
    for name, answer in answers.items():
        for lamp in (lamp for lamp in answer.alike if lamp in kin):
            emitter = kin[lamp].emitter if kin[lamp].bag[0] == "illuminator" else ""
            found.setdefault((name, emitter, kin[lamp].bag), []).append(lamp)
    return [_Like(answer, kin[names[0]], tuple(names)) for (answer, _, _), names in found.items()]


def _lamp_reading(
    design: Design, answers: Mapping[str, Answer], read: _Like, alike: list[_Like]
) -> Direct | None:
    answer = answers[read.answer]
    assert answer.lamp is not None
    name, state = answer.lamp if answer.lamp[0] in read.lamps else (read.lamps[0], answer.lamp[1])
    share = leaves_share("lamp")
    left = narrowed(answer.value, share)
    if design.drawer.measured("lamp", lamp_in(name, state)) is not None or left == answer.value:
        return None
    shown = Range(1.0 - share, 1.0, 1.0 + share)
    told = [Narrowed(name=read.answer, answer=answer, left=left, lamps=1)]
    for other in alike:
        relation, lamps = read.kin.relation(other.kin), len(other.lamps) - (other is read)
        if relation is not None and lamps:
            its = answers[other.answer]
            left_of_it = _sister_left(its.value, shown, relation)
            told.append(Narrowed(name=other.answer, answer=its, left=left_of_it, lamps=lamps,
                                 likely=within(left_of_it, its.ranked)))
    return Direct(place=("bench", lamp_in(name, state), "lamp"), of=name, now=answer.value, leaves=left,
                  narrows=tuple(told), usual=(("state", state),))


def _sister_left(value: Range, shown: Range, relation: str) -> Range:
    """What is left of a sister's range where the lamp beside it reads as it is reckoned."""
    if value.typical <= 0.0:
        return value
    return cut_by(value.times(1.0 / value.typical), shown, relation).times(value.typical)


# --- warmth --------------------------------------------------------------------------------------------------------


def _warmth_name(space: str) -> str:
    return f"warmth of {space}"


def _warmth_answers(design: Design) -> dict[str, Answer]:
    """How much warmer each space gets; undecided where its wall may or may not pass what its plastic bears."""
    return {
        _warmth_name(row.space): Answer(question="warm", value=row.air_rise_k,
                                        undecided=crosses(row.wall_c, (row.advise_c, row.stop_c)))
        for row in design.heat.spaces if row.air_rise_k.low > 0
    }


def _warmth_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    share = leaves_share(HULL_WARMTH)
    for row in _warm_spaces(design, answers):
        if design.drawer.measured(HULL_WARMTH, row.space) is None:
            left = _rise_k(design, row, row.power_w, Range(1.0 - share, 1.0, 1.0 + share))
            yield Direct(place=("bench", row.space, HULL_WARMTH), of=row.space, now=row.air_rise_k, leaves=left,
                         narrows=(whole(_warmth_name(row.space), answers[_warmth_name(row.space)], left),))


def _feed_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What a state takes, of each state in which a space is hottest, and of the one that the supply bears least."""
    spaces, least = list(_warm_spaces(design, answers)), (shortest(design), least_loaded(design))
    states = {state.state: state for state in design.power.states}
    names = [row.state for row in spaces] + [one.state for one in least if one is not None]
    for name in dict.fromkeys(names):
        if design.drawer.measured(FEED_POWER, name) is None and states[name].meter_w.typical > 0:
            yield _feed_reading(design, answers, states[name], [row for row in spaces if row.state == name])


def _feed_reading(
    design: Design, answers: Mapping[str, Answer], state: StatePower, spaces: list[SpaceHeat]
) -> Direct:
    now, share = shown_w(design.plan, state), leaves_share(FEED_POWER)
    read = Range.spread(now.typical, 1.0 - share, 1.0 + share)
    told = []
    for row in spaces:
        watts = within(as_fed_w(design.plan, state, row.power_w, read), row.power_w)
        name = _warmth_name(row.space)
        told.append(whole(name, answers[name], _rise_k(design, row, watts, None)))
    if run_name(state) in answers:
        times = within(read, state.meter_w).times(1.0 / state.meter_w.typical)
        told.append(whole(run_name(state), answers[run_name(state)], run_at_h(design, state, times)))
    if awake_name(state) in answers:
        told += awake_left(design, answers, read.times(state.mean_a / state.meter_w.typical))
    return Direct(place=("bench", state.state, FEED_POWER), of=state.state, now=now, leaves=within(read, now),
                  narrows=tuple(told))


def warmth_left(design: Design, answers: Mapping[str, Answer], power: Power) -> list[Narrowed]:
    """What is left of how warm each space gets, with what lamps take then."""
    build = Build(design.plan, design.drawer, design.lamps, design.sources, design.circuits, design.loom, power)
    states, told = {state.state: state for state in power.states}, []
    for row in _warm_spaces(design, answers):
        parts = next(own for own in design.plan.spaces if own.name == row.space).parts
        watts = within(power_inside_w(build, states[row.state], parts), row.power_w)
        told.append(whole(_warmth_name(row.space), answers[_warmth_name(row.space)],
                           _rise_k(design, row, watts, None)))
    return told


def _warm_spaces(design: Design, answers: Mapping[str, Answer]) -> Iterator[SpaceHeat]:
    return (row for row in design.heat.spaces if _warmth_name(row.space) in answers)


def _rise_k(design: Design, row: SpaceHeat, watts: Range, measured: Range | None) -> Range:
    """How much warmer the air of a space gets by some power, with the box law as it stands or as read."""
    box = space_box(design.plan, next(own for own in design.plan.spaces if own.name == row.space), design.drawer)
    return rises_over_k(box if measured is None else replace(box, measured=measured), watts, design.heat.room_c)[0]


# --- bundles -------------------------------------------------------------------------------------------------------


def _fit_answers(design: Design) -> dict[str, Answer]:
    """How wide each bundle gets; undecided where its ends would take another tube, or lie beside its LED's face."""
    wide = design.drawer.habit("bundle_led_width").high or 1.1
    return {bundle.name: Answer(question="fit", value=bundle.hand_made_mm,
                                undecided=crosses(bundle.hand_made_mm, (wide * bundle.led_face_mm,))
                                or _tube_at(design, bundle, bundle.hand_made_mm.low)
                                != _tube_at(design, bundle, bundle.hand_made_mm.high))
            for bundle in design.loom.bundles if len(bundle.fibre_mm) > 1}


def _tube_at(design: Design, bundle: Bundle, width_mm: float) -> str:
    fit = choose_tube([tube_size(tube) for tube in design.drawer.tubes], Range.exactly(width_mm), bundle.ideal_mm)
    return "" if isinstance(fit, NoTube) else fit.tube.name


def _bundle_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """A bundle of each fibre and number that a hand ties alike; mixes that hold the fibre follow it."""
    first: dict[Place, Bundle] = {}
    for bundle in design.loom.bundles:
        if bundle.name in answers:
            for place in _tied_places(design, bundle):
                first.setdefault(place, bundle)
    for place, bundle in first.items():
        now = value_at(design.drawer, place)
        assert now is not None, "what a hand ties is believed from a table"
        left = narrowed(now, leaves_share(BUNDLE_WIDTH))
        if left != now:
            widths = tied_widths(design, place, left)
            told = tuple(whole(name, answers[name], width) for name, width in widths.items() if name in answers)
            yield Direct(place=place, of=place[1].rpartition(", ")[0], now=now, leaves=left, narrows=told,
                         usual=(("count", float(len(bundle.fibre_mm))),))


def tied_widths(design: Design, place: Place, left: Range) -> dict[str, Range]:
    """How wide bundles get that a reading of one fibre's bundles tells of, by name [mm]."""
    drawer = put_in(design.drawer, Found(*place, left))
    return {bundle.name: hand_times(drawer, bundle.fibre_mm).times(bundle.ideal_mm) for bundle in design.loom.bundles
            if len(bundle.fibre_mm) > 1 and place in _tied_places(design, bundle)}


def _tied_places(design: Design, bundle: Bundle) -> list[Place]:
    return [("bench", tied(design.drawer.fibre(mm), len(bundle.fibre_mm)), BUNDLE_WIDTH)
            for mm in sorted(set(bundle.fibre_mm))]


# --- film ----------------------------------------------------------------------------------------------------------


def _film_answers(design: Design) -> dict[str, Answer]:
    """How fast the controller's pulses may be, and how many bands a picture has of them."""
    levels = tuple(sorted({level for found in dimmed_levels(design).values() for level in found}))
    if not levels:
        return {}
    hz, readout = _pulses_hz(design), readout_ms(design)
    verdicts = {_shows(design, levels, hz.low * (hz.high / hz.low) ** (k / RATES)) for k in range(RATES + 1)}
    return {PULSES: Answer(question="film", value=hz, undecided=len(verdicts) > 1),
            BANDS: Answer(question="film", value=readout.times(hz.typical / 1000.0), undecided=False)}


def _pulses_hz(design: Design) -> Range:
    read = design.drawer.measured("pulse rate", "controller")
    return asked_pulses_hz(design.plan) if read is None else read


def _shows(design: Design, levels: tuple[float, ...], hz: float) -> bool:
    return any(worst_banding(hz, seconds, levels) > BAND_SHARE for _, seconds in shutters(design))


def _film_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    if PULSES not in answers:
        return
    if design.drawer.measured("pulse rate", "controller") is None:
        now = answers[PULSES].value
        off = leaves_share("pulse rate")
        left = Range.spread(now.typical, 1.0 - off, 1.0 + off)
        yield Direct(place=("bench", "controller", "pulse rate"), of="controller", now=now, leaves=left,
                     narrows=(whole(PULSES, answers[PULSES], left),))
    now, hz = readout_ms(design), pulse_rate_hz(design).typical
    left = narrowed(now, leaves_share("camera readout"))
    if left != now:
        yield Direct(place=("bench", "camera", "camera readout"), of="camera", now=now, leaves=left,
                     narrows=(whole(BANDS, answers[BANDS], left.times(hz / 1000.0)),), usual=(("pulse_hz", hz),))


# --- the room ------------------------------------------------------------------------------------------------------


def stray_answer(build: Build, luminance_cd_m2: Range, likely_cd_m2: Range) -> Answer:
    """Stray light, as a wide patch, in times of what is just seen in the room; the room's light is a guess too."""
    least = least_seen_lux(room_lux_here(build.drawer, build.plan.subject.viewing_room))
    value = Range(luminance_cd_m2.low / least.high, luminance_cd_m2.typical / least.typical,
                  luminance_cd_m2.high / least.low)
    reach = likely_times((("the light", guess_of(likely_cd_m2)), ("the room", ln_apart(least))))
    likely = likely_range(value, reach)
    return Answer(question="stray", value=value, likely=likely, undecided=crosses(value, (1.0,)),
                  likely_closed=not crosses(likely, (1.0,)))


def _room_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What it leaves of the light where none should be is worked out with all other light."""
    lux = room_lux_here(design.drawer, design.plan.subject.viewing_room)
    left = narrowed(lux, leaves_share("room light"))
    stray = {name: one for name, one in answers.items() if one.question == "stray"}
    if left != lux and stray:
        yield Direct(place=ROOM_LIGHT, of="room", now=lux, leaves=left, narrows=())
