"""Cures of uneven windows: whole cut lengths, where there is room, told as they come out."""

from __future__ import annotations

import math
import random
import re
from dataclasses import replace

import pytest
import shapely

from designed import designed
from rushlight.findings import find
from rushlight.sheets.windows import tried_table, window_blocks
from rushlight.stages.strip_cures import Trial, strip_cures, uneven_strips
from rushlight.stages.strip_place import band, lengths_of
from rushlight.stages.strip_ways import _most_of
from rushlight.stages.strip_words import cure_words, left_words, trial_words
from rushlight.stages.strips import LOOKING
from strip_plans import LOW, ODD, POST, wall


def one(name: str, kind: str) -> Trial:
    return next(row for row in strip_cures(designed(ODD[name]), "glow").tried if row.kinds == (kind,))


def told(text: str) -> str:
    return next(row for row in find(designed(text)) if row.key == "light.hot-spots").cure


def test_an_even_window_is_not_searched() -> None:
    made = designed(wall(("[60, 25, 40, 2]",), along="[[0, 26], [250, 26]]"))
    assert uneven_strips(made) == () and strip_cures(made, "glow").tried == ()
    assert "strip-cures" not in {block.key for block in window_blocks(made)}


@pytest.mark.parametrize("name", ODD)
def test_a_strip_stays_on_its_part_and_in_its_room(name: str) -> None:
    made = designed(ODD[name])
    cures = strip_cures(made, "glow")
    part = made.plan.part("wall")
    for trial in cures.tried:
        ground = band(made.drawer.strip(trial.laid.row), trial.laid.run)
        assert shapely.Polygon(part.outline_mm).buffer(0.01).contains(ground), trial.kinds
        assert cures.room.back_mm(trial.laid) <= cures.room.place.depth_mm + 1e-6


def test_a_strip_runs_on_by_whole_cut_lengths_at_the_end_that_is_short() -> None:
    trial = one("too short on one side", "run on")
    made = designed(ODD["too short on one side"])
    part = made.drawer.strip(trial.laid.row)
    (x0, _), (x1, _) = trial.laid.run.along_mm
    assert x0 == 0.0 and (x1 - x0) % part.segment_mm == pytest.approx(0.0, abs=1e-6)
    assert lengths_of(part, trial.laid.run) == round((x1 - x0) / part.segment_mm) > 3
    words = trial_words(strip_cures(made, "glow"), trial)
    assert re.fullmatch(r"let it run on by \d+ cut lengths \(\d+ mm\) at its right end", words), words


def test_a_strip_aside_is_moved_straight_to_the_middle_and_never_told_to_run_on() -> None:
    trial = one("aside and long enough", "move")
    assert trial.laid.run.along_mm == ((20.0, 26.0), (170.0, 26.0))
    cure = told(ODD["aside and long enough"])
    assert "ove it 7 mm down on the drawing" in cure and "run on" not in cure and "past the last window" not in cure


def test_a_bent_strip_aside_is_moved_as_a_whole_to_the_middle_of_both_its_windows() -> None:
    trial = one("bent and aside", "move")
    assert trial.reaches and sum(trial.laid.run.along_mm, ()) == pytest.approx((4.0, 26.0, 153.0, 26.0, 153.0, 178.0))
    words = trial_words(strip_cures(designed(ODD["bent and aside"]), "glow"), trial)
    assert words == "move it 12 mm to the left and 12 mm down on the drawing"
    assert "move it 12 mm to the left" in told(ODD["bent and aside"]).replace("Move", "move")


def test_where_it_is_blocked_a_strip_does_not_run_on() -> None:
    rib = ", keep_outs: [{name: rib, why: other, rect_mm: [107, 10, 5, 40]}]"
    cures = strip_cures(designed(wall(along="[[55, 26], [105, 26]]", part=rib)), "glow")
    assert all(trial.laid.run.along_mm[-1][0] <= 107 for trial in cures.tried if "turn" not in trial.kinds)


