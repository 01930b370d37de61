"""The joint of a bundle and its LED, as the modeller holds it."""

from __future__ import annotations

import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.optics.fibre_loss import finish_db, transmittance
from rushlight.sheets.cut_list import tail_table
from rushlight.stages.fibre_light import LedJoint, launch_into
from rushlight.stages.parts_law import led_launch

ROW = ("{name: r, part: board, along_mm: [[20, 85], [180, 85]], count: 6, colour: warm white, model_mm: 0.5, "
       "states: day, source: {kind: fibre, led: LED}}")
CLEAR, FLAT = '"3 mm green, clear 30 deg"', '"3 mm warm white, flat top 100 deg"'


def lit(pins: str = "", *, led: str = FLAT, colour: str = "warm white", of: str = "r"):
    """Light of the row's third lamp at the held current."""
    held = [pin for pin in pins.split("; ") if pin]
    rows = ", ".join(f"{{of: {of}, choice: {name}, value: '{value}'}}" for name, value in (pin.split("=") for pin in held))
    text = board(rows=ROW.replace("LED", led).replace("warm white", colour, 1))
    return designed(text + f"\npinned: [{{of: r, choice: current_ma, value: '5'}}{', ' + rows if rows else ''}]\n")


def third(made):
    return next(row for row in made.light.lamps if row.lamp == "r 3")


def test_a_cut_end_loses_what_its_table_says() -> None:
    usual = third(lit()).flux_lm.typical
    share = transmittance(finish_db("cut")).typical / transmittance(finish_db("polished")).typical
    assert third(lit("fibre_inlet=cut")).flux_lm.typical == pytest.approx(usual * share, rel=0.02)


def test_gel_gains_one_face_and_a_gap_loses() -> None:
    usual = third(lit()).flux_lm.typical
    # derived: Fresnel at n = 1.49 lets 96 % through, one face of the two less
    assert third(lit("bundle_joint=gel")).flux_lm.typical == pytest.approx(usual / 0.961, rel=0.01)
    near, far = (third(lit(f"bundle_gap_mm={gap}")).flux_lm.typical for gap in (1, 5))
    assert far < near < usual
    assert third(lit("bundle_joint=dry; led_dome=as sold")).flux_lm.typical == usual


def test_a_filed_dome_faces_its_bundle_as_an_led_that_is_sold_flat() -> None:
    domed, filed = (third(lit(pins, led=CLEAR, colour="green")) for pins in ("", "led_dome=filed"))
    led = PACKAGED.led(CLEAR.strip('"'))
    launch = launch_into(led, 0.005, LedJoint(filed=True))
    flat = PACKAGED.led(FLAT.strip('"'))
    assert (launch.lensed, launch.gap_mm / led.face_mm) == (False, led_launch(flat, 0.005).gap_mm / flat.face_mm)
    assert filed.flux_lm.typical != pytest.approx(domed.flux_lm.typical, rel=0.05)


def test_lamps_with_another_joint_get_an_led_of_their_own() -> None:
    made = lit("bundle_joint=gel", of="r 3")
    feeds = {lamp: row.name for row in made.loom.emitters for lamp in row.lamps}
    assert [name for name, feed in feeds.items() if feed == feeds["r 3"]] == ["r 3"]
    assert len({feeds[f"r {k}"] for k in (1, 2, 4, 5, 6)}) == 1
    told = {row[3]: row[-1] for row in tail_table(made).rows}
    assert (told["r 3"], told["r 1"]) == ("clear gel", "polished, dry")
