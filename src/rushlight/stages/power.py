"""Power: resistors, and the whole DC network solved in every state at every age of the supply."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from rushlight.electric.cell import Ages
from rushlight.electric.elements import Columns, Network, Supply, columns_of
from rushlight.electric.network import NetworkFault, OperatingPoint, Shape
from rushlight.electric.network_shape import refitted
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import EmitterCurrent, Power, Regulator, StatePower
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan, State
from rushlight.stages.apart import apart_of
from rushlight.stages.burnt import Burnt, burnt_of, led_powers_w, range_of, total
from rushlight.stages.drains import LEAST_SPAN, Drains, StateDrain, as_fed, drained, lit_in, with_mean
from rushlight.stages.evening import RUNS_DOWN, Drain, evening_of, stages_of
from rushlight.stages.feed_trades import feed_trades
from rushlight.stages.led_heat import COLD, led_warmth_of, light_share
from rushlight.stages.loom_warmth import Heaters, LoomWarmth
from rushlight.stages.network import (
    EmitterLaw,
    emitter_law,
    loom_network,
    spread_v,
    string_name,
    with_supply_ends,
)
from rushlight.stages.parts_law import emitter_light_a, lit_range_a
from rushlight.stages.regulator_heat import warmth_of
from rushlight.stages.regulators import Chosen, across_v, regulator_of, regulators_held, spread_factors
from rushlight.stages.resistance_spread import resistance_spread
from rushlight.stages.resistors import fitted_resistors, resistances
from rushlight.stages.rhythms import idle_a, made_rhythms, with_makers
from rushlight.stages.spaces import room_c
from rushlight.stages.supplies import battery_of, choose_fuse, in_cells, plan_supply, run_time_h, supply_ages
from rushlight.stages.switching import Switching, aimed_most_a, described, switching
from rushlight.timing.character import parse_rhythm
from rushlight.units import Range

LIT_A = 1e-6
"""Above this an emitter counts as lit: an indicator LED is visible in the dark from about a microampere on."""

DIM_SHARE = 0.3
"""Lamps count as gone out when their light falls under this share of the aimed (project proposal: 1.7 stops)."""

AS_TOLD = Range.exactly(1.0)

STEPS = 4
"""So many currents between the usual one and either end are tried for how long the supply bears them."""

AIM_HEADROOM = 1.35
"""A fresh supply and LEDs of low voltage take so much more than the aim (project proposal)."""


@dataclass(frozen=True, slots=True)
class _Case:
    """The network of one build with everything that its solution is read with."""

    network: Network
    columns: Columns
    point: OperatingPoint
    """With everything as warm as it gets."""
    first: OperatingPoint
    """The first moment after switching on."""
    junction_c: Mapping[str, np.ndarray]
    """Of the LEDs of every string in every column [degC]."""
    apart: Mapping[tuple[str, str], tuple[tuple[str, float], ...]]
    """By string and state what each cause alone does to its current."""
    row_of: Mapping[str, int]
    tolerances: tuple[str, ...]
    drains: tuple[Drain, Drain, Drain]
    """The loom at every age of the supply, with typical LEDs, all of low and all of high voltage (typical ones where
    nothing asks for it); the mean over rhythms is not known yet."""
    burnt: Burnt
    led_w: Mapping[str, np.ndarray]
    """Power in the diodes of every string in every column [W]."""


def power_of(
    plan: Plan, drawer: Drawer, *, loom: Loom, circuits: tuple[Circuit, ...], weighed: bool = True
) -> Power:
    """Resistors, currents, supply, switch and run times.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    loom, circuits
        Results of the stages before.
    weighed : bool
        False leaves out the comparison of a resistor with regulators, and the spread of LEDs in run times.
    Returns
    -------
    Power
        Without a supply or without anything wired it says so in `faults`.
    Source
    ------
    Network: see `electric.network`; resistors of the series at hand, else E24, by IEC 60063, half-rating habit.
    """
    ages = supply_ages(plan, drawer)
    if not ages or not loom.leads:
        why = "the plan names no supply" if not ages else "nothing is wired"
        return Power(supply=None, switch=None, resistors=(), states=(), evening_h=None, evening=None, faults=(why,))
    made = made_rhythms(plan, circuits, loom)
    found = with_makers(switching(plan, drawer, circuits, loom=loom), plan, made, ages=ages)
    most_a = aimed_most_a(plan, drawer, circuits, loom) + idle_a(plan, made)
    fuse = choose_fuse(drawer, plan.supply, most_a=most_a * AIM_HEADROOM)
    fuse_ohm = fuse.inner_ohm if fuse else 0.0
    regulated = regulators_held(plan, drawer, loom)
    fitted = resistances(
        plan, drawer, loom, circuits, found=found, fuse_ohm=fuse_ohm, regulated=regulated
    )
    values = {name: value for name, (_, value) in fitted.chosen.items()}
    case = _solved(
        plan, drawer, loom, circuits, found=found, resistances=values, fuse_ohm=fuse_ohm, shape=fitted.shape,
        regulated=regulated, spread=weighed and plan.supply is not None and plan.supply.kind in RUNS_DOWN,
    )
    states = tuple(
        _state(plan, drawer, loom, circuits, case=case, number=number, state=state)
        for number, state in enumerate(plan.states)
    )
    drains = as_fed(drawer, Drains(*(with_mean(drain, states) for drain in case.drains)), states)
    states = tuple(_running(plan, drawer, state, (drains, number)) for number, state in enumerate(states))
    resistors = fitted_resistors(plan, drawer, loom, fitted.chosen, states)
    loop_ohm = _farthest_ohm(loom, case.network)
    supply = plan_supply(plan, drawer, fuse=fuse, thinnest_a=_thinnest(drawer, loom), loop_ohm=loop_ohm)
    spread = (drains.most, drains.least) if stages_of(plan) else ()
    evening = evening_of(plan, drawer, loom.emitters, (drains.typical, *spread))
    return Power(
        supply=supply, switch=described(plan, drawer, found, circuits=circuits, loom=loom), resistors=resistors,
        states=states, evening_h=evening.ends_h if evening else None, evening=evening,
        faults=_words(case.point.faults), regulators=_regulators(case, plan, circuits, loom, regulated),
        feeds=feed_trades(plan, drawer, heaters=Heaters(plan, loom, circuits, case.network, drawer), point=case.point,
                          chosen=regulated, aims=fitted.aims) if weighed else (), aims=fitted.aims,
    )


# --- regulators --------------------------------------------------------------------------------------------------


def _regulators(
    case: _Case, plan: Plan, circuits: tuple[Circuit, ...], loom: Loom, regulated: Mapping[str, Chosen]
) -> tuple[Regulator, ...]:
    """Every regulator at its worst: LEDs of low voltage on the fresh supply, of high voltage on the flat one."""
    made = []
    for name, own in regulated.items():
        emitter = loom.emitter(name)
        states = [state.name for state in plan.states if lit_in(circuits, emitter, state)]
        if string_name(emitter, 0) not in case.row_of or not states:
            continue
        amps = case.point.element_a[case.row_of[string_name(emitter, 0)]]
        assert case.columns.limit_factor is not None
        factor = case.columns.limit_factor[case.network.named("string").index(string_name(emitter, 0))]
        fresh = max((_column(case, state, "fresh", "low") for state in states), key=lambda at: amps[at])
        flat = min((_column(case, state, "flat", "high") for state in states), key=lambda at: amps[at])
        warm = min(float(factor[_column(case, state, "nominal", "typical")]) for state in states)
        cold = float(factor[_column(case, states[0], "nominal", COLD)] * own.current_a.typical / own.current_a.high)
        made.append(regulator_of(
            name, own, fresh_a=(float(amps[fresh]), float(factor[fresh])),
            flat_a=(float(amps[flat]), float(factor[flat])), warm_share=warm, cold_share=cold,
            bench_v=tuple((state, _bench_v(case, own, state, (amps, factor))) for state in states)))
    return tuple(made)


def _bench_v(case: _Case, own: Chosen, state: str, row: tuple[np.ndarray, np.ndarray]) -> Range:
    """What stands across a regulator in a state: typical on the fresh supply, all that fresh and nominal may bring."""
    columns = [_column(case, state, age, tol) for age in ("fresh", "nominal") for tol in case.tolerances]
    volts = {at: across_v(own, float(row[0][at]), float(row[1][at])) for at in columns}
    return Range(min(volts.values()), volts[_column(case, state, "fresh", "typical")], max(volts.values()))


# --- the solve ----------------------------------------------------------------------------------------------------


def _solved(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, found: Switching,
    resistances: Mapping[str, float], fuse_ohm: float, shape: Shape, regulated: Mapping[str, Chosen], spread: bool,
) -> _Case:
    """All states, at the supply fresh, nominal and flat, with LEDs of low, typical and high forward voltage."""
    ages = supply_ages(plan, drawer)
    network = loom_network(
        drawer, loom, found=found, age=ages[1], fuse_ohm=fuse_ohm, resistors=resistances, gathered=True,
        regulators={name: own.law for name, own in regulated.items()},
    )
    shifts = _shifts(drawer, loom, network)
    supplies = [Supply(age.name, (age.emf_v,), (max(age.inner_ohm, 1e-4),)) for age in ages]
    limits = spread_factors(regulated, network.named("string")) if regulated else None
    if regulated:
        shifts[COLD] = shifts["low"]
    of_ohm = resistance_spread(plan, drawer, loom=loom, network=network, fitted_ohm=resistances)
    columns = columns_of(network, found.closed, supplies=supplies, shifts_v=shifts, limits=limits)
    columns = with_supply_ends(columns, ages, tuple(shifts))
    each = np.concatenate([of_ohm.both(name) for name in shifts], axis=1)
    columns = replace(columns, ohm_factor=np.tile(each, (1, columns.count // len(shifts))))
    shape = refitted(shape, network)
    rows = {element.name: number for number, element in enumerate(network.elements)}
    heaters = Heaters(plan, loom, circuits, network, drawer)
    leds = led_warmth_of(plan, drawer, loom=loom, circuits=circuits, network=network, tolerances=tuple(shifts))
    warm = LoomWarmth(heaters, leds, warmth_of(network, regulated) if regulated else None, tuple(shifts))
    settled = warm.solved(columns, shape)
    columns, point = settled.columns, settled.point
    asked = ("typical", "low", "high") if spread or stages_of(plan) else ("typical",)
    drains = [
        drained(plan, drawer, loom, circuits, found=found, shape=shape, shifts={name: shifts[name]}, limits=limits,
                warmth=warm, point=point, ohm_factor=of_ohm.both(name))
        for name in asked
    ]
    burnt = burnt_of(network, point, loom=loom, emf_v=columns.emf_v[0] if in_cells(plan) else None)
    junctions = {network.elements[row].name: junction_c
                 for row, junction_c in zip(leds.element, settled.junction_c, strict=True)}
    apart = apart_of(network, columns, shape, point, states=[state.name for state in plan.states], shifts_v=shifts,
                     spread=of_ohm, supply=ages[1])
    return _Case(network, columns, point, settled.first, junctions, apart, rows, tuple(shifts),
                 (drains[0], drains[1 % len(drains)], drains[-1]), burnt, led_powers_w(network, columns, point))


def _shifts(drawer: Drawer, loom: Loom, network: Network) -> dict[str, list[float]]:
    """Forward-voltage shift of every string for each tolerance, spread evenly over its diodes."""
    by_name: dict[str, tuple[float, float]] = {}
    for emitter in loom.emitters:
        low, high = spread_v(drawer, emitter, emitter.aim_current_a / max(emitter.segments, 1))
        by_name[string_name(emitter, 0)] = (low, high)
    names = network.named("string")
    return {
        "low": [by_name.get(name, (0.0, 0.0))[0] for name in names], "typical": [0.0] * len(names),
        "high": [by_name.get(name, (0.0, 0.0))[1] for name in names],
    }


def _column(case: _Case, state: str, age: str, tolerance: str) -> int:
    return case.point.columns.index(f"{state} | {age} | {tolerance}")


def _current(case: _Case, emitter: Emitter, law: EmitterLaw, column: int, *, first: bool = False) -> float:
    """Current of one branch of an emitter, settled or in the first moment."""
    point = case.first if first else case.point
    return float(point.element_a[case.row_of[string_name(emitter, 0)], column]) / law.branches


# --- one state ----------------------------------------------------------------------------------------------------


def _state(
    plan: Plan, drawer: Drawer, loom: Loom, circuits: tuple[Circuit, ...], *, case: _Case, number: int, state: State
) -> StatePower:
    columns = {
        (age, tol): _column(case, state.name, age, tol)
        for age in ("fresh", "nominal", "flat") for tol in case.tolerances
    }
    wired = [emitter for emitter in loom.emitters if string_name(emitter, 0) in case.row_of]
    meant = {emitter.name for emitter in wired if lit_in(circuits, emitter, state)}
    rhythm = {circuit.name: circuit.rhythm for circuit in circuits}
    currents = [
        replace(_emitter_current(plan, drawer, case, emitter, columns, rhythm=rhythm[emitter.circuit]),
                apart=case.apart[string_name(emitter, 0), state.name]) for emitter in wired
    ]
    lit = tuple(current for current in currents if current.emitter in meant)
    dark = [current for current in currents if current.emitter not in meant]
    supply = [_supply_a(case.point, case, columns["nominal", tol]) for tol in ("high", "typical", "low")]
    fresh = [_supply_a(case.point, case, columns["fresh", tol]) for tol in _high(case)]
    first = [_supply_a(case.first, case, columns["nominal", tol]) for tol in ("high", "typical")]
    typical = columns["nominal", "typical"]
    volts = float(case.point.node_v[case.network.nodes.index("bus"), typical])
    fed = tuple(current for current in lit if not loom.beyond(current.emitter))
    mean = _mean_a(wired, fed, supply[1])
    return StatePower(
        state=state.name, position=number + 1, lit=lit,
        dark_most_a=max((abs(current.current_a.high) for current in dark), default=0.0), supply_v=volts,
        supply_a=Range(min(supply), supply[1], max(supply)), bench_a=_bench([*supply, *first], fresh), mean_a=mean,
        power_w=volts * supply[1], feed_w=_feed_w(case, columns, fed, wired),
        meter_w=_meter_w(case, columns, "fresh" if in_cells(plan) else "nominal").times(
            mean / supply[1] if supply[1] > 0 else 1.0),
        run_time_h=Range.exactly(0.0),  # known once the supply has been followed as it runs down
        node_v=tuple(
            (name.removeprefix("node "), float(case.point.node_v[k, typical]))
            for k, name in enumerate(case.network.nodes) if name.startswith("node ")
        ),
        lit_wrongly=tuple(current.emitter for current in dark if current.current_a.typical > LIT_A),
        dark_wrongly=tuple(current.emitter for current in lit if current.current_a.typical <= LIT_A),
    )


def _emitter_current(
    plan: Plan, drawer: Drawer, case: _Case, emitter: Emitter, columns: Mapping[tuple[str, str], int], *, rhythm: str
) -> EmitterCurrent:
    """Low, typical and high over LEDs on the nominal and the flat supply; typical LEDs on the fresh one."""
    law = emitter_law(drawer, emitter)
    spread = [_current(case, emitter, law, columns["nominal", tol]) for tol in ("high", "typical", "low")]
    fresh = [_current(case, emitter, law, columns["fresh", tol]) for tol in _high(case)]
    flat = [_current(case, emitter, law, columns["flat", tol]) for tol in ("high", "typical", "low")]
    first = [_current(case, emitter, law, columns["nominal", tol], first=True) for tol in ("high", "typical")]
    nodes, junctions = case.network.nodes, case.junction_c[string_name(emitter, 0)]
    junction_c = Range(*sorted(float(junctions[columns["nominal", tol]]) for tol in ("high", "typical", "low")))
    cold_c = Range.exactly(room_c(plan).typical)
    column, on_share = columns["nominal", "typical"], parse_rhythm(rhythm).on_share
    across = case.point.node_v[nodes.index(f"{emitter.name}+"), column] - case.point.node_v[
        nodes.index(f"{emitter.name}-"), column
    ]
    current_a = Range(min(spread), sorted(spread)[1], max(spread))
    return EmitterCurrent(
        emitter=emitter.name, current_a=current_a, lit_a=lit_range_a(drawer, emitter, current_a),
        lit_typical_a=emitter_light_a(drawer, emitter, current_a.typical),
        lit_first_a=emitter_light_a(drawer, emitter, first[1]).typical,
        fresh_a=_current(case, emitter, law, columns["fresh", "typical"]),
        flat_a=flat[1], flat_spread_a=Range(min(flat), sorted(flat)[1], max(flat)),
        bench_a=_bench([*spread, *first], fresh), first_a=first[1],
        first_share=light_share(drawer, emitter, cold_c).typical,
        junction_c=junction_c, light_share=light_share(drawer, emitter, junction_c),
        terminal_v=float(across) if math.isfinite(across) else 0.0, on_share=on_share,
        power_w=range_of(case.burnt.terminal_w[emitter.name], _steady(columns), column, on_share),
        led_w=range_of(case.led_w[string_name(emitter, 0)], _steady(columns), column, on_share),
    )


def _steady(columns: Mapping[tuple[str, str], int]) -> list[int]:
    """Columns of what lasts: all but the first moment after switching on."""
    return [at for (_, tolerance), at in columns.items() if tolerance != COLD]


def _feed_w(
    case: _Case, columns: Mapping[tuple[str, str], int], fed: tuple[EmitterCurrent, ...], wired: list[Emitter]
) -> Range:
    """What feeds the lamps: what draws by itself all the time, the rest as long as lamps are lit."""
    at, typical = _steady(columns), columns["nominal", "typical"]
    full, mean = _lit_a(wired, fed)
    return total([range_of(case.burnt.idle_w, at, typical),
                  range_of(case.burnt.rest_w, at, typical, mean / full if full > 0 else 1.0)])


def _meter_w(case: _Case, columns: Mapping[tuple[str, str], int], age: str) -> Range:
    """Volts times amperes at the supply's terminals, over the spread [W]."""
    terminal = case.point.node_v[case.network.nodes.index("supply+")]
    low, typical, high = (
        float(terminal[columns[age, tol]]) * _supply_a(case.point, case, columns[age, tol])
        for tol in ("high", "typical", "low"))
    return Range(min(low, typical), typical, max(typical, high))