def test_the_least_gap_that_does_is_told_with_what_it_leaves() -> None:
    made = designed(wall(gap=12))
    gap = next(row for row in strip_cures(made, "glow").tried if row.kinds == ("gap",))
    assert gap.reaches and gap.laid.run.gap_mm > 12 and gap.times < LOOKING
    before = designed(wall(gap=gap.laid.run.gap_mm - 0.5))
    assert max(row.times_spots for row in before.light.strips) > 0.95 * LOOKING
    assert f"et it back from 12 to {gap.laid.run.gap_mm:g} mm (tried: " in told(wall(gap=12))


def test_where_nothing_does_that_is_said_with_the_reason() -> None:
    tight = wall(("[60, 20, 40, 60]",), along="[[30, 50], [130, 50]]", gap=6,
                 spaces="spaces: [{name: room, parts: [wall], size_mm: [100, 11.5, 90]}]\n")
    cure = told(tight)
    assert cure.startswith("Nothing that was tried is enough.") and "The room behind is 11.5 mm" in cure
    assert "LED in the room behind each" in cure
    assert not strip_cures(designed(tight), "glow").reaching


def test_a_ratio_before_and_after_are_told_apart() -> None:
    cures = strip_cures(designed(ODD["near"]), "glow")
    trial = cures.reaching[0]
    close = left_words(replace(cures, ratio=1.0431), replace(trial, ratio=1.0362))
    assert close.startswith("tried: brightest to darkest 1.036 to 1 instead of 1.043 to 1, ")
    far = left_words(replace(cures, ratio=2.1), replace(trial, ratio=1.1))
    assert far.startswith("tried: brightest to darkest 1.1 to 1 instead of 2.1 to 1, ")


def test_pairs_are_tried_where_no_change_does_alone() -> None:
    cures = strip_cures(designed(ODD["tall"]), "glow")
    singles = [row for row in cures.tried if len(row.kinds) == 1]
    assert not any(row.reaches for row in singles) and cures.reaching
    assert cure_words(cures).startswith("No one change is enough; two together are: ")


def test_least_work_first_and_a_table_of_all_that_was_tried() -> None:
    made = designed(ODD["near"])
    cures = strip_cures(made, "glow")
    works = [row.work for row in cures.reaching]
    assert works == sorted(works) and len(works) >= 2
    table = tried_table(made)
    assert len(table.rows) == 1 + len(cures.tried)
    assert [row[-1] for row in table.rows].count("yes") == len(cures.reaching)
    assert all(math.isfinite(row[4]) for row in table.rows)


def test_a_mirrored_plan_gets_the_mirrored_cure() -> None:
    one_side = strip_cures(designed(wall(along="[[0, 26], [75, 26]]", leds=120)), "glow")
    other = strip_cures(designed(wall(("[200, 23, 40, 6]",), along="[[300, 26], [225, 26]]", leds=120)), "glow")
    assert [row.kinds for row in one_side.tried] == [row.kinds for row in other.tried]
    for row, mirrored in zip(one_side.tried, other.tried, strict=True):
        assert mirrored.times == pytest.approx(row.times, rel=0.02)
        assert [300 - x for x, _ in mirrored.laid.run.along_mm] == pytest.approx([x for x, _ in row.laid.run.along_mm], abs=0.05)


def test_a_drawn_along_strip_of_odd_length_keeps_its_lengths() -> None:
    made = designed(wall((LOW,), along="[[40.03, 10.07], [110.41, 50.71]]"))
    part = made.drawer.strip(made.loom.emitters[0].part_row)
    for row in strip_cures(made, "glow").tried:
        if row.kinds == ("move",):
            assert lengths_of(part, row.laid.run) == made.loom.emitters[0].segments


