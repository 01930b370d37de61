"""Exposure values.

ISO 2720:1974, K = 12.5, C = 250; S. F. Ray's table as printed in public exposure-value articles: EV100 0 is
0.125 cd/m2 and 2.5 lx, EV100 12 is 512 cd/m2 and 10240 lx.
"""

from __future__ import annotations

import pytest

from rushlight.optics.camera import clips, exposure_s, exposure_value, metered_lx
from rushlight.tables import rows


# source: Ray
@pytest.mark.parametrize(("ev", "luminance", "lux"), [(0, 0.125, 2.5), (3, 1.0, 20.0), (12, 512.0, 10240.0)])
def test_printed_rows(ev: float, luminance: float, lux: float) -> None:
    assert exposure_value(luminance) == pytest.approx(ev)
    assert metered_lx(ev) == pytest.approx(lux)


@pytest.mark.parametrize("row", rows("exposure_ev"), ids=lambda row: row["EV100"])
def test_whole_table(row: dict[str, str]) -> None:
    assert exposure_value(float(row["luminance_cd_m2"])) == pytest.approx(float(row["EV100"]))
    assert metered_lx(float(row["EV100"])) == pytest.approx(float(row["illuminance_lx"]))


def test_sunny_sixteen_is_about_ev_15() -> None:
    assert exposure_s(4096.0, f_number=16.0, iso=100.0) == pytest.approx(1 / 128)  # source: EV 15, f/16, 1/128 s


def test_clips_three_and_a_third_stops_over_mid_tone() -> None:
    time_s = exposure_s(100.0, f_number=4.0, iso=400.0)
    assert not clips(950.0, exposure_s=time_s, f_number=4.0, iso=400.0)
    assert clips(970.0, exposure_s=time_s, f_number=4.0, iso=400.0)  # source: ISO 12232, 78 / 0.65 / 12.5 = 9.6
