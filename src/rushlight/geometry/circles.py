"""Bundles in section: the smallest circle that encloses circles of any mix of diameters.

Method: hops between soft packings (`_hops.py`; above 200 circles a slow squeeze and basin hopping, `_search.py`),
largest first with the rest in holes (`_holes.py`), a last linear programme (`_polish.py`), closed forms and lower
bounds (`_exact.py`). Every answer is measured again from its centres: no solver's own radius
is reported.

Proofs for equal circles: U. Pirl 1969 (n <= 10); H. Melissen 1994 (11); F. Fodor 1999 (19), 2000 (12),
2003 (13).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight import tables
from rushlight.errors import OutOfRange
from rushlight.geometry import _centres_code, _exact, _holes, _hops, _polish, _search, _seeds

Floats = NDArray[np.float64]
Points = tuple[tuple[float, float], ...]

MOST_CIRCLES = 2000
"""More circles than this are refused: no hand-made bundle has them."""

MOST_HOPS = 200
"""Larger bundles have a plainer search: all pairs of many packings would need much memory."""

SAME = 1e-9
"""Relative difference below which a radius counts as equal to a bound or to a published value."""

RATIO_DIGITS = 12
"""Diameters are compared to this many digits of the largest one, so that scale cannot change a search."""


_SEARCHED: dict[tuple[float, ...], tuple[tuple[float, float], ...]] = {}
"""What was searched with the usual rounds: kept, since the same diameters always give the same packing."""


class PackingStatus(StrEnum):
    """How sure it is that no smaller circle exists."""

    PROVED = "proved smallest"
    BEST_KNOWN = "best known"
    BEST_FOUND = "best found"


@dataclass(frozen=True, slots=True)
class Packing:
    """Circles in their container: diameters, centres about the container's centre, in the order given."""

    diameters_mm: tuple[float, ...]
    centres_mm: Points
    diameter_mm: float
    lower_bound_mm: float
    status: PackingStatus

    @property
    def count(self) -> int:
        """Number of circles."""
        return len(self.diameters_mm)

    @property
    def area_share(self) -> float:
        """Share of the container that the circles fill, sum d^2 / D^2 [-]."""
        return math.fsum(d * d for d in self.diameters_mm) / self.diameter_mm**2


@dataclass(frozen=True, slots=True)
class PackingMeasure:
    """What the centres themselves say: least gap between circles, and the circle that encloses them."""

    least_gap_mm: float
    diameter_mm: float


def enclosing_circle(diameters_mm: Sequence[float], *, rounds: int | None = None) -> Packing:
    """Smallest circle found that encloses circles of the given diameters without overlap.

    Parameters
    ----------
    diameters_mm : sequence of float
        Diameters [mm], each finite and above 0, 1 to 2000 of them, in any order.
    rounds : int, optional
        Rounds of the search, 0 to 10000; None takes the usual number for the size of the bundle. Where a
        closed form or the packaged table answers, nothing is searched.
    Returns
    -------
    Packing
        Centres [mm] in the order of the diameters, container's diameter [mm] measured from those
        centres, a proved lower bound of it [mm], and how sure the answer is.
    Raises
    ------
    OutOfRange
        If there are no diameters, too many, or one that is not a finite length above 0.
    Notes
    -----
    Counts rounds, never seconds: the same diameters give the same packing, in any order, at any scale.
    No overlap to 1e-12 of a diameter. Up to 200 equal circles come from a table of the project's own search.
    Source
    ------
    R. L. Graham, B. D. Lubachevsky, K. J. Nurmela, P. R. J. Ostergard, Discrete Math. 181 (1998) 139-154;
    A. Grosso, A. Jamali, M. Locatelli, F. Schoen, J. Global Optim. 47 (2010) 63-81 (search).
    Examples
    --------
    >>> round(enclosing_circle([1.0] * 7).diameter_mm, 6)
    3.0
    """
    sizes, order = _sorted_sizes(diameters_mm)
    if rounds is not None and not 0 <= rounds <= 10_000:
        raise OutOfRange("rounds", rounds, "0 to 10000")
    return _in_order(sizes, order, np.array(_packed(_ratios(sizes), rounds)))


