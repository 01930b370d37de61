"""The likely range of each lamp's light: inside the outer one, narrower with each reading, alike on both sides."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench_entries import PLANS, before, entry
from designed import PACKAGED, designed, planned
from finding_cases import design_of, read_case
from plans import board
from random_plans import bent
from rushlight.likely import ln_apart
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.stages.pipeline import design
from rushlight.stages.wanted_look import TOO_BRIGHT, TOO_DIM, look_words, over_words
from rushlight.units import Range


def pairs(made: Design) -> list[tuple[Range, Range]]:
    found = [pair for row in made.light.lamps for pair in (
        (row.flux_lm, row.likely_lm), (row.intensity_cd, row.likely_cd), (row.luminance_cd_m2, row.likely_cd_m2))]
    found += [(row.luminance_cd_m2, row.likely_cd_m2) for row in made.light.strips]
    found += [(row.luminance_cd_m2, row.likely_cd_m2)
              for row in (*made.light.leaks, *made.light.ways_out, *made.light.spots)]
    found += [(row.centre_lx, row.likely_lx) for row in made.light.pools]
    return found + [pair for row in made.light.grounds for pair in (
        (row.peak_lx, row.likely_peak_lx), (row.mean_lx, row.likely_mean_lx))]


def test_pools_are_as_likely_as_the_lamps_that_throw_them() -> None:
    made = design_of(read_case("light.pool-too-dim").trips)
    assert made.light.pools and is_inside(made)
    for pool in made.light.pools:
        light = next(row for row in made.light.lamps if row.lamp == pool.lamp)
        assert ln_apart(pool.likely_lx) == pytest.approx(ln_apart(light.likely_cd))
        assert pool.centre_lx.low < pool.likely_lx.low < pool.likely_lx.typical == pool.centre_lx.typical


def test_a_wall_is_likely_to_glow_far_less_than_at_the_outside() -> None:
    """One LED behind one wall: its stray light, its own guesses, the paint inside and the wall know nothing of each other."""
    made = designed(PLANS["stray light"])
    assert made.light.leaks and is_inside(made)
    for leak in made.light.leaks:
        assert ln_apart(leak.likely_cd_m2) < 0.75 * ln_apart(leak.luminance_cd_m2)


@pytest.mark.parametrize("what", ["seam gap", "post gap", "stray light"])
def test_gaps_and_spots_are_likely_too(what: str) -> None:
    made, row = before(what)
    after = designed(PLANS[what] + entry(what, made, row))
    now, then = ([ln_apart(one.likely_cd_m2) for one in (*each.light.ways_out, *each.light.spots)] for each in (made, after))
    assert is_inside(made) and is_inside(after) and len(now) == len(then)
    assert any(wide < 0.9 * ln_apart(one.luminance_cd_m2) for wide, one in zip(now, (*made.light.ways_out, *made.light.spots), strict=True))
    assert all(b <= a * (1 + 1e-6) for a, b in zip(now, then, strict=True))
    assert any(b < a * (1 - 1e-6) for a, b in zip(now, then, strict=True))


@pytest.mark.parametrize("what", ["stray light", "wall", "coat"])
def test_a_reading_narrows_what_is_likely_of_a_wall(what: str) -> None:
    made, row = before(what)
    after = designed(PLANS[what] + entry(what, made, row))
    now, then = ({one.part: ln_apart(one.likely_cd_m2) for one in each.light.leaks} for each in (made, after))
    assert all(then[part] <= now[part] * (1 + 1e-6) for part in now)
    assert any(then[part] < now[part] * (1 - 1e-6) for part in now)


def is_inside(made: Design) -> bool:
    return all(outer.low <= likely.low <= likely.typical == outer.typical <= likely.high <= outer.high
               for outer, likely in pairs(made))


@pytest.mark.parametrize("what", ["fibre joint", "diffuser", "strip flux", "led voltage", "lamp"])
def test_the_likely_range_lies_in_the_outer_one(what: str) -> None:
    made = designed(PLANS[what])
    assert pairs(made) and is_inside(made)


@pytest.mark.parametrize("seed", range(12))
def test_it_does_in_bent_plans_too(seed: int) -> None:
    plan, _ = bent(planned(PLANS[("fibre joint", "diffuser", "strip flux")[seed % 3]]), PACKAGED, seed, 6)
    assert is_inside(design(plan, PACKAGED))


def test_a_tail_is_far_narrower_than_all_guesses_to_one_side() -> None:
    light = designed(PLANS["fibre joint"]).light.lamps[0]
    assert ln_apart(light.likely_cd) < 0.6 * ln_apart(light.intensity_cd)


@pytest.mark.parametrize("what", [
    "led intensity", "led half angle", "fibre joint", "fibre end", "fibre bend", "fibre length", "strip flux", "diffuser",
    "led voltage", "adapter volts", "lamp",
])
def test_a_reading_narrows_what_is_likely(what: str) -> None:
    """The truth lies in the middle of what was believed, as in the tests of the bench's methods."""
    made, row = before(what)
    after = designed(PLANS[what] + entry(what, made, row))
    now, then = ({(one.lamp, one.state): ln_apart(one.likely_lm) for one in each.light.lamps} for each in (made, after))
    assert all(then[key] <= now[key] * (1 + 1e-6) for key in now)
    assert any(then[key] < now[key] * (1 - 1e-6) for key in now)


