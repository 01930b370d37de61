"""What a finding tells to do is what helps: each way told is tried on the plan."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from designed import PACKAGED, designed, planned
from finding_cases import design_of, edited, read_case
from plans import board
from rushlight.cli import main
from rushlight.files.plan_write import dump_plan
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.model.drawer import FibrePart
from rushlight.model.finding import Finding
from rushlight.working_plan import changed

ROOM = """\
rushlight: 1
subject: {title: station (invented), scale: 87, viewing_room: lit room, invented: true}
states: [{name: night}]
parts:
  - name: front
    outline_mm: [[0, 0], [180, 0], [180, 60], [0, 60]]
    wall: white styrene
    wall_mm: 1
    coats: [black lacquer, black lacquer, white primer]
    relief: {flat: true}
    openings:
      - {name: doorway, rect_mm: [84, 2, 14, 28]DOOR}
      - {name: left, rect_mm: [110, 18, 12, 18], diffusers: [{sheet: opal acrylic 1 mm, gap_mm: 1}]}
      - {name: right, rect_mm: [140, 18, 12, 18], diffusers: [{sheet: opal acrylic 1 mm, gap_mm: 1}]}
    bays: [{name: jack, rect_mm: [20, 2, 40, 30], depth_mm: 20, access: open}]
  - {name: door, outline_mm: [[0, 0], [14, 0], [14, 28], [0, 28]], relief: {flat: true}, poses: [{name: wide, value: 100}]}
spaces: [{name: waiting room, parts: [front], size_mm: [90, 40, 55], windows: [doorway, left, right]}]
lamps:
  - {name: a, part: front, at_mm: [116, 27], opening: left, source: {kind: room}, colour: 2700 K, states: night}
  - {name: b, part: front, at_mm: [146, 27], opening: right, source: {kind: room}, colour: 2700 K, states: night,
     brightness: {like: aLIKE}}
  - {name: c, part: front, at_mm: [91, 16], opening: doorway, source: {kind: room}, colour: 2700 K, states: night}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: jack}
"""


def station(*, like: str = "", door: bool = True) -> str:
    """A front with a waiting room behind two windows and a doorway."""
    return ROOM.replace("LIKE", like).replace("DOOR", ", door: {part: door, moves: turns, edge: left}" if door else "")


def told(made: Design, key: str) -> list[Finding]:
    return [row for row in find(made) if row.key == key]


def test_a_lamp_that_its_supply_starves_is_told_volts_and_gets_them() -> None:
    """No held current flows where the supply stands under the LED's own voltage."""
    made = design_of(edited(read_case("electric.supply-low").trips, [{"supply/cell": "AAA"}]))
    (dim,) = told(made, "light.too-dim")
    assert dim.cure.startswith("More volts, not a held current: 2 cells of this kind in series")
    edit = cure_of(made, dim)
    assert edit is not None and "2 AAA cells in series" in edit.says
    after = designed(planned(dump_plan(changed(made.plan, edit.changes))))
    assert not told(after, "light.too-dim") and not told(after, "electric.supply-low")
    assert not told(made, "light.current-habit")  # nor is another LED of any use


def test_a_flash_that_no_current_makes_bright_enough_is_told_another_led() -> None:
    flashing = ('{name: beacon, part: board, at_mm: [50, 60], colour: red, size_mm: 300, states: [night], '
                'rhythm: beacon 1.4 s, brightness: {subject_intensity_cd: CD}, source: {kind: led, led: "3 mm red, diffused"}}')
    held = 'pinned: [{of: beacon, choice: current_ma, value: "8"}]\n'
    bears, beyond = (designed(board(flashing.replace("CD", str(cd)), more=held)) for cd in (700, 9000))
    (first,), (second,) = told(bears, "light.flash-too-dim"), told(beyond, "light.flash-too-dim")
    assert first.cure.startswith("Give 'beacon' ") and " mA, held" in first.cure
    assert second.cure.startswith("The LED cannot bear ") and "take the 3 mm red, clear 30 deg LED instead" in second.cure