def first_packing(diameters_mm: Sequence[float]) -> Packing:
    """A valid packing at once, to draw while the search runs.

    Parameters
    ----------
    diameters_mm : sequence of float
        Diameters [mm] as for `enclosing_circle`.
    Returns
    -------
    Packing
        No overlap, but wider than need be unless a closed form or the table answers.
    Raises
    ------
    OutOfRange
        As `enclosing_circle`.
    Source
    ------
    Own construction: touching discs grown from the middle, a cut of the hexagonal lattice, or rings.
    """
    sizes, order = _sorted_sizes(diameters_mm)
    return _in_order(sizes, order, np.array(_first(_ratios(sizes))))


def fits_within(diameters_mm: Sequence[float], widest_mm: float) -> bool:
    """Whether circles are found to go into a circle, searched only where neither a bound nor a quick packing tells.

    Parameters
    ----------
    diameters_mm : sequence of float
        Diameters [mm] as for `enclosing_circle`.
    widest_mm : float
        Diameter of the circle [mm].
    Returns
    -------
    bool
        As a comparison with the diameter from `enclosing_circle` says.
    Raises
    ------
    OutOfRange
        As `enclosing_circle`.
    Source
    ------
    `lower_bound_mm`, `first_packing`, `enclosing_circle`.
    """
    if lower_bound_mm(diameters_mm) > widest_mm * (1 + SAME):
        return False
    if first_packing(diameters_mm).diameter_mm <= widest_mm:
        return True
    return enclosing_circle(diameters_mm).diameter_mm <= widest_mm


def measure_packing(packing: Packing) -> PackingMeasure:
    """Least gap and enclosing circle of a packing, worked out again from its centres alone.

    Parameters
    ----------
    packing : Packing
        Any packing; only its diameters and centres are read.
    Returns
    -------
    PackingMeasure
        Least gap between two circles [mm] (infinite for one circle, negative for an overlap) and the
        diameter [mm] of the smallest circle round them.
    Source
    ------
    Plane geometry; smallest circle: E. Welzl 1991; K. Fischer, B. Gartner 2003.
    """
    centres, radii = np.array(packing.centres_mm), np.array(packing.diameters_mm) / 2
    return PackingMeasure(_least_gap(centres, radii), 2 * _polish.container_radius(centres, radii))


def packing_gap_mm(packing: Packing) -> float:
    """Least gap [mm] of a packing, between circles and to the stated container; negative: they overlap.

    Parameters
    ----------
    packing : Packing
        Any packing; centres about the container's centre.
    Returns
    -------
    float
        The smaller of the least gap between two circles and the least gap to the wall [mm].
    Source
    ------
    Plane geometry.
    """
    centres, radii = np.array(packing.centres_mm), np.array(packing.diameters_mm) / 2
    wall = packing.diameter_mm / 2 - np.hypot(centres[:, 0], centres[:, 1]) - radii
    return min(_least_gap(centres, radii), float(wall.min()))


def lower_bound_mm(diameters_mm: Sequence[float]) -> float:
    """A proved lower bound of the diameter of any circle that encloses these circles.

    Parameters
    ----------
    diameters_mm : sequence of float
        Diameters [mm] as for `enclosing_circle`.
    Returns
    -------
    float
        Largest of: d1 + d2, the circle round the three largest, sqrt(sum d^2), and for each k the bound
        for k equal circles of the k-th size (a proved optimum, or Oler's inequality) [mm].
    Raises
    ------
    OutOfRange
        As `enclosing_circle`.
    Source
    ------
    N. Oler, Acta Math. 105 (1961) 19-48; H. Groemer, Math. Z. 73 (1960) 285-294; Descartes 1643, Soddy 1936.
    """
    sizes, _ = _sorted_sizes(diameters_mm)
    return _exact.radius_lower_bound(sizes.tolist(), _proved_ratios())


