"""Ways round the subject."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.errors import OutOfRange
from rushlight.geometry.bearing import WAYS, bearing_of, direction, leaned, turned_to

COMPASS = {"ahead": 0.0, "starboard": 90.0, "astern": 180.0, "port": 270.0}


@pytest.mark.parametrize("word", COMPASS)
def test_words_are_bearings(word: str) -> None:
    assert direction(COMPASS[word]) == pytest.approx(WAYS[word], abs=1e-12)
    assert bearing_of(np.array(WAYS[word])) == pytest.approx(COMPASS[word])
    assert direction(COMPASS[word], 90.0) == pytest.approx(WAYS["up"], abs=1e-12)


@pytest.mark.parametrize("bearing", [0.0, 12.5, 200.0, 359.0])
def test_leaning_raises_and_keeps_the_bearing(bearing: float) -> None:
    assert leaned(direction(bearing), 30.0) == pytest.approx(direction(bearing, 30.0))
    assert leaned(direction(bearing, 10.0), -30.0) == pytest.approx(direction(bearing, -20.0))
    assert leaned(direction(bearing), 120.0) == pytest.approx(direction(bearing + 180.0, 60.0), abs=1e-12)
    assert list(leaned(np.array(WAYS["down"]), 30.0)) == list(WAYS["down"])


def test_a_side_seen_from_outside_has_the_bow_at_its_right() -> None:
    up = np.array(WAYS["up"])
    starboard = turned_to(np.array(WAYS["starboard"]), up, seen_from_outside=True)
    assert starboard[:, 0] == pytest.approx(WAYS["ahead"]) and starboard[:, 1] == pytest.approx(up)
    port = turned_to(np.array(WAYS["port"]), up, seen_from_outside=True)
    assert port[:, 0] == pytest.approx(WAYS["astern"])
    inside = turned_to(np.array(WAYS["port"]), up, seen_from_outside=False)
    assert inside[:, 0] == pytest.approx(WAYS["ahead"]) and inside[:, 2] == pytest.approx(WAYS["starboard"])


def test_frames_turn_and_never_mirror() -> None:
    for face, top in (("up", "ahead"), ("down", "astern"), ("ahead", "port")):
        for outside in (True, False):
            frame = turned_to(np.array(WAYS[face]), np.array(WAYS[top]), seen_from_outside=outside)
            assert np.linalg.det(frame) == pytest.approx(1.0)
    with pytest.raises(OutOfRange, match="between face and top"):
        turned_to(np.array(WAYS["up"]), np.array(WAYS["down"]), seen_from_outside=True)
    with pytest.raises(OutOfRange, match="height"):
        direction(0.0, 91.0)
