"""Faults as columns against networks built with the fault in them."""

from dataclasses import replace

import numpy as np
import pytest

from rushlight.electric.fault import Fault, fault_table, single_faults, suspects
from rushlight.electric.led import law_spread
from rushlight.electric.network import Network, columns_of, resistor, source, string, switch, wire
from rushlight.errors import OutOfRange
from unit.electric.kirchhoff import solved

RED = law_spread("red").typical
WHITE = law_spread("warm_white").typical


def small_loom():
    elements = [source("battery", "plus", "minus", emf_v=9.0, inner_ohm=2.0)]
    for group in "ab":
        elements += [switch(f"sw {group}", "plus", group), wire(f"feed {group}", group, f"{group}1", ohm=0.2)]
        for k, law in enumerate((RED, WHITE)):
            name = f"{group}{k}"
            elements += [resistor(f"r {name}", f"{group}1", f"{name}x", ohm=330.0 + 140 * k),
                         string(name, f"{name}x", "back", laws=[law] * (2 - k))]
    return Network.of([*elements, wire("return", "back", "minus", ohm=0.3)])


NETWORK = small_loom()
COLUMNS = columns_of(NETWORK, {"a": ("sw a",), "b": ("sw b",), "both": ("sw a", "sw b")})
TABLE = fault_table(NETWORK, COLUMNS)


def rebuilt(fault):
    """The network with the fault built in, or None where only columns can say it."""
    old = next(e for e in NETWORK.elements if e.name == fault.element)
    if fault.kind == "open":
        # a string that leads nowhere keeps the nodes and carries nothing
        return [replace(e, node_b=f"{e.node_b} off") if e is old else e for e in NETWORK.elements]
    if fault.kind == "wrong resistor":
        return [replace(e, ohm=e.ohm * fault.factor) if e is old else e for e in NETWORK.elements]
    if fault.kind == "short" and old.kind == "resistor":
        return [replace(e, ohm=1e-3) if e is old else e for e in NETWORK.elements]
    if fault.kind == "short" and len(old.laws) > 1:
        new = replace(old, laws=old.laws[1:], ohm=old.laws[0].series_ohm)
        return [new if e is old else e for e in NETWORK.elements]
    if fault.kind == "reversed":
        return [replace(e, node_a=e.node_b, node_b=e.node_a) if e is old else e for e in NETWORK.elements]
    return None


def test_every_fault_reads_as_the_network_built_with_it():
    checked = 0
    for k, fault in enumerate(TABLE.faults[1:], 1):
        elements = rebuilt(fault)
        if elements is not None:
            network = Network.of(elements)
            point = solved(network, columns_of(network, {"a": ("sw a",), "b": ("sw b",), "both": ("sw a", "sw b")}))
            assert np.allclose(TABLE.supply_a[k], point.element_a[0], rtol=1e-6, atol=1e-7), fault
            checked += 1
    assert checked >= 25


def test_a_stuck_contact_lights_its_group_in_every_state():
    stuck = TABLE.faults.index(Fault("stuck", "sw a"))
    assert np.allclose(TABLE.supply_a[stuck], TABLE.supply_a[0, [0, 2, 2]], rtol=1e-6)


def test_an_open_and_a_reversed_lamp_read_alike_and_name_the_same_dark_lamp():
    opened, turned = (TABLE.faults.index(Fault(kind, "a1")) for kind in ("open", "reversed"))
    assert np.allclose(TABLE.supply_a[opened], TABLE.supply_a[turned], atol=1e-7)
    assert TABLE.dark(opened) == TABLE.dark(turned) == (("a1",), (), ("a1",))
    assert TABLE.dark(0) == ((), (), ())


def test_supply_falls_with_an_open_and_rises_with_a_short():
    for k, fault in enumerate(TABLE.faults):
        change = TABLE.supply_a[k] - TABLE.supply_a[0]
        if fault.kind == "open":
            assert np.all(change < 1e-7)
        if fault.kind == "short":
            assert np.all(change > -1e-7)


def test_the_true_fault_is_never_left_out_while_the_meter_keeps_its_bound():
    rng = np.random.default_rng(5)
    for k, fault in enumerate(TABLE.faults):
        true = TABLE.supply_a[k]
        reading = true + rng.uniform(-1, 1, true.shape) * (0.0099 * true + 1.9e-4) * 0.99
        assert fault in [suspect.fault for suspect in suspects(TABLE, reading)]
    exact = suspects(TABLE, TABLE.supply_a[3])
    assert exact[0].misfit == 0.0


def test_a_reading_not_taken_does_not_count():
    opened = TABLE.faults.index(Fault("open", "r b0"))
    few = suspects(TABLE, TABLE.supply_a[opened])
    more = suspects(TABLE, [TABLE.supply_a[opened, 0], float("nan"), float("nan")])
    assert len(more) > len(few) > 0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: single_faults(NETWORK, wrong_factors=(0.0,)), "factors above zero"),
        (lambda: fault_table(NETWORK, COLUMNS, faults=(Fault("open", "a0"),)), "'none' as the first fault"),
        (lambda: suspects(TABLE, [0.1]), "one for each of the 3 states"),
        (lambda: suspects(TABLE, [0.1, 0.1, 0.1], error_a=0.0), "above 0 A"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
