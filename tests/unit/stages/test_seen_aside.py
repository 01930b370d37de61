"""Lamps that are looked at from beside their axis: what is wanted, given and chosen counts there, not along the axis."""

from __future__ import annotations

import math

import pytest

from designed import PACKAGED, designed
from plans import board
from rushlight.findings import find
from rushlight.findings._brighter import brighter_led
from rushlight.geometry.bearing import direction
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.plan_bench import Measured
from rushlight.sheets.lamp_list import making_table
from rushlight.sheets.light import intensity_table
from rushlight.stages.build import Build
from rushlight.stages.measured import found_by
from rushlight.stages.measured_found import MeasuredFault
from rushlight.stages.outlook import outlook, seen_share
from rushlight.stages.readings import every_reading
from rushlight.stages.sisters import kin_of
from rushlight.tables import row_by

LAMP = "{{name: light, part: board, at_mm: [60, 60], colour: red, size_mm: {size}, states: [night], {more}}}"
UP, ROUND = "facing: up", "arc_deg: [0, 360]"
CHIP = 'source: {kind: led, led: "0603 red"}'
DIFFUSED = 'source: {kind: led, led: "3 mm red, diffused"}'
BEAD = "source: {kind: fibre, fibre_mm: 1.5, tip: domed}"
FLAT = "source: {kind: fibre, fibre_mm: 1.5}"
FIVE = "brightness: {intensity_mcd: 5}"


def made(*more: str, size: int = 180, beside: str = "") -> Design:
    return designed(board("\n".join([LAMP.format(size=size, more=", ".join(more)), *([beside] if beside else [])])))


def share_of(of: Design) -> float:
    return seen_share(of.plan, of.drawer, of.lamp("light"), of.source("light"))


@pytest.mark.parametrize("source, share", [
    (CHIP, 0.0), (FLAT, 0.0), (DIFFUSED, float(row_by("led_launch", "lens", "diffused")["side"])),
    (BEAD, float(row_by("fibre_finish", "finish", "domed")["side"])),
])
def test_tip_up_a_lamp_shows_what_its_dome_sends_aside(source: str, share: float) -> None:
    assert share_of(made(UP, ROUND, source)) == share
    assert share_of(made("facing: down", ROUND, source)) == share
    assert share_of(made(UP, source)) == 1.0  # without a sector nobody said from where it is seen
    assert share_of(made("facing: starboard", "arc_deg: [0, 112.5]", source)) == 1.0  # its axis lies in its sector


def test_a_lamp_beside_its_sector_shows_what_its_pattern_sends_to_the_near_edge() -> None:
    of = made("facing: ahead", "arc_deg: [30, 90]", CHIP)
    assert share_of(of) == pytest.approx(math.cos(math.radians(30)), rel=1e-3)  # derived: a half angle of 60 deg is Lambert's
    assert share_of(made("facing: ahead", "arc_deg: [270, 330]", CHIP)) == pytest.approx(share_of(of))  # other side
    assert share_of(made("facing: astern", "arc_deg: [90, 150]", CHIP)) == pytest.approx(share_of(of))


@pytest.mark.parametrize("source, mcd", [(DIFFUSED, 5.0), (BEAD, 1.0)])
def test_what_reaches_an_eye_at_its_side_is_what_was_wanted(source: str, mcd: float) -> None:
    of = made(UP, ROUND, source, f"brightness: {{intensity_mcd: {mcd}}}")
    [light] = of.light.lamps
    for bearing in (0, 77, 200):
        seen = outlook(of, "night", direction(bearing)).lamps["light"] * light.intensity_cd.typical
        assert seen == pytest.approx(mcd / 1000, rel=0.12)  # derived: as the plan says; resistors come in steps
    assert light.looked_at.wanted_cd == pytest.approx(mcd / 1000)
    assert light.looked_at.intensity_cd.typical == pytest.approx(light.intensity_cd.typical * share_of(of))


