"""The described evening drawn: the supply's voltage and current over the states, and what happens on the way."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from rushlight.model.design import Design
from rushlight.model.design_evening import Evening, EveningMark, EveningPoint
from rushlight.model.sheet import (
    DETAIL,
    PHONE_WIDTH_MM,
    TEXT_SIZES_MM,
    THIN,
    Block,
    Column,
    Drawing,
    Ink,
    Layer,
    Mark,
    Polyline,
    Table,
    Text,
)
from rushlight.sheets.amounts import amount, compressed, run_words
from rushlight.sheets.place import text_box_mm
from rushlight.sheets.words import shortened
from rushlight.stages.evening import group_of
from rushlight.timing.dimming import lightness

WIDTH_MM = 174.0
LEFT_MM, RIGHT_MM = 15.0, 171.0
FOOT_MM = 9.5
LIGHT_MM = (FOOT_MM, 32.5)
AMPS_MM = (38.5, 61.5)
VOLTS_MM = (67.5, 105.0)
NAMES_MM = 107.0
STANDING_MM, LYING_MM = 24.0, 3.6

CURVE = Ink("edge", "solid", "accent")
FADED = Ink("detail", "dashed", "accent")
SEEN = (0.0, 105.0)
"""Lightness that the panel of light holds [%]."""

BAND = Ink("dimension", fill="pale")
RIBBON_MM = 1.4
MOST_LINES = 12
"""More stretches than this have no lines of their own across the panels."""

MOST_MARKS = 14
FLAG_MM = 3.2
FLAG = Ink("detail", "dashed")

SAYS = {
    "half": "under half of the light that they had at first",
    "uneven": "further apart than lamps that should match",
    "out": "as good as out",
    "sleeps": "the power bank may switch itself off",
    "spent": "the supply is spent",
}


def evening_blocks(design: Design) -> tuple[Block, ...]:
    """The evening's table and chart, the supply's whole life, and what happens to which lamps when.

    Returns
    -------
    tuple of Block
        Nothing where no evening is described or nothing is lit.
    """
    evening = design.power.evening
    if evening is None:
        return ()
    marks = evening.marks
    blocks: list[Block] = [stages_table(evening), _chart(evening.points, marks, "evening", "One evening", CAPTION)]
    if evening.whole and evening.evenings.typical > 1.05:
        title = "Evening after evening, until the supply is spent"
        blocks.append(_chart(evening.whole, marks, "evenings", title, LIFE))
    return (*blocks, marks_table(evening), *([faded_table(design)] if math.isfinite(evening.ends_h.typical) else []))


LOOKS = (
    "At the foot how bright the lamps look beside themselves on a fresh supply, as the eye sees it (CIE lightness: "
    "half the light looks like 76 %, a twentieth like 27 %): the line all together, dashed the one that fades most."
)
CAPTION = ("Voltage at the supply and current while lit, with a fresh supply at the beginning. "
           f"{LOOKS} Typical LEDs and cells.")
FADES_CAPTION = (
    "What is left of the light that a fresh supply gives, where each is last lit in one evening and before the supply "
    "is spent; of a row its dimmest. Typical LEDs and cells. Blue, green and white LEDs want most volts "
    "and lose current first. Far below its rated current an LED loses light faster than current, a red to yellow one "
    "sooner."
)
LIFE = f"{LOOKS} Hours of running. Rest, cold and self-discharge are left out; other cells hold a quarter more or less."


def stages_table(evening: Evening) -> Table:
    """The evening in its order, with what the supply shows at both ends of each stretch."""
    columns = (
        Column("state", "State"), Column("from_min", "From", "min", "right", 0),
        Column("to_min", "To", "min", "right", 0), Column("volts_first", "Supply then", "V", "right", 2),
        Column("volts_last", "Supply at its end", "V", "right", 2),
        Column("current_ma", "Current at its end", "mA", "right", 0),
    )
    rows, at_h = [], 0.0
    for (state, hours), own in zip(evening.stages, _spells(evening), strict=False):
        first, last = own[0], own[-1]
        rows.append((state, 60 * at_h, 60 * (at_h + hours), first.terminal_v, last.terminal_v, 1000 * last.current_a))
        at_h += hours
    return Table("evening", "The evening", columns, tuple(rows), _lasts(evening))


def _spells(evening: Evening) -> list[list[EveningPoint]]:
    """The first evening's points, cut where one stretch ends and the next begins at the same moment."""
    found: list[list[EveningPoint]] = []
    for point in evening.points:
        if not found or (found[-1] and point.hour_h == found[-1][-1].hour_h and point.state != found[-1][-1].state):
            found.append([])
        found[-1].append(point)
    return found


