"""What of the plan's log speaks of a fault, and where on the model a fault is."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from book_designs import small
from rushlight.model.design import Design
from rushlight.model.plan_bench import Done, Look, Reading
from rushlight.stages.fault_finding import Meter, Probe, known_faults, places, verdict
from rushlight.stages.fault_log import dial_meter, emitters_of, evidence, lit_lamps, name_of, named
from rushlight.stages.fault_names import FIND_STEP, probe_named
from rushlight.stages.fault_place import bay_place, fault_places, probe_places

FIND = Done(step=FIND_STEP, how="begun")


def with_log(*log: Done) -> Design:
    design = small()
    return replace(design, plan=replace(design.plan, as_built=log))


def read(what: str, value: float, when: str | None = None, gate: str = FIND_STEP) -> Reading:
    return Reading(gate=gate, what=what, value=value, when=when)


def gate_log(how: str = "done", when: str | None = None, **off: float) -> Done:
    """A bench test with each reading as foretold, but for what is off by name."""
    step = next(step for step in small().order.steps if step.key == "bench_test")
    rows = tuple(read(row.name, off.get("current", row.reading.typical) if row.name.startswith("supply") else row.reading.typical,
                      when, "bench_test") for row in step.readings)
    return Done(step="bench_test", how=how, when=when, readings=rows)


@pytest.mark.parametrize("probe", [
    Probe("supply", "dusk"), Probe("volts", "night", "bay A", "bay R"), Probe("resistor", "dusk", "bow"),
    Probe("ohms", "night", "bay A", "bay R"), Probe("diode", "night", "bay +", "bay R"), Probe("beside", "dusk", "bow", "stern"),
])
def test_a_probe_is_found_again_by_its_name(probe: Probe) -> None:
    meant = probe_named(name_of(probe), named(small()))
    assert meant is not None and Probe(*meant) == probe


@pytest.mark.parametrize("what", ["supply current, dawn", "across the resistor of mast", "dusk: bay A to moon", "hello", "dusk: bay A"])
def test_what_names_nothing_is_nothing(what: str) -> None:
    assert probe_named(what, named(small())) is None


def test_every_place_of_the_network_may_be_named() -> None:
    assert set(places(known_faults(small()))) - {"supply+"} <= named(small()).places


def test_a_gate_passed_with_all_within_was_sound_and_its_readings_say_nothing_of_now() -> None:
    assert all(row.seen is None for row in evidence(with_log(gate_log())))
    assert any(row.seen for row in evidence(with_log(gate_log(current=0.0))))
    assert any(row.seen for row in evidence(with_log(gate_log("begun"))))


def test_what_was_seen_before_a_sound_gate_does_not_count_and_later_does() -> None:
    old = replace(FIND, looks=(Look(state="dusk", dark=("bow",), when="2026-01-01 10:00:00"),))
    new = replace(FIND, looks=(Look(state="dusk", dark=("bow",), when="2026-01-01 12:00:00"),))
    sound = gate_log(when="2026-01-01 11:00:00")
    assert next(row.seen for row in evidence(with_log(old, sound))) is None
    assert [bool(row.seen) for row in evidence(with_log(new, sound)) if row.step == FIND_STEP] == [True]


def test_of_two_readings_of_one_thing_the_later_counts() -> None:
    twice = replace(FIND, readings=(read("supply current, dusk", 1.0), read("supply current, dusk", 2.0)))
    assert [(row.value, bool(row.seen), row.why) for row in evidence(with_log(twice))] == [
        (1.0, False, "read again later"), (2.0, True, "")]


def test_what_the_loom_no_longer_has_is_told() -> None:
    odd = replace(FIND, readings=(read("dusk: SX9 to bay R", 1.0),), looks=(Look(state="dawn"), Look(state="dusk", dark=("mast",))))
    assert [row.why for row in evidence(with_log(odd))] == [
        "names nothing of the loom as it is now", "the plan has no such state now", "the plan has no lamp 'mast' now"]


def test_an_led_is_dark_when_all_its_lamps_are() -> None:
    """One dark fibre of a bundle that is lit is the fibre, not the loom."""
    design = small()
    state, (name, lamps) = next((state, row) for state in ("dusk", "night") for row in lit_lamps(design, state).items() if len(row[1]) > 1)
    assert emitters_of(design, state, lamps) == (frozenset({name}), ())
    assert emitters_of(design, state, lamps[:1]) == (frozenset(), lamps[:1])


def test_a_dark_lamp_of_the_log_leads_to_faults_that_explain_it() -> None:
    design = with_log(replace(FIND, looks=(Look(state="dusk", dark=("bow",)),)))
    seen = [row.seen for row in evidence(design) if row.seen]
    found = verdict(known_faults(design), seen, meter=dial_meter(design))
    assert found.suspects and found.next_probe
    assert any("bow" in fault.element for group in found.suspects for fault in group.faults)


def test_each_current_is_judged_by_the_range_it_was_read_in() -> None:
    design = small()
    rows = tuple(replace(row, bench_a=row.bench_a.times(100.0)) for row in design.power.states)
    weak, strong = dial_meter(design), dial_meter(replace(design, power=replace(design.power, states=rows)))
    for meter in (weak, strong):
        assert meter.bound(43.7, "supply") == pytest.approx(0.437 + 0.2)  # derived: 1 % and 2 digits of 0.1 mA
        assert meter.bound(213.0, "supply") == pytest.approx(2.13 + 20.0)  # 2 digits of 10 mA
        assert meter.bound(90.0, "supply") == pytest.approx(0.9 + 20.0)  # 0.09 A, as the range of 10 A shows it
        assert meter.bound(3.0, "volts") == pytest.approx(0.03 + 0.02)
    assert weak.bound(0.0, "supply") == pytest.approx(0.2)
    assert strong.bound(0.0, "supply") == pytest.approx(20.0)
    assert strong.bounds(np.array([0.0, 43.7, 213.0]), "supply") == pytest.approx([20.0, 0.637, 22.13])


# --- where it is --------------------------------------------------------------------------------------------------


def test_every_fault_and_every_place_for_a_probe_is_somewhere_on_the_model() -> None:
    design = small()
    parts = {part.name for part in design.plan.parts}
    known = known_faults(design)
    for fault in known.table.faults:
        found = fault_places(design, fault)
        assert (found == ()) == (fault.kind == "none"), fault
        assert {place.part for place in found} <= parts
    assert all(probe_places(design, name) for name in set(places(known)) - {"supply+"})


def test_a_lead_is_at_both_its_ends_an_led_where_it_sits_the_fuse_in_the_bay() -> None:
    design = small()
    known = {fault.element: fault for fault in known_faults(design).table.faults if fault.kind == "open"}
    lead = next(row for row in design.loom.leads if row.legs and row.legs[0].points_mm[0] != row.legs[-1].points_mm[-1])
    ends = fault_places(design, known[f"lead {lead.name}"])
    assert [place.at_mm for place in ends] == [lead.legs[0].points_mm[0], lead.legs[-1].points_mm[-1]]
    assert {place.lead for place in ends} == {lead.name}
    bow = design.loom.emitter("bow")
    assert [place.at_mm for place in fault_places(design, known["bow / 1"])] == [bow.spot.at_mm]
    assert fault_places(design, known["fuse"]) == bay_place(design) != ()


def test_above_nineteen_volt_a_voltage_counts_tenths() -> None:
    """By hand: 1 % and two digits, 0.1 V each in the range of 200 V."""
    meter = Meter(high_from_v=19.0)
    assert meter.bound(24.05, "volts") == pytest.approx(0.4405) and meter.bound(23.9, "resistor") == pytest.approx(0.439)
    assert meter.bound(4.13, "volts") == pytest.approx(0.0613) and meter.bound(4.1, "volts") == pytest.approx(0.241)
    assert Meter().bound(24.05, "volts") == pytest.approx(0.2605)
