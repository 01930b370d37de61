"""States stepped by a controller's channels: in the network, the switch's proof, sheets, order and shopping."""

from __future__ import annotations

import dataclasses

import pytest

from designed import designed
from plans import BOARD, SUPPLY_AA
from rushlight.electric.switch import channel_plan
from rushlight.electric.switch_proof import proof
from rushlight.errors import UnknownName
from rushlight.findings import find
from rushlight.findings.cures import cure_of
from rushlight.model.design import Design
from rushlight.model.sheet import Drawing, Steps, Text
from rushlight.sheets import circuit, controller, power
from rushlight.sheets.circuit_makers import maker_drawings
from rushlight.sheets.circuit_supply import supply_drawing
from rushlight.sheets.exports import exports
from rushlight.sheets.maker_wiring import stages_of, wiring_table
from rushlight.stages.drivers import driver_of
from rushlight.stages.fault_known import built_network, known_faults
from rushlight.stages.fault_words import fault_words
from rushlight.stages.rhythms import button_of, channels, made_rhythms

STATES = "states: [{name: day}, {name: dusk}, {name: night}]"
LAMPS = """lamps:
  - {name: a, part: board, at_mm: [30, 80], colour: red, model_mm: 3, states: [day, night]}
  - {name: b, part: board, at_mm: [60, 80], colour: red, model_mm: 3, states: [day, dusk], rhythm: Fl R 4s}
  - {name: c, part: board, at_mm: [90, 80], colour: red, model_mm: 3, states: [dusk, night]}
  - {name: d, part: board, at_mm: [120, 80], colour: red, model_mm: 3, states: [day, dusk, night]}
"""
BY = "rhythms: [{rhythm: Fl R 4s, by: MAKER}]\ncontroller: {pins: [2, 3, 4, 5], states_by: WORD}\n"


def plan_text(supply: str, more: str) -> str:
    return BOARD.replace("states: [{name: day}, {name: night}]", STATES) + supply + more + LAMPS


def made(word: str = "button", maker: str = "controller", supply: str = SUPPLY_AA, more: str = "") -> Design:
    text = BY.replace("WORD", word).replace("MAKER", maker)
    return designed(plan_text(supply, text + more))


def words(*drawings: Drawing) -> list[str]:
    return [m.text for d in drawings for layer in d.layers for m in layer.marks if isinstance(m, Text)]


def test_every_circuit_has_a_channel_and_every_state_lights_its_own() -> None:
    design = made()
    rows = made_rhythms(design.plan, design.circuits, design.loom)
    assert [(row.circuit.lamps, row.by, row.pin, row.driven, row.flashes) for row in rows] == [
        (("a",), "no rhythm", 2, True, False), (("b",), "controller", 3, True, True),
        (("c",), "no rhythm", 4, True, False), (("d",), "no rhythm", 5, True, False)]
    for state in design.power.states:
        assert not state.lit_wrongly and not state.dark_wrongly
        assert len(state.lit) == 3
    switch = design.power.switch
    assert switch is not None and switch.proved and switch.stepped_by == "button" and switch.diodes == 0
    assert switch.positions == ("day", "dusk", "night")
    assert switch.parts[0] == "button 1P1T, closed while pressed"


def test_no_lamp_steps_between_states_behind_drivers() -> None:
    """Each circuit always passes the same driver, so its current is alike in all of its states (Kirchhoff)."""
    design = made()
    amps: dict[str, list[float]] = {}
    for state in design.power.states:
        for row in state.lit:
            amps.setdefault(row.emitter, []).append(row.current_a.typical)
    assert all(max(own) < 1.01 * min(own) for own in amps.values())


def test_the_network_has_a_driver_in_each_feed() -> None:
    """The driver is the contact; a flasher stands behind its own."""
    design = made()
    network, closed = built_network(design)
    driver = driver_of(design.plan, design.drawer)
    assert driver is not None
    contacts = {e.name: e.ohm for e in network.elements if e.kind == "switch"}
    assert contacts == dict.fromkeys((f"channel {name}" for name in "ABCD"), driver.ohm)
    assert not [e for e in network.elements if e.name.startswith("maker ")]
    assert closed["night"] == ("channel A", "channel C", "channel D")
    behind, _ = built_network(made(maker="flasher"))
    assert {e.name for e in behind.elements if e.name.startswith("maker ")} == {"maker B"}


def test_a_dead_channel_is_found_by_its_dark_lamp_and_named() -> None:
    known = known_faults(made())
    words = {fault_words(known.design, fault) for fault in known.bank.table.faults if fault.element == "channel A"}
    assert any(text.startswith("The channel of circuit A: its driver or its pin") for text in words)


def test_without_a_master_switch_one_more_press_makes_all_dark() -> None:
    design = made(supply=SUPPLY_AA.replace("}", ", master: no}"))
    assert design.power.switch is not None and design.power.switch.positions[-1] == "off"
    button = button_of(design.plan)
    assert button is not None and button.states == ("day", "dusk", "night", "off") and button.pin == 8


def test_a_flasher_stands_behind_its_driver_and_its_channel_is_steady() -> None:
    design = made(maker="flasher")
    rows = {row.mark: row for row in stages_of(design)}
    assert rows["D2"].goes_to == "F1: 1" and rows["F1"].fed_from == "D2: 3" and rows["F1"].goes_to == "feed of B"
    driven = channels(made_rhythms(design.plan, design.circuits, design.loom))
    assert [row.rhythm.kind for row in driven] == ["steady"] * 4
    terminals = {(part, terminal): to for part, terminal, _, to in wiring_table(design).rows}
    assert terminals["D2", "3"] == "F1: 1" and terminals["F1", "1"] == "D2: 3"


