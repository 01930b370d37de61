"""Faults put into the demos' looms, looked for with a meter that is off as its maker allows."""

from __future__ import annotations

import math
import random
from functools import lru_cache

import pytest

from rushlight.electric.elements import Network, resistor, source, string, wire
from rushlight.electric.fault import Fault
from rushlight.electric.led import law_spread
from rushlight.errors import UnknownName
from rushlight.stages.fault_finding import Look, Probe, Seen, foretold, places, verdict
from rushlight.stages.fault_next import probes_for
from rushlight.stages.fault_probe import (
    Wiring,
    between_v,
    diode_test_v,
    held_nodes,
    joined_places,
    lets_through,
)
from rushlight.stages.fault_seen import KINDS
from rushlight.stages.fault_shows import solved_again
from rushlight.stages.fault_words import fault_words, outcome_words, probe_words
from seeded_faults import METER, Truth, bench, counted, holds, searched


@pytest.mark.parametrize(("name", "count"), [("lantern", 25), ("lighthouse", 4)])
def test_seeded_faults_are_never_excluded_and_mostly_named(name: str, count: int) -> None:
    named, showing, lost = counted(name, count, seed=1)
    assert lost == [] and named >= 0.8 * showing > 0


FULL = (("lantern", 150, 2), ("lighthouse", 200, 3), ("tug", 150, 5))


@lru_cache(maxsize=2)
def five_hundred(drawn: bool) -> tuple[int, int, list[object]]:
    """Named within three proposed measurements, faults that show, and those that were excluded."""
    counts = [counted(name, count, seed, drawn=drawn) for name, count, seed in FULL]
    return sum(row[0] for row in counts), sum(row[1] for row in counts), [fault for row in counts for fault in row[2]]


@pytest.mark.slow
@pytest.mark.parametrize("drawn", [False, True], ids=["plain", "drawn"])
def test_none_of_five_hundred_faults_is_excluded(drawn: bool) -> None:
    assert five_hundred(drawn)[2] == []


@pytest.mark.slow
@pytest.mark.parametrize("drawn", [False, True], ids=["plain", "drawn"])
def test_of_five_hundred_faults_95_percent_are_named(drawn: bool) -> None:
    """Within three proposed measurements; drawn: as the user meets it, whole digits of the range that is proposed."""
    named, showing, _ = five_hundred(drawn)
    assert named >= 0.95 * showing


def test_the_drawn_meter_excludes_nothing_and_shows_whole_digits() -> None:
    named, showing, lost = counted("lantern", 25, seed=1, drawn=True)
    assert lost == [] and named >= 0.8 * showing > 0
    truth = Truth.of(bench("lantern"), Fault("none", ""), drawn=True)
    seen = truth.shown(Probe("supply", "ferry is in"), random.Random(1), [(250.0, 250.0)])
    assert seen.value in (-10.0, 0.0, 10.0, 20.0)  # 4.4 mA in the range of 10 A: 2 digits of 10 mA off
    down = truth.shown(Probe("supply", "ferry is in"), random.Random(1), [(250.0, 250.0), (4.4, 4.4)])
    assert abs(down.value - 4.4) < 0.3  # turned down to 200 mA, as told


def test_nothing_wrong_is_said_to_be_nothing_wrong_and_what_could_still_be_cold() -> None:
    whole = bench("lantern")
    found = searched(whole, Truth.of(whole, Fault("none", "")), random.Random(4))
    assert found.sound and found.hidden_joints
    fuse = next(fault for fault in found.hidden_joints if fault.element == "fuse")
    assert fuse.ohm[0] == 3.0 and fuse.ohm[1] < 1000  # 1 kohm before 4.4 mA from 4.5 V costs more than the meter's 6 %


def test_a_closed_model_is_measured_in_the_bay_alone() -> None:
    whole = bench("lighthouse")
    found = verdict(whole, [Seen(Probe("look", "night"), dark=frozenset({"kitchen west"}))], reach="bay")
    probe = found.next_probe
    assert probe is None or probe.kind != "volts" or (probe.plus.startswith("bay ") and probe.back == "bay R")


def test_an_open_and_a_reversed_led_are_one() -> None:
    whole = bench("lantern")
    found = verdict(whole, [Seen(Probe("look", "evening"), dark=frozenset({"flame"}))])
    together = next(group.faults for group in found.suspects if Fault("open", "flame / 1") in group.faults)
    assert Fault("reversed", "flame / 1") in together


