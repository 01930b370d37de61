"""Which tail lies where in its bundle, so that the lamps of a row look equal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice, permutations

import numpy as np
from numpy.typing import NDArray

from rushlight.geometry.bundle import loose_offsets_mm
from rushlight.geometry.circles import Packing
from rushlight.model.design_loom import Tail
from rushlight.model.drawer import Drawer, LedPart
from rushlight.stages.fibre_light import LedJoint, tail_light
from rushlight.units import Range

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

WHOLE_BUNDLE = 0.01
"""Weight of the bundle as a whole beside one row: rows first, then all tails alike (project rule)."""

LEAST_GAIN = 1e-9

INNER_IS_SAFER = 1e-6
"""Of places that get alike, an inner one counts as better by so little a millimetre: an LED glued a little beside
the axis darkens the outer ones first (project rule)."""

BLOCK_STARTS, RANDOM_STARTS = 6, 6
"""Orders that exchanges start from where a bundle feeds several rows."""


@dataclass(frozen=True, slots=True)
class TailWants:
    """What the lamps of tails are wanted for: the row of each lamp, the axial intensity [cd] wanted, its joint."""

    row_of: Mapping[str, str]
    wanted_cd: Mapping[str, float]
    joints: Mapping[str, LedJoint]


def tails_in_places(
    drawer: Drawer, led: LedPart, tied: tuple[Packing, Range], tails: Sequence[Tail], wants: TailWants
) -> tuple[Tail, ...]:
    """Tails with their places, in the packing's order.

    What a tail gives falls with its length and bends, what a place gets falls with its distance from the LED's
    axis. Tails of one row are laid so that the brightest over the dimmest, each over what is wanted of it, is
    least: the weakest of a lone row to the middle; of several rows, each gets inner and outer places.

    Parameters
    ----------
    drawer : Drawer
        Fibres and the joint.
    led : LedPart
        The LED that feeds the bundle.
    tied : tuple of Packing and Range
        The ideal bundle in section, circle k of which has the width of tail k; the bundle's width [mm] as tied by
        hand, over which its places lie apart.
    tails : sequence of Tail
        In the order that the packing was made of.
    wants : TailWants
        Rows and wanted intensities of their lamps.
    Returns
    -------
    tuple of Tail
        The tail of each circle, with its distance from the middle of the bundle as tied by hand [mm].
    Source
    ------
    Pairing in opposite order makes the range of sums least: G. H. Hardy, J. E. Littlewood, G. Polya, Inequalities
    (1934), ch. X, applied to logarithms; exchanges for several rows are checked against all orders in the tests.
    """
    offsets = loose_offsets_mm(*tied)
    own = _own_logs(drawer, led, tails, wants)
    usual = [one.typical for one in offsets]
    places = _place_logs(drawer, led, tails, offsets=usual, joint=wants.joints[tails[0].lamp])
    kinds = {name: number for number, name in enumerate(dict.fromkeys(wants.row_of[tail.lamp] for tail in tails))}
    rows = np.array([kinds[wants.row_of[tail.lamp]] for tail in tails])
    widths = np.array([tail.fibre_mm for tail in tails])
    order = even_order(own, places, rows=rows, widths=widths)
    return tuple(replace(tails[tail], offset_mm=offsets[place]) for place, tail in enumerate(order))


def even_order(own: Floats, places: Floats, *, rows: Ints, widths: Floats) -> Ints:
    """The tail of each place.

    Parameters
    ----------
    own, places : ndarray, shape (n,)
        Logarithms of what each tail gives over what is wanted, and of what each place gets.
    rows : ndarray of int, shape (n,)
        Row of each tail, from 0.
    widths : ndarray, shape (n,)
        Width of each tail [mm]; place k is as wide as tail k.
    Returns
    -------
    ndarray of int, shape (n,)
        Tail of each place, as wide as the place.
    Source
    ------
    See `tails_in_places`.
    """
    orders = _starts(own, places, rows=rows, widths=widths)
    pairs = np.array([(a, b) for a in range(len(own)) for b in range(a) if widths[a] == widths[b]], dtype=np.intp)
    if not len(pairs) or len(orders) == 1:
        return np.asarray(orders[0])
    costs = _unevenness(own[orders] + places, rows[orders])
    while True:
        swapped = _swapped(orders, pairs)
        trials = _unevenness(own[swapped] + places, rows[swapped])
        best = trials.argmin(axis=1)
        at = np.arange(len(orders))
        better = trials[at, best] < costs - LEAST_GAIN
        if not better.any():
            return np.asarray(orders[int(costs.argmin())])
        orders = np.where(better[:, None], swapped[at, best], orders)
        costs = np.where(better, trials[at, best], costs)


def _starts(own: Floats, places: Floats, *, rows: Ints, widths: Floats) -> Ints:
    """Orders to start from, shape (starts, n): all tails paired in opposite order; for several rows also each row
    in a block of places of its own, the rows in various orders, and some at random."""
    kinds, rng = int(rows.max()) + 1, np.random.default_rng(len(own))
    starts = [_paired(own, places, np.zeros(len(own)), widths)]
    if kinds > 1:
        ranks = [*islice(permutations(range(kinds)), BLOCK_STARTS)]
        starts += [_paired(own, places, np.array(rank)[rows], widths) for rank in ranks]
        starts += [_paired(own, places, rng.random(len(own)), widths) for _ in range(RANDOM_STARTS)]
    return np.array(starts, dtype=np.intp)


def _paired(own: Floats, places: Floats, rank: Floats, widths: Floats) -> Ints:
    """The tail of each place: by rank, then the weakest to the place that gets most."""
    order = np.arange(len(own))
    for width in np.unique(widths):
        mine = np.flatnonzero(widths == width)
        best_first = mine[np.lexsort((mine, -places[mine].round(9)))]
        order[best_first] = mine[np.lexsort((mine, own[mine], rank[mine]))]
    return order


def _swapped(orders: Ints, pairs: Ints) -> Ints:
    """Each order with each pair of places exchanged, shape (orders, pairs, n)."""
    swapped, at = np.repeat(orders[:, None], len(pairs), axis=1), np.arange(len(pairs))
    swapped[:, at, pairs[:, 0]], swapped[:, at, pairs[:, 1]] = orders[:, pairs[:, 1]], orders[:, pairs[:, 0]]
    return swapped


def _unevenness(logs: Floats, rows: Ints) -> Floats:
    """Sum over the rows of the squared range of logarithms, and a little of the whole bundle's; of the last axis."""
    cost = WHOLE_BUNDLE * np.ptp(logs, axis=-1) ** 2
    for row in range(int(rows.max()) + 1):
        mine = rows == row
        most = np.where(mine, logs, -np.inf).max(axis=-1)
        least = np.where(mine, logs, np.inf).min(axis=-1)
        cost = cost + (most - least) ** 2
    return np.asarray(cost)


