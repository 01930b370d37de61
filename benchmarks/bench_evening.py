"""The evening: cells and walls along their curves against a general solver, and what it adds to the power stage."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
from in_turn import best_s
from scipy.integrate import solve_ivp

import rushlight
from rushlight import read_drawer, read_plan
from rushlight.electric.cell import Battery, ages, capacity_mah, cell
from rushlight.electric.evening import Spent, draining, spend
from rushlight.stages.power import power_of
from rushlight.thermal.enclosure import Box
from rushlight.thermal.warming import Warming, box_laws, wall_j_per_k, warmed

BATTERY = Battery(cell("LR6"), 4, 1)
STATES_A = (0.02, 0.06, 0.12)
EVENING = [(0, 0.5), (1, 1.0), (2, 0.3), (1, 0.2), (0, 2.0)]
HULL = Box(290.0, 84.0, 54.0)
STRETCHES = [(2.0, 0.5), (0.5, 0.5), (6.0, 1.0), (1.0, 2.0)]


def run(full: bool) -> list[dict[str, object]]:
    """Cells, walls, the whole stage: ours, the yardstick, how often as long it took, how far apart."""
    times = 5 if full else 2
    return [_cells(times), _walls(times), _stage(times)]


def _row(what: str, ours_s: float, other_s: float, apart: float | None) -> dict[str, object]:
    told = None if apart is None else float(f"{apart:.1e}")
    return {"what": what, "ours_ms": round(1e3 * ours_s, 2), "yardstick_ms": round(1e3 * other_s, 2),
            "yardstick_over_ours": round(other_s / ours_s, 1), "apart": told}


def _cells(times: int) -> dict[str, object]:
    """Evening after evening until the cells are spent; apart in the share used."""
    at = ages(BATTERY, 101)
    amps = np.array([amp * at.emf_v / at.emf_v[0] for amp in STATES_A])
    charge = capacity_mah(BATTERY, amps) / 1000

    def ours() -> Spent:
        return spend(draining(at.used_fraction, amps, np.tile(at.emf_v, (3, 1)), charge, cut_off_v=0.0), EVENING)

    def theirs() -> list[float]:
        used, found = 0.0, []
        for spell in spent.spells:
            rate = amps[spell.state] / charge[spell.state]
            used = solve_ivp(lambda _, s, rate=rate: np.interp(np.clip(s, 0, 1), at.used_fraction, rate),
                             (0.0, spell.to_h - spell.from_h), [used], method="LSODA", rtol=1e-7, atol=1e-9).y[0, -1]
            found.append(float(used))
        return found

    spent = ours()
    apart = max(abs(spell.to_used - used) for spell, used in zip(spent.spells, theirs(), strict=True))
    return _row(f"cells, {len(spent.spells)} spells; solve_ivp", best_s(ours, times), best_s(theirs, times), apart)


def _walls(times: int) -> dict[str, object]:
    """A hull through an evening; apart in kelvin."""
    law, _ = box_laws(HULL, 6.0)
    store = wall_j_per_k(HULL)

    def ours() -> Warming:
        return warmed(law, store, STRETCHES)

    def theirs() -> list[float]:
        wall, found = 0.0, []
        for watts, hours in STRETCHES:
            wall = solve_ivp(lambda _, t, watts=watts: (watts - np.interp(t, law.wall_k, law.watts)) / store,
                             (0.0, 3600 * hours), [wall], method="LSODA", rtol=1e-7, atol=1e-7).y[0, -1]
            found.append(float(wall))
        return found

    made = ours()
    ends = [made.wall_k[made.stretch == number][-1] for number in range(len(STRETCHES))]
    apart = max(abs(one - other) for one, other in zip(ends, theirs(), strict=True))
    return _row("walls, 4 stretches; solve_ivp", best_s(ours, times), best_s(theirs, times), apart)


def _stage(times: int) -> dict[str, object]:
    """The demo's whole power stage with its evening, beside the same without one."""
    drawer = read_drawer()
    plan = read_plan(Path(rushlight.__file__).parent / "demos" / "tug", drawer).plan
    made = rushlight.design(plan, drawer)
    bare = replace(plan, evening=(), states=tuple(replace(state, minutes=0.0) for state in plan.states))

    def took(one: object) -> float:
        return best_s(lambda: power_of(one, drawer, loom=made.loom, circuits=made.circuits), times)  # type: ignore[arg-type]

    return _row("power of the demo; without an evening", took(plan), took(bare), None)


if __name__ == "__main__":
    for line in run(full="--full" in sys.argv):
        print(line)
