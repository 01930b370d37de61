"""Networks without sense: whatever is joined to whatever, the solve arrives and Kirchhoff's laws hold."""

import numpy as np
import pytest

from rushlight.electric.led import law_names, law_spread
from rushlight.electric.network import Network, columns_of, resistor, source, string, switch, wire
from unit.electric.kirchhoff import solved

KINDS = ("resistor", "wire", "switch", "string", "source")


def random_element(name, ends, rng):
    kind = str(rng.choice(KINDS, p=[0.2, 0.1, 0.15, 0.5, 0.05]))
    if kind == "resistor":
        return resistor(name, *ends, ohm=float(10 ** rng.uniform(0, 7)))
    if kind == "wire":
        return wire(name, *ends, ohm=float(10 ** rng.uniform(-4, 1)))
    if kind == "switch":
        return switch(name, *ends)
    if kind == "source":
        return source(name, *ends, emf_v=float(rng.uniform(-12, 12)), inner_ohm=float(10 ** rng.uniform(-2, 1)))
    laws = [law_spread(str(rng.choice(law_names()))).typical for _ in range(int(rng.integers(1, 4)))]
    return string(name, *ends, laws=laws, ohm=float(rng.choice([0, 10, 470])))


def random_network(seed):
    rng = np.random.default_rng(seed)
    nodes = [f"n{k}" for k in range(int(rng.integers(2, 14)))]
    elements = [source("first", *nodes[:2], emf_v=float(rng.choice([3, 9, 12, -5, 24])),
                       inner_ohm=float(10 ** rng.uniform(-3, 1.5)))]
    for k in range(int(rng.integers(1, 40))):
        a, b = rng.choice(len(nodes), 2, replace=False)
        elements.append(random_element(f"e{k}", (nodes[a], nodes[b]), rng))
    network = Network.of(elements)
    closed = {f"s{j}": [s for s in network.named("switch") if rng.random() < 0.5] for j in range(4)}
    return network, columns_of(network, closed)


@pytest.mark.parametrize("seed", range(120))
def test_arrives_and_keeps_kirchhoffs_laws(seed):
    point = solved(*random_network(seed))
    assert point.residual_a.max() < 1e-8
    assert point.rounds < 60
    assert all(fault.kind != "not-settled" for fault in point.faults)
