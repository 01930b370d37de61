"""The rhythm of a lamp as a plain frozen value: steps of colour, level and time."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.errors import OutOfRange, UnknownName

Array = NDArray[np.float64]

TIME_TOLERANCE_S = 1e-6
"""Two times nearer than this are one time (sums of decimal fractions)."""


@dataclass(frozen=True, slots=True)
class Step:
    """One stretch of constant light; a colour of None is the lamp's own, a level of 0 is dark."""

    colour: str | None
    level: float
    seconds: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.level <= 1.0:
            raise OutOfRange("step level", self.level, "0 (dark) to 1 (full)")
        if not (math.isfinite(self.seconds) and self.seconds > 0):
            raise OutOfRange("step seconds", self.seconds, "a time over 0 s")


@dataclass(frozen=True, slots=True)
class Rhythm:
    """How a lamp's light goes on and off; `kind` is the class abbreviation or the plain word.

    `groups` counts the flashes (or eclipses) of each group; `colours` are the colours named in the text, which
    are sectors unless the kind is alternating; `repeats` is False for what happens once and then stays.
    """

    text: str
    period_s: float
    steps: tuple[Step, ...]
    kind: str
    groups: tuple[int, ...] = ()
    colours: tuple[str, ...] = ()
    repeats: bool = True

    def __post_init__(self) -> None:
        total = math.fsum(step.seconds for step in self.steps)
        if not self.steps or abs(total - self.period_s) > TIME_TOLERANCE_S * max(1.0, total):
            raise OutOfRange("rhythm period", f"{self.period_s:g} s", f"the sum of its steps, {total:g} s")

    @property
    def on_share(self) -> float:
        """Share of the period in which the lamp gives any light [-], 0 to 1."""
        return math.fsum(s.seconds for s in self.steps if s.level > 0) / self.period_s

    @property
    def mean_level(self) -> float:
        """Level averaged over the period [-], 0 to 1: what the supply has to feed."""
        return math.fsum(s.seconds * s.level for s in self.steps) / self.period_s

    @property
    def flashes(self) -> int:
        """Flashes in one period: stretches of one colour above half way between least and most level."""
        return len(flash_onsets_s(self))

    @property
    def rate_per_min(self) -> float:
        """Flashes a minute, averaged over the period; 0 for a steady light or one that does not repeat."""
        return 60.0 * self.flashes / self.period_s if self.repeats else 0.0

    @property
    def patterns_per_min(self) -> float:
        """Flash patterns a minute: a double flash counts once; what rules on flash rate mean."""
        return 60.0 * max(1, len(self.groups)) / self.period_s if self.flashes and self.repeats else 0.0

    def level_at(self, t_s: float) -> float:
        """Level at a time since the start [-], 0 to 1; before 0 s the rhythm is continued backwards."""
        return self.step_at(t_s).level

    def colour_at(self, t_s: float) -> str | None:
        """Colour at a time since the start; None is the lamp's own colour, or dark."""
        return self.step_at(t_s).colour

    def step_at(self, t_s: float) -> Step:
        """The step that holds at a time since the start."""
        if not math.isfinite(t_s):
            raise OutOfRange("t_s", t_s, "a finite time in s")
        if not self.repeats and t_s >= self.period_s:
            return self.steps[-1]
        left_s = t_s % self.period_s if self.repeats else max(t_s, 0.0)
        for step in self.steps:
            left_s -= step.seconds
            if left_s < 0:
                return step
        return self.steps[-1]


def flash_onsets_s(rhythm: Rhythm) -> tuple[float, ...]:
    """Times in one period at which a flash begins [s]; empty for a light that never changes."""
    levels = [step.level for step in rhythm.steps]
    half = (min(levels) + max(levels)) / 2
    lit = [(step.level >= half and step.level > 0, step.colour) for step in rhythm.steps]
    if len(set(lit)) == 1:
        return ()
    starts = step_starts_s(rhythm.steps)
    before = [lit[-1] if rhythm.repeats else (False, None), *lit[:-1]]
    return tuple(t for t, now, was in zip(starts, lit, before, strict=True) if now[0] and now != was)


def step_starts_s(steps: tuple[Step, ...]) -> tuple[float, ...]:
    """Start of each step [s], from 0."""
    return tuple(math.fsum(s.seconds for s in steps[:k]) for k in range(len(steps)))


def lit_runs_s(rhythm: Rhythm, lit: bool) -> tuple[float, ...]:
    """Lengths of the lit (or dark) stretches of one period [s]; a stretch over the period's end is one."""
    states = [step.level > 0 for step in rhythm.steps]
    if all(state == lit for state in states):
        return (rhythm.period_s,)
    first = next(k for k, state in enumerate(states) if state != lit)
    turned = rhythm.steps[first:] + rhythm.steps[:first]
    runs: list[float] = []
    run = 0.0
    for step in turned:
        if (step.level > 0) == lit:
            run += step.seconds
        elif run:
            runs, run = [*runs, run], 0.0
    return tuple([*runs, run] if run else runs)


HALVINGS = 60
"""Of a bracket of times."""


