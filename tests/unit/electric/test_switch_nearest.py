"""Switches at hand: what they can do, and the nearest set where they cannot do all."""

from itertools import combinations

import pytest

from rushlight.electric.switch import SwitchKind
from rushlight.electric.switch_nearest import AtHand, fewest_lamps_out, fewest_states_out, plan_at_hand
from rushlight.electric.switch_proof import proof
from rushlight.errors import OutOfRange


def kind(poles: int, throws: int, style: str = "slide") -> SwitchKind:
    return SwitchKind(f"{poles}P{throws}T", f"{poles}P{throws}T", style, poles, throws, False, 0.3, "made up")


TWO_WAY = kind(1, 2)
ONE_LAMP_EACH = {"a": ["A"], "b": ["B"], "c": ["C"]}
COUNTS = {"a": 5, "b": 1, "c": 4}


def test_a_dial_with_throws_enough_does_all_and_is_proved():
    made = plan_at_hand("ABC", ONE_LAMP_EACH, at_hand=AtHand((kind(1, 3),), ()))
    assert made is not None and made.family == "poles" and proof(made).wrong == ()


def test_one_on_off_switch_a_net_takes_as_many_pieces():
    assert plan_at_hand("ABC", ONE_LAMP_EACH, at_hand=AtHand((), (TWO_WAY,) * 2)) is None
    made = plan_at_hand("ABC", ONE_LAMP_EACH, at_hand=AtHand((), (TWO_WAY,) * 3))
    assert made is not None and made.family == "plain"


def test_the_state_that_leaves_fewest_lamps_dark_is_left_out():
    found = fewest_states_out("ABC", ONE_LAMP_EACH, at_hand=AtHand((TWO_WAY,), ()), lamps=COUNTS)
    assert found is not None and found.left_out == ("B",)  # derived: b has one lamp, a five, c four
    assert found.plan.positions == ("A", "C") and proof(found.plan).wrong == ()


def test_of_equal_losses_the_state_listed_last_goes():
    lit = {"all": ["A", "B", "C"], "most": ["A", "B"], "ends": ["A", "C"]}
    found = fewest_states_out("ABC", lit, at_hand=AtHand((TWO_WAY,), ()), lamps={"all": 1, "most": 1, "ends": 1})
    assert found is not None and found.left_out == ("C",)  # derived: no lamp burns in one state only


def test_no_larger_set_can_be_brought_up():
    """Against a search through every set with no shortcut."""
    lit = {"a": ["A", "B"], "b": ["B", "C"], "c": ["D"], "d": ["A", "D"]}
    for at_hand in (AtHand((TWO_WAY,), (TWO_WAY,)), AtHand((kind(2, 3),), ()), AtHand((), (TWO_WAY,) * 2)):
        found = fewest_states_out("ABCD", lit, at_hand=at_hand, lamps=dict.fromkeys(lit, 1))
        most = max(
            count for count in range(1, 5) for kept in combinations("ABCD", count)
            if plan_at_hand(kept, {k: [s for s in own if s in kept] for k, own in lit.items()}, at_hand=at_hand)
        )
        assert found is not None and 4 - len(found.left_out) == most


def test_the_fewest_lamps_are_left_out_where_there_are_too_few_on_off_switches():
    found = fewest_lamps_out("ABC", ONE_LAMP_EACH, at_hand=AtHand((), (TWO_WAY,) * 2), lamps=COUNTS)
    assert found is not None and found.left_out == ("b",)
    assert fewest_lamps_out("ABC", ONE_LAMP_EACH, at_hand=AtHand((), (TWO_WAY,) * 3), lamps=COUNTS) is None
    assert fewest_lamps_out("ABC", ONE_LAMP_EACH, at_hand=AtHand((TWO_WAY,), ()), lamps=COUNTS) is None


def test_nothing_at_hand_is_no_set_and_thirteen_states_are_refused():
    assert fewest_states_out("AB", {"a": "A", "b": "B"}, at_hand=AtHand((), ()), lamps={"a": 1, "b": 1}) is None
    with pytest.raises(OutOfRange, match="12 or fewer"):
        fewest_states_out("ABCDEFGHIJKLM", {"a": "A"}, at_hand=AtHand((), ()), lamps={"a": 1})
