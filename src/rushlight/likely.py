"""The likely range inside an outer one: guesses that know nothing of each other rarely all err to one side.

A range of the program runs from all guesses at their low ends to all at their high ends. What is built lies inside that
for certain, as far as the guesses themselves hold; about nineteen times in twenty it lies in the likely range.

Each guess is taken as equally likely at any factor between its ends (GUM 4.3.7: nothing more is known of it), in the
logarithm because light is a product of its factors (GUM 5.1.6). Its typical value is what is expected of it, also where
that is not the middle (GUM 4.3.8). Factors that hang together, such as two ends of a fibre cut by the same hand, are
one guess: they add up linearly (GUM 5.2.2, note 1); all others add by their squares (GUM 5.1.2).

Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement (GUM).
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from rushlight.units import Range

COVERAGE_FACTOR = 2.0
"""Standard uncertainties to each side: about 19 in 20 (GUM 6.3.3; a factor of 2 is usual and near 95 %, G.6.6)."""

Guesses = tuple[tuple[str, float], ...]
"""Names of guesses, with the natural logarithm of the most over the least that each alone makes of an answer [-]."""


def ln_apart(value: Range) -> float:
    """How far a guess's ends are apart.

    Parameters
    ----------
    value : Range
        A guess, or an answer while only one guess is at its ends, 0 or more.
    Returns
    -------
    float
        Natural logarithm of high over low [-]; 0 for what is nothing at all, infinite from nothing to something.
    Source
    ------
    Definition of the logarithm.
    """
    if value.high <= 0.0 or value.low == value.high:
        return 0.0
    return math.log(value.high / value.low) if value.low > 0.0 else math.inf


def known_apart(guesses: Iterable[tuple[str, Range]]) -> Guesses:
    """Guesses by name from what each makes of an answer; what bears one name is one guess and adds up linearly.

    Parameters
    ----------
    guesses : iterable of (str, Range)
        Name and factor on the answer. What is known exactly is left out.
    Returns
    -------
    Guesses
        In the order in which they come.
    Source
    ------
    GUM 5.2.2, note 1.
    """
    return joined(tuple((name, ln_apart(value)) for name, value in guesses))


def joined(*several: Guesses) -> Guesses:
    """The guesses of a product of several factors; what bears one name is one guess and adds up linearly.

    Parameters
    ----------
    several : Guesses
        Of each factor.
    Returns
    -------
    Guesses
        Without those that do nothing.
    Source
    ------
    GUM 5.2.2, note 1.
    """
    found: dict[str, float] = {}
    for guesses in several:
        for name, value in guesses:
            if value > 0.0:
                found[name] = found.get(name, 0.0) + value
    return tuple(found.items())


def summed(parts: Iterable[tuple[float, Guesses]]) -> Guesses:
    """The guesses of a sum; what bears one name moves all parts together, the others in the middle.

    Parameters
    ----------
    parts : iterable of (float, Guesses)
        Typical value of each part, 0 or more, and what it hangs on.
    Returns
    -------
    Guesses
        Of the sum: each guess with the typical value of each part in the middle of what it does to it.
    Source
    ------
    GUM 5.1.4, note 2: the change of the answer while one guess goes to its ends; 5.2.2, note 1.
    """
    own = [(value, dict(guesses)) for value, guesses in parts if value > 0.0]
    whole = math.fsum(value for value, _ in own)
    moved: dict[str, list[float]] = {}
    for value, guesses in own:
        for name, wide in guesses.items():
            ends = moved.setdefault(name, [whole, whole])
            up = math.exp(min(wide, 1400.0) / 2.0)
            ends[0] += value / up - value
            ends[1] += value * up - value
    return tuple((name, math.log(high / max(low, 1e-300))) for name, (low, high) in moved.items())


def guess_of(likely: Range) -> float:
    """A likely range as one guess: the width [-] of the rectangle that has its standard uncertainty.

    Source: GUM 6.2.1 and 4.3.7, solved for the width.
    """
    return ln_apart(likely) / (2.0 * COVERAGE_FACTOR) * math.sqrt(12.0)


def likely_times(guesses: Guesses) -> float:
    """How many times the typical value the likely range reaches up, and the typical value its low end.

    Parameters
    ----------
    guesses : Guesses
        That act on an answer.
    Returns
    -------
    float
        Factor [-], 1 or more; infinite where a guess leaves nothing at its low end.
    Notes
    -----
    A range of logarithms L wide has the standard uncertainty L / sqrt(12).
    Source
    ------
    GUM 4.3.7 and 4.3.8 (rectangle), 5.1.2 (squares add), 6.2.1 (k = COVERAGE_FACTOR).
    """
    half = COVERAGE_FACTOR * math.sqrt(sum(value * value for _, value in guesses) / 12.0)
    return math.exp(half) if half < 700.0 else math.inf


def likely_range(outer: Range, times: float) -> Range:
    """What is likely of an answer whose outer ends are known, never beyond them.

    Parameters
    ----------
    outer : Range
        The answer with all guesses at one side at once, 0 or more.
    times : float
        From `likely_times`.
    Returns
    -------
    Range
        Inside the outer one, with its typical value. A single guess with its typical value in the middle leaves the
        outer range: two standard uncertainties of a rectangle reach beyond its ends.
    Source
    ------
    GUM 6.2.1; that no answer lies beyond its bounds, 4.3.7.
    """
    low = outer.typical / times if math.isfinite(times) else 0.0
    high = outer.typical * times if math.isfinite(times) and outer.typical > 0.0 else outer.high
    return Range(max(outer.low, low), outer.typical, min(outer.high, high))
