"""The network's solve: closed forms, second methods, faults in words."""

from itertools import pairwise

import numpy as np
import pytest

from rushlight.electric.elements import OPEN, REVERSED, SHORTED
from rushlight.electric.led import current_at_voltage, law_spread, voltage_at_current
from rushlight.electric.network import (
    Network,
    Supply,
    columns_of,
    operating_point,
    resistor,
    shape_of,
    source,
    string,
    switch,
    wire,
)
from rushlight.electric.network_shape import refitted
from rushlight.errors import OutOfRange, UnknownName
from unit.electric.kirchhoff import current_of, solved, voltage_of

RED = law_spread("red").typical
WHITE = law_spread("warm_white").typical
SILICON = law_spread("silicon_diode").typical


def lamp(name, plus, minus, ohm=470.0, law=RED):
    return [resistor(f"r {name}", plus, f"{name} a", ohm=ohm), string(name, f"{name} a", minus, laws=[law])]


def battery(emf_v=9.0, inner_ohm=2.0):
    return source("battery", "plus", "minus", emf_v=emf_v, inner_ohm=inner_ohm)


def test_one_lamp_meets_the_closed_form():
    network = Network.of([battery(), *lamp("bow", "plus", "minus")])
    point = solved(network)
    amps = current_of(network, point, "bow")[0]
    # derived: Kirchhoff's voltage law round the one loop
    assert float(voltage_at_current(RED, amps)) + 472.0 * amps == pytest.approx(9.0, abs=2e-8)
    assert voltage_of(network, point, "plus")[0] == pytest.approx(9.0 - 2.0 * amps, abs=1e-9)
    assert current_of(network, point, "battery")[0] == pytest.approx(amps, abs=1e-9)
    assert voltage_of(network, point, "minus")[0] == 0.0


def test_series_and_parallel_resistors():
    network = Network.of([
        battery(12.0, 1.0), resistor("a", "plus", "x", ohm=5.0), resistor("b", "x", "minus", ohm=12.0),
        resistor("c", "x", "y", ohm=6.0), resistor("d", "y", "minus", ohm=6.0),
    ])
    point = solved(network)
    # derived: 12 parallel (6 + 6) is 6 ohm, with 6 ohm before it: 1 A
    assert current_of(network, point, "a")[0] == pytest.approx(1.0, abs=1e-10)
    assert current_of(network, point, "d")[0] == pytest.approx(0.5, abs=1e-10)
    assert voltage_of(network, point, "y")[0] == pytest.approx(3.0, abs=1e-10)


def test_ring_feed_shares_the_current_from_both_sides():
    network = Network.of([
        battery(12.0, 0.5), wire("near", "plus", "x", ohm=1.0), wire("far one", "plus", "z", ohm=1.0),
        wire("far two", "z", "x", ohm=2.0), resistor("load", "x", "minus", ohm=100.0),
    ])
    point = solved(network)
    # derived: 1 parallel 3 ohm shares 3 to 1
    near, far = (current_of(network, point, name)[0] for name in ("near", "far one"))
    assert near == pytest.approx(3 * far, rel=1e-9)


def test_two_sources_and_their_exchange():
    network = Network.of([
        battery(9.0, 1.0), source("old", "plus", "minus", emf_v=8.0, inner_ohm=1.0),
        resistor("load", "plus", "minus", ohm=1000.0),
    ])
    point = solved(network)
    # derived: two equal inner resistances: 8.5 V behind 0.5 ohm
    volts = voltage_of(network, point, "plus")[0]
    assert volts == pytest.approx(8.5 * 1000 / 1000.5, rel=1e-10)
    assert current_of(network, point, "old")[0] == pytest.approx(8.0 - volts, abs=1e-10)


