"""Windows of one LED in a room: another place for it, and two LEDs, as tried."""

from __future__ import annotations

import pytest

from designed import designed
from rushlight.errors import DocumentProblem
from rushlight.findings.cures import cure_of
from rushlight.findings.light.windows_differ import RULE
from rushlight.model.design import Design
from rushlight.stages.pipeline import design
from rushlight.stages.room_places import place_words, tried_places
from rushlight.working_plan import changed

SALOON = """rushlight: 1
subject: {title: ferry saloon, scale: 72, invented: true}
states: [{name: dusk}]
parts:
  - {name: side, outline_mm: [[0, 0], [120, 0], [120, 40], [0, 40]], relief: {flat: true}, wall: white styrene, wall_mm: 1, coats: [black lacquer, white primer],
     openings: [%s]}
spaces: [{name: saloon, parts: [side], size_mm: [%s], windows: [%s]%s}]
lamps:
%s
supply: {kind: adapter, adapter_v: 5, limit_a: 1, run_h: 10}
"""


def saloon(*lefts: float, size: str = "116, 24, 26", led: str = "") -> Design:
    """A long low room with windows of 10 mm at these places."""
    names = "abc"[:len(lefts)]
    openings = ", ".join(f"{{name: {name}, rect_mm: [{left}, 12, 10, 10], diffusers: [{{sheet: tracing paper}}]}}"
                         for name, left in zip(names, lefts, strict=True))
    lamps = "\n".join(f"  - {{name: l{name}, part: side, at_mm: [{left + 5}, 17], opening: {name}, source: {{kind: room}}, "
                      "colour: warm white, states: [dusk]}" for name, left in zip(names, lefts, strict=True))
    return designed(SALOON % (openings, size, ", ".join(names), led, lamps))


def test_two_leds_are_told_where_they_help_most() -> None:
    made = saloon(20, 53, 86)
    (found,) = RULE.find(made)
    pair = next(one for one in tried_places(made, made.light.alike[0]) if len(one.places_mm) == 2)
    assert pair.reaches and pair.apart < 1.5 < found.number
    (left, right) = pair.places_mm
    assert left[0] + right[0] == pytest.approx(116)  # the windows lie evenly, and so do the LEDs
    assert "hang two of its LEDs, each with half the current" in found.cure[:1].lower() + found.cure[1:]
    assert found.cure.endswith("The two LEDs help most.")


def test_another_place_that_does_is_one_edit_and_the_windows_are_alike_then() -> None:
    made = saloon(30, 70, led=", led_mm: [20, 12]", size="116, 24, 26")
    (found,) = RULE.find(made)
    place = next(one for one in tried_places(made, made.light.alike[0]) if len(one.places_mm) == 1)
    assert place.reaches and "mm to the right" in place_words(place)
    edit = cure_of(made, found)
    assert edit is not None and edit.changes[0].values == {"led_mm": list(place.places_mm[0])}
    after = design(changed(made.plan, edit.changes), made.drawer)
    assert after.light.alike[0].ratio == pytest.approx(place.apart, rel=1e-6) and not RULE.find(after)


def test_the_place_of_the_led_shifts_the_light_to_its_side() -> None:
    middle, left = saloon(30, 70), saloon(30, 70, led=", led_mm: [20, 12]")
    assert middle.light.alike[0].ratio == pytest.approx(1.0, rel=1e-6)
    assert left.light.alike[0].brightest == "la"


@pytest.mark.parametrize("led", ["[120, 12]", "[20, -1]"])
def test_an_led_outside_its_room_is_refused(led: str) -> None:
    with pytest.raises(DocumentProblem, match="a place within the 116 mm from the left and 24 mm from the front"):
        saloon(30, 70, led=f", led_mm: {led}")
