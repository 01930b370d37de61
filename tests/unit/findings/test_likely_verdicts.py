"""Findings on brightness tell the likely range first, the outer one beside it, and how sure they are."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from finding_cases import design_of, read_case
from rushlight.findings import FINDINGS
from rushlight.model.design import Design
from rushlight.model.finding import Finding, Grade
from rushlight.units import Range

RULES = {rule.key: rule for rule in FINDINGS}


@pytest.mark.parametrize("key", [
    "light.too-dim", "light.brighter-than-wanted", "light.flash-too-dim", "light.window-too-dim", "light.window-too-bright",
    "light.pool-too-dim",
])
def test_they_say_how_sure_they_are(key: str) -> None:
    found = RULES[key].find(design_of(read_case(key).trips))
    for finding in found:
        assert re.search(r"\(likely .* to .*; at the outside .* to .*\)", finding.says), finding.says
        assert re.search(r": (perhaps |likely |)too (dim|bright)\.$", finding.says), finding.says


def told(made: Design, likely_times: tuple[float, float], outer_times: tuple[float, float]) -> Finding:
    """The finding with the lamp's light at a twentieth of what is wanted, and ranges so many times that."""
    def dim(light_cd: float, times: tuple[float, float]) -> Range:
        return Range.spread(light_cd, *times)

    lamps = tuple(replace(row, intensity_cd=dim(row.wanted_cd / 20, outer_times), likely_cd=dim(row.wanted_cd / 20, likely_times))
                  for row in made.light.lamps)
    (finding,) = RULES["light.too-dim"].find(replace(made, light=replace(made.light, lamps=lamps)))
    return finding


@pytest.mark.parametrize(("likely", "outer", "grade", "words"), [
    ((0.5, 2.0), (0.1, 5.0), Grade.WILL_FAIL, "too dim"),  # derived: at most 5/20 of what is wanted, 1/1.5 is enough
    ((0.5, 2.0), (0.1, 15.0), Grade.WILL_FAIL, "likely too dim"),
    ((0.5, 14.0), (0.1, 15.0), Grade.DOUBTFUL, "perhaps too dim"),
])
def test_a_lamp_fails_only_where_that_is_likely(
    likely: tuple[float, float], outer: tuple[float, float], grade: Grade, words: str
) -> None:
    finding = told(design_of(read_case("light.too-dim").trips), likely, outer)
    assert finding.grade is grade and finding.says.endswith(f": {words}.")


def test_glare_is_told_by_the_outer_range_with_what_is_likely() -> None:
    made = design_of(read_case("light.blue-glare").trips)
    (finding,) = RULES["light.blue-glare"].find(made)
    assert finding.number == max(row.intensity_cd.high for row in made.light.lamps)
    narrow = tuple(replace(row, likely_cd=Range.spread(row.intensity_cd.typical, 0.9, 1.1)) for row in made.light.lamps)
    (finding,) = RULES["light.blue-glare"].find(replace(made, light=replace(made.light, lamps=narrow)))
    assert "at the outside, likely up to" in finding.says


def test_a_lamp_that_gets_next_to_nothing_is_not_told_as_a_million_times_dimmer() -> None:
    made = design_of(read_case("light.row-uneven").trips)
    rows = tuple(replace(row, ratio=5e6) for row in made.light.rows)
    for finding in RULES["light.row-uneven"].find(replace(made, light=replace(made.light, rows=rows))):
        assert "is over 1000 times as bright as" in finding.says
        assert finding.number == 1e6