def test_cells_in_series_add_and_two_separate_supplies_do_not_meet():
    network = Network.of([
        source("low", "mid", "minus", emf_v=4.5, inner_ohm=1.0),
        source("high", "plus", "mid", emf_v=4.5, inner_ohm=1.0),
        resistor("load", "plus", "minus", ohm=88.0),
        source("other", "p2", "m2", emf_v=3.0, inner_ohm=1.0), resistor("load 2", "p2", "m2", ohm=29.0),
    ])
    point = solved(network)
    assert current_of(network, point, "load")[0] == pytest.approx(0.1, abs=1e-12)
    assert current_of(network, point, "load 2")[0] == pytest.approx(0.1, abs=1e-12)
    assert not point.faults


def test_string_of_unlike_diodes_is_exact_where_the_mean_law_is_not():
    network = Network.of([
        battery(5.0, 1.0), string("block", "plus", "x", laws=[SILICON]),
        string("led", "x", "y", laws=[RED]), resistor("big", "y", "minus", ohm=3e8),
    ])
    point = solved(network)
    amps = current_of(network, point, "led")[0]
    total = float(voltage_at_current(SILICON, amps) + voltage_at_current(RED, amps)) + (3e8 + 1) * amps
    # derived: Kirchhoff's voltage law; the leak across the junctions is below 1e-11 A
    assert 1e-9 < amps < 2e-8 and total == pytest.approx(5.0, abs=0.02)


def test_inner_nodes_of_a_long_string_add_up():
    network = Network.of([
        battery(12.0, 1.0), wire("w", "plus", "a", ohm=0.5), string("one", "a", "b", laws=[RED]),
        resistor("r", "b", "c", ohm=330.0), string("two", "c", "d", laws=[WHITE, WHITE], ohm=10.0),
        wire("back", "minus", "d", ohm=0.5),
    ])
    point = solved(network)
    amps = current_of(network, point, "two")[0]
    assert current_of(network, point, "back")[0] == pytest.approx(-amps)
    drop = voltage_of(network, point, "c")[0] - voltage_of(network, point, "d")[0]
    assert drop == pytest.approx(2 * float(voltage_at_current(WHITE, amps)) + 10 * amps, abs=1e-8)
    red = voltage_of(network, point, "a")[0] - voltage_of(network, point, "b")[0]
    assert red == pytest.approx(float(voltage_at_current(RED, amps)), abs=1e-8)


def switched():
    return Network.of([
        battery(), switch("one", "plus", "f1"), switch("two", "plus", "f2"),
        *lamp("a", "f1", "minus"), *lamp("b", "f2", "minus", law=WHITE), *lamp("c", "f2", "minus", ohm=1000.0),
    ])


def test_each_state_lights_its_own_lamps_and_the_rest_carry_nanoamperes():
    network = switched()
    states = {"off": (), "first": ("one",), "second": ("two",), "all": ("one", "two")}
    point = solved(network, columns_of(network, states))
    a, b, c = (current_of(network, point, name) for name in "abc")
    assert np.all((a > 1e-3) == [False, True, False, True])
    assert np.all((b > 1e-3) == [False, False, True, True])
    assert np.all((c > 1e-3) == [False, False, True, True])
    # derived: 9 V over the 1e9 ohm of an open contact
    assert a[0] < 9.1e-9 and b[0] + c[0] < 9.1e-9
    assert point.columns == ("off", "first", "second", "all")


def test_supply_ages_and_tolerances_make_the_columns_of_a_product():
    network = switched()
    ages = (Supply("fresh", (9.5,), (1.7,)), Supply("flat", (6.0,), (6.0,)))
    shifts = {"low": -0.2, "high": (0.2, 0.3, 0.2)}
    states = {"first": ("one",), "all": ("one", "two")}
    columns = columns_of(network, states, supplies=ages, shifts_v=shifts)
    assert columns.names[:3] == ("first | fresh | low", "first | fresh | high", "first | flat | low")
    amps = current_of(network, solved(network, columns), "a").reshape(2, 2, 2)
    assert np.all(amps[:, 0] > amps[:, 1]) and np.all(amps[:, :, 0] > amps[:, :, 1])
    assert np.all(amps[0] > amps[1])


