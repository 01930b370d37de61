"""What styrene bears for a short time, against published data of polystyrene, and tube's recovery against it.

HIPS: an information sheet of a sheet dealer (public copy): deflection temperature HDT/A 74 degC, Vicat 85 degC; two
suppliers' pages: 70 to 84 and 84 to 100 degC. General-purpose polystyrene: a public table of materials: deflection
at 1.82 MPa 90 degC, Vicat and glass transition 100 degC, under load up to 70 degC. Polystyrene for kits: a plastics
dealer's article: glass transition 95 degC, Vicat B 90 degC. Tests of deflection and Vicat: ISO 75, ISO 306.
Polyolefin tube: fully recovered by about 120 degC (AMS-DTL-23053/5, from memory).
"""

from __future__ import annotations

import pytest

from rushlight.files.drawer_csv import read_drawer
from rushlight.model.drawer import WallPart

DEFLECTION_C = (74.0, 70.0, 84.0, 90.0)
SOFTENING_C = (85.0, 84.0, 100.0, 100.0, 95.0, 90.0)
RECOVERY_C = 120.0

STYRENES = [wall for wall in read_drawer().walls if "styrene" in wall.name]


@pytest.mark.parametrize("wall", STYRENES, ids=[wall.name for wall in STYRENES])
def test_no_published_styrene_bends_below_what_a_wall_is_said_to_bear(wall: WallPart) -> None:
    assert wall.softens_c == min(DEFLECTION_C)  # source: the lowest of the published deflection temperatures
    assert wall.softens_c < min(SOFTENING_C)
    assert wall.stop_c < wall.softens_c, "what it bears for good is less than what it bears for a moment"


def test_all_tube_shrinks_where_every_styrene_has_bent() -> None:
    usual = [tube for tube in read_drawer().tubes if not tube.name.startswith("low-heat")]
    assert {tube.recovery_c for tube in usual} == {RECOVERY_C}
    assert max(DEFLECTION_C + SOFTENING_C) < RECOVERY_C


def test_even_low_heat_tube_is_no_cure_beside_styrene() -> None:
    low = min(tube.recovery_c for tube in read_drawer().tubes)
    assert min(DEFLECTION_C) < low
