"""Supply and switch as symbols: supply, fuse, master, every contact with what it feeds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from rushlight.model.design import Design
from rushlight.model.design_power import SolderPoint, SupplyPlan
from rushlight.model.sheet import DETAIL, Circle, Drawing, Layer, Mark, Point, Polyline, Text
from rushlight.sheets import symbols
from rushlight.sheets.amounts import amount
from rushlight.sheets.maker_wiring import Stage, stages_of, through_stages
from rushlight.sheets.place import framed, translated
from rushlight.sheets.words import shortened, wrapped

ITEM_MM = 8.0
"""Height of one thing that a contact feeds."""

LINE_MM = 3.2
"""From one line of its words to the next, on a phone."""

LETTERS = 30
"""Of such a line."""

PAST_RETURN_X, BEND_Y, FEEDS_Y = 30.0, -31.0, -37.0
"""On a phone the plus line goes down past the return and back to the left, and what it feeds begins there."""

POLE_GAP_MM = 8.0
BLADE_MM = 12.0
COMMON_WORDS = ("master switch, terminal 2", "supply plus")
DIODE_START, DIODE_END = "diode to the feed of ", ", stripe to the feed"


@dataclass(frozen=True, slots=True)
class Pole:
    """One pole of the switch: its common's terminal, its contacts with what each feeds."""

    common: str
    contacts: tuple[tuple[str, tuple[str, ...]], ...]


def supply_drawing(design: Design) -> Drawing:
    """From the supply through fuse and switch to the feeds of the circuits, and the return."""
    supply = design.power.supply
    if supply is None:
        return _framed(symbols.block((0.0, 0.0), 44.0, 10.0, "no supply chosen yet"), None)
    words = f"{shortened(supply.name, 40)}, {amount(supply.nominal_v, 'V')}"
    line, x = _line(design, supply)
    source = [*_source(design), *line]
    wide = [*source, Text((-6.0, -29.0), words, size=2, anchor="w"), *_feeds(design, x, Items(stages_of(design)))]
    right = max(x, PAST_RETURN_X)
    down = symbols.wire((x, 0.0), (right, 0.0), (right, BEND_Y), (0.0, BEND_Y), (0.0, FEEDS_Y))
    feeds = _feeds(design, 0.0, Items(stages_of(design), LETTERS))
    narrow = [*source, Text((0.0, 9.0), words, size=2, anchor="w"), down, *translated(feeds, 0.0, FEEDS_Y)]
    return _framed(wide, _framed(narrow, None))


def _framed(marks: Sequence[Mark], narrow: Drawing | None) -> Drawing:
    made = framed((Layer("symbols", tuple(marks)),), key="circuit-supply", title="Supply and switch", scale=None)
    return replace(made, narrow=narrow)


def _source(design: Design) -> list[Mark]:
    """The supply upright at the left, its return to the right of it."""
    planned = design.plan.supply
    if planned is not None and planned.kind == "cells":
        marks: list[Mark] = list(symbols.battery((0.0, -12.0), -90.0, cells=planned.in_series))
    else:
        marks = [*symbols.block((0.0, -12.0), 12.0, 6.0, "supply"), Text((-2.0, -8.2), "+", size=2, anchor="c"),
                 symbols.wire((0.0, -9.0), (0.0, -6.0)), symbols.wire((0.0, -15.0), (0.0, -18.0))]
    return [*marks, symbols.wire((0.0, -6.0), (0.0, 0.0), (4.0, 0.0)),
            symbols.wire((0.0, -18.0), (0.0, -24.0), (8.0, -24.0)), *symbols.terminal((8.8, -24.0)),
            Text((11.0, -24.0), "return", size=2, anchor="w")]