def test_unknown_places_and_states_are_named() -> None:
    whole = bench("lantern")
    with pytest.raises(UnknownName, match="evening"):
        verdict(whole, [Seen(Probe("look", "evning"))])
    with pytest.raises(UnknownName, match="place"):
        verdict(whole, [Seen(Probe("volts", "evening", "nowhere", "bay R"), 1.0)])


def test_what_contradicts_itself_fits_nothing() -> None:
    whole = bench("lantern")
    seen = [Seen(Probe("look", "evening"), dark=frozenset({"flame"})), Seen(Probe("supply", "evening"), 90.0)]
    assert verdict(whole, seen).suspects == ()


def test_every_fault_and_probe_has_words() -> None:
    for name in ("lantern", "lighthouse"):
        whole = bench(name)
        for fault in whole.table.faults:
            text = fault_words(whole.design, fault)
            assert text.endswith(".") and " / " not in text and "_" not in text, text
    probes = [Probe("look", "s"), Probe("supply", "s"), Probe("resistor", "s", "a"), Probe("volts", "s", "bay A", "b-"),
              Probe("beside", "s", "a", "b"), Probe("ohms", "s", "bay +", "bay R"), Probe("diode", "s", "bay +", "bay R")]
    assert all("'s'" in probe_words(probe) for probe in probes)
    assert outcome_words(probes[0], Look(frozenset("a"), frozenset("b"), frozenset("b"))) == "dark: a; dim: b"
    assert outcome_words(probes[3], (2.776, 11.1)) == "2.8 to 11.1 V"
    assert outcome_words(probes[3], (-1e-9, 0.0)) == "0.00 V" and outcome_words(probes[3], (-0.02, 0.3)) == "0.0 to 0.3 V"
    assert outcome_words(probes[3], (-0.02, 0.02)) == "0.00 V"
    assert "200 V DC" in probe_words(probes[3], "200 V DC")
    assert outcome_words(probes[1], (2.0, 11.1)) == "2.0 to 11.1 mA"
    assert outcome_words(probes[4], (-1.0, 0.0)) == "dimmer than b or as bright as b"
    assert outcome_words(probes[5], (0.0, 50.0)) == "a few ohm, under 50"
    assert outcome_words(probes[5], (100.0, 1e7)) == "OL, or far more"
    assert outcome_words(probes[6], (0.0, 0.06)) == "under 0.06 V"
    assert outcome_words(probes[6], (0.11, 0.9)) == "0.11 to 0.9 V"
    assert outcome_words(probes[6], (0.0, 1e7)) == "under 0.9 V or OL, or over 1.2 V"
    assert outcome_words(probes[6], (0.0, 0.9)) == "under 0.9 V" and outcome_words(probes[6], (1.2, 1e7)) == "OL, or over 1.2 V"
    assert "diode test: red probe on the plus behind the fuse" in probe_words(probes[6])


# --- wiring that is mixed up --------------------------------------------------------------------------------------


def found_kinds(name: str, kind: str) -> list[Fault]:
    return [fault for fault in bench(name).table.faults if fault.kind == kind and not fault.blown]


def test_two_feeds_that_touch_light_the_wrong_lamps() -> None:
    """By reason alone: in a state that feeds one circuit only, the other circuit's lamps are lit as well."""
    whole = bench("lantern")
    bridge = Fault("bridged", "node bay A", other="node bay B")
    look = foretold(whole, bridge, Probe("look", "evening"))
    assert isinstance(look, Look) and look.dark == frozenset() and look.lit == {"red glass", "green glass"}
    wrong = Seen(Probe("look", "evening"), lit=frozenset({"red glass", "green glass"}))
    assert holds(verdict(whole, [wrong]), bridge)
    assert not holds(verdict(whole, [Seen(Probe("look", "evening"), lit=frozenset())]), bridge)


def test_swapped_feeds_light_the_one_for_the_other() -> None:
    whole = bench("lantern")
    swapped = Fault("swapped", "lead A1", other="lead B1")
    look = foretold(whole, swapped, Probe("look", "evening"))
    assert isinstance(look, Look) and look.dark == {"flame"} and look.lit == {"red glass", "green glass"}


