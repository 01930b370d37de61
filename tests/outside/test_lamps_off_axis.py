"""What lamps send off their axis, against what data sheets and fibre standards mean by an angle.

Sources: half angle of an LED, IEC 60747-5-4 (the angle to the axis at which the intensity is half of the greatest; the
viewing angle of a data sheet is twice that); numerical aperture of a fibre, IEC 60793-1-43 (NA = n sin of the half angle
of the cone, in air); luminous flux as the integral of the intensity over the solid angle, CIE 17-21-039; SciPy's
quadrature for that integral. The standards' definitions are cited from memory.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import dblquad, quad

from designed import PACKAGED
from rushlight.optics.emitter import pattern_order
from rushlight.optics.fibre import Launch, Tail, tail_flux
from rushlight.optics.fibre_loss import Bend, Fibre
from rushlight.optics.toward import Beam, beam_share
from rushlight.units import Range

AHEAD = (1.0, 0.0, 0.0)
FIBRE = Fibre(outer_mm=0.5, core_mm=0.49, na=0.5)


def eye(angle: float, round_axis: float = 0.0) -> tuple[float, float, float]:
    """A way to the eye so far off the bow, on any side of it [rad]."""
    return (math.cos(angle), math.sin(angle) * math.cos(round_axis), math.sin(angle) * math.sin(round_axis))


@pytest.mark.parametrize("led", [row.name for row in PACKAGED.leds], ids=str)
def test_every_led_of_the_drawer_has_half_its_intensity_at_its_half_angle(led: str) -> None:
    half = math.radians(PACKAGED.led(led).half_angle_deg)
    beam = Beam(AHEAD, pattern_order(math.degrees(half)))
    for turn in np.linspace(0.0, 2 * math.pi, 9):
        assert beam_share(beam, eye(half, turn)) == pytest.approx(0.5)  # source: IEC 60747-5-4


def test_a_full_fibre_ends_at_its_numerical_aperture() -> None:
    launch = Launch(Range.exactly(3.0), 1.0, 0.5, 2.5, lensed=False)
    lit = tail_flux(launch, FIBRE, Tail(Range.exactly(0.0), 100.0, bends=(Bend(10.0, 180.0), Bend(10.0, 180.0))))
    edge = math.asin(0.5)  # source: IEC 60793-1-43; 30 degrees
    beam = Beam(AHEAD, lit.exit_order, lit.exit_half_angle_deg)
    assert beam_share(beam, eye(edge - 1e-6)) == pytest.approx(math.cos(edge), rel=1e-5) and beam_share(beam, eye(edge + 1e-6)) == 0.0


@pytest.mark.parametrize("tip", ["polished", "cut", "sanded"])
@pytest.mark.parametrize("bends", [(), (Bend(10.0, 360.0),)], ids=["straight", "many bends"])
@pytest.mark.parametrize("lensed", [True, False], ids=["lensed", "flat"])
def test_what_a_tail_sends_all_ways_is_its_flux(tip: str, bends: tuple[Bend, ...], lensed: bool) -> None:
    launch = Launch(Range.exactly(3.0), 4.8 if lensed else 1.0, 3.0, 0.3 if lensed else 2.5, lensed=lensed)
    lit = tail_flux(launch, FIBRE, Tail(Range.exactly(0.0), 100.0, bends=bends, tip=tip))
    beam, peak = Beam(AHEAD, lit.exit_order, lit.exit_half_angle_deg), lit.axial_intensity_cd.typical
    edge = math.radians(lit.exit_half_angle_deg)
    whole, _ = quad(lambda angle: peak * beam_share(beam, eye(angle)) * 2 * math.pi * math.sin(angle), 0.0, edge - 1e-12)
    assert whole <= lit.flux_lm.typical * (1 + 1e-6)  # source: CIE 17-21-039
    assert whole == pytest.approx(lit.flux_lm.typical, rel=1e-4) or peak == pytest.approx(_most_cd(launch)), "held by the lamp's own luminance"


def _most_cd(launch: Launch) -> float:
    from rushlight.optics.fibre import source_luminance_cd_m2

    return source_luminance_cd_m2(launch).typical * math.pi * FIBRE.core_mm**2 / 4e6


def test_a_screened_lamp_keeps_its_sector_of_the_flux() -> None:
    """A lamp that shines alike all round in the level, matt over and under it: 112.5 of 360 degrees and the penumbra."""
    beam = Beam(None, 1.0, 90.0, (0.0, 112.5), 3.0)
    kept, _ = dblquad(lambda up, turn: beam_share(beam, (math.cos(up) * math.cos(turn), -math.cos(up) * math.sin(turn), math.sin(up)))
                      * math.cos(up), -math.pi, math.pi, -math.pi / 2 + 1e-9, math.pi / 2 - 1e-9, epsabs=1e-3)
    assert 112.5 / 360 < kept / (4 * math.pi) < (112.5 + 2 * 3.0) / 360
    assert kept / (4 * math.pi) == pytest.approx((112.5 + 3.0) / 360, abs=2e-3)  # derived: a penumbra passes about half of itself
