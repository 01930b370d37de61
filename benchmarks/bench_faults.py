"""All faults of a loom at once against one network after the other, by ourselves and by the ngspice process."""

from __future__ import annotations

import shutil
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from in_turn import best_s

from outside.looms import STATES, Loom, made_loom, spice_nodes
from rushlight.electric.elements import Columns, Network, columns_of
from rushlight.electric.fault import Fault, fault_table, joint_faults, single_faults
from rushlight.electric.network import operating_point
from rushlight.electric.rewired import REWIRED_KINDS, built_with

FAULTS, REWIRED = 1500, 300
SAMPLED = 12
"""So many faults are solved one after the other; the time of all is reckoned from theirs."""


def run(full: bool) -> list[dict[str, object]]:
    """One row for each size of loom."""
    return [_row(leds, 3 if full else 1) for leds in ((50, 200, 500) if full else (50,))]


def made_faults(loom: Loom) -> tuple[Fault, ...]:
    """1,500 faults: every single one, 300 mixed-up leads and bridges between neighbours, the rest cold joints."""
    singles = single_faults(loom.network, wrong_factors=(10.0,))
    feeds = [element for element in loom.network.elements if element.name.startswith("w_")]
    mixed: list[Fault] = []
    for one, two in zip(feeds, feeds[3:], strict=False):
        if len({one.node_a, one.node_b, two.node_a, two.node_b}) == 4:
            mixed += [Fault("bridged", one.node_b, other=two.node_b), Fault("swapped", one.name, other=two.name),
                      Fault("wrong splice", one.name, other=two.node_b, at=one.node_a)]
    mixed = mixed[:REWIRED]
    rest = max(FAULTS - len(singles) - len(mixed), 0)
    return (*singles, *mixed, *joint_faults(loom.network)[:rest])[:FAULTS]


def _row(leds: int, times: int) -> dict[str, object]:
    loom = made_loom(leds, leds)
    faults = made_faults(loom)
    ours = best_s(lambda: fault_table(loom.network, loom.columns, faults=faults), times)
    sample = [fault for fault in faults if fault.kind in (*REWIRED_KINDS, "wrong resistor", "poor joint")]
    sample = sample[:: max(len(sample) // SAMPLED, 1)][:SAMPLED]
    built = [_built(loom, fault) for fault in sample]
    loop = best_s(lambda: [operating_point(*one) for one in built], times) / len(built) * len(faults)
    spice, worst = _spice(loom, sample, built)
    spice_s = None if spice is None else spice / len(built) * len(faults)
    return {
        "case": f"{leds} LEDs, 5 states", "faults": len(faults),
        "mixed_up": sum(fault.kind in REWIRED_KINDS for fault in faults), "seconds": round(ours, 2),
        "one_by_one_s": round(loop, 1), "one_by_one_over_ours": round(loop / ours, 1),
        "ngspice_s": None if spice_s is None else round(spice_s, 1),
        "ngspice_over_ours": None if spice_s is None else round(spice_s / ours, 1), "worst_supply_difference_a": worst,
    }


def _built(loom: Loom, fault: Fault) -> tuple[Network, Columns]:
    """The loom with a fault soldered in."""
    network = built_with(loom.network, fault)
    wrong = {fault.element: fault.factor}
    elements = [replace(e, ohm=e.ohm * wrong.get(e.name, 1.0)) for e in network.elements]
    network = Network(network.nodes, tuple(elements))
    return network, columns_of(network, {state: [f"sw{g}" for g in on] for state, on in STATES.items()})


def _spice(
    loom: Loom, sample: list[Fault], built: list[tuple[Network, Columns]]
) -> tuple[float | None, float | None]:
    """Seconds for the sample, and the largest difference of the supply's current."""
    program = shutil.which("ngspice")
    if program is None:
        return None, None
    with tempfile.TemporaryDirectory() as folder:
        def solve() -> list[np.ndarray]:
            return [spice_nodes(*one, program=program, folder=Path(folder), options="itl1=500") for one in built]

        took = best_s(solve, 1)
        theirs = solve()
    table = fault_table(loom.network, loom.columns, faults=(Fault("none", ""), *sample))
    supply = loom.network.elements[0]
    at = [loom.network.nodes.index(end) for end in (supply.node_a, supply.node_b)]
    drawn = np.array([(supply.emf_v - (volts[at[0]] - volts[at[1]])) / supply.ohm for volts in theirs])
    return took, float(f"{np.max(np.abs(drawn - table.supply_a[1:])):.1e}")


if __name__ == "__main__":
    for line in run(full="--full" in sys.argv):
        print(line)
