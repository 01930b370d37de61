"""SciPy's brentq on every corner of a small loom: LED, resistor, contacts and joints, warmth, supply, each at either end.

One LED on cells or on an adapter, so that all resistance lies in one loop: the ends of its current must be the least
and the most over all corners, and each cause alone as far apart as its own two corners.
"""

from itertools import product

import pytest
from scipy.optimize import brentq

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.findings import find
from rushlight.stages.fault_known import built_network

WHITE = "{name: l, part: board, at_mm: [20, 80], colour: warm white, model_mm: 3, states: day, source: {kind: led}}"
FALL_V_PER_K, ROOM_C, MOUNT = 0.003, (20, 22, 26), (0.8, 1.0, 1.3)
"""source: led_voltage_temperature.csv, room_air.csv, and the spread of mounting that the stage of heat has."""

CONTACT_OHM, JOINT_OHM = (0.01, 0.03, 0.1), (0.003, 0.01, 0.03)
"""source: contact_resistance.csv, low, typical, high."""

CELL_TIMES, ADAPTER_TIMES, ADAPTER_OHM = (0.5, 1.0, 2.0), (1.05, 1.0, 0.95), (0.1, 0.2, 0.3)
"""source: cell_kinds.csv (inner resistance, times the usual); an adapter's volts over its print and its ohms, from memory."""

CAUSES = ("LEDs", "resistors", "contacts", "warmth", "supply")


def corner_a(made, network, ends):
    """Current with LED, resistor, contacts, warmth and supply each at end 0, 1 or 2; the wire of the loop is what the design says of its length and gauge."""
    led, resistor, contact, warm, fed = ends
    part = made.drawer.led(made.loom.emitters[0].part_row)
    fitted = next(row for row in made.power.resistors)
    off = next(row.tolerance for row in made.drawer.resistors if row.name == fitted.size) * (resistor - 1)
    ohm, emf_v = fitted.value_ohm * (1 + off), 0.0
    for one in network.elements:
        if one.kind == "source":
            adapter = made.plan.supply.kind == "adapter"
            emf_v = one.emf_v * (ADAPTER_TIMES[fed] if adapter else 1.0)
            ohm += ADAPTER_OHM[fed] if adapter else one.ohm * CELL_TIMES[fed]
        elif one.kind == "switch":
            ohm += CONTACT_OHM[contact]
        elif one.name.startswith("lead "):
            ohm += one.ohm - JOINT_OHM[1] + JOINT_OHM[contact]
        elif one.kind != "string":
            ohm += one.ohm
    spread = law_spread(part.law)
    law = (spread.low, spread.typical, spread.high)[led]

    def residue(amps):
        cold_v = float(voltage_at_current(law, amps))
        led_v = cold_v
        for _ in range(60):  # the junction's own fixed point
            led_v = cold_v - FALL_V_PER_K * (ROOM_C[warm] + MOUNT[warm] * part.r_th_ja_k_per_w * led_v * amps - 27)
        return ohm * amps + led_v - emf_v

    return brentq(residue, 1e-7, 0.2, xtol=1e-13)


@pytest.fixture(scope="module", params=[SUPPLY_AA, "supply: {kind: adapter, adapter_v: 5, limit_a: 1}\n"], ids=["cells", "adapter"])
def made(request):
    return designed(board(WHITE, supply=request.param, more="pinned: [{of: A, choice: current_ma, value: '10'}]\n"))


def test_the_ends_of_a_current_are_those_of_all_corners(made):
    network, _ = built_network(made)
    (current,) = made.power.states[0].lit
    corners = [corner_a(made, network, at) for at in product((0, 2), repeat=len(CAUSES))]
    # source: brentq in the same run
    assert current.current_a.low == pytest.approx(min(corners), rel=2e-4)
    assert current.current_a.high == pytest.approx(max(corners), rel=2e-4)
    assert current.current_a.typical == pytest.approx(corner_a(made, network, (1,) * len(CAUSES)), rel=1e-5)


def test_each_cause_alone_is_as_far_apart_as_its_own_corners(made):
    network, _ = built_network(made)
    (current,) = made.power.states[0].lit
    told = dict(current.apart)
    for place, cause in enumerate(CAUSES):
        if cause == "warmth":
            continue
        ends = [corner_a(made, network, [end if place == k else 1 for k in range(len(CAUSES))]) for end in (0, 2)]
        # source: brentq in the same run; the design keeps the typical LED's warmth for each
        assert told[cause] - 1 == pytest.approx(ends[0] / ends[1] - 1, rel=0.08), cause
    assert told["LEDs"] > told["resistors"] > told["contacts"] > 1


def test_the_finding_says_which_does_the_harm():
    pair = f"{WHITE}\n{WHITE.replace('name: l', 'name: m').replace('[20, 80]', '[50, 80]')}"
    tight = designed(board(pair, supply=SUPPLY_AA.replace("cell: AA", "cell: AA rechargeable")))
    row = next(row for row in find(tight) if row.key == "electric.parallel-differ")
    assert "LEDs do most of it" in row.says and "resistors" in row.says and "contacts" in row.says
