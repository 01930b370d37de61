"""ngspice (Debian package, release 39 or later) and SciPy: LEDs whose forward voltage falls as they warm.

Each junction's rise is ngspice's own, by a thermal circuit beside each string: a source of its power into its thermal
resistance. Aim: lamps above 1 uA within 1e-5, the rest within 1e-8 A.
"""

import subprocess

import numpy as np
import pytest
from scipy.optimize import brentq

from designed import designed
from outside.looms import WarmLed, lamp_currents, made_loom, spice_nodes
from outside.tools import needed_program
from plans import board
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.electric.network import shape_of
from rushlight.stages.led_heat import LedWarmth
from rushlight.stages.settling import Airs, Warming, settled
from unit.electric.kirchhoff import solved

AGES = {"fresh": (12.8, 0.3), "flat": (7.2, 2.5)}
"""EMF [V] and inner resistance [ohm] of eight cells in series, order of magnitude."""


def by_spice(loom, folder, warm_leds):
    program = needed_program("ngspice", "ngspice")
    for options in ("reltol=1e-6 abstol=1e-11 vntol=1e-9 itl1=500", "reltol=1e-5 itl1=1000"):
        try:
            return spice_nodes(loom.network, loom.columns, program=program, folder=folder, options=options,
                               warm_leds=warm_leds)
        except (subprocess.CalledProcessError, FileNotFoundError):
            continue
    raise AssertionError("ngspice found no operating point")


def warmth(loom, by_name):
    """The stage's own table of LEDs, filled by hand."""
    network = loom.network
    strings = [e for e in network.elements if e.kind == "string"]
    held, node = [e for e in strings if e.name in by_name], {name: k for k, name in enumerate(network.nodes)}

    def column(values):
        return np.array(values, float).reshape(-1, 1)

    return LedWarmth(
        np.array([network.elements.index(e) for e in held]), np.array([strings.index(e) for e in held]),
        np.array([node[e.node_a] for e in held]), np.array([node[e.node_b] for e in held]), ("hull",) * len(held),
        column([e.ohm for e in held]), column([0.0] * len(held)), np.zeros(0, np.int64), (column([]), column([]), column([])),
        column([by_name[e.name].k_per_w for e in held]), column([0.0] * len(held)),
        column([by_name[e.name].fall_v_per_k for e in held]), np.ones((1, 1)),
    )


@pytest.mark.parametrize("age", AGES)
@pytest.mark.parametrize(("leds", "seed"), [(10, 1), (40, 101)])
def test_looms_whose_leds_warm(leds, seed, age, tmp_path):
    loom = made_loom(leds, seed, emf_v=AGES[age][0], inner_ohm=AGES[age][1])
    rng = np.random.default_rng(seed)
    warm = {name: WarmLed(float(rng.uniform(0.001, 0.004)), float(rng.uniform(-12, 30)), float(rng.uniform(50, 200)))
            for name in loom.lamps}
    table = warmth(loom, warm)
    names = [loom.network.elements[row].name for row in table.element]
    air = np.broadcast_to(np.array([[27.0 + warm[name].over_law_k] for name in names]), (len(names), loom.columns.count))
    made = settled(loom.network, loom.columns, shape_of(loom.network), airs=lambda _: Airs(leds_c=air), passes=2,
                   warming=Warming(leds=table, first_c=air))
    theirs = lamp_currents(loom, by_spice(loom, tmp_path, warm))
    row = {element.name: at for at, element in enumerate(loom.network.elements)}
    ours = made.point.element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    lit = np.abs(theirs) > 1e-6
    # source: ngspice in the same run
    assert np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]) < 1e-5
    assert np.max(np.abs(ours - theirs)[~lit], initial=0.0) < 1e-8
    cool = solved(loom.network, loom.columns).element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    assert np.max(np.abs(ours - cool)[lit] / np.abs(theirs)[lit]) > 1e-3  # warmth matters here


@pytest.mark.parametrize(("colour", "fall", "r_th"), [("red", 0.002, 400), ("warm white", 0.003, 400)])
def test_one_led_on_its_resistor_by_the_closed_form(colour, fall, r_th):
    """E = R I + V(I) - fall (T_air + R_th V_led I - 27), solved by SciPy's brentq; R_th and fall as the tables say."""
    lamp = f'{{name: l, part: board, at_mm: [20, 80], colour: {colour}, model_mm: 3, states: day, source: {{kind: led}}}}'
    held = "pinned: [{of: A, choice: current_ma, value: '15'}]\n"
    made = designed(board(lamp, supply="supply: {kind: adapter, adapter_v: 5, limit_a: 1, bay: bay}\n", more=held))
    (current,), state = made.power.states[0].lit, made.power.states[0]
    assert made.drawer.led(made.loom.emitters[0].part_row).r_th_ja_k_per_w == r_th
    law, ohm = law_spread(colour.replace(" ", "_")).typical, made.power.resistors[0].value_ohm
    across = current.terminal_v

    def residue(amps, warm_c):
        led_v = float(voltage_at_current(law, amps)) - fall * (warm_c - 27)
        return ohm * amps + led_v - across, led_v

    def both(amps):
        led_v = (across - ohm * amps)
        return residue(amps, 22 + r_th * led_v * amps)[0]

    theirs = brentq(both, 1e-6, 0.03, xtol=1e-14)
    # source: brentq in the same run
    assert current.current_a.typical == pytest.approx(theirs, rel=1e-6)
    assert current.junction_c.typical == pytest.approx(22 + r_th * (across - ohm * theirs) * theirs, abs=1e-3)
    first = brentq(lambda amps: residue(amps, 22)[0], 1e-6, 0.03, xtol=1e-14)
    assert first < 0.999 * theirs and current.first_a == pytest.approx(first, rel=2e-3)  # a little more reaches it cold
    assert state.bench_a.low <= current.first_a
