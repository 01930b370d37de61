"""ngspice (Debian package, release 39 or later) as the meter's diode test: 3 V behind 2 to 6 kohm, supply taken off.

Copper, a steering diode of either kind, two in a row, an LED, and the wrong way round: what is foretold holds what
ngspice shows, and the three that are told apart do not overlap.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from outside.looms import spice_nodes
from outside.tools import needed_program
from rushlight.electric.elements import Network, columns_of, resistor, source, string, wire
from rushlight.electric.fault import Fault
from rushlight.electric.led import law_spread
from rushlight.stages.fault_probe import OL, Wiring, diode_test_v

OPEN_V = 3.0
RED = law_spread("red").typical


def loom(diode: str) -> Network:
    steering = law_spread(diode).typical
    return Network.of([
        wire("lead", "bus", "feed A", ohm=20.0), string("diode 1.B", "bus", "feed B", laws=[steering]),
        wire("long", "feed B", "splice", ohm=5.0), string("diode 1.C", "splice", "feed C", laws=[steering]),
        string("lamp A / 1", "feed A", "return", laws=[RED], ohm=330.0),
        string("lamp C / 1", "feed C", "return", laws=[RED], ohm=330.0),
        resistor("bleed", "return", "minus", ohm=1e6),
    ])


def shown_v(network: Network, ends: tuple[str, str], ohm: float, folder: Path) -> float:
    """What the meter shows between two nodes."""
    whole = Network.of([*network.elements, source("meter", *ends, emf_v=OPEN_V, inner_ohm=ohm)])
    volts = spice_nodes(whole, columns_of(whole, {"on": ()}), program=needed_program("ngspice", "ngspice"), folder=folder)
    plus, back = (float(volts[whole.nodes.index(name), 0]) for name in ends)
    return plus - back if plus - back < 0.95 * OPEN_V else OL


@pytest.mark.parametrize("diode", ["silicon_diode", "schottky_diode"])
@pytest.mark.parametrize("ohm", [2000.0, 6000.0])
def test_what_is_foretold_holds_what_is_shown(diode: str, ohm: float, tmp_path: Path) -> None:
    network = loom(diode)
    wiring = Wiring(network, frozenset(), Fault("none", ""))
    asked = {
        ("bus", "feed A"): "copper", ("bus", "splice"): "diode", ("splice", "bus"): "no way", ("bus", "feed C"): "any",
        ("bus", "return"): "LED", ("feed A", "splice"): "diode",
    }
    kinds = {"copper": (0.0, 0.06), "diode": (0.11, 0.9), "LED": (1.2, OL), "no way": (1.2, OL), "any": (0.0, OL)}
    for ends, kind in asked.items():
        low, high = diode_test_v(wiring, *ends)
        assert (low, high) == kinds[kind], ends
        assert low <= shown_v(network, ends, ohm, tmp_path) <= high, (ends, kind)
