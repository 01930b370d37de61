"""Which measurement is best made first: how many likely faults it, and the best one after it, leave on average."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.stages.fault_looks import Looks
from rushlight.stages.fault_probe import APART_OHM, COPPER_V, DIODE_V, JOINED_OHM, LED_V, THROUGH_V
from rushlight.stages.fault_seen import Probe

Array = NDArray[np.float64]

AHEAD = 40
"""So many measurements are thought of together with the one after them: those that are best alone."""

MOST_WORK = 40_000_000
"""Measurements times measurements times groups to the third: with very many groups fewer are thought of."""

STEPS = {"ohms": ((JOINED_OHM,), (APART_OHM,)), "diode": ((COPPER_V, THROUGH_V), (DIODE_V, LED_V))}
"""What only ever shows one of a few things: the most of each but the last, and the least of each but the first."""

TIE = 1e-6
"""Of measurements that differ by less the easier one."""


@dataclass(frozen=True, slots=True)
class Ends:
    """What a probe shows in each case: least and most, with what a reading may be off, shape (cases, 2).

    loose: cases in which that is only roughly known, shape (cases,).
    """

    ends: Array
    room: Array
    loose: NDArray[np.bool_]

    def some(self, cases: list[int]) -> Ends:
        """The same of some cases."""
        return Ends(self.ends[cases], self.room[cases], self.loose[cases])

    def one(self, cases: Sequence[int]) -> tuple[float, float]:
        """Least and most over some cases."""
        return float(self.ends[list(cases), 0].min()), float(self.ends[list(cases), 1].max())

    def apart(self) -> NDArray[np.bool_]:
        """For each two cases whether no reading fits both."""
        least, most = self.ends[:, 0] - self.room[:, 0], self.ends[:, 1] + self.room[:, 1]
        return np.asarray((least[:, None] > most[None, :]) | (least[None, :] > most[:, None]))

    def fits(self) -> Array:
        """For each case, how likely a reading taken in it fits each."""
        least, most = self.ends[:, 0] - self.room[:, 0], self.ends[:, 1] + self.room[:, 1]
        share = _overlap(least, most)
        rough = self.loose[:, None] | self.loose[None, :]
        return np.where(rough & (share > 0), 1.0, share)


def survival(shown: Ends | Looks, probe: Probe, sizes: Sequence[int]) -> Array:
    """How likely each group still fits after the probe, for each group that is the truth, shape (groups, groups).

    Parameters
    ----------
    shown : Ends or Looks
        What the probe shows in each case.
    probe : Probe
        The probe.
    sizes : sequence of int
        Number of cases of each group, in order.

    Notes
    -----
    A reading is taken as evenly spread between the ends of its case, unless that is loose. What an ohmmeter shows is
    only ever a few ohm, or far more, and the diode test nothing, a diode's drop or OL. What is nought here is sure to
    be told apart.
    """
    if isinstance(shown, Looks):
        fits = 1.0 - shown.apart()
    elif probe.kind in STEPS:
        (low, high), (most, least) = shown.ends.T, STEPS[probe.kind]
        fits = _overlap(np.searchsorted(least, low, side="right"), np.searchsorted(most, high) + 1.0)
    else:
        fits = shown.fits()
    first = np.cumsum([0, *sizes[:-1]])
    of_group = np.minimum(np.add.reduceat(fits, first, axis=1), 1.0)
    found = np.add.reduceat(of_group, first, axis=0) / np.array(sizes, float)[:, None]
    np.fill_diagonal(found, 1.0)
    return np.asarray(found)


def _overlap(least: Array, most: Array) -> Array:
    """Share of each row's range that lies in each column's."""
    shared = np.minimum(most[:, None], most[None, :]) - np.maximum(least[:, None], least[None, :])
    return np.asarray(np.maximum(shared, 0.0) / (most - least)[:, None])


def best_first(left: Array, weight: Array) -> int:
    """The probe to begin with.

    Parameters
    ----------
    left : array of float, shape (probes, groups, groups)
        From `survival`: of each probe, for each group that is the truth, how likely each still fits.
    weight : array of float, shape (groups,)
        Faults in each group.

    Returns
    -------
    int
        The probe after which, with the probe that then does best, the logarithm of the number of groups that still
        fit is least on average. Of equals the first, as the easiest.
    """
    share = weight / weight.sum()
    unique = np.sort(np.unique(left.reshape(len(left), -1), axis=0, return_index=True)[1])
    alone = _bits(left[unique], share)
    groups = len(weight)
    most = int(min(AHEAD, max((MOST_WORK / groups**3) ** 0.5, 4)))
    order = np.argsort(np.round(alone / TIE), kind="stable")[:most]
    some = left[unique[order]]
    two = np.array([_after(one, some, share) for one in some])
    best = np.lexsort((unique[order], np.round(alone[order] / TIE), np.round(two / TIE)))[0]
    return int(unique[order[best]])


def _bits(left: Array, share: Array) -> Array:
    """Logarithm of the groups left on average, for each probe [bit]."""
    return np.asarray(np.log2(left.sum(axis=2)) @ share)


def _after(one: Array, others: Array, share: Array) -> float:
    """The same after a probe and, whatever it shows, the one that then does best."""
    rows, back = np.unique(one, axis=0, return_inverse=True)
    likely = np.bincount(back.ravel(), weights=share)
    chance = rows * share  # of each group being the truth, given what the first probe showed
    chance /= chance.sum(axis=1, keepdims=True)
    counts = others @ rows.T  # (probes, groups, rows): groups that fit both
    bits = np.einsum("pgr,rg->pr", np.log2(np.maximum(counts, 1.0)), chance)
    return float(likely @ bits.min(axis=0))
