"""Readings of what feeds the model: how long it runs, and whether a power bank stays awake."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from rushlight.model.design import Design
from rushlight.model.design_power import Power, StatePower
from rushlight.stages.burnt import total
from rushlight.stages.measured_found import Place
from rushlight.stages.measured_places import value_at
from rushlight.stages.reading_answers import (
    LEAST_GAIN_STOPS,
    Answer,
    Direct,
    Narrowed,
    crosses,
    leaves_share,
    narrowed,
    whole,
    within,
)
from rushlight.stages.supplies import (
    BANK,
    BANK_ENERGY,
    BANK_LOAD,
    CELL_CHARGE,
    bank_least_a,
    cell_ohm,
    in_cells,
    load_a,
    printed,
    supply_spread,
)
from rushlight.units import Range

# --- run time ------------------------------------------------------------------------------------------------------


def run_name(state: StatePower) -> str:
    """Of the answer of how long a state runs."""
    return f"run time of {state.state}"


def shortest(design: Design) -> StatePower | None:
    """The lit state that the supply bears least; None where it does not run down."""
    lit = [state for state in design.power.states if state.lit and 0.0 < state.run_time_h.high < math.inf]
    return min(lit, key=lambda state: state.run_time_h.low, default=None)


def run_answers(design: Design) -> dict[str, Answer]:
    """How long the state lasts that the supply bears least."""
    state, supply = shortest(design), design.plan.supply
    if state is None or supply is None:
        return {}
    return {run_name(state): Answer(question="lasts", value=state.run_time_h,
                                     undecided=crosses(state.run_time_h, (supply.run_h,)))}


def run_at_h(design: Design, state: StatePower, times: Range) -> Range:
    """Run time of a state that takes so many times the usual; the supply's own spread is left [h]."""
    own = supply_spread(design.plan, design.drawer)
    known = [one for one, _ in state.run_at]
    tried = [one for one in known if times.low < one < times.high] + [times.low, times.high]
    hours = [float(np.interp(math.log(one), [math.log(each) for each in known], [hour for _, hour in state.run_at]))
             for one in tried]
    lasts = state.run_time_h
    ohm = state.run_by_ohm
    return within(Range(own.low * ohm.low * min(hours), lasts.typical, own.high * ohm.high * max(hours)), lasts)


def run_left(design: Design, answers: Mapping[str, Answer], power: Power) -> list[Narrowed]:
    """What is left of the run time, with what lamps take then: it goes with the state's whole current."""
    state = shortest(design)
    if state is None or run_name(state) not in answers:
        return []
    then = next(row for row in power.states if row.state == state.state)
    was_a, left_a = _taken_a(design, state), _taken_a(design, then)
    least, most = state.run_at[0][0], state.run_at[-1][0]
    times = Range(least ** _part(left_a.low / left_a.typical, was_a.low / was_a.typical), 1.0,
                  most ** _part(left_a.high / left_a.typical, was_a.high / was_a.typical))
    return [whole(run_name(state), answers[run_name(state)], run_at_h(design, state, times))]


def run_by_ohm_left(design: Design, answers: Mapping[str, Answer], power: Power, left: Range) -> list[Narrowed]:
    """What is left of the run time once the cells' resistance is known: by their volts, and by what lamps then take."""
    state = shortest(design)
    if state is None or run_name(state) not in answers:
        return []
    now = cell_ohm(design.plan, design.drawer)
    (by_amps,) = run_left(design, answers, power)
    by_volts = _in_ratio(state.run_time_h, _by_ohm_left(state.run_by_ohm, now, left), state.run_by_ohm)
    hours = _in_ratio(by_volts, by_amps.left, state.run_time_h)
    return [whole(run_name(state), answers[run_name(state)], within(hours, state.run_time_h))]


def awake_by_volts(design: Design, answers: Mapping[str, Answer], power: Power) -> list[Narrowed]:
    """What is left of whether a bank stays awake, with what lamps take then."""
    state = least_loaded(design)
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


def cell_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What the plan's cells hold."""
    state, supply = shortest(design), design.plan.supply
    if state is None or supply is None or not in_cells(design.plan):
        return
    each_ma = round(1000.0 * max(state.mean_a, 1e-5) / supply.in_parallel, 2)
    now, left = _kept(design, supply.cell, CELL_CHARGE)
    yield _run_reading(state, answers, ("bench", supply.cell, CELL_CHARGE), now=now, left=left,
                       hours=_in_ratio(state.run_time_h, left, now), usual=(("at_ma", each_ma),))


def bank_readings(design: Design, answers: Mapping[str, Answer]) -> Iterator[Direct]:
    """What of the print comes out of the plan's power bank, and the load under which it switches off."""
    state, supply = shortest(design), design.plan.supply
    if supply is None or supply.kind != "usb power bank":
        return
    if state is not None:
        now, left = _kept(design, printed(supply.bank_mah), BANK_ENERGY)
        at_ma = max(round(1000.0 * state.mean_a), 100.0)
        yield _run_reading(state, answers, ("bench", printed(supply.bank_mah), BANK_ENERGY), now=now, left=left,
                           hours=_in_ratio(state.run_time_h, left, now), of=BANK,
                           usual=(("at_ma", at_ma), ("printed_mah", supply.bank_mah)))
    least = least_loaded(design)
    if least is not None and design.drawer.measured(BANK_LOAD, BANK) is None:
        now, left = _kept(design, BANK, BANK_LOAD)
        awake = _over_a(load_a(design.drawer, least), left.times(0.001))
        yield Direct(place=("bench", BANK, BANK_LOAD), of=BANK, now=now, leaves=left,
                     narrows=(whole(awake_name(least), answers[awake_name(least)], awake),))


def _run_reading(
    state: StatePower, answers: Mapping[str, Answer], place: Place, *, now: Range, left: Range, hours: Range,
    of: str = "", usual: tuple[tuple[str, str | float], ...] = (),
) -> Direct:
    """A reading of the supply that narrows the run time of the state that it bears least."""
    return Direct(place=place, of=of or place[1], now=now, leaves=left, usual=usual,
                  narrows=(whole(run_name(state), answers[run_name(state)], within(hours, state.run_time_h)),))


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


def awake_name(state: StatePower) -> str:
    """Of the answer of whether a bank stays awake in a state."""
    return f"load of {state.state} over the bank's least"


def least_loaded(design: Design) -> StatePower | None:
    """The lit state that a power bank notices least; None with another supply."""
    supply = design.plan.supply
    lit = [state for state in design.power.states if state.lit and state.mean_a > 0]
    if supply is None or supply.kind != "usb power bank":
        return None
    return min(lit, key=lambda state: state.mean_a, default=None)


def awake_answers(design: Design) -> dict[str, Answer]:
    """The load over that under which a bank switches off: undecided where it may be either."""
    state = least_loaded(design)
    if state is None:
        return {}
    value = _over_a(load_a(design.drawer, state), bank_least_a(design.drawer))
    return {awake_name(state): Answer(question="awake", value=value, undecided=crosses(value, (1.0,)))}


def _over_a(load: Range, least: Range) -> Range:
    return Range(load.low / least.high, load.typical / least.typical, load.high / least.low)


def awake_left(design: Design, answers: Mapping[str, Answer], load: Range) -> list[Narrowed]:
    """What is left of it with a load that is known better."""
    state = least_loaded(design)
    if state is None:
        return []
    value = _over_a(within(load, load_a(design.drawer, state)), bank_least_a(design.drawer))
    return [whole(awake_name(state), answers[awake_name(state)], value)]