def test_mirrored_lamps_are_as_likely() -> None:
    made = designed(board(rows="{name: ports, part: board, along_mm: [[20, 60], [80, 60]], count: 4, colour: warm white, "
                               "model_mm: 3, states: [day], source: {kind: led}, mirror: {part: board, axis_x_mm: 100}}"))
    lights = {row.lamp: row for row in made.light.lamps}
    for number in range(1, 5):
        one, other = lights[f"ports {number}"], lights[f"ports m{number}"]
        assert ln_apart(one.likely_cd) == pytest.approx(ln_apart(other.likely_cd), rel=0.01)


def test_a_sister_of_a_lamp_that_was_read_is_never_less_known() -> None:
    made, row = before("lamp")
    after = designed(PLANS["lamp"] + entry("lamp", made, row))
    now, then = ({one.lamp: one for one in each.light.lamps} for each in (made, after))
    sisters = [name for name in now if name != row.of and then[name].intensity_cd != now[name].intensity_cd]
    assert sisters and is_inside(after)
    assert all(ln_apart(then[name].likely_cd) <= ln_apart(now[name].likely_cd) for name in sisters)
    assert then[row.of].likely_cd == then[row.of].intensity_cd  # one guess is left: the meter's error


def looks(outer: tuple[float, float], likely: tuple[float, float]) -> str:
    light = designed(board("{name: a, part: board, at_mm: [30, 20], colour: red, model_mm: 3, states: [day]}")).light.lamps[0]
    return look_words(_lit(light, outer, likely), 1.5)


def _lit(light: LampLight, outer: tuple[float, float], likely: tuple[float, float]) -> LampLight:
    ends = [Range(low, (low + high) / 2, high) for low, high in (outer, likely)]
    return replace(light, wanted_cd=3.0, intensity_cd=ends[0], likely_cd=ends[1])


@pytest.mark.parametrize(("outer", "likely", "words"), [
    ((2.1, 4.4), (2.5, 4.0), "as wanted"), ((1.0, 9.0), (2.1, 4.4), "likely as wanted"), ((1.0, 9.0), (1.5, 3.0), "perhaps too dim"),
    ((1.0, 9.0), (2.5, 6.0), "perhaps too bright"), ((1.0, 9.0), (1.5, 6.0), "open"),
    ((0.1, 3.0), (0.5, 1.9), "likely too dim"), ((0.1, 1.9), (0.5, 1.0), "too dim"),
    ((3.0, 20.0), (5.0, 9.0), "likely too bright"), ((5.0, 20.0), (6.0, 9.0), "too bright"),
])
def test_look_words(outer: tuple[float, float], likely: tuple[float, float], words: str) -> None:
    """Derived: 3 cd wanted, 1.5 times off at most: 2 to 4.5 cd."""
    assert looks(outer, likely) == words


@pytest.mark.parametrize(("likely", "too", "words"), [
    ((1.0, 1.9), TOO_DIM, "likely too dim"), ((1.0, 2.1), TOO_DIM, "perhaps too dim"), ((0.5, 9.0), TOO_BRIGHT, "perhaps too bright"),
    ((2.1, 9.0), TOO_BRIGHT, "likely too bright"),
])
def test_over_words(likely: tuple[float, float], too: str, words: str) -> None:
    """Derived: the limit is 2."""
    outer = Range(0.1, 1.9, 10.0)
    assert over_words(outer, Range(likely[0], 1.5 if too == TOO_DIM else 3.0, likely[1]), 2.0, too=too) == words
    sure = Range(0.1, 0.2, 1.0) if too == TOO_DIM else Range(3.0, 4.0, 5.0)
    assert over_words(sure, sure, 2.0, too=too) == too
