"""From where ships' lights are seen and how they go out past their sectors, bearing by bearing, against the annex.

Source: COLREGs 1972, Rule 21 (sectors) and Annex I 9(a) (horizontal sectors), also printed as 33 CFR 83.21 and 84.17:
sidelights reach practical cut-off between 1 and 3 degrees outside their sector ahead; stern and masthead lights, and
sidelights abaft the beam, keep at least half at the limit and are cut off at most 5 degrees outside, falling steadily.
"""

import itertools

import numpy as np
import pytest

from designed import designed
from rushlight.geometry.bearing import direction
from rushlight.optics.sector import penumbra_deg, screened_share
from rushlight.stages.outlook import outlook, screen_mm

SECTORS = {"masthead": (247.5, 112.5), "port": (247.5, 360.0), "starboard": (0.0, 112.5), "stern": (112.5, 247.5)}
"""Rule 21: 225 degrees ahead, 112.5 on either side, 135 astern."""


def share(bearing: float, arc: tuple[float, float], size_mm: float = 1.0) -> float:
    """Of a lamp that shines alike all round but for its screen, as the sheet of screens makes it."""
    return screened_share(bearing, *arc, cut_deg=penumbra_deg(size_mm, screen_mm(size_mm, arc)))


@pytest.mark.parametrize("size_mm", [0.5, 1.0, 3.0])
def test_sidelights_are_cut_off_ahead_between_1_and_3_degrees_outside(size_mm: float) -> None:
    for arc, outside in ((SECTORS["starboard"], -1.0), (SECTORS["port"], 1.0)):
        assert share(0.0, arc, size_mm) == 1.0
        assert share(outside * 1.0, arc, size_mm) > 0.1  # source: not before 1 degree; a tenth is taken for 'practical'
        assert share(outside * 3.0, arc, size_mm) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("name", ["masthead", "stern", "port", "starboard"])
def test_other_limits_keep_half_and_are_gone_5_degrees_outside(name: str) -> None:
    arc = SECTORS[name]
    for edge, outward in ((arc[0], -1.0), (arc[1], 1.0)):
        steps = [share(edge + outward * past, arc) for past in np.linspace(-5.0, 5.0, 41)]
        assert steps[20] >= 0.5 and steps[-1] == pytest.approx(0.0, abs=1e-6)
        assert all(later <= earlier for earlier, later in itertools.pairwise(steps))
        assert min(steps[:21]) == 1.0


SHIP = """
rushlight: 1
subject: {title: a launch of our own, kind: ship, scale: 50}
states: [{name: under way}]
parts:
  - {name: cabin, outline_mm: [[0, 0], [280, 0], [280, 70], [0, 70]], relief: {flat: true}, faces: starboard,
     bays: [{name: bay, rect_mm: [100, 5, 60, 40], depth_mm: 20, access: open}]}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: bay}
lamps:
"""
LAMP = ("  - {name: %s, part: cabin, at_mm: [%g, 60], facing: %s, size_mm: 150, colour: white, states: under way, "
        "arc_deg: [%g, %g], source: {kind: led}}\n")


@pytest.mark.parametrize(
    ("bearing", "seen"),
    [  # source: Rule 21; bearings within the beams of the LEDs
        (20.0, {"masthead", "starboard"}), (60.0, {"masthead", "starboard"}), (75.0, {"masthead", "starboard"}),
        (120.0, {"stern"}), (150.0, {"stern"}), (180.0, {"stern"}), (210.0, {"stern"}), (240.0, {"stern"}),
        (285.0, {"masthead", "port"}), (300.0, {"masthead", "port"}), (340.0, {"masthead", "port"}),
    ],
)
def test_a_ship_shows_the_lights_of_rule_21(bearing: float, seen: set[str]) -> None:
    way = {"masthead": "ahead", "port": "port", "starboard": "starboard", "stern": "astern"}
    rows = "".join(LAMP % (name, 20 + 60 * k, way[name], *SECTORS[name]) for k, name in enumerate(SECTORS))
    look = outlook(designed(SHIP + rows), "under way", direction(bearing))
    assert {name for name, part in look.lamps.items() if part > 0.0} == seen
