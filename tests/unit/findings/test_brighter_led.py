"""A lamp whose LED cannot give what is wanted: the LED that is named does, on the plan, and its like goes along."""

from __future__ import annotations

import pytest

from designed import PACKAGED, cured, designed
from plans import board
from rushlight.findings import find
from rushlight.findings._brighter import brighter_led
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.model.finding import Finding

HEAD = ("{{name: {name}, part: board, at_mm: [{x}, 60], colour: {colour}, size_mm: 184, facing: ahead, states: [night], "
        "brightness: {{{bright}}}{more}}}")


def lamp(name: str, bright: str, *, colour: str = "warm white", x: int = 40, more: str = "") -> str:
    return HEAD.format(name=name, x=x, colour=colour, bright=bright, more=more)


def told(made: Design, key: str) -> list[Finding]:
    return [row for row in find(made) if row.key == key]


def test_the_brighter_led_is_named_and_those_like_it_follow() -> None:
    """A 1.8 mm clear LED of 1200 mcd at 20 mA bears 15 mA; 20,000 cd at 1:100 are 2 cd by equal illuminance."""
    made = designed(board(f"{lamp('left', 'subject_intensity_cd: 20000')}\n{lamp('right', 'like: left', x=70)}"))
    (dim,) = told(made, "light.too-dim")
    best = brighter_led(made, "left")
    assert best is not None and best.led in dim.cure and "1.6 times as wide as at scale" in dim.cure
    after = cured(made, dim)
    assert {row.led for row in after.sources} == {best.led}
    assert not told(after, "light.too-dim") and not told(after, "light.like-mismatch")


def test_where_the_drawer_has_none_that_is_said_and_no_edit_offered() -> None:
    made = designed(board(lamp("left", "subject_intensity_cd: 9000000")))
    (dim,) = told(made, "light.too-dim")
    assert "no LED of its colour and size in the drawer gives that" in dim.cure and cure_of(made, dim) is None


def test_a_dim_flash_gets_its_brighter_led_too() -> None:
    made = designed(board(lamp("beacon", "seen_in: beacon", colour="amber", more=", rhythm: flash 90/min")))
    (dim,) = told(made, "light.flash-too-dim")
    assert "amber, clear 30 deg LED instead" in dim.cure
    after = cured(made, dim)
    assert not told(after, "light.flash-too-dim")


@pytest.mark.parametrize("carry", ["equal illuminance", "equal luminance"])
def test_lamps_of_one_size_get_leds_no_wider_than_one_another(carry: str) -> None:
    """A chip that is too dim gives way to an LED with a lens as one with a lens would, within 1.5 times the lamp."""
    made = designed(board(lamp("top", f"subject_intensity_cd: 20000, carry: {carry}", colour="cool white")))
    led = PACKAGED.led(made.sources[0].led)
    assert led.lens == "clear" and led.face_mm <= 1.5 * 1.84
    strongest = max((row for row in PACKAGED.leds if row.colour == "cool white" and row.face_mm <= 1.5 * 1.84
                     and row.pre_wired_v is None), key=lambda row: row.intensity_mcd.typical)
    assert led.name == strongest.name
