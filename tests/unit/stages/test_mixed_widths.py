"""Fibres of several widths on one LED."""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest

from designed import designed
from plans import board
from rushlight.findings import find
from rushlight.findings.loom import fibres_per_led
from rushlight.geometry.capacity import HAND_MADE
from rushlight.geometry.circles import enclosing_circle
from rushlight.model.design import Design
from rushlight.sheets.bundles import share_table, size_table
from rushlight.stages.bundle_choice import bundles_that_fit, surely_mm
from rushlight.stages.fibre_classes import SIZE_PLAY
from rushlight.units import Range


def tail(name: str, x: int, mm: float, mcd: float | str = "", more: str = "") -> str:
    wanted = f", brightness: {{intensity_mcd: {mcd}}}" if mcd else ""
    return (f"{{name: {name}, part: board, at_mm: [{x}, 50], colour: red, model_mm: {mm}, states: day{wanted}"
            f"{', ' + more if more else ''}}}")


def leds(made: Design) -> list[tuple[str, ...]]:
    return [row.lamps for row in made.loom.emitters]


def pinned(*rows: str) -> str:
    return "pinned:\n" + "".join(f"  - {{{row}}}\n" for row in rows)


def keys(made: Design) -> set[str]:
    return {finding.key for finding in find(made)}


def test_lamps_of_two_sizes_that_one_current_suits_share_an_led() -> None:
    # derived: at one luminance a core of 0.98 mm gives (0.98 / 0.486)^2 = 4.07 times what one of 0.486 mm does
    made = designed(board("\n".join([tail("big", 60, 1, 8.0), tail("one", 80, 0.5, 2.0), tail("two", 100, 0.5, 2.0)])))
    assert leds(made) == [("big", "one", "two")]
    assert sorted(made.loom.bundles[0].fibre_mm) == [0.5, 0.5, 1.0]
    light = {row.lamp: row.intensity_cd.typical for row in made.light.lamps}
    assert light["big"] / light["one"] == pytest.approx(4.07, rel=0.15)
    width = {tail.lamp: tail.fibre_mm for tail in made.loom.tails}
    assert width == {"big": 1.0, "one": 0.5, "two": 0.5}
    bends = {tail.lamp: tail.least_bend_mm for tail in made.loom.tails}
    assert bends["big"] >= 20 * 1.0 - 1e-6  # source: habit `fibre_bend`, by the fibre's own width
    assert "light.row-uneven" not in keys(made)


def test_lamps_that_no_one_current_suits_keep_an_led_each() -> None:
    made = designed(board("\n".join([tail("big", 60, 1, 2.0), tail("one", 80, 0.5, 2.0)])))
    assert sorted(leds(made)) == [("big",), ("one",)]  # derived: alike on one LED they would differ four times


def test_another_colour_or_switch_never_shares() -> None:
    other = tail("one", 80, 0.5, 2.0).replace("colour: red", "colour: green")
    assert len(leds(designed(board("\n".join([tail("big", 60, 1, 8.0), other]))))) == 2


def test_an_led_whose_current_is_held_is_not_joined() -> None:
    more = pinned('of: big, choice: current_ma, value: "9"')
    assert len(leds(designed(board("\n".join([tail("big", 60, 1, 8.0), tail("one", 80, 0.5, 2.0)]), more=more)))) == 2


@pytest.mark.parametrize("hold", ['choice: current_ma, value: "9"', 'choice: fibres_per_led, value: "1"', "choice: illuminator_part, value: board"])
def test_what_is_held_for_one_lamp_is_not_held_for_others_like_it(hold: str) -> None:
    lamps = "\n".join([tail("one", 60, 0.5, 2.0), tail("two", 80, 0.5, 2.0), tail("three", 100, 0.5, 2.0)])
    assert leds(designed(board(lamps))) == [("one", "two", "three")]
    made = designed(board(lamps, more=pinned(f"of: two, {hold}")))
    assert sorted(leds(made)) == [("one", "three"), ("two",)]
    current = {row.lamp: row.current_a for row in made.aims}
    assert (current["two"] == pytest.approx(0.009)) == ("current_ma" in hold)
    assert current["one"] == current["three"] != pytest.approx(0.009)


