"""The loom as warm as it gets: solved again with the warmth that its last solve gave, until nothing moves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.network import Columns, Network, OperatingPoint, Shape, operating_point
from rushlight.stages.led_heat import LedWarmth
from rushlight.stages.regulator_heat import Warmth, shares_of

Array = NDArray[np.float64]

ROUNDS = 3
"""So often the loom is solved again with the warmth that its last solve gave; each leaves a tenth of the error."""

SETTLED_SHARE = 1e-6
"""A round that moves no regulator's current by more than this share is not solved."""

SETTLED_V = 2e-6
"""A round that moves no LED's forward voltage by more than this is not solved."""


@dataclass(frozen=True, slots=True)
class Airs:
    """The air round each part in each column [degC]: shapes (LED strings, columns) and (regulators, columns)."""

    leds_c: Array | None = None
    regulators_c: Array | None = None


@dataclass(frozen=True, slots=True)
class Warming:
    """What warms in a loom: its LEDs with the air of the first moment round each [degC] (strings, columns), its
    regulators with the factor on their thermal resistance in each column; None is left as the columns have it."""

    leds: LedWarmth | None = None
    first_c: Array | None = None
    regulators: Warmth | None = None
    mount: Array | None = None


@dataclass(frozen=True, slots=True)
class Settled:
    """A solve with everything as warm as it gets, the columns that warmth was put into, and the first moment's solve.

    The first moment has LEDs at the air's temperature and regulators as their data sheet has them.
    """

    columns: Columns
    point: OperatingPoint
    first: OperatingPoint
    junction_c: Array
    """Of the LEDs, shape (strings, columns) [degC]; empty without them."""


def settled(
    network: Network, columns: Columns, shape: Shape, *, warming: Warming, airs: Callable[[OperatingPoint], Airs],
    passes: int = 1,
) -> Settled:
    """A loom whose LEDs and regulators are as warm as they get.

    Parameters
    ----------
    network, columns, shape
        What to solve; the columns hold the spread of LEDs and regulators.
    warming : Warming
        What warms.
    airs : callable
        From a solve the air round each part.
    passes : int
        How often the air is worked out, each time from the solve before.
    Returns
    -------
    Settled
        A fixed number of rounds at most.
    Notes
    -----
    A regulator's share is exact for the volts that the last solve left across it; an LED's voltage follows from the
    power of the last solve, and a round leaves of its error what R dV/dT V / (R_series + slope) is: 0.02 as a rule, 0.1
    with next to no voltage left for the resistor.
    Source
    ------
    Fixed point of loom and thermal resistances; a thermal circuit beside each part in ngspice in tests/outside.
    """
    now = _first(warming, columns)
    point = first = operating_point(network, now.columns, shape=shape)
    air = Airs()
    for number in range(passes * ROUNDS):
        air = airs(point) if number % ROUNDS == 0 else air
        then = _warmer(warming, columns, now, point=point, air=air)
        if _moves(now, then):
            now = then
            point = operating_point(network, now.columns, shape=shape, start_v=point.node_v)
    return Settled(now.columns, point, first, now.junction_c)


@dataclass(frozen=True, slots=True)
class _Round:
    """The columns with a round's warmth in them: LEDs' junctions [degC], what is left of regulators' currents."""

    columns: Columns
    junction_c: Array
    share: Array


def _first(warming: Warming, columns: Columns) -> _Round:
    share = np.ones((0 if warming.regulators is None else len(warming.regulators.string), columns.count))
    if warming.leds is None or warming.first_c is None:
        return _Round(columns, np.zeros((0, columns.count)), share)
    return _Round(warming.leds.shifted(columns, warming.first_c), warming.first_c, share)


def _warmer(warming: Warming, plain: Columns, now: _Round, *, point: OperatingPoint, air: Airs) -> _Round:
    """What the power of a solve comes to."""
    columns, junction_c, share = plain, now.junction_c, now.share
    if warming.leds is not None and air.leds_c is not None:
        junction_c = air.leds_c + warming.leds.rises_k(point, now.columns)
        columns = warming.leds.shifted(columns, junction_c)
    if warming.regulators is not None and air.regulators_c is not None and warming.mount is not None:
        spread = plain.limit_factor if plain.limit_factor is not None else np.ones((plain.shift_v.shape[0], 1))
        factor, rows = np.array(np.broadcast_to(spread, (spread.shape[0], plain.count))), warming.regulators.string
        share = shares_of(warming.regulators, point, factor[rows] * share, share, air_c=air.regulators_c,
                          mount=warming.mount)
        factor[rows] *= share
        columns = replace(columns, limit_factor=factor)
    return _Round(columns, junction_c, share)


def _moves(now: _Round, then: _Round) -> bool:
    """Whether a round's warmth is worth another solve."""
    return bool(np.max(np.abs(then.share - now.share), initial=0.0) >= SETTLED_SHARE
                or np.max(np.abs(then.columns.shift_v - now.columns.shift_v), initial=0.0) >= SETTLED_V)
