"""A lit room by a second, simple method: light followed by chance from the lamp through a box with an opening.

No publication: an independent computation. Parcels of light leave the lamp by its cos^m pattern, meet the walls, lose
what those take in and leave them by Lambert's law, until little is left. With a matt sheet in the opening the window's
luminance is that of the sheet, E T / pi; without one it is that of the back wall straight behind.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.lit_room import BoxRoom, room_light

PARCELS, BOUNCES = 150_000, 40


def _lambert(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    cosine, turn = np.sqrt(rng.random(count)), 2 * math.pi * rng.random(count)
    sine = np.sqrt(1 - cosine**2)
    return cosine, sine * np.cos(turn), sine * np.sin(turn)


def _photons(room: BoxRoom, reflectance: float) -> tuple[float, float]:
    """Luminance of the back wall behind the opening [cd/m2], and illuminance of the opening [lx], for 1 lm."""
    rng, size = np.random.default_rng(18), np.array(room.size_mm)
    at = np.tile([size[0] / 2, size[1] / 2, size[2]], (PARCELS, 1))
    down, turn = rng.random(PARCELS) ** (1 / (room.order + 1)), 2 * math.pi * rng.random(PARCELS)
    flat = np.sqrt(1 - down**2)
    way, lumens = np.column_stack([flat * np.cos(turn), flat * np.sin(turn), -down]), np.full(PARCELS, 1 / PARCELS)
    back, front, area = 0.0, 0.0, room.opening_mm[0] * room.opening_mm[1] * 1e-6
    for _ in range(BOUNCES):
        far = np.where(way > 0, size - at, at) / np.maximum(np.abs(way), 1e-15)
        far[far < 1e-9] = np.inf
        axis = far.argmin(axis=1)
        rows = np.arange(len(at))
        side = way[rows, axis] > 0
        at = at + way * far[rows, axis][:, None]
        at[rows, axis] = np.where(side, size[axis], 0.0)
        window = (np.abs(at[:, 0] - size[0] / 2) <= room.opening_mm[0] / 2) & (axis == 1) & (
            np.abs(at[:, 2] - size[2] / 2) <= room.opening_mm[1] / 2)
        back, front = back + lumens[window & side].sum(), front + lumens[window & ~side].sum()
        lumens = lumens * np.where(window & ~side, room.sheet_reflects or 0.0, reflectance)
        cosine, first, second = _lambert(rng, len(at))
        others = np.array([(1, 2), (0, 2), (0, 1)])[axis]
        way = np.zeros_like(at)
        way[rows, axis] = np.where(side, -cosine, cosine)
        way[rows, others[:, 0]], way[rows, others[:, 1]] = first, second
    return back * reflectance / (math.pi * area), front / area


ROOMS = [((30.0, 30.0, 30.0), (18.0, 12.0), 1.0, 0.6), ((60.0, 40.0, 30.0), (40.0, 20.0), 4.8, 0.7),
         ((30.0, 30.0, 30.0), (12.0, 10.0), 1.25, 0.4), ((90.0, 48.0, 34.0), (30.0, 17.0), 1.0, 0.6)]


@pytest.mark.parametrize(("size", "opening", "order", "reflectance"), ROOMS)
@pytest.mark.parametrize("sheet", [None, 0.48])
def test_a_room_with_and_without_a_sheet(
    size: tuple[float, float, float], opening: tuple[float, float], order: float, reflectance: float, sheet: float | None
) -> None:
    room = BoxRoom(size, opening, order, sheet_reflects=sheet)
    told, (seen, on_opening) = room_light(room, reflectance), _photons(room, reflectance)
    assert told.opening_lx == pytest.approx(on_opening, rel=0.06)
    assert told.seen_cd_m2 == pytest.approx(seen, rel=0.08)


def test_a_sheet_that_throws_all_back_is_a_wall() -> None:
    """By mirror: with a sheet as light as the walls the box is closed, and the window as bright as the wall behind."""
    closed = room_light(BoxRoom((30.0, 30.0, 30.0), (15.0, 15.0), sheet_reflects=0.6), 0.6)
    assert closed.opening_lx * 0.6 / math.pi == pytest.approx(closed.seen_cd_m2, rel=1e-6)
    assert closed.out + closed.absorbed == pytest.approx(1.0)
    with pytest.raises(OutOfRange, match="sheet"):
        room_light(BoxRoom((30.0, 30.0, 30.0), (15.0, 15.0), sheet_reflects=1.0), 0.6)
