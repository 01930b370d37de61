"""What a look and a comparison by eye show with each of many faults."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import UnknownName
from rushlight.stages.fault_known import Bank
from rushlight.stages.fault_seen import Look, Probe, Seen

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

SURELY_DIM, PERHAPS_DIM = 0.3, 0.7
"""A lamp with less than the first share of its light looks dim beside its like, with more than the second it does not
(common practice, no source; lightness goes with about the cube root of light)."""

BOTH_DARK = 0.003
"""Of two lamps below this share of their light neither looks brighter."""


@dataclass(frozen=True, slots=True)
class Looks:
    """What a look shows in each case, shape (cases, emitters); for the meanings see `Look`."""

    emitters: tuple[str, ...]
    dark: Flags
    dim: Flags
    perhaps: Flags
    faint: Flags
    lit: Flags
    perhaps_lit: Flags

    def one(self, case: int) -> Look:
        """The look of one case."""
        return Look(*(self._names(flags[case]) for flags in (
            self.dark, self.dim, self.perhaps, self.faint, self.lit, self.perhaps_lit)))

    def some(self, cases: list[int]) -> Looks:
        """The looks of some cases."""
        return Looks(self.emitters, *(flags[cases] for flags in (
            self.dark, self.dim, self.perhaps, self.faint, self.lit, self.perhaps_lit)))

    def _names(self, flags: Flags) -> frozenset[str]:
        return frozenset(self.emitters[k] for k in np.flatnonzero(flags).tolist())

    def allows(self, seen: Seen) -> Flags:
        """For each case whether somebody could have seen it so; see `Look.allows`."""
        dark, dim = self._flags(seen.dark), self._flags(seen.dim)
        off = (self.dark & ~dark) | (dark & ~(self.dark | self.faint))
        off |= (self.dim & ~(dim | dark)) | (dim & ~(self.perhaps | self.faint))
        if seen.lit is not None:
            lit = self._flags(seen.lit)
            off |= (self.lit & ~lit) | (lit & ~self.perhaps_lit)
        return np.asarray(~off.any(axis=1))

    def _flags(self, names: frozenset[str]) -> Flags:
        return np.array([name in names for name in self.emitters], dtype=bool)

    def apart(self) -> Flags:
        """For each two cases whether nobody could take one for the other; see `Look.differs`."""
        found = np.zeros((len(self.dark), len(self.dark)), bool)
        for sure, perhaps in ((self.dark, self.dark | self.faint), (self.dim, self.perhaps | self.faint),
                              (self.lit, self.perhaps_lit)):
            found |= sure.astype(float) @ (~perhaps).T.astype(float) > 0
        return np.asarray(found | found.T)


def looks_of(sound: Bank, bank: Bank, state: int) -> Looks:
    """What a look shows in each case of a bank; a strip is dark when all its segments are.

    Parameters
    ----------
    sound, bank : Bank
        The first fault of `sound` is none.
    state : int
        Number of the state.
    """
    usual, now = sound.light_a[0, :, state], bank.light_a[:, :, state]
    least, plain = sound.shown_a  # between these one person says dark and another lit
    on, off = sound.on[:, state], usual < least
    share = np.where(on, now / np.where(on, usual, 1.0), 0.0)
    best = share.max(axis=1, initial=0.0, keepdims=True)
    dark = on & (now < least)
    faint = on & ~dark & (now < plain)
    shows = on & ~dark & ~faint
    dim = shows & (share < SURELY_DIM * np.minimum(best, 1.0))
    return _merged(bank, (
        dark, dim, shows & (share < PERHAPS_DIM * np.maximum(best, 1.0)), faint,
        off & (now >= plain), off & (now >= least),
    ))


def _merged(bank: Bank, flags: tuple[Flags, ...]) -> Looks:
    """From rows to cases: what is sure is so at both ends of the range, what may be at one of them."""
    dark, dim, perhaps, faint, lit, perhaps_lit = ((one[bank.rows[0]], one[bank.rows[1]]) for one in flags)
    both = dark[0] & dark[1]
    any_dark = dark[0] | dark[1] | faint[0] | faint[1]
    return Looks(bank.emitters, both, dim[0] & dim[1], perhaps[0] | perhaps[1], any_dark & ~both, lit[0] & lit[1],
                 perhaps_lit[0] | perhaps_lit[1])


def beside(sound: Bank, bank: Bank, probe: Probe, *, cases: Sequence[int] | None = None) -> Array:
    """How an emitter looks beside its like: least and greatest of -1 dimmer, 0 alike, 1 brighter, shape (cases, 2).

    Parameters
    ----------
    sound, bank : Bank
        The first fault of `sound` is none.
    probe : Probe
        State and the two emitters.
    cases : sequence of int, optional
        Those of the bank that are asked for; all when left out.
    Raises
    ------
    UnknownName
        If one of the two is not lit in that state.
    """
    return np.asarray(besides(sound, bank, (probe,), cases=cases)[0])


def besides(sound: Bank, bank: Bank, probes: Sequence[Probe], *, cases: Sequence[int] | None = None) -> Array:
    """What `beside` gives for several probes at once, shape (probes, cases, 2)."""
    states = [sound.table.states.index(probe.state) for probe in probes]
    at = np.array([[_lit_at(sound, name, state, probe.state) for name in (probe.plus, probe.back)]
                   for probe, state in zip(probes, states, strict=True)], np.int64).reshape(len(probes), 1, 2)
    state = np.array(states, np.int64).reshape(len(probes), 1, 1)
    rows = bank.rows if cases is None else bank.rows[:, list(cases)]
    share = np.maximum(bank.light_a[rows[:, None, :, None], at, state] / sound.light_a[0, at, state], BOTH_DARK)
    ratio, sign = share.min(axis=3) / share.max(axis=3), np.where(share[..., 0] > share[..., 1], 1.0, -1.0)
    ends = np.array([np.where(ratio >= SURELY_DIM, 0.0, sign), np.where(ratio >= PERHAPS_DIM, 0.0, sign)])
    return np.stack([ends.min(axis=(0, 1)), ends.max(axis=(0, 1))], axis=2)


def _lit_at(sound: Bank, name: str, state: int, called: str) -> int:
    """Number of an emitter that is lit in a state."""
    on = sound.on[:, state]
    at = sound.at.get(name)
    if at is None or not on[at]:
        raise UnknownName(f"LED that is lit in '{called}'", name, [sound.emitters[k] for k in np.flatnonzero(on)])
    return at