def test_the_larger_resistor_is_told_in_ohm_and_smaller_ones_are_too_small() -> None:
    """On 12 V, with a held 220 ohm; what is told holds the LED under its rating, two steps of E24 less do not."""
    lamp = "{name: flame, part: board, at_mm: [50, 60], colour: red, model_mm: 3, states: [night], source: {kind: led}}"
    pins = 'pinned: [{of: flame, choice: resistor_ohm, value: "OHM"}]\n'
    made = designed(board(lamp, more=pins.replace("OHM", "220")))
    (over,) = told(made, "electric.led-over-current")
    ohm = float(over.cure.split()[1])
    smaller = ohm / 1.15
    assert not told(designed(board(lamp, more=pins.replace("OHM", f"{ohm:g}"))), "electric.led-over-current")
    assert told(designed(board(lamp, more=pins.replace("OHM", f"{smaller:.0f}"))), "electric.led-over-current")


def test_windows_of_one_led_are_told_once_and_never_a_current_of_their_own() -> None:
    made = designed(station())
    assert told(made, "light.windows-differ") and not told(made, "light.like-mismatch")
    apart = designed(station(like=", ratio: 3"))
    assert told(apart, "light.windows-differ") and not told(apart, "light.like-mismatch")


def test_tails_of_one_led_are_told_another_fibre_and_never_a_current() -> None:
    lamps = """{name: a, part: board, at_mm: [50, 60], colour: warm white, size_mm: 50, states: [night]}
    {name: b, part: board, at_mm: [60, 60], colour: warm white, size_mm: 50, states: [night], brightness: {like: a, ratio: 3}}"""
    pins = "pinned: [{of: a, choice: bundle, value: one}, {of: b, choice: bundle, value: one}]\n"
    made = designed(board(lamps, more=pins))
    (mismatch,) = told(made, "light.like-mismatch")
    assert "no current sets them apart: give 'a' fibre of 0.3 mm (35 % of the area)" in mismatch.cure and cure_of(made, mismatch) is None


def test_no_sheet_is_hung_in_an_open_door() -> None:
    made = designed(station())
    (bare,) = told(made, "light.bare-led-seen")
    assert "'doorway'" in bare.says and "above the door" in bare.cure and cure_of(made, bare) is None
    plain = designed(station(door=False))
    (bare,) = told(plain, "light.bare-led-seen")
    assert cure_of(plain, bare) is not None


def test_a_dim_window_is_told_a_clearer_sheet_that_does_it_and_none_where_none_does() -> None:
    lamp = ("{name: a, part: board, at_mm: [46, 44.5], colour: warm white, opening: w, source: {kind: room}, "
            "states: night, brightness: {intensity_mcd: MCD}}")
    opening = "openings: [{name: w, rect_mm: [40, 40, 12, 9], diffusers: [{sheet: SHEET, gap_mm: 1}]}]\n    relief:"
    plan = board(lamp).replace("relief:", opening, 1)

    def dim_behind(sheet: str) -> tuple[Finding, str]:
        own = plan.replace("SHEET", sheet)
        gives = designed(own.replace("MCD", "2000")).light.lamps[0].intensity_cd.typical
        asked = plan.replace("MCD", f"{1.55 * 1000 * gives:.4g}")
        (dim,) = told(designed(asked.replace("SHEET", sheet)), "light.too-dim")
        return dim, asked

    paper, asked = dim_behind("'white paper, 80 g'")
    said = re.search(r"the light: (.+) for its sheet \(tried: ([0-9.]+) times\), or 2 LEDs in the room", paper.cure)
    assert said is not None and float(said.group(2)) >= 1.5, paper.cure
    assert PACKAGED.diffuser(said.group(1)).hides_source
    assert not told(designed(asked.replace("SHEET", f"'{said.group(1)}'")), "light.too-dim")
    clearest, _ = dim_behind("opal diffusing film")
    assert "sheet" not in clearest.cure and "2 LEDs in the room" in clearest.cure


def test_the_coats_against_a_leak_are_enough_for_the_spot_beside_the_source_too() -> None:
    """Black under the white can not be put there later: one paint job is told, not two."""
    lamp = "{name: flame, part: board, at_mm: [60, 60], colour: warm white, model_mm: 3, states: [night], source: {kind: led}, " \
           "brightness: {intensity_mcd: 400}}"
    space = "spaces: [{name: box, parts: [board], size_mm: [200, 100, 40]}]\n"
    plan = board(lamp, more=space).replace("relief:", "wall: white styrene\n    wall_mm: 1\n    relief:", 1)
    plan = plan.replace("invented: true", "invented: true, viewing_room: dark room", 1)
    made = designed(plan)
    (leak,) = told(made, "light.leak")
    assert "30 mm round each source" in leak.cure
    edit = cure_of(made, leak)
    assert edit is not None
    after = designed(planned(dump_plan(changed(made.plan, edit.changes))))
    assert not told(after, "light.leak") and not told(after, "light.bare-wall")
    assert after.plan.parts[0].coats[-1] == "white primer" and set(after.plan.parts[0].coats[:-1]) == {"black lacquer"}


