"""The build order and the gates."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from book_designs import small
from rushlight.model.design import PredictedReading
from rushlight.model.plan_bench import Done, Reading
from rushlight.model.sheet import Steps, Table
from rushlight.sheets import gates, order
from rushlight.units import Range


def blocks() -> list[Steps]:
    (sheet,) = order.draw(small())
    return [block for block in sheet.blocks if isinstance(block, Steps)]


def test_every_step_stands_once_in_order_in_its_sitting() -> None:
    design = small()
    labels = [step.label for block in blocks() for step in block.steps]
    assert labels == [str(step.number) for step in design.order.steps]
    assert len(blocks()) == len({step.sitting for step in design.order.steps})


def test_each_caution_stands_once_at_its_step() -> None:
    """The same work on the next part does not repeat it; another kind of work does."""
    design = small()
    shown = {step.label: step.cautions for block in blocks() for step in block.steps}
    wanted = {(step.key, caution) for step in design.order.steps for caution in step.cautions}
    found = [
        (step.key, caution) for step in design.order.steps for caution in step.cautions
        if order.caution_of(caution) in shown[str(step.number)]
    ]
    assert len(found) == len(set(found)) and set(found) == wanted
    solder = next(step for step in design.order.steps if step.key == "solder")
    assert any("Rosin" in caution.text for caution in shown[str(solder.number)])


def test_what_cannot_be_undone_waits_and_photographs_are_said() -> None:
    design = small()
    details = {step.label: step.detail for block in blocks() for step in block.steps}
    for step in design.order.steps:
        text = details[str(step.number)]
        assert ("Photograph" in text) == step.photograph
        assert (f"Wait {step.wait_h:g} h" in text) == (step.wait_h > 0)
        if step.undo == "irreversible":
            assert "Irreversible" in text


def test_items_are_named_and_rows_drawn_together() -> None:
    text = " ".join(step.detail for block in blocks() for step in block.steps)
    assert "For: bow, stern, port 1 to 6." in text


def test_gates_are_forms_with_a_column_to_write_in() -> None:
    design = small()
    (sheet,) = gates.draw(design)
    tables = {block.key: block for block in sheet.blocks if isinstance(block, Table)}
    for step in design.order.steps:
        if step.kind == "gate" and step.readings:
            table = tables[f"gate-{step.number}"]
            assert len(table.rows) == len(step.readings)
            assert {row[-1] for row in table.rows} == {""}
            assert [row[2] for row in table.rows] == [reading.dial for reading in step.readings]
    by_eye = [row[0] for row in tables["gates-by-eye"].rows]
    assert by_eye == [step.number for step in design.order.steps if step.kind == "gate" and not step.readings]


@pytest.mark.parametrize(("low", "high", "unit", "words"), [
    (152.0, 231.0, "mA", "152 to 231 mA"), (20_000.0, math.inf, "ohm", "more than 20 kohm"),
    (1.83, 2.11, "V", "1.83 to 2.11 V"), (4.0, math.inf, "V", "more than 4 V"),
])
def test_expected_readings_are_said_as_a_meter_shows_them(low: float, high: float, unit: str, words: str) -> None:
    reading = next(r for step in small().order.steps for r in step.readings)
    shown: PredictedReading = replace(reading, reading=Range(low, low, high), unit=unit)
    assert gates.expected(shown) == words


def test_what_was_done_and_read_already_stands_in_the_book() -> None:
    design = small()
    gate = next(step for step in design.order.steps if step.key == "bench_test")
    reading = Reading(gate="bench_test", what=gate.readings[1].name.upper(), value=12.345)
    done = (Done(step="Bench_test", readings=(reading,)), Done(step="drill", part="hull", when="3 May", used="a #65 drill"))
    built = replace(design, plan=replace(design.plan, as_built=done))
    (sheet,) = gates.draw(built)
    table = next(block for block in sheet.blocks if isinstance(block, Table) and block.key == f"gate-{gate.number}")
    assert [row[-1] for row in table.rows][:3] == ["", f"12.3 {gate.readings[1].unit}", ""]
    (sheet,) = order.draw(built)
    told = {step.text: step.detail for block in sheet.blocks if isinstance(block, Steps) for step in block.steps}
    assert "Done: 3 May, with a #65 drill." in next(text for title, text in told.items() if title.endswith("holes: hull"))
    assert sum("Done" in text for text in told.values()) == 2
