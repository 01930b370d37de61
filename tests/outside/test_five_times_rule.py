"""When a lamp may be taken for a point, and the lamp that may not.

IES definition 9.1.1 (ANSI/IES LS-1, read in a public copy): the inverse-square law holds within 1 % from five times the
largest dimension of the source. A Lambertian disc on its axis: E = pi L a^2 / (a^2 + d^2), standard result.
"""

from __future__ import annotations

import math

import pytest

from rushlight.optics.pool_map import Beam, beam_lx


def _lx(size_mm: float, height_mm: float) -> float:
    return float(beam_lx(Beam(1.0, 1.0, (0.0, 0.0), height_mm, (0.0, 0.0), size_mm), 0.0, 0.0))


@pytest.mark.parametrize("times", [5.0, 7.0, 20.0])
def test_from_five_times_on_a_point_is_within_one_percent(times: float) -> None:
    disc = 1e6 / ((2.0 ** 2) + (times * 4.0) ** 2)  # source: closed form, 1 cd = pi L a^2 / pi
    assert _lx(4.0, times * 4.0) == pytest.approx(disc, rel=0.0101)


@pytest.mark.parametrize("times", [0.5, 1.0, 2.0, 4.9])
def test_nearer_the_face_is_summed(times: float) -> None:
    disc = 1e6 / ((2.0 ** 2) + (times * 4.0) ** 2)  # source: the same closed form
    assert _lx(4.0, times * 4.0) == pytest.approx(disc, rel=0.003)
    assert _lx(0.0, times * 4.0) > 1.01 * disc, "as a point it would be too bright"


def test_one_candela_at_40_mm() -> None:
    assert _lx(0.0, 40.0) == pytest.approx(625.0)  # source: E = I / d^2
    assert math.isclose(_lx(4.0, 40.0), 625.0)
