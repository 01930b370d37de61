"""The circuit drawing, with symbols of IEC 60617, laid out by rule: supply first, then each circuit as a ladder."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rushlight.model.design import Circuit, Design, Emitter
from rushlight.model.sheet import Block, Drawing, Layer, Mark, Note, Point, Sheet, Text
from rushlight.sheets import symbols
from rushlight.sheets.amounts import amount, compressed, ohm_text
from rushlight.sheets.place import framed, translated
from rushlight.sheets.words import shortened

RUNG_MM = 12.0
HEAD_MM = 10.0
DRAWING_MM = 200.0
FEED_X, RESISTOR_X, LED_X, RETURN_X, NAME_X = 14.0, 34.0, 56.0, 76.0, 82.0

HOW = (
    "Each LED has its own resistor in its plus lead. Where several like ones stand in a circuit, one rung is drawn and "
    "its count written beside it: build that many. A circle is a terminal; terminals of one name are joined."
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """Supply and switch, then every circuit."""
    blocks: tuple[Block, ...] = (Note(HOW), supply_drawing(design), *circuit_drawings(design))
    return (Sheet("circuit", "Circuit", blocks),)


# --- supply and switch --------------------------------------------------------------------------------------------


def supply_drawing(design: Design) -> Drawing:
    """From the supply through fuse and switch to the feeds of the circuits, and the return."""
    supply, switch = design.power.supply, design.power.switch
    x, marks = 0.0, list[Mark]()
    top = 0.0
    if supply is None:
        marks += symbols.block((0.0, -12.0), 40.0, 10.0, "no supply chosen")
    else:
        cells = design.plan.supply.in_series if design.plan.supply and design.plan.supply.kind == "cells" else 1
        if design.plan.supply and design.plan.supply.kind == "cells":
            marks += symbols.battery((0.0, -12.0), -90.0, cells=cells)
        else:
            marks += symbols.block((0.0, -12.0), 12.0, 8.0, "supply")
            marks += [symbols.wire((0.0, -8.0), (0.0, -6.0)), symbols.wire((0.0, -16.0), (0.0, -18.0))]
        marks += [Text((7.0, -11.0), shortened(supply.name, 36), size=2, anchor="w"),
                  Text((7.0, -14.5), amount(supply.nominal_v, "V"), size=2, anchor="w")]
        marks += [symbols.wire((0.0, -6.0), (0.0, top), (6.0, top)), symbols.wire((0.0, -18.0), (0.0, -24.0), (22.0, -24.0)),
                  *symbols.terminal((22.8, -24.0)), Text((25.0, -24.0), "return", size=2, anchor="w")]
        x = 6.0
        if supply.fuse:
            marks += symbols.fuse((x + 6.0, top), label="fuse", value=amount(supply.fuse_a or 0.0, "A"))
            x += 12.0
        if design.plan.supply and design.plan.supply.master:
            marks += symbols.switch((x + 6.0, top), label="master")
            x += 12.0
    marks += _contacts(design, (x, top)) if switch is not None else []
    return framed((Layer("symbols", tuple(marks)),), key="circuit-supply", title="Supply and switch", scale=None)


def _contacts(design: Design, at: Point) -> list[Mark]:
    """Feeds that are always on, then the poles of the switch with what each contact goes to."""
    switch = design.power.switch
    assert switch is not None
    solder = {row.terminal: row.to for row in switch.solder}
    poles = sorted({name[0] for name in solder if len(name) >= 2 and name[0].islower() and name[1:].isdigit()})
    always = _always(solder.get("master switch: 2", ""))
    marks: list[Mark] = []
    x, y = at[0], at[1]
    bus_x = x + 6.0
    marks.append(symbols.wire((x, y), (bus_x, y)))
    ends = [y]
    if always:
        marks += [symbols.wire((bus_x, y), (bus_x + 12.0, y)), *symbols.terminal((bus_x + 12.8, y)),
                  Text((bus_x + 15.0, y), f"feed of {always}", size=2, anchor="w")]
        y -= 9.0
    for pole in poles:
        contacts = sorted((name for name in solder if name[0] == pole and name[1:].isdigit()), key=lambda n: int(n[1:]))
        taken = max(len(contacts), 2)
        middle = y - (taken - 1) / 2 * 6.0 - 3.0
        marks += symbols.selector((bus_x + 4.0, middle), taken, label=f"pole {pole}")
        marks.append(symbols.wire((bus_x, middle), (bus_x + 4.0, middle)))
        for name, end in zip(contacts, symbols.selector_ends_mm((bus_x + 4.0, middle), taken), strict=False):
            marks += _contact_words(end, solder[name])
        ends.append(middle)
        y = middle - (taken - 1) / 2 * 6.0 - 9.0
    if len(ends) > 1:
        marks.append(symbols.wire((bus_x, max(ends)), (bus_x, min(ends))))
        marks += [mark for end in ends[1:-1] for mark in symbols.junction((bus_x, end))]
    if not poles and not always:
        marks += _one_each(design, (bus_x, at[1]))
    return marks


def _always(to: str) -> str:
    """Circuits that the master switch feeds without a pole."""
    names = [word.strip() for word in to.split(",")]
    return ", ".join(name for name in names if name and not name.startswith("commons"))


def _contact_words(end: Point, to: str) -> list[Mark]:
    words = to.replace(", stripe to the feed", "")
    return [Text((end[0] + 1.5, end[1]), shortened(words, 78), size=1, anchor="w")]


def _one_each(design: Design, at: Point) -> list[Mark]:
    marks: list[Mark] = []
    for k, circuit in enumerate(design.circuits):
        y = at[1] - 8.0 * k
        marks += [*symbols.switch((at[0] + 6.0, y)), *symbols.terminal((at[0] + 12.8, y)),
                  Text((at[0] + 15.0, y), f"feed of {circuit.name}", size=2, anchor="w")]
    if len(design.circuits) > 1:
        marks.append(symbols.wire(at, (at[0], at[1] - 8.0 * (len(design.circuits) - 1))))
    return marks


# --- circuits -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Rung:
    """Like emitters of one circuit, drawn once."""

    emitters: tuple[Emitter, ...]
    ohm: float | None

    @property
    def branches(self) -> int:
        """How many of them hang in parallel: segments of a strip count each."""
        return sum(max(row.segments, 1) for row in self.emitters)


def rungs_of(design: Design, circuit: Circuit) -> tuple[Rung, ...]:
    """The circuit's emitters, like ones together, in the loom's order."""
    found: dict[tuple[str, str, float | None], list[Emitter]] = {}
    for row in design.loom.emitters:
        if row.circuit == circuit.name:
            resistor = design.power.resistor(row.name)
            found.setdefault((row.kind, row.part_row, resistor.value_ohm if resistor else None), []).append(row)
    return tuple(Rung(tuple(rows), ohm) for (_, _, ohm), rows in found.items())


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
    marks: list[Mark] = []
    y = 0.0
    for circuit, rungs in rows:
        marks += translated(_ladder(circuit, rungs), 0.0, y)
        y -= HEAD_MM + RUNG_MM * len(rungs)
    names = [circuit.name for circuit, _ in rows]
    title = f"Circuits {names[0]} to {names[-1]}" if len(names) > 1 else f"Circuit {names[0]}"
    return framed((Layer("symbols", tuple(marks)),), key=f"circuit-{number}", title=title, scale=None)


def _ladder(circuit: Circuit, rungs: Sequence[Rung]) -> list[Mark]:
    """Feed on the left, return on the right, a rung for each kind of emitter."""
    first, last = -HEAD_MM, -HEAD_MM - RUNG_MM * (len(rungs) - 1)
    rhythm = "" if circuit.rhythm == "steady" else f", {circuit.rhythm}"
    head = f"Circuit {circuit.name}{rhythm}: {', '.join(circuit.states)}"
    marks: list[Mark] = [
        Text((0.0, -3.5), shortened(head, 96), size=2, anchor="sw", bold=True),
        *symbols.terminal((0.0, first)), Text((0.0, first - 3.0), circuit.name, size=2, anchor="c"),
        symbols.wire((0.8, first), (FEED_X, first)), symbols.wire((FEED_X, first), (FEED_X, last)),
        symbols.wire((RETURN_X, first), (RETURN_X, last)), symbols.wire((RETURN_X, last), (RETURN_X, last - 3.5)),
        *symbols.terminal((RETURN_X, last - 4.3)), Text((RETURN_X + 2.0, last - 4.3), "return", size=1, anchor="w"),
    ]
    for k, rung in enumerate(rungs):
        marks += _rung(rung, -HEAD_MM - RUNG_MM * k)
    return marks


def _rung(rung: Rung, y: float) -> list[Mark]:
    first = rung.emitters[0]
    marks: list[Mark] = [*symbols.junction((FEED_X, y)), *symbols.junction((RETURN_X, y))]
    if rung.ohm is None:
        marks.append(symbols.wire((FEED_X, y), (LED_X - symbols.REACH_MM, y)))
    else:
        marks += [symbols.wire((FEED_X, y), (RESISTOR_X - symbols.REACH_MM, y)),
                  *symbols.resistor((RESISTOR_X, y), label=ohm_text(rung.ohm)),
                  symbols.wire((RESISTOR_X + symbols.REACH_MM, y), (LED_X - symbols.REACH_MM, y))]
    marks += _load(first, y)
    marks.append(symbols.wire((LED_X + symbols.REACH_MM, y), (RETURN_X, y)))
    names = shortened(compressed(row.name for row in rung.emitters), 60)
    times = f"{rung.branches} x  " if rung.branches > 1 else ""
    unit = " (one for each cut length)" if first.kind == "strip" else ""
    return [*marks, Text((NAME_X, y + 0.6), f"{times}{names}", size=2, anchor="sw", bold=rung.branches > 1),
            Text((NAME_X, y - 0.6), shortened(first.part_row + unit, 60), size=1, anchor="nw")]


def _load(emitter: Emitter, y: float) -> list[Mark]:
    if emitter.kind != "strip":
        return list(symbols.led((LED_X, y)))
    ends = (symbols.wire((LED_X - 6.0, y), (LED_X - 5.0, y)), symbols.wire((LED_X + 5.0, y), (LED_X + 6.0, y)))
    return [*symbols.block((LED_X, y), 10.0, 5.0, "strip"), *ends]
