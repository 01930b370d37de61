"""A reading that changes nothing: of a lamp that gives no light, or of a thing that this build does not have."""

from __future__ import annotations

from rushlight.findings._words import spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_bench import Measured
from rushlight.stages.aside import ASIDE, aside_of
from rushlight.stages.bundles import BUNDLE_WIDTH, tied
from rushlight.stages.filming import dimmed_levels
from rushlight.stages.measured_found import LIP_LAP, POST_GAP, POST_PAINT, POST_ROOT, SEAM_GAP
from rushlight.stages.supplies import (
    BANK_ENERGY,
    BANK_LOAD,
    CELL_CHARGE,
    CELL_OHM,
    FEED_POWER,
    UNIT_VOLTS,
    in_cells,
    printed,
    unit_name,
    unit_named,
)


def _look(design: Design) -> tuple[Trouble, ...]:
    told = ((one, _why_not(design, one)) for one in design.plan.measured)
    return tuple(Trouble(item=one.of, spot=spot_of(design, one.of), says=why) for one, why in told if why)


def _why_not(design: Design, one: Measured) -> str:
    """Why a reading changes nothing; empty where it may."""
    if one.what == "lamp" and not _lit(design, one):
        return f"A reading of '{one.of}' in '{one.state}' stands in the plan; this build gives no light there."
    if one.what == BUNDLE_WIDTH and not _tied_so(design, one):
        return f"Bundles of {one.count} fibres of '{one.of}' were read; this build has none that a hand ties alike."
    if one.what in (BANK_ENERGY, BANK_LOAD) and not _banked(design, one):
        told = "power bank" if one.printed_mah is None else f"power bank of {printed(one.printed_mah)}"
        return f"A {told} was read; this build is not fed by it."
    if one.what in (CELL_CHARGE, CELL_OHM) and not _fed_by(design, one.of):
        return f"A cell '{one.of}' was read; this build is not fed by it."
    if one.what == UNIT_VOLTS and _unit(design) != (read := unit_named(one.of, one.printed_v or 0.0)):
        return f"The volts of '{read}' were read; this build is not fed by it."
    if one.what == SEAM_GAP and not _seamed(design, one.of):
        return f"The gap at the seams of '{one.of}' was read; it has none that is open."
    if one.what == LIP_LAP and not (_seamed(design, one.of) and design.plan.part(one.of).seams_closed == "lip behind"):
        return f"How far a lip laps behind the seams of '{one.of}' was read; it has none."
    if one.what in (POST_GAP, POST_ROOT, POST_PAINT) and not _posted(design, one):
        return f"The {one.what} of '{one.of}' was read; no light shows there."
    if one.what == FEED_POWER and one.of not in {state.state for state in design.power.states if state.lit}:
        return f"The power of '{one.of}' was read; nothing is lit there."
    if one.what == ASIDE and not _looked_at_aside(design, one.of):
        return f"What '{one.of}' sends to its side was read; no lamp made of it is looked at from there."
    if one.what in ("pulse rate", "camera readout") and not dimmed_levels(design):
        return f"Of the {one.of} the {one.what.removeprefix('camera ')} was read; nothing here is dimmed by pulses."
    return ""


def _looked_at_aside(design: Design, of: str) -> bool:
    made = {source.lamp for source in design.sources if aside_of(source) == of}
    return any(light.aside is not None and light.lamp in made for light in design.light.lamps)


def _lit(design: Design, one: Measured) -> bool:
    return any((light.lamp, light.state) == (one.of, one.state) and light.intensity_cd.typical > 0
               for light in design.light.lamps)


def _fed_by(design: Design, cell: str) -> bool:
    supply = design.plan.supply
    return supply is not None and in_cells(design.plan) and supply.cell == cell


def _banked(design: Design, one: Measured) -> bool:
    supply = design.plan.supply
    return (supply is not None and supply.kind == "usb power bank"
            and (one.printed_mah is None or one.printed_mah == supply.bank_mah))


def _unit(design: Design) -> str:
    """The finished unit that feeds the build; empty where cells do, or nothing."""
    supply = design.plan.supply
    return "" if supply is None or in_cells(design.plan) else unit_name(supply)


def _seamed(design: Design, name: str) -> bool:
    part = design.plan.part(name)
    return bool(part.seams_mm) and part.seams_closed != "filled"


def _posted(design: Design, one: Measured) -> bool:
    kind = {POST_GAP: "post"}.get(one.what, "post root")
    return any((row.part, row.kind) == (one.of, kind) for row in design.light.ways_out)


def _tied_so(design: Design, one: Measured) -> bool:
    """Whether a bundle has that fibre, and as many as such a reading tells of."""
    part = next(fibre for fibre in design.drawer.fibres if fibre.name == one.of)
    return any(len(bundle.fibre_mm) > 1 and tied(part, len(bundle.fibre_mm)) == tied(part, one.count or 2)
               and part.name in {design.drawer.fibre(mm).name for mm in bundle.fibre_mm}
               for bundle in design.loom.bundles)


RULE = Rule(
    key="plan.measured-unused",
    grade=Grade.DOUBTFUL,
    title="Reading that changes nothing",
    unit="",
    why="What the meter showed changes nothing: you believe the thing to be known, and it is guessed still, or not "
        "there.",
    cure="Name a lamp as the book names it (of a row: 'row 3') in a state that lights it, the fibre, number, cell or "
         "state that this build has; or take the reading out.",
    source="what the stages of light, loom and power have",
    look=_look,
)
