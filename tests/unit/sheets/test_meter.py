"""The meter as it is set and held: the right position, socket, figures and places for every reading."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from book_designs import small
from rushlight.errors import UnknownName
from rushlight.model.design import PredictedReading
from rushlight.model.sheet import PAGE_HEIGHT_MM, PAGE_WIDTH_MM, Band, Drawing, Polyline, Text
from rushlight.sheets import gates
from rushlight.sheets.meter import CELL_MM, SOCKETS_MM, meter_drawing, meter_marks
from rushlight.sheets.meter_use import (
    MeterUse,
    dial_settings,
    display,
    mind,
    setting_of,
    shown_unit,
    use_of_reading,
    volt_setting,
)
from rushlight.sheets.place import bounds
from rushlight.units import Range


def readings() -> list[PredictedReading]:
    return [reading for step in small().order.steps for reading in step.readings]


def words(use: MeterUse) -> list[str]:
    return [mark.text for mark in meter_marks(use) if isinstance(mark, Text)]


def red_lead(use: MeterUse) -> Band:
    return next(mark for mark in meter_marks(use) if isinstance(mark, Band) and mark.ink.colour == "accent"
                and mark.points_mm[0][0] in SOCKETS_MM.values())


@pytest.mark.parametrize("reading", readings(), ids=lambda reading: reading.name)
def test_every_reading_of_every_gate_is_drawn(reading: PredictedReading) -> None:
    use = use_of_reading(reading)
    said = words(use)
    assert use.setting.words in reading.dial and use.setting.mark in [*said, ""]
    assert use.expect in said and use.shows in said and {"red", "black"} <= set(said)
    assert red_lead(use).points_mm[0][0] == SOCKETS_MM[use.setting.socket]
    box = bounds(meter_marks(use))
    assert box and box.left_mm >= 0 and box.bottom_mm >= 0 and box.right_mm <= CELL_MM[0] and box.top_mm <= CELL_MM[1]


def reading_of(name: str, dial: str, value: Range, unit: str) -> MeterUse:
    first = readings()[0]
    return use_of_reading(replace(first, name=name, dial=dial, reading=value, unit=unit, state="night"))


def test_a_current_is_read_in_an_opened_lead_and_the_lead_goes_back() -> None:
    low = reading_of("supply current, night", "200 mA DC", Range(70, 85, 100), "mA")
    high = reading_of("supply current, night", "10 A DC", Range(300, 350, 400), "mA")
    assert (low.where, low.setting.socket, low.shows) == ("in the lead", "mA", "85.0")
    assert (high.where, high.setting.socket, high.shows, shown_unit(high.setting)) == ("in the lead", "10 A", "0.35", "A")
    for use in (low, high):
        assert "then back to V" in words(use) and "opened" in words(use) and "Switch at: night" in words(use)
        told = " ".join(mind(use))
        assert "begin with 10 A" in told and "bare wire" in told and "back into the socket V" in told


def test_a_short_is_looked_for_with_the_supply_out_and_red_on_return() -> None:
    use = reading_of("no short", "20 kohm, supply taken out", Range(20_000, 20_000, math.inf), "ohm")
    assert (use.where, use.shows, use.expect, shown_unit(use.setting)) == ("no short", "OL", "more than 20 kohm", "kohm")
    probes = {mark.text: mark.at_mm[0] for mark in meter_marks(use) if isinstance(mark, Text) and mark.text in ("red", "black")}
    assert probes["red"] > probes["black"]  # return is drawn on the right
    assert "then back to V" not in words(use)


@pytest.mark.parametrize(("dial", "value", "shows"), [
    ("20 V DC", 2.1, "2.10"), ("20 V DC", 23.0, "OL"), ("200 V DC", 23.0, "23.0"), ("200 mA DC", 133.8, "133.8"),
    ("200 mA DC", 240.0, "OL"), ("10 A DC", 240.0, "0.24"), ("20 kohm", 4700.0, "4.70"), ("diode test", 2.65, "2.65"),
])
def test_the_display_shows_what_a_meter_of_three_and_a_half_digits_would(dial: str, value: float, shows: str) -> None:
    assert display(setting_of(dial), value) == shows


def test_a_voltage_gets_the_range_that_holds_it() -> None:
    assert [volt_setting(value).words for value in (0.2, 12.0, -12.0, 24.0)] == ["20 V DC", "20 V DC", "20 V DC", "200 V DC"]
    with pytest.raises(UnknownName):
        setting_of("20 V")


def test_the_dial_holds_off_once_and_points_to_the_chosen_position() -> None:
    settings = dial_settings()
    assert settings[0].key == "off" and len({row.key for row in settings}) == len(settings) == 16
    use = reading_of("across the resistor of bow", "20 V DC", Range(1.6, 2.6, 3.0), "V")
    pointer = next(mark for mark in meter_marks(use) if isinstance(mark, Polyline) and mark.ink.fill == "accent" and len(mark.points_mm) == 3)
    tip = max(pointer.points_mm, key=lambda at: math.dist(at, (22.0, 39.0)))
    turn = math.degrees(math.atan2(tip[1] - 39.0, tip[0] - 22.0))
    assert turn == pytest.approx(90 - 360 * [row.key for row in settings].index("v20") / 16)


def test_each_gate_of_the_book_has_its_meter_and_the_sheet_its_caution() -> None:
    (sheet,) = gates.draw(small())
    drawn = {block.key: block for block in sheet.blocks if isinstance(block, Drawing)}
    steps = [step for step in small().order.steps if step.kind == "gate" and step.readings]
    assert [key for key in drawn if key != "led-trial-meter"] == [f"gate-{step.number}-meter" for step in steps]
    assert all(block.width_mm <= PAGE_WIDTH_MM and block.height_mm <= PAGE_HEIGHT_MM for block in drawn.values())
    text = repr(sheet.blocks)
    assert "If you never held a meter" in text and "bare wire" in text and "longer leg" in text


def test_a_drawing_of_one_use_is_one_cell() -> None:
    use = use_of_reading(readings()[0])
    drawing = meter_drawing(use, key="meter", title="The meter")
    assert (drawing.width_mm, drawing.height_mm, drawing.scale) == (*CELL_MM, None)
