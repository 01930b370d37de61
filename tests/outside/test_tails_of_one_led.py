"""Tails of one LED against published packings, the least total length from one place, and conservation of radiance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import minimize

from designed import designed
from plans import board
from rushlight.model.design import Design
from rushlight.stages.row_proposals import row_proposals
from rushlight.stages.row_tails import TailTrial
from rushlight.stages.tails import ENDS_MM, LEAST_TAIL_MM

PUBLISHED = {3: 1 + 2 / math.sqrt(3), 4: 1 + math.sqrt(2), 5: 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5))), 6: 3.0, 7: 3.0}
"""Diameter of the least circle round equal circles over theirs. Source: Graham, Lubachevsky, Nurmela and Ostergard,
Discrete Mathematics 181 (1998) 139, table 1; these are proved."""


def tried(count: int) -> tuple[Design, TailTrial]:
    """A row of LEDs in holes of 1 mm, and tails in their place."""
    made = designed(board(more="rows: [{name: r, part: board, along_mm: [[20, 80], [110, 80]], colour: warm white, states: "
                               f"day, count: {count}, model_mm: 1, source: {{kind: led}}}}]\n"))
    (row,) = row_proposals(made)
    assert row.built == "led" and row.tails is not None
    return made, row.tails


@pytest.mark.parametrize("count", sorted(PUBLISHED))
def test_the_bundle_is_as_wide_as_the_published_packing(count: int) -> None:
    tails = tried(count)[1]
    assert tails.leds == 1 and tails.tails == count
    assert tails.ideal_mm == pytest.approx(PUBLISHED[count] * tails.fibre_mm, rel=1e-6)
    assert tails.bundle_mm.typical > tails.ideal_mm


def test_the_fibre_is_no_shorter_than_from_the_best_place_and_hardly_longer() -> None:
    """Weber's problem: the place from which the sum of straight ways is least (Weiszfeld 1937), by a general optimiser.

    Ours sits on a grid of 30 mm and keeps a tail's least length from every lamp: within a quarter of the best such place.
    """
    made, tails = tried(6)
    lamps = np.array([lamp.spot.at_mm for lamp in made.lamps if lamp.spot])
    turn = math.pi / 2 * tails.turn_mm

    def total(place: np.ndarray) -> float:
        return float(np.hypot(*(lamps - place).T).sum())

    best = min(minimize(total, start, method="Nelder-Mead").fun for start in ([65, 80], [30, 40], [100, 60]))
    away = [at for at in np.stack(np.meshgrid(np.arange(5, 115, 1.0), np.arange(5, 97, 1.0)), -1).reshape(-1, 2)
            if np.hypot(*(lamps - at).T).min() >= LEAST_TAIL_MM]
    allowed = min(total(at) for at in away)
    laid = tails.cut_mm - len(lamps) * (turn + ENDS_MM)  # each is rounded up to 5 mm
    assert best - 1e-6 <= laid <= 1.25 * allowed + 5 * len(lamps)


def test_no_lamp_is_brighter_than_its_led_lets_it_be() -> None:
    """Conservation of radiance (Keiser, Optical Fiber Communications, on coupling; Lambertian flat top): the axial
    intensity of a tail is at most the LED's own axial luminance times the core's area."""
    made, tails = tried(6)
    led, aim = made.drawer.led(tails.led), made.aims[0]
    axial_cd = led.intensity_mcd.high / 1000 * tails.current_a / (led.test_ma / 1000)
    share = (made.drawer.fibre(tails.fibre_mm).core_mm / tails.face_mm) ** 2
    assert tails.light.high * aim.wanted_cd <= 1.05 * axial_cd * share
    assert tails.light.typical * aim.wanted_cd >= 0.05 * axial_cd * share  # some light gets there
