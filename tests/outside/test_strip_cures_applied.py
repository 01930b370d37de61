"""What is told of a strip's cures against the plan really changed: the edit made, the whole design worked out anew.

No publication: the told numbers come from a search on the strip alone, the others from every stage. A long row between
black walls is held against the closed form of its contrast (docs/physics.md, section 3).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from designed import designed
from rushlight.files.plan_write import dump_plan
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.findings.cures._light import tried_edit
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.finding import Finding
from rushlight.optics.diffuser import row_contrast
from rushlight.stages.strip_cures import strip_cures, uneven_strips
from rushlight.stages.strips import LOOKING
from rushlight.working_plan import changed
from strip_plans import ODD, POST, SHEET, wall


def finding_of(made: Design, key: str) -> Finding:
    return next(row for row in find(made) if row.key == key)


def most_seen(made: Design) -> StripLight:
    """The window whose LEDs show most: its ratio is the one that is told."""
    return max(made.light.strips, key=lambda row: row.times_spots)


@pytest.mark.parametrize("name", ODD)
def test_every_told_cure_gives_what_it_says(name: str) -> None:
    made = designed(ODD[name])
    assert uneven_strips(made)[0] == ("glow", "spots")
    cures = strip_cures(made, "glow")
    assert cures.times == pytest.approx(max(row.times_spots for row in made.light.strips), rel=0.03)
    assert cures.ratio == pytest.approx(most_seen(made).ratio_spots, rel=1e-3)
    for trial in [*cures.reaching[:3], *[row for row in cures.tried if not row.reaches][:1]]:
        edit = tried_edit(made, cures, trial)
        assert edit is not None
        after = designed(dump_plan(changed(made.plan, edit.changes)))
        got = most_seen(after)
        assert got.ratio_spots == pytest.approx(trial.ratio, rel=2e-3), edit.says
        assert got.times_spots == pytest.approx(trial.times, rel=0.03), edit.says
        if trial.reaches:
            assert "light.hot-spots" not in {row.key for row in find(after)}, edit.says


@pytest.mark.parametrize(("rects", "more"), [
    (("[60, 23, 40, 6]",), POST), (("[60, 23, 30, 6]", "[100, 23, 30, 6]"), SHEET + ", posts_mm: [[95, 26]]"),
])
def test_a_post_as_told_throws_no_shadow_that_shows(rects: tuple[str, ...], more: str) -> None:
    made = designed(wall(rects, along="[[20, 26], [170, 26]]", more=more))
    edit = cure_of(made, finding_of(made, "light.post-shadow"))
    cures = strip_cures(made, "glow", goal="posts")
    assert edit is not None and cures.reaching
    after = designed(dump_plan(changed(made.plan, edit.changes)))
    assert "light.post-shadow" not in {row.key for row in find(after)}, edit.says
    assert max(row.ratio_posts for row in after.light.strips) == pytest.approx(cures.reaching[0].ratio, rel=5e-3)


def test_against_a_post_its_own_window_is_told_and_no_way_that_lets_the_leds_show_more() -> None:
    """Another window of the strip is unevener by its LEDs; nearer to the sheet a shadow drowns in their spots."""
    text = wall(("[60, 20, 70, 14]", "[150, 20, 40, 14]"), along="[[42, 27], [192, 27]]", gap=12)
    one, other = text.split("{name: w1")
    made = designed(one.replace(SHEET, SHEET + ", posts_mm: [[80, 27]], posts_width_mm: 0.8") + "{name: w1" + other)
    posted, worse = made.light.strips
    assert worse.times_spots > posted.times_posts
    told = finding_of(made, "light.post-shadow").cure
    cures = strip_cures(made, "glow", goal="posts")
    assert (cures.times, cures.ratio) == (pytest.approx(posted.times_posts, rel=0.03), pytest.approx(posted.ratio_posts, rel=1e-3))
    assert f"instead of {posted.ratio_posts:.3g} to 1" in told and "nearer" not in told
    for trial in cures.reaching:
        edit = tried_edit(made, cures, trial)
        assert edit is not None
        after = designed(dump_plan(changed(made.plan, edit.changes))).light.strips[0]
        assert after.times_spots < max(LOOKING, 1.06 * posted.times_spots), edit.says


def test_what_a_post_leaves_where_its_shadow_is_darkest_goes_by_rays_cast_past_it() -> None:
    """Rays from points all over each LED's lit square to places of the sheet, in a channel with black walls and board."""
    bare = wall(("[60, 25, 60, 6]",), along="[[20, 21], [170, 21]]", gap=20, walls=0.0,
                more="diffusers: [{sheet: tracing paper, gap_mm: 0}], posts_mm: [[75, 23.4]]")
    made = designed(bare.replace("walls_reflect: 0.0", "walls_reflect: 0.0, board_reflects: 0.0"))
    (row,) = made.light.strips
    lit = np.linspace(-1.0, 1.0, 41)
    leds = [(20 + 16.667 * (number + 0.5) + dx, 21 + dy) for number in range(9) for dx in lit for dy in lit]
    way = np.array(leds)
    left = []
    for x in np.arange(60.5, 120, 1.0):
        for y in np.arange(25.0, 31, 0.25):
            ray, to = np.array([x, y]) - way, np.array([75.0, 23.4]) - way
            share = np.clip((ray * to).sum(1) / (ray * ray).sum(1).clip(1e-12), 0, 1)
            clear = np.hypot(*(to - share[:, None] * ray).T) > 1.0
            each = 1.0 / ((ray * ray).sum(1) + 400.0) ** 2
            left.append((each * clear).sum() / each.sum())
    assert row.posts_share == pytest.approx(min(left), abs=0.04)
    assert abs(row.least_share - row.posts_share) > 0.05
    assert f"{100 * row.posts_share:.2g} % of the light is left" in finding_of(made, "light.post-shadow").says
    assert all(each.posts_share == 1.0 for each in designed(wall()).light.strips)


