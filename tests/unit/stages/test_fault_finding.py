"""Faults put into the demos' looms, looked for with a meter that is off as its maker allows."""

from __future__ import annotations

import random
from functools import cache
from pathlib import Path

import pytest

import rushlight
from designed import PACKAGED, designed
from rushlight.electric.elements import Network, resistor, source, string, wire
from rushlight.electric.fault import Fault
from rushlight.electric.led import law_spread
from rushlight.errors import UnknownName
from rushlight.files.plan_yaml import read_plan
from rushlight.stages import fault_finding
from rushlight.stages.fault_finding import KnownFaults, Look, Meter, Probe, Seen, Verdict, known_faults, verdict
from rushlight.stages.fault_probe import between_v, held_nodes
from rushlight.stages.fault_words import fault_words, outcome_words, probe_words

DEMOS = Path(rushlight.__file__).parent / "demos"
METER = Meter()
PROPOSED = 3


@cache
def bench(name: str) -> KnownFaults:
    return known_faults(designed(read_plan(DEMOS / name, PACKAGED).plan), exact=True)


def shown(whole: KnownFaults, place: int, probe: Probe, chance: random.Random) -> Seen:
    """What somebody sees or reads with one fault: the meter off by up to its bound, dim lamps told or not."""
    truth = fault_finding._solved_again(whole, [place])
    found = fault_finding._shown(whole, truth, probe, 0)
    if isinstance(found, Look):
        told = frozenset(name for name in found.perhaps if name in found.dim or chance.random() < 0.5)
        return Seen(probe, dark=found.dark, dim=told)
    value = chance.uniform(*found)
    return Seen(probe, value + chance.uniform(-0.95, 0.95) * METER.bound(value, probe.kind))


def searched(whole: KnownFaults, place: int, chance: random.Random) -> Verdict:
    """Supply currents and looks in every state, then what the tool proposes, three times at most."""
    seen = [shown(whole, place, Probe(kind, state), chance) for kind in ("supply", "look") for state in whole.table.states]
    found = verdict(whole, seen, meter=METER)
    for _ in range(PROPOSED):
        if found.next_probe is None or sound(found):
            break
        seen.append(shown(whole, place, found.next_probe, chance))
        found = verdict(whole, seen, meter=METER)
    return found


def sound(found: Verdict) -> bool:
    return any(fault.kind == "none" for group in found.suspects for fault in group.faults)


def counted(name: str, count: int, seed: int) -> tuple[int, int]:
    """How many of the seeded faults were named, and how many showed at all; none may be lost."""
    whole, chance = bench(name), random.Random(seed)
    named = showing = 0
    for _ in range(count):
        place = chance.randrange(1, len(whole.table.faults))
        found, true = searched(whole, place, chance), whole.table.faults[place]
        assert any(true in group.faults for group in found.suspects), true  # never excluded
        if not sound(found):
            showing += 1
            named += len(found.suspects) == 1
    return named, showing


@pytest.mark.parametrize(("name", "count"), [("lantern", 30), ("lighthouse", 6)])
def test_seeded_faults_are_never_excluded_and_mostly_named(name: str, count: int) -> None:
    named, showing = counted(name, count, seed=1)
    assert named >= 0.8 * showing > 0


@pytest.mark.slow
def test_five_hundred_faults() -> None:
    """95 % of the faults that show are named within three proposed measurements."""
    counts = [counted("lantern", 250, seed=2), counted("lighthouse", 250, seed=3)]
    named, showing = sum(row[0] for row in counts), sum(row[1] for row in counts)
    assert named >= 0.95 * showing


def test_nothing_wrong_is_said_to_be_nothing_wrong() -> None:
    whole = bench("lantern")
    assert sound(searched(whole, 0, random.Random(4)))


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


def test_what_contradicts_itself_fits_no_single_fault() -> None:
    whole = bench("lantern")
    seen = [Seen(Probe("look", "evening"), dark=frozenset({"flame"})), Seen(Probe("supply", "ferry is in"), 900.0)]
    assert verdict(whole, seen).suspects == ()


def test_every_fault_and_probe_has_words() -> None:
    for name in ("lantern", "lighthouse"):
        whole = bench(name)
        for fault in whole.table.faults:
            text = fault_words(whole.design, fault)
            assert text.endswith(".") and " / " not in text and "_" not in text, text
    probes = [Probe("look", "s"), Probe("supply", "s"), Probe("resistor", "s", "a"), Probe("volts", "s", "bay A", "b-")]
    assert all("'s'" in probe_words(probe) for probe in probes)
    assert outcome_words(probes[0], Look(frozenset("a"), frozenset("b"), frozenset("b"))) == "dark: a; dim: b"
    assert outcome_words(probes[3], (2.776, 11.1)) == "2.8 to 11.1 V"


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
    held = held_nodes(SMALL, frozenset(), fault)
    assert held == {"plus", "minus", "lamp-"}
    low, high = between_v(SMALL, ("plus", "lamp+"), node_v=VOLTS, held=held, fault=fault)
    assert low < 12.0 - 1.7 and high >= 12.0 - 1.3
    assert between_v(SMALL, ("lamp+", "minus"), node_v=VOLTS, held=held, fault=fault) == (0.0, 0.0)


def test_an_open_return_lead_is_pulled_up() -> None:
    fault = Fault("open", "back")
    held = held_nodes(SMALL, frozenset(), fault)
    low, high = between_v(SMALL, ("lamp-", "minus"), node_v={**VOLTS, "lamp+": 12.0}, held=held, fault=fault)
    assert low < 12.0 - 1.7 and high >= 12.0 - 1.3
    assert between_v(SMALL, ("plus", "lamp-"), node_v={**VOLTS, "lamp+": 12.0}, held=held, fault=fault) == (0.0, 0.0)