def _lasts(evening: Evening) -> str:
    if not math.isfinite(evening.ends_h.typical):
        return "The supply does not run down."
    times = evening.evenings
    many = "" if times.high < 1 else f", that is {_number(times.low)} to {_number(times.high)} such evenings"
    return f"One charge runs {run_words(evening.ends_h)}{many}."


def _number(value: float) -> str:
    return f"{value:.1f}" if value < 10 else f"{value:.0f}"


def marks_table(evening: Evening) -> Table:
    """What happens while the supply runs down, the earliest first."""
    columns = (
        Column("number", "No.", align="right", decimals=0), Column("typical", "After", "h", "right"),
        Column("after", "May be", "h", "right"), Column("evening", "In evening", align="right", decimals=0),
        Column("state", "State"), Column("what", "What happens", wide=True), Column("lamps", "To", wide=True),
    )
    rows = tuple(_mark_row(number, mark, evening.hours) for number, mark in enumerate(evening.marks[:MOST_MARKS], 1))
    caption = ("Hours of running from a fresh supply, with typical parts and over the range of cells and LEDs. The "
               "numbers stand in the charts.")
    return Table("evening-marks", "While the supply runs down", columns, rows, caption if rows else "Nothing changes.")


def _mark_row(number: int, mark: EveningMark, hours: float) -> tuple[str | float | None, ...]:
    low, high = mark.at_h.low, mark.at_h.high
    after = f"{amount(low)} or later" if not math.isfinite(high) else (
        amount(low) if low == high else f"{amount(low)} to {amount(high)}")
    evening = int(max(mark.at_h.typical - 1e-9, 0.0) / hours) + 1
    lamps = compressed(mark.lamps) if mark.lamps else "all"
    return (number, amount(mark.at_h.typical), after, evening, mark.state, SAYS[mark.kind], lamps)


def faded_table(design: Design) -> Table:
    """Which lamps fade first: what is left of each one's light, those of one LED that fade alike in one line."""
    columns = (
        Column("lamps", "Lamps", wide=True), Column("leds", "LED or strip", wide=True),
        Column("kept_percent", "After one evening", "%", "right", 0),
        Column("last_percent", "Before it is spent", "%", "right", 0),
    )
    evening, rows = design.power.evening, [row.name for row in design.plan.rows]
    parts: dict[str, list[str]] = {}
    for emitter in design.loom.emitters:
        for lamp in emitter.lamps:
            parts.setdefault(group_of(rows, lamp), []).append(emitter.part_row)
    found: dict[tuple[str, int, int], list[str]] = {}
    for row in evening.faded if evening else ():
        leds = ", ".join(dict.fromkeys(parts[row.group]))
        found.setdefault((leds, round(100 * row.kept_share), round(100 * row.last_share)), []).append(row.group)
    return Table("evening-fades", "Which lamps fade first", columns,
                 tuple((compressed(names), leds, kept, last) for (leds, kept, last), names in found.items()),
                 FADES_CAPTION)


# --- the chart ----------------------------------------------------------------------------------------------------


