"""The driver of a controller's channel: which kind of transistor suits the supply, and what it leaves and bears."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.electric.driver import DriverType, driver_bears_a, driver_type_for, driver_types, on_ohm
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.supplies import Age, supply_ages


@dataclass(frozen=True, slots=True)
class Driver:
    """The transistor in the plus of each driven circuit, `ohm` while it is on at the nominal supply.

    `fits`: the supply keeps to what its gate takes, fresh and flat; where no kind does, it is the most usual one.
    """

    kind: DriverType
    ohm: float
    most_ohm: float
    bears_a: float
    fits: bool


def driver_for(ages: tuple[Age, ...]) -> Driver:
    """The driver for a supply that is fresh, nominal and flat."""
    fresh, nominal, flat = (age.emf_v for age in ages)
    found = driver_type_for(fresh, flat)
    kind = found or driver_types()[0]
    typical, most = on_ohm(kind, _within(kind, nominal))
    return Driver(kind, typical, most, driver_bears_a(kind, _within(kind, flat)), found is not None)


def driver_of(plan: Plan, drawer: Drawer) -> Driver | None:
    """The driver for the plan's supply; None without one."""
    ages = supply_ages(plan, drawer)
    return driver_for(ages) if ages else None


def _within(kind: DriverType, gate_v: float) -> float:
    return min(max(gate_v, kind.least_v), kind.gate_most_v)


def least_driven_v() -> float:
    """Supply under which no kind of driver is fully on [V]."""
    return min(kind.least_v for kind in driver_types())


def most_driven_v() -> float:
    """Supply over which no kind's gate is safe [V]."""
    return max(kind.most_v for kind in driver_types())
