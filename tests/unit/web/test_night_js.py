"""The picture by night in the browser is the book's picture, pixel by pixel."""

from __future__ import annotations

import json
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from rushlight.optics.glare import share_table
from rushlight.sheets.glow import SOOT, Glow, View, glow_pixels
from rushlight.sheets.night_pools import PaperPool

CASE = Path(__file__).parents[2] / "js" / "night_case.mjs"
COLOURS = ((0.3127, 0.329), (0.7006, 0.2994), (0.1523, 0.7404), (0.1241, 0.0578), (0.4366, 0.4042), (0.4593, 0.4107))
OPENING = ((20.3, 10.1), (31.0, 10.1), (31.0, 15.3), (27.0, 18.0), (20.3, 15.3))


POOL = PaperPool((30.0, 30.0), (-1.5, 1.5), tuple(tuple(3.0 + 10.0 * np.sin(n * m) ** 2 for n in range(12)) for m in range(7)),
                 COLOURS[4], "", ((32.0, 27.0), (12.0, 28.0), (10.0, 45.0), (33.0, 39.0)))

KEYHOLE = ((2.0, 2.0), (18.0, 2.0), (18.0, 14.0), (2.0, 14.0), (2.0, 2.0), (6.0, 5.0), (11.0, 6.0), (8.0, 11.0), (6.0, 5.0), (2.0, 2.0))
WALL = PaperPool((2.0, 2.0), (1.0, 1.0), ((40.0, 40.0), (40.0, 40.0)), COLOURS[5], "", KEYHOLE)


def browser(lamps: list[Glow], wide: float, high: float, view: View, tmp_path: Path) -> np.ndarray:  # type: ignore[type-arg]
    """The same lamps through js/night.js, at five pixels a millimetre of paper."""
    said = {
        "wide": round(5 * wide), "high": round(5 * high), "half": view.half_cd_m2, "ground": SOOT,
        "eye": {"pixelMm": 0.2 / view.scale, "distanceMm": view.distance_mm, "table": share_table()},
        "grounds": [{
            "origin": [5 * pool.origin_mm[0], 5 * (high - pool.origin_mm[1])], "step": [5 * pool.step_mm[0], -5 * pool.step_mm[1]],
            "grid": pool.cd_m2, "xy": pool.xy, "rhythm": "r1", "edge": [[5 * x, 5 * (high - y)] for x, y in pool.edge_mm],
        } for pool in (POOL, WALL)],
        "lamps": [
            {"at": [5 * lamp.at_mm[0], 5 * (high - lamp.at_mm[1])], "radius": 5 * lamp.radius_mm, "xy": lamp.xy,
             "cd": lamp.intensity_cd, "lean": [lamp.lean[0], -lamp.lean[1]], "rhythm": f"r{n % 3}",
             "shape": [[5 * x, 5 * (high - y)] for x, y in lamp.shape_mm] or None,
             "bands": lamp.bands or None, "ends": [[5 * x, 5 * (high - y)] for x, y in lamp.ends_mm]}
            for n, lamp in enumerate(lamps)
        ],
    }
    case = tmp_path / "case.json"
    case.write_text(json.dumps(said), encoding="utf-8")
    made = subprocess.run([shutil.which("node") or "node", str(CASE), str(case)], capture_output=True, check=True).stdout
    return np.frombuffer(made, np.uint8).reshape(said["high"], said["wide"], 4)[..., :3]


@pytest.mark.skipif(shutil.which("node") is None, reason="no node here")
@pytest.mark.parametrize(("scale", "wide", "high"), [(1.0, 60.0, 40.0), (0.2, 61.2, 43.4), (2.0, 50.2, 50.2)])
def test_book_and_browser_show_the_same_picture(scale: float, wide: float, high: float, tmp_path: Path) -> None:
    rng = np.random.default_rng(round(10 * scale))
    lamps = [
        Glow((float(x), float(y)), float(r), COLOURS[n % 6], float(10**cd))
        for n, (x, y, r, cd) in enumerate(rng.uniform((0, 0, 0.02, -5), (wide, high, 2, 0), (40, 4)))
    ]
    lamps += [replace(lamp, at_mm=(lamp.at_mm[1], lamp.at_mm[0]), radius_mm=2.0 * lamp.radius_mm, lean=(float(x), float(y)))
              for lamp, (x, y) in zip(lamps[:12], [*rng.uniform(-0.7, 0.7, (10, 2)), (1.0, 0.0), (0.0, 0.5)], strict=True)]
    lamps.append(Glow((25.0, 13.0), 1.0, COLOURS[4], 0.02, OPENING))
    lamps.append(Glow((45.0, 30.0), 1.0, COLOURS[0], 0.03, tuple((x + 18, y + 15) for x, y in OPENING),
                      (0.2, 1.6, 0.4, 2.0, 0.8), ((39.0, 24.0), (48.0, 31.0))))
    lamps.append(Glow((40.0, 13.0), 1.0, COLOURS[1], 0.001, ((40.0, 13.0), (40.1, 13.0), (40.1, 13.05))))
    view = View(scale, 400.0, 3000.0)
    book = glow_pixels(lamps, wide, high, view, (POOL, WALL)).astype(int)
    off = np.abs(book - browser(lamps, wide, high, view, tmp_path))
    assert off.max() <= 1
    assert np.ptp(book) > 200  # it shows something
