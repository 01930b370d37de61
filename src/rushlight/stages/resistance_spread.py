"""What resistors and contacts may differ by: the resistance of each element of a loom, least and most."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import CLOSED_SWITCH_OHM, Element, Network
from rushlight.model.design_loom import Loom
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.network import JOINT_OHM, PLUG_OHM, emitter_law, plugs_on
from rushlight.stages.resistors import resistor_part
from rushlight.tables import row_by
from rushlight.units import Range

Array = NDArray[np.float64]

BUILT_IN_SHARE = 0.05
"""Tolerance of resistors built into strips and pre-wired LEDs (from memory: 5 % chip resistors)."""

DRIVER_SHARE = (1.0, 1.5)
"""A driver's on-resistance from cool to hot, over that at 25 degC (from memory, typical of data sheets)."""

AIM_HEADROOM = 1.35
"""For the heat of a resistor before the loom is solved: so much more than the aim (project proposal)."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Factors on each element's resistance, one row each: the least and the most of resistors, and of contacts."""

    resistors: tuple[Array, Array]
    contacts: tuple[Array, Array]

    def both(self, tolerance: str) -> Array:
        """What goes with an LED tolerance: least resistance with LEDs that take most, and the other way round."""
        if tolerance == "typical":
            return np.ones_like(self.resistors[0])
        side = 1 if tolerance == "high" else 0
        return self.resistors[side] * self.contacts[side]


@cache
def contact_ohm(what: str) -> Range:
    """Resistance of a contact or joint of contact_resistance.csv [ohm]."""
    row = row_by("contact_resistance", "what", what)
    return Range(*(float(row[f"{end}_ohm"]) for end in ("low", "typical", "high")))


def resistance_spread(
    plan: Plan, drawer: Drawer, *, loom: Loom, network: Network, fitted_ohm: Mapping[str, float]
) -> Spread:
    """How far the resistances of a loom may lie from those that it is solved with.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        Which resistors are at hand.
    loom : Loom
        Emitters, leads and plugs.
    network : Network
        As built by `loom_network`.
    fitted_ohm : mapping
        Resistance fitted to each emitter [ohm].
    Returns
    -------
    Spread
        All of a kind to one side at once; wire, fuse and cells stay as they are.
    Source
    ------
    Tolerance of the resistor that is bought (drawer); contact_resistance.csv.
    """
    share = {
        name: resistor_part(plan, drawer, (AIM_HEADROOM * loom.emitter(name).aim_current_a) ** 2 * ohm, ohm).tolerance
        for name, ohm in fitted_ohm.items()
    }
    ends = np.array([_resistor_share(drawer, loom, element, fitted_ohm, share) for element in network.elements])
    plugs = {f"lead {lead.name}": plugs_on(loom, lead) for lead in loom.leads}
    contacts = np.array([_contact_factors(element, plugs.get(element.name)) for element in network.elements])
    return Spread((_column(1 - ends), _column(1 + ends)), (_column(contacts[:, 0]), _column(contacts[:, 1])))


def _column(values: Array) -> Array:
    return values.reshape(-1, 1)


def _resistor_share(
    drawer: Drawer, loom: Loom, element: Element, fitted_ohm: Mapping[str, float], share: Mapping[str, float]
) -> float:
    """Tolerance of all resistance in an element; that of the diodes themselves is among it, and stays as it is."""
    if element.kind == "resistor" and element.name.startswith("dimmer "):
        return share[element.name.removeprefix("dimmer ")]
    name = element.name.rsplit(" / ", 1)[0]
    if element.kind != "string" or " / " not in element.name or element.ohm <= 0:
        return 0.0
    emitter = loom.emitter(name)
    law = emitter_law(drawer, emitter)
    built_in, of_all = law.built_in_ohm, BUILT_IN_SHARE / math.sqrt(law.branches)  # a strip's segments even out
    fitted = fitted_ohm.get(name, 0.0) if emitter.kind != "strip" else 0.0
    own = built_in + fitted
    off = (of_all * built_in + share.get(name, 0.0) * fitted) / own if own > 0 else 0.0
    return off * element.ohm / (element.ohm + sum(law.series_ohm for law in element.laws))


def _contact_factors(element: Element, plugs: int | None) -> tuple[float, float]:
    """Least and most over typical of an element's contacts and joints."""
    if element.kind == "switch":
        contact = contact_ohm("switch contact")
        own = element.ohm == CLOSED_SWITCH_OHM
        return (contact.low / contact.typical, contact.high / contact.typical) if own else DRIVER_SHARE
    if plugs is None:
        return 1.0, 1.0
    joint, plug = contact_ohm("soldered joint"), contact_ohm("plug contact")
    rest = element.ohm - JOINT_OHM - plugs * PLUG_OHM
    return ((rest + joint.low + plugs * plug.low) / element.ohm, (rest + joint.high + plugs * plug.high) / element.ohm)