def test_sheets_tell_it_where_it_is_looked_at() -> None:
    of = made(UP, ROUND, DIFFUSED, FIVE)
    keys = [column.key for column in making_table(of).columns]
    [row] = making_table(of).rows
    assert row[keys.index("wanted_mcd")] == "5"
    [told] = intensity_table(of).rows
    assert told[2] == "5" and "seen from beside its axis, where it sends 5 %" in str(told[-1])


def test_what_is_dark_from_there_is_wanted_along_its_axis() -> None:
    of = made(UP, ROUND, CHIP, FIVE)
    assert of.aims[0].wanted_cd == pytest.approx(0.005) and "dark from beside it" in of.aims[0].wanted_why
    assert "light.sector-dark" in {row.key for row in find(of)}


def test_lamps_left_open_are_made_so_that_they_show_there() -> None:
    small = made(UP, ROUND, "brightness: {intensity_mcd: 0.5}", size=100)
    wide = made(UP, ROUND, FIVE, size=300)
    assert (small.source("light").kind, small.source("light").tip) == ("fibre", "domed")
    assert "a matted bead" in small.source("light").why
    assert of_lens(wide) == "diffused"
    assert made(FIVE, size=150).source("light").tip == "polished"  # seen along its axis: a flat end does


def of_lens(of: Design) -> str:
    return PACKAGED.led(of.source("light").led).lens


def test_a_lamp_as_bright_as_a_level_one_looks_so() -> None:
    level = ("{name: level, part: board, at_mm: [100, 60], colour: red, size_mm: 180, facing: ahead, states: [night], "
             "brightness: {like: light}, " + DIFFUSED + "}")
    of = made(UP, ROUND, DIFFUSED, "brightness: {intensity_mcd: 10}", beside=level)
    along = {light.lamp: light.intensity_cd.typical for light in of.light.lamps}
    assert along["light"] == pytest.approx(along["level"] / 0.05, rel=0.2)  # derived: a twentieth goes aside
    assert "light.like-mismatch" not in {row.key for row in find(of)}


def test_what_lacks_light_is_never_told_a_chip_that_is_dark_there() -> None:
    of = made(UP, ROUND, DIFFUSED, "brightness: {intensity_mcd: 40}", size=300)
    [dim] = [row for row in find(of) if row.key == "light.too-dim"]
    assert "40 mcd are wanted" in dim.says and "beside its axis" in dim.says
    best = brighter_led(of, "light")
    assert best is None or PACKAGED.led(best.led).lens == "diffused"


def light_of(of: Design) -> LampLight:
    [light] = of.light.lamps
    return light


@pytest.mark.parametrize("source, table, row", [(DIFFUSED, ("led_launch", "lens"), "diffused"),
                                                (BEAD, ("fibre_finish", "finish"), "domed")])
def test_its_range_holds_what_is_not_known_of_the_dome(source: str, table: tuple[str, str], row: str) -> None:
    light, told = light_of(made(UP, ROUND, source)), row_by(*table, row)
    assert light.looked_at.intensity_cd.low == pytest.approx(light.intensity_cd.low * float(told["side_low"]))
    assert light.looked_at.intensity_cd.high == pytest.approx(light.intensity_cd.high * float(told["side_high"]))
    level = light_of(made("facing: starboard", "arc_deg: [0, 112.5]", source))
    assert level.aside is None and level.looked_at is level


def test_its_likely_range_takes_the_dome_as_one_guess_more() -> None:
    light = light_of(made(UP, ROUND, DIFFUSED))
    along, beside = light.likely_cd, light.looked_at.likely_cd
    own, dome = math.log(along.typical / along.low), 2 * math.log(0.15 / 0.02) / math.sqrt(12)
    assert along.low > light.intensity_cd.low  # this end was not cut off by the outer one
    assert light.aside is not None
    assert math.log(light.aside.likely_times) == pytest.approx(math.hypot(own, dome))  # derived: GUM 5.1.2, k = 2
    outer = light.looked_at.intensity_cd
    assert outer.low < beside.low < beside.high < outer.high
    assert beside.high == pytest.approx(beside.typical * light.aside.likely_times)


READ = '\nmeasured: [{{what: light aside, of: "{of}", readings: [{of_side}], against: [200]}}]'


