"""Supply and switch as symbols: supply, fuse, master, every contact with what it feeds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.design_power import SolderPoint, SupplyPlan
from rushlight.model.sheet import DETAIL, Circle, Drawing, Layer, Mark, Point, Polyline, Text
from rushlight.sheets import symbols
from rushlight.sheets.amounts import amount
from rushlight.sheets.maker_wiring import stages_of, through_stages
from rushlight.sheets.place import framed
from rushlight.sheets.words import shortened

ITEM_MM = 8.0
"""Height of one thing that a contact feeds."""

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
        marks: list[Mark] = list(symbols.block((0.0, 0.0), 44.0, 10.0, "no supply chosen yet"))
    else:
        line, x = _line(design, supply)
        marks = [*_source(design, supply), *line, *_told(design, _feeds(design, x))]
    return framed((Layer("symbols", tuple(marks)),), key="circuit-supply", title="Supply and switch", scale=None)


def _told(design: Design, marks: Sequence[Mark]) -> list[Mark]:
    """Names of feeds with the driver or flasher that stands before them."""
    stages = stages_of(design)
    return [replace(mark, text=through_stages(mark.text, stages)) if isinstance(mark, Text) else mark for mark in marks]


def _source(design: Design, supply: SupplyPlan) -> list[Mark]:
    """The supply upright at the left, its return to the right of it."""
    planned = design.plan.supply
    if planned is not None and planned.kind == "cells":
        marks: list[Mark] = list(symbols.battery((0.0, -12.0), -90.0, cells=planned.in_series))
    else:
        marks = [*symbols.block((0.0, -12.0), 12.0, 6.0, "supply"), Text((-2.0, -8.2), "+", size=2, anchor="c"),
                 symbols.wire((0.0, -9.0), (0.0, -6.0)), symbols.wire((0.0, -15.0), (0.0, -18.0))]
    words = f"{shortened(supply.name, 40)}, {amount(supply.nominal_v, 'V')}"
    return [*marks, symbols.wire((0.0, -6.0), (0.0, 0.0), (4.0, 0.0)),
            symbols.wire((0.0, -18.0), (0.0, -24.0), (8.0, -24.0)), *symbols.terminal((8.8, -24.0)),
            Text((11.0, -24.0), "return", size=2, anchor="w"), Text((-6.0, -29.0), words, size=2, anchor="w")]


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


def _feeds(design: Design, x: float) -> list[Mark]:
    always, poles = always_fed(design), poles_of(_solder(design))
    stepped = design.power.switch is not None and bool(design.power.switch.stepped_by)
    if not always and not poles and not stepped:
        return _one_each(design, x)
    if stepped:
        always = ()
    taps, marks, y = [], list[Mark](), 0.0
    board = ["supply in of the controller board"] if any(row.is_driver for row in stages_of(design)) else []
    for words in [*board, *_driven(design, stepped), *([f"feed of {', '.join(always)}"] if always else [])]:
        marks += [symbols.wire((x, y), (x + BLADE_MM + 6.0, y)), *_terminal((x + BLADE_MM + 6.0, y), words)]
        taps.append(y)
        y -= POLE_GAP_MM + 2.0
    for number, pole in enumerate(poles, start=1):
        drawn, tap, y = _pole(pole, (x, y), f"pole {number}" if len(poles) > 1 else "selector")
        marks += drawn
        taps.append(tap)
    return [*marks, symbols.wire((x, 0.0), (x, min(taps))), *_dots(x, taps)]


def _driven(design: Design, stepped: bool) -> list[str]:
    """The plus of every driver, where the controller's channels are the switch."""
    marks = [row.mark for row in stages_of(design) if row.is_driver] if stepped else []
    last = f" to {marks[-1]}" if len(marks) > 1 else ""
    return [f"{marks[0]}{last}: 1 of each driver"] if marks else []


def _dots(x: float, taps: Sequence[float]) -> list[Mark]:
    """Joints where a wire goes on beyond a tap."""
    return [mark for tap in taps if tap > min(taps) for mark in symbols.junction((x, tap))]


def _pole(pole: Pole, at: Point, label: str) -> tuple[list[Mark], float, float]:
    """One pole from `at` downward: its marks, the height at which it is fed, the height below it."""
    x, top = at
    heights, y = [], top
    for _, items in pole.contacts:
        heights.append(y)
        y -= ITEM_MM * len(items)
    middle = (heights[0] + heights[-1]) / 2 if heights else top
    common = (x + 5.0, middle)
    marks: list[Mark] = [symbols.wire((x, middle), (common[0] - 0.6, middle)), Circle(common, 0.6, symbols.WHITE),
                         Text((common[0], middle - 2.6), f"{label}, {pole.common}", size=1, anchor="n")]
    for (name, items), height in zip(pole.contacts, heights, strict=True):
        marks += _contact(name, items, (x + 5.0 + BLADE_MM, height))
    if heights:
        marks.append(Polyline(((common[0] + 0.5, middle + 0.3), (x + 4.4 + BLADE_MM, heights[0])), DETAIL))
    return marks, middle, y - POLE_GAP_MM + ITEM_MM


def _contact(name: str, items: Sequence[str], at: Point) -> list[Mark]:
    x, y = at
    marks: list[Mark] = [Circle(at, 0.6, symbols.WHITE), Text((x + 1.2, y + 0.8), name, size=1, anchor="sw")]
    if list(items) == ["nothing"]:
        return [*marks, Text((x + 5.0, y), "nothing", size=1, anchor="w")]
    bus = x + 6.0
    marks.append(symbols.wire((x + 0.6, y), (bus, y)))
    for k, item in enumerate(items):
        marks += _item(item, (bus, y - ITEM_MM * k))
    if len(items) > 1:
        marks += [symbols.wire((bus, y), (bus, y - ITEM_MM * (len(items) - 1))),
                  *(mark for k in range(len(items) - 1) for mark in symbols.junction((bus, y - ITEM_MM * k)))]
    return marks


def _item(item: str, at: Point) -> list[Mark]:
    """A feed, straight or through a steering diode."""
    x, y = at
    end = x + 2 * symbols.REACH_MM
    if item.startswith(DIODE_START):
        words = f"feed of {item.removeprefix(DIODE_START).removesuffix(DIODE_END)}"
        return [*symbols.diode((x + symbols.REACH_MM, y)), *_terminal((end, y), words)]
    return [symbols.wire((x, y), (end, y)), *_terminal((end, y), item)]


def _terminal(at: Point, words: str) -> list[Mark]:
    return [*symbols.terminal((at[0] + 0.8, at[1])),
            Text((at[0] + 3.0, at[1]), shortened(words, 60), size=2, anchor="w")]


def _one_each(design: Design, x: float) -> list[Mark]:
    """No switch was found: a contact for each circuit."""
    marks: list[Mark] = []
    for k, circuit in enumerate(design.circuits):
        y = -ITEM_MM * k
        marks += [*symbols.switch((x + symbols.REACH_MM, y)), *_terminal((x + 12.0, y), f"feed of {circuit.name}")]
    taps = [-ITEM_MM * k for k in range(len(design.circuits))] or [0.0]
    return [*marks, symbols.wire((x, 0.0), (x, min(taps))), *_dots(x, taps)]
