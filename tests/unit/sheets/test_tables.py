"""Tables: totals equal the design's, nothing is left out."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from book_designs import NEVER_LIT, UNFED, UNPLACED, of, small
from rushlight.electric.resistor_bands import value_of_bands
from rushlight.model.design_loom import Plug, Unrouted
from rushlight.model.sheet import Table
from rushlight.sheets import (
    cut_list,
    lamp_list,
    light,
    parts,
    power,
    resistor_bands,
    shopping,
    subject,
    warming,
    windows,
)


def column(table: Table, key: str) -> list[object]:
    index = [row.key for row in table.columns].index(key)
    return [row[index] for row in table.rows]


def test_every_lamp_is_in_the_list_once_under_its_number() -> None:
    design = small()
    for table in (lamp_list.lamp_table(design), lamp_list.making_table(design)):
        assert column(table, "lamp") == [lamp.name for lamp in design.lamps]
        assert column(table, "number") == list(range(1, len(design.lamps) + 1))
    assert column(lamp_list.lamp_table(design), "states") == ["1 2", "1", *["2"] * 8]
    assert column(lamp_list.making_table(design), "circuit")[0] == design.circuits[0].name


def test_evidence_is_told_and_its_absence_too() -> None:
    rows = {row[1]: row for row in lamp_list.evidence_table(small()).rows}
    assert rows["bow"][3:6] == ("for", "guess", 50.0)
    assert rows["port"][0] == "3 to 8" and rows["port"][4] == "none given"


def test_lamps_without_place_or_state_stay_in_the_list() -> None:
    assert column(lamp_list.lamp_table(of(UNPLACED)), "part") == ["not placed"]
    assert column(lamp_list.lamp_table(of(NEVER_LIT)), "states") == ["never"]


def test_the_cut_list_sums_to_the_looms_wire() -> None:
    design = small()
    cuts = column(cut_list.lead_table(design), "cut_mm")
    assert column(cut_list.lead_table(design), "label") == [lead.name for lead in design.loom.leads]
    assert sum(cuts) == pytest.approx(sum(lead.cut_mm for lead in design.loom.leads))  # type: ignore[arg-type]
    assert sum(column(cut_list.wire_table(design), "cut_mm")) == pytest.approx(sum(cuts))  # type: ignore[arg-type]
    assert sum(column(cut_list.wire_table(design), "leads")) == len(design.loom.leads)  # type: ignore[arg-type]


def test_tails_and_tubes_are_complete_and_splices_come_first() -> None:
    design = small()
    tails = cut_list.tail_table(design)
    assert column(tails, "lamp") == [tail.lamp for tail in design.loom.tails]
    assert column(tails, "number") == [lamp_list.lamp_numbers(design)[tail.lamp] for tail in design.loom.tails]
    tubes = cut_list.tube_table(design)
    assert len(tubes.rows) == len(design.loom.splices) + sum(len(b.sleeves) for b in design.loom.bundles)
    assert column(tubes, "over")[:len(design.loom.splices)] == [splice.name for splice in design.loom.splices]


def test_ends_are_said_as_the_drawings_say_them() -> None:
    design = small()
    ends = {*column(cut_list.lead_table(design), "from"), *column(cut_list.lead_table(design), "to")}
    assert {"lamp 1 bow", "bay, return", "illuminator I1", "strip deckhouse"} <= ends
    assert all(f"splice {splice.name}" in ends for splice in design.loom.splices)


def test_resistors_are_counted_and_their_bands_give_their_value() -> None:
    design = small()
    table = power.resistor_table(design)
    assert sum(column(table, "count")) == len(design.power.resistors)  # type: ignore[arg-type]
    values = sorted({row.value_ohm for row in design.power.resistors})
    for value, bands in zip(values, column(table, "bands"), strict=True):
        assert value_of_bands(tuple(str(bands).split(", ")))[0] == pytest.approx(value)


def test_each_position_tells_its_circuits_and_current() -> None:
    design = small()
    rows = {row[1]: row for row in power.position_table(design).rows}
    for state in design.power.states:
        fed = [circuit.name for circuit in design.circuits if state.state in circuit.states]
        assert rows[state.state][2] == " ".join(fed)
    assert rows["off"][2:] == ("none", 0, "0")
    assert [row[0] for row in power.run_table(design).rows] == ["dusk", "night"]


def test_the_shopping_list_holds_every_line_and_its_total() -> None:
    design = small()
    table = shopping.shopping_table(design)
    assert column(table, "name") == [line.name for line in design.shopping.lines]
    assert column(table, "packs") == [line.packs for line in design.shopping.lines]
    assert f"{design.shopping.total_eur.low:.2g}"[:1] in table.caption


def test_light_and_heat_tables_hold_all_that_is_computed() -> None:
    design = small()
    groups = {lamp.group for lamp in design.lamps if any(row.lamp == lamp.name for row in design.light.lamps)}
    assert set(column(light.intensity_table(design), "lamps")) == groups
    assert len(light.row_table(design).rows) == len(design.light.rows)
    assert column(windows.strip_table(design), "opening") == ["pane", "pane two"]
    assert column(light.leak_table(design), "part") == [row.part for row in design.light.leaks]
    assert column(light.space_table(design), "space") == [row.space for row in design.heat.spaces]


def test_facts_are_the_designs() -> None:
    facts = dict(subject.facts(small()))
    assert facts["Scale"] == "1:50" and facts["Length"] == "10 m, 200 mm on the model"
    assert facts["Lamps"] == "10"
    assert facts["Fibres"].startswith("6 tails")
    assert "none chosen" in dict(subject.facts(of(UNFED)))["Supply"]


def test_states_count_their_lamps() -> None:
    assert column(subject.states_table(small()), "lamps") == [2, 9]  # derived: bow and stern; bow, six of the row, two panes


def test_assumptions_are_all_told() -> None:
    design = small()
    assert len(subject.assumed_table(design).rows) == len(design.assumptions) > 0


def test_no_number_of_a_table_is_without_end() -> None:
    from rushlight.findings import find
    from rushlight.sheets import draw

    design = small()
    for sheet in draw(design, find(design)):
        for block in sheet.blocks:
            if isinstance(block, Table):
                assert all(math.isfinite(cell) for row in block.rows for cell in row if isinstance(cell, float)), block.key


def test_every_circuit_tells_its_colour_states_and_what_hangs_on_it() -> None:
    from rushlight.sheets.circuit import circuit_table

    design = small()
    table = circuit_table(design)
    assert column(table, "circuit") == [circuit.name for circuit in design.circuits]
    assert sum(column(table, "lamps")) == sum(len(circuit.lamps) for circuit in design.circuits)  # type: ignore[arg-type]
    assert "Fl 4s" in column(table, "rhythm") and "Nothing makes the rhythm of" in table.caption


def test_plugs_name_the_lead_of_every_contact() -> None:
    design = small()
    plug = Plug(name="p", crossing="foot", connector="two way", leads=("A1", "R1"), contacts=2)
    plugged = replace(design, loom=replace(design.loom, plugs=(plug,)))
    assert cut_list.plug_table(plugged).rows == (("p", "foot", "two way", 2, "1 A1, 2 R1"),)


def test_what_could_not_be_laid_is_told() -> None:
    design = small()
    lost = replace(design, loom=replace(design.loom, unrouted=(Unrouted(item="bow", part="hull", why="no way"),)))
    assert [sheet.key for sheet in cut_list.draw(lost)] == ["cut-list", "tails", "splices", "not-laid"]


def test_bands_stand_in_words_wherever_a_resistor_is_soldered_or_bought() -> None:
    design = small()
    resistor = next(row for row in design.power.resistors if row.emitter == "bow")
    words = resistor_bands.band_words(design, resistor)
    assert value_of_bands(tuple(words.split(", ")))[0] == pytest.approx(resistor.value_ohm)
    roles = [str(role) for role in column(cut_list.lead_table(design), "role")]
    assert sum(words in role for role in roles) == 1
    assert any(words in str(note) for note in column(shopping.shopping_table(design), "note"))
    part = design.plan.part(design.loom.emitter("bow").spot.part)
    assert any(words in str(cell) for cell in column(parts.emitter_table(design, part), "resistor"))


def test_every_lit_led_stands_once_in_the_table_of_warmth_with_its_currents_just_on_and_settled() -> None:
    design = small()
    table = warming.warming_table(design)
    emitters = {row.emitter for state in design.power.states for row in state.lit}
    told = ", ".join(str(cell) for cell in column(table, "leds"))
    assert len(table.rows) == len({(one.circuit, one.part_row, one.spot.part) for one in design.loom.emitters
                                   if one.name in emitters})
    assert all(name in told for name in emitters)
    row = next(row for state in design.power.states for row in state.lit if row.emitter == "bow")
    line = table.rows[column(table, "leds").index("bow")]
    assert float(str(line[4]).split(" to ", maxsplit=1)[0]) == pytest.approx(1000 * row.first_a, rel=0.01)
    assert " to " in str(line[6])  # the junction's range
    assert str(line[7]).endswith("%")
    lost = dict(zip(column(light.led_heat_table(design), "leds"), column(light.led_heat_table(design), "loses"), strict=True))
    assert set(lost.values()) and all(str(words).endswith("%") for words in lost.values())
