"""Solving a network in the tests, with the laws that always hold asserted."""

from __future__ import annotations

import numpy as np

from rushlight.electric.network import Columns, Network, OperatingPoint, operating_point


def solved(network: Network, columns: Columns | None = None) -> OperatingPoint:
    """The operating point; currents sum to zero at each node, power in equals power out, in each column."""
    point = operating_point(network, columns)
    index = {node: at for at, node in enumerate(network.nodes)}
    fed = np.zeros_like(point.node_v)
    power = np.zeros(point.node_v.shape[1])
    for element, current in zip(network.elements, point.element_a, strict=True):
        flow = -current if element.kind == "source" else current
        a, b = index[element.node_a], index[element.node_b]
        fed[a] -= flow
        fed[b] += flow
        power += np.nan_to_num(point.node_v[a] - point.node_v[b]) * flow
    live = ~np.isnan(point.node_v)
    largest = max(1.0, float(np.abs(point.element_a).max()))
    # derived: Kirchhoff's current law; what a source feeds in is what the rest takes up (Tellegen)
    assert np.all(np.abs(fed[live]) < 2e-9 * largest)
    assert np.all(np.abs(power) < 1e-6 * largest)
    return point


def current_of(network: Network, point: OperatingPoint, name: str) -> np.ndarray:
    """The current of one element in every column."""
    return point.element_a[[element.name for element in network.elements].index(name)]


def voltage_of(network: Network, point: OperatingPoint, node: str) -> np.ndarray:
    """The voltage of one node in every column."""
    return point.node_v[network.nodes.index(node)]
