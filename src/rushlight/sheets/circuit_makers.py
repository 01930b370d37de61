"""What makes the rhythms as symbols: the board with its pins, each driver with its parts, ready-made flashers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rushlight.model.design import Design
from rushlight.model.sheet import Drawing, Layer, Mark, Point, Polyline, Text
from rushlight.sheets import symbols
from rushlight.sheets.amounts import ohm_text
from rushlight.sheets.maker_wiring import NO_PIN, RETURN, Stage, plus_line, stages_of
from rushlight.sheets.place import framed, translated
from rushlight.sheets.words import shortened, wrapped
from rushlight.stages.rhythms import button_of, value
from rushlight.timing.program import Button

MOST_ON_PAGE = 4
DRIVER_MM, FLASHER_MM = 50.0, 26.0
BOARD_TOP_MM = 16.0
"""Height of the board above its first pin's driver: room for its supply."""

BUTTON_MM = 10.0
"""More of it where a button steps the states."""

BOARD_X, BOARD_EDGE_X = 0.0, 24.0
PIN_Y = -22.0
"""Height of a driver's input below its plus."""

LINE_MM = 3.2


@dataclass(frozen=True, slots=True)
class _Wide:
    """Where things stand: the drivers' left and right ends, and how far lines stand apart that need room on a phone."""

    stage_x: float
    end_x: float
    driver_mm: float
    board_top_mm: float
    narrow: bool = False


IN_BOOK = _Wide(stage_x=66.0, end_x=128.0, driver_mm=DRIVER_MM, board_top_mm=BOARD_TOP_MM)
ON_PHONE = _Wide(stage_x=30.0, end_x=75.0, driver_mm=DRIVER_MM + 6.0, board_top_mm=BOARD_TOP_MM + 14.0, narrow=True)
"""There, what feeds a driver stands over it, not at its left."""


def maker_drawings(design: Design) -> tuple[Drawing, ...]:
    """Drivers of the board, then flashers, as many pages as they take; none where nothing stands in a feed."""
    stages = stages_of(design)
    driven = [stage for stage in stages if stage.is_driver]
    flashers = [stage for stage in stages if not stage.is_driver]
    def pages(wide: _Wide) -> list[tuple[str, list[Mark]]]:
        return [*(_driver_page(design, piece, wide) for piece in _pieces(driven, MOST_ON_PAGE)),
                *(_flasher_page(piece, wide) for piece in _pieces(flashers, 2 * MOST_ON_PAGE))]

    both = zip(pages(IN_BOOK), pages(ON_PHONE), strict=True)
    return tuple(replace(_page(number, title, marks), narrow=_page(number, title, less))
                 for number, ((title, marks), (_, less)) in enumerate(both, start=1))


def _page(number: int, title: str, marks: Sequence[Mark]) -> Drawing:
    return framed((Layer("symbols", tuple(marks)),), key=f"circuit-makers-{number}", title=title, scale=None)


def _pieces(rows: Sequence[Stage], most: int) -> list[Sequence[Stage]]:
    return [rows[start:start + most] for start in range(0, len(rows), most)]


def _title(what: str, rows: Sequence[Stage]) -> str:
    return f"{what} {rows[0].mark}" + (f" to {rows[-1].mark}" if len(rows) > 1 else "")


# --- board and drivers --------------------------------------------------------------------------------------------


def _driver_page(design: Design, rows: Sequence[Stage], wide: _Wide) -> tuple[str, list[Mark]]:
    marks = _board(design, rows, wide)
    for k, stage in enumerate(rows):
        top = -wide.driver_mm * k
        marks += translated(_driver(stage, wide), wide.stage_x, top)
        if stage.pin is not None:
            marks += _pin(stage, top + PIN_Y, wide)
    return _title("Board and drivers", rows), marks


