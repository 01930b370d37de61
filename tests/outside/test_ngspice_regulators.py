"""ngspice (Debian package, release 39 or later): looms in which constant-current regulators stand beside resistors.

A regulator is a behavioural current source of the same law there. The supply is taken fresh, half run down and flat.
Aim: lamps above 1 uA within 1e-5, the rest within 1e-8 A, as for looms of resistors; 1e-4 where regulators warm.
"""

import subprocess
from dataclasses import replace

import numpy as np
import pytest

from designed import designed
from outside.looms import Warmed, lamp_currents, made_loom, spice_nodes, with_regulators
from outside.tools import needed_program
from plans import board
from rushlight.electric.elements import Network
from rushlight.electric.fault import Fault, fault_table, single_faults
from rushlight.electric.led import law_spread
from rushlight.electric.network import columns_of, shape_of, source, string
from rushlight.electric.regulator import regulator_law
from rushlight.stages.fault_known import built_network
from rushlight.stages.regulator_heat import Warmth
from rushlight.stages.settling import Airs, Warming, settled
from rushlight.stages.supplies import supply_ages
from unit.electric.kirchhoff import current_of, solved

AGES = {"fresh": (12.8, 0.3), "half": (10.0, 0.8), "flat": (7.2, 2.5)}
"""EMF [V] and inner resistance [ohm] of eight cells in series, order of magnitude."""

MANY = pytest.param(100, 201, marks=pytest.mark.slow)
"""ngspice takes up to half a minute to find an operating point of so many regulators."""


def by_spice(network, columns, folder, turned=(), warmed=None):
    program = needed_program("ngspice", "ngspice")
    for options in ("reltol=1e-6 abstol=1e-11 vntol=1e-9 itl1=500", "reltol=1e-5 itl1=1000", "itl1=1000"):
        try:
            return spice_nodes(network, columns, program=program, folder=folder, options=options, turned=turned,
                               warmed=warmed)
        except (subprocess.CalledProcessError, FileNotFoundError):
            continue
    raise AssertionError("ngspice found no operating point")


@pytest.mark.parametrize("age", AGES)
@pytest.mark.parametrize(("leds", "seed"), [(10, 1), (10, 2), (10, 3), (40, 101), (40, 102), MANY])
def test_looms_of_regulators_and_resistors(leds, seed, age, tmp_path):
    emf, inner = AGES[age]
    loom = with_regulators(made_loom(leds, seed, emf_v=emf, inner_ohm=inner), seed)
    point = solved(loom.network, loom.columns)
    theirs = lamp_currents(loom, by_spice(loom.network, loom.columns, tmp_path))
    row = {element.name: at for at, element in enumerate(loom.network.elements)}
    ours = point.element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    lit = np.abs(theirs) > 1e-6
    # source: ngspice in the same run
    assert any(element.regulator for element in loom.network.elements) and lit.any()
    assert np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]) < 1e-5
    assert np.max(np.abs(ours - theirs)[~lit], initial=0.0) < 1e-8


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("age", AGES)
def test_a_string_on_its_regulator(count, age, tmp_path):
    emf, inner = AGES[age]
    law = regulator_law(0.020, knee_v=0.5, knee_share=0.35, slope_siemens=1e-5)
    led = string("leds", "plus", "minus", laws=[law_spread("warm_white").typical] * count, ohm=5.0, regulator=law)
    network = Network.of([source("supply", "plus", "minus", emf_v=emf, inner_ohm=inner), led])
    columns = columns_of(network, {"on": ()})
    plus = by_spice(network, columns, tmp_path)[0]
    theirs = (emf - plus) / inner
    # source: ngspice in the same run
    assert current_of(network, solved(network, columns), "leds") == pytest.approx(theirs, rel=1e-5, abs=1e-8)


@pytest.mark.parametrize("kind", ["regulator bridged", "regulator reversed"])
@pytest.mark.parametrize("seed", [1, 5])
def test_faults_of_a_regulator(kind, seed, tmp_path):
    loom = with_regulators(made_loom(20, seed), seed)
    loom = replace(loom, network=Network.of([
        replace(e, ohm=68.0) if e.kind == "resistor" and e.ohm == 1.0 else e for e in loom.network.elements]))
    element = next(e for e in loom.network.elements if e.regulator)
    bridged = replace(element, regulator=None, ohm=element.ohm + 1e-3)
    built = loom.network if kind == "regulator reversed" else Network.of([
        bridged if e is element else e for e in loom.network.elements])
    theirs = lamp_currents(loom, by_spice(built, loom.columns, tmp_path, turned=(element.name,)))
    faults = (Fault("none", ""), Fault(kind, element.name))
    table = fault_table(loom.network, loom.columns, faults=faults)
    ours = table.string_a[1, [table.strings.index(lamp) for lamp in loom.lamps]]
    lit = np.abs(theirs) > 1e-6
    # source: ngspice in the same run
    assert np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]) < 1e-5
    assert faults[1] in single_faults(loom.network)


def warmth(network, by_name):
    """The stage's own table of regulators, filled by hand."""
    strings = [e for e in network.elements if e.kind == "string"]
    held = [e for e in strings if e.regulator]

    def column(values):
        return np.array(values)[:, None]

    return Warmth(
        np.array([network.elements.index(e) for e in held]), np.array([strings.index(e) for e in held]),
        column([e.regulator.plateau_a for e in held]), column([e.regulator.knee_v for e in held]),
        column([e.regulator.slope_siemens for e in held]), column([by_name[e.name].fall_per_k for e in held]),
        column([0.0] * len(held)), column([by_name[e.name].k_per_w for e in held]),
    )


