"""Faults as columns against networks built with the fault in them."""

from dataclasses import replace

import numpy as np
import pytest

from rushlight.electric.fault import QUIET_A, Fault, fault_table, joint_faults, single_faults, suspects
from rushlight.electric.led import law_spread
from rushlight.electric.network import Network, columns_of, resistor, source, string, switch, wire
from rushlight.electric.rewired import rewiring
from rushlight.errors import OutOfRange, UnknownName
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


def random_loom(seed):
    """A tree of leads with LEDs at its tips, on switches of their own, drawn at random."""
    chance = np.random.default_rng(seed)
    elements = [source("battery", "plus", "minus", emf_v=9.0, inner_ohm=1.0)]
    for group in "abc":
        elements += [switch(f"sw {group}", "plus", group)]
        tips = [group]
        for k in range(int(chance.integers(3, 7))):
            start, name = tips[int(chance.integers(len(tips)))], f"{group}{k}"
            elements += [wire(f"lead {name}", start, name, ohm=float(chance.uniform(0.01, 0.3))),
                         resistor(f"r {name}", name, f"{name}x", ohm=float(chance.choice([220.0, 470.0]))),
                         string(name, f"{name}x", f"{name}y", laws=[(RED, WHITE)[int(chance.integers(2))]]),
                         wire(f"back {name}", f"{name}y", "back", ohm=float(chance.uniform(0.01, 0.3)))]
            tips.append(name)
    return Network.of([*elements, wire("return", "back", "minus", ohm=0.3)])


@pytest.mark.parametrize("seed", range(8))
def test_faults_that_do_the_same_are_solved_once_with_the_currents_of_the_plain_solve_of_each(seed):
    """Against the plain way, in which every fault is solved in every state: a table with voltages."""
    network = random_loom(seed)
    columns = columns_of(network, {"a": ("sw a",), "b": ("sw b",), "all": ("sw a", "sw b", "sw c")})
    faults = (*single_faults(network), *joint_faults(network))
    quick, plain = (fault_table(network, columns, faults=faults, voltages=voltages) for voltages in (False, True))
    assert np.abs(quick.string_a - plain.string_a).max() < 2 * QUIET_A
    assert np.abs(quick.supply_a - plain.supply_a).max() < 2 * QUIET_A
    assert all(quick.dark(k) == plain.dark(k) for k in range(len(faults)))
    assert np.abs(plain.string_a[1:] - plain.string_a[0]).max() > 1e-3


def test_nothing_is_solved_where_a_fault_is_in_the_way_of_nothing():
    table = fault_table(NETWORK, COLUMNS, faults=(Fault("none", ""), Fault("open", "feed a"), Fault("open", "a0")))
    assert (table.string_a[1:, :, 1] == table.string_a[0, :, 1]).all()  # b alone is on
    assert not (table.string_a[1:, :, 0] == table.string_a[0, :, 0]).all()


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
        new = replace(old, laws=old.laws[1:])  # what bridges its legs bridges its own resistance too
        return [new if e is old else e for e in NETWORK.elements]
    if fault.kind == "reversed":
        return [replace(e, node_a=e.node_b, node_b=e.node_a) if e is old else e for e in NETWORK.elements]
    return None


REWIRED = (
    Fault("bridged", "a1", other="back"), Fault("bridged", "a1", other="b1"), Fault("bridged", "a0x", other="b0x"),
    Fault("swapped", "feed a", other="feed b"), Fault("swapped", "feed a", other="return"),
    Fault("swapped", "feed b", other="return", at="b1"), Fault("wrong splice", "feed a", other="b", at="a"),
    Fault("wrong splice", "feed a", other="b1", at="a1"), Fault("wrong splice", "return", other="b1", at="back"),
)


