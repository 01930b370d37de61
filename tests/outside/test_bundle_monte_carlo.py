"""Ray casting by a second, simple method: random rays of a lamp counted into fibres.

No publication: an independent computation. Rays leave a point (or a Lambertian disc), meet the bundle's face,
and count where they hit a core within the acceptance angle. The tolerance is four standard errors.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import pytest

from rushlight.geometry.bundle import hand_made_diameter_mm, loose_offsets_mm
from rushlight.geometry.circles import Packing, enclosing_circle
from rushlight.optics.coupling import patch_fraction, point_fraction

RAYS = 400_000


def _directions(order: float, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    cosine = rng.random(RAYS) ** (1.0 / (order + 1.0))
    return cosine, rng.random(RAYS) * 2.0 * math.pi


def _agrees(hits: int, expected: float) -> None:
    error = math.sqrt(max(expected * (1.0 - expected), 1e-9) / RAYS)
    assert abs(hits / RAYS - expected) < 4.0 * error


@pytest.mark.parametrize(("order", "gap_mm", "core_mm", "offset_mm", "na"), [
    (20.0, 5.0, 0.486, 0.0, 0.5),
    (20.0, 5.0, 0.486, 1.0, 0.5),
    (4.8, 2.0, 0.98, 0.9, 0.5),
    (1.0, 1.0, 0.735, 0.6, 0.5),
    (1.0, 3.0, 0.98, 2.0, 0.5),
])
def test_point_lamp_into_one_fibre(order: float, gap_mm: float, core_mm: float, offset_mm: float, na: float) -> None:
    cosine, turn = _directions(order, np.random.default_rng(11))
    radius = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    apart = np.hypot(radius * np.cos(turn) - offset_mm, radius * np.sin(turn))
    hits = int(np.sum((apart <= core_mm / 2) & (np.sqrt(1.0 - cosine**2) <= na)))
    _agrees(hits, point_fraction(order, gap_mm=gap_mm, core_radius_mm=core_mm / 2, offset_mm=offset_mm, na=na))


@pytest.mark.parametrize(("lamp", "gap_mm", "core_mm", "offset_mm", "na"), [  # patch mm and order of the lamp
    ((2.2, 1.0), 0.5, 0.486, 0.0, 0.5),
    ((2.2, 1.0), 1.5, 0.98, 1.0, 0.5),
    ((0.6, 1.0), 0.3, 0.98, 0.2, 0.5),
    ((2.2, 1.0), 0.0, 0.98, 0.9, 0.58),
    ((1.0, 1.0), 4.0, 0.735, 1.5, 0.5),
    ((4.75, 45.3), 0.5, 0.486, 0.0, 0.5),
    ((4.5, 4.8), 0.5, 0.98, 2.2, 0.5),
    ((2.7, 4.8), 0.0, 0.735, 1.0, 0.5),
])
def test_flat_patch_into_one_fibre(
    lamp: tuple[float, float], gap_mm: float, core_mm: float, offset_mm: float, na: float
) -> None:
    (patch_mm, order), rng = lamp, np.random.default_rng(12)
    cosine, turn = _directions(order, rng)
    start = 0.5 * patch_mm * np.sqrt(rng.random(RAYS))
    where = rng.random(RAYS) * 2.0 * math.pi
    step = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    x = start * np.cos(where) + step * np.cos(turn) - offset_mm
    y = start * np.sin(where) + step * np.sin(turn)
    hits = int(np.sum((np.hypot(x, y) <= core_mm / 2) & (np.sqrt(1.0 - cosine**2) <= na)))
    expected = patch_fraction(patch_radius_mm=patch_mm / 2, gap_mm=gap_mm, core_radius_mm=core_mm / 2,
                              offset_mm=offset_mm, na=na, order=order)
    _agrees(hits, expected)


def _hexagon(rings: int, pitch_mm: float) -> np.ndarray:
    """Centres of a hexagonal bundle: 1, 7, 19 fibres."""
    steps = range(-rings, rings + 1)
    spots = [(a + b / 2.0, b * math.sqrt(3.0) / 2.0) for a in steps for b in steps if abs(a + b) <= rings]
    return pitch_mm * np.array(spots)


@pytest.mark.parametrize(("bundle", "lamp", "gap_mm"), [  # rings, fibre mm, mm off the axis; patch mm, order
    ((1, 0.5, 0.0), (0.0, 20.0), 4.0),
    ((2, 0.5, 0.4), (0.0, 9.9), 3.0),
    ((2, 0.25, 0.0), (0.0, 4.8), 2.0),
    ((1, 0.75, 0.3), (2.2, 1.0), 0.5),
    ((2, 0.5, 0.0), (1.0, 1.0), 1.0),
])
def test_whole_bundles_ring_by_ring(
    bundle: tuple[int, float, float], lamp: tuple[float, float], gap_mm: float
) -> None:
    """Five bundles over one lamp, off its axis too: every ring's share of the light, and the whole bundle's."""
    (rings, fibre_mm, aside_mm), (patch_mm, order) = bundle, lamp
    rng, core_mm, na = np.random.default_rng(13), 0.98 * fibre_mm, 0.5
    aside = np.array([aside_mm, 0.0])
    centres = _hexagon(rings, fibre_mm) + aside
    cosine, turn = _directions(order, rng)
    start, where = 0.5 * patch_mm * np.sqrt(rng.random(RAYS)), rng.random(RAYS) * 2.0 * math.pi
    step = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    x, y = start * np.cos(where) + step * np.cos(turn), start * np.sin(where) + step * np.sin(turn)
    x, y = (one[np.sqrt(1.0 - cosine**2) <= na] for one in (x, y))
    hits = [int(np.sum(np.hypot(x - u, y - v) <= core_mm / 2.0)) for u, v in centres]

    def share(offset_mm: float) -> float:
        if patch_mm:
            return patch_fraction(patch_radius_mm=patch_mm / 2, gap_mm=gap_mm, core_radius_mm=core_mm / 2,
                                  offset_mm=offset_mm, na=na)
        return point_fraction(order, gap_mm=gap_mm, core_radius_mm=core_mm / 2, offset_mm=offset_mm, na=na)

    shares = [share(math.hypot(u, v)) for u, v in centres]
    ring_of = np.rint(np.hypot(*(centres - aside).T) / fibre_mm)
    for ring in np.unique(ring_of):
        own = [k for k, one in enumerate(ring_of) if one == ring]
        _agrees(sum(hits[k] for k in own), sum(shares[k] for k in own))
    _agrees(sum(hits), sum(shares))


@pytest.mark.parametrize(("widths_mm", "lamp", "gap_mm"), [  # patch mm and order of the lamp
    ((1.0, 0.5, 0.5, 0.5, 0.5), (0.0, 9.9), 3.0),
    ((0.75, 0.75, 0.5, 0.5, 0.5, 0.25, 0.25), (2.2, 1.0), 0.5),
    ((1.5, 0.75, 0.75, 0.5), (0.0, 4.8), 2.0),
])
def test_shares_of_a_mixed_bundle(widths_mm: tuple[float, ...], lamp: tuple[float, float], gap_mm: float) -> None:
    """Fibres of several widths, packed as a design packs them: each one's light, and its share of the bundle's."""
    (patch_mm, order), na = lamp, 0.5
    packed, rng = enclosing_circle(widths_mm, rounds=2), np.random.default_rng(14)
    cosine, turn = _directions(order, rng)
    start, where = 0.5 * patch_mm * np.sqrt(rng.random(RAYS)), rng.random(RAYS) * 2.0 * math.pi
    step = gap_mm * np.sqrt(1.0 / cosine**2 - 1.0)
    x, y = start * np.cos(where) + step * np.cos(turn), start * np.sin(where) + step * np.sin(turn)
    x, y = (one[np.sqrt(1.0 - cosine**2) <= na] for one in (x, y))
    hits, shares = [], []
    for mm, (u, v) in zip(widths_mm, packed.centres_mm, strict=True):
        core_mm, off_mm = 0.98 * mm, math.hypot(u, v)
        hits.append(int(np.sum(np.hypot(x - u, y - v) <= core_mm / 2.0)))
        shares.append(
            patch_fraction(patch_radius_mm=patch_mm / 2, gap_mm=gap_mm, core_radius_mm=core_mm / 2, offset_mm=off_mm, na=na)
            if patch_mm else point_fraction(order, gap_mm=gap_mm, core_radius_mm=core_mm / 2, offset_mm=off_mm, na=na))
        _agrees(hits[-1], shares[-1])
    _agrees(sum(hits), sum(shares))
    for hit, share in zip(hits, shares, strict=True):
        error = 4.0 / math.sqrt(max(hit, 1))
        assert hit / sum(hits) == pytest.approx(share / sum(shares), rel=error)


def _shaken(packed: Packing, width_mm: float, rng: np.random.Generator) -> list[np.ndarray]:
    """Fibres of a bundle left room and shaken, as hard discs in a circle (Metropolis moves): states far apart."""
    radii, centres = np.array(packed.diameters_mm) / 2, np.array(packed.centres_mm)
    least, room, states = radii[:, None] + radii[None, :], width_mm / 2 - radii, []
    step = 0.5 * (width_mm - packed.diameter_mm) + 0.02
    for sweep in range(600):
        for one in rng.permutation(len(radii)):
            there = centres[one] + rng.uniform(-step, step, 2)
            apart = np.hypot(*(centres - there).T)
            apart[one] = np.inf
            if np.hypot(*there) <= room[one] and np.all(apart >= least[one] - 1e-9):
                centres[one] = there
        if sweep >= 100 and sweep % 10 == 0:
            states.append(centres.copy())
    return states


@pytest.mark.parametrize(("widths_mm", "lamp", "gap_mm"), [  # patch mm and order of the lamp
    ((0.5,) * 7, (0.0, 20.0), 4.0),
    ((0.5,) * 19, (0.0, 20.0), 4.0),
    ((0.5,) * 19, (2.2, 1.0), 0.5),
    ((1.0, 0.75, 0.75, 0.5, 0.5, 0.5), (0.0, 9.9), 3.0),
])
def test_hand_tied_bundles(widths_mm: tuple[float, ...], lamp: tuple[float, float], gap_mm: float) -> None:
    """Bundles with the room that a hand leaves, shaken: their light lies within the range of bundles stretched evenly,
    3 % from the middle of it; that of the ideal bundle lies farther off where a hand ties 5 % wider."""
    packed, rng = enclosing_circle(widths_mm, rounds=2), np.random.default_rng(15)
    width = hand_made_diameter_mm(packed)
    (patch_mm, order), na = lamp, 0.5

    def total(offsets_mm: Iterable[float]) -> float:
        return sum(
            patch_fraction(patch_radius_mm=patch_mm / 2, gap_mm=gap_mm, core_radius_mm=0.49 * mm, offset_mm=off, na=na)
            if patch_mm else point_fraction(order, gap_mm=gap_mm, core_radius_mm=0.49 * mm, offset_mm=off, na=na)
            for mm, off in zip(widths_mm, offsets_mm, strict=True))

    shaken = [total(np.hypot(*state.T).round(3)) for state in _shaken(packed, width.typical, rng)]
    tied, stretched = float(np.mean(shaken)), loose_offsets_mm(packed, width)
    low, typical, high = (total(getattr(one, end) for one in stretched) for end in ("high", "typical", "low"))
    ideal = total(np.hypot(*np.array(packed.centres_mm).T))
    assert low < tied < high
    assert tied == pytest.approx(typical, rel=0.03)
    assert len(widths_mm) < 8 or abs(tied - typical) < abs(tied - ideal)
