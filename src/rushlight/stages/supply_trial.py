"""One other supply tried: strings, resistors, switch and currents worked out anew, and what that comes to."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import EmitterCurrent, Power, StatePower
from rushlight.model.plan_bench import Supply
from rushlight.stages.build import Build
from rushlight.stages.heat import heat_of
from rushlight.stages.layouts import find_bay
from rushlight.stages.parts_law import light_ratio
from rushlight.stages.pipeline import Progress, powered
from rushlight.stages.power import DIM_SHARE
from rushlight.stages.rhythms import made_rhythms
from rushlight.stages.supplies import bank_awake, load_a, supply_ages
from rushlight.stages.supply_bars import board_says, lamps_of, pre_wired_says, strip_says
from rushlight.stages.supply_changes import changes_of
from rushlight.stages.supply_choice import weight_g
from rushlight.stages.supply_limits import STRIP_MOST_SHARE, access_for, least_side_mm, pouch_needs_mm
from rushlight.stages.supply_units import supply_price_eur
from rushlight.units import Range

FULL_SHARE = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyTrial:
    """A supply with the loom that it needs, solved whole.

    `fresh_share` and `flat_share` are the dimmest lamp's light over that of the aimed current, of typical LEDs, and
    `flat_least_share` that of an LED of high voltage; `dim_lamp` is the one that is dimmest when flat. `run_h` is how
    long the state lasts that runs shortest, `evening_h` how long the described evening goes on (None where none is).
    `weight_g` is None for what stays outside the model, `fits` None where no bay is known or needed. `wall_c` is the
    typical temperature of the warmest inner wall (None without closed spaces). `bars` say why it does not do, and
    `overload` what asks more than it gives, room and time apart; `changes` what else has to be built or bought; `own`:
    it is the plan's.
    """

    supply: Supply
    name: str
    nominal_v: float
    fresh_v: float
    flat_v: float
    fresh_share: float
    flat_share: float
    flat_least_share: float
    dim_lamp: str
    run_state: str
    run_h: Range
    asked_h: float
    evening_h: Range | None
    evening_asked_h: float
    weight_g: float | None
    price_eur: float
    fits: bool | None
    wall_c: float | None
    bars: tuple[str, ...]
    overload: str
    changes: tuple[str, ...]
    own: bool
    power: Power

    @property
    def lasts(self) -> bool:
        """Whether it runs as long as asked: each state as the supply says, and the evening."""
        evening = self.evening_h is None or self.evening_h.typical >= self.evening_asked_h
        return self.run_h.typical >= self.asked_h and evening

    @property
    def does(self) -> bool:
        """Whether every lamp lights fresh and flat, it lasts as asked, goes into the bay, and nothing is overloaded."""
        return not self.bars and not self.overload and self.lasts and self.fits is not False


def own_trial(design: Design) -> SupplyTrial:
    """The plan's own supply, judged alike."""
    supply = design.plan.supply
    assert supply is not None
    walls = [row.wall_c.typical for row in design.heat.spaces]
    return _judged(design, design, supply, own=True, wall_c=max(walls, default=None))


def tried_supply(design: Design, supply: Supply, *, progress: Progress | None = None) -> SupplyTrial:
    """A design's loom with another supply, worked out anew as far as the supply decides it.

    Parameters
    ----------
    design : Design
        A whole design with a supply.
    supply : Supply
        The other one.
    progress : callable, optional
        Told the name of each stage as it starts.
    Returns
    -------
    SupplyTrial
        Every number is the one that the design of the plan with that supply has.
    """
    plan = replace(design.plan, supply=supply)
    fed = powered(plan, design.drawer, previous=design, progress=progress)
    heat = heat_of(Build(plan, design.drawer, fed.lamps, fed.aimed.sources, fed.circuits, fed.strung.loom, fed.power))
    now = replace(
        design,
        plan=plan,
        lamps=fed.lamps,
        first_sources=fed.first_sources,
        sources=fed.aimed.sources,
        aims=fed.aimed.aims,
        fibre_classes=fed.aimed.classes,
        circuits=fed.circuits,
        first_loom=fed.first_loom,
        loom=fed.strung.loom,
        series=fed.strung.trades,
        power=fed.power,
        heat=heat,
    )
    walls = [row.wall_c.typical for row in heat.spaces]
    return _judged(design, now, supply, own=False, wall_c=max(walls, default=None))