def _chart(
    points: Sequence[EveningPoint], happens: Sequence[EveningMark], key: str, title: str, caption: str
) -> Drawing:
    """Panels over one axis of hours: volts, milliamperes, how bright it looks; states as bands, their names on top."""
    longest = max(point.hour_h for point in points) or 1.0
    volts, amps = [point.terminal_v for point in points], [1000 * point.current_a for point in points]
    low_v, high_v = _span(volts)
    most_ma = max(amps) or 1.0
    hours = [point.hour_h for point in points]

    def drawn(right: float) -> list[Mark]:
        marks: list[Mark] = [*bands(_stretches(points), longest, (FOOT_MM, VOLTS_MM[1]), right_mm=right),
                             *axis(longest, right_mm=right), *panel(VOLTS_MM, low_v, high_v, "V", right_mm=right),
                             *panel(AMPS_MM, 0.0, most_ma, "mA", right_mm=right),
                             *panel(LIGHT_MM, *SEEN, "%", right_mm=right)]
        marks += [line(hours, volts, longest, VOLTS_MM, span=(low_v, high_v), right_mm=right),
                  line(hours, amps, longest, AMPS_MM, span=(0.0, most_ma), right_mm=right)]
        for shares, ink in (([point.least_share for point in points], FADED),
                            ([point.light_share for point in points], CURVE)):
            seen = [_looks(share) for share in shares]
            marks.append(line(hours, seen, longest, LIGHT_MM, span=SEEN, ink=ink, right_mm=right))
        return [*marks, *_flags(happens, longest, right_mm=right)]

    return framed_chart(key, title, caption, drawn, NAMES_MM)


def _looks(share: float) -> float:
    """How bright a share of the fresh light looks beside it [%]."""
    return lightness(min(max(share, 0.0), 1.0))


def _flags(happens: Sequence[EveningMark], longest: float, *, right_mm: float = RIGHT_MM) -> list[Mark]:
    """A line with the number of its row where something happens; numbers that would touch stand lower."""
    found: list[Mark] = []
    placed: list[tuple[float, float]] = []
    for number, mark in enumerate(happens[:MOST_MARKS], 1):
        if mark.at_h.typical > longest * (1 + 1e-9):
            continue
        x, y = _x(min(mark.at_h.typical, longest), longest, right_mm), VOLTS_MM[1] - 1.0
        while any(abs(x - other) < FLAG_MM and abs(y - height) < FLAG_MM for other, height in placed):
            y -= FLAG_MM
        placed.append((x, y))
        found.append(Polyline(((x, FOOT_MM), (x, VOLTS_MM[1])), FLAG))
        found.append(Text((x - 0.6, y), f"{number}", 2, "ne", bold=True))
    return found


def framed_chart(
    key: str, title: str, caption: str, drawn: Callable[[float], list[Mark]], names_mm: float
) -> Drawing:
    """A chart whose names of states begin at a height, standing ones need more room; and the same for a phone.

    `drawn` has its marks, given where its panels end on the right [mm].
    """
    def framed(right: float, narrow: Drawing | None) -> Drawing:
        marks = drawn(right)
        standing = any(isinstance(mark, Text) and mark.angle_deg for mark in marks)
        height = names_mm + (STANDING_MM if standing else LYING_MM)
        return Drawing(key, title, WIDTH_MM + right - RIGHT_MM, height, (Layer("symbols", tuple(marks)),), scale=None,
                       caption=caption, narrow=narrow)

    return framed(RIGHT_MM, framed(RIGHT_MM + PHONE_WIDTH_MM - WIDTH_MM, None))


def _span(values: Sequence[float]) -> tuple[float, float]:
    """Volts from a little under the least to the most, never so narrow that nothing looks like a fall."""
    low, high = min(values), max(values)
    room = max(high - low, 0.1 * high, 0.1)
    return high - room - 0.05 * room, high + 0.05 * room


def _x(hour: float, longest: float, right_mm: float) -> float:
    return LEFT_MM + (right_mm - LEFT_MM) * hour / longest


def line(
    hours: Sequence[float], values: Sequence[float], longest_h: float, panel_mm: tuple[float, float], *,
    span: tuple[float, float], ink: Ink = CURVE, right_mm: float = RIGHT_MM,
) -> Polyline:
    """A curve in a panel."""
    low, high = span
    wide = high - low or 1.0
    return Polyline(tuple(
        (_x(hour, longest_h, right_mm), panel_mm[0] + (panel_mm[1] - panel_mm[0]) * (value - low) / wide)
        for hour, value in zip(hours, values, strict=True)
    ), ink)