def _line(design: Design, supply: SupplyPlan) -> tuple[list[Mark], float]:
    """Fuse and master switch along the plus line; where it ends."""
    x, marks = 4.0, list[Mark]()
    if supply.fuse:
        marks += symbols.fuse((x + symbols.REACH_MM, 0.0), label="fuse", value=amount(supply.fuse_a or 0.0, "A"))
        x += 2 * symbols.REACH_MM
    if any(row.terminal.startswith("master") for row in _solder(design)):
        marks += symbols.switch((x + symbols.REACH_MM, 0.0), label="master")
        x += 2 * symbols.REACH_MM
    marks.append(symbols.wire((x, 0.0), (x + 8.0, 0.0)))
    return marks, x + 8.0


def _solder(design: Design) -> tuple[SolderPoint, ...]:
    return design.power.switch.solder if design.power.switch else ()


# --- what the switch feeds ----------------------------------------------------------------------------------------


def poles_of(solder: Sequence[SolderPoint]) -> tuple[Pole, ...]:
    """Poles of the solder table: a row that goes to the plus line starts one, rows after it are its contacts."""
    poles: list[tuple[str, list[tuple[str, tuple[str, ...]]]]] = []
    for row in solder:
        if row.terminal.startswith("master"):
            continue
        if row.to in COMMON_WORDS:
            poles.append((row.terminal, []))
        elif poles:
            poles[-1][1].append((row.terminal, tuple(item.strip() for item in row.to.split(";"))))
    return tuple(Pole(common, tuple(contacts)) for common, contacts in poles)


def always_fed(design: Design) -> tuple[str, ...]:
    """Circuits that no pole switches: fed straight from the plus line."""
    to = next((row.to for row in _solder(design) if row.terminal == "master switch: 2"), "")
    named = {name.strip() for name in to.split(",")}
    return tuple(circuit.name for circuit in design.circuits if circuit.name in named)


@dataclass(frozen=True, slots=True)
class Items:
    """How what a contact feeds is told: with the drivers and flashers before it, in lines of so many letters."""

    stages: tuple[Stage, ...]
    letters: int | None = None
    """None: one line, cut where it is very long."""

    def lines(self, words: str) -> tuple[str, ...]:
        """What stands beside its terminal."""
        if self.letters is None:
            return (through_stages(shortened(words, 60), self.stages),)
        return wrapped(through_stages(words, self.stages), self.letters)

    def height_mm(self, words: str) -> float:
        """Room that it takes, to the next."""
        return max(ITEM_MM, LINE_MM * len(self.lines(words)) + 2.0)

    def terminal(self, at: Point, words: str) -> list[Mark]:
        """A terminal at the end of a wire, its words at the right."""
        lines = self.lines(words)
        tops = (LINE_MM * ((len(lines) - 1) / 2 - k) for k in range(len(lines)))
        return [*symbols.terminal((at[0] + 0.8, at[1])),
                *(Text((at[0] + 3.0, at[1] + up), line, size=2, anchor="w")
                  for up, line in zip(tops, lines, strict=True))]


def _feeds(design: Design, x: float, told: Items) -> list[Mark]:
    always, poles = always_fed(design), poles_of(_solder(design))
    stepped = design.power.switch is not None and bool(design.power.switch.stepped_by)
    if not always and not poles and not stepped:
        return _one_each(design, x, told)
    if stepped:
        always = ()
    taps, marks, y = [], list[Mark](), 0.0
    board = ["supply in of the controller board"] if any(row.is_driver for row in told.stages) else []
    for words in [*board, *_driven(told.stages, stepped), *([f"feed of {', '.join(always)}"] if always else [])]:
        end = x + BLADE_MM + 6.0
        marks += [symbols.wire((x, y), (end, y)), *told.terminal((end, y), words)]
        taps.append(y)
        y -= told.height_mm(words) + POLE_GAP_MM + 2.0 - ITEM_MM
    for number, pole in enumerate(poles, start=1):
        drawn, tap, y = _pole(pole, (x, y), f"pole {number}" if len(poles) > 1 else "selector", told)
        marks += drawn
        taps.append(tap)
    return [*marks, symbols.wire((x, 0.0), (x, min(taps))), *_dots(x, taps)]