def moved(fault):
    """The network with a fault's wires on their wrong nodes, written out by hand."""
    ends = {
        ("swapped", "feed a", "feed b"): {"feed a": ("b", "a1"), "feed b": ("a", "b1")},
        ("swapped", "feed a", "return"): {"feed a": ("back", "a1"), "return": ("a", "minus")},
        ("swapped", "feed b", "return"): {"feed b": ("b", "back"), "return": ("b1", "minus")},
        ("wrong splice", "feed a", "b"): {"feed a": ("b", "a1")},
        ("wrong splice", "feed a", "b1"): {"feed a": ("a", "b1")},
        ("wrong splice", "return", "b1"): {"return": ("b1", "minus")},
    }.get((fault.kind, fault.element, fault.other), {})
    elements = [replace(e, node_a=ends[e.name][0], node_b=ends[e.name][1]) if e.name in ends else e
                for e in NETWORK.elements]
    bridge = [resistor("bridge", fault.element, fault.other, ohm=1e-3)] if fault.kind == "bridged" else []
    return Network.of([*elements, *bridge])


def test_mixed_up_wires_read_as_the_network_built_so():
    table = fault_table(NETWORK, COLUMNS, faults=(Fault("none", ""), *REWIRED), voltages=True)
    for k, fault in enumerate(REWIRED, 1):
        network = moved(fault)
        point = solved(network, columns_of(network, {"a": ("sw a",), "b": ("sw b",), "both": ("sw a", "sw b")}))
        assert np.allclose(table.supply_a[k], point.element_a[0], rtol=1e-6, atol=1e-7), fault
        rows = [network.elements.index(next(e for e in network.elements if e.name == n)) for n in table.strings]
        assert np.allclose(table.string_a[k], point.element_a[rows], rtol=1e-6, atol=1e-7), fault


def test_two_faults_at_once_are_one_column():
    both = Fault("two", "a0", other="feed b", parts=(Fault("open", "a0"), REWIRED[3]))
    table = fault_table(NETWORK, COLUMNS, faults=(Fault("none", ""), both))
    broken = [replace(e, node_b="nowhere") if e.name == "a0" else e for e in moved(REWIRED[3]).elements]
    network = Network.of(broken)
    point = solved(network, columns_of(network, {"a": ("sw a",), "b": ("sw b",), "both": ("sw a", "sw b")}))
    assert np.allclose(table.supply_a[1], point.element_a[0], rtol=1e-6, atol=1e-7)


def test_a_lamp_with_its_own_resistor_can_have_a_wrong_one():
    network = Network.of([source("cell", "plus", "minus", emf_v=9.0, inner_ohm=1.0),
                          string("lamp", "plus", "minus", laws=[RED], ohm=330.0)])
    fault = Fault("wrong resistor", "lamp", 10.0)
    assert fault in single_faults(network)
    table = fault_table(network, columns_of(network, {"on": ()}), faults=(Fault("none", ""), fault))
    built = Network.of([network.elements[0], replace(network.elements[1], ohm=3300.0)])
    assert table.supply_a[1, 0] == pytest.approx(solved(built, columns_of(built, {"on": ()})).element_a[0, 0], rel=1e-6)


def test_a_cold_joint_lies_between_its_two_ends():
    """Currents and voltages with any resistance between two of the table's lie between theirs."""
    table = fault_table(NETWORK, COLUMNS, faults=(Fault("none", ""), *joint_faults(NETWORK, (3.0, 7.0, 1000.0))), voltages=True)
    for at in range(1, len(table.faults), 3):
        for value in (table.supply_a, table.string_a, table.node_v):
            low, mid, high = value[at : at + 3]
            assert np.all(np.minimum(low, high) - 1e-7 <= mid) and np.all(mid <= np.maximum(low, high) + 1e-7)


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
        (lambda: joint_faults(NETWORK, (0.0,)), "resistances above zero"),
        (lambda: rewiring(NETWORK, Fault("bridged", "a", other="a")), "two different nodes"),
        (lambda: suspects(TABLE, [0.1]), "one for each of the 3 states"),
        (lambda: suspects(TABLE, [0.1, 0.1, 0.1], error_a=0.0), "above 0 A"),
    ],
)
def test_edges_raise(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()


@pytest.mark.parametrize("fault", [
    Fault("bridged", "a", other="nowhere"), Fault("swapped", "feed a", other="a0"), Fault("open", "nobody"),
    Fault("wrong splice", "feed a", other="b", at="back"),
])
def test_unknown_wires_and_nodes_are_named(fault):
    with pytest.raises(UnknownName):
        fault_table(NETWORK, COLUMNS, faults=(Fault("none", ""), fault))
