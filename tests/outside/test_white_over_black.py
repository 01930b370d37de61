"""White paint over black: the two-flux equations solved by SciPy, layer by layer.

P. Kubelka, F. Munk, Z. techn. Phys. 12 (1931) 593: dI/dx = -(K + S) I + S J, dJ/dx = (K + S) J - S I. One coat of white
lets a good part of what falls on it through to the black, and black throws next to nothing back: that it dims, and that
the inside is grey, is what these tests hold.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import expm

from designed import PACKAGED
from rushlight.model.plan_part import Part
from rushlight.stages.painted_wall import inside_reflectance, wall_through


def _through_and_back(scatters: list[float], absorbs: list[float]) -> tuple[float, float]:
    """Transmittance and reflectance of layers of unit thickness, the lit one first."""
    whole = np.eye(2)
    for s, k in zip(scatters, absorbs, strict=True):
        whole = expm(np.array([[-(k + s), s], [-s, k + s]])) @ whole
    back = -whole[1, 0] / whole[1, 1]
    return float(whole[0, 0] + whole[0, 1] * back), float(back)


def _absorbing(passes: float, covers: float) -> tuple[float, float]:
    """S and K of a coat that throws `covers` back where it is thick and passes so much."""
    ratio = (1.0 - covers) ** 2 / (2.0 * covers)
    low, high = 1e-4, 100.0
    for _ in range(80):
        s = (low * high) ** 0.5
        low, high = (s, high) if _through_and_back([s], [s * ratio])[0] > passes else (low, s)
    return s, s * ratio


def _part(*coats: str) -> Part:
    return Part(name="p", outline_mm=((0, 0), (1, 0), (1, 1)), wall="black styrene", coats=coats)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_coats_of_white_over_black(count: int) -> None:
    """White that swallows nothing on a black that covers."""
    black, white = PACKAGED.coat("black lacquer"), PACKAGED.coat("white primer")
    s_black, k_black = _absorbing(10**-black.density.typical, black.reflectance.typical)
    s_white = 10**white.density.typical - 1.0  # T = 1 / (1 + S X)
    through, back = _through_and_back([s_white] * count + [s_black], [0.0] * count + [k_black])
    bare, _ = _through_and_back([s_black], [k_black])
    under, over = _part("black lacquer"), _part("black lacquer", *["white primer"] * count)
    share = wall_through(PACKAGED, over).typical / wall_through(PACKAGED, under).typical
    assert share == pytest.approx(through / bare, rel=0.01)
    assert inside_reflectance(PACKAGED, over).typical == pytest.approx(back, rel=0.01)


def test_white_dims_a_black_wall_and_never_looks_whiter_than_its_paint() -> None:
    parts = [_part("black lacquer", *["white primer"] * count) for count in range(14)]
    shares = [wall_through(PACKAGED, part).typical for part in parts]
    backs = [inside_reflectance(PACKAGED, part) for part in parts]
    assert shares == sorted(shares, reverse=True) and len(set(shares)) == len(shares)
    white = PACKAGED.coat("white primer").reflectance
    assert [back.typical for back in backs] == sorted(back.typical for back in backs)
    assert backs[1].typical < 0.45 and backs[-1].typical == pytest.approx(white.typical)
    assert all(back.high <= white.high for back in backs)


def test_a_coat_that_covers_is_seen_alone() -> None:
    for coat in ("black vinyl tape", "kitchen foil"):
        own, shown = PACKAGED.coat(coat).reflectance, inside_reflectance(PACKAGED, _part("white paint", coat))
        assert (shown.low, shown.typical, shown.high) == pytest.approx((own.low, own.typical, own.high), abs=1e-3)
