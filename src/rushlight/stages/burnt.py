"""What the solved loom turns into heat, and where: in each lamp, and in all that feeds them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Columns, Element, Network
from rushlight.electric.network import OperatingPoint
from rushlight.electric.regulator import regulator_voltage
from rushlight.model.design_loom import Loom
from rushlight.stages.network import string_name
from rushlight.units import Range

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Burnt:
    """Power in every column of a solve while lit [W]: arrays of one value a column.

    `terminal_w`: by emitter, between its terminals, with the resistor or regulator that sets its current; `idle_w`:
    what makes rhythms draws by itself; `rest_w`: all else that the supply gives, in switch, steering diodes, drivers,
    fuse and leads, and within cells.
    """

    terminal_w: Mapping[str, Array]
    idle_w: Array
    rest_w: Array


def burnt_of(network: Network, point: OperatingPoint, *, loom: Loom, emf_v: Array | None) -> Burnt:
    """Where the power of a solved loom goes.

    Parameters
    ----------
    network, point
        What was solved, and how.
    loom : Loom
        Its emitters.
    emf_v : array or None
        The EMF of cells in each column [V], so that what they lose within themselves counts; None for an adapter or a
        power bank, which does not warm the model.
    Returns
    -------
    Burnt
        Emitters that are not wired are left out; a node that no supply reaches carries no power.
    Source
    ------
    P = U I of each element; what they take is what the source gives (Tellegen).
    """
    node = {name: number for number, name in enumerate(network.nodes)}
    row = {element.name: number for number, element in enumerate(network.elements)}
    volts = np.nan_to_num(point.node_v)

    def across(plus: str, minus: str) -> Array:
        return np.asarray(volts[node[plus]] - volts[node[minus]])

    def burns(name: str) -> Array:
        element = network.elements[row[name]]
        return np.asarray(across(element.node_a, element.node_b) * point.element_a[row[name]])

    terminal = {
        one.name: across(f"{one.name}+", f"{one.name}-") * point.element_a[row[string_name(one, 0)]]
        for one in loom.emitters if string_name(one, 0) in row
    }
    given = burns("supply") if emf_v is None else emf_v * point.element_a[row["supply"]]
    idle = burns("makers") if "makers" in row else np.zeros(given.shape)
    return Burnt(terminal, idle, np.maximum(given - idle - sum(terminal.values(), np.zeros(given.shape)), 0.0))


def led_powers_w(network: Network, columns: Columns, point: OperatingPoint) -> dict[str, Array]:
    """Power in the diodes alone of every string, by its name, in every column [W]."""
    node = {name: number for number, name in enumerate(network.nodes)}
    volts, found = np.nan_to_num(point.node_v), {}
    strings = [(number, element) for number, element in enumerate(network.elements) if element.kind == "string"]
    for place, (number, element) in enumerate(strings):
        amps = point.element_a[number]
        diodes_ohm = sum(law.series_ohm for law in element.laws)
        ohm = element.ohm + (columns.ohm_factor[number] - 1) * (element.ohm + diodes_ohm)
        over = volts[node[element.node_a]] - volts[node[element.node_b]] - ohm * amps
        factor = None if columns.limit_factor is None else columns.limit_factor[place]
        found[element.name] = np.maximum(over - _regulator_v(element, factor, amps), 0.0) * amps
    return found


def _regulator_v(element: Element, factor: Array | None, amps: Array) -> Array | float:
    """What a string's regulator takes; nothing without one."""
    law, times = element.regulator, 1.0 if factor is None else factor
    if law is None:
        return 0.0
    held, _ = regulator_voltage(np.asarray(law.plateau_a * times), np.asarray(law.knee_v),
                                np.asarray(law.slope_siemens * times), amps)
    return held


def range_of(watts: Array, columns: Sequence[int], typical: int, share: float = 1.0) -> Range:
    """Power over some columns, typical in one of them, times a share [W]."""
    middle = max(float(watts[typical]), 0.0)
    ends = watts[list(columns)]
    return Range(min(max(float(ends.min()), 0.0), middle), middle, max(float(ends.max()), middle)).times(share)


def total(parts: Sequence[Range]) -> Range:
    """The sum of ranges; nothing is no power."""
    return Range(sum(p.low for p in parts), sum(p.typical for p in parts), sum(p.high for p in parts))
