"""Readings of things of the plan itself: a lamp as built, a space, a bundle, cells, pulses, the room."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from rushlight.geometry.bundle import NoTube, choose_tube
from rushlight.model.design import Design
from rushlight.model.design_light import SpaceHeat
from rushlight.model.design_loom import Bundle
from rushlight.model.design_power import Power, StatePower
from rushlight.stages.build import Build
from rushlight.stages.bundles import BUNDLE_WIDTH, hand_times, tied, tube_size
from rushlight.stages.burnt import total
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
from rushlight.stages.reading_answers import LEAST_GAIN_STOPS, Answer, Narrowed, crosses, stops_of
from rushlight.stages.sisters import Kin, cut_by, kin_of
from rushlight.stages.spaces import rises_over_k, space_box
from rushlight.stages.supplies import (
    BANK,
    BANK_ENERGY,
    BANK_LOAD,
    CELL_CHARGE,
    CELL_OHM,
    FEED_POWER,
    bank_least_a,
    in_cells,
    load_a,
    printed,
    supply_spread,
)
from rushlight.tables import row_by
from rushlight.units import Range

HULL_WARMTH = "hull warmth"

PULSES = "pulses a second"
BANDS = "bands in a picture"

RATES = 24
"""So many pulse rates that may be are tried for whether they show on film."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Direct:
    """A reading of a thing of the plan: where it goes, what is believed, what is left, and of which answers."""

    place: Place
    of: str
    now: Range
    leaves: Range
    narrows: tuple[Narrowed, ...]
    usual: tuple[tuple[str, str | float], ...] = ()


def leaves_share(method: str) -> float:
    """How far off a thing may still be once it was read, as a share."""
    return float(row_by("bench_methods", "what", method)["leaves_share"])


def narrowed(now: Range, share: float) -> Range:
    """A range's middle with the error of a method, never wider than before."""
    middle = now.typical
    return Range(max(now.low, middle * (1.0 - share)), middle, min(now.high, middle * (1.0 + share)))


def direct_answers(design: Design) -> dict[str, Answer]:
    """Warmth of spaces, width of bundles, run time, a bank that stays awake, pulses on film."""
    return {**_warmth_answers(design), **_fit_answers(design), **_run_answers(design), **_awake_answers(design),
            **_film_answers(design)}


def direct_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """Every reading of a thing of the plan; `answers` are all of the design."""
    yield from _lamp_readings(design, answers)
    yield from _warmth_readings(design, answers)
    yield from _feed_readings(design, answers)
    yield from _bundle_readings(design, answers)
    yield from _cell_readings(design, answers)
    yield from _bank_readings(design, answers)
    yield from _film_readings(design, answers)
    yield from _room_readings(design, answers)


def _whole(name: str, answer: Answer, left: Range) -> Narrowed:
    return Narrowed(name=name, answer=answer, left=left, lamps=answer.lamps)


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
    gains = [(row.answer.undecided, (stops_of(row.answer.value) - stops_of(row.left)) * row.lamps)
             for row in one.narrows]
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
            told.append(Narrowed(name=other.answer, answer=its, left=left_of_it, lamps=lamps))
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
                         narrows=(_whole(_warmth_name(row.space), answers[_warmth_name(row.space)], left),))


