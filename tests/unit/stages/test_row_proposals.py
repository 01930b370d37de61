"""Tails of shared LEDs, an LED each or a strip: what is proposed for a row, and for like lamps near each other."""

from __future__ import annotations

from dataclasses import replace

import pytest

from designed import designed
from plans import board
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.stages import row_proposals as row_proposals_module
from rushlight.stages.row_proposals import Proposal, offered_tails, row_proposals
from rushlight.stages.row_tails import TailTrial, tails_built
from rushlight.stages.row_words import pick_words
from rushlight.stages.source_ways import source_ways
from rushlight.working_plan import changed

FAST = 'pinned: [{of: r, choice: led, value: "0402 warm white"}]\n'


def row(more: str, count: int = 6, rest: str = "", colour: str = "warm white") -> Design:
    return designed(board(more="rows: [{name: r, part: board, along_mm: [[20, 80], [160, 80]], states: day, "
                               f"colour: {colour}, count: {count}, {more}}}]\n" + rest))


def single(more: str, places: tuple[tuple[float, float], ...]) -> Design:
    return designed(board("\n".join(
        f"{{name: lamp {n}, part: board, at_mm: [{x}, {y}], colour: warm white, states: day, {more}}}"
        for n, (x, y) in enumerate(places))))


def only(made: Design) -> Proposal:
    (found,) = row_proposals(made)
    return found


SPREAD = ((20, 80), (50, 80), (80, 80), (110, 80), (20, 60), (50, 60))


def test_six_small_holes_with_an_led_each_hear_of_tails_of_one_led() -> None:
    made = row("model_mm: 1, source: {kind: led}")
    found = only(made)
    assert (found.built, found.proposed, found.leds_saved) == ("led", "fibre", 5)
    says = pick_words(found)
    for words in ("6 tails of 1 mm on 1 LED", "5 LEDs with their resistors and 20 solder joints fewer", "m of fibre",
                  "as wide as the LED", "times what is wanted", "turns in 20 mm", "An LED in each hole: ", "strip"):
        assert words in says, words  # source: bend of 20 diameters, common practice
    assert [one.groups for one in offered_tails(made)] == [("r",)]


def test_taken_up_it_is_built_as_it_was_proposed() -> None:
    made = row("model_mm: 1, source: {kind: led}")
    (finding,) = [one for one in find(made) if one.key == "light.tails-would-do"]
    edit = cure_of(made, finding)
    assert edit is not None
    after = designed(changed(made.plan, edit.changes))
    tried, built = only(made).tails, tails_built(after, after.lamps)
    assert tried is not None and built is not None and tried == built
    assert len(after.loom.emitters) == 1 and only(after).proposed == "fibre"
    assert not [one for one in find(after) if one.key == "light.tails-would-do"]


def test_what_the_modeller_holds_or_insists_on_stays() -> None:
    assert not offered_tails(row("model_mm: 1, source: {kind: led}", rest=FAST))
    # at 40 mcd a diffused LED serves: nothing speaks against the modeller's word
    fair = row("model_mm: 1.8, source: {kind: led}, brightness: {intensity_mcd: 40}")
    assert not offered_tails(fair) and only(fair).built == "led"


def test_an_led_each_gives_way_in_the_proposal_where_both_serve_and_tails_take_far_fewer_leds() -> None:
    # Where one LED is enough for six tails, the least current of an LED each is a little too much: taken as if it were not.
    found = replace(only(row("model_mm: 1.8, brightness: {intensity_mcd: 12}")), led_lacks=())
    assert found.built == "led" and found.tails is not None and found.tails.leds == 1
    assert row_proposals_module._proposed(found) == "fibre"
    assert "6 LEDs in the holes would serve too" in pick_words(found)
    two = row("model_mm: 1.8, brightness: {intensity_mcd: 18}", count=2)
    assert only(two).proposed == "led" and not offered_tails(two)


def test_a_wide_hole_gets_the_widest_fibre_that_bends_and_is_nearly_as_wide() -> None:
    near = only(row("model_mm: 1.8, source: {kind: led}"))
    assert near.fibre.fibre_mm == 1.5 and near.proposed == "fibre"  # 1.8 / 1.47 is within the 1.3 times of size
    far = only(row("model_mm: 2, source: {kind: led}"))
    assert far.proposed == "led" and "hardly bends" in pick_words(far)  # 2.0 / 1.47 is not


def test_like_lamps_near_each_other_are_weighed_as_a_row() -> None:
    made = single("model_mm: 1", SPREAD)
    found = only(made)
    assert len(found.groups) == 6 and found.tails is not None
    assert (found.tails.leds, found.tails.tails) == (len(made.loom.bundles), 6)
    assert "weighed with 5 like it near by: 1 LED and 6 tails" in made.sources[0].why
    leds = single("model_mm: 1.8", SPREAD)
    assert [len(one.groups) for one in offered_tails(leds)] == [6]
    finding = next(one for one in find(leds) if one.key == "light.tails-would-do")
    edit = cure_of(leds, finding)
    assert edit is not None and len(edit.changes) == 6