def test_too_many_for_one_face_take_as_few_leds_as_fit() -> None:
    lamps = [tail(f"s{k}", 20 + 4 * k, 0.5, 2.0) for k in range(16)] + [tail(f"b{k}", 100 + 6 * k, 1, 8.0) for k in range(6)]
    made = designed(board("\n".join(lamps)))
    apart = designed(board("\n".join(lamps[:16]))), designed(board("\n".join(lamps[16:])))
    assert len(leds(made)) <= sum(len(leds(one)) for one in apart)
    for bundle in made.loom.bundles:
        assert bundle.hand_made_mm.typical <= bundle.led_face_mm * 1.1
    assert not keys(made) & {"loom.fibres-per-led", "loom.bundle-width"}


def test_a_fibres_width_is_held_for_one_lamp_of_a_row() -> None:
    row = "rows: [{name: r, part: board, along_mm: [[40, 50], [120, 50]], count: 4, colour: red, model_mm: 0.5, states: day}]\n"
    made = designed(board(more=row + pinned('of: r 2, choice: fibre_mm, value: "0.75"')))
    assert [source.fibre_mm for source in made.sources] == [0.5, 0.75, 0.5, 0.5]
    hole = {source.lamp: source.hole_mm for source in made.sources}
    assert hole["r 2"] == pytest.approx(1.06 * 0.75 + 0.03)  # source: fibre_hole.csv rule
    assert "plan.pin-without-effect" not in keys(made)


def test_a_bundle_is_held_together_whatever_its_lamps_want() -> None:
    lamps = "\n".join([tail("big", 60, 1, 2.0), tail("one", 80, 0.5, 2.0)])
    made = designed(board(lamps, more=pinned("of: big, choice: bundle, value: bow", "of: one, choice: bundle, value: bow")))
    assert leds(made) == [("big", "one")]
    assert "loom.bundle-split" not in keys(made)


def test_a_held_bundle_of_two_colours_is_told() -> None:
    other = tail("one", 80, 0.5, 2.0).replace("colour: red", "colour: green")
    made = designed(board("\n".join([tail("big", 60, 1, 2.0), other]),
                          more=pinned("of: big, choice: bundle, value: bow", "of: one, choice: bundle, value: bow")))
    told = next(finding for finding in find(made) if finding.key == "loom.bundle-split")
    assert "'big' is red, 'one' green" in told.says


@pytest.mark.parametrize("widths", [
    (1.5, 1.0, 1.0), (3.0, 2.0, 2.0, 0.25), (3.0, 3.0, 3.0, 0.25, 0.25), (1.0, 1.0, 0.75, 0.75, 0.75, 0.75),
    (3.0, 3.0, 3.0, *[0.25] * 6),
])
def test_what_surely_fits_does(widths: tuple[float, ...]) -> None:
    packed = enclosing_circle(widths, rounds=2)
    assert packed.diameter_mm <= surely_mm(widths) * 1.001
    assert math.fsum(mm**2 for mm in widths) <= surely_mm(widths) ** 2


@pytest.mark.parametrize("face_mm", [0.4, 1.3, 1.9, 2.3])
def test_how_many_go_on_a_face_is_the_last_count_that_fits(face_mm: float) -> None:
    widths = [0.5, 0.5, 0.75, 0.75, 1.0]
    drawer = SimpleNamespace(habit=lambda _: Range(1.0, 1.0, 1.0))
    bundle = SimpleNamespace(led_face_mm=face_mm, fibre_mm=widths[::-1], ideal_mm=9.0)
    found = [enclosing_circle(widths[:count]).diameter_mm * HAND_MADE for count in range(1, 5)]
    expected = max(sum(mm <= face_mm for mm in found), 1)  # derived: counted one by one
    assert fibres_per_led._fit(SimpleNamespace(drawer=drawer), bundle) == expected


def test_bundles_that_fit_hold_every_tail_once() -> None:
    shared = bundles_that_fit([1.0, 0.5, 0.5, 4.0, 1.0], widest_mm=2.2, most=3)
    assert sorted(k for own in shared for k in own) == [0, 1, 2, 3, 4]
    assert [3] in shared and all(len(own) <= 3 for own in shared)


