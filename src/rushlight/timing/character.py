"""From text to rhythm: the light list's notation first, then plain words for models."""

from __future__ import annotations

from functools import lru_cache

from rushlight.errors import UnknownName
from rushlight.timing.chart_notation import CHART_CLASSES, is_chart_text, rhythm_of_chart
from rushlight.timing.classes import class_breaches, class_rows, obeys_class
from rushlight.timing.plain_words import PLAIN_WORDS, is_plain_text, rhythm_of_words
from rushlight.timing.rhythm import Rhythm, Step, steps_from_text

__all__ = [
    "Rhythm", "Step", "class_breaches", "class_rows", "obeys_class", "parse_rhythm", "rhythm_of_steps",
]


def parse_rhythm(text: str, *, seed: int = 0) -> Rhythm:
    """Rhythm of a lamp from a light list's notation or from plain words.

    Parameters
    ----------
    text : str
        For instance `Fl(2) W 10s`, `VQ(6)+LFl W 10s`, `Mo(A) 8s`, `Fl W 5s (fl 0.5 ec 4.5)`, `steady`,
        `flash 60/min`, `double strobe 1.2 s`, `fade 3 s`, `random windows`, `steps W:0.5;-:4.5`.
    seed : int
        Start of the random rhythms (`random windows`, `flicker`); a number in the text goes first.
    Returns
    -------
    Rhythm
        One period of steps; times in s.
    Raises
    ------
    UnknownName
        If the first word is no class and no plain word; the nearest is named.
    OutOfRange
        If a period is missing, or too short for what the class asks.
    Notes
    -----
    A chart gives no length of a single flash; usual lengths (`rhythm_defaults`) are then taken and shortened
    in proportion where the period asks for it. Give `fl` and `ec` lengths where the light list does.
    Source
    ------
    IHO S-4 / Chart 1 section P for the notation; rhythm_defaults for usual lengths.
    Examples
    --------
    >>> parse_rhythm("Iso 10s").on_share
    0.5
    """
    return _parsed(" ".join(text.split()), seed)


@lru_cache(maxsize=1024)
def _parsed(cleaned: str, seed: int) -> Rhythm:
    """A plan writes few rhythms for many lamps, so each is read once."""
    if cleaned.casefold().startswith("steps "):
        return rhythm_of_steps(cleaned[6:], text=cleaned)
    if is_plain_text(cleaned):
        return rhythm_of_words(cleaned, seed=seed)
    if is_chart_text(cleaned):
        return rhythm_of_chart(cleaned)
    raise UnknownName("rhythm", cleaned, [*CHART_CLASSES, *PLAIN_WORDS, "steps"])


def rhythm_of_steps(steps_text: str, *, text: str = "") -> Rhythm:
    """Rhythm of the steps as written, `W:0.5;-:4.5`; its period is their sum [s]."""
    steps = steps_from_text(steps_text)
    colours = tuple(dict.fromkeys(step.colour for step in steps if step.colour))
    return Rhythm(text or steps_text, sum(step.seconds for step in steps), steps, "steps", colours=colours)