@pytest.mark.parametrize("age", AGES)
@pytest.mark.parametrize(("leds", "seed"), [(10, 1), (10, 2), (40, 101), MANY])
def test_looms_whose_regulators_warm(leds, seed, age, tmp_path):
    """Each junction's rise is solved with the loom there, by a thermal circuit beside each regulator."""
    emf, inner = AGES[age]
    loom = with_regulators(made_loom(leds, seed, emf_v=emf, inner_ohm=inner), seed)
    rng = np.random.default_rng(seed)
    warmed = {e.name: Warmed(float(rng.uniform(0.001, 0.004)), float(rng.uniform(-90, 30)), float(rng.uniform(200, 700)))
              for e in loom.network.elements if e.regulator}
    held = warmth(loom.network, warmed)
    air = np.array([[warmed[e.name].over_test_k] for e in loom.network.elements if e.regulator])
    airs = Airs(regulators_c=np.broadcast_to(air, (len(air), loom.columns.count)))
    point = settled(loom.network, loom.columns, shape_of(loom.network), airs=lambda _: airs,
                    warming=Warming(regulators=held, mount=np.ones(loom.columns.count))).point
    theirs = lamp_currents(loom, by_spice(loom.network, loom.columns, tmp_path, warmed=warmed))
    row = {element.name: at for at, element in enumerate(loom.network.elements)}
    ours = point.element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    lit = np.abs(theirs) > 1e-6
    # source: ngspice in the same run
    assert np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]) < 1e-4
    cool = solved(loom.network, loom.columns).element_a[held.element]
    assert np.max(np.abs(point.element_a[held.element] - cool)) > 1e-4  # warmth matters here


LAMPS = "\n".join(
    f"{{name: l{k}, part: board, at_mm: [{20 + 25 * k}, 80], colour: {colour}, model_mm: 3, states: {state}}}"
    for k, (colour, state) in enumerate([("red", "day"), ("red", "day"), ("red", "day"), ("warm white", "day"),
                                         ("warm white", "night"), ("red", "night")]))


@pytest.mark.parametrize("age", [0, 1, 2], ids=["fresh", "nominal", "flat"])
@pytest.mark.parametrize("most", [1, 2])
def test_a_whole_designed_loom_with_regulators_in_one_circuit_and_resistors_in_the_other(most, age, tmp_path):
    pins = (f'{{of: A, choice: regulator, value: nearest}}, {{of: A, choice: leds_in_series, value: "{most}"}}, '
            '{of: A, choice: current_ma, value: "10"}')
    made = designed(board(LAMPS, more=f"pinned: [{pins}]\n",
                          supply="supply: {kind: cells, cell: AA, in_series: 6, bay: bay}\n"))
    assert made.power.regulators and made.power.resistors
    whole, closed = built_network(made)
    at = supply_ages(made.plan, made.drawer)[age]
    network = Network.of([replace(e, emf_v=at.emf_v, ohm=at.inner_ohm) if e.kind == "source" else e
                          for e in whole.elements])
    columns = columns_of(network, closed)
    point = solved(network, columns)
    theirs_v = by_spice(network, columns, tmp_path)
    row = {node: k for k, node in enumerate(network.nodes)}
    feed = next(e for e in network.elements if e.kind == "source")
    theirs_a = (at.emf_v - theirs_v[row[feed.node_a]] + theirs_v[row[feed.node_b]]) / at.inner_ohm
    ours_a = current_of(network, point, feed.name)
    # source: ngspice in the same run; 'day' lights the one circuit, 'night' the other
    assert ours_a == pytest.approx(theirs_a, rel=1e-5)
    if age == 1:
        assert [state.supply_a.typical for state in made.power.states] == pytest.approx(theirs_a, rel=1e-4)


@pytest.mark.parametrize("most", [1, 2])
def test_a_designed_loom_whose_regulators_stand_in_the_air_that_the_stage_of_heat_finds(most, tmp_path):
    """One closed space, one state: the junctions' rise is ngspice's own, the air's is told by the stage of heat."""
    pins = (f'{{of: A, choice: regulator, value: nearest}}, {{of: A, choice: leds_in_series, value: "{most}"}}, '
            '{of: A, choice: current_ma, value: "20"}')
    made = designed(board(LAMPS.replace("night", "day").replace("warm white", "red"), more=(
        f"pinned: [{pins}]\nspaces: [{{name: inside, parts: [board], size_mm: [60, 40, 30]}}]\n"),
        supply="supply: {kind: cells, cell: AA, in_series: 6, bay: bay}\n"))
    whole, closed = built_network(made)
    shares = {f"{row.emitter} / 1": row.warm_share for row in made.power.regulators}
    cool = Network.of([replace(e, regulator=e.regulator.times(1 / shares[e.name])) if e.regulator else e
                       for e in whole.elements])
    part = made.drawer.regulator("linear regulator 20 mA")
    rise = made.heat.spaces[0].air_rise_k.typical
    assert rise > 2 and {row.part for row in made.power.regulators} == {part.name}
    air = 22 + rise - part.test_junction_c
    warmed = {name: Warmed(part.fall_per_k, air, part.r_th_ja_k_per_w) for name in shares}
    theirs_v = by_spice(cool, columns_of(cool, {"day": closed["day"]}), tmp_path, warmed=warmed)
    feed = next(e for e in cool.elements if e.kind == "source")
    row = {node: k for k, node in enumerate(cool.nodes)}
    theirs_a = float((feed.emf_v - theirs_v[row[feed.node_a]] + theirs_v[row[feed.node_b]])[0]) / feed.ohm
    # source: ngspice in the same run
    assert made.power.states[0].supply_a.typical == pytest.approx(theirs_a, rel=2e-4)
