"""Fuse, wire, contacts and supply are held against the greatest current: a fresh supply, LEDs of low voltage."""

from __future__ import annotations

from dataclasses import replace

from designed import designed
from plans import SUPPLY_AA, board
from rushlight.findings.electric import fuse_blows, supply_overloaded
from rushlight.findings.electric._currents import lead_currents, most_a
from rushlight.model.design import Design

BLUE = "{name: c, part: board, at_mm: [60, 50], colour: blue, model_mm: 3, states: day, brightness: {intensity_mcd: 100}}"


def fused(design: Design, **values: float) -> Design:
    assert design.power.supply is not None
    return replace(design, power=replace(design.power, supply=replace(design.power.supply, fuse="fuse", **values)))


def test_a_fuse_that_bears_the_middle_of_the_cells_life_alone_is_told() -> None:
    made = designed(board(BLUE, supply=SUPPLY_AA))
    state = max(made.power.states, key=lambda row: row.bench_a.high)
    assert state.bench_a.high > 1.1 * state.supply_a.high  # three fresh cells drive a blue LED much harder
    share = made.drawer.habit("fuse_headroom").high or 0.75
    between = (state.bench_a.high + state.supply_a.high) / 2 / share
    assert fuse_blows.RULE.find(fused(made, fuse_a=between))
    assert not fuse_blows.RULE.find(fused(made, fuse_a=1.01 * state.bench_a.high / share))
    assert supply_overloaded.RULE.find(fused(made, limit_a=(state.bench_a.high + state.supply_a.high) / 2))


def test_leads_carry_the_greatest_current() -> None:
    made = designed(board(BLUE, supply=SUPPLY_AA))
    (current,) = (current for state in made.power.states for current in state.lit)
    assert most_a(current) == current.bench_a.high >= current.fresh_a
    assert max(lead_currents(made).values()) == most_a(current)
