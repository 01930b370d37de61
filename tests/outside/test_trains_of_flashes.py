"""Trains of flashes: the definition of 14 CFR 25.1401(e) tried window by window, and the law of Talbot and Plateau."""

from __future__ import annotations

import numpy as np
import pytest

from rushlight.timing.character import parse_rhythm
from rushlight.timing.flash import effective_intensity_cd
from rushlight.timing.rhythm import Rhythm, Step, delayed


def train(*parts: tuple[float, float]) -> Rhythm:
    steps = tuple(Step(None, level, seconds) for level, seconds in parts)
    return Rhythm("train", sum(step.seconds for step in steps), steps, "Fl")


def by_definition(rhythm: Rhythm, periods: int) -> float:
    """Largest integral of I dt over (0.2 s + t2 - t1), every edge of many periods tried for t1 and t2."""
    steps = rhythm.steps * periods
    light = np.concatenate([[0.0], np.cumsum([step.level * step.seconds for step in steps])])
    at_s = np.concatenate([[0.0], np.cumsum([step.seconds for step in steps])])
    return max(float(((light[k + 1:] - light[k]) / (0.2 + at_s[k + 1:] - at_s[k])).max())
               for k in range(len(rhythm.steps)))


@pytest.mark.parametrize("duty", [0.05, 0.2, 0.5, 0.8, 0.95])
@pytest.mark.parametrize("period_s", [0.002, 0.02, 0.1])
def test_flashes_too_quick_to_be_told_apart_look_like_their_mean(duty, period_s):
    # source: law of Talbot and Plateau (Talbot 1834): a light that flickers too quickly to be seen looks as a steady
    # one of its mean
    rhythm = train((1.0, duty * period_s), (0.0, (1 - duty) * period_s))
    assert effective_intensity_cd(rhythm, 80.0) == pytest.approx(80.0 * duty)


@pytest.mark.parametrize("text", ["UQ", "VQ", "Q", "double strobe 1.2 s", "double strobe 0.8 s", "flash 300/min"])
def test_usual_trains_by_the_definition(text):
    # source: 14 CFR 25.1401(e), t1 and t2 "selected so that the effective intensity is maximum"
    rhythm = parse_rhythm(text)
    assert effective_intensity_cd(rhythm, 1.0) == pytest.approx(by_definition(rhythm, 400), rel=0.005)


def test_seeded_trains_by_the_definition_wherever_the_period_is_cut():
    rng = np.random.default_rng(11)
    for _ in range(60):
        count = int(rng.integers(2, 8))
        rhythm = train(*((float(rng.choice([0.0, 0.3, 1.0])), float(t)) for t in rng.uniform(0.01, 0.6, count)))
        found = effective_intensity_cd(rhythm, 1.0)
        assert found == pytest.approx(max(by_definition(rhythm, 200), rhythm.mean_level), rel=1e-9)
        cut = delayed(rhythm, float(rng.uniform(0.0, rhythm.period_s)))
        assert effective_intensity_cd(cut, 1.0) == pytest.approx(found, rel=1e-6)


def test_two_flashes_of_a_group_count_together_whichever_comes_first():
    # derived by hand: 0.1 s lit, 0.1 dark, 0.1 lit: 0.2 / (0.2 + 0.3)
    one, other = train((1, 0.1), (0, 0.1), (1, 0.1), (0, 5.0)), train((1, 0.1), (0, 5.0), (1, 0.1), (0, 0.1))
    assert [effective_intensity_cd(row, 1.0) for row in (one, other)] == pytest.approx([0.4, 0.4])
