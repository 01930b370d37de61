"""Rhythms as values: period, level at a time, flashes, delay."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rushlight.errors import OutOfRange, UnknownName
from rushlight.timing.character import parse_rhythm, rhythm_of_steps
from rushlight.timing.rhythm import (
    Rhythm,
    Step,
    delayed,
    lit_runs_s,
    most_light_s,
    slowed,
    steps_from_text,
    window_for_light_s,
)

STEPS = st.lists(
    st.builds(Step, st.sampled_from([None, "red", "white"]), st.floats(0, 1), st.floats(0.01, 60)),
    min_size=1, max_size=12,
)


def rhythm_of(steps):
    return Rhythm("drawn", math.fsum(step.seconds for step in steps), tuple(steps), "steps")


def test_level_and_colour_at_a_time():
    rhythm = parse_rhythm("Al Oc BuY 3s")
    assert [rhythm.colour_at(t) for t in (0.5, 1.25, 2.0, 2.75, 3.5)] == ["blue", None, "yellow", None, "blue"]
    assert [rhythm.level_at(t) for t in (0.5, 1.25, -0.25, -0.75)] == [1, 0, 0, 1]


def test_what_happens_once_stays_at_its_end():
    rise = parse_rhythm("spool-up 4 s")
    assert rise.level_at(-1) == rise.level_at(0) == 0.0
    assert rise.level_at(4.0) == rise.level_at(1e6) == 1.0
    assert rise.rate_per_min == 0.0


def test_rates_and_shares():
    rhythm = parse_rhythm("Fl(2) W 10s")
    assert (rhythm.on_share, rhythm.flashes, rhythm.rate_per_min, rhythm.patterns_per_min) == (0.1, 2, 12.0, 6.0)
    assert parse_rhythm("double strobe 1.2 s").patterns_per_min == pytest.approx(50)
    assert parse_rhythm("steady").rate_per_min == parse_rhythm("steady").patterns_per_min == 0.0


@given(STEPS, st.floats(-1e3, 1e3))
def test_rhythm_repeats_with_its_period(steps, t_s):
    rhythm = rhythm_of(steps)
    inside = (t_s % rhythm.period_s) + 0.0
    edges = [math.fsum(s.seconds for s in steps[:k]) for k in range(len(steps) + 1)]
    if min(abs(inside - edge) for edge in edges) > 1e-6:
        assert rhythm.level_at(t_s) == rhythm.level_at(t_s + rhythm.period_s) == rhythm.level_at(inside)


@given(STEPS)
def test_lit_and_dark_runs_fill_the_period(steps):
    rhythm = rhythm_of(steps)
    lit = rhythm.on_share * rhythm.period_s
    runs = lit_runs_s(rhythm, True) if rhythm.on_share else ()
    dark = lit_runs_s(rhythm, False) if rhythm.on_share < 1 else ()
    assert math.fsum(runs) == pytest.approx(lit)
    assert math.fsum(runs) + math.fsum(dark) == pytest.approx(rhythm.period_s)
    assert 0 <= rhythm.mean_level <= rhythm.on_share + 1e-12


@pytest.mark.parametrize("delay_s", [0.0, 0.4, 1.5, 7.0, 9.9, -2.0, 23.0])
def test_delay_moves_what_is_shown(delay_s):
    rhythm = parse_rhythm("VQ(6)+LFl W 10s")
    later = delayed(rhythm, delay_s)
    assert later.period_s == rhythm.period_s
    for k in range(97):
        t_s = 0.013 + k * 0.1031
        assert later.level_at(t_s) == rhythm.level_at(t_s - delay_s)


def test_slowed_keeps_the_shape():
    slow = slowed(parse_rhythm("UQ"), 2.0)
    assert (slow.period_s, slow.on_share) == (0.5, pytest.approx(0.4))
    with pytest.raises(OutOfRange, match="factor"):
        slowed(slow, 0.0)


def test_a_delay_needs_a_repeating_rhythm():
    with pytest.raises(OutOfRange, match="repeats"):
        delayed(parse_rhythm("spool-up 2 s"), 1.0)


@pytest.mark.parametrize(
    ("level", "seconds", "match"), [(1.1, 1, "level"), (-0.1, 1, "level"), (1, 0, "seconds"), (1, math.nan, "seconds")]
)
def test_bad_steps(level, seconds, match):
    with pytest.raises(OutOfRange, match=match):
        Step(None, level, seconds)


def test_period_must_be_the_sum_of_the_steps():
    with pytest.raises(OutOfRange, match="sum of its steps"):
        Rhythm("x", 5.0, (Step(None, 1.0, 1.0),), "steps")
    with pytest.raises(OutOfRange, match="sum of its steps"):
        Rhythm("x", 0.0, (), "steps")


@pytest.mark.parametrize("t_s", [math.nan, math.inf])
def test_times_are_finite(t_s):
    with pytest.raises(OutOfRange, match="t_s"):
        parse_rhythm("Iso 10s").level_at(t_s)


def test_written_steps():
    assert steps_from_text("R:0.5; -:1; 0.25:2") == (Step("red", 1.0, 0.5), Step(None, 0.0, 1.0), Step(None, 0.25, 2.0))
    assert rhythm_of_steps("R:1;G:2").colours == ("red", "green")
    with pytest.raises(UnknownName, match="colour 'Z'"):
        steps_from_text("Z:1")
    with pytest.raises(OutOfRange, match="colour:seconds"):
        steps_from_text("W0.5")
    with pytest.raises(OutOfRange, match="colour:seconds"):
        steps_from_text("W:soon")


@pytest.mark.parametrize("text", ["double strobe 1.2 s", "Fl(2) 6s", "fade 3 s", "steady"])
@pytest.mark.parametrize("window_s", [0.01, 0.13, 0.9, 4.0, 25.0])
def test_most_light_of_a_stretch_is_the_best_of_all_moments(text: str, window_s: float) -> None:
    rhythm, step_s = parse_rhythm(text), 0.002
    levels = [rhythm.level_at((k + 0.5) * step_s) for k in range(round((window_s + rhythm.period_s) / step_s))]
    summed, count = [0.0], round(window_s / step_s)
    for level in levels:
        summed.append(summed[-1] + level * step_s)
    best = max(summed[k + count] - summed[k] for k in range(len(levels) - count + 1))  # derived: every moment tried
    assert most_light_s(rhythm, window_s) == pytest.approx(best, rel=0.01, abs=3 * step_s)
    back_s = window_for_light_s(rhythm, most_light_s(rhythm, window_s))
    assert back_s >= window_s * (1 - 1e-9) and most_light_s(rhythm, back_s) == pytest.approx(most_light_s(rhythm, window_s))


def test_light_of_a_stretch_that_cannot_be_raises() -> None:
    with pytest.raises(OutOfRange):
        most_light_s(parse_rhythm("steady"), -1.0)
    with pytest.raises(OutOfRange):
        window_for_light_s(parse_rhythm("steady"), -1.0)


def plain_until(rhythm: Rhythm, t_s: float) -> float:
    """Step by step."""
    whole, left_s = divmod(t_s, rhythm.period_s)
    light = whole * math.fsum(step.seconds * step.level for step in rhythm.steps)
    for step in rhythm.steps:
        light += step.level * min(step.seconds, left_s)
        left_s = max(left_s - step.seconds, 0.0)
    return light


@given(STEPS, st.floats(0, 200))
def test_the_most_light_of_a_window_is_that_of_the_plain_sum_from_every_edge(steps: list[Step], window_s: float) -> None:
    """Against the plain way: every step added up for every place at which the window may begin or end at an edge."""
    rhythm = Rhythm("made up", math.fsum(step.seconds for step in steps), tuple(steps), "made up")
    edges = [math.fsum(step.seconds for step in steps[:k]) for k in range(len(steps))]
    plain = max(plain_until(rhythm, start + window_s) - plain_until(rhythm, start)
                for edge in edges for start in (edge, edge - window_s))
    assert most_light_s(rhythm, window_s) == pytest.approx(plain, rel=1e-9, abs=1e-9)
