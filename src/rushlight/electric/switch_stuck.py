"""A switch with one contact stuck: every contact welded closed, then never closing, solved in every position."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.elements import Network
from rushlight.electric.network import operating_point
from rushlight.electric.switch import ONE_EACH, SwitchPlan, terminal
from rushlight.electric.switch_proof import (
    DARK_A,
    LIT_A,
    closed_contacts,
    proof_circuits,
    proof_columns,
    proof_elements,
    proof_states,
)

OFF = "off"


@dataclass(frozen=True, slots=True)
class Stuck:
    """One contact stuck: `lit` holds for each position its name, what should be lit, what is.

    `sneaks` are (position, circuit) that neither the position nor the stuck contact feeds; `shorts` are positions in
    which current passes the lamps by.
    """

    terminal: str
    pole: int
    welded: bool
    lit: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]
    sneaks: tuple[tuple[str, str], ...]
    shorts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Case:
    row: int
    pole: int
    throw: int
    welded: bool


def stuck_contacts(plan: SwitchPlan) -> tuple[Stuck, ...]:
    """Every contact that feeds anything, welded closed and never closing, one at a time.

    Parameters
    ----------
    plan : SwitchPlan
        The plan; its master switch is closed, and where it has none its own off position is solved too.
    Returns
    -------
    tuple of Stuck
        Two for each contact in use, pole after pole.
    Source
    ------
    The network of `proof`, all cases in one solve.
    """
    cases = list(_cases(plan))
    if not cases:
        return ()
    positions, sound = _sound(plan)
    network = Network.of(proof_elements(plan))
    closed = np.concatenate([_with(sound, case) for case in cases], axis=1)
    point = operating_point(network, proof_columns(network, closed.tolist(), closed.shape[1]))
    row = {element.name: k for k, element in enumerate(network.elements)}
    lamps = point.element_a[[row[f"lamp {name}"] for name in proof_circuits(plan)]]
    supply = np.abs(point.element_a[row["supply"]])
    count = len(positions)
    return tuple(
        _judged(plan, case, positions, lamps[:, k * count:(k + 1) * count], supply[k * count:(k + 1) * count])
        for k, case in enumerate(cases)
    )


def _cases(plan: SwitchPlan) -> Iterator[_Case]:
    used = {(tie.pole, tie.throw) for tie in plan.ties} | {(d.pole, d.throw) for d in plan.diodes}
    for pole, throw in sorted(used):
        for welded in (True, False):
            yield _Case((pole - 1) * plan.throws + throw - 1, pole, throw, welded)


def _sound(plan: SwitchPlan) -> tuple[tuple[str, ...], NDArray[np.bool_]]:
    """Positions, and which contacts (rows) are closed in them while all is well."""
    states = proof_states(plan)
    closed = np.array(closed_contacts(plan, states), bool).reshape(-1, len(states))
    own_off = plan.kind is not None and (plan.kind.centre_off or plan.kind.throws > len(states))
    if plan.family in ONE_EACH or plan.master or not own_off:
        return states, closed
    return (*states, OFF), np.pad(closed, ((0, 0), (0, 1)))


def _with(sound: NDArray[np.bool_], case: _Case) -> NDArray[np.bool_]:
    closed = sound.copy()
    closed[case.row] = case.welded
    return closed


def _judged(plan: SwitchPlan, case: _Case, positions: tuple[str, ...], lamp_a: NDArray[np.float64],
            supply_a: NDArray[np.float64]) -> Stuck:
    names, direct = proof_circuits(plan), _direct(plan, case) if case.welded else set()
    lit, sneaks = [], []
    for k, position in enumerate(positions):
        should = _should(plan, position)
        lit.append((position, should, tuple(n for n, amps in zip(names, lamp_a[:, k], strict=True) if amps > LIT_A)))
        sneaks += [(position, name) for name, amps in zip(names, lamp_a[:, k], strict=True)
                   if amps > DARK_A and name not in should and name not in direct]
    shorts = tuple(positions[k] for k in np.flatnonzero(passed_by(lamp_a, supply_a)))
    return Stuck(terminal(plan, case.pole, case.throw), case.pole, case.welded, tuple(lit), tuple(sneaks), shorts)


def passed_by(lamp_a: NDArray[np.float64], supply_a: NDArray[np.float64]) -> NDArray[np.bool_]:
    """In which columns the supply gives more than its lamps take together: a way past them [A]."""
    past: NDArray[np.bool_] = supply_a > lamp_a.sum(axis=0) + LIT_A
    return past


def _should(plan: SwitchPlan, position: str) -> tuple[str, ...]:
    own = tuple(name for net in plan.nets if position in net.states for name in net.circuits)
    return own + plan.always


def _direct(plan: SwitchPlan, case: _Case) -> set[str]:
    """What a contact feeds by itself."""
    on_pole = {tie.net for tie in plan.ties if tie.pole == case.pole}
    on_pole |= {diode.net for diode in plan.diodes if diode.pole == case.pole}
    if plan.family == "diodes":
        fed = {net for net in on_pole if plan.positions[case.throw - 1] in plan.nets[net].states}
    else:
        fed = {tie.net for tie in plan.ties if (tie.pole, tie.throw) == (case.pole, case.throw)}
    nets = [plan.nets[net] for net in fed]
    return {name for net in nets for name in net.circuits}


def shown(stuck: Stuck) -> str:
    """What one would see with this contact stuck, in words: what lights too, or what stays dark, where."""
    seen = []
    for position, should, lit in stuck.lit:
        where = "off" if position == OFF and not should else f"'{position}'"
        more = ", ".join(name for name in lit if name not in should)
        less = ", ".join(name for name in should if name not in lit)
        seen += [f"{where}: {more} lit too"] if more else []
        seen += [f"{where}: {less} dark"] if less else []
    return "; ".join(seen) or "nothing"
