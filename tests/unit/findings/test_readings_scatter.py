"""Readings of one entry that scatter far more than their method allows."""

from __future__ import annotations

import pytest

from bench_entries import ONE, yard
from designed import designed
from rushlight.findings.cures import cure_of
from rushlight.findings.plan.readings_apart import RULE as APART
from rushlight.findings.plan.readings_scatter import RULE
from rushlight.model.design import Design
from rushlight.model.plan_bench import Measured
from rushlight.stages.scattered import scatters
from rushlight.working_plan import changed

RED = '"3 mm red, diffused"'


def read(entry: str) -> Design:
    return designed(f"{yard(ONE)}measured:\n  - {entry}\n")


def intensity(readings: str, more: str = "") -> Design:
    return read(f"{{what: led intensity, of: {RED}, readings: [{readings}], distance_mm: 200, at_ma: 20{more}}}")


def test_the_odd_one_is_told_with_the_mean_with_and_without_it_and_struck_by_one_edit() -> None:
    """Derived: a quarter either way is 1.25 / 0.75 = 1.67, twice as far 2.78; (7 + 21 + 7.5) / 3 = 11.8."""
    made = intensity("7, 21, 7.5")
    (found,) = RULE.find(made)
    assert found.number == pytest.approx(3.0) and found.limit == pytest.approx((1.25 / 0.75) ** 2)
    assert "7, 21 and 7.5, 3 times apart. Good to 25 % either way they may lie 2.8 times apart" in found.says
    assert "Read the one of 21 once more: it is 2.9 times the middle of the others" in found.cure
    assert "takes their mean from 7.25 to 11.8" in found.cure
    edit = cure_of(made, found)
    assert edit is not None and edit.says.startswith("Strike the reading of 21 from those of ")
    assert changed(made.plan, edit.changes).measured[0].readings == (7.0, 7.5)


def test_two_that_do_not_agree_are_read_anew_and_none_is_struck() -> None:
    made = intensity("7, 21")
    (found,) = RULE.find(made)
    assert found.cure.startswith("Read both once more") and cure_of(made, found) is None


def test_an_entry_by_a_better_meter_is_held_to_what_it_says_but_not_below_what_a_bag_differs_by() -> None:
    assert not RULE.find(intensity("7, 15, 8"))
    # Places of a room differ by a quarter, whatever the meter.
    assert not RULE.find(read("{what: room light, of: room, readings: [100, 240], off_share: 0.1}"))
    assert RULE.find(read("{what: room light, of: room, readings: [100, 290], off_share: 0.1}"))


def test_what_the_finding_of_a_bag_tells_is_not_told_twice() -> None:
    made = intensity("7, 70, 7.5")
    assert APART.find(made) and not RULE.find(made)


def test_a_nought_too_many_is_named() -> None:
    made = read("{what: wall, of: white styrene, readings: [12, 12.2, 120], against: [200], thickness_mm: 1.5}")
    (found,) = RULE.find(made)
    assert "It has a nought too many, perhaps." in found.cure
    made = read("{what: wall, of: white styrene, readings: [12, 12.2, 12.1], against: [200, 20, 204], thickness_mm: 1.5}")
    (found,) = RULE.find(made)
    assert "(wall, read against)" in found.says and "a nought too few" in found.cure


def entry(what: str, readings: tuple[float, ...], **more: object) -> Measured:
    return Measured(what=what, of="x", readings=readings, **more)  # type: ignore[arg-type]


def test_rises_and_falls_are_compared_not_degrees_and_volts() -> None:
    """Derived: 10 and 18 K over a room of 21 degC are 1.8 times apart, 31 and 39 degC only 1.26."""
    (found,) = scatters(entry("hull warmth", (31, 31.5, 39), against=(21,)))
    assert found.times == pytest.approx(1.8) and found.odd == 2
    assert not scatters(entry("hull warmth", (31, 31.5, 33), against=(20.5, 21.5)))
    (found,) = scatters(entry("cell resistance", (1.5, 1.51, 1.2), against=(1.6,), at_ma=150))
    assert found.times == pytest.approx(0.4 / 0.09)


def test_leds_behind_other_resistors_are_not_compared_and_their_pair_is_struck_whole() -> None:
    volts = {"against": (7.1, 7.09, 6.6, 7.2), "series_ohm": (330.0, 330.0, 330.0, 1000.0)}
    assert not scatters(entry("led voltage", (1.9, 1.91, 1.95, 1.6), **volts))
    (found,) = scatters(entry("led voltage", (1.9, 1.91, 2.4, 1.6), **volts))
    assert (found.odd, found.odd_value, found.told) == (2, 2.4, "behind 330 ohm")
    made = read(f"{{what: led voltage, of: {RED}, readings: [1.9, 1.91, 2.3, 1.95], against: [3.1, 3.09, 3.0, 3.2], "
                "series_ohm: [330, 330, 330, 1000]}")
    edit = cure_of(made, RULE.find(made)[0])
    assert edit is not None
    one = changed(made.plan, edit.changes).measured[0]
    assert (one.readings, one.against) == ((1.9, 1.91, 1.95), (3.1, 3.09, 3.2))
    assert one.series_ohm == (330.0, 330.0, 1000.0)


def test_a_band_more_or_less_is_in_every_count_and_a_loss_is_no_share_of_lux() -> None:
    assert not scatters(entry("camera readout", (3, 4), pulse_hz=1000.0))
    assert scatters(entry("camera readout", (20, 28), pulse_hz=1000.0))
    # 0.4 decibel over the length is what the method leaves; 70 to 50 lux are 1.5.
    (found,) = scatters(entry("fibre length", (50, 51, 70), against=(90, 91), length_mm=9000))
    assert found.share == 0.05