def test_a_post_that_is_a_keep_out_keeps_its_width_where_it_is_moved() -> None:
    thick = ", keep_outs: [{name: p, why: post, centre_mm: [80, 26], radius_mm: 3}]"
    far = {}
    for part in ("", thick):
        made = designed(wall(("[60, 20, 40, 12]",), part=part, more=POST))
        post = next(row for row in strip_cures(made, "glow", goal="posts").tried if row.kinds == ("post",))
        far[part] = abs(post.laid.openings[0].posts_mm[0][0] - 80) if post.laid.openings[0].posts_mm else math.inf
    assert far[thick] > far[""] > 20  # it must stand clear of a window that ends 20 mm away


def test_a_cure_of_one_does_not_bring_the_other() -> None:
    """The strip of the second plan is even enough as it is: nearer it would be alike, and show its LEDs."""
    for name in ("two windows", "bent"):
        made = designed(ODD[name])
        for goal in ("spots", "alike"):
            cures = strip_cures(made, "glow", goal=goal)
            for row in cures.reaching:
                assert row.apart <= max(1.5, 1.05 * cures.apart) and row.times < max(LOOKING, 1.05 * cures.times), row.kinds


def test_windows_unlike_each_other_are_told_with_a_thin_sheet_behind_the_brighter() -> None:
    uneven = wall(("[60, 23, 20, 6]", "[100, 23, 20, 6]"), along="[[0, 26], [200, 26]]")
    made = designed(uneven.replace("opal acrylic 2 mm", "white styrene 0.5 mm", 1))
    assert uneven_strips(made) == (("glow", "alike"),)
    cure = next(row for row in find(made) if row.key == "light.windows-differ").cure
    assert cure.startswith("Put matt drafting film behind 'w1', on the inside against what is there (tried: ")
    assert "windows unlike each other" in str(tried_table(made).rows[0][1])


@pytest.mark.parametrize("along", ["[[0, 26], [100, 26]]", "[[100, 26], [0, 26]]"])
def test_a_strip_that_hangs_over_at_one_end_is_cut_off_there(along: str) -> None:
    """Symmetry: 50 mm from 50 to 100 lie in the middle of two windows about 75."""
    made = designed(wall(("[45, 23, 20, 6]", "[85, 23, 20, 6]"), along=along, wide=106))
    cures = strip_cures(made, "glow", goal="alike")
    trial = next(row for row in cures.tried if row.kinds == ("shorten",))
    assert trial_words(cures, trial) == "cut off 1 cut length (50 mm) at its left end"
    assert trial.reaches and trial.apart == pytest.approx(1.0, abs=1e-3) and sorted(trial.laid.run.along_mm)[0] == (50.0, 26.0)
    assert "shorten" not in {row.kinds[0] for row in strip_cures(designed(ODD["near"]), "glow").tried}


def test_of_changes_that_even_windows_those_come_first_that_make_them_alike_too() -> None:
    made = designed(wall(("[30, 30, 30, 8]", "[100, 30, 30, 8]", "[170, 30, 30, 8]"), along="[[20, 34], [170, 34]]",
                         gap=26, walls=0.7, wide=240, more="diffusers: [{sheet: opal acrylic 2 mm}]"))
    apart = [row.apart for row in strip_cures(made, "glow").reaching]
    assert len(apart) >= 2 and apart[0] <= 1.5 < apart[-1]


@pytest.mark.parametrize("seed", range(20))
def test_the_most_that_fits_is_that_of_the_plain_search_downwards(seed: int) -> None:
    chance = random.Random(seed)
    good = {number for number in range(1, 30) if chance.random() < 0.4}
    counts = [chance.randrange(30) for _ in range(chance.randrange(1, 8))]
    asked: list[int] = []

    def fits(number: int) -> bool:
        asked.append(number)
        return number in good

    found = _most_of(counts, fits)
    assert {count: found[count] for count in counts} == {
        count: next((number for number in range(count, 0, -1) if number in good), 0) for count in counts}
    assert len(asked) == len(set(asked)) and 0 not in asked
