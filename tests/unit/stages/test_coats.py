"""Coats against a wall that glows: counted by the whole law, in their order, for every room; foil where paint does not do it."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from designed import PACKAGED, cured, designed
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.model.plan_part import Part
from rushlight.sheets.coats import coat_table
from rushlight.sheets.light import leak_table
from rushlight.stages.coats import FOIL, MOST_COATS, order_words, own_black, with_more

BOX = """
rushlight: 1
subject: {title: Shed (invented), kind: building, scale: 1:50, viewing_distance_mm: 400, viewing_room: dark room, invented: true}
states: [{name: night, minutes: 60}]
parts:
  - name: hull
    outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]]
    relief: {flat: true}
    wall: white styrene
    wall_mm: 1
    coats: []
    bays: [{name: socket, rect_mm: [20, 8, 34, 14], depth_mm: 30, access: open}]
spaces: [{name: hull, parts: [hull], size_mm: [200, 100, 60], sealed: true}]
lamps:
  - {name: inner, part: hull, at_mm: [100, 30], facing: inward, colour: white, size_mm: 150, states: night}
supply: {kind: adapter, adapter_v: 5, limit_a: 1, bay: socket, run_h: 4}
"""
THIN = BOX + "measured: [{what: coat, of: black lacquer, readings: [190], against: [200], count: 1}]\n"


BRIGHT = BOX.replace("name: inner, ", "name: inner, brightness: {intensity_mcd: 700}, ")


def painted(*coats: str, text: str = BOX) -> Design:
    return designed(text.replace("coats: []", f"coats: [{', '.join(coats)}]"))


def glow(made: Design) -> float:
    return made.light.leaks[0].luminance_cd_m2.typical


def test_the_coats_that_are_told_are_enough_and_one_fewer_is_not() -> None:
    (leak,) = painted(text=BRIGHT).light.leaks
    assert leak.coat == "black lacquer" and leak.coats_needed == 2
    assert leak.order == ("black lacquer", "black lacquer", "white primer")
    assert glow(painted(*leak.order, text=BRIGHT)) <= leak.allowed_cd_m2 < glow(painted(*leak.order[1:], text=BRIGHT))


def test_coats_by_hand() -> None:
    """Beer's law under black, Kubelka's for white on it; the light of an integrating sphere inside."""
    bare, one = painted().light.leaks[0], painted("black lacquer", "white primer").light.leaks[0]
    flux = bare.inside_lx.typical * _area_m2() * (1 - 0.7)  # table: white styrene throws back 0.7
    black, white = 10**-1.2, 10**-0.2  # table: black lacquer 1.2, white primer 0.2
    under, dark = 0.2 * black, 0.05 + black**2 * 0.7 / (1 - 0.05 * 0.7)  # table: 0.2 through 1 mm; lacquer 0.05
    through = under * white / (1 - dark * (1 - white))  # source: Kubelka 1954
    shows = 1 - white + white**2 * dark / (1 - (1 - white) * dark)  # source: Kubelka 1954
    inside = flux / (_area_m2() * (1 - shows))
    assert one.luminance_cd_m2.typical == pytest.approx(inside * through / math.pi)


def _area_m2() -> float:
    wide, deep, high = 0.2, 0.1, 0.06
    return 2 * (wide * deep + wide * high + deep * high)


@pytest.mark.parametrize("coat", ["black lacquer", "silver"])
def test_every_room_is_told_apart(coat: str) -> None:
    """A darker room asks for more coats, the worst of all figures for more than the usual ones."""
    (leak,) = painted().light.leaks
    paint = next(row for row in leak.paints if row.coat == coat)
    assert [row.room for row in paint.rooms] == ["lit room", "dim room", "dark room"]
    counts = [(row.usual, row.sure) for row in paint.rooms]
    assert counts == sorted(counts) and all(usual <= sure for usual, sure in counts)
    assert counts[0][0] == 0 and counts[2][0] >= 1
    assert leak.seen_in == ("dim room", "dark room") and leak.may_in == ("lit room",)


def test_white_alone_takes_many_coats_or_does_not_do_it() -> None:
    """Layers that only scatter add up; black takes its share off again and again."""
    (leak,) = painted().light.leaks
    black, silver, white = leak.paints
    assert black.order and silver.order == ("silver",) * silver.rooms[2].usual
    assert white.coat == "white paint" and white.rooms[2].usual is None and white.order == ()
    twelve = painted(*["white paint"] * MOST_COATS)
    assert glow(twelve) > leak.allowed_cd_m2


def test_black_goes_under_silver_and_silver_under_white() -> None:
    part = Part(name="p", outline_mm=((0, 0), (1, 0), (1, 1)), wall="white styrene", coats=("white primer", "black acrylic"))
    assert own_black(PACKAGED, part) == "black acrylic"
    assert with_more(PACKAGED, part, "black acrylic", 1).coats == ("black acrylic", "black acrylic", "white primer")
    assert with_more(PACKAGED, part, "silver", 2).coats == ("black acrylic", "silver", "silver", "white primer")
    assert with_more(PACKAGED, part, "white paint", 1).coats == ("black acrylic", "white primer", "white paint")
    assert with_more(PACKAGED, part, "silver", 0) == part
    assert order_words(("a", "a", "b")) == "2 x a, b"
    black = replace(part, coats=("black acrylic",))
    assert with_more(PACKAGED, black, "black acrylic", 1).coats == ("black acrylic",) * 2  # black inside stays so
    assert with_more(PACKAGED, replace(part, coats=()), "black lacquer", 1).coats == ("black lacquer", "white primer")
    assert with_more(PACKAGED, black, FOIL, 1).coats == ("black acrylic", FOIL, "white primer")  # no joint touches foil


FLYER = """\
rushlight: 1
subject: {title: flying boat (invented), scale: 72, viewing_room: dark room, invented: true}
states: [{name: cruise}, {name: moored}]
parts:
  - name: left
    outline_mm: [[0, 0], [260, 0], [260, 40], [0, 40]]
    wall: light grey styrene
    coats: [black lacquer, black lacquer]
    openings: [{name: glazing, rect_mm: [70, 20, 60, 6], diffusers: [{sheet: opal acrylic 1 mm, gap_mm: 0}]}]
    relief: {flat: true}
  - name: right
    outline_mm: [[0, 0], [260, 0], [260, 40], [0, 40]]
    wall: light grey styrene
    coats: [black lacquer, black lacquer]
    relief: {flat: true}
    bays: [{name: jack, rect_mm: [200, 4, 40, 30], depth_mm: 16, access: plug outside}]
