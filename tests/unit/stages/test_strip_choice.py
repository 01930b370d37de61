"""A strip taken for lamps behind openings of one line, and held."""

from __future__ import annotations

import pytest

from designed import PACKAGED, designed, planned
from plans import windows
from rushlight.errors import DocumentProblem
from rushlight.model.design import Source
from rushlight.model.plan import Strip
from rushlight.stages.aim import settled_sources
from rushlight.stages.circuits import find_circuits
from rushlight.stages.lamps import place_lamps
from rushlight.stages.source_ways import source_ways
from rushlight.stages.sources import choose_sources
from rushlight.stages.strip_choice import run_emitter
from rushlight.stages.strips import LOOKING


def sources(text: str) -> tuple[Source, ...]:
    """What makes each lamp, without the loom."""
    plan = planned(text)
    drawer = PACKAGED
    lamps = place_lamps(plan)
    first = choose_sources(plan, drawer, lamps)
    return settled_sources(plan, drawer, lamps, sources=first, circuits=find_circuits(lamps))


def kinds(text: str) -> list[str]:
    return [source.kind for source in sources(text)]


def test_a_row_of_windows_gets_one_strip_with_its_reason() -> None:
    made = designed(windows(6))
    assert [source.kind for source in made.sources] == ["strip"] * 6
    (emitter,) = made.loom.emitters
    assert emitter.name == "lamp a and 5 more" and emitter.lamps == tuple(lamp.name for lamp in made.lamps)
    assert [window for _, window in emitter.windows] == [f"w{n}" for n in range(6)]
    part = made.drawer.strip(emitter.part_row)
    assert emitter.segments * part.segment_mm >= 5 * 150 / 6 + 12  # derived: it covers all openings
    assert "6 LEDs" in made.sources[0].why and "mA; a strip" in made.sources[0].why
    assert [row.strip for row in made.light.strips] == ["lamp a and 5 more"] * 6
    wide = designed(windows(6).replace("[[0, 0], [200, 0], [200, 100], [0, 100]]",
                                       "[[-60, 0], [260, 0], [260, 100], [-60, 100]]"))
    assert max(row.times_seen for row in wide.light.strips) < LOOKING < max(row.times_seen for row in made.light.strips)
    assert any(part.name in line.name for line in made.shopping.lines)
    ways = source_ways(made)
    assert len(ways) == 1 and ways[0].groups == emitter.lamps and ways[0].ways[0].kind == "strip"


@pytest.mark.parametrize("text", [
    windows(3),  # three LEDs are little work
    windows(6, sheet=""),  # its LEDs would be seen
    windows(6).replace("warm white, opening: w5", "red, opening: w5").replace("warm white, opening: w4", "red, opening: w4")
    .replace("warm white, opening: w3", "red, opening: w3"),  # three and three
    windows(6, more=", source: {kind: room}"),
    windows(6) + "spaces: [{name: w0, parts: [board], size_mm: [20, 20, 20]}, {name: w1, parts: [board], "
                 "size_mm: [20, 20, 20]}, {name: w2, parts: [board], size_mm: [20, 20, 20]}]\n",
])
def test_rooms_stay_where_a_strip_serves_no_better(text: str) -> None:
    assert set(kinds(text)) == {"room"}


def test_a_wide_clear_part_gets_a_strip_for_evenness() -> None:
    """Derived: from 30 mm behind, an LED gives the end of 120 mm of sheet a fraction of the middle."""
    (made,) = sources(windows(1, wide_mm=120))
    assert made.kind == "strip" and "uneven" in made.why
    assert kinds(windows(1, wide_mm=20)) == ["room"]


def test_any_of_the_ways_is_held_by_the_plan() -> None:
    held = designed(windows(3, more=", source: {kind: strip}"))
    assert [source.kind for source in held.sources] == ["strip"] * 3 and len(held.loom.emitters) == 1
    assert held.sources[0].insisted and source_ways(held)[0].verdicts[0].startswith("as you say")
    assert kinds(windows(1, wide_mm=120, more=", source: {kind: room}")) == ["room"]


def test_a_strip_without_an_opening_is_refused() -> None:
    with pytest.raises(DocumentProblem, match="no opening"):
        designed(windows(3, more=", source: {kind: strip}").replace("opening: w0, ", ""))
    with pytest.raises(DocumentProblem, match="LED is named for a strip"):
        designed(windows(3, more=", source: {kind: strip, led: '3 mm red, diffused'}"))


@pytest.mark.parametrize(("long_mm", "segments"), [(50, 3), (49.95, 3), (49.8, 2), (66, 3), (1000, 60), (5, 1)])
def test_a_run_drawn_to_a_cut_mark_has_its_last_piece(long_mm: float, segments: int) -> None:
    """Three pieces of 16.667 mm are 50.001 mm: who draws 50 mm means three."""
    part = next(row for row in PACKAGED.strips if row.segment_mm == 16.667)
    run = Strip(name="glow", part="deck", openings=("pane",), along_mm=((5.0, 10.0), (5.0 + long_mm, 10.0)), gap_mm=10,
                states=("on",))
    emitter = run_emitter(part, run)
    assert emitter.segments == segments and len(emitter.strip_points_mm) == segments * part.leds_per_segment