def test_a_column_is_the_same_alone_and_among_many():
    network = switched()
    ages = tuple(Supply(f"{k}", (5.0 + 0.02 * k,), (2.0,)) for k in range(300))
    many = solved(network, columns_of(network, {"all": ("one", "two")}, supplies=ages))
    for k in (0, 255, 256, 299):
        one = solved(network, columns_of(network, {"all": ("one", "two")}, supplies=(ages[k],)))
        assert np.allclose(many.element_a[:, k], one.element_a[:, 0], rtol=1e-9, atol=1e-12)


def test_same_input_same_bytes_and_a_kept_shape_gives_the_same():
    network = switched()
    first, again = operating_point(network), operating_point(network, shape=shape_of(network))
    assert first.node_v.tobytes() == again.node_v.tobytes()
    assert first.element_a.tobytes() == again.element_a.tobytes()


def with_state(network, states):
    columns = columns_of(network, {str(k): network.named("switch") for k in range(len(states))})
    return type(columns)(
        columns.names, columns.closed, columns.emf_v, columns.inner_ohm, columns.ohm_factor, columns.shift_v,
        np.array(states, np.int8).T,
    )


def test_string_faults_in_columns():
    network = Network.of([battery(), *lamp("x", "plus", "minus"), resistor("r", "plus", "s", ohm=100.0),
                          string("pair", "s", "minus", laws=[RED, RED]), *lamp("y", "plus", "minus")])
    states = [(0, 0, 0), (OPEN, OPEN, 0), (SHORTED, SHORTED, 0), (REVERSED, REVERSED, 0)]
    point = solved(network, with_state(network, states))
    x, pair, y = (current_of(network, point, name) for name in ("x", "pair", "y"))
    volts = voltage_of(network, point, "plus")
    assert abs(x[1]) < 1e-10 and abs(pair[1]) < 1e-10
    # derived: a bridged single LED leaves its resistor and the law's own series ohms
    assert x[2] == pytest.approx(volts[2] / (470 + RED.series_ohm), rel=1e-5)
    half = float(voltage_at_current(RED, pair[2]))
    assert half + pair[2] * (100 + RED.series_ohm) == pytest.approx(volts[2], abs=1e-4)
    assert abs(x[3]) < 1e-10 and abs(pair[3]) < 1e-10
    assert np.all(y > 1e-3) and y[1] > y[0]


def test_wrong_resistor_in_a_column():
    network = switched()
    columns = columns_of(network, {"one": ("one",), "two": ("one",)})
    factor = np.ones((len(network.elements), 2))
    factor[len(network.named("switch")) + 1, 1] = 10.0
    point = solved(network, type(columns)(
        columns.names, columns.closed, columns.emf_v, columns.inner_ohm, factor, columns.shift_v, columns.string_state))
    amps = current_of(network, point, "a")
    across = voltage_of(network, point, "a a")[1]
    assert amps[1] == pytest.approx(float(current_at_voltage(RED, across)), rel=1e-6)
    assert amps[1] < amps[0] / 8


def faults_of(network, columns=None):
    return {fault.kind: fault for fault in operating_point(network, columns).faults}


def test_no_supply_is_said_and_everything_is_dark():
    network = Network.of(lamp("bow", "plus", "minus"))
    point = operating_point(network)
    assert point.faults[0].kind == "no-supply" and "no supply" in point.faults[0].message
    assert not point.element_a.any()
    flat = faults_of(Network.of([battery(0.0), *lamp("bow", "plus", "minus")]))
    assert "0 V" in flat["no-supply"].message


