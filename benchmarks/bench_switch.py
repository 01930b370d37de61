"""The switch derived for each of the 673 classes of circuits and states, each plan proved by a solve.

Beside it ngspice, a process for each plan, reckoned from a few. Run: python benchmarks/bench_switch.py [--full].
"""

from __future__ import annotations

import shutil
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from outside.looms import spice_nodes
from rushlight.electric.elements import Network
from rushlight.electric.switch import SwitchPlan, switch_plans
from rushlight.electric.switch_proof import closed_contacts, proof_columns, proof_elements, proof_states, proofs
from switch_classes import circuits_of, classes

SAMPLE = 12
"""Plans that ngspice is given."""


def run(full: bool) -> list[dict[str, object]]:
    """One row for each number of states, and all together: plans, seconds to find and to prove them, ngspice's."""
    rows = [_row(count) for count in ((2, 3, 4) if full else (2, 3))]
    together = {key: _sum(rows, key) for key in ("classes", "plans", "find_s", "prove_s", "ngspice_s", "wrong")}
    ratio = _ratio(together["ngspice_s"], together["prove_s"])
    return [*rows, {"states": "all", **together, "ngspice_over_ours": ratio}]


def _sum(rows: list[dict[str, object]], key: str) -> float | int | None:
    found = [value for row in rows if isinstance(value := row[key], int | float)]
    return round(sum(found), 2) if len(found) == len(rows) else None


def _ratio(longer: float | None, shorter: float | None) -> float | None:
    return round(longer / shorter, 1) if longer and shorter else None


def _row(count: int) -> dict[str, object]:
    states = [f"s{k}" for k in range(count)]
    start = time.perf_counter()
    found = [plan for sets in classes(count) for plan in switch_plans(states, circuits_of(sets, states))]
    find_s, start = time.perf_counter() - start, time.perf_counter()
    made = [plan for plan in found if plan.family != "plain"]
    wrong = sum(bool(proof.wrong) for proof in proofs(made))
    prove_s = time.perf_counter() - start
    spice_s = _spice_s(made)
    return {
        "states": count, "classes": len(classes(count)), "plans": len(made), "find_s": round(find_s, 2),
        "prove_s": round(prove_s, 2), "ngspice_s": spice_s, "ngspice_over_ours": _ratio(spice_s, prove_s),
        "wrong": wrong,
    }


def _spice_s(plans: list[SwitchPlan]) -> float | None:
    """Seconds for all of them, from evenly drawn ones; None where the program is not installed."""
    program = shutil.which("ngspice")
    if program is None:
        return None
    drawn = [plans[k] for k in np.linspace(0, len(plans) - 1, min(SAMPLE, len(plans))).astype(int)]
    with tempfile.TemporaryDirectory() as folder:
        start = time.perf_counter()
        for plan in drawn:
            network, states = Network.of(proof_elements(plan)), proof_states(plan)
            columns = proof_columns(network, closed_contacts(plan, states), len(states))
            spice_nodes(network, columns, program=program, folder=Path(folder), options="itl1=500")
        took = time.perf_counter() - start
    return round(took * len(plans) / len(drawn), 2)


if __name__ == "__main__":
    for line in run("--full" in sys.argv):
        print(line)