def test_unlike_or_far_lamps_and_held_ones_are_weighed_alone() -> None:
    mixed = designed(board("\n".join(
        f"{{name: lamp {n}, part: board, at_mm: [{20 + 30 * n}, 80], colour: {colour}, states: {state}, model_mm: {mm}}}"
        for n, (colour, state, mm) in enumerate((("red", "day", 1), ("green", "day", 1), ("red", "night", 1), ("red", "day", 0.5))))))
    assert all(len(one.groups) == 1 for one in source_ways(mixed))
    long = board("\n".join(
        f"{{name: lamp {n}, part: board, at_mm: [{x}, 80], colour: red, states: day, model_mm: 1}}"
        for n, x in enumerate((20, 60, 460)))).replace("[200, 0], [200, 100]", "[480, 0], [480, 100]")
    assert [one.groups for one in source_ways(designed(long))] == [("lamp 0", "lamp 1"), ("lamp 2",)]  # source: 400 mm
    held = board("\n".join(f"{{name: lamp {n}, part: board, at_mm: [{20 + 30 * n}, 80], colour: red, states: day, model_mm: 1}}"
                           for n in range(3)), more="pinned: [{of: lamp 0, choice: fibre_mm, value: '1'}]\n")
    assert [one.groups for one in source_ways(designed(held))] == [("lamp 0",), ("lamp 1", "lamp 2")]


def test_a_shallow_space_has_no_room_for_the_turn_into_the_hole() -> None:
    spaces = "spaces: [{name: hull, parts: [board], size_mm: [200, 100, 12]}]\n"
    found = only(row("model_mm: 1, source: {kind: led}", rest=spaces))
    assert found.tails is not None and "wants 20 mm of room behind, there are 12" in " ".join(found.tails_lack)
    assert found.proposed != "fibre"
    assert not offered_tails(row("model_mm: 1, source: {kind: led}", rest=spaces))
    deep = only(row("model_mm: 1, source: {kind: led}", rest=spaces.replace("12]", "40]")))
    assert deep.proposed == "fibre" and "turns in 20 mm, and has 40 mm" in pick_words(deep)


def test_a_strip_wants_its_room_behind() -> None:
    spaces = "spaces: [{name: hull, parts: [board], size_mm: [200, 100, 5]}]\n"
    (found,) = source_ways(row("model_mm: 1, source: {kind: led}", rest=spaces))
    verdict = next(v for way, v in zip(found.ways, found.verdicts, strict=True) if way.kind == "strip")
    assert verdict.startswith("not: ") and "of room behind, there are 5" in verdict


def test_a_lamp_that_is_seen_all_round_wants_its_end_sanded() -> None:
    tails = only(row("model_mm: 1, source: {kind: led}")).tails
    assert tails is not None and tails.lacks == ()
    assert 55 < tails.cone_deg < 65  # derived: twice asin 0.5, the aperture of PMMA fibre
    wide = replace(tails, arc_deg=225.0)
    assert any("sanded or domed" in word for word in wide.lacks)


def test_what_speaks_against_tails() -> None:
    tails = only(row("model_mm: 1, source: {kind: led}")).tails
    assert tails is not None

    def lacks(**values: object) -> str:
        return ", ".join(replace(tails, **values).lacks) if isinstance(tails, TailTrial) else ""

    assert lacks(lost=("a", "b")) == "no fibre reaches 2 of 8"
    assert lacks(least_bend_mm=5.0) == "it would bend to 5 mm and wants 20"
    assert lacks(uneven=1.7) == "uneven, 1.7 times"
    assert lacks(least_light=1.8) == "1.8 times the wanted light at the least current"


def test_another_led_named_for_the_holes_is_not_the_bundles() -> None:
    found = only(row('model_mm: 1, source: {kind: led, led: "0402 warm white"}'))
    assert found.tails is not None and found.tails.led != "0402 warm white"


def test_no_way_for_a_fibre_is_told() -> None:
    text = board(more="rows: [{name: r, part: board, along_mm: [[20, 80], [160, 80]], states: day, colour: warm white, "
                      "count: 6, model_mm: 1, source: {kind: led}}]\n").replace("    relief:", "    room_for_illuminators: false\n    relief:")
    found = only(designed(text))
    assert found.tails is None and found.proposed == "strip"
    assert "no fibre reaches any of them" in pick_words(found)


@pytest.mark.parametrize("mm", [0.5, 0.75, 0.8, 1.0, 1.2, 1.5])
def test_a_lone_small_lamp_is_a_fibre_of_its_width_and_says_why_not_an_led(mm: float) -> None:
    (source,) = single(f"model_mm: {mm}", ((60, 80),)).sources
    assert source.kind == "fibre" and source.seen_mm / mm == pytest.approx(1.0, abs=0.21)
    assert "an LED in the hole would be: " in source.why and "like it" not in source.why
