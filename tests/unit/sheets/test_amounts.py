"""Amounts in words."""

from __future__ import annotations

import math

import pytest

from rushlight.sheets.amounts import amount, compressed, ma_words, mm_words, ohm_text, range_words, run_words, span
from rushlight.units import Range


@pytest.mark.parametrize(("value", "unit", "digits", "words"), [
    (470.0, "ohm", 2, "470 ohm"), (0.8471, "mA", 2, "0.85 mA"), (96.0, "", 4, "96"), (12345.0, "", 2, "12000"),
    (0.0, "V", 2, "0 V"), (-3.14159, "mm", 3, "-3.14 mm"), (9.96, "h", 2, "10 h"), (1.0, "h", 3, "1 h"),
    (math.inf, "h", 2, "no limit"), (math.nan, "h", 2, "unknown"), (-math.inf, "", 2, "unknown"),
])
def test_amounts_have_sensible_digits(value: float, unit: str, digits: int, words: str) -> None:
    assert amount(value, unit, digits) == words  # derived: rounded by hand


def test_intervals_read_as_they_are_said() -> None:
    assert span(5.0, 7.0, "h") == "5 to 7 h"
    assert span(5.01, 5.02, "h") == "5 h"
    assert span(20_000.0, math.inf, "ohm") == "more than 20000 ohm"
    assert span(math.inf, math.inf) == "no limit"
    assert range_words(Range(0.1, 0.2, 0.3), "mA", times=1000) == "100 to 300 mA"
    assert ma_words(Range.exactly(0.0123)) == "12 mA"


def test_run_times_choose_their_unit() -> None:
    assert run_words(None) == "not known"
    assert run_words(Range(math.inf, math.inf, math.inf)) == "as long as it is plugged in"
    assert run_words(Range(0.5, 0.75, 1.0)) == "30 to 60 min"
    assert run_words(Range(5.0, 6.0, 7.0)) == "5 to 7 h"
    assert run_words(Range(96.0, 120.0, 240.0)) == "4 to 10 days"
    assert run_words(Range(2.2e6, 3e6, 3.6e6)) == "over 10 years, as far as the cells keep"


def test_sizes_and_resistances() -> None:
    assert [mm_words(value) for value in (None, 0.825, 2.0, 3.1, 12.0)] == ["", "0.82 mm", "2 mm", "3.1 mm", "12 mm"]
    assert ohm_text(470.0) == "470 ohm" and ohm_text(4700.0) == "4.7 kohm"


def test_numbered_names_are_drawn_together() -> None:
    names = ["bow", *(f"port {k}" for k in range(1, 13)), "port m1", "port m2", "x9", "x11"]
    assert compressed(names) == "bow, port 1 to 12, port m1, port m2, x9, x11"
    assert compressed([]) == ""
    assert compressed(["a", "b", "c"], most=2) == "a, b and 1 more"
    assert compressed(["9" * 5000 + "1", "9" * 5000 + "2"]).count(", ") == 1  # numbers beyond any count stay apart


def test_a_range_over_three_orders_is_told_in_words() -> None:
    assert range_words(Range(2e-6, 0.01, 200), "cd/m2") == "up to 200 cd/m2, perhaps next to nothing"
    assert range_words(Range(0.3, 1, 200), "cd/m2") == "0.3 to 200 cd/m2"
