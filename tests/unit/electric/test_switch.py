"""Switches: worked cases, terminals, the 673 classes."""

from collections import Counter

import pytest

from rushlight.electric.switch import (
    SteeringDiode,
    least_colouring,
    solder_table,
    switch_kinds,
    switch_plans,
    terminal,
)
from rushlight.electric.switch_proof import proof, proofs
from rushlight.errors import OutOfRange, UnknownName
from switch_classes import circuits_of, classes


def family(plans, name):
    return next(plan for plan in plans if plan.family == name)


def test_two_states_apart_take_one_changeover_with_centre_off():
    plan = switch_plans(["under way", "anchor"], {"masthead": ["under way"], "all round": ["anchor"]})[0]
    assert (plan.family, plan.poles, plan.kind.key, plan.master) == ("poles", 1, "spdt_off", False)
    assert proof(plan).wrong == ()
    assert [(row.terminal, row.goes_to) for row in solder_table(plan)] == [
        ("2", "supply plus"), ("1", "feed of masthead"), ("3", "feed of all round"),
    ]


def test_a_circuit_lit_in_every_state_goes_behind_a_master_switch():
    plan = switch_plans(["A", "B"], {"x": ["A"], "y": ["B"], "cabins": ["A", "B"]})[0]
    assert plan.always == ("cabins",) and plan.master and plan.poles == 1
    assert proof(plan).wrong == ()
    assert solder_table(plan)[1].goes_to == "cabins, commons of the switch"


def test_inner_set_takes_two_poles_or_one_diode():
    plans = switch_plans(["A", "B", "C"], {"x": ["A"], "y": ["A", "B"], "z": ["C"]})
    assert family(plans, "poles").poles == 2
    assert family(plans, "diodes").diodes == (SteeringDiode(1, 1),)


def test_three_overlapping_pairs_take_three_poles_or_six_diodes():
    plans = switch_plans(["A", "B", "C"], {"x": "AB", "y": "AC", "z": "BC"})
    assert family(plans, "poles").poles == 3 and len(family(plans, "diodes").diodes) == 6
    assert plans[0].family == "poles" and plans[0].kind.key == "rotary_3p4t"


def test_two_overlapping_pairs_take_two_poles_or_two_diodes():
    plans = switch_plans(["A", "B", "C"], {"x": "AB", "y": "AC"})
    assert family(plans, "poles").poles == 2 and len(family(plans, "diodes").diodes) == 2


def test_equal_sets_share_a_feed_and_unlit_circuits_are_named():
    plan = switch_plans(["A", "B"], {"x": "A", "also x": "A", "y": "B", "spare": ""})[0]
    assert plan.nets[0].circuits == ("x", "also x") and plan.never == ("spare",)


def test_all_lit_everywhere_needs_the_master_alone():
    plan = switch_plans(["A"], {"x": "A"})[0]
    assert plan.poles == 0 and plan.master and proof(plan).wrong == ()


def test_a_wrong_tie_is_found_by_the_proof():
    plan = family(switch_plans(["A", "B", "C"], {"x": ["A"], "y": ["A", "B"]}), "diodes")
    ties = (*plan.ties, type(plan.ties[0])(1, 1, 1))
    bad = type(plan)(plan.family, plan.poles, plan.throws, plan.positions, plan.nets, ties, (), plan.always,
                     plan.never, plan.master, plan.kind)
    # a plain wire in place of the diode lets B feed x
    assert proof(bad).wrong == ("'x' glows in 'B'",)
    missing = type(plan)(plan.family, plan.poles, plan.throws, plan.positions, plan.nets, plan.ties, (), plan.always,
                         plan.never, plan.master, plan.kind)
    assert proof(missing).wrong == ("'y' is dark in 'A'",)


def test_without_a_switch_at_hand_the_diode_way_comes_first_or_plain_switches():
    one_pole = tuple(kind for kind in switch_kinds() if kind.poles == 1)
    circuits = {"x": "AB", "y": "AC", "z": "BC"}
    assert switch_plans(["A", "B", "C"], circuits, kinds=one_pole)[0].family == "diodes"
    assert switch_plans(["A", "B", "C"], circuits, kinds=one_pole[:1])[0].family == "plain"
    nothing = switch_plans(["A", "B", "C"], circuits, kinds=())
    assert all(plan.kind is None for plan in nothing)


def test_terminals_are_numbered_once_each():
    for states in (["A", "B"], ["A", "B", "C"], ["A", "B", "C", "D"]):
        circuits = {f"c{k}": states[k:] for k in range(1, len(states))} | {"first": states[:1]}
        for plan in switch_plans(states, circuits):
            names = [terminal(plan, p, t) for p in range(1, plan.poles + 1) for t in range(plan.throws + 1)]
            assert len(set(names)) == len(names)


def test_crown_graph_defeats_the_greedy_way_but_not_this():
    near = [{k for k in range(6) if k != a} for a in range(6)]
    crown = [{k + 6 for k in others} for others in near] + near
    # derived: two sides, so two colours
    assert max(least_colouring(crown)) == 1


def brute_poles(sets, count):
    """Least poles by trying every way to share poles."""
    switched = [s for s in sets if s != (1 << count) - 1]
    best = [len(switched)]

    def place(at, poles):
        if at == len(switched):
            best[0] = min(best[0], len(poles))
            return
        for k, pole in enumerate(poles):
            if not pole & switched[at]:
                place(at + 1, [*poles[:k], pole | switched[at], *poles[k + 1:]])
        if len(poles) + 1 < best[0]:
            place(at + 1, [*poles, switched[at]])

    place(0, [])
    return best[0]


COUNTS = {2: {0: 1, 1: 4}, 3: {0: 1, 1: 10, 2: 14, 3: 13}, 4: {0: 1, 1: 20, 2: 83, 3: 226, 4: 225, 5: 68, 6: 7}}


@pytest.mark.parametrize("count", [2, 3, 4])
def test_all_classes_have_their_least_poles_and_are_proved(count):
    states = [f"s{k}" for k in range(count)]
    found, both = Counter(), []
    for sets in classes(count):
        plans = switch_plans(states, circuits_of(sets, states))
        poles = family(plans, "poles").poles
        assert poles == brute_poles(sets, count)
        found[poles] += 1
        both += [plan for plan in plans if plan.family != "plain"]
    # derived: brute force colouring of every class (the same counts as in the project's study)
    assert dict(found) == COUNTS[count]
    assert [p.wrong for p in proofs(both) if p.wrong] == []


@pytest.mark.parametrize(
    ("call", "error", "words"),
    [
        (lambda: switch_plans([], {}), OutOfRange, "1 to 12 different states"),
        (lambda: switch_plans(["A", "A"], {}), OutOfRange, "1 to 12 different states"),
        (lambda: switch_plans(["anchor"], {"x": ["ancor"]}), UnknownName, "Did you mean 'anchor'"),
        (lambda: terminal(switch_plans(["A", "B"], {"x": "A"})[0], 3, 1), OutOfRange, "pole 1 to 1"),
    ],
)
def test_edges_raise(call, error, words):
    with pytest.raises(error, match=words):
        call()
