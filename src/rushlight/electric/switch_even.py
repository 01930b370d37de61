"""Steering diodes laid so that no lamp's light steps between states: each net always behind a diode, or never."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

MOST_NETS = 9
"""Up to so many nets every way of sharing them out over the poles is tried."""

Lit = frozenset[int]
"""Throws that feed a net, from 1."""


@dataclass(frozen=True, slots=True)
class Layout:
    """What is joined to each throw: (pole, throw, net), pole and throw from 1, net from 0; straight, or by a diode."""

    ties: tuple[tuple[int, int, int], ...]
    diodes: tuple[tuple[int, int, int], ...]


def even_layout(nets: tuple[Lit, ...], poles: int) -> Layout | None:
    """The layout of fewest diodes in which every net is fed straight in all of its states or by a diode in all.

    Parameters
    ----------
    nets : tuple of frozensets of int
        For each net the throws that feed it.
    poles : int
        Poles at most.
    Returns
    -------
    Layout or None
        None for more than MOST_NETS nets on more than one pole.
    Notes
    -----
    On one pole a net is straight where every other net of that pole that is lit in any of its states is lit in all of
    them: its throws are then joined, and one diode from there serves all of them. All other nets hang on diodes alone.
    Nets are shared out over the poles exactly, by dynamic programming over sets of nets.
    Source
    ------
    The project's own; each plan is proved by the network's solve.
    """
    if poles > 1 and len(nets) > MOST_NETS:
        return None
    groups = _shared_out(nets, poles) if poles > 1 else (tuple(range(len(nets))),)
    ties, diodes = [], []
    for pole, group in enumerate((group for group in groups if group), 1):
        straight, steered = _on_one_pole(nets, group)
        ties += [(pole, throw, net) for net in straight for throw in sorted(nets[net])]
        diodes += [(pole, throw, net) for net, throw in steered]
    return Layout(tuple(sorted(ties)), tuple(diodes))


def _on_one_pole(nets: Sequence[Lit], group: Sequence[int]) -> tuple[list[int], list[tuple[int, int]]]:
    """Nets that are fed straight, and (net, throw) of every diode; of throws that are joined the first counts."""
    straight = [net for net in group
                if all(nets[net] <= nets[other] for other in group if nets[net] & nets[other])]
    straight = [net for k, net in enumerate(straight) if all(nets[net] != nets[other] for other in straight[:k])]
    joined = {throw: min(nets[net]) for net in straight for throw in nets[net]}
    steered = []
    for net in group:
        if net not in straight:
            steered += [(net, throw) for throw in sorted({joined.get(throw, throw) for throw in nets[net]})]
    return straight, steered


@lru_cache(maxsize=64)
def _shared_out(nets: tuple[Lit, ...], poles: int) -> tuple[tuple[int, ...], ...]:
    """Nets by pole, with the fewest diodes in all."""
    whole = (1 << len(nets)) - 1
    groups = [tuple(net for net in range(len(nets)) if mask >> net & 1) for mask in range(whole + 1)]
    alone = [len(_on_one_pole(nets, group)[1]) for group in groups]
    best, picks = alone, []
    for _ in range(poles - 1):
        best, pick = _with_one_more(alone, best)
        picks.append(pick)
    found, left = [], whole
    for pick in reversed(picks):
        found.append(groups[pick[left]])
        left ^= pick[left]
    return (*found, groups[left])


def _with_one_more(alone: Sequence[int], best: Sequence[int]) -> tuple[list[int], list[int]]:
    """Fewest diodes of every set with one more pole, and which nets that pole then holds."""
    made, pick = [], []
    for mask in range(len(alone)):
        least, own, part = best[mask], 0, mask
        while part:
            total = alone[part] + best[mask ^ part]
            if total < least:
                least, own = total, part
            part = (part - 1) & mask
        made.append(least)
        pick.append(own)
    return made, pick