def _high(case: _Case) -> tuple[str, ...]:
    """Typical, and what gives most current: with regulators the first moment is among it."""
    return ("typical", "low", COLD) if COLD in case.tolerances else ("typical", "low")


def _bench(nominal: list[float], fresh: list[float]) -> Range:
    """From LEDs of high voltage on the nominal supply to LEDs of low voltage on a fresh one."""
    low, high = min(nominal), max(*nominal, *fresh)
    return Range(low, min(max(fresh[0], low), high), high)


def _supply_a(point: OperatingPoint, case: _Case, column: int) -> float:
    return float(point.element_a[case.row_of["supply"], column])


def _mean_a(wired: list[Emitter], lit: tuple[EmitterCurrent, ...], supply_a: float) -> float:
    """Mean supply current over the rhythms; what makes them draws all the time."""
    full, mean = _lit_a(wired, lit)
    return max(supply_a - full, 0.0) + mean if full > 0 else supply_a


def _lit_a(wired: list[Emitter], lit: tuple[EmitterCurrent, ...]) -> tuple[float, float]:
    """What lamps take together while all are lit, and in the mean over their rhythms [A]."""
    branches = {emitter.name: max(emitter.segments, 1) for emitter in wired}
    full = sum(current.current_a.typical * branches[current.emitter] for current in lit)
    return full, sum(current.current_a.typical * branches[current.emitter] * current.on_share for current in lit)