def _feed_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What a state takes, of each state in which a space is hottest, and of the one that the supply bears least."""
    spaces, shortest = list(_warm_spaces(design, answers)), _shortest(design)
    states = {state.state: state for state in design.power.states}
    names = [row.state for row in spaces] + [one.state for one in (shortest, _least_loaded(design)) if one is not None]
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
        watts = _within(as_fed_w(design.plan, state, row.power_w, read), row.power_w)
        name = _warmth_name(row.space)
        told.append(_whole(name, answers[name], _rise_k(design, row, watts, None)))
    if _run_name(state) in answers:
        times = _within(read, state.meter_w).times(1.0 / state.meter_w.typical)
        told.append(_whole(_run_name(state), answers[_run_name(state)], _run_at_h(design, state, times)))
    if _awake_name(state) in answers:
        told += awake_left(design, answers, read.times(state.mean_a / state.meter_w.typical))
    return Direct(place=("bench", state.state, FEED_POWER), of=state.state, now=now, leaves=_within(read, now),
                  narrows=tuple(told))


def warmth_left(design: Design, answers: Mapping[str, Answer], power: Power) -> list[Narrowed]:
    """What is left of how warm each space gets, with what lamps take then."""
    build = Build(design.plan, design.drawer, design.lamps, design.sources, design.circuits, design.loom, power)
    states, told = {state.state: state for state in power.states}, []
    for row in _warm_spaces(design, answers):
        parts = next(own for own in design.plan.spaces if own.name == row.space).parts
        watts = _within(power_inside_w(build, states[row.state], parts), row.power_w)
        told.append(_whole(_warmth_name(row.space), answers[_warmth_name(row.space)],
                           _rise_k(design, row, watts, None)))
    return told


def _within(value: Range, now: Range) -> Range:
    """A range cut by what was believed."""
    low, high = max(value.low, now.low), min(value.high, now.high)
    return Range(low, min(max(value.typical, low), high), high) if low <= high else now


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
            told = tuple(_whole(name, answers[name], width) for name, width in widths.items() if name in answers)
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


# --- run time ------------------------------------------------------------------------------------------------------


def _run_name(state: StatePower) -> str:
    return f"run time of {state.state}"


def _shortest(design: Design) -> StatePower | None:
    """The lit state that the supply bears least; None where it does not run down."""
    lit = [state for state in design.power.states if state.lit and 0.0 < state.run_time_h.high < math.inf]
    return min(lit, key=lambda state: state.run_time_h.low, default=None)


def _run_answers(design: Design) -> dict[str, Answer]:
    state, supply = _shortest(design), design.plan.supply
    if state is None or supply is None:
        return {}
    return {_run_name(state): Answer(question="lasts", value=state.run_time_h,
                                     undecided=crosses(state.run_time_h, (supply.run_h,)))}


def _run_at_h(design: Design, state: StatePower, times: Range) -> Range:
    """Run time of a state that takes so many times the usual; the supply's own spread is left [h]."""
    own = supply_spread(design.plan, design.drawer)
    known = [one for one, _ in state.run_at]
    tried = [one for one in known if times.low < one < times.high] + [times.low, times.high]
    hours = [float(np.interp(math.log(one), [math.log(each) for each in known], [hour for _, hour in state.run_at]))
             for one in tried]
    lasts = state.run_time_h
    ohm = state.run_by_ohm
    return _within(Range(own.low * ohm.low * min(hours), lasts.typical, own.high * ohm.high * max(hours)), lasts)


def run_left(design: Design, answers: Mapping[str, Answer], power: Power) -> list[Narrowed]:
    """What is left of the run time, with what lamps take then: it goes with the state's whole current."""
    state = _shortest(design)
    if state is None or _run_name(state) not in answers:
        return []
    then = next(row for row in power.states if row.state == state.state)
    was_a, left_a = _taken_a(design, state), _taken_a(design, then)
    least, most = state.run_at[0][0], state.run_at[-1][0]
    times = Range(least ** _part(left_a.low / left_a.typical, was_a.low / was_a.typical), 1.0,
                  most ** _part(left_a.high / left_a.typical, was_a.high / was_a.typical))
    return [_whole(_run_name(state), answers[_run_name(state)], _run_at_h(design, state, times))]


def awake_by_volts(design: Design, answers: Mapping[str, Answer], power: Power) -> list[Narrowed]:
    """What is left of whether a bank stays awake, with what lamps take then."""
    state = _least_loaded(design)
    if state is None:
        return []
    was_a, left_a = _taken_a(design, state), _taken_a(design, next(
        row for row in power.states if row.state == state.state))
    return awake_left(design, answers, _in_ratio(load_a(design.drawer, state), left_a, was_a))


