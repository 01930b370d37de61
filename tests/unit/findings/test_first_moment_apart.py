"""Two that were to be alike, one of them in a hot box: alike once settled, apart in the first moment."""

from __future__ import annotations

from functools import cache

import pytest

from designed import designed
from finding_cases import spoiled
from plans import board
from rushlight.findings.light.first_moment_apart import RULE
from rushlight.model.design import Design

BOX = ("  - {name: box, outline_mm: [[0, 0], [90, 0], [90, 60], [0, 60]], relief: {flat: true}}\n"
       "crossings: [{name: c, kind: fixed, ends: [{part: board, at_mm: [60, 90]}, {part: box, at_mm: [80, 50]}]}]\n"
       "spaces: [{name: inside, parts: [box], size_mm: [52, 20, 20]}]\n")
RED = "colour: red, model_mm: 3, states: day, source: {kind: led}"


@cache
def hull(*, hot: int = 5, ratio: float = 0.7) -> Design:
    """A red stern light in the open and a red ensign light 'like' it in a small box, with bright lamps to heat it."""
    bright = "\n".join(
        f"{{name: bright {n}, part: box, at_mm: [{5 + 9 * n}, 10], colour: warm white, model_mm: 3, states: day, "
        "source: {kind: led}, brightness: {intensity_mcd: 3000}}" for n in range(hot)
    )
    two = (f"{{name: stern, part: board, at_mm: [20, 30], {RED}, brightness: {{intensity_mcd: 60}}}}\n"
           f"{{name: ensign, part: box, at_mm: [60, 50], {RED}, brightness: {{like: stern, ratio: {ratio:g}}}}}\n")
    return designed(board(two + bright).replace("supply:", f"{BOX}supply:", 1))


def off(made: Design, *, first: bool) -> float:
    """How far the two are off what was asked, from their own lights."""
    lit = {row.lamp: row.effective_cd * (row.first_times if first else 1.0) for row in made.light.lamps}
    asked = made.plan.lamps[1].brightness.ratio
    times = lit["ensign"] / asked / lit["stern"]
    return max(times, 1.0 / times)


def test_two_alike_once_warm_and_not_at_first_are_told_with_both_figures() -> None:
    made = hull()
    assert off(made, first=False) <= 1.5 < off(made, first=True)
    (found,) = RULE.find(made)
    assert (found.item, found.limit, found.number) == ("ensign", 1.5, pytest.approx(off(made, first=True)))
    assert "'ensign' and 'stern' are 1.6 times off what was asked in the first moment of 'day'" in found.says
    assert "1.1 times once they are warm" in found.says


def test_in_a_box_that_stays_cool_nothing_is_told() -> None:
    made = hull(hot=0)
    assert off(made, first=True) < 1.5 and not RULE.find(made)


@pytest.mark.parametrize(("settled", "first", "told"), [
    (1.0, 1.49, False), (1.0, 1.51, True), (0.7, 1.49, False), (1.49, 1.02, True), (1.6, 1.2, False), (1.0, 0.6, True),
])
def test_it_is_told_between_its_limits_only(settled: float, first: float, told: bool) -> None:
    """Settled within 1.5 times of what was asked, and the first moment over it, to either side."""
    made = hull(hot=0, ratio=1)
    stern = next(row for row in made.light.lamps if row.lamp == "stern")
    (at,) = (n for n, row in enumerate(made.light.lamps) if row.lamp == "ensign")
    put = {"effective_cd": settled * stern.effective_cd, "first_times": first * stern.first_times}
    assert bool(RULE.find(spoiled(made, tuple((f"light/lamps/{at}/{key}", value) for key, value in put.items())))) is told


def test_where_one_of_the_two_is_dark_nothing_is_told() -> None:
    made = hull(hot=0, ratio=1)
    dark = tuple((f"light/lamps/{n}/effective_cd", 0.0) for n, row in enumerate(made.light.lamps) if row.lamp == "stern")
    assert dark and not RULE.find(spoiled(made, dark))