@pytest.mark.parametrize("source, of", [(DIFFUSED, "3 mm red, diffused"), (BEAD, "domed")])
def test_a_dome_that_was_read_decides(source: str, of: str) -> None:
    lamp = LAMP.format(size=180, more=", ".join((UP, ROUND, source, "brightness: {intensity_mcd: 1}")))
    read = designed(board(lamp, more=READ.format(of=of, of_side="20, 22, 21") + "\n"))
    before = made(UP, ROUND, source, "brightness: {intensity_mcd: 1}")
    assert share_of(read) == pytest.approx(0.105)  # derived: 21 of 200 lux
    assert light_of(read).wanted_cd == pytest.approx(0.001 / 0.105)
    seen, was = light_of(read).looked_at.intensity_cd, light_of(before).looked_at.intensity_cd
    assert seen.high / seen.low < was.high / was.low
    assert "plan.measured-unused" not in {row.key for row in find(read)}


def test_a_dome_read_for_nothing_is_told_and_so_is_an_exchanged_reading() -> None:
    lamp = LAMP.format(size=180, more=", ".join((DIFFUSED, FIVE)))
    of = designed(board(lamp, more=READ.format(of="3 mm red, diffused", of_side="20") + "\n"))
    assert "looked at from there" in next(row.says for row in find(of) if row.key == "plan.measured-unused")
    one = Measured(what="light aside", of="domed", readings=(200.0,), against=(20.0,))
    with pytest.raises(MeasuredFault, match="exchanged"):
        found_by(PACKAGED, one)


def test_a_lamp_that_is_seen_from_its_side_is_read_there() -> None:
    lamp = LAMP.format(size=180, more=", ".join((UP, ROUND, DIFFUSED, "brightness: {intensity_mcd: 1}")))
    read = 'measured: [{what: lamp, of: light, state: night, distance_mm: 100, readings: [0.2, 0.21, 0.19]}]'
    of = designed(board(lamp, more=f"\n{read}\n"))
    light, was = light_of(of), light_of(made(UP, ROUND, DIFFUSED, "brightness: {intensity_mcd: 1}"))
    seen = light.looked_at
    assert seen.intensity_cd.typical == pytest.approx(0.002)  # derived: 0.2 lux at 0.1 m
    before = was.looked_at.intensity_cd
    assert seen.intensity_cd.high / seen.intensity_cd.low < 2.0 < before.high / before.low
    assert (seen.likely_cd.low, seen.likely_cd.high) == pytest.approx((seen.intensity_cd.low, seen.intensity_cd.high))
    assert light.intensity_cd.typical == pytest.approx(0.002 / 0.05)
    assert light.wanted_cd == was.wanted_cd


def test_what_was_read_from_the_side_tells_nothing_of_a_lamp_that_is_seen_from_before() -> None:
    level = LAMP.format(size=180, more=DIFFUSED).replace("light", "level").replace("[60", "[90")
    of = made(UP, ROUND, DIFFUSED, beside=level)
    build = Build(of.plan, of.drawer, of.lamps, of.sources, of.circuits, of.loom, of.power)
    kin = kin_of(build)
    assert kin["light"].bag == kin["level"].bag and kin["light"].relation(kin["level"]) is None
    assert kin["level"].relation(kin["level"]) == "bag"


def test_reading_it_narrows_what_was_foretold() -> None:
    one = made(UP, ROUND, DIFFUSED, "brightness: {intensity_mcd: 1}")
    [foretold] = [row for row in every_reading(one) if row.method == "lamp"]
    gain = foretold.gain_in("bright")
    assert gain is not None
    seen = light_of(one).looked_at.intensity_cd
    lamp = LAMP.format(size=180, more=", ".join((UP, ROUND, DIFFUSED, "brightness: {intensity_mcd: 1}")))
    read = f"measured: [{{what: lamp, of: light, state: night, distance_mm: 100, readings: [{seen.typical / 0.01}]}}]"
    after = light_of(designed(board(lamp, more=f"\n{read}\n"))).looked_at.intensity_cd
    assert (after.low, after.high) == pytest.approx((gain.after.low, gain.after.high), rel=1e-6)