def _board(design: Design, rows: Sequence[Stage], wide: _Wide) -> list[Mark]:
    """The board's box down to its last pin, its supply and ground at the top."""
    button = button_of(design.plan)
    top, bottom = wide.board_top_mm, -wide.driver_mm * (len(rows) - 1) + PIN_Y - 8.0
    above = top + (BUTTON_MM if button else 0.0)
    box = Polyline(((BOARD_X, bottom), (BOARD_EDGE_X, bottom), (BOARD_EDGE_X, above), (BOARD_X, above)),
                   symbols.WHITE, closed=True)
    supply = _lead((BOARD_EDGE_X, top - 4.0), "supply in", plus_line(design))
    ground = _lead((BOARD_EDGE_X, top - 12.0), "ground", RETURN)
    middle = ((BOARD_X + BOARD_EDGE_X) / 2 - 4.0, (top + bottom) / 2)
    name = Text(middle, "controller board", size=3, anchor="c", angle_deg=90.0)
    return [box, name, *supply, *ground, *(_button(button, top + BUTTON_MM - 4.0) if button else [])]


def _button(button: Button, y: float) -> list[Mark]:
    """From its pin through the button, or the reed, to the return."""
    at, x = (BOARD_EDGE_X + 16.0, y), BOARD_EDGE_X
    drawn = symbols.push_button(at) if "button" in button.words else symbols.reed(at)
    return [Text((x - 1.5, y), f"pin {button.pin}", size=2, anchor="e"), symbols.wire((x, y), (x + 10.0, y)), *drawn,
            Text((at[0] + 5.0, y + 3.6), button.words, size=2, anchor="sw"),
            symbols.wire((x + 22.0, y), (x + 27.2, y)), *symbols.terminal((x + 28.0, y)),
            Text((x + 30.2, y), RETURN, size=2, anchor="w")]


def _lead(at: Point, pin: str, to: str) -> list[Mark]:
    """A short lead from a pin on the board's edge to a terminal with a name."""
    x, y = at
    return [Text((x - 1.5, y), pin, size=2, anchor="e"), symbols.wire((x, y), (x + 8.0, y)),
            *symbols.terminal((x + 8.8, y)), Text((x + 11.0, y), shortened(to, 40), size=2, anchor="w")]


def _pin(stage: Stage, y: float, wide: _Wide) -> list[Mark]:
    return [Text((BOARD_EDGE_X - 1.5, y), f"pin {stage.pin}", size=2, anchor="e"),
            symbols.wire((BOARD_EDGE_X, y), (wide.stage_x - 0.8, y))]


def _driver(stage: Stage, wide: _Wide) -> list[Mark]:
    """One driver, its plus at (0, 0): P-channel MOSFET in the plus, NPN transistor that pulls its gate down."""
    gate, base, down = (ohm_text(value(f"driver_{key}_ohm")) for key in ("gate", "base", "base_down"))
    q1, q2 = (32.0, -4.0), (28.0, PIN_Y)
    gate_end, source, drain = symbols.transistor_ends_mm(q1, 90.0)
    base_end, collector, emitter = symbols.transistor_ends_mm(q2)
    x, foot, right = 12.0, PIN_Y - 14.0, wide.end_x - wide.stage_x
    marks: list[Mark] = [
        symbols.wire((0.8, 0.0), source), symbols.wire(drain, (right - 0.8, 0.0)),
        *symbols.mosfet_p(q1, 90.0), Text((32.0, 2.6), "Q1, P-channel", size=2, anchor="s"),
        *symbols.resistor((x, -7.0), -90.0, label=f"R1 {gate}"), symbols.wire((x, 0.0), (x, -1.0)),
        symbols.wire((x, -13.0), (32.0, -13.0)), symbols.wire(gate_end, (32.0, -13.0), collector),
        *symbols.npn(q2), Text((35.0, PIN_Y), "Q2, NPN", size=2, anchor="w"),
        *symbols.resistor((9.0, PIN_Y), label=f"R2 {base}"), symbols.wire((0.8, PIN_Y), (3.0, PIN_Y)),
        symbols.wire((15.0, PIN_Y), base_end),
        *symbols.resistor((18.0, PIN_Y - 7.0), -90.0, value=f"R3 {down}"),
        symbols.wire((18.0, PIN_Y), (18.0, PIN_Y - 1.0)), symbols.wire((18.0, PIN_Y - 13.0), (18.0, foot)),
        symbols.wire(emitter, (32.0, foot)), symbols.wire((18.0, foot), (right - 0.8, foot)),
    ]
    joints = ((x, 0.0), (32.0, -13.0), (18.0, PIN_Y), (32.0, foot))
    told = _told_over(stage) if wide.narrow else _told_beside(stage)
    return [*marks, *(mark for at in joints for mark in symbols.junction(at)), *_driver_ends(stage, (right, foot)),
            *told]