crossings:
  - {name: join, kind: hinged, hinge_distance_mm: 8, slack_mm: 40, ends: [{part: left, at_mm: [130, 6]}, {part: right, at_mm: [130, 6]}]}
spaces: [{name: hull, parts: [left, right], size_mm: [250, 30, 38]}]
strips: [{name: cabin, part: left, openings: [glazing], along_mm: [[40, 23], [165, 23]], gap_mm: 12, states: [cruise, moored]}]
lamps: [{name: port light, part: left, at_mm: [240, 30], colour: red, size_mm: 80, states: cruise}]
rows:
  - {name: cabin lights, part: right, along_mm: [[20, 20], [180, 20]], count: 8, colour: warm white, size_mm: 80,
     states: [cruise, moored]}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: jack}
"""


@pytest.mark.parametrize("key", ["light.bare-wall", "light.coat-order", "light.windows-lit"])
def test_a_cure_of_coats_or_cabins_lights_up_no_hole(key: str) -> None:
    """Black inside stays black against a spot; white over it, and holes that stay dark, come with sealed holes."""
    made = designed(FLYER)
    now = {row.key for row in find(made)}
    asked = [row for row in find(made) if row.key == key]
    assert asked and not now & {"light.hole-glows", "light.leak"}
    for finding in asked:
        after = {row.key for row in find(cured(made, finding))}
        assert not after & {"light.hole-glows", "light.leak"}, (finding.item, after - now)


def test_a_spot_on_a_wall_is_told_with_the_coats_that_hide_it() -> None:
    made = designed(FLYER)
    (spot,) = (row for row in find(made) if row.key == "light.bare-wall")
    edit = cure_of(made, spot)
    assert edit is not None
    told = re.search(r"from the wall in: (\d) x black lacquer; or cover its back", spot.cure)
    assert told and f"inside with {told.group(1)} x black lacquer instead of 2 x black lacquer." in edit.says
    assert "light.bare-wall" not in {row.key for row in find(cured(made, spot))}


def test_paint_that_hides_next_to_nothing_ends_in_foil() -> None:
    """A reading of thin paint: the design stands, and its cure is foil that does it."""
    made = designed(THIN)
    (leak,) = made.light.leaks
    assert leak.coat == FOIL and leak.order == (FOIL, "white primer")
    (finding,) = [row for row in find(made) if row.key == "light.leak"]
    assert "foil" in finding.cure and "coats" not in finding.cure
    edit = cure_of(made, finding)
    assert edit is not None and "kitchen foil, white primer" in edit.says
    assert not [row for row in find(painted(*leak.order, text=THIN)) if row.key == "light.leak"]


def test_the_finding_tells_rooms_coats_and_their_order() -> None:
    made = painted()
    (finding,) = [row for row in find(made) if row.key == "light.leak"]
    assert "seen in a dim room and dark room, perhaps in a lit room too" in finding.says
    assert "1 coat of black lacquer more, from the wall in: black lacquer, white primer" in finding.cure
    edit = cure_of(made, finding)
    assert edit is not None and "black lacquer, white primer" in edit.says


def test_the_sheet_has_black_silver_and_white_room_by_room() -> None:
    made = painted()
    (leak,) = made.light.leaks
    table = coat_table(made)
    assert [row[1] for row in table.rows] == ["black lacquer", "silver", "white paint"]
    black, _, white = table.rows
    assert black[2].startswith("none; ") and black[2].endswith(" at the worst")
    assert black[5] == "Black lacquer, white primer" and white[4] == "over 12: foil"
    assert "Seen in" in [column.heading for column in leak_table(made).columns]
    assert "dim and dark room; perhaps lit room" in leak_table(made).rows[0]
    quiet = replace(made, light=replace(made.light, leaks=(replace(leak, paints=()),)))
    assert coat_table(quiet).rows == ()


def test_several_openings_or_posts_are_told_in_the_plural() -> None:
    """What shines is that of the brightest."""
    more = "    keep_outs: [{name: pin 1, why: post, centre_mm: [60, 6], radius_mm: 1.5}, {name: pin 2, why: post, centre_mm: [200, 6], radius_mm: 1.5}]\n"
    text = FLYER.replace("    relief", f"{more}    relief", 1)
    text = text.replace("gap_mm: 0}]}]", "gap_mm: 0}]}, {name: port, rect_mm: [20, 20, 6, 6]}, {name: hatch, rect_mm: [200, 20, 6, 6]}]", 1)
    says = {row.key: row.says for row in find(designed(text))}
    assert says["light.post-glows"].startswith("The feet of posts (brightest first: 'pin 1' and 'pin 2') of 'left' show up to ")
    assert says["light.opening-glows"].startswith("The openings (brightest first: 'port' and 'hatch') of 'left' show up to ")
