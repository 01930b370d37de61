"""The circuit drawing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from book_designs import BARE, UNFED, of, small
from rushlight.model.design import Design
from rushlight.model.design_power import SolderPoint
from rushlight.model.sheet import PAGE_HEIGHT_MM, PAGE_WIDTH_MM, Drawing, Polyline, Text
from rushlight.sheets.amounts import ohm_text
from rushlight.sheets.circuit import circuit_drawings, draw, rungs_of
from rushlight.sheets.circuit_supply import always_fed, poles_of, supply_drawing


def words(*drawings: Drawing) -> list[str]:
    return [m.text for d in drawings for layer in d.layers for m in layer.marks if isinstance(m, Text)]


def test_every_emitter_stands_on_one_rung_with_its_resistor() -> None:
    design = small()
    counted: Counter[str] = Counter()
    for circuit in design.circuits:
        for rung in rungs_of(design, circuit):
            counted.update(row.name for row in rung.emitters)
            assert len({(row.kind, row.part_row) for row in rung.emitters}) == 1
            for row in rung.emitters:
                resistor = design.power.resistor(row.name)
                assert rung.ohm == (resistor.value_ohm if resistor else None)
    assert counted == Counter(row.name for row in design.loom.emitters)


def test_the_drawing_names_circuits_values_and_counts() -> None:
    design = small()
    said = words(*circuit_drawings(design))
    for circuit in design.circuits:
        assert any(text.startswith(f"Circuit {circuit.name}") for text in said)
    for resistor in design.power.resistors:
        assert ohm_text(resistor.value_ohm) in said
    strip = next(row for row in design.loom.emitters if row.kind == "strip")
    assert any(text.startswith(f"{strip.segments} x") for text in said)


def test_every_circuit_is_fed_once_from_the_switch_or_straight() -> None:
    design = small()
    assert design.power.switch is not None
    poles = poles_of(design.power.switch.solder)
    fed = [item for pole in poles for _, items in pole.contacts for item in items]
    for circuit in design.circuits:
        switched = any(f"feed of {circuit.name}" in item for item in fed)
        assert switched != (circuit.name in always_fed(design))
    assert any("master" in text for text in words(supply_drawing(design)))
    assert any(text.startswith("4 x AA") for text in words(supply_drawing(design)))


def test_poles_are_read_from_any_style_of_terminal() -> None:
    rows = (("master switch: 1", "supply plus"), ("master switch: 2", "A, commons of the switch"),
            ("A", "master switch, terminal 2"), ("1", "feed of B; diode to the feed of C, stripe to the feed"), ("2", "nothing"),
            ("B", "master switch, terminal 2"), ("7", "feed of D"))
    poles = poles_of([SolderPoint(terminal=a, to=b, through="") for a, b in rows])
    assert [(pole.common, len(pole.contacts)) for pole in poles] == [("A", 2), ("B", 1)]
    assert poles[0].contacts[0][1] == ("feed of B", "diode to the feed of C, stripe to the feed")


def test_drawings_fit_an_upright_page() -> None:
    (sheet,) = draw(small())
    for block in sheet.blocks:
        if isinstance(block, Drawing):
            assert block.width_mm <= PAGE_WIDTH_MM and block.height_mm <= PAGE_HEIGHT_MM


def test_no_supply_is_said() -> None:
    for plan in (BARE, UNFED):
        assert "no supply chosen yet" in words(supply_drawing(of(plan)))


def with_solder(*rows: tuple[str, str]) -> Design:
    design = small()
    assert design.power.switch is not None
    solder = tuple(SolderPoint(terminal=a, to=b, through="") for a, b in rows)
    return replace(design, power=replace(design.power, switch=replace(design.power.switch, solder=solder)))


def test_contacts_feed_straight_or_through_diodes() -> None:
    design = with_solder(("master switch: 1", "supply plus"), ("master switch: 2", "C, commons of the switch"),
                         ("A", "master switch, terminal 2"),
                         ("1", "feed of A; diode to the feed of B, stripe to the feed"), ("2", "nothing"),
                         ("B", "master switch, terminal 2"), ("7", "feed of B"))
    drawing = supply_drawing(design)
    said = words(drawing)
    assert {"feed of A", "feed of B", "feed of C", "nothing", "pole 1, A", "pole 2, B", "1", "2", "7"} <= set(said)
    assert said.count("feed of B") == 2
    triangles = [m for layer in drawing.layers for m in layer.marks
                 if isinstance(m, Polyline) and m.closed and len(m.points_mm) == 3]
    assert len(triangles) == 1  # one steering diode


def test_without_a_switch_that_fits_each_circuit_has_a_contact() -> None:
    said = words(supply_drawing(with_solder()))
    assert [text for text in said if text.startswith("feed")] == ["feed of A", "feed of B", "feed of C"]


def test_an_adapter_is_a_block_with_its_plus_marked() -> None:
    design = small()
    assert design.plan.supply is not None
    plugged = replace(design, plan=replace(design.plan, supply=replace(design.plan.supply, kind="adapter")))
    said = words(supply_drawing(plugged))
    assert "supply" in said and "+" in said
