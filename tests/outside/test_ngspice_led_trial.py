"""ngspice (Debian package, release 39 or later): volts across an LED and its resistor on a supply, both resistors."""

from __future__ import annotations

from pathlib import Path

import pytest

from book_designs import small
from outside.looms import spice_nodes
from outside.tools import needed_program
from rushlight.electric.elements import Network, columns_of, resistor, source, string
from rushlight.stages.led_trial import led_trials, shares_v
from rushlight.stages.parts_law import led_spread


def test_what_should_show_is_what_ngspice_shows(tmp_path: Path) -> None:
    design = small()
    for trial in led_trials(design)[:2]:
        led = design.drawer.led(trial.led)
        for ohm in trial.resistors_ohm:
            network = Network.of([
                source("supply", "plus", "minus", emf_v=trial.supply_v.typical, inner_ohm=1e-3),
                resistor("before", "plus", "leg", ohm=ohm),
                string("lamp / 1", "leg", "minus", laws=[led_spread(led).typical]),
            ])
            volts = spice_nodes(network, columns_of(network, {"on": ()}), program=needed_program("ngspice", "ngspice"),
                                folder=tmp_path)
            plus, leg, minus = (float(volts[network.nodes.index(name), 0]) for name in ("plus", "leg", "minus"))
            across, drop = shares_v(led, trial.supply_v, ohm)
            assert across.typical == pytest.approx(leg - minus, abs=1e-3)
            assert drop.typical == pytest.approx(plus - leg, abs=1e-3)