def _judged(before: Design, now: Design, supply: Supply, *, own: bool, wall_c: float | None) -> SupplyTrial:
    power, planned = now.power, now.power.supply
    assert planned is not None
    lit = [state for state in power.states if state.lit]
    shortest = min(lit, key=lambda state: state.run_time_h.typical, default=None)
    shares = _shares(now)
    dim = min(shares, key=lambda row: row.flat, default=_Share("", FULL_SHARE, FULL_SHARE, FULL_SHARE))
    ends = power.evening.ends_h if power.evening else None
    return SupplyTrial(
        supply=supply,
        name=planned.name,
        nominal_v=planned.nominal_v,
        fresh_v=planned.fresh_v,
        flat_v=planned.flat_v,
        fresh_share=min((row.fresh for row in shares), default=FULL_SHARE),
        flat_share=dim.flat,
        flat_least_share=min((row.least for row in shares), default=FULL_SHARE),
        dim_lamp=dim.lamp,
        run_state=shortest.state if shortest else "",
        asked_h=supply.run_h,
        run_h=shortest.run_time_h if shortest else Range(math.inf, math.inf, math.inf),
        evening_h=ends,
        evening_asked_h=power.evening.hours if power.evening else 0.0,
        weight_g=weight_in_model_g(now, supply),
        price_eur=supply_price_eur(now.drawer, supply),
        fits=_fits(now, supply),
        wall_c=wall_c,
        bars=tuple(_bars(now, supply)),
        overload=_overload(now),
        changes=() if own else changes_of(before, now),
        own=own,
        power=power,
    )


def weight_in_model_g(design: Design, supply: Supply) -> float | None:
    """Weight of the cells [g]; None for what stays outside."""
    if supply.kind != "cells":
        return None
    return supply.in_series * supply.in_parallel * weight_g(design.drawer.cell(supply.cell))


def _fits(design: Design, supply: Supply) -> bool | None:
    """Whether it goes into the bay; a lithium pouch with room to swell."""
    bay, planned = find_bay(design.plan), design.power.supply
    if supply.kind != "cells" or planned is None or bay is None:
        return planned.fits_bay if planned else None
    tight = pouch_needs_mm(design.drawer.cell(supply.cell)) > least_side_mm(bay[1])
    return False if tight else planned.fits_bay


# --- how bright ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Share:
    """A lamp's light over that of the aimed current: fresh, flat, and flat with an LED of high voltage."""

    lamp: str
    fresh: float
    flat: float
    least: float


def _shares(design: Design) -> list[_Share]:
    """Of every emitter that is lit in any state."""
    return [
        _Share(
            lamps_of(emitter).partition("'")[2].partition("'")[0],
            *(light_ratio(design.drawer, emitter, amps, aim_a)
              for amps in (row.fresh_a, row.flat_a, row.flat_spread_a.low)),
        )
        for state in design.power.states
        for row, emitter, aim_a in _aimed(design, state)
        if aim_a > 0
    ]


def _aimed(design: Design, state: StatePower) -> Iterator[tuple[EmitterCurrent, Emitter, float]]:
    """Each lit emitter with the current that one of its branches is meant to take."""
    for row in state.lit:
        emitter = design.loom.emitter(row.emitter)
        yield row, emitter, emitter.aim_current_a / max(emitter.segments, 1)


# --- what stands against it ---------------------------------------------------------------------------------------


def _bars(design: Design, supply: Supply) -> Iterator[str]:
    """Why it does not do, room and time apart."""
    yield from design.power.faults
    yield from dict.fromkeys(_unfit(design))
    yield from _dark(design)
    yield from dict.fromkeys(_too_much(design))
    if any(row.driven for row in made_rhythms(design.plan, design.circuits, design.loom)):
        says = board_says(design.plan, supply_ages(design.plan, design.drawer))
        yield from [says] if says else []
    if supply.kind == "usb power bank":
        yield from _sleeps(design)