def test_the_swapped_leads_of_a_lamp_turn_its_voltage_a_turned_led_does_not() -> None:
    whole = bench("lantern")
    places_of = Probe("volts", "evening", "flame+", "flame-")
    swapped = next(one for one in found_kinds("lantern", "swapped") if {one.element, one.other} == {"lead A1", "lead R2"})
    low, high = foretold(whole, swapped, places_of)  # type: ignore[misc]
    turned = foretold(whole, Fault("reversed", "flame / 1"), places_of)
    assert -4.6 < low <= high < -4.3
    assert turned[0] == pytest.approx(-high, abs=0.02)  # type: ignore[index]


def test_a_short_blows_the_fuse_and_an_ohmmeter_finds_its_circuit() -> None:
    whole = bench("lantern")
    dark = [Seen(Probe("look", "evening"), dark=frozenset({"flame"})), Seen(Probe("supply", "evening"), 0.0),
            Seen(Probe("look", "ferry is in"), dark=frozenset({"flame", "red glass", "green glass"}))]
    short = Fault("bridged", "node SB1", other="node SR1", blown=True)
    found = verdict(whole, dark)
    assert holds(found, short) and holds(found, Fault("open", "fuse"))
    assert not holds(verdict(whole, [*dark, Seen(Probe("ohms", "evening", "bay B", "bay R"), 1e7)]), short)
    left = verdict(whole, [*dark, Seen(Probe("ohms", "evening", "bay B", "bay R"), 0.7)])
    assert holds(left, short) and not holds(left, Fault("open", "fuse"))
    assert "The fuse has gone because of it" in fault_words(whole.design, short)


def test_every_mixed_up_lead_lies_within_reach() -> None:
    """No bridge or swap joins what could not touch: each is in the bay, at one lamp, or between near splices."""
    whole = bench("lighthouse")
    spots = {f"node {row.name}": row.spot for row in whole.design.loom.splices}
    bridges = found_kinds("lighthouse", "bridged")
    for one in bridges:
        if one.element in spots and one.other in spots:
            a, b = spots[one.element], spots[one.other]
            assert a.part == b.part and (a.x_mm - b.x_mm) ** 2 + (a.y_mm - b.y_mm) ** 2 <= 60.0**2
    assert len(bridges) > 50 and "bay +" in places(whole)


# --- two at once, joints that are a little cold, no meter at all --------------------------------------------------


def test_two_faults_are_found_and_said_to_be_two() -> None:
    whole = bench("lantern")
    parts = (Fault("open", "flame / 1"), Fault("short", "red glass / 1"))
    both = Fault("two", "flame / 1", other="red glass / 1", parts=parts)
    found = searched(whole, Truth.of(whole, both), random.Random(2))
    assert found.double and holds(found, both)
    words = fault_words(whole.design, next(one for group in found.suspects for one in group.faults))
    assert words.startswith("Two at once: ")


def test_a_look_with_lamps_that_should_be_dark_among_the_dark_ones_is_the_same_look() -> None:
    whole = bench("lantern")
    plain = verdict(whole, [Seen(Probe("look", "evening"), dark=frozenset({"flame"}))])
    more = verdict(whole, [Seen(Probe("look", "evening"), dark=frozenset({"flame", "red glass"}))])
    assert plain == more


def test_a_cold_joint_is_told_with_its_range() -> None:
    """A joint of 40 ohm in the supply's own lead, found by what drops along it, holds 40 ohm in what is told."""
    whole = bench("lantern")
    wire_ohm = next(element.ohm for element in whole.network.elements if element.name == "lead B1")
    cold = Fault("poor joint", "lead B1", (wire_ohm + 40.0) / wire_ohm, ohm=(40.0, 40.0))
    truth, chance = Truth.of(whole, cold), random.Random(3)
    seen = [truth.shown(Probe("volts", "ferry is in", "bay B", "SB1"), chance)]
    told = [one for group in verdict(whole, seen, meter=METER).suspects for one in group.faults if one.element == "lead B1"]
    assert [one.kind for one in told] == ["poor joint"] and told[0].ohm == (30.0, 100.0)


def test_lamps_beside_each_other_stand_for_a_meter() -> None:
    """A lamp dimmer than its like is never explained by something that dims both, nor by nothing."""
    whole = bench("lighthouse")
    seen = [Seen(Probe("beside", "night", "street lamps 1", "street lamps 2"), -1.0)]
    found = verdict(whole, seen)
    assert not found.sound and found.suspects
    cold = [one for group in found.suspects for one in group.faults if one.kind == "poor joint"]
    assert cold and all("fuse" not in one.element for one in cold)
    with pytest.raises(UnknownName, match="is lit in"):
        verdict(whole, [Seen(Probe("beside", "night", "street lamps 1", "nobody"), 0.0)])