def _stretches(points: Sequence[EveningPoint]) -> list[tuple[str, float, float]]:
    own = [list(group) for _, group in groupby(points, key=lambda point: point.state)]
    return [(some[0].state, some[0].hour_h, some[-1].hour_h) for some in own]


def bands(
    stretches: Sequence[tuple[str, float, float]], longest_h: float, height_mm: tuple[float, float], *,
    right_mm: float = RIGHT_MM,
) -> Iterator[Mark]:
    """A ribbon of stretches (state, from, to), a line where one of a few ends, names over those wide enough."""
    low, high = height_mm
    for number, (state, first_h, last_h) in enumerate(stretches):
        left, right = _x(first_h, longest_h, right_mm), _x(last_h, longest_h, right_mm)
        ribbon = ((left, high), (right, high), (right, high + RIBBON_MM), (left, high + RIBBON_MM))
        yield Polyline(ribbon, BAND if number % 2 else THIN, closed=True)
        if number + 1 < len(stretches) <= MOST_LINES:
            yield Polyline(((right, low), (right, high)), Ink("detail", "dotted"))
        if right - left > 3.0:
            yield _name(state, left, right, high + 2.0)


def _name(state: str, left: float, right: float, at_mm: float) -> Text:
    """Lying where it fits, else standing."""
    word = shortened(state, 24)
    middle = (left + right) / 2
    if text_box_mm(word, TEXT_SIZES_MM[2])[0] < right - left - 1.0:
        return Text((middle, at_mm), word, 2, "s")
    return Text((middle + 1.0, at_mm), shortened(state, 16), 2, "sw", angle_deg=90.0)


def axis(longest: float, *, right_mm: float = RIGHT_MM) -> Iterator[Mark]:
    """Hours below the panels, or minutes where it is short."""
    most = max(3, round(10 * (right_mm - LEFT_MM) / (RIGHT_MM - LEFT_MM)))
    step = nice_step(longest, most)
    minutes = longest <= 3.0
    if minutes:
        step = nice_step(longest * 60, most) / 60
    for n in range(int(longest / step + 1e-6) + 1):
        x = _x(n * step, longest, right_mm)
        yield Polyline(((x, FOOT_MM), (x, FOOT_MM - 1.2)), THIN)
        yield Text((x, FOOT_MM - 1.8), f"{n * step * (60 if minutes else 1):g}", 2, "n")
    yield Text(((LEFT_MM + right_mm) / 2, 0.2), "minutes" if minutes else "hours", 2, "s")


def panel(
    height_mm: tuple[float, float], low: float, high: float, unit: str, *, right_mm: float = RIGHT_MM
) -> Iterator[Mark]:
    """A frame with lines at round values."""
    bottom, top = height_mm
    corners = ((LEFT_MM, bottom), (right_mm, bottom), (right_mm, top), (LEFT_MM, top))
    yield Polyline(corners, DETAIL, closed=True)
    step = nice_step(high - low, 5)
    first = math.ceil(low / step - 1e-9)
    for n in range(first, int(high / step + 1e-9) + 1):
        y = bottom + (top - bottom) * (n * step - low) / ((high - low) or 1.0)
        yield Polyline(((LEFT_MM, y), (right_mm, y)), Ink("dimension", "dotted"))
        yield Text((LEFT_MM - 1.0, y), f"{n * step:.6g}", 2, "e")
    yield Text((0.5, top), unit, 3, "nw", bold=True)


def nice_step(span: float, most: int) -> float:
    """The least of 1, 2, 5 times a power of ten that parts a span into no more than so many steps."""
    power = 10.0 ** math.floor(math.log10(span / most))
    return next(step * power for step in (1, 2, 5, 10) if step * power * most >= span * (1 - 1e-9))
