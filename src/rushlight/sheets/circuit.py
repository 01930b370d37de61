"""The circuit drawing, with symbols of IEC 60617, laid out by rule: supply first, then each circuit as a ladder."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Protocol

from rushlight.model.design import Design
from rushlight.model.design_loom import Circuit, Emitter
from rushlight.model.sheet import Block, Column, Drawing, Ink, Layer, Mark, Note, Polyline, Sheet, Table, Text, TextSize
from rushlight.sheets import symbols
from rushlight.sheets.amounts import compressed, resistor_text
from rushlight.sheets.circuit_makers import maker_drawings
from rushlight.sheets.circuit_supply import supply_drawing
from rushlight.sheets.place import framed, translated
from rushlight.sheets.words import shortened, wrapped
from rushlight.stages.rhythms import made_rhythms, unmade

RUNG_MM = 12.0
UNDER_MM, LINE_MM, BELOW_MM = 3.6, 3.2, 6.5
"""On a phone the words of a rung stand below it: from the rung to their first line, each line, to the next rung."""

HEAD_MM = 10.0
DRAWING_MM = 200.0
FEED_X, RESISTOR_X, LED_X, RETURN_X, NAME_X = 14.0, 34.0, 56.0, 76.0, 82.0

MOST_DRAWN = 3
"""LEDs of a string that are drawn one by one."""

NAME_LETTERS, HEAD_LETTERS = 38, 54
"""Letters of a line between feed and return, and of one over the whole width, on a phone."""

HOW = (
    "Each LED, or each string of LEDs in series, has its own resistor in its plus lead, or a regulator of constant "
    "current: a circle with a bar, its arrow towards the LED. Where several like ones "
    "stand in a circuit, one rung is drawn and its count written beside it: build that many. A circle is a terminal; "
    "terminals of one name are joined. Where something makes a circuit's rhythm, it stands between the switch and the "
    "circuit's feed, in a drawing of its own: without it the lamps burn steadily."
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """Supply and switch, then every circuit."""
    table = circuit_table(design)
    listed = (table,) if table.rows else ()
    blocks: tuple[Block, ...] = (Note(HOW), supply_drawing(design), *maker_drawings(design), *listed,
                                 *circuit_drawings(design))
    return (Sheet("circuit", "Circuit", blocks),)


def circuit_table(design: Design) -> Table:
    """Every circuit: its leads' colour, when and how it is lit, what hangs on it."""
    columns = (
        Column("circuit", "Circuit"), Column("colour", "Plus leads"), Column("states", "Lit in", wide=True),
        Column("rhythm", "Rhythm"), Column("emitters", "LEDs and strips", wide=True),
        Column("lamps", "Lamps", align="right", decimals=0),
    )
    rows = tuple(
        (row.name, compressed(dict.fromkeys(lead.colour for lead in design.loom.leads if lead.circuit == row.name)),
         ", ".join(state.name for state in design.plan.states if state.name in row.states), row.rhythm,
         compressed(emitter.name for emitter in design.loom.emitters if emitter.circuit == row.name), len(row.lamps))
        for row in design.circuits
    )
    still = [row.name for row in unmade(made_rhythms(design.plan, design.circuits, design.loom))]
    rhythm = f" Nothing makes the rhythm of {', '.join(still)} yet; without it they burn steadily."
    return Table("circuits", "Circuits", columns, rows, f"The return is one for all.{rhythm if still else ''}")


# --- circuits -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Rung:
    """Like emitters of one circuit, drawn once."""

    emitters: tuple[Emitter, ...]
    ohm: float | None
    in_series: int = 1
    regulator: str = ""
    """What its constant-current regulators give, in words."""
    """LEDs in one string; the emitters then stand string after string."""
    resistor: str = ""
    """The resistor in words, of one or of two; empty without one."""

    @property
    def branches(self) -> int:
        """How many of them hang in parallel: segments of a strip count each."""
        return sum(max(row.segments, 1) for row in self.emitters) // self.in_series


def rungs_of(design: Design, circuit: Circuit) -> tuple[Rung, ...]:
    """The circuit's emitters, like ones together, in the loom's order."""
    found: dict[tuple[str, str, float | None, int, str, str], list[Emitter]] = {}
    for row in design.loom.emitters:
        if row.circuit == circuit.name and not design.loom.beyond(row.name):
            resistor = design.power.resistor(row.name)
            string = design.loom.string_of(row.name)
            members = [design.loom.emitter(name) for name in string.emitters] if string else [row]
            regulated = _regulated(design, row)
            key = (row.kind, row.part_row, resistor.value_ohm if resistor else None, len(members), regulated,
                   resistor_text(resistor) if resistor else "")
            found.setdefault(key, []).extend(members)
    return tuple(Rung(tuple(rows), ohm, count, regulated, words)
                 for (_, _, ohm, count, regulated, words), rows in found.items())


def _regulated(design: Design, emitter: Emitter) -> str:
    """'20 mA', '2 x 10 mA'; nothing where no regulator stands in its plus lead."""
    row = design.power.regulator(emitter.name)
    if row is None:
        return ""
    each = f"{1000 * row.current_a.typical / row.count:g} mA"
    return each if row.count == 1 else f"{row.count} x {each}"