@pytest.mark.parametrize("gap", [10.0, 12.5, 16.667])
def test_a_long_row_between_black_walls_has_the_contrast_of_the_closed_form(gap: float) -> None:
    thin = "diffusers: [{sheet: tracing paper, gap_mm: 0}]"
    made = designed(wall(("[280, 25.75, 33.4, 0.5]",), along="[[0, 26], [600, 26]]", gap=gap, walls=0.0, wide=700, more=thin))
    (row,) = made.light.strips
    contrast = (row.ratio_spots - 1) / (row.ratio_spots + 1)
    # derived: 2 (1 + s) exp(-s) of an endless Lambertian row; the board under the strip and the paper take a little off
    assert 0.8 * row_contrast(gap / 16.667, 1.0) < contrast < 1.02 * row_contrast(gap / 16.667, 1.0)


def test_the_habits_gap_is_told_as_passed_over_only_where_it_is() -> None:
    low = designed(wall(("[60, 25, 40, 2]",), along="[[0, 26], [250, 26]]", gap=8))
    told = finding_of(low, "light.diffuser-gap").cure
    assert "tried: ordinary looking then passes over" in told
    back = float(told.split(" back to ")[1].split(" mm")[0])
    after = designed(wall(("[60, 25, 40, 2]",), along="[[0, 26], [250, 26]]", gap=back))
    assert max(row.times_spots for row in after.light.strips) < LOOKING
    tall = designed(ODD["tall"].replace("gap_mm: 12", "gap_mm: 8"))
    assert "it does not make these windows even" in finding_of(tall, "light.diffuser-gap").cure


def test_a_sheet_cut_back_as_told_leaves_no_band() -> None:
    along = "[[20, 26], [170, 26]]"
    made = designed(wall(("[60, 23, 40, 6]", "[90, 23, 40, 6]"), along=along))
    cure = finding_of(made, "light.overlap-band").cure
    assert "cut that of 'w1' back by 10 mm (tried: brightest to darkest " in cure
    then, now = (float(text) for text in cure.split("darkest ")[1].split(" to 1)")[0].split(" to 1 instead of "))
    after = designed(wall(("[60, 23, 40, 6]", "[100, 23, 30, 6]"), along=along))
    assert "light.overlap-band" not in {row.key for row in find(after)}
    assert max(row.ratio_spots for row in after.light.strips) == pytest.approx(then, rel=0.02) and now > 1.5 * then


@pytest.mark.parametrize("shape", [
    "centre_mm: [80, 26], radius_mm: 1.5", "rect_mm: [79, 25, 2, 2]", "outline_mm: [[78.5, 25], [81, 25], [80, 28]]",
])
def test_a_post_among_the_keep_outs_is_moved_with_its_foot_or_taken_out(shape: str) -> None:
    thick = f", keep_outs: [{{name: p, why: post, {shape}}}, {{name: rib, why: other, rect_mm: [2, 2, 4, 4]}}]"
    made = designed(wall(("[60, 20, 40, 12]",), part=thick, more=POST))
    cures = strip_cures(made, "glow", goal="posts")
    moved, = (row for row in cures.tried if row.kinds == ("post",))
    away = replace(moved, steps=(replace(cures.now, openings=(replace(cures.now.openings[0], posts_mm=()),)),))
    for trial, left in ((moved, {"p", "rib"} if moved.laid.openings[0].posts_mm else {"rib"}), (away, {"rib"})):
        edit = tried_edit(made, cures, trial)
        assert edit is not None
        after = designed(dump_plan(changed(made.plan, edit.changes)))
        assert {row.name for row in after.plan.parts[0].keep_outs} == left
        assert "light.post-shadow" not in {row.key for row in find(after)}
        if "p" in left:
            assert max(row.ratio_posts for row in after.light.strips) == pytest.approx(trial.ratio, rel=0.02)