# --- a meter on a place that hangs in the air ---------------------------------------------------------------------

RED = law_spread("red").typical
SMALL = Network.of([
    source("supply", "plus", "minus", emf_v=12.0, inner_ohm=0.1), wire("lead", "plus", "lamp+", ohm=0.1),
    string("led", "lamp+", "lamp-", laws=[RED], ohm=1000.0), wire("back", "lamp-", "minus", ohm=0.1),
    resistor("bleed", "plus", "minus", ohm=1e5),
])
VOLTS = {"plus": 12.0, "minus": 0.0, "lamp+": 0.0, "lamp-": 0.0}


def test_an_open_plus_lead_reads_through_its_led() -> None:
    """Kirchhoff by hand: 12 V, less what a red LED takes at a microampere (1.3 to 1.7 V), is over the meter."""
    fault = Fault("open", "lead")
    wiring = Wiring(SMALL, frozenset(), fault)
    held = held_nodes(wiring)
    assert held == {"plus", "minus", "lamp-"}
    low, high = between_v(wiring, ("plus", "lamp+"), node_v=VOLTS, held=held)
    assert low < 12.0 - 1.7 and high >= 12.0 - 1.3
    assert between_v(wiring, ("lamp+", "minus"), node_v=VOLTS, held=held) == (0.0, 0.0)


def test_an_open_return_lead_is_pulled_up() -> None:
    fault = Fault("open", "back")
    wiring = Wiring(SMALL, frozenset(), fault)
    held = held_nodes(wiring)
    low, high = between_v(wiring, ("lamp-", "minus"), node_v={**VOLTS, "lamp+": 12.0}, held=held)
    assert low < 12.0 - 1.7 and high >= 12.0 - 1.3
    assert between_v(wiring, ("plus", "lamp-"), node_v={**VOLTS, "lamp+": 12.0}, held=held) == (0.0, 0.0)


def test_an_ohmmeter_sees_copper_alone() -> None:
    sound = Fault("none", "")
    assert joined_places(Wiring(SMALL, frozenset(), sound), "plus") == {"plus", "lamp+"}
    assert joined_places(Wiring(SMALL, frozenset(), Fault("short", "bleed")), "plus") == {"plus", "lamp+", "minus", "lamp-"}
    assert joined_places(Wiring(SMALL, frozenset(), Fault("open", "lead")), "plus") == {"plus"}


def test_the_diode_test_goes_through_one_steering_diode_and_over_no_led() -> None:
    """By hand: behind the diode lies a bridge, an LED, an LED that is bridged (its resistor alone stays)."""
    elements = [
        source("supply", "plus", "minus", emf_v=12.0, inner_ohm=0.1), string("diode 1.A", "plus", "feed", laws=[RED]),
        string("lamp / 1", "feed", "minus", laws=[RED], ohm=1000.0), wire("lead", "feed", "end", ohm=0.1),
    ]
    whole = Network.of(elements)
    bridge = Network.of([*elements, resistor("joint 0", "end", "minus", ohm=1e-3)])
    asked = [(Wiring(network, frozenset(), fault), plus, back) for network, fault, plus, back in (
        (whole, Fault("none", ""), "plus", "minus"), (whole, Fault("none", ""), "plus", "end"),
        (whole, Fault("none", ""), "end", "plus"), (bridge, Fault("none", ""), "plus", "minus"),
        (bridge, Fault("open", "diode 1.A"), "plus", "minus"), (bridge, Fault("reversed", "diode 1.A"), "plus", "minus"),
        (whole, Fault("short", "lamp / 1"), "plus", "minus"), (whole, Fault("short", "diode 1.A"), "end", "plus"),
        (whole, Fault("none", ""), "feed", "end"),
    )]
    assert [lets_through(*one) for one in asked] == [
        (False, False), (True, True), (False, False), (True, True), (False, False), (False, False), (False, True),
        (True, True), (True, True),
    ]
    led, diode, copper, perhaps = (1.2, 1e7), (0.11, 0.9), (0.0, 0.06), (0.0, 1e7)
    assert [diode_test_v(*one) for one in asked] == [
        led, diode, led, diode, led, led, perhaps, (0.0, 0.9), copper,
    ]


