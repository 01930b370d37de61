"""Edits that cure findings about what makes a rhythm."""

from __future__ import annotations

import math

from rushlight.findings._words import listed
from rushlight.findings.cures._edits import written
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.stages.circuits import flashing_circuits
from rushlight.stages.drivers import driver_of
from rushlight.stages.filming import BAND_SHARE, MOST_PULSE_HZ, pulsed_of
from rushlight.stages.rhythms import made_rhythms, unmade
from rushlight.stages.switching import board_of, stepped_by


def by_controller(design: Design, finding: Finding) -> Edit | None:
    """Every rhythm that nothing makes yet, by a controller."""
    missing = dict.fromkeys(row.rhythm for row in unmade(made_rhythms(design.plan, design.circuits, design.loom)))
    return _made_by_controller(design, list(missing))


def by_flasher(design: Design, finding: Finding) -> Edit | None:
    """Rhythms of which a circuit has no pin left by ready-made flashers."""
    made = made_rhythms(design.plan, design.circuits, design.loom)
    gone = dict.fromkeys(row.circuit.rhythm for row in made if row.by == "controller" and row.pin is None)
    if stepped_by(design.plan):
        return _by_switch()
    if not gone:
        return None
    rows = [{**written(maker), "by": "flasher"} if maker.rhythm in gone else written(maker)
            for maker in design.plan.rhythms]
    says = f"Let ready-made flashers make {listed([repr(rhythm) for rhythm in gone])}."
    return Edit((Change("set", "plan", "", {"rhythms": rows}),), says)


def _by_switch() -> Edit:
    """Only rhythms take pins where a switch brings up the states."""
    return Edit((Change("set", "controller", "", {"states_by": "switch"}),), "Let a switch bring up the states.")


def states_by_button(design: Design, finding: Finding) -> Edit | None:
    """The controller that the plan has anyway steps the states; None where it lacks pins or bears not the voltage."""
    switch, board = design.power.switch, board_of(design.plan)
    if switch is None or switch.offer is None or switch.offer.channels > len(board.pins):
        return None
    if not _bears(design) or board.button_pin in board.pins:
        return None
    return Edit((Change("set", "controller", "", {"states_by": "button"}),),
                "Let the controller step the states, at each press of a button.")


def no_self_timed(design: Design, finding: Finding) -> Edit | None:
    """One rhythm by a controller instead of LEDs that time themselves."""
    made = made_rhythms(design.plan, design.circuits, design.loom)
    rhythm = next((row.circuit.rhythm for row in made if f"circuit {row.circuit.name}" == finding.item), None)
    return _made_by_controller(design, [rhythm]) if rhythm else None


def used_rhythms(design: Design, finding: Finding) -> Edit | None:
    """The entries of rhythms that lamps have."""
    kept = {circuit.rhythm for circuit in flashing_circuits(design.circuits, design.loom)}
    rows = [written(maker) for maker in design.plan.rhythms if maker.rhythm in kept]
    return Edit((Change("set", "plan", "", {"rhythms": rows}),), "Take out the rhythms that no lamp has.")


def faster_pulses(design: Design, finding: Finding) -> Edit | None:
    """Pulses at the recommended limit."""
    if finding.limit is None or _pulses_read(design):
        return None
    hz = math.ceil(finding.limit / 50) * 50
    return Edit((Change("set", "controller", "", {"pwm_hz": hz}),), f"Let the controller pulse {hz} times a second.")


def band_free_pulses(design: Design, finding: Finding) -> Edit | None:
    """Pulses fast enough for every shutter that shows bands."""
    hz = max((row.safe_hz for row in pulsed_of(design) if row.contrast > BAND_SHARE), default=0.0)
    if not 0.0 < hz <= MOST_PULSE_HZ or _pulses_read(design):
        return None
    return Edit((Change("set", "controller", "", {"pwm_hz": hz}),), f"Let the controller pulse {hz:g} times a second.")


def _pulses_read(design: Design) -> bool:
    """Whether the pulses were read: then asking the board for others is no proof that it makes them."""
    return design.drawer.measured("pulse rate", "controller") is not None


def _made_by_controller(design: Design, rhythms: list[str]) -> Edit | None:
    """None where the board would have no pin left, or not its voltage."""
    board = board_of(design.plan)
    made = made_rhythms(design.plan, design.circuits, design.loom)
    wanted = sum(row.driven or row.circuit.rhythm in rhythms for row in made)
    if wanted > len(board.pins) or not _bears(design):
        return None
    kept = [written(maker) for maker in design.plan.rhythms if maker.rhythm not in rhythms]
    rows = [*kept, *({"rhythm": rhythm, "by": "controller"} for rhythm in rhythms)]
    says = f"Let a small controller make {listed([repr(rhythm) for rhythm in rhythms])}."
    return Edit((Change("set", "plan", "", {"rhythms": rows}),), says)


def _bears(design: Design) -> bool:
    """Whether board and drivers bear the supply, fresh and flat."""
    board, supply = board_of(design.plan), design.power.supply
    driver = driver_of(design.plan, design.drawer)
    if supply is None or driver is None or not driver.fits:
        return False
    return supply.fresh_v <= board.most_v and supply.flat_v >= board.least_v