def _part(left: float, whole: float) -> float:
    """What part of a span is left, in the logarithm."""
    return math.log(left) / math.log(whole) if abs(math.log(whole)) > LEAST_GAIN_STOPS else 1.0


def _taken_a(design: Design, state: StatePower) -> Range:
    """Mean current of all that a state lights, with what draws by itself [A]."""
    lit = [(row.current_a, max(design.loom.emitter(row.emitter).segments, 1) * row.on_share) for row in state.lit
           if not design.loom.beyond(row.emitter)]
    idle_a = max(state.mean_a - sum(amps.typical * times for amps, times in lit), 0.0)
    return total([Range.exactly(max(idle_a, 1e-6)), *(amps.times(times) for amps, times in lit)])


def _cell_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What the plan's cells hold, and their inner resistance."""
    state, supply = _shortest(design), design.plan.supply
    if state is None or supply is None or not in_cells(design.plan):
        return
    each_ma = round(1000.0 * max(state.mean_a, 1e-5) / supply.in_parallel, 2)
    now, left = _kept(design, supply.cell, CELL_CHARGE)
    yield _run_reading(state, answers, ("bench", supply.cell, CELL_CHARGE), now=now, left=left,
                       hours=_in_ratio(state.run_time_h, left, now), usual=(("at_ma", each_ma),))
    now, left = _kept(design, supply.cell, CELL_OHM)
    yield _run_reading(state, answers, ("bench", supply.cell, CELL_OHM), now=now, left=left,
                       hours=_in_ratio(state.run_time_h, _by_ohm_left(state.run_by_ohm, now, left), state.run_by_ohm))


def _bank_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What of the print comes out of the plan's power bank, and the load under which it switches off."""
    state, supply = _shortest(design), design.plan.supply
    if supply is None or supply.kind != "usb power bank":
        return
    if state is not None:
        now, left = _kept(design, printed(supply.bank_mah), BANK_ENERGY)
        at_ma = max(round(1000.0 * state.mean_a), 100.0)
        yield _run_reading(state, answers, ("bench", printed(supply.bank_mah), BANK_ENERGY), now=now, left=left,
                           hours=_in_ratio(state.run_time_h, left, now), of=BANK,
                           usual=(("at_ma", at_ma), ("printed_mah", supply.bank_mah)))
    least = _least_loaded(design)
    if least is not None and design.drawer.measured(BANK_LOAD, BANK) is None:
        now, left = _kept(design, BANK, BANK_LOAD)
        awake = _over_a(load_a(design.drawer, least), left.times(0.001))
        yield Direct(place=("bench", BANK, BANK_LOAD), of=BANK, now=now, leaves=left,
                     narrows=(_whole(_awake_name(least), answers[_awake_name(least)], awake),))


def _run_reading(
    state: StatePower, answers: Mapping[str, Answer], place: Place, *, now: Range, left: Range, hours: Range,
    of: str = "", usual: tuple[tuple[str, str | float], ...] = (),
) -> Direct:
    """A reading of the supply that narrows the run time of the state that it bears least."""
    return Direct(place=place, of=of or place[1], now=now, leaves=left, usual=usual,
                  narrows=(_whole(_run_name(state), answers[_run_name(state)], _within(hours, state.run_time_h)),))


def _kept(design: Design, name: str, method: str) -> tuple[Range, Range]:
    """What is believed, and what a reading would leave of it."""
    now = value_at(design.drawer, ("bench", name, method))
    assert now is not None, "what is believed of a supply stands in a table"
    return now, narrowed(now, leaves_share(method))