def circuit_drawings(design: Design) -> tuple[Drawing, ...]:
    """Circuits stacked while they fit a page."""
    pages: list[list[tuple[Circuit, Sequence[Rung]]]] = [[]]
    used = 0.0
    for circuit in design.circuits:
        rungs = rungs_of(design, circuit)
        for start in range(0, len(rungs), _MOST_RUNGS):
            piece = rungs[start:start + _MOST_RUNGS]
            height = HEAD_MM + RUNG_MM * len(piece)
            if pages[-1] and used + height > DRAWING_MM:
                pages.append([])
                used = 0.0
            pages[-1].append((circuit, piece))
            used += height
    return tuple(_page(number, rows) for number, rows in enumerate(pages, start=1) if rows)


_MOST_RUNGS = int((DRAWING_MM - HEAD_MM) / RUNG_MM)


def _page(number: int, rows: Sequence[tuple[Circuit, Sequence[Rung]]]) -> Drawing:
    """Ladders below each other; on a phone the words of a rung stand below it."""
    names = [circuit.name for circuit, _ in rows]
    title = f"Circuits {names[0]} to {names[-1]}" if len(names) > 1 else f"Circuit {names[0]}"

    def drawn(told: Told, narrow: Drawing | None) -> Drawing:
        marks: list[Mark] = []
        y = 0.0
        for circuit, rungs in rows:
            marks += translated(_ladder(circuit, rungs, told), 0.0, y)
            y -= told.head_mm(circuit) + sum(map(told.rung_mm, rungs))
        return replace(framed((Layer("symbols", tuple(marks)),), key=f"circuit-{number}", title=title, scale=None),
                       narrow=narrow)

    return drawn(Beside(), drawn(Below(), None))


def _ladder(circuit: Circuit, rungs: Sequence[Rung], told: Told) -> list[Mark]:
    """Feed on the left, return on the right, a rung for each kind of emitter."""
    first = -told.head_mm(circuit)
    heights = list(accumulate((-told.rung_mm(rung) for rung in rungs[:-1]), initial=first))
    last = heights[-1]
    marks: list[Mark] = [
        *told.head(circuit), *symbols.terminal((0.0, first)),
        Text((0.0, first - 3.0), circuit.name, size=2, anchor="c"),
        symbols.wire((0.8, first), (FEED_X, first)), symbols.wire((FEED_X, first), (FEED_X, last)),
        symbols.wire((RETURN_X, first), (RETURN_X, last)), symbols.wire((RETURN_X, last), (RETURN_X, last - 3.5)),
        *symbols.terminal((RETURN_X, last - 4.3)), Text((RETURN_X + 2.0, last - 4.3), "return", size=1, anchor="w"),
    ]
    for rung, y in zip(rungs, heights, strict=True):
        marks += [*_rung(rung, y), *told.words(rung, y)]
    return [*marks, *_joints(heights)]


def _joints(heights: Sequence[float]) -> list[Mark]:
    """Dots where three wires meet: not at the ladder's corners."""
    feeds, returns = ((FEED_X, y) for y in heights[:-1]), ((RETURN_X, y) for y in heights[1:])
    return [mark for at in (*feeds, *returns) for mark in symbols.junction(at)]


class Told(Protocol):
    """Where the words of circuits and rungs stand, and how much height they take."""

    def head_mm(self, circuit: Circuit) -> float:
        """From the top of a circuit to its first rung."""

    def head(self, circuit: Circuit) -> list[Mark]:
        """The circuit's own words, below (0, 0)."""

    def rung_mm(self, rung: Rung) -> float:
        """From one rung to the next."""

    def words(self, rung: Rung, y: float) -> list[Mark]:
        """What is said of a rung at this height."""


class Beside:
    """In the book: names at the right of the return."""

    def head_mm(self, circuit: Circuit) -> float:
        """As high for every circuit."""
        return HEAD_MM

    def head(self, circuit: Circuit) -> list[Mark]:
        """One line."""
        return [Text((0.0, -3.5), shortened(_head(circuit), 96), size=2, anchor="sw", bold=True)]

    def rung_mm(self, rung: Rung) -> float:
        """As high for every rung."""
        return RUNG_MM

    def words(self, rung: Rung, y: float) -> list[Mark]:
        """A line above the rung's height and a line below it."""
        names = _times(rung) + shortened(_names(rung), 60)
        return [Text((NAME_X, y + 0.6), names, size=2, anchor="sw", bold=rung.branches > 1),
                Text((NAME_X, y - 0.6), shortened(_kind_of(rung), 60), size=1, anchor="nw")]