def _unfit(design: Design) -> Iterator[str]:
    """Strips and pre-wired LEDs that are made for another voltage."""
    nominal_v = design.power.supply.nominal_v if design.power.supply else 0.0
    for one in design.loom.emitters:
        strip = one.kind == "strip"
        says = (
            strip_says(design, one.part_row, nominal_v, (one.lamps or (one.name,))[0])
            if strip
            else pre_wired_says(design, one, nominal_v)
        )
        if says:
            yield says


def _dark(design: Design) -> Iterator[str]:
    """Lamps that stay dark, or go out before the supply is flat."""
    out: dict[str, tuple[float, str]] = {}
    for state in design.power.states:
        for name in state.lit_wrongly:
            out.setdefault(name, (-1.0, f"{_named(design, name)} glows in '{state.state}', where it should be dark"))
        for row, emitter, aim_a in _aimed(design, state):
            if row.emitter in state.dark_wrongly:
                out[row.emitter] = (-1.0, f"{_named(design, row.emitter)} stays dark in '{state.state}'")
            elif aim_a > 0 and (kept := light_ratio(design.drawer, emitter, row.flat_a, aim_a)) < DIM_SHARE:
                says = f"flat it leaves {_named(design, emitter.name)} {kept:.0%} of its light"
                out[row.emitter] = min(out.get(row.emitter, (math.inf, "")), (kept, says))
    if out:
        yield min(out.values())[1] + (f"; {len(out) - 1} more suffer likewise" if len(out) > 1 else "")


def _named(design: Design, emitter: str) -> str:
    return lamps_of(design.loom.emitter(emitter))


def _too_much(design: Design) -> Iterator[str]:
    """LEDs over their rated current, strips far over theirs."""
    for state in design.power.states:
        for row in state.lit:
            one = design.loom.emitter(row.emitter)
            if one.kind == "strip":
                limit_a = STRIP_MOST_SHARE * design.drawer.strip(one.part_row).segment_ma / 1000
                most_a = row.fresh_a
            else:
                limit_a = design.drawer.led(one.part_row).max_ma / 1000
                most_a = max(row.current_a.high, row.bench_a.high)
            if most_a > limit_a:
                yield (
                    f"{lamps_of(one)} would take up to {1000 * most_a:.3g} mA, and {1000 * limit_a:.3g} mA is the most"
                )


def _overload(design: Design) -> str:
    """The state that takes more than the supply gives; empty where none does."""
    supply = design.power.supply
    worst = max(design.power.states, key=lambda state: state.bench_a.high, default=None)
    if supply is None or worst is None or worst.bench_a.high <= supply.limit_a:
        return ""
    takes, gives = 1000 * worst.bench_a.high, 1000 * supply.limit_a
    return f"'{worst.state}' takes up to {takes:.3g} mA, and it gives {gives:.3g} mA"


def _sleeps(design: Design) -> Iterator[str]:
    """A power bank that switches off because the lamps take too little."""
    least = min((state for state in design.power.states if state.lit), key=lambda state: state.mean_a, default=None)
    if least is None:
        return
    verdict = bank_awake(design.drawer, load_a(design.drawer, least).typical)
    if verdict.verdict != "awake":
        does = "it falls asleep" if verdict.verdict == "sleeps" else "many fall asleep"
        yield (
            f"'{least.state}' takes {1000 * least.mean_a:.3g} mA, and under {1000 * verdict.threshold_a.high:.3g} "
            f"mA {does}"
        )


def reached_by(design: Design, supply: Supply) -> tuple[str, str, str] | None:
    """Part, bay and how the bay is to be reached for a supply; None where it is so already, or there is no bay."""
    found = find_bay(replace(design.plan, supply=supply))
    if found is None:
        return None
    access = access_for(supply, found[1])
    return None if access == found[1].access else (found[0].name, found[1].name, access)
