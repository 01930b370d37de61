"""Too bright or too dim on an LED that feeds others as well: each way told is applied, and spoils no other lamp."""

from __future__ import annotations

import pytest

from designed import cured, designed
from plans import board
from rushlight.findings import find
from rushlight.findings._lights import emitters_of
from rushlight.findings._one_led import softer_of, spoilt
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.model.finding import Finding

ROW = ("{{name: {name}, part: board, along_mm: [[40, {y}], [100, {y}]], count: {count}, colour: warm white, states: [night], "
       "model_mm: {mm}, brightness: {{seen_in: dark room}}, source: {{kind: fibre{tip}}}}}")

LED = "5 mm warm white, diffused"

HELD = "pinned: [{of: ports, choice: bundle, value: one}, {of: domes, choice: bundle, value: one}]\n"


def shared(mm: float = 1.5, tip: str = "domed", *, ports_tip: str = "sanded") -> str:
    """Eight small lamps and three wide ones on one LED."""
    ports = ROW.format(name="ports", y=60, count=8, mm=0.5, tip=f", tip: {ports_tip}")
    domes = ROW.format(name="domes", y=50, count=3, mm=mm, tip=f", tip: {tip}")
    return board(rows=f"{ports}\n{domes}", more=HELD)


def told(made: Design, key: str, item: str) -> list[Finding]:
    return [row for row in find(made) if (row.key, row.item) == (key, item)]


def test_a_current_that_would_starve_the_others_is_not_offered_but_an_led_of_its_own() -> None:
    made = designed(shared())
    (bright,) = told(made, "light.brighter-than-wanted", "domes")
    assert "feeds 'ports' too" in bright.cure and "too dim" in bright.cure and "an LED of its own" in bright.cure
    after = cured(made, bright)
    feeds = emitters_of(after)
    assert feeds["domes 1"].name != feeds["ports 1"].name
    assert not told(after, "light.brighter-than-wanted", "domes")
    assert not told(after, "light.too-dim", "ports") and not told(after, "light.too-dim", "domes")


def test_too_dim_on_a_shared_led_gets_one_of_its_own_too() -> None:
    """At 6 mA the small ones are too dim, the wide ones too bright: no current suits both."""
    wish = "{of: ports, choice: current_ma, value: '6'}]"
    text = shared().replace("mm: 0.5, brightness: {seen_in: dark room}", "mm: 0.5, brightness: {intensity_mcd: 0.6}")
    text = text.replace("kind: fibre", f"kind: fibre, led: \"{LED}\"").replace(HELD, HELD.replace("}]", "}, " + wish))
    made = designed(text)
    (dim,) = told(made, "light.too-dim", "ports")
    assert "feeds 'domes' too" in dim.cure and "too bright" in dim.cure
    after = cured(made, dim)
    assert not told(after, "light.too-dim", "ports") and not told(after, "light.brighter-than-wanted", "ports")


def test_where_nothing_of_a_bundle_is_held_it_gets_a_name_of_its_own() -> None:
    made = designed(shared())
    (bright,) = told(made, "light.brighter-than-wanted", "domes")
    free = designed(shared().replace("{of: domes, choice: bundle, value: one}", "{of: domes, choice: fibre_mm, value: '1.5'}"))
    edit = cure_of(free, bright)
    assert edit is not None and edit.says == "Hold the bundle domes for 'domes'."


def one_row(mm: float, wanted_mcd: float, tip: str = "") -> Design:
    """Four alike lamps on one LED, at the least current."""
    row = ROW.format(name="ports", y=60, count=4, mm=mm, tip=f", led: \"{LED}\"{tip}")
    return designed(board(rows=row.replace("{seen_in: dark room}", f"{{intensity_mcd: {wanted_mcd}}}")))


@pytest.mark.parametrize(("wanted_mcd", "way", "left"), [(0.46, "fibre of 0.75 mm", 0.5625), (0.19, "the end", 0.25 * 0.813)])
def test_under_the_least_current_a_fibre_or_an_end_is_named_that_leaves_it_as_wanted(
    wanted_mcd: float, way: str, left: float
) -> None:
    """Core areas go as (0.735 / 0.98) ** 2; of a full cone of NA 0.5 a sanded end sends NA ** 2 ahead, less 0.9 dB."""
    made = one_row(1.0, wanted_mcd)
    (bright,) = told(made, "light.brighter-than-wanted", "ports")
    softer = softer_of(made, "ports")
    assert softer is not None and softer.left * wanted_mcd == pytest.approx(left * bright.number, rel=0.01)  # type: ignore[operator]
    assert "times what is wanted then" in bright.cure
    edit = cure_of(made, bright)
    assert edit is not None and way in edit.says, edit.says
    after = cured(made, bright)
    assert not told(after, "light.brighter-than-wanted", "ports") and not told(after, "light.too-dim", "ports")
    now = next(row.intensity_cd.typical for row in after.light.lamps if row.lamp == "ports 1")
    assert 1000 * now == pytest.approx(left * bright.number, rel=0.02)  # type: ignore[operator]


def test_what_no_fibre_makes_right_is_told_with_what_is_left_and_no_edit() -> None:
    near = one_row(1.0, 0.01, ", tip: sanded")
    (bright,) = told(near, "light.brighter-than-wanted", "ports")
    assert "fibre of 0.75 mm (12 times what is wanted then)" in bright.cure and cure_of(near, bright) is None
    none = one_row(0.75, 0.01, ", tip: sanded")
    (bright,) = told(none, "light.brighter-than-wanted", "ports")
    assert "no thinner fibre that fits it" in bright.cure and cure_of(none, bright) is None


def test_whom_a_change_would_spoil_is_counted_in_its_own_direction_alone() -> None:
    made = designed(shared())
    feed = emitters_of(made)["domes 1"]
    assert spoilt(made, feed, "domes", 0.1) == ("ports",)
    assert spoilt(made, feed, "domes", 1.0 / 1.05) == ()
    assert spoilt(made, feed, "ports", 1.3) == ("domes",)
    assert spoilt(made, feed, "ports", 0.9) == ()
