"""Design through one door in tests: what always holds is asserted of every design that any test makes."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

from rushlight.files.drawer_csv import read_drawer
from rushlight.files.own_values import own_values
from rushlight.files.plan_yaml import parse_plan
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.model.design_loom import Loom
from rushlight.model.finding import Finding
from rushlight.model.plan import Plan
from rushlight.stages.pipeline import design
from rushlight.stages.rhythms import idle_a, made_rhythms
from rushlight.tables import rows
from rushlight.working_plan import changed

PACKAGED = read_drawer(None)


def planned(text: str) -> Plan:
    """A plan from YAML text."""
    return parse_plan(text, "plan.yaml", PACKAGED)


def designed(plan: Plan | str) -> Design:
    """A design with every law of nature and bookkeeping asserted."""
    read = planned(plan) if isinstance(plan, str) else plan
    made = design(read, own_values(PACKAGED, read))
    each_lamp_is_fed_once(made)
    currents_add_up(made)
    light_never_grows(made)
    lengths_agree(made.loom)
    trees_are_trees(made.loom)
    order_is_kept(made)
    return made


def cured(made: Design, finding: Finding) -> Design:
    """The design after the edit that a finding offers."""
    edit = cure_of(made, finding)
    assert edit is not None, f"{finding.key} of {finding.item} offers no edit"
    return designed(changed(made.plan, edit.changes))


def each_lamp_is_fed_once(made: Design) -> None:
    """Every lit lamp with a place has exactly one emitter, or is named as not routed."""
    fed = [lamp for emitter in made.loom.emitters for lamp in emitter.lamps]
    assert len(fed) == len(set(fed))
    lost = {row.item for row in made.loom.unrouted}
    for lamp in made.lamps:
        if lamp.states and lamp.spot is not None and not lamp.dark:
            assert lamp.name in fed or lamp.name in lost, f"{lamp.name} is neither fed nor named as lost"
        if not lamp.states:
            assert lamp.name not in fed


def currents_add_up(made: Design) -> None:
    """What the supply gives is what the lamps and the makers of rhythms take, and power in equals power out."""
    idle = idle_a(made.plan, made_rhythms(made.plan, made.circuits, made.loom))
    for state in made.power.states:
        branches = {emitter.name: max(emitter.segments, 1) for emitter in made.loom.emitters}
        taken = sum(row.current_a.typical * branches[row.emitter] for row in state.lit if not made.loom.beyond(row.emitter))
        makers = idle * state.supply_v / made.power.supply.nominal_v if made.power.supply else 0.0
        assert math.isclose(taken + makers, state.supply_a.typical, rel_tol=1e-6, abs_tol=2e-6 + 1e-3 * makers)
        assert state.supply_a.low <= state.supply_a.typical <= state.supply_a.high
        lamps_w = sum(row.terminal_v * row.current_a.typical * branches[row.emitter] for row in state.lit)
        assert lamps_w <= state.power_w * (1 + 1e-9) + 1e-9


def light_never_grows(made: Design) -> None:
    """All tails of a bundle together carry no more than their LED gives."""
    from rushlight.stages.parts_law import led_flux_lm

    for state in made.power.states:
        amps = {row.emitter: row.current_a.typical for row in state.lit}
        for emitter in made.loom.emitters:
            if emitter.kind == "illuminator" and emitter.name in amps:
                out = sum(
                    row.flux_lm.typical for row in made.light.lamps
                    if row.state == state.state and row.lamp in emitter.lamps
                )
                assert out <= led_flux_lm(made.drawer.led(emitter.part_row), amps[emitter.name]).typical * (1 + 1e-9)


def lengths_agree(loom: Loom) -> None:
    """No lead or tail is cut shorter than its drawn route."""
    for wire in (*loom.leads, *loom.tails):
        drawn = sum(
            math.dist(a, b) for leg in wire.legs for a, b in zip(leg.points_mm, leg.points_mm[1:], strict=False)
        )
        assert wire.length_mm >= drawn - 1e-6
        assert wire.cut_mm >= wire.length_mm


def trees_are_trees(loom: Loom) -> None:
    """Each net is one tree: one lead fewer than it has ends, all of them joined; 3 leads or more a splice."""
    emitters = {emitter.name for emitter in loom.emitters}
    for string in loom.strings:
        links = [(lead.start, lead.end) for lead in loom.leads if lead.net == "link" and lead.start in string.emitters]
        assert links == list(pairwise(string.emitters))
    for net in {(lead.net, lead.circuit) for lead in loom.leads if lead.net != "link"}:
        leads = [lead for lead in loom.leads if (lead.net, lead.circuit) == net]
        ends = {end for lead in leads for end in (lead.start, lead.end)}
        assert len(leads) == len(ends) - 1
        for end in ends & emitters:
            assert sum(end in (lead.start, lead.end) for lead in leads) == 1
    for splice in loom.splices:
        assert len(splice.leads) >= 3
    assert len({lead.name for lead in loom.leads}) == len(loom.leads)


def order_is_kept(made: Design) -> None:
    """Every step comes after all that it needs, also across steps that this build leaves out."""
    for step in made.order.steps:
        assert all(earlier < step.number for earlier in step.after)
    for late in made.order.steps:
        for early in made.order.steps:
            same = late.part is None or early.part is None or late.part == early.part
            if same and early.key in all_before(late.key):
                assert early.number < late.number, f"{early.key} {early.part} must come before {late.key} {late.part}"


@cache
def all_before(key: str) -> frozenset[str]:
    """Every step that must come before a step, over any number of constraints of the table."""
    direct = {row["before"] for row in rows("build_precedence") if row["after"] == key}
    return frozenset(direct).union(*(all_before(earlier) for earlier in direct))
