"""What lamps send inside and outside of their sector, level: beside the cosine law by hand, and beside the bearings' sheet."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from designed import PACKAGED, cured, designed
from plans import board
from rushlight.files.own_values import own_values
from rushlight.findings import find
from rushlight.findings._sectors import SectorLamp, sector_lamp, sector_lamps
from rushlight.findings.cures import cure_of
from rushlight.geometry.bearing import direction
from rushlight.model.design import Design
from rushlight.model.plan import MadeBy
from rushlight.optics.toward import Beam
from rushlight.sheets.seen_from import draw
from rushlight.stages.pipeline import design

LAMP = ("{{name: light, part: board, at_mm: [60, 60], colour: {colour}, size_mm: {size}, facing: {facing}, {more}"
        "arc_deg: [{arc}], states: [night], source: {{{source}}}}}")
CHIP, DIFFUSED = 'kind: led, led: "0603 red"', 'kind: led, led: "3 mm red, diffused"'
BEAD = "kind: fibre, fibre_mm: 1.5, tip: domed"


def made(arc: str, *, facing: str = "ahead", source: str = CHIP, faces: str = "", **other: object) -> Design:
    other = {"colour": "red", "size": 180, "more": "", **other}
    text = board(LAMP.format(arc=arc, facing=facing, source=source, **other))
    return designed(text.replace("    relief: {flat: true}", f"    relief: {{flat: true}}{faces}", 1))


def sent(*where: object, **how: object) -> SectorLamp:
    (row,) = sector_lamps(made(*where, **how))  # type: ignore[arg-type]
    return row


def keys(of: Design) -> set[str]:
    return {row.key for row in find(of)}


def test_a_matt_sidelight_spills_and_fades_as_its_cosine() -> None:
    row = sent("0, 112.5", facing="starboard")
    assert row.outside == pytest.approx(math.cos(math.radians(27.5)))  # derived: the near edge is 22.5 deg off, 5 more
    assert row.inside == pytest.approx(0.0, abs=1e-9) and row.width_deg == 112.5  # derived: dead ahead is 90 deg off


@pytest.mark.parametrize("order", [0.0, 1.0, 4.8, 45.0])
def test_second_method_bearing_by_bearing(order: float) -> None:
    for start, end, axis in [(0, 112.5, 90), (247.5, 112.5, 0), (350, 20, 5), (30, 60, 45), (112.5, 247.5, 180)]:
        width = (end - start) % 360
        inside, outside = [], []
        for step in range(3600):
            off = abs((step / 10 - axis + 180) % 360 - 180)
            share, past = math.cos(math.radians(off)) ** order if off < 90 else 0.0, (step / 10 - start) % 360
            (inside if past <= width else outside if width + 5 <= past <= 355 else []).append(share)
        row = sector_lamp("a", None, (start, end), Beam(tuple(direction(axis)), order))
        assert (row.inside, row.outside) == (pytest.approx(min(inside), abs=0.02), pytest.approx(max(outside), abs=0.02))


def test_a_narrower_beam_spills_less_and_reaches_less() -> None:
    made_of = [sector_lamp("a", None, (320, 40), Beam((1.0, 0.0, 0.0), m)) for m in (0.5, 1, 2, 5, 20)]
    spills, edges = [row.outside for row in made_of], [row.inside for row in made_of]
    assert spills == sorted(spills, reverse=True) and edges == sorted(edges, reverse=True)
    assert all(0 <= share <= 1 for share in spills + edges)


def test_the_sector_may_lie_across_north() -> None:
    row = sent("300, 60")
    assert row.outside == pytest.approx(math.cos(math.radians(65)))  # derived
    assert row.inside == pytest.approx(0.5)  # derived: cos(60)


def test_an_axis_outside_spills_all_and_reaches_nothing() -> None:
    row = sent("300, 60", facing="astern")
    assert (row.inside, row.outside) == (0.0, 1.0)


def test_all_round_never_spills_and_is_dark_behind() -> None:
    row = sent("0, 360", facing="port")
    assert (row.inside, row.outside) == (0.0, 0.0) and "light.sector-dark" in keys(made("0, 360", facing="port"))


def test_a_lamp_that_shines_outward_goes_by_its_part() -> None:
    assert sector_lamps(made("0, 360", facing="outward")) == ()
    (row,) = sector_lamps(made("0, 360", facing="outward", faces="\n    faces: starboard"))
    assert row.inside == 0.0


@pytest.mark.parametrize(("source", "dark"), [(CHIP, True), (DIFFUSED, False), (BEAD, False)])
def test_tip_up_a_dome_alone_is_seen_all_round_and_the_sheet_says_the_same(source: str, dark: bool) -> None:
    up = made("0, 360", facing="up", source=source)
    assert ("light.sector-dark" in keys(up)) is dark
    ((row,),) = [table.rows for sheet in draw(up) for table in sheet.blocks if table.rows]  # type: ignore[union-attr]
    assert (set(row[3:]) == {"-"}) is dark and len(set(row[3:])) == 1


def test_what_the_cures_say_cures() -> None:
    """A masthead light on a wall: tip up with a dome, it shows over its sector, and all round until it has its screen."""
    wall = made("247.5, 112.5", source=DIFFUSED)
    (dark,) = [row for row in find(wall) if row.key == "light.sector-dark"]
    assert "facing: up" in dark.cure and "diffused LED" in dark.cure
    up = made("247.5, 112.5", facing="up", source=DIFFUSED)
    assert "light.sector-dark" not in keys(up) and "light.sector-spill" in keys(up)
    chip = made("0, 360", facing="up", source=CHIP)
    (dark,) = [row for row in find(chip) if row.key == "light.sector-dark"]
    assert dark.cure.startswith("What points up or down")


def test_a_sidelight_shows_at_its_far_edge_once_its_end_is_a_matted_bead() -> None:
    flush = made("0, 112.5", facing="starboard", source="kind: fibre, fibre_mm: 1.5, tip: sanded")
    assert "light.sector-dark" in keys(flush)
    bead = replace(flush.plan.lamps[0], source=MadeBy(kind="fibre", fibre_mm=1.5, tip="domed"))
    plan = replace(flush.plan, lamps=(bead,))
    assert "light.sector-dark" not in keys(design(plan, own_values(PACKAGED, plan)))
    up = made("0, 112.5", facing="up", source=DIFFUSED)
    assert "light.sector-dark" not in keys(up)
    wall = made("0, 112.5", facing="starboard", source=DIFFUSED)
    (dark,) = [row for row in find(wall) if row.key == "light.sector-dark"]
    assert dark.number == pytest.approx(5.0) and "bead and matted" in dark.cure and "facing: up" in dark.cure


DIM = "brightness: {intensity_mcd: 2}, "


def test_an_anchor_light_of_a_tip_up_chip_is_told_apart_with_its_own_dome() -> None:
    """Beside masthead lights in a wall: what cures them is not what cures it."""
    lamps = [LAMP.format(arc=arc, facing=facing, source=CHIP, colour="red", size=180, more=DIM).replace("light,", f"{name},")
             for name, arc, facing in (("masthead", "247.5, 112.5", "ahead"), ("anchor", "0, 360", "up"))]
    of = designed(board("\n".join(lamps)))
    told = {row.item: row for row in find(of) if row.key == "light.sector-dark"}
    assert set(told) == {"masthead", "anchor"} and told["anchor"].number == 0.0
    assert "facing: up" in told["masthead"].cure and "facing: up" not in told["anchor"].cure
    assert "take the 1.8 mm red, diffused LED (up to 2.3 times the wanted light, seen from its side)" in told["anchor"].cure
    # derived: 150 mcd, carriers at 15 mA 0.77 of that, 18 % less warm, a twentieth aside, over 2 mcd
    edit = cure_of(of, told["anchor"])
    assert edit is not None and edit.says == "Make 'anchor' by the 1.8 mm red, diffused LED."


@pytest.mark.parametrize(("arc", "facing", "source", "size"), [
    ("0, 360", "up", CHIP, 180), ("247.5, 112.5", "ahead", CHIP, 180), ("0, 112.5", "starboard", DIFFUSED, 300),
    ("0, 112.5", "starboard", "kind: fibre, fibre_mm: 0.75", 80), ("0, 360", "up", "kind: fibre, fibre_mm: 1.5", 150),
])
def test_the_one_edit_lights_the_whole_sector_as_bright_as_wanted(arc: str, facing: str, source: str, size: int) -> None:
    of = made(arc, facing=facing, source=source, size=size, more="brightness: {intensity_mcd: 0.4}, ")
    (dark,) = [row for row in find(of) if row.key == "light.sector-dark"]
    after = cured(of, dark)
    assert not {"light.sector-dark", "light.too-dim"} & keys(after)
    (row,) = sector_lamps(after)
    assert row.inside >= 0.1


def test_a_dome_that_would_be_far_too_dim_is_no_edit() -> None:
    of = made("0, 360", facing="up", more="brightness: {intensity_mcd: 50}, ")
    (dark,) = [row for row in find(of) if row.key == "light.sector-dark"]
    assert cure_of(of, dark) is None and "up to 0.09" in dark.cure


def test_a_chip_for_a_sidelight_may_be_set_aslant() -> None:
    """Half a chip's sector off its axis Lambert's cosine leaves cos(56.25) = 0.56."""
    of = made("0, 112.5", facing="starboard", source=CHIP)
    (dark,) = [row for row in find(of) if row.key == "light.sector-dark"]
    assert "the middle of its sector at 56.25 degrees" in dark.cure and ": 56 % at its edges then" in dark.cure


def test_a_narrow_beam_gets_a_wider_one() -> None:
    of = made("112.5, 247.5", facing="astern", source='kind: led, led: "1.8 mm red, clear 40 deg"')
    (dark,) = [row for row in find(of) if row.key == "light.sector-dark"]
    assert "edges 67.5 degrees off its axis: take the 0603 red LED" in dark.cure or "0805 red LED" in dark.cure


def test_a_dome_that_drives_its_led_to_its_most_is_told_and_no_edit() -> None:
    """A fresh supply may double the current: aimed at 15 mA, a 20 mA LED would burn out."""
    def offered(mcd: float) -> tuple[str, bool]:
        of = made("0, 360", facing="up", source=CHIP, more=f"brightness: {{intensity_mcd: {mcd}}}, ")
        (dark,) = [row for row in find(of) if row.key == "light.sector-dark"]
        return dark.cure, cure_of(of, dark) is not None
    tight, calm = offered(4.0), offered(2.0)
    assert "up to 1.2 times the wanted light" in tight[0] and not tight[1]
    assert "up to 2.3 times the wanted light" in calm[0] and calm[1]
