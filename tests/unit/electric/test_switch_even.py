"""Steering diodes laid so that no lamp's light steps: by brute force, by a solve, and in a whole loom."""

from __future__ import annotations

import itertools
import random

import pytest

from rushlight.electric.switch import STEP_SEEN, SwitchKind, mixed_nets, step_of, switch_plans
from rushlight.electric.switch_even import MOST_NETS, even_layout
from rushlight.electric.switch_proof import proof, proofs
from rushlight.electric.switch_stuck import stuck_contacts

STATES = ("a", "b", "c", "d")


def wafer(poles: int, throws: int = 4) -> SwitchKind:
    return SwitchKind(f"{poles}P{throws}T", f"{poles}P{throws}T", "rotary", poles, throws, False, 0.3, "made up")


def circuits(seed: int) -> dict[str, tuple[str, ...]]:
    rng = random.Random(seed)
    subsets = [lit for size in (1, 2, 3) for lit in itertools.combinations(STATES, size)]
    return {f"C{k}": lit for k, lit in enumerate(rng.sample(subsets, rng.randint(2, 7)))}


@pytest.mark.parametrize("poles", [1, 2, 3])
def test_every_position_lights_its_own_and_no_lamp_steps(poles: int) -> None:
    """Forty random sets of lamps: solved, one current for each lamp in all of its states, no sneak path when stuck."""
    plans = []
    for seed in range(40):
        lit = circuits(seed)
        found = switch_plans(STATES, lit, kinds=[wafer(poles)], steps=dict.fromkeys(lit, 1.6))
        plans.append(next(plan for plan in found if plan.family != "plain"))
    for plan, shown in zip(plans, proofs(plans), strict=True):
        assert shown.wrong == () and not mixed_nets(plan)
        for row in shown.current_a:
            lit = row[row > 1e-4]
            assert lit.max() < 1.02 * lit.min()  # the supply sags by its half ohm; a diode would take a tenth
    for plan in plans[:12]:
        assert not [row for row in stuck_contacts(plan) if row.sneaks or row.shorts]


def test_the_nets_are_shared_out_with_the_fewest_diodes() -> None:
    """Against every way of sharing them out, counted by `even_layout` itself on one pole at a time."""
    for seed in range(12):
        nets = tuple(frozenset(STATES.index(state) + 1 for state in lit) for lit in circuits(seed).values())
        least = min(
            sum(_alone(tuple(net for net, pole in zip(nets, share, strict=True) if pole == at)) for at in (0, 1))
            for share in itertools.product((0, 1), repeat=len(nets))
        )
        layout = even_layout(nets, 2)
        assert layout is not None and len(layout.diodes) == least


def _alone(nets: tuple[frozenset[int], ...]) -> int:
    layout = even_layout(nets, 1)
    assert layout is not None
    return len(layout.diodes)


def test_one_lamp_more_in_each_state_takes_a_diode_on_every_branch() -> None:
    """{a}, {a, b}, {a, b, c} on one pole: the smallest is straight, the others are behind a diode throughout."""
    nets = (frozenset({1}), frozenset({1, 2}), frozenset({1, 2, 3}))
    layout = even_layout(nets, 1)
    assert layout is not None and layout.ties == ((1, 1, 0),)
    assert layout.diodes == ((1, 1, 1), (1, 2, 1), (1, 1, 2), (1, 2, 2), (1, 3, 2))


def test_too_many_nets_are_left_to_one_pole() -> None:
    nets = tuple(frozenset({k + 1}) for k in range(MOST_NETS + 1))
    assert even_layout(nets, 2) is None and even_layout(nets, 1) is not None


def test_where_a_diode_is_hardly_seen_the_fewest_are_taken() -> None:
    lit = {"A": ("a", "b", "c"), "B": ("a", "b"), "C": ("a",)}
    few, even = (switch_plans(STATES[:3], lit, kinds=[wafer(1)], steps=dict.fromkeys(lit, step))[0]
                 for step in (1.05, 1.6))
    assert few.diodes and mixed_nets(few) and step_of(few, dict.fromkeys(lit, 1.05)) <= STEP_SEEN
    assert len(even.diodes) > len(few.diodes) and not mixed_nets(even) and proof(even).wrong == ()


def test_a_pole_more_is_taken_in_place_of_diodes() -> None:
    lit = {"A": ("a", "b", "c"), "B": ("a", "b"), "C": ("a",)}
    steps = dict.fromkeys(lit, 1.6)
    two = switch_plans(STATES[:3], lit, kinds=[wafer(1), wafer(2)], steps=steps)[0]
    assert two.poles == 2 and len(two.diodes) < 5 and not mixed_nets(two)
    assert {diode.pole for diode in two.diodes} <= {1, 2}
