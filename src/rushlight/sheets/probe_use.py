"""A proposed measurement as the meter is set and held for it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from rushlight.sheets.amounts import sentence
from rushlight.sheets.meter_use import DialSetting, MeterUse, display, setting_of, volt_setting
from rushlight.stages.fault_finding import Look, Probe
from rushlight.stages.fault_log import TEN_AMPERE_MA
from rushlight.stages.fault_probe import COPPER_V, THROUGH_V
from rushlight.stages.fault_seen import SUPPLY_OFF
from rushlight.stages.fault_words import outcome_words, place_words

LEAST_SHOWN = 0.005
"""Less than this, in V or mA, a display shows as nothing."""

SILICON_V = 0.6
"""About what a silicon diode shows on the diode test (common practice, no source)."""

Shown = tuple[float, float] | Look


def probe_use(probe: Probe, outcomes: Sequence[Shown]) -> MeterUse | None:
    """How a probe is taken; None for what is looked at and compared, which needs no meter.

    Parameters
    ----------
    probe : Probe
        What to measure.
    outcomes : sequence
        What each group of suspects would show, the likeliest first.
    """
    values = [(one[0], one[1]) for one in map(unsigned, outcomes) if not isinstance(one, Look)]
    if probe.kind in ("look", "beside") or not values:
        return None
    first = values[0]
    setting = _setting(probe, values)
    alike = len(set(values)) == 1
    expect = outcome_words(probe, first) + ("" if alike else " if it is 1")
    red, black = _ends(probe)
    where = {"supply": "in the lead", "resistor": "resistor", **dict.fromkeys(SUPPLY_OFF, "apart")}
    shows = first[1] if probe.kind == "ohms" else _diode_shows(first) if probe.kind == "diode" else sum(first) / 2
    return MeterUse(setting, where.get(probe.kind, "between"), red, black, probe.state, expect, display(setting, shows),
                    _lower(setting, values))


def unsigned(shown: Shown) -> Shown:
    """The outcome as a display shows it, which has no minus before nothing."""
    if isinstance(shown, Look):
        return shown
    low, high = (0.0 if abs(end) < LEAST_SHOWN else end for end in shown)
    return low, high


def _setting(probe: Probe, values: Sequence[tuple[float, float]]) -> DialSetting:
    """The range that holds whatever the likely faults foretell for this very reading; if none does, the highest."""
    if probe.kind in SUPPLY_OFF:
        return setting_of("200 ohm" if probe.kind == "ohms" else "diode test")
    most = max(abs(end) for pair in values for end in pair)
    if probe.kind == "supply":
        return setting_of("200 mA DC" if most < TEN_AMPERE_MA else "10 A DC")
    return volt_setting(most)


def _lower(setting: DialSetting, values: Sequence[tuple[float, float]]) -> DialSetting | None:
    """The range to go down to where some of the likely faults foretell a current that a lower one holds."""
    least = min(max(abs(end) for end in pair) for pair in values)
    return setting_of("200 mA DC") if setting.socket == "10 A" and least < TEN_AMPERE_MA else None


def _ends(probe: Probe) -> tuple[str, str]:
    if probe.kind == "supply":
        return "Plus of the supply", "Plus of the trunk (meter in the lead)"
    if probe.kind == "resistor":
        return "Supply side of the resistor", "LED side of the resistor"
    return _bare(probe.plus), _bare(probe.back)


def _diode_shows(values: tuple[float, float]) -> float:
    """What the drawn display shows: nothing through copper, the drop of a diode, or OL."""
    if values[1] <= COPPER_V:
        return 0.0
    return SILICON_V if values[0] <= THROUGH_V else math.inf


def _bare(place: str) -> str:
    return sentence(place_words(place).removeprefix("the "))
