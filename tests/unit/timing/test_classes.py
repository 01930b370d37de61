"""Rules that keep sea lights apart, and phases of lights that flash together."""

import pytest

from rushlight.errors import UnknownName
from rushlight.timing.character import parse_rhythm, rhythm_of_steps
from rushlight.timing.classes import NamedRhythm, apart_s, class_breaches, rules_broken, told_apart, unlike_phase


def named(name, text, colour="white", delay_s=0.0):
    rhythm = rhythm_of_steps(text) if ":" in text else parse_rhythm(text)
    return NamedRhythm(name, rhythm, colour, delay_s)


def keys(*lights):
    return [breach.rule for breach in rules_broken(lights)]


@pytest.mark.parametrize(
    ("first", "second", "apart"),
    [
        ("Fl W 5s", "Fl W 15s", True), ("Fl W 5s", "Fl W 14s", False), ("Fl W 5s", "Fl(2) W 5s", True),
        ("Q", "VQ", False), ("Q(3) 10s", "Q(9) 15s", True), ("Iso 4s", "Fl 4s", True), ("Iso 4s", "Iso 6s", False),
        ("Oc 4s", "Oc 12s", True), ("Mo(A) 8s", "Mo(U) 15s", True), ("F", "F", False), ("F", "Fl 5s", True),
    ],
)
def test_told_apart(first, second, apart):
    assert told_apart(parse_rhythm(first), parse_rhythm(second)) == apart
    assert told_apart(parse_rhythm(second), parse_rhythm(first)) == apart


def test_pairs_of_one_colour_are_judged():
    assert keys(named("mole", "Fl R 4s", "red"), named("pier", "Fl R 5s", "red")) == ["ratio"]
    assert keys(named("mole", "Fl R 4s", "red"), named("pier", "Fl G 4s", "green")) == []


def test_yellow_beside_white():
    assert keys(named("mole", "Fl W 4s"), named("buoy", "Fl Y 4s", "yellow")) == ["yellow_white"]
    assert keys(named("mole", "Fl W 4s"), named("buoy", "Fl(3) Y 12s", "yellow")) == []


def test_short_green():
    assert keys(named("buoy", "VQ G", "green")) == ["green_short"]
    assert keys(named("buoy", "Fl G 4s", "green")) == []


def test_long_and_short_in_one_rhythm():
    mixed = rhythm_of_steps("W:0.9;-:1;W:2;-:8")
    wrong = NamedRhythm("mole", type(mixed)("x", mixed.period_s, mixed.steps, "Fl(n)", (2,)))
    assert [breach.rule for breach in rules_broken((wrong,))] == ["long_short"]
    assert keys(named("mole", "VQ(6)+LFl W 10s")) == []
    assert keys(named("mole", "Oc(2+1) W 12s")) == []


def test_a_breach_says_what_was_found_and_asked():
    (breach,) = class_breaches(rhythm_of_steps("W:1.5;-:8.5"), "LFl")
    assert (breach.rule, breach.found, breach.expected) == ("LFl", "a flash of 1.5 s", "2 s or more")
    assert "S-57" in breach.source


def test_unlike_groups_break_their_class():
    rhythm = parse_rhythm("Fl(2) W 10s")
    even = type(rhythm)("even", 4.0, rhythm_of_steps("W:0.5;-:1.5;W:0.5;-:1.5").steps, "Fl(n)", (2,))
    assert any("between groups" in breach.found for breach in class_breaches(even))
    short = type(rhythm)("one", 6.0, rhythm_of_steps("W:0.5;-:5.5").steps, "Fl(a+b)", (2, 1))
    assert any("groups of 2+1" in breach.expected for breach in class_breaches(short))


def test_plain_words_have_no_class():
    assert class_breaches(parse_rhythm("strobe 1 s")) == ()
    with pytest.raises(UnknownName, match="light class 'Flo'"):
        class_breaches(parse_rhythm("strobe 1 s"), "Flo")


def test_two_strobes_together():
    left, right = named("left", "strobe 1.2 s"), named("right", "strobe 1.2 s")
    assert unlike_phase((left, right)) == ()
    late = named("right", "strobe 1.2 s", delay_s=0.3)
    (breach,) = unlike_phase((left, late))
    assert breach.found == "left, right: 0.3 s apart"
    assert apart_s(left, named("right", "strobe 1.2 s", delay_s=1.1)) == pytest.approx(0.1)
    assert apart_s(left, named("right", "strobe 1.3 s")) == float("inf")
    assert unlike_phase((left, named("right", "strobe 1.2 s", delay_s=2.4))) == ()
