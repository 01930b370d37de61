"""A lit room by a second, simple method: light followed by chance from the lamp through a box with an opening.

No publication: an independent computation. Parcels of light leave the lamp by its cos^m pattern, meet the walls, lose
what those take in and leave them by Lambert's law, until little is left. With a matt sheet in the opening the window's
luminance is that of the sheet, E T / pi; without one it is that of the back wall straight behind.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.optics.lit_room import AXES, BoxRoom, OtherWindow, room_light

PARCELS, BOUNCES = 150_000, 40


def _lambert(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    cosine, turn = np.sqrt(rng.random(count)), 2 * math.pi * rng.random(count)
    sine = np.sqrt(1 - cosine**2)
    return cosine, sine * np.cos(turn), sine * np.sin(turn)


def _photons(room: BoxRoom, reflectance: float) -> tuple[float, float]:
    """Luminance of the back wall behind the opening [cd/m2], and illuminance of the opening [lx], for 1 lm.

    Other openings take what falls on them, but for what their sheets throw back.
    """
    rng, size = np.random.default_rng(18), np.array(room.size_mm)
    at = np.tile([*(room.lamp_mm or (size[0] / 2, size[1] / 2)), size[2]], (PARCELS, 1))
    down, turn = rng.random(PARCELS) ** (1 / (room.order + 1)), 2 * math.pi * rng.random(PARCELS)
    flat = np.sqrt(1 - down**2)
    way, lumens = np.column_stack([flat * np.cos(turn), flat * np.sin(turn), -down]), np.full(PARCELS, 1 / PARCELS)
    back, front, area = 0.0, 0.0, room.opening_mm[0] * room.opening_mm[1] * 1e-6
    u, v = room.middle_mm or (size[0] / 2, size[2] / 2)
    for _ in range(BOUNCES):
        far = np.where(way > 0, size - at, at) / np.maximum(np.abs(way), 1e-15)
        far[far < 1e-9] = np.inf
        axis = far.argmin(axis=1)
        rows = np.arange(len(at))
        side = way[rows, axis] > 0
        at = at + way * far[rows, axis][:, None]
        at[rows, axis] = np.where(side, size[axis], 0.0)
        window = (np.abs(at[:, 0] - u) <= room.opening_mm[0] / 2) & (axis == 1) & (
            np.abs(at[:, 2] - v) <= room.opening_mm[1] / 2)
        keeps = np.where(window & ~side, room.sheet_reflects or 0.0, reflectance)
        for other in room.others:
            keeps[_through(other, at, axis, side)] = other.sheet_reflects
        back, front = back + (lumens * keeps)[window & side].sum(), front + lumens[window & ~side].sum()
        lumens = lumens * keeps
        cosine, first, second = _lambert(rng, len(at))
        others = np.array([(1, 2), (0, 2), (0, 1)])[axis]
        way = np.zeros_like(at)
        way[rows, axis] = np.where(side, -cosine, cosine)
        way[rows, others[:, 0]], way[rows, others[:, 1]] = first, second
    return back / (math.pi * area), front / area


def _through(other: OtherWindow, at: np.ndarray, axis: np.ndarray, side: np.ndarray) -> np.ndarray:
    """Which of the places on walls lie in a further opening."""
    first, second = AXES[other.wall[0]]
    inside = (np.abs(at[:, first] - other.middle_mm[0]) <= other.size_mm[0] / 2) & (
        np.abs(at[:, second] - other.middle_mm[1]) <= other.size_mm[1] / 2)
    return np.asarray(inside & (axis == other.wall[0]) & (side == bool(other.wall[1])))


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


SALON = BoxRoom((60.0, 40.0, 30.0), (14.0, 12.0), 1.0, middle_mm=(15.0, 16.0), others=(
    OtherWindow((1, 0), (42.0, 16.0), (14.0, 12.0)), OtherWindow((1, 1), (20.0, 15.0), (16.0, 10.0), 0.3),
    OtherWindow((0, 1), (20.0, 15.0), (10.0, 10.0))))
"""Two windows in the front, one with a sheet across, one in a side wall."""


@pytest.mark.parametrize("sheet", [None, 0.48])
def test_a_room_of_several_windows(sheet: float | None) -> None:
    room = replace(SALON, sheet_reflects=sheet)
    told, (seen, on_opening) = room_light(room, 0.7), _photons(room, 0.7)
    assert told.opening_lx == pytest.approx(on_opening, rel=0.06)
    assert told.seen_cd_m2 == pytest.approx(seen, rel=0.08)
    assert told.out + told.absorbed + told.elsewhere == pytest.approx(1.0)
    alone = room_light(replace(room, others=()), 0.7)
    assert told.seen_cd_m2 < alone.seen_cd_m2 and told.opening_lx < alone.opening_lx and alone.elsewhere == 0.0


@pytest.mark.parametrize("lamp", [(15.0, 20.0), (48.0, 10.0)])
def test_a_lamp_elsewhere_under_the_ceiling(lamp: tuple[float, float]) -> None:
    room = replace(SALON, lamp_mm=lamp, sheet_reflects=0.48)
    told, (_, on_opening) = room_light(room, 0.6), _photons(room, 0.6)
    assert told.opening_lx == pytest.approx(on_opening, rel=0.06)


def test_windows_that_see_the_same_room_are_alike_from_each() -> None:
    """By mirror: of two like windows as far from either side each is told the same."""
    def seen(own: float, other: float) -> float:
        beside = OtherWindow((1, 0), (other, 15.0), (12.0, 10.0))
        room = BoxRoom((60.0, 40.0, 30.0), (12.0, 10.0), middle_mm=(own, 15.0), others=(beside,))
        return room_light(room, 0.6).seen_cd_m2

    assert seen(18.0, 42.0) == pytest.approx(seen(42.0, 18.0), rel=1e-9)