def _driven(stages: Sequence[Stage], stepped: bool) -> list[str]:
    """The plus of every driver, where the controller's channels are the switch."""
    marks = [row.mark for row in stages if row.is_driver] if stepped else []
    last = f" to {marks[-1]}" if len(marks) > 1 else ""
    return [f"{marks[0]}{last}: 1 of each driver"] if marks else []


def _dots(x: float, taps: Sequence[float]) -> list[Mark]:
    """Joints where a wire goes on beyond a tap."""
    return [mark for tap in taps if tap > min(taps) for mark in symbols.junction((x, tap))]


def _pole(pole: Pole, at: Point, label: str, told: Items) -> tuple[list[Mark], float, float]:
    """One pole from `at` downward: its marks, the height at which it is fed, the height below it."""
    x, top = at
    heights, y = [], top
    for _, items in pole.contacts:
        heights.append(y)
        y -= sum(map(told.height_mm, items))
    middle = (heights[0] + heights[-1]) / 2 if heights else top
    common = (x + 5.0, middle)
    marks: list[Mark] = [symbols.wire((x, middle), (common[0] - 0.6, middle)), Circle(common, 0.6, symbols.WHITE),
                         Text((common[0], middle - 2.6), f"{label}, {pole.common}", size=1, anchor="n")]
    for (name, items), height in zip(pole.contacts, heights, strict=True):
        marks += _contact(name, items, (x + 5.0 + BLADE_MM, height), told)
    if heights:
        marks.append(Polyline(((common[0] + 0.5, middle + 0.3), (x + 4.4 + BLADE_MM, heights[0])), DETAIL))
    return marks, middle, y - POLE_GAP_MM + ITEM_MM


def _contact(name: str, items: Sequence[str], at: Point, told: Items) -> list[Mark]:
    x, y = at
    marks: list[Mark] = [Circle(at, 0.6, symbols.WHITE), Text((x + 1.2, y + 0.8), name, size=1, anchor="sw")]
    if list(items) == ["nothing"]:
        return [*marks, Text((x + 5.0, y), "nothing", size=1, anchor="w")]
    bus = x + 6.0
    marks.append(symbols.wire((x + 0.6, y), (bus, y)))
    heights = list(accumulate((-told.height_mm(item) for item in items[:-1]), initial=y))
    for item, height in zip(items, heights, strict=True):
        marks += _item(item, (bus, height), told)
    if len(items) > 1:
        marks += [symbols.wire((bus, y), (bus, heights[-1])),
                  *(mark for height in heights[:-1] for mark in symbols.junction((bus, height)))]
    return marks


def _item(item: str, at: Point, told: Items) -> list[Mark]:
    """A feed, straight or through a steering diode."""
    x, y = at
    end = x + 2 * symbols.REACH_MM
    if item.startswith(DIODE_START):
        words = f"feed of {item.removeprefix(DIODE_START).removesuffix(DIODE_END)}"
        return [*symbols.diode((x + symbols.REACH_MM, y)), *told.terminal((end, y), words)]
    return [symbols.wire((x, y), (end, y)), *told.terminal((end, y), item)]


def _one_each(design: Design, x: float, told: Items) -> list[Mark]:
    """No switch was found: a contact for each circuit."""
    marks: list[Mark] = []
    for k, circuit in enumerate(design.circuits):
        y = -ITEM_MM * k
        marks += [*symbols.switch((x + symbols.REACH_MM, y)), *told.terminal((x + 12.0, y), f"feed of {circuit.name}")]
    taps = [-ITEM_MM * k for k in range(len(design.circuits))] or [0.0]
    return [*marks, symbols.wire((x, 0.0), (x, min(taps))), *_dots(x, taps)]
