"""Intensity for a range of visibility, and Allard's law run backwards.

International Regulations for Preventing Collisions at Sea 1972, Annex I 8, table: 1, 2, 3, 4, 5, 6 nautical
miles need 0.9, 4.3, 12, 27, 52, 94 cd at K = 0.8.
"""

from __future__ import annotations

import pytest

from rushlight.optics.eye import METRES_PER_NMI, allard_lx
from rushlight.optics.visible_range import intensity_for_range_cd

TABLE = [(1.0, 0.9), (2.0, 4.3), (3.0, 12.0), (4.0, 27.0), (5.0, 52.0), (6.0, 94.0)]  # source: Annex I 8


@pytest.mark.parametrize(("range_nmi", "printed_cd"), TABLE)
def test_table_of_the_rules(range_nmi: float, printed_cd: float) -> None:
    assert intensity_for_range_cd(range_nmi) == pytest.approx(printed_cd, abs=0.5 if printed_cd >= 10 else 0.05)


@pytest.mark.parametrize(("range_nmi", "printed_cd"), TABLE)
def test_a_lamp_of_that_intensity_just_reaches_the_threshold(range_nmi: float, printed_cd: float) -> None:
    lit = allard_lx(intensity_for_range_cd(range_nmi), range_nmi * METRES_PER_NMI)
    assert lit == pytest.approx(2e-7, rel=1e-3)  # source: Annex I 8, T = 2e-7 lx
