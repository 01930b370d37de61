"""Plain words for the rhythm of a model's lamp: steady, flash, strobe, beacon, fade, flicker and the like."""

from __future__ import annotations

import math
import random
import re

from rushlight.errors import OutOfRange, UnknownName
from rushlight.timing.dimming import fade_levels
from rushlight.timing.rhythm import Rhythm, Step
from rushlight.timing.words import default

PLAIN_WORDS = ("steady", "flash", "strobe", "double strobe", "beacon", "alternate", "fade", "spool-up",
               "random windows", "flicker", "off")
"""The words that may begin a plain rhythm."""

_NUMBER = r"(\d+(?:\.\d+)?)"
_PERIOD = re.compile(_NUMBER + r" ?(?:s|sec|seconds?)$")
_RATE = re.compile(_NUMBER + r" ?(?:/ ?min|per min(?:ute)?|a min(?:ute)?)$")
_HERTZ = re.compile(_NUMBER + r" ?Hz$", re.IGNORECASE)
_ON = re.compile(r"[ ,]+on " + _NUMBER + r" ?s$")
_SEED = re.compile(r"[ ,]+(?:seed )?(\d+)$")


def is_plain_text(text: str) -> bool:
    """Whether the text begins with a plain word."""
    return _word_of(text) is not None


def rhythm_of_words(text: str, *, seed: int = 0) -> Rhythm:
    """Rhythm of a plain text such as `strobe 1.2 s`, `flash 60/min on 0.2 s`, `flicker seed 7`.

    Parameters
    ----------
    text : str
        A plain word, then a period in s, a rate per minute or in Hz where the word needs one.
    seed : int
        Start of random rhythms; a number in the text goes first.
    Returns
    -------
    Rhythm
        One period; `spool-up` does not repeat.
    Raises
    ------
    UnknownName
        If no plain word begins the text.
    OutOfRange
        If the time is missing or too short for the word.
    Notes
    -----
    `alternate` with `second` at its end is the partner, dark while the first is lit. `fade` is one breath,
    dark to full to dark, in steps of equal CIE lightness.
    Source
    ------
    rhythm_defaults (usual lengths of model strobes and beacons: common practice, no source).
    """
    word = _word_of(text)
    if word is None:
        raise UnknownName("rhythm", text, PLAIN_WORDS)
    rest = text[len(word):].strip(" ,")
    if word in ("steady", "off"):
        _nothing_more(word, rest)
        return Rhythm(text, 1.0, (Step(None, 1.0 if word == "steady" else 0.0, 1.0),), word)
    if word in ("random windows", "flicker"):
        found = _SEED.fullmatch(" " + rest) if rest else None
        if rest and not found:
            raise OutOfRange(word, f"'{rest}'", "nothing more, or a seed such as 'seed 7'")
        chosen = random.Random(int(found.group(1)) if found else seed)
        return _windows(text, chosen) if word == "random windows" else _flicker(text, chosen)
    return _timed(text, word, rest)


def _timed(text: str, word: str, rest: str) -> Rhythm:
    second = word == "alternate" and rest.endswith("second")
    rest = rest.removesuffix("second").strip(" ,")
    on = _ON.search(" " + rest) if word in ("flash", "strobe", "beacon") else None
    on_s = float(on.group(1)) if on else None
    period_s = _period_s(word, (" " + rest)[: on.start()].strip() if on else rest)
    steps = _steps(word, period_s, on_s)
    if second:
        steps = steps[1:] + steps[:1]
    return Rhythm(text, period_s, steps, word, _groups(word), repeats=word != "spool-up")


def _groups(word: str) -> tuple[int, ...]:
    return {"double strobe": (2,), "fade": (), "spool-up": ()}.get(word, (1,))


def _steps(word: str, period_s: float, on_s: float | None) -> tuple[Step, ...]:
    if word in ("flash", "alternate"):
        return _pulse(period_s, on_s or default("flash_share") * period_s)
    if word == "strobe":
        return _pulse(period_s, on_s or default("strobe_on_s"))
    if word == "double strobe":
        return _double(period_s)
    if word == "beacon":
        return _soft(period_s, on_s or default("beacon_on_s"))
    rise = fade_levels(int(default("fade_steps")))
    levels = rise if word == "spool-up" else rise + rise[-2::-1]
    return tuple(Step(None, level, period_s / len(levels)) for level in levels)


def _pulse(period_s: float, on_s: float) -> tuple[Step, ...]:
    return Step(None, 1.0, on_s), Step(None, 0.0, _rest_s(period_s, on_s))


def _double(period_s: float) -> tuple[Step, ...]:
    on_s, gap_s = default("strobe_on_s"), default("double_strobe_gap_s")
    rest_s = _rest_s(period_s, 2 * on_s + 2 * gap_s) + gap_s
    pulse = Step(None, 1.0, on_s)
    return pulse, Step(None, 0.0, gap_s), pulse, Step(None, 0.0, rest_s)


def _soft(period_s: float, on_s: float) -> tuple[Step, ...]:
    count = 9
    levels = [math.sin(math.pi * (k + 0.5) / count) ** 2 for k in range(count)]
    return (*(Step(None, level, on_s / count) for level in levels), Step(None, 0.0, _rest_s(period_s, on_s)))


def _rest_s(period_s: float, lit_s: float) -> float:
    if period_s <= lit_s:
        raise OutOfRange("rhythm period", f"{period_s:g} s", f"more than the {lit_s:g} s that it is lit")
    return period_s - lit_s


def _windows(text: str, chosen: random.Random) -> Rhythm:
    low_s, high_s = default("window_spell_min_s"), default("window_spell_max_s")
    share = default("window_lit_share")
    steps = tuple(
        Step(None, 1.0 if chosen.random() < share else 0.0, round(low_s + (high_s - low_s) * chosen.random(), 1))
        for _ in range(int(default("window_spells")))
    )
    return Rhythm(text, math.fsum(s.seconds for s in steps), steps, "random windows")


def _flicker(text: str, chosen: random.Random) -> Rhythm:
    low, count, step_s = default("flicker_low_level"), int(default("flicker_steps")), default("flicker_step_s")
    raw = [chosen.random() for _ in range(count)]
    smooth = [(raw[k - 1] + 2 * raw[k] + raw[(k + 1) % count]) / 4 for k in range(count)]
    steps = tuple(Step(None, round(low + (1 - low) * value, 4), step_s) for value in smooth)
    return Rhythm(text, math.fsum(s.seconds for s in steps), steps, "flicker")


def _period_s(word: str, rest: str) -> float:
    if found := _PERIOD.fullmatch(rest):
        return _positive(float(found.group(1)), rest)
    if found := _RATE.fullmatch(rest):
        return 60.0 / _positive(float(found.group(1)), rest)
    if found := _HERTZ.fullmatch(rest):
        return 1.0 / _positive(float(found.group(1)), rest)
    raise OutOfRange(f"'{word}' time", f"'{rest}'" if rest else "missing", f"such as '{word} 1.2 s' or '{word} 60/min'")


def _positive(value: float, text: str) -> float:
    if not value > 0 or not math.isfinite(value):
        raise OutOfRange("rhythm time", text, "a time or rate over 0")
    return value


def _nothing_more(word: str, rest: str) -> None:
    if rest:
        raise OutOfRange(word, f"'{rest}'", "nothing more")


def _word_of(text: str) -> str | None:
    folded = " ".join(text.split()).casefold() + " "
    return next((word for word in PLAIN_WORDS if folded.startswith(word + " ")), None)