def _driver_ends(stage: Stage, last: Point) -> list[Mark]:
    right, foot = last
    return [
        *symbols.terminal((0.0, 0.0), "1"), *symbols.terminal((0.0, PIN_Y), "2"), *symbols.terminal((right, 0.0), "3"),
        *symbols.terminal((right, foot), "4"), Text((right + 2.0, 0.0), stage.goes_to, size=2, anchor="w"),
        Text((right + 2.0, foot), RETURN, size=2, anchor="w"),
    ]


def _told_beside(stage: Stage) -> list[Mark]:
    lost = [] if stage.pin is not None else [Text((-2.0, PIN_Y), shortened(NO_PIN, 40), size=2, anchor="e")]
    return [
        *lost, Text((-2.0, 0.0), shortened(stage.fed_from, 26), size=2, anchor="e"),
        Text((0.0, 6.6), shortened(_name(stage), 44), size=2, anchor="sw", bold=True),
    ]


def _told_over(stage: Stage) -> list[Mark]:
    """The same in little room: what feeds it and that it lacks a pin stand over its plus."""
    lines = [*([] if stage.pin is not None else [f"2: {NO_PIN}"]), f"1 from {shortened(stage.fed_from, 34)}"]
    return [*(Text((-2.0, 6.0 + LINE_MM * k), line, size=2, anchor="sw") for k, line in enumerate(lines)),
            *_headed(_name(stage), (-2.0, 6.0 + LINE_MM * len(lines)), 38)]


def _headed(words: str, at: Point, letters: int) -> list[Mark]:
    """A heading in as many lines as it takes, the lowest at this place."""
    lines = wrapped(words, letters)
    return [Text((at[0], at[1] + LINE_MM * (len(lines) - 1 - k)), line, size=2, anchor="sw", bold=True)
            for k, line in enumerate(lines)]


def _name(stage: Stage) -> str:
    return f"{stage.mark}: circuit {stage.circuit}, {stage.rhythm}"


# --- flashers -----------------------------------------------------------------------------------------------------


def _flasher_page(rows: Sequence[Stage], wide: _Wide) -> tuple[str, list[Mark]]:
    apart = FLASHER_MM + (2 * LINE_MM if wide.narrow else 0.0)
    marks = [mark for k, stage in enumerate(rows) for mark in translated(_flasher(stage, wide), 0.0, -apart * k)]
    return _title("Flashers", rows), marks


def _flasher(stage: Stage, wide: _Wide) -> list[Mark]:
    """A ready-made flasher as a box with three numbered terminals."""
    words = shortened(stage.fed_from, 40)
    told: list[Mark] = [Text((0.0, 7.5), shortened(_name(stage), 60), size=2, anchor="sw", bold=True),
                        Text((28.0, 0.0), words, size=2, anchor="e")]
    if wide.narrow:
        told = [*_headed(_name(stage), (29.0, 5.5 + LINE_MM), 38), Text((29.0, 5.5), f"1 from {words}", anchor="sw")]
    return [
        *told, *symbols.block((51.0, -2.0), 26.0, 12.0, "flasher"),
        *symbols.terminal((30.0, 0.0), "1"), symbols.wire((30.8, 0.0), (38.0, 0.0)),
        symbols.wire((64.0, 0.0), (71.2, 0.0)), *symbols.terminal((72.0, 0.0), "2"),
        Text((74.0, 0.0), f"feed of {stage.circuit}", size=2, anchor="w"),
        symbols.wire((51.0, -8.0), (51.0, -12.0), (71.2, -12.0)), *symbols.terminal((72.0, -12.0), "3"),
        Text((74.0, -12.0), RETURN, size=2, anchor="w"),
    ]