@pytest.mark.parametrize(("word", "told"), [("button", "push button"), ("reed", "reed contact")])
def test_what_to_solder_draw_load_and_try(word: str, told: str) -> None:
    design = made(word)
    terminals = {(str(part), str(terminal)): str(to) for part, terminal, _, to in wiring_table(design).rows}
    assert terminals["board", "pin 8"] == "button: 1" and terminals["button", "1"] == "board: pin 8"
    assert terminals["button", "2"] == "return"
    assert all(terminals[f"D{k}", "1"] == "master switch: 2" for k in (1, 2, 3, 4))
    solder = {str(row[0]): str(row[1]) for row in power.solder_table(design).rows}
    assert solder["button: 1"] == "board: pin 8"
    assert solder["master switch: 2"].startswith("supply in of the controller board, A through D1: 1")
    assert {"pin 8", told, "pin 2"} <= set(words(*maker_drawings(design)))
    assert "D1 to D4: 1 of each driver" in words(supply_drawing(design))
    (sheet,) = controller.draw(design)
    loading = next(block for block in sheet.blocks if isinstance(block, Steps)).steps
    assert len(loading) == 7 and "pin_test.py" in loading[3].text and loading[3].gate and loading[6].gate
    files = {row.path: row.text for row in exports((sheet, *circuit.draw(design)))}
    assert "BUTTON_PIN = 8" in files["program/pin_test.py"] and "STATES = (" in files["program/main.py"]
    assert "('B', 3, (0, 1), True, ((65535, 500), (0, 3500),))," in files["program/main.py"]


def test_a_stuck_channel_is_solved_and_told() -> None:
    design = made()
    assert design.power.switch is not None
    stuck = {(row.terminal, row.welded): row.shows for row in design.power.switch.stuck}
    assert stuck["driver of A: 3", True] == "'dusk': A lit too"
    assert stuck["driver of A: 3", False] == "'day': A dark; 'night': A dark"
    assert len(power.stuck_table(design).rows) == 8


def test_the_order_and_the_list_of_what_to_buy_know_the_button() -> None:
    design = made()
    step = next(step for step in design.order.steps if step.key == "controller")
    assert "pin 8 reads the push button: each time a step on, day, dusk, night, and round again" in step.details
    lines = {line.name: line.needed for line in design.shopping.lines}
    assert lines["button 1P1T, closed while pressed"] == 1 and lines["driver for one channel, in the plus"] == 4


def test_a_button_at_hand_is_taken() -> None:
    design = made(more="at_hand: [{table: switches, row: 'button 1P1T, closed while pressed'}]\n")
    line = next(line for line in design.shopping.lines if line.name.startswith("button"))
    assert line.packs == 0 and "1 at hand" in line.note


WHITE = LAMPS.replace("colour: red", "colour: warm white")
ONE_POLE = "at_hand: [{table: switches, row: slide 1P3T}]\n"


def one_pole(lamps: str, word: str) -> Design:
    text = BY.replace("WORD", word).replace("MAKER", "controller")
    return designed(plan_text(SUPPLY_AA, text + ONE_POLE).replace(LAMPS, lamps))


def test_the_controller_is_offered_where_diodes_starve_lamps_and_taken_by_one_edit() -> None:
    """White LEDs on three cells leave too little for a diode: the offer says why, its edit takes it, then it is gone."""
    design = one_pole(WHITE, "switch")
    assert design.power.switch is not None and design.power.switch.diodes > 0
    offer = design.power.switch.offer
    assert offer is not None and (offer.channels, offer.more, offer.pins) == (4, 3, 4) and "steering" in offer.why
    finding = next(row for row in find(design) if row.key == "electric.controller-could-step")
    edit = cure_of(design, finding)
    assert edit is not None and edit.changes[0].values == {"states_by": "button"}
    assert not [row for row in find(one_pole(WHITE, "button")) if row.key == "electric.controller-could-step"]


def test_diodes_that_lamps_can_spare_are_no_reason() -> None:
    """Red LEDs leave enough: a switch that is proved, with lamps that do not step, is kept without a word."""
    design = one_pole(LAMPS, "switch")
    assert design.power.switch is not None and design.power.switch.diodes > 0 and design.power.switch.offer is None


def test_without_a_controller_nothing_is_offered() -> None:
    more = "at_hand: [{table: switches, row: slide 1P3T}]\n"
    design = designed(plan_text(SUPPLY_AA, more))
    assert design.power.switch is not None and design.power.switch.diodes > 0 and design.power.switch.offer is None


def test_a_plain_switch_that_suffices_is_kept_without_a_word() -> None:
    design = made("switch")
    assert design.power.switch is not None and not design.power.switch.stepped_by
    assert design.power.switch.diodes == 0 and design.power.switch.offer is None


def test_channels_need_no_pole_and_a_wrong_one_is_caught() -> None:
    plan = channel_plan(("x", "y"), {"A": ("x",), "B": ("x", "y")}, master=True)
    assert proof(plan).wrong == ()
    spoilt = dataclasses.replace(plan, ties=(plan.ties[0], dataclasses.replace(plan.ties[1], net=0)))
    assert "'B' is dark in 'x'" in proof(spoilt).wrong
    with pytest.raises(UnknownName):
        channel_plan(("x",), {"A": ("z",)}, master=True)