def test_a_short_is_named_with_its_columns_and_still_solved():
    bridge = [switch("s", "plus", "f"), wire("w", "f", "minus", ohm=0.1)]
    network = Network.of([battery(), *bridge, *lamp("a", "plus", "minus")])
    columns = columns_of(network, {"off": (), "on": ("s",)})
    fault = faults_of(network, columns)["short"]
    assert fault.columns == ("on",) and fault.elements == ("battery",)
    point = solved(network, columns)
    # derived: 9 V over 2 + 0.03 + 0.1 ohm, the lamp takes next to nothing
    assert current_of(network, point, "battery")[1] == pytest.approx(9 / 2.13, rel=1e-3)


def test_a_floating_group_has_no_voltage_and_is_named():
    network = Network.of([battery(), *lamp("a", "plus", "minus"), *lamp("lost", "nowhere", "else")])
    fault = faults_of(network)["floating"]
    assert fault.nodes == ("nowhere", "lost a", "else") and "'lost'" in fault.message
    point = operating_point(network)
    assert np.isnan(voltage_of(network, point, "nowhere")).all()
    assert current_of(network, point, "lost")[0] == 0.0
    assert current_of(network, point, "a")[0] > 0.01


def test_a_loose_end_is_named_and_takes_its_neighbours_voltage():
    network = Network.of([battery(), *lamp("a", "plus", "minus"), *lamp("b", "plus", "end")])
    fault = faults_of(network)["loose-end"]
    assert set(fault.elements) == {"b", "r b"}
    point = solved(network)
    assert voltage_of(network, point, "end")[0] == voltage_of(network, point, "plus")[0]


def test_a_lamp_backwards_is_named_with_its_reverse_voltage():
    network = Network.of([battery(), *lamp("a", "plus", "minus"), *lamp("turned", "minus", "plus")])
    fault = faults_of(network)["backwards"]
    assert fault.elements == ("turned",) and "9.0 V in reverse" in fault.message


def test_missing_common_return_keeps_the_group_dark():
    island = [*lamp("a", "plus", "island"), *lamp("b", "plus", "island")]
    network = Network.of([battery(), *island, *lamp("c", "plus", "minus")])
    point = solved(network)
    assert abs(current_of(network, point, "a")[0]) < 1e-9
    assert current_of(network, point, "c")[0] > 0.01


def test_opposed_strings_block():
    network = Network.of([
        battery(), resistor("r", "plus", "x", ohm=100.0), string("one", "x", "y", laws=[RED]),
        string("two", "minus", "y", laws=[RED]), *lamp("c", "plus", "minus"),
    ])
    point = solved(network)
    assert abs(current_of(network, point, "one")[0]) < 1e-9


def test_a_loop_that_hangs_on_one_node_carries_nothing():
    network = Network.of([
        battery(), *lamp("a", "plus", "minus"), wire("l1", "plus", "x", ohm=1.0), wire("l2", "x", "y", ohm=1.0),
        wire("l3", "y", "plus", ohm=1.0),
    ])
    point = solved(network)
    assert current_of(network, point, "l1")[0] == 0.0
    assert voltage_of(network, point, "y")[0] == pytest.approx(voltage_of(network, point, "plus")[0], abs=1e-12)


def test_reversed_polarity_and_a_dead_cell_converge():
    network = switched()
    for emf in (-9.0, 0.0, 1e-3, 500.0):
        columns = columns_of(network, {"all": ("one", "two")}, supplies=(Supply("odd", (emf,), (2.0,)),))
        point = solved(network, columns)
        assert point.residual_a.max() < 1e-8 and "not-settled" not in {f.kind for f in point.faults}


