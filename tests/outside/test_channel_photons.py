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
from rushlight.optics.channel import BOARD_REFLECTS, Channel, thrown_back_lx
from rushlight.optics.diffuser import row_light_lx
from rushlight.stages.painted_wall import inside_reflectance
from rushlight.stages.rooms import sheets_back
from rushlight.stages.strip_choice import run_emitter
from rushlight.stages.strips import channel_spread
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


def _plan(
    gap: float, walls: float, along: tuple[tuple[float, float], ...], **channel: object
) -> tuple[Part, Strip, Opening]:
    opening = Opening(name="w", rect_mm=(60.0, 20.0, 40.0, 12.0), diffusers=(Diffuser(sheet="opal acrylic 2 mm"),))
    part = Part(name="wall", outline_mm=((0.0, 0.0), (300.0, 0.0), (300.0, 60.0), (0.0, 60.0)), wall="black styrene",
                openings=(opening,))
    strip = Strip(name="s", part="wall", openings=("w",), along_mm=along, gap_mm=gap, walls_reflect=walls, states=("on",),
                  **channel)
    return part, strip, opening


@pytest.mark.parametrize("shut", [False, True])
@pytest.mark.parametrize(("gap", "walls", "along"), [
    (25.0, 0.5, ((30.0, 26.0), (130.0, 26.0))), (12.0, 0.85, ((30.0, 26.0), (130.0, 26.0))),
    (25.0, 0.85, ((30.0, 33.0), (130.0, 33.0))), (25.0, 0.05, ((55.0, 26.0), (105.0, 26.0))),
])
def test_a_window_of_a_plan_lies_within_its_range(gap: float, walls: float, along: tuple, shut: bool) -> None:
    """The wall between windows is black and the strip ends soon, with its ends open and shut."""
    mean, traced, strip = _told_and_traced(_plan(gap, walls, along), shut=shut)
    spread = channel_spread(strip)
    assert spread.low * mean < traced < spread.high * mean
    if not shut:
        assert traced == pytest.approx(mean, rel=0.08)


def _told_and_traced(
    plan: tuple[Part, Strip, Opening], *, shut: bool, foil: bool = False
) -> tuple[float, float, Strip]:
    """Mean illuminance of the window's sheet by the plan's law and by photons [lx at 1 cd an LED]."""
    part, strip, opening = plan
    row = next(row for row in PACKAGED.strips if row.name == "12 V warm white 3528, 60 a metre")
    pane = pane_of(PACKAGED, part, (strip, run_emitter(row, strip)), opening)
    mean = float(first_sheet_lx(row, strip, pane)[pane.inside].mean())
    behind = pane.behind
    shift = behind.aside_mm
    box = Box(np.array(behind.led_along_mm), strip.gap_mm, behind.half_width_mm,
              (behind.from_mm, behind.to_mm, 6.0 + abs(shift)), strip.walls_reflect,
              sheets_back(PACKAGED, opening) or 0.0, inside_reflectance(PACKAGED, part).typical, row.width_mm / 2,
              (0.0, math.dist(*strip.along_mm)) if shut else None,
              BOARD_REFLECTS if strip.board_reflects is None else strip.board_reflects, foil)
    bands, _ = photons(box)
    if shift:  # the window's own bands: from 1 to 13 mm beside the strip, of eight bands of 13 / 8 mm
        middles = (np.arange(8) + 0.5) / 8 * (6.0 + abs(shift))
        return mean, float(bands[middles > abs(shift) - 6.0].mean()), strip
    return mean, float(bands.mean()), strip


SHORT, LONGER = ((55.0, 26.0), (105.0, 26.0)), ((30.0, 26.0), (130.0, 26.0))


@pytest.mark.parametrize(("gap", "walls", "along", "channel"), [
    (25.0, 0.85, SHORT, {"channel_ends": "walled"}), (12.0, 0.85, SHORT, {"channel_ends": "walled"}),
    (25.0, 0.5, SHORT, {"channel_ends": "walled"}), (25.0, 0.85, LONGER, {"channel_ends": "walled"}),
    (25.0, 0.7, SHORT, {"channel_ends": "walled", "channel_width_mm": 40.0}),
    (20.0, 0.7, LONGER, {"channel_ends": "open", "channel_width_mm": 60.0}),
    (25.0, 0.85, LONGER, {"channel_ends": "open", "board_reflects": 0.1}),
    (25.0, 0.85, LONGER, {"channel_ends": "open", "board_reflects": 0.9}),
    (15.0, 0.05, LONGER, {"channel_ends": "open", "channel_width_mm": 30.0, "board_reflects": 0.05}),
])
def test_a_channel_that_the_plan_describes_lies_in_its_narrower_range(
    gap: float, walls: float, along: tuple, channel: dict[str, object]
) -> None:
    said = {"channel_walls": "matt", "board_reflects": BOARD_REFLECTS, **channel}
    mean, traced, strip = _told_and_traced(_plan(gap, walls, along, **said), shut=channel["channel_ends"] == "walled")
    spread = channel_spread(strip)
    assert spread.high / spread.low < 1.18
    assert spread.low * mean < traced < spread.high * mean


@pytest.mark.parametrize(("gap", "walls"), [(25.0, 0.85), (12.0, 0.85), (25.0, 0.5)])
def test_shiny_walls_lie_within_their_range(gap: float, walls: float) -> None:
    said = {"channel_ends": "open", "channel_walls": "foil", "board_reflects": BOARD_REFLECTS}
    mean, traced, strip = _told_and_traced(_plan(gap, walls, LONGER, **said), shut=False, foil=True)
    spread = channel_spread(strip)
    assert spread.low * mean < traced < spread.high * mean


@pytest.mark.parametrize(("walls", "most_off"), [(0.05, 0.02), (0.5, 0.04), (0.85, 0.06)])
@pytest.mark.parametrize(("gap", "half"), [(25.0, 7.0), (12.0, 7.0), (20.0, 14.0)])
def test_walls_across_the_ends_light_a_window_beside_them(gap: float, half: float, walls: float, most_off: float) -> None:
    leds = np.arange(8.3335, 100.0, 16.667)
    box = Box(leds, gap, half, (2.0, 22.0, half), walls, 0.48, 0.48, 4.0, (0.0, 100.0))
    x, y = 2.0 + (np.arange(40) + 0.5) / 2, (np.arange(16) + 0.5) / 16 * half
    channel = Channel(gap, half, 4.0, walls, 0.48, 1.0, shut_mm=(0.0, 100.0))
    straight = row_light_lx(leds, 1.0, order=1.0, gap_mm=gap, x_mm=x[None], y_mm=y[:, None])
    law = float((straight + thrown_back_lx(channel, leds, x, y)).mean())
    assert law == pytest.approx(photons(box)[1], rel=most_off)
