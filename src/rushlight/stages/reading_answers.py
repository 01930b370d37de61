"""Answers that readings at the bench narrow: in which question, how wide today, and whether a verdict is open."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rushlight.stages.measured_found import Place
from rushlight.tables import row_by
from rushlight.units import Range

QUESTIONS = ("bright", "stray", "warm", "fit", "lasts", "awake", "film")
"""How bright a lamp is, whether light shows where it should not, how warm it gets, whether a bundle goes into its tube
and onto its LED, how long the supply lasts, whether a power bank stays awake, whether dimming shows on film."""

WIDEST = 1e-9
"""A range that begins at nothing counts from this share of its upper end."""

LEAST_GAIN_STOPS = 1e-6

UNLIKELY = 0.05
"""How often the truth lies beyond what is likely (`likely.COVERAGE_FACTOR`: about 1 in 20)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A number that a finding is about; of light `alike` are the lamps it stands for, `lamp` one of them in a state.

    It is undecided where its range at the outside lies on both sides of a limit; `likely` is what of that is likely,
    None where both are one, and `likely_closed` says that this lies on one side.
    """

    question: str
    value: Range
    undecided: bool
    likely: Range | None = None
    likely_closed: bool = False
    alike: tuple[str, ...] = ()
    lamp: tuple[str, str] | None = None

    @property
    def lamps(self) -> int:
        """How many lamps it stands for; 1 where it is of no lamp."""
        return max(len(self.alike), 1)

    @property
    def ranked(self) -> Range:
        """The range that readings are ranked by: what is likely."""
        return self.value if self.likely is None else self.likely


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowed:
    """One answer and what a reading leaves of it, for so many lamps (or parts, spaces, bundles).

    `likely` is what of `left` is then likely, None where both are one.
    """

    name: str
    answer: Answer
    left: Range
    lamps: int
    likely: Range | None = None

    @property
    def ranked(self) -> Range:
        """The range that is left for the ranking."""
        return self.left if self.likely is None else self.likely

    @property
    def stops(self) -> float:
        """By how much what is likely of one such answer narrows."""
        return stops_of(self.answer.ranked) - stops_of(self.ranked)

    @property
    def outer_stops(self) -> float:
        """By how much one such answer narrows at the outside."""
        return stops_of(self.answer.value) - stops_of(self.left)

    @property
    def settles(self) -> float:
        """The chance that it closes the verdict of one such answer [-]; 0 where that is closed."""
        if not self.answer.undecided:
            return 0.0
        if self.answer.likely_closed:
            return UNLIKELY * self.outer_stops / stops_of(self.answer.value)
        return self.stops / stops_of(self.answer.ranked)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What a reading does in one question.

    `stops` is by how much it narrows what is likely of the answers that it touches, all in all (a stop is a factor of
    2); `undecided` how many of them have an open verdict today, and `settles` how many of those the reading may be
    expected to close; `most` the answer that it narrows most, `before` and `after` at the outside, `likely_before` and
    `likely_after` what of that is likely (the same, where the two are one).
    """

    question: str
    stops: float
    touched: int
    undecided: int
    settles: float
    most: str
    before: Range
    after: Range
    likely_before: Range
    likely_after: Range


def crosses(value: Range, limits: Iterable[float]) -> bool:
    """Whether a range lies on both sides of a limit."""
    return any(value.low < limit < value.high for limit in limits)


def stops_of(value: Range) -> float:
    """How wide a range is, in factors of two."""
    if value.high <= 0.0:
        return 0.0
    return math.log2(value.high / max(value.low, WIDEST * value.high))


def gains_of(narrowed: Iterable[Narrowed], open_in: Mapping[str, bool]) -> tuple[Gain, ...]:
    """What a reading does, question by question.

    Parameters
    ----------
    narrowed : iterable of Narrowed
        What it leaves of each answer that it touches.
    open_in : mapping of str to bool
        Whether a question has an open verdict at all: then only answers with one count in it.
    Returns
    -------
    tuple of Gain
        Of the questions in which it narrows something.
    Notes
    -----
    A reading that leaves a share s of a range's stops closes its verdict with a chance of 1 - s: the limit lies inside
    the range, and what is left of the range, wherever it comes to lie, holds the limit with a chance of s. `settles`
    adds these chances up, so answers in candela, kelvin, hours and millimetres count alike. The range is what is
    likely; a verdict that only the outer range leaves open is open once in twenty times (UNLIKELY).
    Source
    ------
    Truth taken as equally likely at any factor between the ends of what is likely (project rule); what the ends of
    the range cut off, and a second limit in it, are left out.
    """
    by_question: dict[str, list[Narrowed]] = {}
    for one in narrowed:
        touched = max(one.stops, one.outer_stops) > LEAST_GAIN_STOPS
        if touched and (one.answer.undecided or not open_in[one.answer.question]):
            by_question.setdefault(one.answer.question, []).append(one)
    return tuple(_gain_in(question, by_question[question]) for question in QUESTIONS if question in by_question)


def _gain_in(question: str, touched: list[Narrowed]) -> Gain:
    most = max(touched, key=lambda one: (one.stops, one.outer_stops))
    undecided = [one for one in touched if one.answer.undecided]
    return Gain(
        question=question, stops=sum(one.stops * one.lamps for one in touched),
        touched=sum(one.lamps for one in touched), undecided=sum(one.lamps for one in undecided),
        settles=sum(one.lamps * one.settles for one in undecided),
        most=most.name, before=most.answer.value, after=most.left,
        likely_before=most.answer.ranked, likely_after=most.ranked,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Direct:
    """A reading of a thing of the plan: where it goes, what is believed, what is left, and of which answers."""

    place: Place
    of: str
    now: Range
    leaves: Range
    narrows: tuple[Narrowed, ...]
    usual: tuple[tuple[str, str | float], ...] = ()


def leaves_share(method: str) -> float:
    """How far off a thing may still be once it was read, as a share."""
    return float(row_by("bench_methods", "what", method)["leaves_share"])


def narrowed(now: Range, share: float) -> Range:
    """A range's middle with the error of a method, never wider than before."""
    middle = now.typical
    return Range(max(now.low, middle * (1.0 - share)), middle, min(now.high, middle * (1.0 + share)))


def whole(name: str, answer: Answer, left: Range) -> Narrowed:
    """What is left of an answer, for all the lamps it stands for."""
    return Narrowed(name=name, answer=answer, left=left, lamps=answer.lamps)


def within(value: Range, now: Range) -> Range:
    """A range cut by what was believed."""
    low, high = max(value.low, now.low), min(value.high, now.high)
    return Range(low, min(max(value.typical, low), high), high) if low <= high else now
