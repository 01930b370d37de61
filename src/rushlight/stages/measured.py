"""Readings at the bench take the place of guesses: what each comes to, in which order they count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rushlight.errors import OutOfRange
from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import BENCH_METHODS, Measured
from rushlight.stages.measured_fibre import FIBRE_WAYS
from rushlight.stages.measured_found import LED_VOLTAGE, Found, MeasuredFault, Way
from rushlight.stages.measured_keys import check_keys, row_of
from rushlight.stages.measured_light import LIGHT_WAYS
from rushlight.stages.measured_places import put_in, value_at
from rushlight.stages.measured_power import POWER_WAYS
from rushlight.stages.supplies import BANK_LOAD
from rushlight.tables import row_by
from rushlight.units import Range

MANY = 3
"""From so many readings on their own span is told; of fewer, how pieces differ comes from the method (project rule)."""

OWN_ERROR = (LED_VOLTAGE, "fibre length", BANK_LOAD)
"""Methods that reckon with what other pieces, or ends cut anew, may do by themselves, or that bound a thing hard."""

_WAYS: dict[str, Way] = {**LIGHT_WAYS, **FIBRE_WAYS, **POWER_WAYS}


def reckoned_in_order(measured: Sequence[Measured]) -> list[int]:
    """Places of readings in the order in which they are put in: what others hang on comes first."""
    return sorted(range(len(measured)), key=lambda place: BENCH_METHODS.index(measured[place].what))


def with_measured(drawer: Drawer, measured: Sequence[Measured]) -> Drawer:
    """The drawer with the readings of a plan put in.

    Parameters
    ----------
    drawer : Drawer
        With the plan's own values.
    measured : sequence of Measured
        Readings; those that others hang on are put in first, of two on the same thing the later counts.
    Returns
    -------
    Drawer
        Each value with the range that its readings leave it.
    Raises
    ------
    MeasuredFault
        For the first reading that cannot be.
    Source
    ------
    `optics.bench`.
    """
    for place in reckoned_in_order(measured):
        for found in found_by(drawer, measured[place]):
            drawer = put_in(drawer, found)
    return drawer


def found_by(drawer: Drawer, one: Measured) -> tuple[Found, ...]:
    """What a reading comes to.

    Parameters
    ----------
    drawer : Drawer
        The parts that it is of.
    one : Measured
        Readings.
    Returns
    -------
    tuple of Found
        One value or two, each with its range: that of the readings with the meter's error; of fewer than `MANY`
        readings, and where no error is given, at least what the method leaves of a thing, within what was believed.
    Raises
    ------
    MeasuredFault
        If a key is missing, of what it is is not known, or the readings cannot be.
    Source
    ------
    `optics.bench`.
    """
    method = row_by("bench_methods", "what", one.what)
    check_keys(one, method)
    row = row_of(drawer, one)
    try:
        found = _WAYS[one.what](drawer, one, row)
    except OutOfRange as wrong:
        told = come_to(one.what, wrong.name, wrong.value)
        raise MeasuredFault("readings", f"come to {told}", wrong.expected) from None
    if one.off_share is not None or len(one.readings) >= MANY or one.what in OWN_ERROR:
        return found
    return tuple(_of_few(drawer, each, float(method["leaves_share"])) for each in found)


def _of_few(drawer: Drawer, found: Found, share: float) -> Found:
    """What one or two readings leave: other pieces differ, but no more than was believed."""
    now = found.value
    if now.low == now.high:  # what was read beside it, such as the power
        return found
    before = value_at(drawer, (found.table, found.row, found.column))
    low, high = now.typical * (1.0 - share), now.typical * (1.0 + share)
    if before is not None:
        low, high = max(low, before.low), min(high, before.high)
    return replace(found, value=Range(min(now.low, low), now.typical, max(now.high, high)))


COME_TO = {
    "intensity_mcd": "an intensity of {} mcd", "half_angle_deg": "a half angle of {} degrees",
    "aside over distance": "{} times as far aside as the LED is away",
    "fibre joint": "{} times what a whole joint keeps",
}
"""In words what a reading comes to that cannot be: by the value's name, else by the method."""


def come_to(what: str, name: str, value: object) -> str:
    """A value that cannot be, in words where there are any, else by its name."""
    words = COME_TO.get(name) or COME_TO.get(what)
    return words.format(_plain(value)) if words else f"{name} {_plain(value)}"


def _plain(value: object) -> str:
    """A number with four digits that count, never in powers of ten."""
    if not isinstance(value, float):
        return str(value)
    return f"{float(f'{value:.4g}'):,.6f}".rstrip("0").rstrip(".").replace(",", " ")
