"""What a few switches at hand can do: all that is wanted, or the nearest set of states or of circuits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from rushlight.electric.switch import SwitchKind, SwitchPlan, switch_plans
from rushlight.errors import OutOfRange

Lit = Mapping[str, Sequence[str]]
"""For each circuit the states that light it."""


@dataclass(frozen=True, slots=True)
class AtHand:
    """Switches at hand: `dials` can bring up a state a throw; `on_off` are the pieces that can feed one net each."""

    dials: tuple[SwitchKind, ...]
    on_off: tuple[SwitchKind, ...]


@dataclass(frozen=True, slots=True)
class Nearest:
    """The nearest set: the states or circuits that are left out of it, and the switch that brings up the rest."""

    left_out: tuple[str, ...]
    plan: SwitchPlan


def plan_at_hand(
    states: Sequence[str], circuits: Lit, *, at_hand: AtHand, steps: Mapping[str, float] | None = None
) -> SwitchPlan | None:
    """The simplest way to realise some states with what is at hand.

    Parameters
    ----------
    states : sequence of str
        In the order of the positions; 1 to 12.
    circuits : mapping
        For each circuit the states that light it.
    at_hand : AtHand
        The pieces.
    steps : mapping, optional
        As for `switch_plans`.
    Returns
    -------
    SwitchPlan or None
        As `switch_plans` finds it; None where nothing at hand does it.
    Raises
    ------
    OutOfRange, UnknownName
        As `switch_plans`.
    Source
    ------
    `switch_plans`; one on-off switch a net takes as many pieces as there are nets.
    """
    ways = switch_plans(states, circuits, kinds=[*at_hand.dials, *at_hand.on_off], steps=steps)
    return next((plan for plan in ways if _does(plan, at_hand)), None)


def _does(plan: SwitchPlan, at_hand: AtHand) -> bool:
    if not plan.nets:
        return True
    if plan.family == "plain":
        return len(plan.nets) <= len(at_hand.on_off)
    return plan.kind is not None and plan.kind in at_hand.dials


def fewest_states_out(
    states: Sequence[str], circuits: Lit, *, at_hand: AtHand, lamps: Mapping[str, int]
) -> Nearest | None:
    """The nearest set of states: as few as can be are left out.

    Parameters
    ----------
    states, circuits, at_hand
        As for `plan_at_hand`.
    lamps : mapping
        How many lamps each circuit has.
    Returns
    -------
    Nearest or None
        Of sets that leave out equally many states the one that leaves fewest lamps dark for good, then the one that
        leaves out those listed last. None where not even two states can be brought up: one alone takes no switch.
    Raises
    ------
    OutOfRange
        If there are more than 12 states.
    Source
    ------
    Exhaustive; sets that neither the throws nor the number of pieces allow are passed over unsolved.
    """
    if len(states) > 12:
        raise OutOfRange("states", len(states), "12 or fewer")
    for count in range(len(states) - 1):
        for out in sorted(combinations(states, count), key=lambda out: _loss(states, circuits, out, lamps)):
            kept = [state for state in states if state not in out]
            lit = {name: [state for state in own if state in kept] for name, own in circuits.items()}
            plan = plan_at_hand(kept, lit, at_hand=at_hand) if _could(kept, lit, at_hand) else None
            if plan is not None:
                return Nearest(out, plan)
    return None


def _loss(
    states: Sequence[str], circuits: Lit, out: tuple[str, ...], lamps: Mapping[str, int]
) -> tuple[int, list[int]]:
    """Lamps that never burn again, and the places of the states left out, the last ones least."""
    dark = sum(lamps[name] for name, own in circuits.items() if own and set(own) <= set(out))
    return dark, [-list(states).index(state) for state in reversed(out)]


def _could(kept: Sequence[str], lit: Lit, at_hand: AtHand) -> bool:
    throws = max((kind.throws for kind in at_hand.dials), default=0)
    return len(kept) <= throws or len(list(_nets(kept, lit))) <= len(at_hand.on_off)


def _nets(states: Sequence[str], circuits: Lit) -> Iterator[list[str]]:
    """Circuits that share a feed, leaving out those that no switch has to part."""
    found: dict[frozenset[str], list[str]] = {}
    for name, own in circuits.items():
        found.setdefault(frozenset(own), []).append(name)
    yield from (names for own, names in found.items() if own and own != frozenset(states))


def fewest_lamps_out(
    states: Sequence[str], circuits: Lit, *, at_hand: AtHand, lamps: Mapping[str, int]
) -> Nearest | None:
    """The nearest set of circuits for on-off switches: as few lamps as can be are left out, and every state stays.

    Parameters
    ----------
    states, circuits, at_hand, lamps
        As for `fewest_states_out`.
    Returns
    -------
    Nearest or None
        None where there is no on-off switch at hand, or where they can do all anyway.
    Source
    ------
    A net is one switch, so the nets with most lamps stay.
    """
    nets = sorted(_nets(states, circuits), key=lambda names: sum(lamps[name] for name in names))
    spare = len(nets) - len(at_hand.on_off)
    if not at_hand.on_off or spare <= 0:
        return None
    out = {name for names in nets[:spare] for name in names}
    plan = plan_at_hand(states, {name: own for name, own in circuits.items() if name not in out}, at_hand=at_hand)
    return None if plan is None else Nearest(tuple(name for name in circuits if name in out), plan)
