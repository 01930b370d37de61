"""Single faults beside the sound network, against Newton's method on each faulty network."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rushlight.electric.fault import BESIDE_FROM, Fault, fault_table, joint_faults, single_faults
from rushlight.electric.led import law_spread
from rushlight.electric.network import (
    Network,
    columns_of,
    operating_point,
    resistor,
    shape_of,
    source,
    string,
    switch,
    wire,
)
from rushlight.electric.rewired import BREAK_OHM
from rushlight.electric.single_fault import MOST_BENT, Faulted, edges_of, faulted, solved_beside, tangent

RED = law_spread("red").typical
STOP_A = 1e-8


def comb(teeth: int) -> Network:
    """LEDs along two leads behind a contact: a weak supply, a lead between each two of them, a resistor at each."""
    elements = [source("cells", "plus", "minus", emf_v=4.5, inner_ohm=0.4), switch("sw", "plus", "p0")]
    for k in range(teeth):
        elements += [wire(f"out {k}", f"p{k}", f"p{k + 1}", ohm=0.05), wire(f"back {k}", f"m{k + 1}", f"m{k}", ohm=0.05),
                     wire(f"leg {k}", f"p{k + 1}", f"a{k}", ohm=0.1),
                     string(f"led {k}", f"a{k}", f"m{k + 1}", laws=(RED,), ohm=150.0 + k % 3)]
    return Network.of([*elements, wire("home", "m0", "minus", ohm=0.02), resistor("bleed", "p1", "m1", ohm=1e4)])


def one_by_one(network: Network, name: str, factor: float) -> np.ndarray:
    """Currents of the strings with one resistance changed, solved from nothing to 1e-11 A."""
    columns = columns_of(network, {"on": ("sw",)})
    ohm = np.ones((len(network.elements), 1))
    ohm[[element.name for element in network.elements].index(name)] = factor
    point = operating_point(network, replace(columns, ohm_factor=ohm), stop_a=1e-11)
    return point.element_a[network.rows("string"), 0]


@pytest.mark.parametrize("teeth", [3, 12, 40])
def test_cold_joints_and_breaks_have_the_currents_of_the_plain_solve_of_each(teeth: int) -> None:
    network = comb(teeth)
    at = tangent(shape_of(network), columns_of(network, {"on": ("sw",)}),
                 operating_point(network, columns_of(network, {"on": ("sw",)}), stop_a=1e-11).node_v)
    edge_of = dict(zip((one.name for one in network.elements), edges_of(shape_of(network)).tolist(), strict=True))
    names = [f"{kind} {k}" for kind in ("out", "back", "leg") for k in range(teeth)]
    cases = [(name, factor) for name in names for factor in (61.0, 2001.0, BREAK_OHM / 0.05)]
    ohm = np.ones((len(network.elements), len(cases)))
    for column, (name, factor) in enumerate(cases):
        ohm[[one.name for one in network.elements].index(name), column] = factor
    wide = replace(columns_of(network, {"on": ("sw",)}), names=tuple(f"{k}" for k in range(len(cases))), ohm_factor=ohm)
    assert at is not None
    given = faulted(at, wide, np.array([edge_of[name] for name, _ in cases]))
    assert given is not None
    _, string_a, solved = solved_beside(at, given, STOP_A)
    assert solved.all()
    wanted = np.array([one_by_one(network, name, factor) for name, factor in cases])
    assert np.abs(string_a - wanted).max() < 2e-7
    assert np.abs(wanted - at.amps[at.plain :].max()).max() > 1e-3  # the faults do change much


def test_every_fault_of_a_long_loom_is_found_too_where_too_much_bends_to_be_solved_beside() -> None:
    network = comb(MOST_BENT + 60)
    assert len(network.elements) >= BESIDE_FROM
    columns = columns_of(network, {"on": ("sw",), "off": ()})
    faults = tuple(fault for fault in (*single_faults(network), *joint_faults(network, (10.0, 1000.0)))
                   if fault.element in ("", "sw", "out 0", "back 1", "out 70", "leg 5", "led 80", "home", "cells"))
    faults += (Fault("weak supply", "cells", 2 / 3),)
    quick, plain = (fault_table(network, columns, faults=faults, voltages=every) for every in (False, True))
    assert np.abs(quick.string_a - plain.string_a).max() < 4e-7
    assert np.abs(quick.supply_a - plain.supply_a).max() < 4e-6
    assert np.abs(plain.string_a[1:] - plain.string_a[0]).max(axis=(1, 2)).min() > 1e-6


def test_a_fault_that_leaves_too_much_bent_says_so() -> None:
    network = comb(MOST_BENT + 20)
    columns = columns_of(network, {"on": ("sw",)})
    shape = shape_of(network)
    at = tangent(shape, columns, operating_point(network, columns).node_v)
    assert at is not None
    edge = edges_of(shape)[[one.name for one in network.elements].index("out 0")]
    broken = Faulted(np.array([edge]), np.ones((6, 1)), np.zeros(1), np.array([1 / BREAK_OHM]))
    assert not solved_beside(at, broken, STOP_A)[2].any()


def test_a_start_that_lies_far_off_leads_to_the_same_currents_in_fewer_rounds() -> None:
    network = comb(30)
    columns = columns_of(network, {"on": ("sw",)})
    sound = operating_point(network, columns)
    ohm = np.ones((len(network.elements), 1))
    ohm[[one.name for one in network.elements].index("out 9")] = BREAK_OHM / 0.05
    broken = replace(columns, ohm_factor=ohm)
    near, far, none = (operating_point(network, broken, start_v=start, far=far)
                       for start, far in ((sound.node_v, False), (sound.node_v, True), (None, False)))
    assert np.abs(far.element_a - none.element_a).max() < 1e-8
    assert np.abs(near.element_a - none.element_a).max() < 1e-8
    assert far.rounds < near.rounds