def _own_logs(drawer: Drawer, led: LedPart, tails: Sequence[Tail], wants: TailWants) -> Floats:
    """Logarithm of what each tail gives from the middle of the bundle, over what is wanted of it."""
    inmost = [replace(tail, offset_mm=Range.exactly(0.0)) for tail in tails]
    gives = [tail_light(drawer, led, tail, wants.joints[tail.lamp]).axial_intensity_cd.typical for tail in inmost]
    wanted = [wants.wanted_cd.get(tail.lamp, 1.0) for tail in tails]
    return np.log(np.maximum(gives, 1e-12)) - np.log(np.maximum(wanted, 1e-12))


def _place_logs(
    drawer: Drawer, led: LedPart, tails: Sequence[Tail], *, offsets: Sequence[float], joint: LedJoint
) -> Floats:
    """Logarithm of what a tail gets at each place, turned into its hole alone: a turn evens what places differ by."""
    turned = [replace(tail, bends=tail.bends[-1:], offset_mm=Range.exactly(offset))
              for tail, offset in zip(tails, offsets, strict=True)]
    known: dict[tuple[float, float], float] = {}
    for tail in turned:
        key = (tail.fibre_mm, round(tail.offset_mm.typical, 9))
        if key not in known:
            known[key] = tail_light(drawer, led, replace(tail, length_mm=0.0), joint).axial_intensity_cd.typical
    found = [known[tail.fibre_mm, round(tail.offset_mm.typical, 9)] for tail in turned]
    return np.log(np.maximum(found, 1e-12)) - INNER_IS_SAFER * np.array(offsets)