def _in_ratio(hours: Range, left: Range, now: Range) -> Range:
    """Hours that go with something, end by end, once less is left of it."""
    ends = zip(_ends(hours), _ends(left), _ends(now), strict=True)
    return Range(*(hour * after / before for hour, after, before in ends))


def _by_ohm_left(hours: Range, now: Range, left: Range) -> Range:
    """What inner resistance makes of the hours once it was read: straight from the usual one to either end."""
    more = (left.high - 1.0) / (now.high - 1.0) if now.high > 1.0 else 1.0
    less = (1.0 - left.low) / (1.0 - now.low) if now.low < 1.0 else 1.0
    return Range(1.0 - (1.0 - hours.low) * more, 1.0, 1.0 + (hours.high - 1.0) * less)


def _ends(value: Range) -> tuple[float, float, float]:
    return value.low, value.typical, value.high


# --- awake ---------------------------------------------------------------------------------------------------------


def _awake_name(state: StatePower) -> str:
    return f"load of {state.state} over the bank's least"


def _least_loaded(design: Design) -> StatePower | None:
    """The lit state that a power bank notices least; None with another supply."""
    supply = design.plan.supply
    lit = [state for state in design.power.states if state.lit and state.mean_a > 0]
    if supply is None or supply.kind != "usb power bank":
        return None
    return min(lit, key=lambda state: state.mean_a, default=None)


def _awake_answers(design: Design) -> dict[str, Answer]:
    """The load over that under which a bank switches off: undecided where it may be either."""
    state = _least_loaded(design)
    if state is None:
        return {}
    value = _over_a(load_a(design.drawer, state), bank_least_a(design.drawer))
    return {_awake_name(state): Answer(question="awake", value=value, undecided=crosses(value, (1.0,)))}


def _over_a(load: Range, least: Range) -> Range:
    return Range(load.low / least.high, load.typical / least.typical, load.high / least.low)


def awake_left(design: Design, answers: Mapping[str, Answer], load: Range) -> list[Narrowed]:
    """What is left of it with a load that is known better."""
    state = _least_loaded(design)
    if state is None:
        return []
    value = _over_a(_within(load, load_a(design.drawer, state)), bank_least_a(design.drawer))
    return [_whole(_awake_name(state), answers[_awake_name(state)], value)]


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
                     narrows=(_whole(PULSES, answers[PULSES], left),))
    now, hz = readout_ms(design), pulse_rate_hz(design).typical
    left = narrowed(now, leaves_share("camera readout"))
    if left != now:
        yield Direct(place=("bench", "camera", "camera readout"), of="camera", now=now, leaves=left,
                     narrows=(_whole(BANDS, answers[BANDS], left.times(hz / 1000.0)),), usual=(("pulse_hz", hz),))


# --- the room ------------------------------------------------------------------------------------------------------


def stray_answer(design: Design, luminance_cd_m2: Range) -> Answer:
    """Stray light, as a wide patch, in times of what is just seen in the room; the room's light is a guess too."""
    value = _over_seen(luminance_cd_m2, room_lux_here(design.drawer, design.plan.subject.viewing_room))
    return Answer(question="stray", value=value, undecided=crosses(value, (1.0,)))


def _over_seen(luminance: Range, lux: Range) -> Range:
    least = least_seen_lux(lux)
    return Range(luminance.low / least.high, luminance.typical / least.typical, luminance.high / least.low)


def _room_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    lux = room_lux_here(design.drawer, design.plan.subject.viewing_room)
    left = narrowed(lux, leaves_share("room light"))
    stray = {name: one for name, one in answers.items() if one.question == "stray"}
    if left != lux and stray:
        before, after = least_seen_lux(lux), least_seen_lux(left)
        told = tuple(
            _whole(name, one, Range(one.value.low * before.high / after.high, one.value.typical,
                                    one.value.high * before.low / after.low))
            for name, one in stray.items())
        yield Direct(place=("bench", "room", "room light"), of="room", now=lux, leaves=left, narrows=told)
