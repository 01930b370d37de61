"""LED or fibre, weighed by light, evenness, size and pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest

from designed import PACKAGED, designed, planned
from plans import board
from rushlight.findings import find
from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.stages.pipeline import design
from rushlight.stages.source_choice import Way, _better, times


def lamp(more: str, colour: str = "red") -> str:
    return f"{{name: a, part: board, at_mm: [60, 50], colour: {colour}, states: day, {more}}}"


def made(more: str, colour: str = "red") -> Design:
    return designed(board(lamp(more, colour)))


def row(count: int, more: str, tail: str = "") -> Design:
    return designed(board(more="rows: [{name: r, part: board, along_mm: [[20, 50], [160, 50]], colour: red, states: day, "
                               f"count: {count}, {more}}}]\n" + tail))


def test_the_reason_has_the_numbers_of_both_ways() -> None:
    design = row(6, "model_mm: 0.5, brightness: {intensity_mcd: 0.1}")
    source, bundles = design.sources[0], design.loom.bundles
    assert source.kind == "fibre"
    assert f"{len(bundles)} LED and 6 tails" in source.why and "times the wanted light" in source.why
    assert "LEDs in the holes would be: 6 LEDs" in source.why


def test_leds_that_would_be_far_too_bright_give_way_to_fibre_unless_something_is_held() -> None:
    faint = "model_mm: 1.7, brightness: {intensity_mcd: 0.2}"
    design = row(12, faint)
    # derived: a diffused LED gives 150 mcd at 20 mA, 7.5 mcd at the habit's least 1 mA: over 30 times 0.2 mcd
    assert {source.kind for source in design.sources} == {"fibre"}
    assert "LEDs in the holes would be: 12 LEDs, " in design.sources[0].why
    assert "at the least current; fibre: " in design.sources[0].why
    assert len(design.loom.tails) == 12 and design.sources[0].fibre_mm == 1.5
    held = row(12, faint, 'pinned: [{of: r, choice: current_ma, value: "2"}]\n')
    assert {source.kind for source in held.sources} == {"led"}


def test_a_tail_that_cannot_be_bright_enough_gives_way_to_an_led_that_can() -> None:
    wide = made("model_mm: 1.6, brightness: {intensity_mcd: 100}", colour="warm white").sources[0]
    assert wide.kind == "fibre" and "an LED in the hole would be" in wide.why
    own = Way("fibre", "x", 1.0, leds=1, tails=1, holes=1, enough=0.1, least=0.01, uneven=1, oversize=1, pieces=1.5)
    led = Way("led", "y", None, leds=1, tails=0, holes=1, enough=5, least=0.3, uneven=1, oversize=1.6, pieces=1.0)
    assert _better(own, led, 2.0) and not _better(led, own, 2.0)
    assert not _better(own, replace(led, oversize=2.1), 2.0)  # source: habit `oversize`


def test_both_serve_and_the_size_decides_unless_the_other_takes_far_fewer_pieces() -> None:
    fair = Way("led", "y", None, leds=9, tails=0, holes=9, enough=5, least=0.3, uneven=1, oversize=1, pieces=9.0)
    assert not _better(fair, replace(fair, kind="fibre", pieces=5.0), 2.0)
    assert _better(fair, replace(fair, kind="fibre", pieces=4.0), 2.0)
    assert not _better(replace(fair, kind="fibre"), replace(fair, oversize=0.0, pieces=1.0), 2.0)  # its size is not known


def test_an_led_that_is_too_dim_gives_way_to_a_brighter_one_of_its_width() -> None:
    plain, bright = (made(f"model_mm: 3, brightness: {{intensity_mcd: {mcd}}}") for mcd in (40, 2000))
    usual, other = (one.drawer.led(one.sources[0].led) for one in (plain, bright))
    assert usual.lens == "diffused" and other.name != usual.name
    assert other.intensity_mcd.typical * other.max_ma * 0.75 / other.test_ma >= 2000 / 1.5  # source: habit `equal`
    assert f"in place of {usual.name}" in bright.sources[0].why and not bright.aims[0].short
    assert bright.sources[0].hole_mm == other.hole_mm and not bright.sources[0].insisted


def test_where_no_led_is_bright_enough_the_brightest_is_taken_not_the_usual_one() -> None:
    nearly, far = (made(f"model_mm: 3, brightness: {{intensity_mcd: {mcd}}}") for mcd in (2000, 60000))
    assert far.sources[0].led == nearly.sources[0].led and far.aims[0].short
    assert "no LED of its colour and size gives what is wanted" in far.sources[0].why
    assert "no LED" not in nearly.sources[0].why


@pytest.mark.parametrize("mcd", [430, 450, 500, 560, 620, 700])
def test_an_led_is_weighed_as_warm_as_it_gets(mcd: int) -> None:
    """A 3 mm red diffused LED gives 337 mcd cold at 22.5 mA, and 16 % less warm: what it lacks then counts."""
    design = made(f"model_mm: 3, brightness: {{intensity_mcd: {mcd}}}")
    [light] = design.light.lamps
    assert light.intensity_cd.typical >= light.wanted_cd / 1.5  # source: habit `equal`
    assert f"{design.sources[0].led}".startswith("3 mm red") and "light.too-dim" not in {row.key for row in find(design)}


def test_where_all_are_too_dim_the_plainly_nearer_one_is_taken() -> None:
    leds = [row for row in PACKAGED.leds if row.name in ("3 mm red, diffused", "3 mm red, clear 30 deg")]
    usual, bright = sorted(leds, key=lambda row: row.intensity_mcd.typical)
    nearer = replace(bright, intensity_mcd=usual.intensity_mcd.times(1.35))
    drawer = replace(PACKAGED, leds=tuple(nearer if row is bright else row for row in PACKAGED.leds
                                          if row.dominant_nm != 625 or row in leds))
    taken = [designed_with(f"model_mm: 3, brightness: {{intensity_mcd: {mcd}}}", drawer) for mcd in (300, 700)]
    assert taken == [usual.name, nearer.name]  # 700 mcd: 2.4 times too dim or 1.8


def designed_with(more: str, drawer: Drawer) -> str:
    return design(planned(board(lamp(more))), drawer).sources[0].led


def test_the_modellers_word_stands() -> None:
    design = made("model_mm: 1.1, brightness: {intensity_mcd: 900}, source: {kind: fibre}")
    assert design.sources[0].kind == "fibre" and design.sources[0].why == "as the plan insists"


def test_a_bright_led_is_not_taken_for_a_faint_bundle() -> None:
    design = row(3, "model_mm: 0.5, brightness: {intensity_mcd: 0.5}")
    light = {one.lamp: one.intensity_cd.typical for one in design.light.lamps}
    wanted = {aim.lamp: aim.wanted_cd for aim in design.aims}
    assert max(light[name] / wanted[name] for name in light) < 2.0  # a clear LED at 1 mA would give over fifty times that


@pytest.mark.parametrize(("ratio", "words"), [(1.234, "1.2"), (12.4, "12"), (123.0, "120"), (0.034, "0.034"),
                                              (1e9, "over 1000")])
def test_ratios_in_words(ratio: float, words: str) -> None:
    assert times(ratio) == words


def test_what_speaks_against_a_way() -> None:
    way = Way("fibre", "x", 2.0, leds=1, tails=3, holes=3, enough=0.5, least=0.1, uneven=1.7, oversize=2.5, pieces=2.5)
    assert way.lacks(2.0) == ("2.5 times as wide as at scale", "0.5 times the wanted light at most", "uneven, 1.7 times",
                              "fibre of 2 mm hardly bends")
    fair = Way("led", "x", None, leds=3, tails=0, holes=3, enough=5, least=0.3, uneven=1.0, oversize=0.0, pieces=3.0)
    assert fair.lacks(2.0) == () and fair.numbers() == "3 LEDs, up to 5 times the wanted light, all alike"
