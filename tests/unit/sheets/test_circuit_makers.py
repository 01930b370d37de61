"""Board, drivers and flashers in the circuit drawing, and the table to solder them by."""

from __future__ import annotations

from functools import cache

import pytest

from book_designs import SMALL, small
from designed import designed
from rushlight.model.design import Design
from rushlight.model.design_power import SolderPoint
from rushlight.model.sheet import PAGE_HEIGHT_MM, PAGE_WIDTH_MM, Drawing, Polyline, Table, Text
from rushlight.sheets import controller, symbols
from rushlight.sheets.circuit import draw
from rushlight.sheets.circuit_makers import maker_drawings
from rushlight.sheets.circuit_supply import supply_drawing
from rushlight.sheets.maker_wiring import NO_PIN, Stage, solder_words, stages_of, wiring_table
from rushlight.sheets.power import solder_table

FLASHING = SMALL.replace("size_mm: 100, states: [dusk, night],", "size_mm: 100, states: dusk, rhythm: Q,")
BOTH = """
rhythms:
  - {rhythm: Fl 4s, by: controller}
  - {rhythm: Q, by: MAKER}
controller: {pins: PINS, most_v: 12}
"""


@cache
def made(maker: str = "flasher", pins: str = "[2, 3]") -> Design:
    return designed(FLASHING + BOTH.replace("MAKER", maker).replace("PINS", pins))


def words(*drawings: Drawing) -> list[str]:
    return [m.text for d in drawings for layer in d.layers for m in layer.marks if isinstance(m, Text)]


def of_rhythm(design: Design, rhythm: str) -> str:
    return next(row.name for row in design.circuits if row.rhythm == rhythm)


def test_a_driver_stands_between_switch_and_feed_with_board_pins_and_values() -> None:
    design = made()
    drivers, flashers = maker_drawings(design)
    name = of_rhythm(design, "Fl 4s")
    assert {"controller board", "supply in", "ground", "pin 2", "Q1, P-channel", "Q2, NPN", "R1 10 kohm",
            "R2 4.7 kohm", "R3 10 kohm", f"feed of {name}", "return", "1", "2", "3", "4"} <= set(words(drivers))
    assert f"D1: circuit {name}, Fl 4s" in words(drivers)
    assert {"flasher", f"feed of {of_rhythm(design, 'Q')}", "1", "2", "3"} <= set(words(flashers))


def test_the_switch_sends_such_a_circuit_to_its_driver_not_to_its_feed() -> None:
    design = made()
    name, other = of_rhythm(design, "Fl 4s"), of_rhythm(design, "Q")
    said = words(supply_drawing(design))
    assert not any(text in (f"feed of {name}", f"feed of {other}") for text in said)
    assert any(f"{name} through D1: 1" in text for text in said)
    assert any(f"{other} through F1: 1" in text for text in said)
    assert "supply in of the controller board" in said
    soldered = " ".join(str(row[1]) for row in solder_table(design).rows)
    assert f"{name} through D1: 1" in soldered and f"{other} through F1: 1" in soldered


def test_a_master_switch_feeds_the_board_and_what_is_always_on() -> None:
    row = SolderPoint(terminal="master switch: 2", to="A, B, commons of the switch", through="")
    stages = (Stage("D1", "A", "Fl 4s", "master switch: 2", 2),)
    assert solder_words(row, stages) == (
        "supply in of the controller board, A through D1: 1, B, commons of the switch")


def test_every_terminal_of_the_table_meets_its_partner() -> None:
    """A pin of the board goes to a driver whose terminal goes back to that pin; each stage ends at its own feed."""
    design = made("controller")
    rows = {(part, terminal): to for part, terminal, _, to in wiring_table(design).rows if terminal != "inside"}
    assert rows["board", "ground"] == rows["D1", "4"] == rows["D2", "4"] == "return"
    for stage in stages_of(design):
        assert rows["board", f"pin {stage.pin}"] == f"{stage.mark}: 2"
        assert rows[stage.mark, "2"] == f"board: pin {stage.pin}"
        assert rows[stage.mark, "3"] == f"feed of {stage.circuit}"
        assert "switch" in rows[stage.mark, "1"]


def test_a_driver_without_a_pin_says_so() -> None:
    design = made("controller", "[2]")
    assert [stage.pin for stage in stages_of(design)] == [2, None]
    assert NO_PIN in words(*maker_drawings(design))
    assert NO_PIN in [row[3] for row in wiring_table(design).rows]


def test_a_flasher_alone_needs_no_board() -> None:
    design = designed(SMALL + "rhythms: [{rhythm: Fl 4s, by: flasher}]")
    (drawing,) = maker_drawings(design)
    assert "controller board" not in words(drawing)
    assert {row[0] for row in wiring_table(design).rows} == {"F1"}
    assert "makers-solder" in [block.key for block in controller.draw(design)[0].blocks if isinstance(block, Table)]
    assert "supply in of the controller board" not in words(supply_drawing(design))


def test_nothing_is_drawn_where_nothing_stands_in_a_feed() -> None:
    assert maker_drawings(small()) == () and wiring_table(small()).rows == ()


def test_they_stand_on_the_sheet_and_fit_a_page() -> None:
    (sheet,) = draw(made("controller"))
    drawings = [block for block in sheet.blocks if isinstance(block, Drawing)]
    assert "circuit-makers-1" in [drawing.key for drawing in drawings]
    assert all(row.width_mm <= PAGE_WIDTH_MM and row.height_mm <= PAGE_HEIGHT_MM for row in drawings)


@pytest.mark.parametrize("angle", [0.0, 90.0])
def test_transistors_reach_the_ends_where_wires_join(angle: float) -> None:
    for drawn in (symbols.mosfet_p, symbols.npn):
        points = {(round(x, 6), round(y, 6)) for mark in drawn((3.0, 4.0), angle) if isinstance(mark, Polyline)
                  for x, y in mark.points_mm}
        assert {(round(x, 6), round(y, 6)) for x, y in symbols.transistor_ends_mm((3.0, 4.0), angle)} <= points
