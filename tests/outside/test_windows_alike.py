"""How alike the windows of one source are: followed by chance, summed by hand, and each told cure really made.

The photons are those of tests/channel_photons.py. The sum is the photometric distance law, LED by LED.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from channel_photons import Box, photons
from designed import PACKAGED, designed
from rushlight.files.plan_write import dump_plan
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.findings.cures._light import tried_edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.stages.rooms import sheets_back
from rushlight.stages.strip_cures import strip_cures
from rushlight.working_plan import changed
from strip_plans import SHEET, wall

THREE = ("[60, 23, 20, 6]", "[100, 23, 20, 6]", "[140, 23, 20, 6]")
APART = {
    "short": wall(THREE, along="[[50, 26], [130, 26]]"),
    "short, no room to run on": wall(THREE[:2], along="[[50, 26], [100, 26]]", wide=122, gap=12),
    "a post before one": wall(THREE[:2], along="[[0, 26], [200, 26]]").replace(
        SHEET, f"{SHEET}, posts_mm: [[70, 26]], posts_width_mm: 12", 1),
    "a thicker sheet": wall(THREE[:2], along="[[0, 26], [200, 26]]").replace(SHEET, "diffusers: [{sheet: white styrene 0.5 mm}]", 1),
}
ROOM = """rushlight: 1
subject: {title: cottage, scale: 72, invented: true}
states: [{name: night}]
parts:
  - {name: front, outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]], wall: white styrene, coats: [white primer], relief: {flat: true},
     openings: [{name: left, rect_mm: [60, 20, 12, 12], diffusers: [{sheet: opal acrylic 3 mm}]},
                {name: right, rect_mm: [90, 20, 12, 12], diffusers: [{sheet: matt drafting film}]}],
     bays: [{name: bay, rect_mm: [5, 5, 40, 10], depth_mm: 20, access: open}]}
spaces: [{name: parlour, parts: [front], size_mm: [60, 40, 40], windows: [left, right]}]
lamps:
  - {name: a, part: front, at_mm: [66, 26], opening: left, source: {kind: room}, colour: warm white, states: [night], evidence: [{kind: guess, certainty: 0.6}]}
  - {name: b, part: front, at_mm: [96, 26], opening: right, source: {kind: room}, colour: warm white, states: [night], evidence: [{kind: guess, certainty: 0.6}]}
supply: {kind: adapter, adapter_v: 5, limit_a: 1, bay: bay, run_h: 10}
"""


def finding_of(made: Design) -> Finding:
    return next(row for row in find(made) if row.key == "light.windows-differ")


@pytest.mark.parametrize(("gap", "along"), [(25.0, (50.0, 130.0)), (12.0, (50.0, 130.0)), (25.0, (0.0, 150.0))])
def test_windows_differ_as_much_as_photons_say(gap: float, along: tuple[float, float]) -> None:
    made = designed(wall(THREE, along=f"[[{along[0]}, 26], [{along[1]}, 26]]", gap=gap))
    (row,) = made.light.alike
    (emitter,) = made.loom.emitters
    opening = made.plan.parts[0].openings[0]
    traced = []
    for first in (60.0, 100.0, 140.0):
        box = Box(np.array([x for x, _ in emitter.strip_points_mm]), gap, 4.0, (first, first + 20.0, 3.0), 0.5,
                  sheets_back(PACKAGED, opening) or 0.0, 0.05, 4.0)
        traced.append(photons(box)[1])
    told = [times for _, times in row.over_dimmest]
    assert row.ratio == pytest.approx(max(traced) / min(traced), rel=0.12), "the front is taken on the mean"
    assert np.argsort(told).tolist() == np.argsort(traced).tolist()


def test_between_black_walls_windows_differ_as_the_distance_law_says() -> None:
    made = designed(wall(THREE[:2], along="[[50, 26], [100, 26]]", gap=18, walls=0.0))
    (row,) = made.light.alike
    (emitter,) = made.loom.emitters
    x, y = np.meshgrid(np.linspace(0.1, 19.9, 100), np.linspace(23.05, 28.95, 60))
    lit = [sum(float((18.0**2 / ((x + first - a) ** 2 + (y - b) ** 2 + 18.0**2) ** 2).mean()) for a, b in emitter.strip_points_mm)
           for first in (60.0, 100.0)]
    # the board and the sheet throw a little back, and farther along than the straight light
    assert row.ratio == pytest.approx(lit[0] / lit[1], rel=0.05)


@pytest.mark.parametrize("name", APART)
def test_every_told_cure_gives_what_it_says(name: str) -> None:
    made = designed(APART[name])
    cures = strip_cures(made, "glow", goal="alike")
    assert cures.apart == pytest.approx(made.light.alike[0].ratio, rel=1e-3)
    assert cures.tried
    for trial in cures.tried:
        edit = tried_edit(made, cures, trial)
        assert edit is not None
        after = designed(dump_plan(changed(made.plan, edit.changes)))
        assert after.light.alike[0].ratio == pytest.approx(trial.apart, rel=5e-3), edit.says
        assert ("light.windows-differ" not in {row.key for row in find(after)}) == (trial.over < 1.0), edit.says


def test_a_thin_sheet_behind_the_brighter_window_of_a_room_gives_what_it_says() -> None:
    made = designed(ROOM)
    told = finding_of(made)
    edit = cure_of(made, told)
    assert edit is not None and "behind 'right'" in told.cure
    after = designed(dump_plan(changed(made.plan, edit.changes)))
    _, of_sheets = told.cure.split("behind 'right'")
    assert f" {after.light.alike[0].ratio:.3g} to 1" in of_sheets.partition(")")[0]
    assert f"to 1 instead of {made.light.alike[0].ratio:.3g} to 1" in told.cure
    assert after.light.alike[0].ratio < 1.5 and "light.windows-differ" not in {row.key for row in find(after)}
    assert math.isclose(told.number or 0.0, made.light.alike[0].ratio)