def most_light_s(rhythm: Rhythm, window_s: float) -> float:
    """Most light that a stretch of time can hold of a rhythm, in seconds of full light.

    Parameters
    ----------
    rhythm : Rhythm
        One period; what happens once and then stays counts as steady at its most.
    window_s : float
        Length of the stretch [s], 0 or more.
    Returns
    -------
    float
        Level times time [s], at most the stretch itself.
    Raises
    ------
    OutOfRange
        If the stretch is negative or endless.
    Notes
    -----
    Whole periods give their mean; of the rest the best place begins or ends at an edge of a step.
    Source
    ------
    Integral of constant steps.
    """
    if not 0.0 <= window_s < math.inf:
        raise OutOfRange("window_s", window_s, "0 s or more")
    if not rhythm.repeats:
        return window_s * max(step.level for step in rhythm.steps)
    whole, rest_s = divmod(window_s, rhythm.period_s)
    edges_s, light_s = _light_curve(rhythm)
    begins_s = np.concatenate([edges_s[:-1], edges_s[:-1] - rest_s])
    full_s = rhythm.mean_level * rhythm.period_s

    def until(t_s: Array) -> Array:
        """Seconds of full light from the rhythm's start to a time, before it counted off."""
        periods, left_s = np.divmod(t_s, rhythm.period_s)
        return np.asarray(periods * full_s + np.interp(left_s, edges_s, light_s))

    return float(whole * full_s + (until(begins_s + rest_s) - until(begins_s)).max())


@lru_cache(maxsize=64)
def _light_curve(rhythm: Rhythm) -> tuple[Array, Array]:
    """The edges of the steps of one period [s], and the light up to each [s of full light]."""
    steps = np.array([(step.seconds, step.seconds * step.level) for step in rhythm.steps])
    edges_s, light_s = np.concatenate([np.zeros((1, 2)), steps.cumsum(axis=0)]).T
    return edges_s, light_s


def window_for_light_s(rhythm: Rhythm, light_s: float) -> float:
    """The longest stretch of time that never holds more light than so many seconds of full light [s].

    Parameters
    ----------
    rhythm : Rhythm
        One period.
    light_s : float
        Light [s of full light], 0 or more.
    Returns
    -------
    float
        Stretch [s]; endless for a rhythm without light.
    Raises
    ------
    OutOfRange
        If the light is negative or endless.
    Source
    ------
    `most_light_s` the other way round, by halving between the light over the greatest and over the mean level.
    """
    if not 0.0 <= light_s < math.inf:
        raise OutOfRange("light_s", light_s, "0 s or more")
    most, mean = max(step.level for step in rhythm.steps), rhythm.mean_level
    if most <= 0.0:
        return math.inf
    low = light_s / most
    high = light_s / mean if rhythm.repeats else low
    for _ in range(HALVINGS if high > low * (1.0 + 1e-12) else 0):
        middle = (low + high) / 2.0
        low, high = (middle, high) if most_light_s(rhythm, middle) <= light_s * (1.0 + 1e-12) else (low, middle)
    return low


def delayed(rhythm: Rhythm, delay_s: float) -> Rhythm:
    """The same repeating rhythm begun later: what it shows at t is what it showed at t - delay."""
    if not rhythm.repeats:
        raise OutOfRange("rhythm", rhythm.text, "a rhythm that repeats")
    cut_s = (-delay_s) % rhythm.period_s
    if cut_s < TIME_TOLERANCE_S or rhythm.period_s - cut_s < TIME_TOLERANCE_S:
        return rhythm
    before: list[Step] = []
    after: list[Step] = []
    for step, start_s in zip(rhythm.steps, step_starts_s(rhythm.steps), strict=True):
        early_s = min(max(cut_s - start_s, 0.0), step.seconds)
        if early_s > TIME_TOLERANCE_S:
            before.append(replace(step, seconds=early_s))
        if step.seconds - early_s > TIME_TOLERANCE_S:
            after.append(replace(step, seconds=step.seconds - early_s))
    return replace(rhythm, steps=tuple(after + before))


def slowed(rhythm: Rhythm, factor: float) -> Rhythm:
    """The same rhythm with every time multiplied by a factor over 0."""
    if not (math.isfinite(factor) and factor > 0):
        raise OutOfRange("factor", factor, "a factor over 0")
    steps = tuple(replace(step, seconds=step.seconds * factor) for step in rhythm.steps)
    return replace(rhythm, period_s=rhythm.period_s * factor, steps=steps)


def steps_from_text(text: str) -> tuple[Step, ...]:
    """Steps written as `W:0.5;-:4.5`: colour letters (or a level 0 to 1), a colon, seconds; `-` is dark.

    Raises
    ------
    UnknownName
        If a colour is not one of the light list's letters.
    OutOfRange
        If a piece has no seconds.
    """
    from rushlight.timing.words import colour_names

    letters = colour_names()
    found: list[Step] = []
    for piece in text.replace(" ", "").split(";"):
        head, colon, seconds = piece.partition(":")
        if not colon or not _is_number(seconds):
            raise OutOfRange("step", f"'{piece}'", "colour:seconds, such as W:0.5 or -:4.5")
        if head == "-":
            found.append(Step(None, 0.0, float(seconds)))
        elif _is_number(head):
            found.append(Step(None, float(head), float(seconds)))
        elif head in letters:
            found.append(Step(letters[head], 1.0, float(seconds)))
        else:
            raise UnknownName("colour", head, [*letters, "-"])
    return tuple(found)


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True