class Below:
    """On a phone: names between feed and return, under the rung, in as many lines as they take."""

    def head_mm(self, circuit: Circuit) -> float:
        """Higher by each further line."""
        return HEAD_MM + LINE_MM * (len(wrapped(_head(circuit), HEAD_LETTERS)) - 1)

    def head(self, circuit: Circuit) -> list[Mark]:
        """All of it."""
        return [Text((0.0, -3.5 - LINE_MM * k), line, size=2, anchor="sw", bold=True)
                for k, line in enumerate(wrapped(_head(circuit), HEAD_LETTERS))]

    def rung_mm(self, rung: Rung) -> float:
        """Room for its lines and for the next rung's resistor."""
        return UNDER_MM + LINE_MM * len(self._lines(rung)) + BELOW_MM

    def words(self, rung: Rung, y: float) -> list[Mark]:
        """Names, then the kind in smaller letters."""
        return [Text((FEED_X + 3.0, y - UNDER_MM - LINE_MM * k), line, size, "nw", bold=bold)
                for k, (line, size, bold) in enumerate(self._lines(rung))]

    def _lines(self, rung: Rung) -> list[tuple[str, TextSize, bool]]:
        names = wrapped(_times(rung) + _names(rung), NAME_LETTERS)
        return [*((line, 2, rung.branches > 1) for line in names),
                *((line, 1, False) for line in wrapped(_kind_of(rung), NAME_LETTERS * 5 // 4))]


def _head(circuit: Circuit) -> str:
    rhythm = "" if circuit.rhythm == "steady" else f", {circuit.rhythm}"
    return f"Circuit {circuit.name}{rhythm}: {', '.join(circuit.states)}"


def _times(rung: Rung) -> str:
    return f"{rung.branches} x  " if rung.branches > 1 else ""


def _kind_of(rung: Rung) -> str:
    first = rung.emitters[0]
    unit = " (one for each cut length)" if first.kind == "strip" else ""
    return first.part_row + (f", {rung.in_series} in series" if rung.in_series > 1 else unit)


def _rung(rung: Rung, y: float) -> list[Mark]:
    first = rung.emitters[0]
    marks: list[Mark] = []
    if rung.regulator:
        marks += [symbols.wire((FEED_X, y), (RESISTOR_X - symbols.REACH_MM, y)),
                  *symbols.regulator((RESISTOR_X, y), label=rung.regulator),
                  symbols.wire((RESISTOR_X + symbols.REACH_MM, y), (LED_X - 16.0, y))]
    elif rung.ohm is None:
        marks.append(symbols.wire((FEED_X, y), (LED_X - 16.0, y)))
    else:
        marks += [symbols.wire((FEED_X, y), (RESISTOR_X - symbols.REACH_MM, y)),
                  *symbols.resistor((RESISTOR_X, y), label=rung.resistor),
                  symbols.wire((RESISTOR_X + symbols.REACH_MM, y), (LED_X - 16.0, y))]
    return [*marks, *(_string(rung.in_series, y) if rung.in_series > 1 else _alone(first, y))]


def _names(rung: Rung) -> str:
    """Names of a rung's emitters; those of a string in their order from plus to return."""
    if rung.in_series == 1:
        return compressed(row.name for row in rung.emitters)
    names = [row.name for row in rung.emitters]
    pieces = (names[at:at + rung.in_series] for at in range(0, len(names), rung.in_series))
    return "; ".join(" - ".join(piece) for piece in pieces)


def _string(count: int, y: float) -> list[Mark]:
    """LEDs in series: up to three whole, of more the first and the last with a dotted wire between."""
    places = _places(count)
    ends = [symbols.wire((LED_X - 16.0, y), (places[0] - symbols.REACH_MM, y)),
            symbols.wire((places[-1] + symbols.REACH_MM, y), (RETURN_X, y))]
    leds = [mark for x in places for mark in symbols.led((x, y))]
    if count <= len(places):
        return [*ends, *leds]
    gap = Polyline(((places[0] + symbols.REACH_MM, y), (places[1] - symbols.REACH_MM, y)), Ink("detail", "dotted"))
    words = Text(((places[0] + places[1]) / 2, y - 2.4), f"{count} in series", size=1, anchor="n")
    return [*ends, *leds, gap, words]


def _places(count: int) -> list[float]:
    """Where the LEDs of a string stand, from the resistor to the return."""
    pitch = 2 * symbols.REACH_MM
    if count > MOST_DRAWN:
        return [LED_X - 10.0, LED_X + 14.0]
    return [LED_X + 2.0 + pitch * (k - (count - 1) / 2) for k in range(count)]


def _alone(emitter: Emitter, y: float) -> list[Mark]:
    """One LED or strip between its resistor and the return."""
    return [symbols.wire((LED_X - 16.0, y), (LED_X - symbols.REACH_MM, y)), *_load(emitter, y),
            symbols.wire((LED_X + symbols.REACH_MM, y), (RETURN_X, y))]


def _load(emitter: Emitter, y: float) -> list[Mark]:
    if emitter.kind != "strip":
        return list(symbols.led((LED_X, y)))
    ends = (symbols.wire((LED_X - 6.0, y), (LED_X - 5.0, y)), symbols.wire((LED_X + 5.0, y), (LED_X + 6.0, y)))
    return [*symbols.block((LED_X, y), 10.0, 5.0, "strip"), *ends]
