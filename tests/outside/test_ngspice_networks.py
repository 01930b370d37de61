"""ngspice (Debian package, release 39 or later): operating points of made-up looms.

Options reltol 1e-6, abstol 1e-11, vntol 1e-9 for the small looms where the program arrives with them, else
its default tolerances (groups that are switched off float, and defeat or slow the tight ones). It adds 1e-12 S
across each junction, as we do. Its constants of nature are older by about 1e-6. Aim: lamps above 1 uA within
1e-5, the rest within 1e-8 A.
"""

import subprocess

import numpy as np
import pytest

from outside.looms import lamp_currents, made_loom, spice_nodes
from outside.tools import needed_program
from unit.electric.kirchhoff import solved

TIGHT = "reltol=1e-6 abstol=1e-11 vntol=1e-9 itl1=500"
DEFAULT = "itl1=500"


def by_spice(network, columns, folder, tries):
    program = needed_program("ngspice", "ngspice")
    for options in tries:
        try:
            return spice_nodes(network, columns, program=program, folder=folder, options=options)
        except (subprocess.CalledProcessError, FileNotFoundError):
            continue
    raise AssertionError("ngspice found no operating point")


def compare(loom, folder, tries=(DEFAULT,)):
    point = solved(loom.network, loom.columns)
    node_v = by_spice(loom.network, loom.columns, folder, tries)
    row = {element.name: at for at, element in enumerate(loom.network.elements)}
    ours = point.element_a[[row[f"r_{lamp}"] for lamp in loom.lamps]]
    theirs = lamp_currents(loom, node_v)
    lit = np.abs(theirs) > 1e-6
    # source: ngspice in the same run
    assert lit.any()
    assert np.max(np.abs(ours - theirs)[lit] / np.abs(theirs)[lit]) < 1e-5
    assert np.max(np.abs(ours - theirs)[~lit], initial=0.0) < 1e-8


@pytest.mark.parametrize("seed", range(20))
def test_looms_of_ten_leds(seed, tmp_path):
    compare(made_loom(10, seed), tmp_path, (TIGHT, DEFAULT))


@pytest.mark.parametrize("seed", range(100, 114))
def test_looms_of_forty_leds(seed, tmp_path):
    compare(made_loom(40, seed), tmp_path)


@pytest.mark.parametrize("seed", range(200, 206))
def test_looms_of_a_hundred_leds(seed, tmp_path):
    compare(made_loom(100, seed), tmp_path)


@pytest.mark.parametrize("seed", [300, 301])
def test_looms_of_five_hundred_leds(seed, tmp_path):
    compare(made_loom(500, seed), tmp_path)


def test_weak_battery_on_its_last_legs(tmp_path):
    compare(made_loom(60, 7, emf_v=7.2, inner_ohm=6.0), tmp_path)
