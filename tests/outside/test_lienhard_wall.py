"""Heat from a warm wall in still air.

J. H. Lienhard IV & V, A Heat Transfer Textbook, Example 8.1: wall 0.4 m high, 313 K in air of 287 K,
Pr 0.711, nu 1.566e-5, alpha 2.203e-5, k 0.02614; h = 4.059 W/m2K, q = 105.53 W/m2 by Squire and Eckert.
"""

from __future__ import annotations

import pytest

from rushlight.thermal.enclosure import Air, nusselt_vertical, rayleigh

PRINTED_H = 4.059  # source: Lienhard, Example 8.1
PRINTED_Q = 105.53  # source: Lienhard, Example 8.1
AIR = Air(1.566e-5, 2.203e-5, 0.02614)


def test_rayleigh_number_gives_the_printed_coefficient_by_the_books_own_formula() -> None:
    number = rayleigh(AIR, 26.0, length_m=0.4, film_k=287.0)  # the book takes beta at the air's 287 K
    squire_eckert = 0.678 * number**0.25 * (AIR.prandtl / (0.952 + AIR.prandtl)) ** 0.25
    h = squire_eckert * AIR.conductivity_w_per_mk / 0.4
    assert h == pytest.approx(PRINTED_H, rel=0.001)
    assert h * 26.0 == pytest.approx(PRINTED_Q, rel=0.001)


def test_churchill_chu_lies_within_its_usual_distance() -> None:
    number = rayleigh(AIR, 26.0, length_m=0.4, film_k=300.0)
    h = nusselt_vertical(number, AIR.prandtl, laminar=True) * AIR.conductivity_w_per_mk / 0.4
    assert h == pytest.approx(PRINTED_H, rel=0.07)  # two correlations of one flow: 5 % apart