@pytest.mark.parametrize(
    ("call", "error", "words"),
    [
        (lambda: resistor("r", "a", "b", ohm=0.0), OutOfRange, "resistance of 'r' is 0"),
        (lambda: resistor("r", "a", "a", ohm=1.0), OutOfRange, "two different nodes"),
        (lambda: string("s", "a", "b", laws=[]), OutOfRange, "one diode or more"),
        (lambda: source("b", "p", "m", emf_v=5000.0, inner_ohm=1.0), OutOfRange, "emf of 'b'"),
        (lambda: Network.of([battery(), battery()]), OutOfRange, "element 'battery' is named twice"),
        (lambda: Network(("a", "a"), ()), OutOfRange, "node 'a' is named twice"),
        (lambda: Network(("plus",), (battery(),)), UnknownName, "node of element 'battery' 'minus'"),
        (lambda: columns_of(switched(), {}), OutOfRange, "one state or more"),
        (lambda: columns_of(switched(), {"x": ("onee",)}), UnknownName, "Did you mean 'one'"),
        (lambda: columns_of(switched(), {"x": ()}, supplies=(Supply("s", (), ()),)), OutOfRange, "one for each source"),
    ],
)
def test_edges_raise(call, error, words):
    with pytest.raises(error, match=words):
        call()


def test_columns_of_another_network_are_refused():
    columns = columns_of(switched(), {"all": ("one",)})
    with pytest.raises(OutOfRange, match=r"shape of columns\.closed"):
        operating_point(Network.of([battery(), *lamp("a", "plus", "minus")]), columns)


def test_a_start_near_the_answer_gives_the_same_answer_in_fewer_rounds():
    network = switched()
    states = {"off": (), "all": ("one", "two")}
    cold = operating_point(network, columns_of(network, states))
    near = columns_of(network, states, supplies=(Supply("less", (8.9,), (2.0,)),))
    warm = operating_point(network, near, start_v=cold.node_v)
    assert warm.rounds < operating_point(network, near).rounds
    assert np.allclose(warm.element_a, operating_point(network, near).element_a, rtol=1e-7, atol=1e-9)
    with pytest.raises(OutOfRange, match="stop_a is 1"):
        operating_point(network, near, stop_a=1.0)
    with pytest.raises(OutOfRange, match="shape of start_v"):
        operating_point(network, near, start_v=cold.node_v[:-1])


def test_other_resistances_keep_the_shape_and_other_elements_do_not():
    first = Network.of([battery(), *lamp("bow", "plus", "minus"), *lamp("stern", "plus", "minus")])
    other = Network.of([battery(6.0), *lamp("bow", "plus", "minus", 220.0), *lamp("stern", "plus", "minus", 82.0)])
    kept = operating_point(other, shape=refitted(shape_of(first), other))
    anew = operating_point(other)
    assert np.array_equal(kept.element_a, anew.element_a)
    assert np.array_equal(kept.node_v, anew.node_v)
    for changed in ([*lamp("bow", "plus", "minus")], [*lamp("bow", "plus", "minus"), *lamp("stern", "minus", "plus")],
                    [*lamp("bow", "plus", "minus"), *lamp("stern", "plus", "minus", law=WHITE)]):
        with pytest.raises(OutOfRange):
            refitted(shape_of(first), Network.of([battery(), *changed]))


@pytest.mark.parametrize("between", [1, 2])
def test_strings_that_stand_against_each_other_behind_resistors(between):
    path = ["plus", "p", *(f"r{k}" for k in range(between)), "q"]
    parts = [string("one", "plus", "p", laws=[RED] * 2)]
    parts += [resistor(f"ohm{k}", a, b, ohm=100.0) for k, (a, b) in enumerate(pairwise(path[1:]))]
    parts += [string("two", "minus", "q", laws=[RED]), *lamp("lit", "plus", "minus")]
    network = Network.of([battery(), *parts])
    point = solved(network)
    # derived: a diode in reverse lets its saturation current and its leakage through, whatever stands before it
    assert abs(current_of(network, point, "one")[0]) < 1e-10
    assert current_of(network, point, "one") == pytest.approx(-current_of(network, point, "two"), abs=1e-10)
    assert current_of(network, point, "lit")[0] > 5e-3
    assert voltage_of(network, point, "p") == pytest.approx(voltage_of(network, point, "q"), abs=1e-6)
