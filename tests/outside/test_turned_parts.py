"""Places on parts that turn, slide and tip, one on another, against SciPy's rotations (scipy.spatial.transform)."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from designed import planned
from rushlight.stages.stands import frame_over, lit_of

PLAN = """
rushlight: 1
subject: {{title: ship, scale: 100}}
states: [{{name: night, poses: [{{part: turret, at: there}}, {{part: lid, at: there}}]}}]
parts:
  - {{name: deck, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]]}}
  - {{name: turret, outline_mm: [[0, 0], [60, 0], [60, 40], [0, 40]], poses: [{{name: home, value: 0}}, {{name: there, value: {turn}}}],
     stands: {{over: deck, points_mm: [[0, 0], [60, 0]], at_mm: [[{x}, {y}], [{x2}, {y2}]], above_mm: {above}, up_deg: {up}, pivot_mm: [90, 40]}}}}
  - {{name: lid, outline_mm: [[0, 0], [20, 0], [20, 10], [0, 10]], poses: [{{name: home, value: 0}}, {{name: there, value: {tip}}}],
     stands: {{over: turret, points_mm: [[0, 0], [20, 0]], at_mm: [[10, 30], [30, 30]], above_mm: 3, up_deg: 20, tips: yes}}}}
lamps: [{{name: a, part: deck, at_mm: [9, 9], colour: white, size_mm: 100, states: [night]}}]
"""


@pytest.mark.parametrize("seed", range(15))
def test_a_lid_on_a_turret(seed: int) -> None:
    rng = random.Random(seed)
    x, y, way, turn, tip = rng.uniform(0, 100), rng.uniform(0, 60), rng.uniform(-180, 180), rng.uniform(-170, 170), rng.uniform(-90, 90)
    above, up = rng.uniform(-5, 20), rng.uniform(0, 180)
    x2, y2 = x + 60 * math.cos(math.radians(way)), y + 60 * math.sin(math.radians(way))
    plan = planned(PLAN.format(x=x, y=y, x2=x2, y2=y2, turn=turn, tip=tip, above=above, up=up))
    frame = frame_over(plan, "lid", (10.0, 5.0), lit_of(plan.part("deck"), (90.0, 40.0)), "night")
    assert frame is not None
    for spot in ((0.0, 0.0), (20.0, 0.0), (13.0, 8.0)):
        on_turret = Rotation.from_euler("x", 20 + tip, degrees=True).apply([*spot, 0.0]) + np.array([10, 30, 3])
        stood = Rotation.from_euler("ZX", [way, up], degrees=True).apply(on_turret) + np.array([x, y, above])
        want = Rotation.from_euler("z", turn, degrees=True).apply(stood - np.array([90, 40, 0])) + np.array([90, 40, 0])
        assert (frame @ np.array([*spot, 0.0, 1.0]))[:3] == pytest.approx(want, abs=1e-6)