def test_behind_steering_diodes_a_short_is_sought_with_the_diode_test() -> None:
    """In the tug most circuits pass a diode: an ohmmeter behind the fuse sees none of their shorts."""
    whole = bench("tug")
    short = next(case.fault for case in whole.bank.cases if case.fault.kind == "bridged" and case.fault.blown
                 and case.fault.element.startswith("node bay ") and case.fault.other == "node bay R"
                 and max(foretold(whole, case.fault, Probe("diode", state, "bay +", "bay R"))[1]
                         for state in whole.table.states) > 1)
    lit = [state for state in whole.table.states if foretold(whole, short, Probe("diode", state, "bay +", "bay R"))[1] < 1]
    assert lit and len(lit) < len(whole.table.states)
    seen = [Seen(Probe("supply", state), 0.0) for state in whole.table.states]
    seen += [Seen(Probe("look", state), dark=frozenset(whole.bank.emitters)) for state in whole.table.states]
    found = verdict(whole, seen, ways=("volts", "diode"))
    assert found.next_probe and found.next_probe.kind == "diode"
    assert holds(verdict(whole, [*seen, Seen(Probe("diode", lit[0], "bay +", "bay R"), 0.61)], ways=KINDS), short)
    assert not holds(verdict(whole, [*seen, Seen(Probe("diode", lit[0], "bay +", "bay R"), 1e7)], ways=KINDS), short)


def test_a_splice_in_the_air_is_pulled_through_the_lamps_beyond_its_leads() -> None:
    """Kirchhoff by hand: two leads after a broken one; the meter pulls the splice up through the LED at their end."""
    network = Network.of([
        source("supply", "plus", "minus", emf_v=12.0, inner_ohm=0.1), wire("lead", "plus", "splice", ohm=0.1),
        wire("branch", "splice", "lamp+", ohm=0.1), string("led", "lamp+", "link", laws=[RED], ohm=1000.0),
        string("second", "link", "minus", laws=[RED]), resistor("bleed", "plus", "minus", ohm=1e5),
    ])
    wiring = Wiring(network, frozenset(), Fault("open", "lead"))
    held = held_nodes(wiring)
    low, high = between_v(wiring, ("plus", "splice"), node_v={"plus": 12.0, "minus": 0.0}, held=held)
    assert held == {"plus", "minus"} and low < 12.0 - 2 * 1.7 and high >= 12.0 - 2 * 1.3
    assert between_v(wiring, ("splice", "lamp+"), node_v={"plus": 12.0, "minus": 0.0}, held=held) == (0.0, 0.0)


def test_a_diode_holds_what_it_joins_while_it_carries() -> None:
    network = Network.of([
        source("supply", "plus", "minus", emf_v=12.0, inner_ohm=0.1), wire("tie", "plus", "net 1", ohm=0.1),
        string("diode 2.B", "throw 2", "net 1", laws=[RED]), string("diode 1.A", "net 1", "net 2", laws=[RED]),
        wire("other", "throw 2", "net 3", ohm=0.1), wire("on", "net 2", "splice", ohm=0.1),
    ])
    wiring = Wiring(network, frozenset(), Fault("none", ""))
    assert held_nodes(wiring, {"diode 1.A"}) == {"plus", "minus", "net 1", "net 2", "splice"}
    low, high = between_v(wiring, ("splice", "minus"), node_v={"plus": 12.0, "minus": 0.0, "net 1": 12.0},
                          held=held_nodes(wiring))
    assert low < 11.0 and high == 12.0  # the diode takes its share of what a meter draws


def test_what_a_fault_breaks_or_joins_is_as_if_the_whole_loom_were_followed() -> None:
    whole = bench("lantern")
    few = solved_again(whole, whole.bank, range(0, len(whole.bank.cases), 5))
    for wiring in [one for row in few.wirings for one in row]:
        alone = Wiring(wiring.network, wiring.closed, wiring.fault)
        assert all(wiring.pieces(most) == alone.pieces(most) for most in (math.inf, 30.0))
        assert wiring.onward == alone.onward


def test_voltages_in_the_bay_come_before_those_along_the_leads() -> None:
    """With many suspects only the first hundred are thought of, and the bay is the easiest to reach."""
    whole = bench("lantern")
    found = probes_for(whole, "all", [], solved_again(whole, whole.bank, [0, 1]))
    volts = [probe for probe in found if probe.kind == "volts"]
    assert {probe.plus for probe in volts[:2 * len(whole.table.states)]} == {"bay A", "bay B"}
