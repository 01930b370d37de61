"""Regulators give less as they warm: what warmth leaves of the current of each of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.network import Network, OperatingPoint
from rushlight.electric.regulator import regulator_voltage, warm_share
from rushlight.stages.led_heat import COLD
from rushlight.stages.regulators import Chosen
from rushlight.units import Range

Array = NDArray[np.float64]

MOUNT = {"low": 0.8, "typical": 1.0, "high": 1.3, COLD: 0.0}
"""Spread of a regulator's thermal resistance with the way it is mounted, on the side that widens the range of
currents (from memory, as for an LED)."""


@dataclass(frozen=True, slots=True)
class Warmth:
    """The regulators of a network: their rows among its elements and strings, and what warmth does to each.

    Arrays have one row each. plateau_a, knee_v, slope_siemens: the law; fall_per_k [1/K], test_c [degC]; k_per_w: of
    all pieces together [K/W].
    """

    element: NDArray[np.int64]
    string: NDArray[np.int64]
    plateau_a: Array
    knee_v: Array
    slope_siemens: Array
    fall_per_k: Array
    test_c: Array
    k_per_w: Array


def warmth_of(network: Network, chosen: Mapping[str, Chosen]) -> Warmth:
    """The regulators of a network.

    Parameters
    ----------
    network : Network
        Its strings are named after their emitters.
    chosen : mapping
        Which regulators stand before which emitter.
    Returns
    -------
    Warmth
        In the order of the network's strings.
    """
    strings = [(row, element.name.removesuffix(" / 1")) for row, element in enumerate(network.elements)
               if element.kind == "string"]
    found = [(row, at, chosen[name]) for at, (row, name) in enumerate(strings) if name in chosen]
    own = [(way.law, way.part, way.count) for _, _, way in found]

    def column(values: Sequence[float]) -> Array:
        return np.array(values, dtype=np.float64)[:, None]

    return Warmth(
        np.array([row for row, _, _ in found], dtype=np.int64), np.array([at for _, at, _ in found], dtype=np.int64),
        column([law.plateau_a for law, _, _ in own]), column([law.knee_v for law, _, _ in own]),
        column([law.slope_siemens for law, _, _ in own]), column([part.fall_per_k for _, part, _ in own]),
        column([part.test_junction_c for _, part, _ in own]),
        column([part.r_th_ja_k_per_w / count for _, part, count in own]),
    )


def shares_of(
    warmth: Warmth, point: OperatingPoint, factor: Array, share: Array, *, air_c: Array, mount: Array
) -> Array:
    """What warmth leaves of each regulator's current [-], shape (regulators, columns).

    Parameters
    ----------
    warmth : Warmth
        The regulators.
    point : OperatingPoint
        A solve with `factor` on their current, of which `share` is warmth's.
    factor, share : array
        Shape (regulators, columns).
    air_c, mount : array
        The air round each [degC], and the factor on its thermal resistance.
    Returns
    -------
    array
        Exact for the volts that the solve left across each.
    Source
    ------
    See `electric.regulator.warm_share`.
    """
    amps = np.maximum(point.element_a[warmth.element], 0.0)
    volts, _ = regulator_voltage(warmth.plateau_a * factor, warmth.knee_v, warmth.slope_siemens * factor, amps)
    return warm_share(warmth.fall_per_k, air_c - warmth.test_c, kelvin_per_volt_ampere=warmth.k_per_w * mount,
                      volts=np.maximum(volts, 0.0), cool_a=amps / share)


def air_over_room(rises_k: Sequence[Range], tolerances: Sequence[str], room: Range) -> Array:
    """The air round regulators for each LED tolerance [degC].

    Parameters
    ----------
    rises_k : sequence of Range
        How much warmer than the room the air of each one gets [K].
    tolerances : sequence of str
        typical; high: the warmest air; low and cold: the coolest room's, as a model that is switched on is cold.
    room : Range
        The air where the model stands [degC].
    Returns
    -------
    array
        Shape (regulators, tolerances).
    """
    return np.array([
        [{"typical": room.typical + rise.typical, "high": room.high + rise.high}.get(name, room.low)
         for name in tolerances] for rise in rises_k
    ]).reshape(len(rises_k), len(tolerances))
