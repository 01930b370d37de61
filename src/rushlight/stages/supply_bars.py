"""Why a supply cannot feed a model, said before anything is solved: too little or too much voltage, or current."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from rushlight.electric.led import voltage_at_current
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Supply
from rushlight.stages.drivers import driver_for, least_driven_v, most_driven_v
from rushlight.stages.network import emitter_law
from rushlight.stages.parts_law import emitter_current_a, emitter_light_a, light_ratio
from rushlight.stages.power import DIM_SHARE
from rushlight.stages.rhythms import made_rhythms
from rushlight.stages.sources.strip import choose as chosen_strip
from rushlight.stages.supplies import Age, supply_ages
from rushlight.stages.supply_limits import PRE_WIRED_TOLERANCE, STRIP_TOLERANCE
from rushlight.stages.switching import board_of


def barred_by_voltage(design: Design, supply: Supply) -> str:
    """Why a supply's voltage can never feed the lamps of a design; empty where solving it is worth while.

    Parameters
    ----------
    design : Design
        A whole design.
    supply : Supply
        Another supply for its plan.
    Returns
    -------
    str
        The first that stands against it: strips, pre-wired LEDs, the controller's board, an LED that takes it all.
    Notes
    -----
    An LED is as good as out where even without any resistor it would give less than DIM_SHARE of the light that it is
    meant to,
    or where its own voltage at that current is more than the supply nominally has. What is left for switch, wires and
    resistor the solve tells.
    """
    plan = replace(design.plan, supply=supply)
    ages = supply_ages(plan, design.drawer)
    return (
        _strips(design, plan, ages[1].emf_v)
        or _pre_wired(design, ages[1].emf_v)
        or _board(design, ages)
        or _leds(design, ages)
    )


def _strips(design: Design, plan: Plan, nominal_v: float) -> str:
    """Strips that the plan asks for and that are sold for no such voltage; of others the solve tells."""
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if source.strip is not None and (lamp.made_of == "strips" or source.insisted):
            row = chosen_strip(plan, design.drawer, lamp, None).strip or source.strip
            if says := strip_says(design, row, nominal_v, lamp.name):
                return says
    return ""


def strip_says(design: Design, row: str, nominal_v: float, of: str) -> str:
    """Why a strip cannot be fed so; empty where it can."""
    made_v = design.drawer.strip(row).supply_v
    if abs(nominal_v / made_v - 1) <= STRIP_TOLERANCE:
        return ""
    return (
        f"the strip of '{of}' is made for {made_v:g} V and would "
        f"{'overheat' if nominal_v > made_v else 'be dim or dark'}"
    )


def _pre_wired(design: Design, nominal_v: float) -> str:
    rows = [one for one in design.loom.emitters if one.kind != "strip"]
    return next((says for one in rows if (says := pre_wired_says(design, one, nominal_v))), "")


def pre_wired_says(design: Design, emitter: Emitter, nominal_v: float) -> str:
    """Why a pre-wired LED cannot be fed so; empty where it can, or where its resistor is fitted here."""
    made_v = design.drawer.led(emitter.part_row).pre_wired_v
    if made_v is None or abs(nominal_v / made_v - 1) <= PRE_WIRED_TOLERANCE:
        return ""
    does = "take too much" if nominal_v > made_v else "be dim or dark"
    return f"the pre-wired LED of {lamps_of(emitter)} is made for {made_v:g} V and would {does}"


def _board(design: Design, ages: tuple[Age, ...]) -> str:
    """The controller and its drivers, where there is one."""
    if not any(row.driven for row in made_rhythms(design.plan, design.circuits, design.loom)):
        return ""
    return board_says(design.plan, ages)


def board_says(plan: Plan, ages: tuple[Age, ...]) -> str:
    """Why the controller and its drivers do not bear a supply; empty where they do."""
    board, fresh_v, flat_v = board_of(plan), ages[0].emf_v, ages[2].emf_v
    most_v, least_v = min(board.most_v, most_driven_v()), max(board.least_v, least_driven_v())
    if fresh_v > most_v:
        return f"the controller and its drivers bear {most_v:.3g} V at most; fresh it gives {fresh_v:.3g} V"
    if flat_v < least_v:
        return f"the controller and its drivers need {least_v:.3g} V; flat it gives {flat_v:.3g} V"
    fits = driver_for(ages).fits
    return "" if fits else f"no usual driver is fully on at {flat_v:.3g} V and bears {fresh_v:.3g} V"


def _leds(design: Design, ages: tuple[Age, ...]) -> str:
    """The bare LED that wants most."""
    worst, says = 0.0, ""
    for one in design.loom.emitters:
        if one.kind == "strip" or design.drawer.led(one.part_row).pre_wired_v is not None:
            continue
        law = emitter_law(design.drawer, one).laws[0]
        full_v, dim_v = (float(voltage_at_current(law, amps))
                         for amps in (one.aim_current_a, _dim_a(design, one)))
        nominal_v, flat_v = ages[1].emf_v, ages[2].emf_v
        if max(full_v - nominal_v, dim_v - flat_v) <= worst:
            continue
        worst = max(full_v - nominal_v, dim_v - flat_v)
        colour, starved = design.drawer.led(one.part_row).colour, full_v > nominal_v
        says = (
            f"the {colour} LED of {lamps_of(one)} alone takes {full_v:.2g} V"
            if starved
            else f"the {colour} LED of {lamps_of(one)} takes {dim_v:.2g} V even when dim, and flat it leaves less"
        )
    return says


def _dim_a(design: Design, one: Emitter) -> float:
    """The current that gives DIM_SHARE of the light that an LED is meant to give [A]."""
    aimed_a = emitter_light_a(design.drawer, one, one.aim_current_a).typical
    return emitter_current_a(design.drawer, one, DIM_SHARE * aimed_a)


def flat_share_about(design: Design, ages: tuple[Age, ...]) -> float:
    """About how much of its aimed light the LED that wants most keeps on the flat supply, wires left out."""
    rows = {(one.part_row, one.aim_current_a): one for one in design.loom.emitters if one.kind != "strip"}
    bare = [one for one in rows.values() if design.drawer.led(one.part_row).pre_wired_v is None]
    return min((_flat_share(design, one, ages) for one in bare), default=1.0)


def _flat_share(design: Design, one: Emitter, ages: tuple[Age, ...]) -> float:
    law = emitter_law(design.drawer, one).laws[0]
    shares = np.linspace(0.01, 1.0, 100)
    leds_v = np.array([float(voltage_at_current(law, share * one.aim_current_a)) for share in shares])
    ohm_v = max(ages[1].emf_v - leds_v[-1], 0.0)
    share = float(np.interp(ages[2].emf_v, leds_v + shares * ohm_v, shares))
    return light_ratio(design.drawer, one, share * one.aim_current_a, one.aim_current_a)


def lamps_of(emitter: Emitter) -> str:
    """What an emitter lights, by the name of its first lamp."""
    more = f" and {len(emitter.lamps) - 1} more" if len(emitter.lamps) > 1 else ""
    return f"'{emitter.lamps[0]}'{more}" if emitter.lamps else f"'{emitter.name}'"
