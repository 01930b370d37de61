"""Ratios beyond what anybody counts are told in words, with the cure that helps there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from designed import designed
from plans import board
from rushlight.findings._words import percent_words
from rushlight.findings.light import like_mismatch, too_dim, window_too_bright
from rushlight.model.design import Design
from rushlight.sheets.bundles import percent_left

TAIL = ("{{name: {name}, part: board, at_mm: [{x}, 60], colour: red, states: [night], {more}"
        "source: {{kind: fibre, fibre_mm: {mm}, led: '3 mm red, clear 30 deg'}}}}")


def bundle(mm: float, ratio: float) -> Design:
    """Two tails of one LED, held together, of which the second is to give so much of the first."""
    lamps = [TAIL.format(name="a", x=20, mm=1, more="brightness: {intensity_mcd: 1}, "),
             TAIL.format(name="b", x=24, mm=mm, more=f"brightness: {{like: a, ratio: {ratio}}}, ")]
    return designed(board("\n".join(lamps), more="pinned: [{of: a, choice: bundle, value: one}, {of: b, choice: bundle, value: one}]\n"))


@pytest.mark.parametrize(("percent", "words"), [(25.0, "25 %"), (0.1, "0.1 %"), (0.0001, "under 0.1 %")])
def test_shares(percent: float, words: str) -> None:
    assert percent_words(percent) == words
    assert percent_left(1e-7) == "next to none" and percent_left(0.05) == "0.05"


def test_a_fibre_that_sets_two_apart_is_named_where_there_is_one() -> None:
    [row] = like_mismatch.RULE.look(bundle(1, 0.25))
    assert "give 'b' fibre of 0.5 mm (25 % of the area)" in row.cure  # derived: half the width


def test_no_fibre_of_next_to_no_area_is_asked_for() -> None:
    [row] = like_mismatch.RULE.look(bundle(1, 0.001))
    assert "an LED of its own (plan file: bundle under pinned)" in row.cure and "0.1 % of what it is" in row.cure
    assert "0.000" not in row.cure


def test_a_tail_that_next_to_nothing_reaches_is_not_told_a_current() -> None:
    of = bundle(1, 1)
    dim = tuple(replace(row, intensity_cd=row.intensity_cd.times(1e-9), likely_cd=row.likely_cd.times(1e-9))
                if row.lamp == "a" else row for row in of.light.lamps)
    rows = too_dim.RULE.look(replace(of, light=replace(of.light, lamps=dim)))
    assert rows and "over 1000 times too little" in rows[0].cure and "LED of its own" in rows[0].cure


def test_a_strip_is_not_dimmed_to_next_to_nothing() -> None:
    assert "Dim the strip to 30 %" in window_too_bright._cure(30.0)
    assert "one small LED" in window_too_bright._cure(0.001) and "under 0.1 %" in window_too_bright._cure(0.001)
