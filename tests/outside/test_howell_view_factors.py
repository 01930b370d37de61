"""Light between walls: tabled view factors, the integrating sphere, and the balance of energy.

J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-11 (aligned parallel rectangles) and C-14
(rectangles at right angles with a common edge); the values for equal squares, 0.1998 and 0.2000, stand in every heat
transfer text (Incropera, Fundamentals of Heat and Mass Transfer, table 13.2 and figures 13.4 and 13.6; from memory). The
closed forms of C-11 and C-14 are written out here from that table, other ones than in the code.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.lit_room import BoxRoom, room_light, view_factor_parallel, view_factor_square_on


def _rect(width: float, height: float, at: tuple[float, float] = (0.0, 0.0)) -> np.ndarray:
    return np.array([at[0], at[0] + width, at[1], at[1] + height])


def _c11(a: float, b: float, c: float) -> float:
    x, y = a / c, b / c
    first = math.log(math.sqrt((1 + x * x) * (1 + y * y) / (1 + x * x + y * y)))
    second = x * math.sqrt(1 + y * y) * math.atan(x / math.sqrt(1 + y * y))
    third = y * math.sqrt(1 + x * x) * math.atan(y / math.sqrt(1 + x * x))
    return 2 / (math.pi * x * y) * (first + second + third - x * math.atan(x) - y * math.atan(y))


def _c14(h: float, w: float) -> float:
    s = h * h + w * w
    first = w * math.atan(1 / w) + h * math.atan(1 / h) - math.sqrt(s) * math.atan(1 / math.sqrt(s))
    second = (1 + w * w) * (1 + h * h) / (1 + s)
    third = (w * w * (1 + s) / ((1 + w * w) * s)) ** (w * w)
    fourth = (h * h * (1 + s) / ((1 + h * h) * s)) ** (h * h)
    return (first + 0.25 * math.log(second * third * fourth)) / (math.pi * w)


def test_equal_squares() -> None:
    assert float(view_factor_parallel(_rect(1, 1), _rect(1, 1), 1.0)) == pytest.approx(0.1998, abs=5e-5)  # source: C-11
    assert float(view_factor_square_on(_rect(1, 1), _rect(1, 1))) == pytest.approx(0.2000, abs=5e-5)  # source: C-14


@pytest.mark.parametrize(("a", "b", "c"), [(1, 2, 1), (3, 1, 2), (10, 10, 1), (1, 1, 10), (40, 25, 30)])
def test_aligned_parallel_rectangles(a: float, b: float, c: float) -> None:
    assert float(view_factor_parallel(_rect(a, b), _rect(a, b), c)) == pytest.approx(_c11(a, b, c), rel=1e-6)


@pytest.mark.parametrize(("h", "w"), [(1, 2), (0.5, 1), (2, 0.4), (10, 1)])
def test_rectangles_at_right_angles(h: float, w: float) -> None:
    assert float(view_factor_square_on(_rect(w, 1), _rect(h, 1))) == pytest.approx(_c14(h, w), rel=1e-6)


@pytest.mark.parametrize("reflectance", [0.2, 0.6, 0.9])
def test_a_nearly_closed_cube_is_an_integrating_sphere(reflectance: float) -> None:
    """Mean exitance of the walls: rho / (1 - rho) Phi / A (sphere's formula, CIE 84 and every text; A of the cube)."""
    light = room_light(BoxRoom((30.0, 30.0, 30.0), (0.5, 0.5)), reflectance)
    assert light.out + light.absorbed == pytest.approx(1.0, abs=2e-3)
    # derived: all that the walls take is (1 - rho) x what falls on them
    falls_lx = light.absorbed / (1 - reflectance) / (6 * 900e-6)
    assert falls_lx == pytest.approx(1.0 / (1 - reflectance) / (6 * 900e-6), rel=0.01)


@pytest.mark.parametrize("opening", [(2.0, 2.0), (20.0, 25.0), (99.0, 99.0)])
@pytest.mark.parametrize("size", [(30.0, 30.0, 30.0), (60.0, 20.0, 25.0)])
def test_light_is_neither_made_nor_lost(size: tuple[float, float, float], opening: tuple[float, float]) -> None:
    darker, lighter = (room_light(BoxRoom(size, opening), rho) for rho in (0.3, 0.8))
    for light in (darker, lighter):
        assert light.out + light.absorbed == pytest.approx(1.0, abs=2e-3)
    assert lighter.out > darker.out and lighter.seen_cd_m2 > darker.seen_cd_m2


def test_a_wider_opening_never_brightens_the_room() -> None:
    seen = [room_light(BoxRoom((30.0, 30.0, 30.0), (w, w)), 0.7).seen_cd_m2 for w in (5.0, 15.0, 25.0, 30.0)]
    assert seen[1:] == sorted(seen[1:], reverse=True)


def test_out_of_range() -> None:
    for room, rho in ((BoxRoom((0.0, 1.0, 1.0), (1.0, 1.0)), 0.5), (BoxRoom((1.0, 1.0, 1.0), (1.0, 1.0)), 1.0)):
        with pytest.raises(OutOfRange):
            room_light(room, rho)
    with pytest.raises(OutOfRange):
        view_factor_parallel(_rect(1, 1), _rect(1, 1), 0.0)
