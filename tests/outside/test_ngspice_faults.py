"""ngspice (Debian package, release 39 or later): made-up looms with every kind of fault written into the deck by hand.

The table's columns stand against the program's operating point of the loom as somebody would have soldered it wrongly.
Aim as for sound looms: lamps above 1 uA within 1e-5, the rest within 1e-8 A; supply current within 1e-5 or 5 uA (the
program's voltage tolerance over the inner resistance).
"""

from dataclasses import replace

import numpy as np
import pytest

from outside.looms import STATES, lamp_currents, made_loom
from outside.test_ngspice_networks import DEFAULT, by_spice
from rushlight.electric.elements import Network, columns_of, resistor
from rushlight.electric.fault import Fault, fault_table

LOOM = made_loom(24, 7)
NODES = LOOM.network.nodes
LAMPS = [LOOM.lamps[at] for at in (0, 5, 9)]
FEEDS = [e for e in LOOM.network.elements if e.name.startswith("w_g1_p") or e.name.startswith("w_g2_p")]
BACKS = [e for e in LOOM.network.elements if e.name.startswith("w_g1_m")]


def cases():
    """Each fault, with what it does to the elements of the loom."""
    lamp, other, third = LAMPS
    one, two, back = FEEDS[0], FEEDS[-1], BACKS[0]
    yield Fault("open", f"r_{lamp}"), {f"r_{lamp}": {"ohm": 1e12}}, ()
    yield Fault("short", f"r_{other}"), {f"r_{other}": {"ohm": 1e-3}}, ()
    yield Fault("wrong resistor", f"r_{third}", 10.0), {f"r_{third}": {"ohm": 10 * ohm_of(f"r_{third}")}}, ()
    yield Fault("reversed", other), {other: turned(other)}, ()
    for added in (3.0, 1000.0):
        yield (Fault("poor joint", one.name, (one.ohm + added) / one.ohm), {one.name: {"ohm": one.ohm + added}}, ())
    yield Fault("bridged", one.node_b, other=two.node_b), {}, ((one.node_b, two.node_b),)
    yield Fault("bridged", one.node_b, other=back.node_b), {}, ((one.node_b, back.node_b),)
    crossed = {one.name: {"node_a": two.node_a}, two.name: {"node_a": one.node_a}}
    yield Fault("swapped", one.name, other=two.name), crossed, ()
    turned_branch = {one.name: {"node_a": back.node_a}, back.name: {"node_a": one.node_a}}
    yield Fault("swapped", one.name, other=back.name), turned_branch, ()
    stray = {one.name: {"node_a": two.node_b}}
    yield Fault("wrong splice", one.name, other=two.node_b, at=one.node_a), stray, ()
    both = (Fault("open", f"r_{lamp}"), Fault("bridged", one.node_b, other=two.node_b))
    yield Fault("two", "", parts=both), {f"r_{lamp}": {"ohm": 1e12}}, ((one.node_b, two.node_b),)


def ohm_of(name):
    return next(e.ohm for e in LOOM.network.elements if e.name == name)


def turned(name):
    element = next(e for e in LOOM.network.elements if e.name == name)
    return {"node_a": element.node_b, "node_b": element.node_a}


CASES = list(cases())


@pytest.mark.parametrize("number", range(len(CASES)), ids=lambda k: f"{k} {CASES[k][0].kind}")
def test_a_fault_reads_as_in_ngspice(number, tmp_path):
    fault, changed, bridges = CASES[number]
    elements = [replace(e, **changed.get(e.name, {})) for e in LOOM.network.elements]
    elements += [resistor(f"bridge {k}", a, b, ohm=1e-3) for k, (a, b) in enumerate(bridges)]
    network = Network(NODES, tuple(elements))
    columns = columns_of(network, {state: [f"sw{g}" for g in on] for state, on in STATES.items()})
    node_v = by_spice(network, columns, tmp_path, (DEFAULT,))
    table = fault_table(LOOM.network, LOOM.columns, faults=(Fault("none", ""), fault))
    rows = [table.strings.index(lamp) for lamp in LOOM.lamps]
    theirs, ours = lamp_currents(replace(LOOM, network=network), node_v), table.string_a[1, rows]
    lit = np.abs(theirs) > 1e-6
    # source: ngspice in the same run
    assert lit.any()
    assert np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]) < 1e-5
    assert np.max(np.abs(ours - theirs)[~lit], initial=0.0) < 1e-8
    supply = elements[0]
    volts = node_v[NODES.index(supply.node_a)] - node_v[NODES.index(supply.node_b)]
    drawn = (supply.emf_v - volts) / supply.ohm
    assert np.allclose(table.supply_a[1], drawn, rtol=1e-5, atol=5e-6)
