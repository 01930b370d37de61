"""Readings at the bench take the place of guesses: what each comes to, in which order they count."""

from __future__ import annotations

from collections.abc import Sequence

from rushlight.errors import OutOfRange
from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import BENCH_METHODS, Measured
from rushlight.stages.measured_fibre import FIBRE_WAYS
from rushlight.stages.measured_found import Found, MeasuredFault, Way
from rushlight.stages.measured_keys import check_keys, row_of
from rushlight.stages.measured_light import LIGHT_WAYS
from rushlight.stages.measured_places import put_in
from rushlight.stages.measured_power import POWER_WAYS
from rushlight.tables import row_by

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
        One value or two, each with its range.
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
        return _WAYS[one.what](drawer, one, row)
    except OutOfRange as wrong:
        raise MeasuredFault("readings", f"come to {wrong.name} {_plain(wrong.value)}", wrong.expected) from None


def _plain(value: object) -> str:
    return f"{value:.4g}" if isinstance(value, float) else str(value)