# --- run time -----------------------------------------------------------------------------------------------------


def _running(plan: Plan, drawer: Drawer, state: StatePower, drained: tuple[Drains, int]) -> StatePower:
    """A state with how long it runs: over LEDs that take least to most, and over the supply's own spread.

    Not the ends alone: LEDs of high voltage take less, but go out while there is charge left.
    """
    drains, number = drained
    least, most = drains.span(number)
    times = [1.0] if most / least < 1.0 + LEAST_SPAN else [
        *(least ** (k / STEPS) for k in range(STEPS, 0, -1)), 1.0, *(most ** (k / STEPS) for k in range(1, STEPS + 1))]
    each = [_lasts(plan, drawer, drains.typical.at, drains.row(number, one)) for one in times]
    typical = each[times.index(1.0)]
    by_ohm = _by_ohm(plan, drawer, drains.typical.at, drains.row(number, 1.0)) if len(times) > 1 else AS_TOLD
    return replace(
        state, run_at=tuple((one, hours.typical) for one, hours in zip(times, each, strict=True)), run_by_ohm=by_ohm,
        run_time_h=Range(min(one.low for one in each) * by_ohm.low, typical.typical,
                         max(one.high for one in each) * by_ohm.high))


def _by_ohm(plan: Plan, drawer: Drawer, at: Ages, row: StateDrain) -> Range:
    """Hours with cells of the most and the least inner resistance, over those with usual ones [-]."""
    if plan.supply is None or not in_cells(plan):
        return AS_TOLD
    spread = battery_of(drawer, plan.supply).cell.ohm_spread
    most, usual, least = (_lasts(plan, drawer, at, row, ohm_times=one).typical
                          for one in (spread.high, 1.0, spread.low))
    return Range(min(most / usual, 1.0), 1.0, max(least / usual, 1.0)) if usual > 0 else AS_TOLD


