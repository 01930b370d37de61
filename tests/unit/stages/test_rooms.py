"""Lit rooms: size, paint, opening of the plan count."""

from __future__ import annotations

import pytest

from designed import PACKAGED, designed
from rushlight.model.plan_part import Diffuser, Opening
from rushlight.stages.rooms import opening_through

PLAN = """
rushlight: 1
subject: {title: hut, scale: 50}
states: [{name: night}]
parts:
  - {name: hut, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, coats: [%s],
     openings: [{name: parlour, rect_mm: [60, 40, %g, 10], clear: false}],
     bays: [{name: bay, rect_mm: [5, 5, 40, 15], depth_mm: 20, access: open}]}
%s
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: glow, part: hut, at_mm: [60.5, 45], colour: white, states: [night], opening: parlour, source: {kind: room}}
pinned: [{of: glow, choice: current_ma, value: "5"}]
"""
SPACE = "spaces: [{name: parlour, parts: [hut], size_mm: [%g, 30, 25]}]"


def _luminance(coats: str = "white primer", wide: float = 10, space: str = SPACE % 40) -> float:
    made = designed(PLAN % (coats, wide, space))
    light, = made.light.lamps
    amps = made.power.states[0].lit[0].current_a.typical
    return light.luminance_cd_m2.typical / amps


def test_a_larger_room_is_dimmer_and_a_black_one_darker() -> None:
    assert _luminance(space=SPACE % 80) < 0.8 * _luminance()
    assert _luminance("black lacquer") < 0.3 * _luminance()


def test_a_wider_window_lets_more_of_the_light_out() -> None:
    assert _luminance(wide=38) < _luminance(wide=20)


def test_a_measured_paint_narrows_the_room() -> None:
    text = PLAN % ("kitchen foil", 10, SPACE % 40)  # it covers, so that nothing under it counts
    led = PACKAGED.led(designed(text).loom.emitters[0].part_row)
    own = ("drawer:\n  - {table: coats, row: kitchen foil, column: reflectance, value: 0.7, measured: true}\n"
           f'  - {{table: leds, row: "{led.name}", column: half_angle_deg, value: {led.half_angle_deg}, measured: true}}\n')
    told = designed(text + own)
    guessed, measured = (made.light.lamps[0].luminance_cd_m2 for made in (designed(text), told))
    lit = told.power.states[0].lit[0]
    share, amps = lit.light_share, lit.lit_a
    # derived: the LED's 0.5 to 1.5, and where it sits, 0.6 to 1.6, and what its current and warmth do to it
    known = 3.0 * 1.6 / 0.6 * share.high / share.low * amps.high / amps.low
    assert measured.high / measured.low == pytest.approx(known, rel=0.01)
    assert guessed.high / guessed.low > 1.5 * measured.high / measured.low


@pytest.mark.parametrize("wide", [1, 100])
def test_any_window_has_a_finite_light(wide: float) -> None:
    assert _luminance(wide=wide, space="") > 0


@pytest.mark.parametrize("count", [1, 2, 3])
def test_sheets_throw_light_to_one_another(count: int) -> None:
    """Second method: the light followed from face to face, up and down through the stack."""
    sheet = PACKAGED.diffuser("opal acrylic 2 mm")
    passes, throws = sheet.transmittance.typical, sheet.reflectance.typical
    up, down, out = [1.0] + [0.0] * count, [0.0] * (count + 1), 0.0
    for _ in range(400):
        out += up[count]
        going_up = [0.0] * (count + 1)
        going_down = [0.0] * (count + 1)
        for k in range(count):
            going_up[k + 1] += passes * up[k] + throws * down[k + 1]
            going_down[k] += throws * up[k] + passes * down[k + 1]
        up, down = going_up, going_down
        up[0] = down[count] = 0.0
    opening = Opening(name="w", rect_mm=(0, 0, 10, 10), clear=False, diffusers=(Diffuser(sheet=sheet.name),) * count)
    through = opening_through(PACKAGED, opening)
    assert through.typical == pytest.approx(out, rel=1e-6)
    assert through.low <= through.typical <= through.high <= 1.0
