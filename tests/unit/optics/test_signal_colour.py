"""Areas of signal colours."""

from __future__ import annotations

import pytest

from rushlight.errors import UnknownName
from rushlight.optics.colour import planck_xy, trade_colour
from rushlight.optics.signal_colour import (
    inside_signal_colour,
    signal_colours,
    signal_corners,
    signal_systems,
)

AREAS = [(system, name) for system in ("ship", "road") for name in signal_colours(system)]


@pytest.mark.parametrize(("system", "name"), AREAS)
def test_corners_are_inside_and_ring_does_not_cross_itself(system: str, name: str) -> None:
    ring = signal_corners(system, name)
    assert all(inside_signal_colour(corner, system, name) for corner in ring)
    twice = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(ring, ring[1:] + ring[:1], strict=True))
    assert abs(twice) > 1e-4
    assert not inside_signal_colour((0.05, 0.05), system, name)


@pytest.mark.parametrize(("trade", "system", "name", "inside"), [
    ("red", "ship", "red", True), ("red", "road", "red", True), ("red", "aircraft", "red", True),
    ("500 nm", "ship", "green", True), ("500 nm", "aircraft", "green", True),
    ("green", "ship", "green", False),  # a 525 nm lamp is too yellow for the ship rules
    ("warm white", "ship", "white", True), ("warm white", "aircraft", "white", True),
    ("ice white", "ship", "white", False), ("amber", "road", "amber", True), ("amber", "ship", "yellow", True),
    ("blue", "ship", "green", False), ("green", "ship", "white", False), ("red", "ship", "yellow", False),
])
def test_lamps_of_the_trade(trade: str, system: str, name: str, inside: bool) -> None:
    # derived: x, y of the lamp laid by hand into the printed areas
    assert inside_signal_colour(trade_colour(trade).xy, system, name) is inside


def test_aircraft_white_follows_the_black_body() -> None:
    for kelvin in (2300.0, 2856.0, 4000.0, 6500.0):
        assert inside_signal_colour(planck_xy(kelvin), "aircraft", "white")
    x, y = planck_xy(2300.0)
    # source: 14 CFR 25.1397, y0 - 0.010 or x - 0.040
    assert not inside_signal_colour((x, y - 0.06), "aircraft", "white")


def test_names() -> None:
    assert signal_systems() == ("ship", "road", "aircraft")
    assert signal_colours("aircraft") == ("red", "green", "white")
    with pytest.raises(UnknownName, match="ship"):
        signal_colours("shop")
    with pytest.raises(UnknownName, match="green"):
        inside_signal_colour((0.3, 0.3), "ship", "gren")
    with pytest.raises(UnknownName, match="corners"):
        signal_corners("aircraft", "red")
