"""It was mended and is still wrong: what still counts, and what is left."""

from __future__ import annotations

from dataclasses import replace

import pytest

from book_designs import small
from rushlight.stages.fault_finding import Meter, Probe, Seen, known_faults, verdict
from rushlight.stages.fault_known import identity
from rushlight.stages.fault_log import Evidence
from rushlight.stages.fault_mended import after_mends, mend_name
from rushlight.stages.fault_names import MENDED
from seeded_mends import mended_in_vain, one_of_two_mended

KNOWN = known_faults(small())
DARK = Evidence("", "look, dusk", None, Seen(Probe("look", "dusk"), dark=frozenset({"bow"})), when="2026-01-01 10:00:00")


def mend(name: str, when: str = "2026-01-01 11:00:00") -> Evidence:
    return Evidence("", name, 1.0, None, when=when, mended=name)


def first() -> tuple[str, object]:
    found = verdict(KNOWN, [DARK.seen])
    fault = found.suspects[0].faults[0]
    return mend_name(fault), identity(fault)


def test_what_the_mend_may_have_changed_no_longer_counts_and_the_mended_fault_is_gone() -> None:
    name, fault = first()
    rest = after_mends(KNOWN, (DARK, mend(name)), Meter())
    assert rest.seen == [] and "before the mend" in rest.rows[0].why and not rest.since
    left = verdict(KNOWN, rest.seen, gone=rest.gone)
    every = [*left.further, *(one for group in left.suspects for one in group.faults)]
    assert every and not left.sound and identity(fault) not in [identity(one) for one in every]
    told = verdict(KNOWN, [])
    assert fault in [identity(one) for one in (*told.further, *(one for group in told.suspects for one in group.faults))]


def test_what_the_mended_fault_does_not_touch_counts_on() -> None:
    """The deckhouse is lit at night alone: its lead changes nothing at dusk, the bow's does."""
    supply = Evidence("", "supply current, dusk", 12.3, Seen(Probe("supply", "dusk"), 12.3))
    there = mend(MENDED + "open, lead C1")
    assert [bool(row.seen) for row in after_mends(KNOWN, (DARK, supply, there), Meter()).rows] == [True, True, False]
    night = Evidence("", "look, night", None, Seen(Probe("look", "night")))
    assert after_mends(KNOWN, (night, there), Meter()).seen == []


def test_a_mended_resistor_is_right_whatever_it_was() -> None:
    rest = after_mends(KNOWN, (mend(MENDED + "wrong resistor, stern / 1"),), Meter())
    assert len(rest.mended) > 1 and {fault.element for fault in rest.mended} == {"stern / 1"}


def test_what_was_found_since_counts_and_a_sound_loom_is_then_possible() -> None:
    name, _ = first()
    fine = Evidence("", "look, dusk", None, Seen(Probe("look", "dusk")), when="2026-01-01 12:00:00")
    rest = after_mends(KNOWN, (DARK, mend(name), fine), Meter())
    assert rest.since and rest.seen == [fine.seen] and verdict(KNOWN, rest.seen, gone=rest.gone).sound
    again = replace(DARK, when="2026-01-01 12:00:00")
    still = after_mends(KNOWN, (mend(name), again), Meter())
    assert verdict(KNOWN, still.seen, gone=still.gone).suspects and not verdict(KNOWN, still.seen, gone=still.gone).sound


def test_a_mend_that_names_nothing_is_told() -> None:
    rest = after_mends(KNOWN, (DARK, mend(MENDED + "open, moon")), Meter())
    assert rest.seen == [DARK.seen] and not rest.mended and rest.rows[1].why == "names nothing of the loom as it is now"


def test_a_voltage_found_before_a_mend_no_longer_counts() -> None:
    """With two faults a place may have hung in the air: what it read says nothing of the one that is left."""
    volts = Evidence("", "dusk: bay A to bay R", 4.5, Seen(Probe("volts", "dusk", "bay A", "bay R"), 4.5))
    assert after_mends(KNOWN, (volts, mend(MENDED + "open, lead C1")), Meter()).seen == []


@pytest.mark.parametrize("count", [8, pytest.param(60, marks=pytest.mark.slow)])
def test_after_one_of_two_is_mended_the_other_is_found(count: int) -> None:
    found = one_of_two_mended("lantern", count, seed=11)
    assert found.lost == () and found.named >= 0.75 * found.showing > 0


@pytest.mark.parametrize("count", [8, pytest.param(60, marks=pytest.mark.slow)])
def test_a_mend_that_was_not_needed_leads_nowhere_wrong(count: int) -> None:
    found = mended_in_vain("lantern", count, seed=11)
    assert found.lost == () and found.named >= 0.75 * found.showing > 0
