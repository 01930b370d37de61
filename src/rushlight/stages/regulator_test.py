"""A regulator tested on the bench before it is soldered in: alone with a resistor on the supply, no LED at risk."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from rushlight.electric.regulator import RegulatorLaw, regulator_current, warm_share
from rushlight.electric.resistor import value_not_below
from rushlight.model.drawer import RegulatorPart
from rushlight.stages.at_hand import Offered
from rushlight.stages.regulator_heat import MOUNT
from rushlight.stages.regulators import part_law
from rushlight.stages.spaces import usual_room_c
from rushlight.units import Range

TURNED_TIMES = 2.0
"""The resistor lets so much of the regulator's current through one that is the wrong way round: enough to tell, too
little to harm it at once (project proposal)."""

MOST_TURNED_TIMES = 5.0
"""On a low supply, where both cannot be had, never more than so much (project proposal)."""

LEFT_SHARE = 1.5
"""It leaves a right one so many times the voltage under which it drops out (project proposal)."""

STEP = 1.16
"""So far apart are the values of E24 at most: from 13 to 15 (IEC 60063, from memory)."""

BODY_V = 0.7
"""What a regulator that is the wrong way round drops, as a silicon diode does (data sheets allow 0.5 V backwards)."""


@dataclass(frozen=True, slots=True)
class PartTest:
    """The resistor to test one part with [ohm], what the meter shows the right way round and turned [A]."""

    resistor_ohm: float
    right_a: Range
    turned_a: float


def part_test(
    part: RegulatorPart, *, fresh_v: float, nominal_v: float, drop_out_v: float, resistors: tuple[Offered, ...]
) -> PartTest:
    """How one regulator is tested.

    Parameters
    ----------
    part : RegulatorPart
        The part.
    fresh_v, nominal_v : float
        The supply, open [V].
    drop_out_v : float
        What it wants across it [V].
    resistors : tuple of Offered
        Those at hand or on sale; where none at hand suits, one of E24 is to be bought.
    Returns
    -------
    PartTest
        `right_a` from the least part, settled, to the one that gives most, still cold.
    Source
    ------
    The part's law and spread; the resistor is a proposal of the project.
    """
    amps = part.current_ma.typical / 1000
    wanted = min(fresh_v / (TURNED_TIMES * amps), (nominal_v - LEFT_SHARE * drop_out_v) / amps)
    ohm = _resistor_ohm(resistors, wanted, least_ohm=fresh_v / (MOST_TURNED_TIMES * amps))
    ends = [
        _settled_a(part, share, volts, ohm, mount)
        for share, volts, mount in (
            (part.current_ma.low / part.current_ma.typical, nominal_v, MOUNT["high"]),
            (part.current_ma.low / part.current_ma.typical, fresh_v, MOUNT["high"]),
            (1.0, fresh_v, MOUNT["typical"]),
            (part.current_ma.high / part.current_ma.typical, fresh_v, 0.0),
        )
    ]
    return PartTest(ohm, Range(min(ends[:2]), ends[2], ends[3]), max(fresh_v - BODY_V, 0.0) / ohm)


def _resistor_ohm(resistors: tuple[Offered, ...], wanted_ohm: float, *, least_ohm: float) -> float:
    """The next value over the wanted one, by a step of E24 at most; else the next under it that turned parts bear."""
    wanted_ohm = max(wanted_ohm, least_ohm)
    over = [ohm for own in resistors if (ohm := own.not_below(wanted_ohm)) and ohm <= STEP * wanted_ohm]
    under = [ohm for own in resistors if (ohm := own.not_above(wanted_ohm)) and ohm >= least_ohm]
    return min(over, default=max(under, default=value_not_below(wanted_ohm)))


def _settled_a(part: RegulatorPart, share: float, supply_v: float, ohm: float, mount: float) -> float:
    """Current through the part and the resistor, by halving: more current leaves the part less voltage."""
    law, low, high = part_law(part).times(share), 0.0, supply_v / ohm
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _warm_a(part, law, supply_v - ohm * middle, mount) > middle else (low, middle)
    return low


def _warm_a(part: RegulatorPart, law: RegulatorLaw, volts: float, mount: float) -> float:
    cool = regulator_current(law, volts)
    over_test_k = usual_room_c().typical - part.test_junction_c
    left = warm_share(
        np.array(part.fall_per_k), np.array(over_test_k), volts=np.array(max(volts, 0.0)),
        kelvin_per_volt_ampere=np.array(part.r_th_ja_k_per_w * mount), cool_a=np.maximum(cool, 0.0))
    return float(cool * left) if math.isfinite(float(cool)) else 0.0
