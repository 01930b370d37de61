"""Natural convection and lumped capacity against a general library of heat transfer.

source: the library `ht` 1.2 (Churchill and Chu by `Nu_vertical_plate_Churchill`, level faces by
`Nu_horizontal_plate_McAdams`), run here.
"""

from __future__ import annotations

import pytest
from ht.conv_free_immersed import Nu_horizontal_plate_McAdams, Nu_vertical_plate_Churchill

from rushlight.thermal.enclosure import air_at, nusselt_level, nusselt_vertical, rayleigh
from rushlight.units import ZERO_CELSIUS_K


@pytest.mark.parametrize("grashof", [1e3, 1e4, 1e5, 1e7, 1e9, 1e11])
@pytest.mark.parametrize("prandtl", [0.69, 0.71, 0.73])
def test_an_upright_wall(prandtl: float, grashof: float) -> None:
    ours = nusselt_vertical(prandtl * grashof, prandtl)
    assert ours == pytest.approx(Nu_vertical_plate_Churchill(prandtl, grashof), rel=1e-9)


@pytest.mark.parametrize("grashof", [2e4, 1e5, 1e6, 1e7])
def test_a_warm_face_that_looks_up(grashof: float) -> None:
    """Over the range in which the library's and our fits are the same law: 1e4 to 1e7."""
    prandtl = 0.71
    theirs = Nu_horizontal_plate_McAdams(prandtl, grashof, buoyancy=True)
    assert nusselt_level(prandtl * grashof, hot_side_up=True) == pytest.approx(theirs, rel=1e-6)


def test_the_wall_of_the_librarys_own_example() -> None:
    """Its example: a plate at 70 C in air at 25 C, 0.5 m high (Incropera 9.2): Nu 147.16."""
    prandtl, grashof = 0.69, 2.63e9
    assert nusselt_vertical(prandtl * grashof, prandtl) == pytest.approx(147.16185223770603, rel=1e-9)


def test_the_rayleigh_number_of_a_small_model() -> None:
    """g beta dT L^3 / (nu alpha), with the air's numbers put in by hand."""
    air = air_at(30.0)
    film_k = 30.0 + ZERO_CELSIUS_K
    by_hand = 9.80665 * 16.0 * 0.06**3 / (film_k * air.viscosity_m2_per_s * air.diffusivity_m2_per_s)
    assert rayleigh(air, 16.0, length_m=0.06, film_k=film_k) == pytest.approx(by_hand, rel=1e-12)