def test_a_floodlight_is_told_a_white_that_is_sold() -> None:
    """No LED is 4500 K: cool white lies in the habit's range too, and its own colour is not found fault with next."""
    lamp = ("{name: flood, part: board, at_mm: [50, 60], colour: 2700 K, model_mm: 3, states: [night], lights_mm: 50, "
            "source: {kind: led}}")
    made = designed(board(lamp))
    (warm,) = told(made, "light.warm-white")
    edit = cure_of(made, warm)
    assert edit is not None and edit.says == "Make 'flood' cool white instead of 2700 K."
    after = designed(planned(dump_plan(changed(made.plan, edit.changes))))
    assert not told(after, "light.warm-white") and not told(after, "light.tint")


def test_a_question_ends_as_one() -> None:
    case = read_case("plan.rule-unknown")
    made = design_of(edited(case.trips, [{"states/0/rule": "at anchr"}]))
    (unknown,) = told(made, "plan.rule-unknown")
    assert unknown.says.endswith("Did you mean 'at anchor'?")


def test_the_drill_told_for_a_fibre_is_one_that_is_sold_and_cures() -> None:
    case = read_case("loom.fibre-hole")
    made = design_of(case.trips)
    (hole,) = told(made, "loom.fibre-hole")
    name = hole.cure.removeprefix("Use the ").removesuffix(" drill, or measure your fibre.")
    assert "1 hole with" not in hole.says or "drill leaves" in hole.says
    drill = next(row for row in PACKAGED.drills if row.name == name)
    fibre_mm = next(row.fibre_mm for row in made.sources if row.lamp == hole.item)
    assert fibre_mm is not None and 0.03 <= drill.diameter_mm - fibre_mm <= 0.15 + 1e-9


@pytest.mark.parametrize(("mcd", "way"), [(4, "thin coats of white paint over it"), (0.1, "hold less where no lamp like it")])
def test_too_bright_a_lamp_is_told_coats_that_do_it_and_no_led_that_it_is_already(mcd: float, way: str) -> None:
    """White paint takes a density of 0.2 a coat (drawer): one lets 63 % through, and 8 are none that anyone would spray."""
    lamp = ("{name: flame, part: board, at_mm: [50, 60], colour: red, model_mm: 3, states: [night], "
            f"brightness: {{intensity_mcd: {mcd}}}, source: {{kind: led, led: \"3 mm red, diffused\"}}}}")
    (bright,) = told(designed(board(lamp)), "light.brighter-than-wanted")
    assert "diffused LED" not in bright.cure and way in bright.cure, bright.cure
    clear = designed(board(lamp.replace("diffused", "clear 30 deg")))
    assert "take a diffused LED" in told(clear, "light.brighter-than-wanted")[0].cure


def test_a_strip_is_dimmed_to_what_is_wanted_not_to_the_edge_of_too_bright() -> None:
    made = design_of(read_case("light.window-too-bright").trips)
    (bright,) = told(made, "light.window-too-bright")
    share = float(bright.cure.split("to ")[1].split(" %")[0]) / 100
    assert bright.number is not None and bright.limit is not None
    assert bright.number * share == pytest.approx(bright.limit / 3, rel=0.05)  # within a factor of three of the wanted


def test_white_in_a_dim_room_is_told_as_tried_and_does_what_was_told() -> None:
    """White over black shows the black through (0.39 of the light comes back, not 0.8), so that the next coats count."""
    made = designed(station())
    dim = next(row for row in told(made, "light.too-dim") if row.item == "c")
    said = re.search(r"(\d) more coats? of white paint in the room \(tried: (only )?([0-9.]+) times\)", dim.cure)
    assert said is not None and said.group(2) is None, dim.cure
    edit = cure_of(made, dim)
    assert edit is not None
    after = designed(planned(dump_plan(changed(made.plan, edit.changes))))
    was, now = (next(row.intensity_cd.typical for row in one.light.lamps if row.lamp == "c") for one in (made, after))
    assert now / was == pytest.approx(float(said.group(3)), rel=0.1)
    assert after.plan.parts[0].coats[-int(said.group(1)):] == ("white paint",) * int(said.group(1))
    assert "c" not in {row.item for row in told(after, "light.too-dim")}


