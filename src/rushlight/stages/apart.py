"""What the spread of a current comes from: LEDs, resistors, contacts or the supply alone at either end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.network import Columns, Network, OperatingPoint, Shape, operating_point
from rushlight.stages.network import LEAST_OHM
from rushlight.stages.resistance_spread import Spread
from rushlight.stages.supplies import Age

LEDS, SUPPLY = "LEDs", "supply"

CAUSES = (LEDS, "resistors", "contacts", SUPPLY)
"""The supply moves all lamps at once, the others each by itself."""

LEAST_A = 1e-9


def apart_of(
    network: Network, columns: Columns, shape: Shape, point: OperatingPoint, *, states: Sequence[str],
    shifts_v: Mapping[str, Sequence[float]], spread: Spread, supply: Age,
) -> dict[tuple[str, str], tuple[tuple[str, float], ...]]:
    """By string and state, for each cause alone, the most current over the least [-].

    Parameters
    ----------
    network, columns, shape, point
        The settled loom, with a column of typical LEDs on the nominal supply for each state.
    states : sequence of str
        Their names.
    shifts_v : mapping
        Shift of each string's forward voltage with LEDs of 'low' and of 'high' voltage [V].
    spread : Spread
        That of resistances.
    supply : Age
        The supply at its nominal voltage.
    Returns
    -------
    dict
        LEDs keep the warmth of the typical one.
    Source
    ------
    One more DC solve: `electric.network`.
    """
    at = [columns.names.index(f"{state} | nominal | typical") for state in states]
    cases = [(k, cause, side) for k in range(len(at)) for cause in CAUSES for side in (0, 1)]
    picked = [at[k] for k, _, _ in cases]

    def cut(value: NDArray[Any]) -> NDArray[Any]:
        return value[:, picked] if value.shape[1] > 1 else np.repeat(value, len(picked), axis=1)

    names = ("low", "high")
    shift = np.array([shifts_v[names[side]] if cause == LEDS else np.zeros(len(columns.shift_v))
                      for _, cause, side in cases]).T
    ends = {"resistors": spread.resistors, "contacts": spread.contacts}
    fed = np.array([supply.with_leds(names[side] if cause == SUPPLY else "typical") for _, cause, side in cases]).T
    plain = np.ones((len(network.elements), 1))
    factor = np.concatenate([ends[cause][side] if cause in ends else plain for _, cause, side in cases], axis=1)
    asked = replace(
        columns, names=tuple(f"{states[k]} | {cause} | {names[side]}" for k, cause, side in cases),
        closed=cut(columns.closed), emf_v=fed[:1],
        inner_ohm=np.maximum(fed[1:], LEAST_OHM), ohm_factor=factor,
        shift_v=cut(columns.shift_v) + shift, string_state=cut(columns.string_state),
        limit_factor=None if columns.limit_factor is None else cut(columns.limit_factor),
    )
    amps = operating_point(network, asked, shape=shape, start_v=point.node_v[:, picked]).element_a
    amps = np.maximum(amps, LEAST_A).reshape(len(network.elements), len(at), len(CAUSES), 2)
    ratio = np.maximum(amps[..., 0] / amps[..., 1], 1.0)
    return {
        (element.name, state): tuple(zip(CAUSES, (float(each) for each in ratio[row, k]), strict=True))
        for row, element in enumerate(network.elements) if element.kind == "string" for k, state in enumerate(states)
    }