def _sorted_sizes(diameters_mm: Sequence[float]) -> tuple[Floats, list[int]]:
    """Diameters, largest first, and the place of each in the input."""
    try:
        sizes = np.array([float(d) for d in diameters_mm])
    except (TypeError, ValueError):
        raise OutOfRange("diameters_mm", diameters_mm, "lengths in mm") from None
    if not 1 <= len(sizes) <= MOST_CIRCLES:
        raise OutOfRange("number of circles", len(sizes), f"1 to {MOST_CIRCLES}")
    for size in sizes:
        if not (math.isfinite(size) and 1e-6 <= size <= 1e6):
            raise OutOfRange("diameters_mm", float(size), "a length from 1e-6 to 1e6 mm")
    order = np.argsort(-sizes, kind="stable")
    return sizes[order], [int(k) for k in order]


def _ratios(sizes: Floats) -> tuple[float, ...]:
    return tuple(round(float(size / sizes[0]), RATIO_DIGITS) for size in sizes)


def _in_order(sizes: Floats, order: list[int], unit_centres: Floats) -> Packing:
    """The packing in millimetres and in the order of the input, measured from its centres."""
    radii = sizes / 2
    centres = _polish.spread_apart(unit_centres * sizes[0], radii)
    centres, _ = _polish.recentred(centres, radii)
    radius = float((np.hypot(centres[:, 0], centres[:, 1]) + radii).max())
    bound = _exact.radius_lower_bound(sizes.tolist(), _proved_ratios())
    placed: list[tuple[float, float]] = [(0.0, 0.0)] * len(order)
    given = [0.0] * len(order)
    for rank, place in enumerate(order):
        placed[place] = (float(centres[rank, 0]), float(centres[rank, 1]))
        given[place] = float(sizes[rank])
    return Packing(tuple(given), tuple(placed), 2 * radius, min(bound, 2 * radius), _status(sizes, 2 * radius, bound))


def _status(sizes: Floats, diameter_mm: float, bound_mm: float) -> PackingStatus:
    if diameter_mm <= bound_mm * (1 + SAME):
        return PackingStatus.PROVED
    known = dict(_known_ratios()).get(len(sizes))
    equal = sizes[-1] >= sizes[0] * (1 - SAME)
    if equal and known is not None and diameter_mm <= sizes[0] * known * (1 + SAME):
        return PackingStatus.BEST_KNOWN
    return PackingStatus.BEST_FOUND


def searched_packings() -> dict[tuple[float, ...], Points]:
    """Packings that had to be searched with the usual rounds, so far in this process or before (`learn_packings`).

    Returns
    -------
    dict
        Diameters over the largest one, largest first [-], to centres in the same unit; a copy.
    Source
    ------
    Own searches.
    """
    return dict(_SEARCHED)


def learn_packings(found: Mapping[tuple[float, ...], Points]) -> None:
    """Take in packings that an earlier process searched, so that they are not searched again.

    Parameters
    ----------
    found : mapping
        As from `searched_packings` of the same version of the search. Each answer is spread apart and measured from
        its centres all the same, so a wrong one cannot overlap.
    Source
    ------
    Own searches.
    """
    _SEARCHED.update(found)


def _packed(ratios: tuple[float, ...], rounds: int | None) -> Points:
    """Centres for diameters of these ratios, the largest being 1."""
    easy = _without_search(ratios)
    if easy is not None:
        return easy
    if rounds is not None:
        return _worked_out(ratios, rounds)
    if ratios not in _SEARCHED:
        _SEARCHED[ratios] = _worked_out(ratios, None)
    return _SEARCHED[ratios]


@lru_cache(maxsize=512)
def _worked_out(ratios: tuple[float, ...], rounds: int | None) -> Points:
    radii = np.array(ratios) / 2
    hung = _in_holes(ratios, rounds)
    if hung is not None:
        return _points(hung)
    search = _hops if len(radii) <= MOST_HOPS else _search
    found = search.search(radii, search.effort_for(radii, rounds))
    if len(radii) <= 300:
        found = _polish.polished(found, radii)
    return _points(_narrowest(radii, [found, np.array(_first(ratios))]))


