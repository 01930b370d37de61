"""Star to mesh in levels against a dense solver."""

import numpy as np
import pytest

from rushlight.electric.elimination import Gather, factored, node_voltages, planned


def random_graph(nodes, extra, seed):
    rng = np.random.default_rng(seed)
    start = [*range(1, nodes), 0, nodes // 2]
    stop = [int(rng.integers(0, k)) for k in range(1, nodes)] + [nodes, nodes]
    for _ in range(extra):
        a, b = (int(x) for x in rng.integers(0, nodes, 2))
        if a != b:
            start.append(a)
            stop.append(b)
    return start, stop, rng


@pytest.mark.parametrize(("nodes", "extra"), [(1, 0), (2, 0), (30, 0), (120, 40), (200, 200)])
def test_agrees_with_a_dense_solver(nodes, extra):
    start, stop, rng = random_graph(nodes, extra, nodes)
    value = 10 ** rng.uniform(-3, 3, (len(start), 3))
    fed = rng.normal(size=(nodes + 1, 3))
    found = node_voltages(factored(planned(nodes, start, stop), value), fed)
    for column in range(3):
        full = np.zeros((nodes + 1, nodes + 1))
        for a, b, g in zip(start, stop, value[:, column], strict=True):
            full[a, a] += g
            full[b, b] += g
            full[a, b] -= g
            full[b, a] -= g
        wanted = np.linalg.solve(full[:nodes, :nodes], fed[:nodes, column])
        assert np.allclose(found[:nodes, column], wanted, rtol=1e-7, atol=1e-7 * np.abs(wanted).max())
    assert not found[nodes].any()


@pytest.mark.parametrize(("rows", "targets"), [(0, 3), (3, 3), (40, 2), (300, 40), (900, 700)])
def test_rows_are_summed_by_target(rows, targets):
    rng = np.random.default_rng(rows)
    # A third of the rows go to one target, as where many leads meet at a splice.
    target = np.where(rng.random(rows) < 0.3, targets // 2, rng.integers(0, targets, rows))
    value = rng.normal(size=(rows, 2))
    # derived: one row after the other
    wanted, least = np.zeros((targets, 2)), np.full((targets, 2), np.inf)
    np.add.at(wanted, target, value)
    np.minimum.at(least, target, value)
    gather = Gather.by(target)
    assert gather.spread(value, targets) == pytest.approx(wanted, abs=1e-12)
    assert np.array_equal(gather.spread(value, targets, np.minimum), np.where(np.isinf(least), 0.0, least))
    into = np.ones((targets, 2))
    gather.add_into(into, value)
    assert into == pytest.approx(wanted + 1.0, abs=1e-12)


def test_rows_of_equal_number_are_summed_in_order():
    # derived: 0 + 1, 2 + 3 and so on
    assert Gather.by(np.arange(80) // 2).spread(np.arange(80.0)[:, None], 40).ravel() == pytest.approx(4 * np.arange(40.0) + 1)


def test_a_group_on_a_picoampere_of_leakage_keeps_its_digits():
    # derived: 1e4 S tie, 1e-12 S leak: 1 nA in gives 1000 V, exact but for rounding
    plan = planned(2, [0, 1], [1, 2])
    found = node_voltages(factored(plan, np.array([[1e4], [1e-12]])), np.array([[1e-9], [0.0], [0.0]]))
    assert found[0, 0] == pytest.approx(1000.0, rel=1e-12)


def test_the_order_is_the_same_each_time():
    start, stop, _ = random_graph(80, 30, 4)
    one, two = planned(80, start, stop), planned(80, start, stop)
    assert one.nodes.tolist() == two.nodes.tolist()
    assert [a.pivots for a in one.levels] == [b.pivots for b in two.levels]
