"""A hand's bundles as read: mixes follow, tails lie nearer to where they were told, and the ranking knows both."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bench_entries import LED, TAILS, entry
from designed import PACKAGED, designed
from plans import board
from rushlight.geometry.circles import enclosing_circle
from rushlight.model.design import Design
from rushlight.model.plan_bench import Measured
from rushlight.optics.fibre import Tail, tail_flux
from rushlight.stages.bundles import hand_times, tied_so
from rushlight.stages.measured import with_measured
from rushlight.stages.parts_law import fibre_of, led_flux_lm, led_launch
from rushlight.stages.reading_answers import stops_of
from rushlight.stages.readings import Reading, answers_of, every_reading
from rushlight.units import Range

MIX = (0.5,) * 10 + (0.75,) * 2
READ = {mm: Measured(what="bundle width", of=f"{mm:g} mm fibre", readings=(width,), count=12)
        for mm, width in ((0.5, 2.15), (0.75, 3.2))}


def test_of_a_mix_one_fibre_that_was_read_tells_of_the_hand() -> None:
    usual, one, both = (hand_times(with_measured(PACKAGED, tuple(READ[mm] for mm in read)), MIX)
                        for read in ((), (0.5,), (0.5, 0.75)))
    assert stops_of(both) < stops_of(one) < stops_of(usual)
    assert usual.low <= one.low and one.high <= usual.high
    alone = hand_times(with_measured(PACKAGED, (READ[0.5],)), (0.5,) * 12)
    assert one.low <= alone.low <= alone.high <= one.high  # derived: the other fibre's tolerance comes on top


def red(name: str, x: int, mm: float, mcd: float) -> str:
    return (f"{{name: {name}, part: board, at_mm: [{x}, 50], colour: red, model_mm: {mm}, states: day, "
            f"brightness: {{intensity_mcd: {mcd}}}}}")


MIXED = board("\n".join([red("big", 60, 1, 8.0), red("one", 80, 0.5, 2.0), red("two", 100, 0.5, 2.0)]))
"""Of equal luminance: they share an LED."""


def reading(made: Design, of: str) -> Reading:
    return next(row for row in every_reading(made) if row.method == "bundle width" and row.of == of)


def test_a_bundles_width_is_ranked_for_fit_and_for_light_as_it_comes() -> None:
    made = designed(TAILS)
    row = reading(made, "0.5 mm fibre")
    read = designed(TAILS + entry("bundle width", made, row))
    for gain in row.gains:
        now = answers_of(read)[gain.most].value
        assert stops_of(now) < stops_of(gain.before)
        assert stops_of(now) <= stops_of(gain.after) * 1.02
    assert {gain.question for gain in row.gains} >= {"fit"}


def test_a_loom_tied_as_it_is_told_stays_as_it_is() -> None:
    made = designed(TAILS)
    [bundle] = made.loom.bundles
    same = tied_so(made.loom, {bundle.name: bundle.hand_made_mm})
    for was, now in zip(made.loom.tails, same.tails, strict=True):
        assert (now.offset_mm.low, now.offset_mm.typical, now.offset_mm.high) == pytest.approx(
            (was.offset_mm.low, was.offset_mm.typical, was.offset_mm.high))
    wide = tied_so(made.loom, {bundle.name: Range.exactly(2 * bundle.hand_made_mm.typical)})
    outer = max(wide.tails, key=lambda tail: tail.offset_mm.typical)
    before = next(tail for tail in made.loom.tails if tail.name == outer.name)
    assert outer.offset_mm.low == outer.offset_mm.high > 2 * before.offset_mm.typical  # derived: (2 D - d) / (D - d) > 2


def test_a_mixed_bundle_is_ranked_with_each_of_its_fibres_and_narrows_as_foretold() -> None:
    made = designed(MIXED)
    [bundle] = made.loom.bundles
    assert sorted(bundle.fibre_mm) == [0.5, 0.5, 1.0]
    row = reading(made, "1 mm fibre")
    gain = row.gain_in("fit")
    assert gain is not None and gain.most == bundle.name
    ideal = enclosing_circle((1.0,) * 3).diameter_mm
    read = designed(MIXED + f"measured: [{{what: bundle width, of: 1 mm fibre, readings: [{ideal * row.now.typical:.5f}], "
                            "count: 3, off_share: 0.025}]\n")
    width = read.loom.bundles[0].hand_made_mm
    assert stops_of(width) < stops_of(bundle.hand_made_mm)
    assert stops_of(width) == pytest.approx(stops_of(gain.after), rel=0.02)
    assert width.typical == pytest.approx(bundle.hand_made_mm.typical, rel=1e-3)


@pytest.mark.parametrize("keeps", [0.3, 0.7])
def test_a_joint_is_found_again_from_the_light_of_a_whole_bundle(keeps: float) -> None:
    """Second method: the flux of the design's own tails with that joint, straight and polished, over that of their LED."""
    made = designed(TAILS)
    led, fibre = made.drawer.led(LED), made.drawer.fibre(0.5)
    launch = replace(led_launch(led, led.test_ma / 1000), coupling=Range.exactly(keeps))
    lit = sum(tail_flux(launch, fibre_of(fibre), Tail(offset_mm=Range.exactly(tail.offset_mm.typical), length_mm=150,
                                                      wavelength_nm=led.dominant_nm)).flux_lm.typical
              for tail in made.loom.tails)
    one = Measured(what="fibre joint", of=LED, readings=(lit,) * 3, against=(led_flux_lm(led, led.test_ma / 1000).typical,),
                   fibre_mm=0.5, length_mm=150, count=7)
    value = with_measured(PACKAGED, (one,)).measured("fibre joint", "fibre_joint")
    assert value is not None and value.typical == pytest.approx(keeps, rel=0.01)
    assert value.high / value.low < 1.2


def test_one_piece_tells_nothing_of_how_pieces_differ_three_do() -> None:
    """One reading leaves what its method says other pieces may do; three alike, or an error of one's own, the meter's."""
    def joint(*readings: float, off: float | None = None) -> Range:
        one = Measured(what="fibre joint", of=LED, readings=readings, against=(1000.0,), fibre_mm=0.5, length_mm=200,
                       off_share=off)
        value = with_measured(PACKAGED, (one,)).measured("fibre joint", "fibre_joint")
        assert value is not None
        return value

    few, many, own = joint(15.0), joint(15.0, 15.0, 15.0), joint(15.0, off=0.05)
    assert (few.low / few.typical, few.high / few.typical) == pytest.approx((0.8, 1.2))  # source: bench_methods, a fifth
    assert (many.low / many.typical, many.high / many.typical) == pytest.approx((0.95, 1.05), abs=0.005)
    assert own == many
    spread = joint(10.0, 15.0, 20.0)
    assert spread.high / spread.low > 2  # derived: the pieces' own span