@lru_cache(maxsize=512)
def _first(ratios: tuple[float, ...]) -> Points:
    easy = _without_search(ratios)
    if easy is not None:
        return easy
    n, radii = len(ratios), np.array(ratios) / 2
    if ratios[-1] == ratios[0]:
        return _points(_narrowest(radii, [_seeds.hexagonal(n, offset, 1.0) for offset in _seeds.HEX_OFFSETS]))
    return _points(_holes.grown(radii) if n <= 60 else _holes.ringed(radii))


def _without_search(ratios: tuple[float, ...]) -> Points | None:
    """Closed forms and the packaged table."""
    radii = [ratio / 2 for ratio in ratios]
    if len(radii) == 1:
        return ((0.0, 0.0),)
    if len(radii) == 2:
        return tuple(_exact.pair_centres(*radii)[1])
    if len(radii) == 3:
        return tuple(_exact.triple_centres(radii))
    if ratios[-1] == ratios[0]:
        return _tabled(len(ratios))
    return None


@lru_cache(maxsize=256)
def _tabled(count: int) -> Points | None:
    """Centres of equal circles of diameter 1 from the packaged table, or None beyond it."""
    for row in tables.rows("packing_centres"):
        if int(row["n"]) == count:
            return _points(_centres_code.centres_of(row["centres"]))
    return None


def _in_holes(ratios: tuple[float, ...], rounds: int | None) -> Floats | None:
    """A packing of the few largest whose holes take all the rest, or None: no circle is smaller than those few need."""
    radii = np.array(ratios) / 2
    for k in range(2, min(len(radii), 20)):
        if ratios[k] == ratios[k - 1] or not _could_hold(ratios[:k], radii):
            continue
        # A glance first; only where the rest fits is the core worth a search of its own.
        if _hung(ratios[:k], radii, 0) is not None:
            whole = _hung(ratios[:k], radii, rounds)
            if whole is not None:
                return whole
    return None


def _could_hold(core_ratios: tuple[float, ...], radii: Floats) -> bool:
    """False where even a quick packing of the core has no room for the area of all: its best one is no wider."""
    core = _polish.spread_apart(np.array(_first(core_ratios)), radii[: len(core_ratios)])
    return _polish.container_radius(core, radii[: len(core_ratios)]) >= math.sqrt(float(np.sum(radii**2)))


def _hung(core_ratios: tuple[float, ...], radii: Floats, rounds: int | None) -> Floats | None:
    """The core packed with so many rounds, the rest in its holes, or None where they do not fit."""
    k = len(core_ratios)
    core = _polish.spread_apart(np.array(_packed(core_ratios, rounds)), radii[:k])
    core, container = _polish.recentred(core, radii[:k])
    if container < math.sqrt(float(np.sum(radii**2))):
        return None
    return _holes.filled(core, radii[:k], radii[k:], container)


def _narrowest(radii: Floats, candidates: list[Floats]) -> Floats:
    spread = [_polish.spread_apart(centres, radii) for centres in candidates]
    return min(spread, key=lambda centres: _polish.container_radius(centres, radii))


def _points(centres: Floats) -> Points:
    return tuple((float(x), float(y)) for x, y in centres)


def _least_gap(centres: Floats, radii: Floats) -> float:
    if len(radii) < 2:
        return math.inf
    least = math.inf
    for k in range(len(radii) - 1):
        apart = np.hypot(centres[k + 1 :, 0] - centres[k, 0], centres[k + 1 :, 1] - centres[k, 1])
        least = min(least, float((apart - radii[k + 1 :] - radii[k]).min()))
    return least


def _known_ratios() -> tuple[tuple[int, float], ...]:
    """Published best-known container over circle, by number of equal circles."""
    found = tables.rows("packing_best_known")
    return tuple((int(row["n"]), float(row["enclosing_over_circle"])) for row in found)


def _proved_ratios() -> tuple[tuple[int, float], ...]:
    return tuple((n, ratio) for n, ratio in _known_ratios() if n in _exact.PROVED_EQUAL)
