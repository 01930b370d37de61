"""The light list's notation of published charts, read into a rhythm."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from rushlight.errors import OutOfRange, UnknownName
from rushlight.timing import layout
from rushlight.timing.classes import class_breaches
from rushlight.timing.rhythm import Rhythm, Step
from rushlight.timing.words import colour_names, old_abbreviations

CHART_CLASSES = ("F", "Fl", "LFl", "Oc", "Iso", "Q", "VQ", "UQ", "IQ", "IVQ", "IUQ", "Mo", "FFl", "Al")
"""Class abbreviations that a text may begin with."""

_CLASS = re.compile(r"(Al|Mo|FFl|LFl|Fl|Oc|Iso|IVQ|IUQ|IQ|VQ|UQ|Q|F)(?![a-z])")
_GROUP = re.compile(r" ?\( ?([0-9A-Z+ ]+?) ?\)")
_PERIOD = re.compile(r"(?<![\d.])(?:ev(?:ery)? )?(\d+(?:\.\d+)?) ?(?:s|sec)(?![a-z])")
_IGNORED = re.compile(r"(?<![\d.])\d+(?:\.\d+)?(?:[-/]\d+)* ?[mM](?![a-z])")
_LENGTHS = re.compile(r"\b(fl|lt|ec) ?(\d+(?:\.\d+)?)(?: ?s)?(?= |,|$|\))")


@dataclass(frozen=True, slots=True)
class ChartText:
    """A chart's text in pieces: class, group, colours, period, and lengths where the list gives them."""

    text: str
    kind: str
    group: str
    long_after: bool
    alternating: bool
    colours: tuple[str, ...]
    period_s: float | None
    lengths: tuple[tuple[bool, float], ...]


def is_chart_text(text: str) -> bool:
    """Whether the text begins with a class of the light list, today's or an older one."""
    return _CLASS.match(_modern(text)) is not None


def rhythm_of_chart(text: str) -> Rhythm:
    """Rhythm of a text such as `Fl(2) W 10s`; see `character.parse_rhythm`.

    Parameters
    ----------
    text : str
        Notation of Chart 1 section P. Heights (`15m`) and ranges (`12M`) are read over.
    Returns
    -------
    Rhythm
        One period; its kind is a class of aton_characters, such as `Fl(n)`.
    Raises
    ------
    UnknownName
        If a class, colour or Morse sign is not known.
    OutOfRange
        If the period is missing or the rhythm would break its own class.
    Notes
    -----
    Several colours without `Al` are sectors: the light seen from one place keeps one colour, so steps carry none.
    Source
    ------
    IHO S-4 / Chart 1 section P; class definitions of aton_characters.
    """
    parts = chart_text(text)
    rhythm = _from_lengths(parts) if parts.lengths else _from_class(parts)
    breaches = class_breaches(rhythm)
    if breaches:
        raise OutOfRange(f"rhythm '{text}'", breaches[0].found, breaches[0].expected)
    return rhythm


def chart_text(text: str) -> ChartText:
    """The pieces of a chart's text, not yet laid out in time."""
    rest = _modern(text)
    lengths = tuple((word != "ec", float(value)) for word, value in _LENGTHS.findall(rest))
    rest = _IGNORED.sub(" ", _LENGTHS.sub(" ", rest)).replace("( )", " ")
    period = _PERIOD.search(rest)
    rest = _PERIOD.sub(" ", rest)
    kind, rest = _take_class(rest, text)
    alternating = kind == "Al"
    if alternating:
        kind, rest = _take_class(rest, text) if _CLASS.match(rest.strip()) else ("Al", rest)
    group, rest = _take_group(rest)
    long_after = bool(re.match(r" ?\+ ?LFl", rest))
    rest = re.sub(r"^ ?\+ ?LFl", "", rest)
    colours = _colours(rest, text)
    period_s = float(period.group(1)) if period else None
    if period_s is not None and not 0 < period_s <= 3600:
        raise OutOfRange(f"period of '{text}'", f"{period_s:g} s", "over 0 to 3600 s")
    return ChartText(text, kind, group, long_after, alternating, colours, period_s, lengths)


