"""Blue light of bare lamps: watts in a lumen, intensity at the limit."""

from __future__ import annotations

import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.blue_light import EXEMPT_W_PER_M2, LOW_RISK_W_PER_M2, blue_w_per_lm, intensity_limit_cd
from rushlight.optics.colour import efficacy_lm_per_w
from rushlight.tables import rows


def test_the_limit_is_the_inverse_square_at_200_mm() -> None:
    assert intensity_limit_cd(0.001) == pytest.approx(40.0)  # derived: 1 W/m2 / 0.001 W/lm * 0.04 m2
    assert intensity_limit_cd(0.001, limit_w_per_m2=EXEMPT_W_PER_M2) == pytest.approx(0.4)  # derived: a hundredth
    assert LOW_RISK_W_PER_M2 == 100 * EXEMPT_W_PER_M2


def test_the_nearest_light_of_the_table_is_taken() -> None:
    assert blue_w_per_lm(6000.0, None) == blue_w_per_lm(6500.0, None)
    assert blue_w_per_lm(None, 468.0) == blue_w_per_lm(None, 470.0)
    assert blue_w_per_lm(None, None) == blue_w_per_lm(4000.0, None)


def test_a_white_lamp_goes_by_its_colour_temperature() -> None:
    assert blue_w_per_lm(3000.0, 470.0) == blue_w_per_lm(3000.0, None)


def test_cooler_and_bluer_is_worse() -> None:
    whites = [blue_w_per_lm(kelvin, None) for kelvin in (2200, 2700, 4000, 6500, 10000)]
    colours = [blue_w_per_lm(None, nm) for nm in (625, 525, 500, 470, 450)]
    assert whites == sorted(whites) and colours == sorted(colours)


@pytest.mark.parametrize(("name", "weight"), [  # source: B(lambda) of IEC 62471, from memory
    ("royal blue", 0.94), ("blue", 0.62), ("cyan", 0.10), ("green", 10 ** ((450 - 525) / 50)),
    ("yellow", 10 ** ((450 - 590) / 50)), ("red", 0.001),
])
def test_coloured_rows_are_weight_over_efficacy(name: str, weight: float) -> None:
    row = next(row for row in rows("blue_hazard") if row["light"] == name)
    nm = float(row["dominant_nm"])
    assert float(row["blue_w_per_lm"]) == pytest.approx(weight / efficacy_lm_per_w(nm), rel=0.05)  # second method


def test_edges_raise() -> None:
    with pytest.raises(OutOfRange, match="watts a lumen"):
        intensity_limit_cd(0.0)
    with pytest.raises(OutOfRange, match="limit"):
        intensity_limit_cd(0.001, limit_w_per_m2=0.0)
    with pytest.raises(OutOfRange, match="cct_k"):
        blue_w_per_lm(-1.0, None)