def test_the_command_told_for_a_missing_light_puts_it_into_the_plan(tmp_path: Path) -> None:
    made = design_of(read_case("plan.rule-light-missing").trips)
    (missing,) = told(made, "plan.rule-light-missing")
    said = re.search(r"rushlight (lights .+ --into) and the plan's folder", missing.cure)
    assert said is not None, missing.cure
    (tmp_path / "plan.yaml").write_text(dump_plan(made.plan), encoding="utf-8")
    assert main([*shlex.split(said.group(1)), str(tmp_path)]) == 0
    after = designed(planned((tmp_path / "plan.yaml").read_text(encoding="utf-8")))
    assert not told(after, "plan.rule-light-missing")
    assert [lamp.name for lamp in after.plan.lamps if lamp not in made.plan.lamps] == ["sternlight"]


def test_a_dark_window_is_told_where_its_middle_is() -> None:
    (dark,) = told(design_of(read_case("plan.opening-unlit").trips), "plan.opening-unlit")
    assert dark.spot is not None and dark.spot.at_mm == (150.0, 26.0)  # derived: 20 x 12 mm from 140, 20


@pytest.mark.parametrize("fibre", PACKAGED.fibres, ids=lambda row: row.name)
def test_the_drill_that_is_chosen_for_a_fibre_on_sale_is_not_found_fault_with(fibre: FibrePart) -> None:
    """It lets the thickest fibre of its name through, 1.06 d + 0.03 mm, and is the next one sold: with the widest fibres
    more over the nominal width than the habit's 0.15 mm."""
    lamp = (f"{{name: spot, part: board, at_mm: [60, 60], colour: red, model_mm: {fibre.diameter_mm}, states: [night], "
            f"source: {{kind: fibre, fibre_mm: {fibre.diameter_mm}}}}}")
    made = designed(board(lamp))
    assert made.sources[0].fibre_mm == fibre.diameter_mm and not told(made, "loom.fibre-hole")


FLOOD = ("{name: flood, part: board, at_mm: [40, 60], colour: cool white, model_mm: 2, states: [night], lights_mm: 40, "
         "lights_part: board, foot_mm: [40, 60], aim_mm: [AIM, 60], source: {kind: led}, brightness: {intensity_mcd: MCD}}")


@pytest.mark.parametrize(("aim", "mcd"), [(3000, 60), (160, 40), (100, 40), (60, 20), (140, 600)])
def test_a_floodlight_too_dim_is_told_an_aim_or_a_height_that_does(aim: float, mcd: float) -> None:
    """I h / (h^2 + a^2)^1.5, by hand: a lamp aimed far out is hung higher, or aimed nearer; no current makes up for that."""
    def flood(aim: float, high: float = 40) -> str:
        lamp = FLOOD.replace("AIM", f"{aim}").replace("MCD", f"{mcd}").replace("lights_mm: 40", f"lights_mm: {high}")
        return board(lamp).replace("invented: true", "invented: true, viewing_room: lit room", 1)

    made = designed(flood(aim))
    (dim,) = told(made, "light.pool-too-dim")
    current = re.search(r"[Gg]ive it ([0-9.]+) times the current", dim.cure)
    assert current is None or float(current.group(1)) < 30, dim.cure
    near = re.search(r"[Aa]im it ([0-9.]+) mm from the point below it", dim.cure)
    high = re.search(r"[Hh]ang it ([0-9.]+) mm over what it lights", dim.cure)
    assert near or high or current, dim.cure
    if near:
        assert not told(designed(flood(40 + 0.97 * float(near.group(1)))), "light.pool-too-dim")
    if high:
        far = float(high.group(1))
        assert not told(designed(flood(aim, far * (0.97 if far < 40 else 1.03))), "light.pool-too-dim")
        assert (far > 40) == (aim - 40 > 40 * 2**0.5), "steeper than that it is hung lower"