def _modern(text: str) -> str:
    spaced = re.sub(r"\.(?!\d)", " ", text)
    cleaned = " ".join(re.sub(r"(?<!\d)\.", " ", spaced).split())
    for old, new in old_abbreviations():
        cleaned = re.sub(rf"(?<![A-Za-z]){re.escape(old)}(?![a-z])", new, cleaned)
    return cleaned


def _take_class(rest: str, text: str) -> tuple[str, str]:
    found = _CLASS.match(rest.strip())
    if not found:
        raise UnknownName("light class", rest.strip() or text, CHART_CLASSES)
    return found.group(1), rest.strip()[found.end():]


def _take_group(rest: str) -> tuple[str, str]:
    found = _GROUP.match(rest)
    return (found.group(1).replace(" ", ""), rest[found.end():]) if found else ("", rest)


def _colours(rest: str, text: str) -> tuple[str, ...]:
    letters = colour_names()
    found: list[str] = []
    left = re.sub(r"[ ,()]+", " ", rest).strip()
    while left:
        letter = next((abbr for abbr in letters if left.startswith(abbr)), None)
        if letter is None:
            raise UnknownName(f"word of '{text}'", left, [*letters, "s (period)"])
        found.append(letters[letter])
        left = left[len(letter):].strip()
    return tuple(dict.fromkeys(found))


def _from_lengths(parts: ChartText) -> Rhythm:
    steps = tuple(Step(None, 1.0 if lit else 0.0, seconds) for lit, seconds in parts.lengths)
    total_s = math.fsum(step.seconds for step in steps)
    if parts.period_s is not None and abs(total_s - parts.period_s) > 0.051:
        raise OutOfRange(f"lengths of '{parts.text}'", f"{total_s:g} s together", f"the period, {parts.period_s:g} s")
    return _coloured(parts, steps, total_s)


def _from_class(parts: ChartText) -> Rhythm:
    period_s = parts.period_s
    if period_s is None and layout.needs_period(parts.kind, parts.group, parts.alternating):
        raise OutOfRange(f"period of '{parts.text}'", "missing", f"a period, such as '{parts.text} 10s'")
    if parts.alternating:
        return _alternating(parts, period_s or 0.0)
    steps = layout.lay_out(parts.kind, parts.group, period_s, long_after=parts.long_after)
    return _coloured(parts, steps, math.fsum(step.seconds for step in steps))


def _alternating(parts: ChartText, period_s: float) -> Rhythm:
    if len(parts.colours) < 2:
        raise OutOfRange(f"colours of '{parts.text}'", len(parts.colours), "two or more, such as 'Al WR 10s'")
    share_s = period_s / len(parts.colours)
    kind = {"Al": "F", "Oc": "Al Oc"}.get(parts.kind, parts.kind)
    if parts.group:
        steps = layout.lay_out(kind, parts.group, period_s, long_after=parts.long_after)
        turn = iter(range(len(steps)))
        painted = tuple(
            replace(s, colour=parts.colours[next(turn) % len(parts.colours)]) if s.level == 1.0 else s for s in steps
        )
        return Rhythm(parts.text, period_s, painted, "Al", _groups(parts), parts.colours)
    painted = tuple(
        replace(step, colour=colour if step.level > 0 else None)
        for colour in parts.colours
        for step in layout.lay_out(kind, "", share_s)
    )
    return Rhythm(parts.text, period_s, painted, "Al", _groups(parts), parts.colours)


def _coloured(parts: ChartText, steps: tuple[Step, ...], period_s: float) -> Rhythm:
    own = parts.colours[0] if len(parts.colours) == 1 else None
    painted = tuple(replace(s, colour=own if s.level > 0 else None) for s in steps)
    kind = "Al" if parts.alternating else layout.class_name(
        parts.kind, parts.group, long_after=parts.long_after
    )
    return Rhythm(parts.text, period_s, painted, kind, _groups(parts), parts.colours)


def _groups(parts: ChartText) -> tuple[int, ...]:
    if parts.kind == "Mo" or not parts.group:
        return (1, 1) if parts.long_after else ()
    counts = tuple(layout.counts(parts.group))
    return (*counts, 1) if parts.long_after else counts
