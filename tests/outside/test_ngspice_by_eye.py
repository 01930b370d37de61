"""ngspice (Debian package, release 39 or later) as the model on the bench: each fault soldered, its lamps looked at.

What is then dark and what is lit though it should not be must stand in a row of the test without a meter, and the fault
among those of that row.
"""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

from outside.test_ngspice_fault_finding import Bench
from rushlight.electric.fault import Fault
from rushlight.stages.fault_by_eye import eye_test
from rushlight.stages.fault_finding import Probe, known_faults
from rushlight.stages.fault_known import identity
from seeded_faults import bench, exact_fault

SOME = 12


def test_a_soldered_fault_stands_in_the_row_of_its_look(tmp_path: Path) -> None:
    known = known_faults(bench("lantern").design, exact=True, usual=True)
    test, chance, found = eye_test(known), random.Random(6), 0
    faults = list(dict.fromkeys(identity(case.fault) for case in known.bank.cases if not case.fault.blown))[1:]
    for fault in chance.sample(faults, SOME):
        wrong = Bench(known, exact_fault(known, fault, chance), tmp_path)
        if wrong.fuse_goes():
            continue
        looks = [wrong.shown(Probe("look", state), chance) for state in known.table.states]
        seen = [(look.dark, look.lit) for look in looks]
        alike = [row.faults for row in test.rows if [(look.dark, look.lit) for _, look in row.looks] == seen]
        alike += [test.hidden] if not any(dark or lit for dark, lit in seen) else []
        assert any(holds(row, fault) for row in alike), (fault, seen)
        found += 1
    assert found > SOME / 2


def holds(row: tuple[Fault, ...], fault: Fault) -> bool:
    return replace(fault, blown=False) in row