def test_shares_of_a_mixed_bundle_are_those_of_its_lights() -> None:
    made = designed(board("\n".join([tail("big", 60, 1, 8.0), tail("one", 80, 0.5, 2.0), tail("two", 100, 0.5, 2.0)])))
    table = share_table(made)
    told = {row[2]: [float(str(cell)) for cell in row[4:]] for row in table.rows}
    assert sum(row[0] for row in told.values()) == pytest.approx(100, abs=1.5)
    assert sum(row[2] for row in told.values()) == pytest.approx(100, abs=1.5)
    area = 0.98**2 / (0.98**2 + 2 * 0.486**2)  # source: pof_fibre.csv, widths of the cores
    assert told["big"][0] == pytest.approx(100 * area, rel=0.02)
    assert all(row[1] <= 100 for row in told.values())
    assert size_table(made).rows[0][3] == "2 of 0.5, 1 of 1"


# --- another width that saves an LED ---------------------------------------------------------------------------------


def widths(made: Design) -> dict[str, float | None]:
    return {source.lamp: source.fibre_mm for source in made.sources}


def unsized(name: str, x: int, mcd: float, more: str = "") -> str:
    return tail(name, x, 0.5, mcd, more).replace(" model_mm: 0.5,", "")


def test_of_lamps_of_unknown_size_the_brighter_one_takes_a_wider_fibre_on_one_led() -> None:
    made = designed(board("\n".join([unsized("bright", 60, 5.0), unsized("dim", 80, 2.2)])))
    assert leds(made) == [("dim", "bright")] or leds(made) == [("bright", "dim")]
    fibres = widths(made)
    assert (fibres["bright"] or 0) > (fibres["dim"] or 0)
    source = made.source("bright" if fibres["dim"] == 0.5 else "dim")
    assert source.hole_mm == pytest.approx(1.06 * (source.fibre_mm or 0) + 0.03)  # source: fibre_hole.csv rule
    assert "on a shared LED" in source.why and "1 LED fewer" in source.why
    light = {row.lamp: row.intensity_cd.typical for row in made.light.lamps}
    wanted = {aim.lamp: aim.wanted_cd for aim in made.aims}
    over = [light[name] / wanted[name] for name in wanted]
    assert max(over) / min(over) < 1.5  # source: habit `equal`
    assert not keys(made) & {"light.like-mismatch", "light.row-uneven", "plan.lamp-oversize", "loom.fibres-per-led"}


def test_a_lamp_of_known_size_keeps_near_to_it() -> None:
    far = designed(board("\n".join([tail("bright", 60, 0.5, 8.0), tail("dim", 80, 0.5, 2.0)])))
    assert widths(far) == {"bright": 0.5, "dim": 0.5} and len(leds(far)) == 2
    near = designed(board("\n".join([tail("bright", 60, 0.6, 5.0), tail("dim", 80, 0.5, 2.2)])))
    assert len(leds(near)) == 1
    for lamp, source in zip(near.lamps, near.sources, strict=True):
        assert 1 / SIZE_PLAY <= source.seen_mm / (lamp.model_mm or 0.0) <= SIZE_PLAY


def test_a_fibre_that_the_modeller_asks_for_is_not_changed() -> None:
    lamps = [unsized("bright", 60, 5.0, "source: {kind: fibre, fibre_mm: 0.5}"),
             unsized("dim", 80, 2.2, "source: {kind: fibre, fibre_mm: 0.5}")]
    assert set(widths(designed(board("\n".join(lamps)))).values()) == {0.5}


def test_no_fibre_is_changed_where_it_saves_nothing() -> None:
    made = designed(board("\n".join([unsized("one", 60, 2.0), unsized("two", 80, 2.2)])))
    assert widths(made) == {"one": 0.5, "two": 0.5} and all("shared" not in source.why for source in made.sources)


def test_an_uneven_row_of_two_widths_says_so() -> None:
    row = ("rows: [{name: r, part: board, along_mm: [[40, 50], [120, 50]], count: 4, colour: red, model_mm: 0.5, "
           "states: day}]\n")
    held = pinned('of: r 2, choice: fibre_mm, value: "1"', "of: r, choice: bundle, value: bow")
    told = next(one for one in find(designed(board(more=row + held))) if one.key == "light.row-uneven")
    assert "0.5 and 1 mm" in told.cure and told.number > 2
