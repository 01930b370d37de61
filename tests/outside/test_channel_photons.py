"""A strip's channel by a second, simple method: light followed by chance from its LEDs to the sheet.

No publication: an independent computation. Parcels of light leave LEDs of one candela by Lambert's law, meet walls,
board and front, lose what those take in and leave them by Lambert's law again, until little is left. The front is the
sheet over the window and the part's wall beside it; what falls on the window is counted.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from channel_photons import Box, photons
from designed import PACKAGED
from rushlight.model.plan import Strip
from rushlight.model.plan_part import Diffuser, Opening, Part
from rushlight.optics.channel import Channel, thrown_back_lx
from rushlight.optics.diffuser import row_light_lx
from rushlight.stages.rooms import inside_reflectance, sheets_back
from rushlight.stages.strip_choice import run_emitter
from rushlight.stages.strips import CHANNEL_SPREAD
from rushlight.stages.window_panes import first_sheet_lx, pane_of


def _law(box: Box, reflects: float) -> tuple[np.ndarray, float]:
    """The same bands by the law, in the middles of a fine grid."""
    first, last, high = box.window
    x = first + (np.arange(80) + 0.5) / 80 * (last - first)
    y = (np.arange(40) + 0.5) / 40 * high
    channel = Channel(box.gap, box.half, box.board_half, box.walls, reflects, 1.0)
    lit = thrown_back_lx(channel, box.led_mm, x, y) + row_light_lx(
        box.led_mm, 1.0, order=1.0, gap_mm=box.gap, x_mm=x[None], y_mm=y[:, None])
    return lit.mean(axis=1).reshape(8, 5).mean(axis=1), float(lit.mean())


LONG = np.arange(8.3335, 1000.0, 16.667)


@pytest.mark.parametrize(("gap", "half", "walls", "sheet"), [
    (25.0, 7.0, 0.05, 0.48), (25.0, 7.0, 0.5, 0.48), (25.0, 7.0, 0.85, 0.48), (12.0, 7.0, 0.5, 0.3), (25.0, 14.0, 0.7, 0.0),
    (8.0, 20.0, 0.8, 0.6),
])
def test_an_endless_channel_against_photons(gap: float, half: float, walls: float, sheet: float) -> None:
    box = Box(LONG, gap, half, (200.0, 800.0, half), walls, sheet, sheet, 4.0)
    bands, mean = photons(box)
    law_bands, law_mean = _law(box, sheet)
    assert law_mean == pytest.approx(mean, rel=0.015)
    assert law_bands / law_mean == pytest.approx(bands / mean, abs=0.025)


def test_mirrors_would_be_far_too_bright_and_too_even() -> None:
    box = Box(LONG, 25.0, 7.0, (200.0, 800.0, 7.0), 0.5, 0.48, 0.1, 4.0)
    bands, mean = photons(box)
    x, y = np.linspace(480.0, 496.667, 40)[None], (np.arange(40)[:, None] + 0.5) / 40 * 7.0
    mirrors = sum(0.5 ** abs(image) * row_light_lx(LONG, 1.0, order=1.0, gap_mm=25.0, x_mm=x, y_mm=y - 14.0 * image)
                  for image in range(-6, 7))
    assert mirrors.mean() > 1.15 * mean
    assert np.ptp(mirrors.mean(axis=1)) / mirrors.mean() < 0.6 * np.ptp(bands) / mean


def _plan(gap: float, walls: float, along: tuple[tuple[float, float], ...]) -> tuple[Part, Strip, Opening]:
    opening = Opening(name="w", rect_mm=(60.0, 20.0, 40.0, 12.0), diffusers=(Diffuser(sheet="opal acrylic 2 mm"),))
    part = Part(name="wall", outline_mm=((0.0, 0.0), (300.0, 0.0), (300.0, 60.0), (0.0, 60.0)), wall="black styrene",
                openings=(opening,))
    strip = Strip(name="s", part="wall", openings=("w",), along_mm=along, gap_mm=gap, walls_reflect=walls, states=("on",))
    return part, strip, opening


@pytest.mark.parametrize("shut", [False, True])
@pytest.mark.parametrize(("gap", "walls", "along"), [
    (25.0, 0.5, ((30.0, 26.0), (130.0, 26.0))), (12.0, 0.85, ((30.0, 26.0), (130.0, 26.0))),
    (25.0, 0.85, ((30.0, 33.0), (130.0, 33.0))), (25.0, 0.05, ((55.0, 26.0), (105.0, 26.0))),
])
def test_a_window_of_a_plan_lies_within_its_range(gap: float, walls: float, along: tuple, shut: bool) -> None:
    """The wall between windows is black and the strip ends soon, with its ends open and shut."""
    part, strip, opening = _plan(gap, walls, along)
    row = next(row for row in PACKAGED.strips if row.name == "12 V warm white 3528, 60 a metre")
    emitter = run_emitter(row, strip)
    pane = pane_of(PACKAGED, part, (strip, emitter), opening)
    mean = float(first_sheet_lx(row, strip, pane)[pane.inside].mean())
    behind = pane.behind
    leds = np.array(behind.led_along_mm)
    shift = behind.aside_mm
    box = Box(leds, gap, behind.half_width_mm, (behind.from_mm, behind.to_mm, 6.0 + abs(shift)), walls,
              sheets_back(PACKAGED, opening) or 0.0, inside_reflectance(PACKAGED, part).typical, row.width_mm / 2,
              (0.0, math.dist(*along)) if shut else None)
    bands, _ = photons(box)
    if shift:  # the window's own bands: from 1 to 13 mm beside the strip, of eight bands of 13 / 8 mm
        middles = (np.arange(8) + 0.5) / 8 * (6.0 + abs(shift))
        traced = float(bands[middles > abs(shift) - 6.0].mean())
    else:
        traced = float(bands.mean())
    assert CHANNEL_SPREAD.low * mean < traced < CHANNEL_SPREAD.high * mean
    if not shut:
        assert traced == pytest.approx(mean, rel=0.08)
