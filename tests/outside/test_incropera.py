"""Natural convection and air of a textbook.

F. P. Incropera & D. P. DeWitt, Fundamentals of Heat and Mass Transfer, Example 9.2 and table A.4 (numbers from
memory): plate 0.71 m high, 1.02 m wide, 232 C against 23 C, air at 400 K: Ra 1.813e9, Nu 147, h 7.0, q 1060 W.
"""

from __future__ import annotations

import pytest

from rushlight.thermal.enclosure import Air, air_at, nusselt_vertical, rayleigh


def test_example_9_2() -> None:
    air = Air(26.41e-6, 38.3e-6, 0.0338)
    number = rayleigh(air, 209.0, length_m=0.71, film_k=400.0)
    nusselt = nusselt_vertical(number, air.prandtl)
    h = nusselt * air.conductivity_w_per_mk / 0.71
    assert number == pytest.approx(1.813e9, rel=0.002)  # source: Example 9.2 (g 9.8)
    assert nusselt == pytest.approx(147.0, abs=0.5)  # source: Example 9.2
    assert h == pytest.approx(7.0, abs=0.05)  # source: Example 9.2
    assert h * 1.02 * 0.71 * 209.0 == pytest.approx(1060.0, abs=5.0)  # source: Example 9.2


@pytest.mark.parametrize(("kelvin", "viscosity", "diffusivity", "conductivity"), [
    (250.0, 11.44e-6, 15.9e-6, 0.0223),  # source: table A.4
    (300.0, 15.89e-6, 22.5e-6, 0.0263),  # source: table A.4
    (350.0, 20.92e-6, 29.9e-6, 0.0300),  # source: table A.4
    (400.0, 26.41e-6, 38.3e-6, 0.0338),  # source: table A.4
])
def test_air(kelvin: float, viscosity: float, diffusivity: float, conductivity: float) -> None:
    air = air_at(kelvin - 273.15)
    assert air.viscosity_m2_per_s == pytest.approx(viscosity, rel=0.02)
    assert air.diffusivity_m2_per_s == pytest.approx(diffusivity, rel=0.02)
    assert air.conductivity_w_per_mk == pytest.approx(conductivity, rel=0.02)