def _lasts(
    plan: Plan, drawer: Drawer, at: Ages, row: StateDrain, *, ohm_times: float = 1.0
) -> Range:
    """Hours until the supply is empty, or the lamps together give under DIM_SHARE of their fresh light."""
    share = float(row.mean[0] / row.amps[0]) if row.amps[0] > 0 else 1.0
    return run_time_h(plan, drawer, current_a=row.amps, mean_share=share, least_v=_goes_out_v(at, row),
                      ohm_times=ohm_times)


def _goes_out_v(at: Ages, row: StateDrain) -> float:
    """Terminal voltage at which the light falls under DIM_SHARE of the fresh one; 0 where it never does."""
    light, volts = row.light, at.emf_v - row.amps * at.inner_ohm
    gone = np.flatnonzero(light < DIM_SHARE)
    if not len(gone):
        return 0.0
    before, after = gone[0] - 1, gone[0]
    part = (light[before] - DIM_SHARE) / (light[before] - light[after])
    return float(volts[before] + part * (volts[after] - volts[before]))


def _thinnest(drawer: Drawer, loom: Loom) -> float:
    return min(drawer.wire(lead.wire).loom_limit_a for lead in loom.leads)


def _farthest_ohm(loom: Loom, network: Network) -> float:
    """Resistance of the way to the farthest splice of any circuit and back: what a short there leaves to the fuse.

    The return is taken to run beside the plus, so the way counts twice.
    """
    ohm = {element.name: element.ohm for element in network.elements}
    reach: dict[tuple[str | None, str], float] = {}
    waiting = [lead for lead in loom.leads if lead.net == "plus"]
    while waiting:
        left = []
        for lead in waiting:
            before = 0.0 if lead.role == "trunk" else reach.get((lead.circuit, lead.start))
            if before is None:
                left.append(lead)
            else:
                reach[lead.circuit, lead.end] = before + ohm[f"lead {lead.name}"]
        if len(left) == len(waiting):
            break
        waiting = left
    return 2 * max(reach.values(), default=0.0)


def _words(faults: tuple[NetworkFault, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fault.message for fault in faults))
