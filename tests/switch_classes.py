"""Every way in which up to six circuits may be lit in two to four states: 673 classes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, permutations


def classes(count: int) -> list[tuple[int, ...]]:
    """Families of 1 to 6 different sets of states (bits of a number), up to renaming the states."""
    turned = [
        [sum(1 << p[k] for k in range(count) if s >> k & 1) for s in range(1 << count)]
        for p in permutations(range(count))
    ]
    seen: set[tuple[int, ...]] = set()
    out = []
    for size in range(1, 7):
        for chosen in combinations(range(1, 1 << count), size):
            if chosen not in seen:
                seen.update(tuple(sorted(turn[s] for s in chosen)) for turn in turned)
                out.append(chosen)
    return out


def circuits_of(sets: Sequence[int], states: Sequence[str]) -> dict[str, list[str]]:
    """A circuit for each set, by the states in which it is lit."""
    return {f"c{s}": [name for k, name in enumerate(states) if s >> k & 1] for s in sets}
