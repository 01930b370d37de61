"""ASTM B258, Standard nominal diameters and cross-sectional areas of AWG sizes of solid round wires,
with IEC 60028 copper, against the wire table of the handbooks.

Rows: diameter in inches, circular mils, ohms per 1000 feet at 20 C, as printed in handbook copper wire
tables after NBS Handbook 100 (from memory). Diameters are rounded to 0.1 mil (0.01 mil for 36 and 40),
resistances to four digits of a slightly different rounding of the diameter: tolerance 0.5 %.
"""

import pytest

from rushlight.electric.wire import COPPER_OHM_M, bundled_a, diameter_mm, fusing_a, wire_ohm_per_m
from rushlight.units import MM_PER_INCH

# source: NBS Handbook 100 copper wire tables as in the handbooks, from memory
ROWS = [
    (0, 0.3249, 105600, 0.09827), (10, 0.1019, 10380, 0.9989), (18, 0.0403, 1624, 6.385),
    (20, 0.0320, 1022, 10.15), (22, 0.0253, 642.4, 16.14), (24, 0.0201, 404.0, 25.67),
    (26, 0.0159, 254.1, 40.81), (28, 0.0126, 159.8, 64.90), (30, 0.0100, 100.5, 103.2),
    (32, 0.0080, 63.21, 164.1), (34, 0.0063, 39.75, 260.9), (36, 0.0050, 25.00, 414.8), (40, 0.00314, 9.888, 1049.0),
]
FEET_PER_M = 1000.0 / (12 * MM_PER_INCH)


@pytest.mark.parametrize(("gauge", "inches", "mils", "ohm_per_kft"), ROWS)
def test_handbook_rows(gauge, inches, mils, ohm_per_kft):
    assert diameter_mm(gauge) / MM_PER_INCH == pytest.approx(inches, abs=0.000051)
    assert (diameter_mm(gauge) / MM_PER_INCH * 1000) ** 2 == pytest.approx(mils, rel=0.001)
    assert wire_ohm_per_m(gauge) * 1000 / FEET_PER_M == pytest.approx(ohm_per_kft, rel=0.005)


def test_the_two_fixed_points_of_the_gauge():
    # source: ASTM B258: number 36 is 0.0050 in, number 0000 is 0.4600 in
    assert diameter_mm(36) == pytest.approx(0.0050 * MM_PER_INCH, rel=1e-12)
    assert diameter_mm(-3) == pytest.approx(0.4600 * MM_PER_INCH, rel=1e-12)


def test_copper_is_one_fifty_eighth_ohm_square_millimetre_per_metre():
    # source: IEC 60028
    assert pytest.approx(1e-6 / 58, rel=3e-5) == COPPER_OHM_M


@pytest.mark.parametrize(
    ("gauge", "amps"), [(28, 0.226), (30, 0.144), (32, 0.091), (34, 0.057), (36, 0.036)]
)
def test_current_by_700_circular_mils(gauge, amps):
    # source: power transmission column of public wire gauge tables (700 circular mils per ampere), read
    assert bundled_a(gauge) == pytest.approx(amps, rel=0.015)


@pytest.mark.parametrize(("gauge", "amps"), [(20, 58.6), (24, 29.2), (30, 10.3), (36, 3.62)])
def test_preece_fusing_currents(gauge, amps):
    # source: Preece fusing currents of copper, handbook table, from memory; rounded to three digits
    assert fusing_a(diameter_mm(gauge)) == pytest.approx(amps, rel=0.01)
