"""Where a reading's value goes in the drawer, and what is believed there today."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rushlight.electric.cell import cell
from rushlight.electric.supply import bank_range, usual_bank_share
from rushlight.geometry.bundle import hand_factor
from rushlight.model.drawer import BenchValue, Drawer
from rushlight.optics.fibre import joint_factor
from rushlight.optics.fibre_loss import attenuation_db_per_m, finish_db
from rushlight.stages.aside import ASIDE, usual_aside
from rushlight.stages.bundles import BUNDLE_WIDTH
from rushlight.stages.filming import any_readout_ms
from rushlight.stages.measured_found import JOINT, LED_VOLTAGE, USUAL_GAPS, Found, Place
from rushlight.stages.parts_law import joint_of, led_law_range
from rushlight.stages.rooms import ROOM_PAINT
from rushlight.stages.strays import stray_share
from rushlight.stages.supplies import (
    BANK_ENERGY,
    BANK_LOAD,
    CELL_CHARGE,
    CELL_OHM,
    UNIT_OHM,
    UNIT_VOLTS,
    of_own_charge,
    usual_unit_ohm,
    usual_unit_v,
)
from rushlight.tables import row_by
from rushlight.units import Range

BEND_TIMES = Range(0.5, 1.0, 2.0)
"""How far a bend's loss lies off the typical law, in words: its angle and launch decide the real span."""


def put_in(drawer: Drawer, found: Found) -> Drawer:
    """The drawer with one value put in its place, and with a word of what was believed before."""
    place = (found.table, found.row, found.column)
    what = "fibre joint" if place == JOINT else found.column
    kept = tuple(row for row in drawer.bench if (row.what, row.of) != (what, found.row))
    was = next((row for row in drawer.bench if (row.what, row.of) == (what, found.row)), None)
    read = BenchValue(what=what, of=found.row, value=found.value, before=was.value if was else None,
                      believed=was.believed if was else value_at(drawer, place))
    drawer = replace(drawer, bench=(*kept, read))
    if found.law is not None:
        return replace(drawer, leds=tuple(
            replace(row, own_law=found.law) if row.name == found.row else row for row in drawer.leds))
    if found.table in ("habits", "bench"):
        return drawer
    if found.column == "half_angle_deg":
        return _with_angle(drawer, found)
    if found.at_ma is not None:
        return replace(drawer, leds=tuple(
            replace(_put(row, found.column, found.value), read_ma=found.at_ma) if row.name == found.row else row
            for row in drawer.leds))
    return replace(drawer, **{found.table: tuple(
        _put(row, found.column, found.value) if row.name == found.row else row for row in getattr(drawer, found.table)
    )})


def value_at(drawer: Drawer, place: Place) -> Range | None:
    """What is believed of a guess today; None of what the plan names, as only the whole design knows it."""
    table, name, column = place
    if place == JOINT:
        return joint_of(drawer) or joint_factor()
    if table == "bench":
        return _bench_value(drawer, name, column)
    row = next(row for row in getattr(drawer, table) if row.name == name)
    if column == "half_angle_deg":
        return Range.spread(row.half_angle_deg, 1 - row.angle_share, 1 + row.angle_share)
    value: Range = getattr(row, column)
    return value


def _bench_value(drawer: Drawer, name: str, column: str) -> Range | None:
    """What stands in no table of parts, as measured or as the laws have it."""
    measured = drawer.measured(column, name)
    if measured is not None:
        return measured
    if column == LED_VOLTAGE:
        led = drawer.led(name)
        return led_law_range(led, led.test_ma / 1000.0)
    if column == ASIDE:
        return usual_aside(drawer, name)
    if column == "fibre end":
        return finish_db(name)
    if column == "fibre bend":
        return BEND_TIMES
    if column in USUAL_GAPS:
        return usual_gap_mm(USUAL_GAPS[column])
    if column == CELL_CHARGE:
        return _charge_believed(drawer, name)
    if column == CELL_OHM:
        return cell(next(row.law for row in drawer.cells if row.name == name)).ohm_spread
    if column == BANK_ENERGY:
        return usual_bank_share()
    if column == BANK_LOAD:
        return bank_range("sleep", "a").times(1000.0)
    if column in (UNIT_VOLTS, UNIT_OHM):
        return usual_unit_v(name) if column == UNIT_VOLTS else usual_unit_ohm(name)
    if column == BUNDLE_WIDTH:
        return _width_believed(drawer, name)
    if column == "camera readout":
        return any_readout_ms()
    if column == "room paint":
        return ROOM_PAINT
    if column == "fibre length":
        colour = name.rpartition(", ")[2]
        return attenuation_db_per_m(next(led.dominant_nm for led in drawer.leds if led.colour == colour))
    return stray_share(drawer, name) if column == "stray light" else None


def usual_gap_mm(what: str) -> Range:
    """A usual width or length from way_out_usual.csv."""
    row = row_by("way_out_usual", "what", what)
    return Range(float(row["low_mm"]), float(row["typical_mm"]), float(row["high_mm"]))


def _charge_believed(drawer: Drawer, name: str) -> Range:
    """What a cell holds, in times of the law of its kind."""
    part = next(row for row in drawer.cells if row.name == name)
    return of_own_charge(cell(part.law), part).time_spread


def _width_believed(drawer: Drawer, name: str) -> Range:
    """How wide a hand ties a fibre over the ideal bundle, the fibre's own tolerance included."""
    fibre, _, many = name.rpartition(", ")
    part = next(row for row in drawer.fibres if row.name == fibre)
    off = part.tolerance_mm / part.diameter_mm
    return hand_factor(int(many.partition(" ")[0])).times(Range(1.0 - off, 1.0, 1.0 + off))


def _with_angle(drawer: Drawer, found: Found) -> Drawer:
    """A half angle is one number and how far it may be off."""
    angle = found.value
    share = max(angle.high - angle.typical, angle.typical - angle.low) / angle.typical
    return replace(drawer, leds=tuple(
        replace(_put(row, found.column, angle.typical), angle_share=share) if row.name == found.row else row
        for row in drawer.leds
    ))


def _put(row: Any, column: str, value: Any) -> Any:
    return replace(row, **{column: value, "source": f"{row.source}; {column} is measured at your bench"})
