"""What to cut: leads, fibre tails, splices, and tubes in the order in which they are slid on."""

from __future__ import annotations

import math

from rushlight.model.design import Design
from rushlight.model.design_loom import Lead, Tail
from rushlight.model.sheet import Cell, Column, Note, Sheet, Table
from rushlight.sheets.amounts import amount, compressed, resistor_text, sentence
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.regulators import regulator_words
from rushlight.sheets.resistor_bands import band_words
from rushlight.stages.fibre_light import USUAL_JOINT, LedJoint, led_joint
from rushlight.stages.moving_leads import loop_of, swing_of

SLIDE_FIRST = (
    "Slide every tube on before its joint is soldered, well away from the heat; it cannot be put on afterwards. Shrink "
    "it before the joint goes into the model"
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """The cut list of leads, then fibre, then splices and tubes; nothing where nothing is cut."""
    loom = design.loom
    loops = loop_table(design)
    cut = (lead_table(design), wire_table(design), *([loops] if loops.rows else []))
    leads = Sheet("cut-list", "Cut list of leads", cut)
    tails = Sheet("tails", "Cut list of fibre", (tail_table(design),))
    tables = (splice_table(design), plug_table(design), tube_table(design))
    joints = tuple(table for table in tables if table.rows)
    found = ((leads, loom.leads), (tails, loom.tails),
             (Sheet("splices", "Splices, plugs and tubes", (Note(slide_first(design)), *joints)), joints),
             (Sheet("not-laid", "What could not be laid", (unrouted_table(design),)), loom.unrouted))
    return tuple(sheet for sheet, holds in found if holds)


def slide_first(design: Design) -> str:
    """What to do with tubes, and at which heat they shrink against what the walls round them bear."""
    heat = {tube.name: tube.recovery_c for tube in design.drawer.tubes}
    used = [heat[sleeve.tube] for _, sleeve in design.loom.tubes if sleeve.tube in heat]
    walls = [design.drawer.wall(part.wall) for part in design.plan.parts]
    if not used or not walls:
        return f"{SLIDE_FIRST}."
    soft = min(walls, key=lambda wall: wall.softens_c)
    if max(used) <= soft.softens_c:
        return f"{SLIDE_FIRST}: fully shrunk at {amount(max(used))} °C; the {soft.name} bends from " \
               f"{amount(soft.softens_c)} °C."
    return (f"{SLIDE_FIRST}: it is fully shrunk only at {amount(max(used))} °C, and the {soft.name} bends from "
            f"{amount(soft.softens_c)} °C. A joint that can only be closed in the model is wound with tape, cold.")


def end_words(design: Design, end: str, numbers: dict[str, int]) -> str:
    """One end of a lead: 'lamp 12', 'splice SG1', 'bay, feed of A'."""
    if end in numbers:
        return f"lamp {numbers[end]} {end}"
    if end.startswith("bay "):
        return "bay, return" if end == "bay R" else f"bay, feed of {end[4:]}"
    if any(splice.name == end for splice in design.loom.splices):
        return f"splice {end}"
    kind = next((emitter.kind for emitter in design.loom.emitters if emitter.name == end), "")
    return f"{kind} {end}".strip()


def lead_table(design: Design) -> Table:
    """One line a lead."""
    columns = (
        Column("label", "Label"), Column("from", "From"), Column("to", "To"), Column("wire", "Wire"),
        Column("colour", "Colour"), Column("length_mm", "Run", "mm", "right", 0),
        Column("cut_mm", "Cut", "mm", "right", 0), Column("role", "Role", wide=True),
        Column("through", "Through", wide=True),
    )
    numbers = lamp_numbers(design)
    rows = tuple(_lead_row(design, lead, numbers) for lead in design.loom.leads)
    total = amount(sum(lead.cut_mm for lead in design.loom.leads) / 1000, "m")
    caption = (f"{len(rows)} leads, {total} in all. The cut holds both stripped ends, slack and some to spare. "
               "Label both ends.")
    return Table("cut-list", "Leads", columns, rows, caption)


def _lead_row(design: Design, lead: Lead, numbers: dict[str, int]) -> tuple[Cell, ...]:
    return (
        lead.name, _of_link(lead, "minus") + end_words(design, lead.start, numbers),
        _of_link(lead, "plus") + end_words(design, lead.end, numbers), lead.wire,
        lead.colour, lead.length_mm, lead.cut_mm, _role(design, lead), compressed(lead.crossings),
    )


def _of_link(lead: Lead, side: str) -> str:
    """Of a lead from LED to LED, the leg that its end is soldered to."""
    return f"{side} of " if lead.net == "link" else ""


def _role(design: Design, lead: Lead) -> str:
    """What the lead is for, and the resistor that goes into it."""
    regulator = design.power.regulator(lead.end) if lead.net == "plus" else None
    if regulator:
        return f"{lead.role}, with {regulator_words(regulator)}, its ring towards the LED"
    resistor = design.power.resistor(lead.end) if lead.net == "plus" else None
    if resistor is None:
        return lead.role
    bands = band_words(design, resistor)
    return f"{lead.role}, with {resistor_text(resistor)}{f' ({bands})' if bands else ''}"


def wire_table(design: Design) -> Table:
    """How much of each wire and colour."""
    columns = (
        Column("wire", "Wire", wide=True), Column("colour", "Colour"),
        Column("leads", "Leads", align="right", decimals=0),
        Column("cut_mm", "Cut in all", "mm", "right", 0),
    )
    kinds = sorted({(lead.wire, lead.colour) for lead in design.loom.leads})
    rows = tuple((wire, colour, *_wire_sums(design, wire, colour)) for wire, colour in kinds)
    return Table("cut-list-wires", "By wire and colour", columns, rows)


def loop_table(design: Design) -> Table:
    """The loop to leave at each crossing into a part that moves; its length is in the cut of what passes."""
    columns = (
        Column("crossing", "At", wide=True), Column("moves", "The part", wide=True),
        Column("apart_mm", "Its ends come apart", "mm", "right", 0),
        Column("wanted_mm", "Loop wanted", "mm", "right", 0),
        Column("slack_mm", "Loop in the cut", "mm", "right", 0), Column("runs", "Leads and fibres", wide=True),
    )
    rows: list[tuple[Cell, ...]] = []
    wires: tuple[Lead | Tail, ...] = (*design.loom.leads, *design.loom.tails)
    for crossing in design.plan.crossings:
        runs = tuple(wire.name for wire in wires if crossing.name in wire.crossings)
        if runs and (crossing.kind in ("pivoting", "sliding") or swing_of(design.plan, crossing)):
            loop = loop_of(design, crossing)
            rows.append((crossing.name, loop.moves, loop.apart_mm, loop.wanted_mm, crossing.slack_mm, compressed(runs)))
    return Table("cut-list-loops", "Loops at moving parts", columns, tuple(rows),
                 "Fasten both sides beside the pivot, and move the part through all its poses before you close up.")


def _wire_sums(design: Design, wire: str, colour: str) -> tuple[int, float]:
    cuts = [lead.cut_mm for lead in design.loom.leads if (lead.wire, lead.colour) == (wire, colour)]
    return len(cuts), sum(cuts)


# --- tails --------------------------------------------------------------------------------------------------------


def tail_table(design: Design) -> Table:
    """One line a tail."""
    columns = (
        Column("tail", "Tail"), Column("bundle_led", "From LED"), Column("number", "No.", align="right", decimals=0),
        Column("lamp", "To lamp", wide=True), Column("fibre_mm", "Fibre", "mm", "right", 2),
        Column("length_mm", "Run", "mm", "right", 0), Column("cut_mm", "Cut", "mm", "right", 0),
        Column("least_bend_mm", "Tightest bend", "mm", "right", 0), Column("through", "Through"),
        Column("tip", "Lamp's end"), Column("joint", "Joint at the LED"),
    )
    numbers, groups = lamp_numbers(design), {lamp.name: lamp.group for lamp in design.lamps}
    rows = tuple(
        (tail.name, tail.emitter, numbers[tail.lamp], tail.lamp, tail.fibre_mm, tail.length_mm, tail.cut_mm,
         tail.least_bend_mm, compressed(tail.crossings), tail.tip,
         _joint_words(led_joint(design.plan, design.drawer, groups[tail.lamp], tail.lamp)))
        for tail in design.loom.tails
    )
    total = amount(sum(tail.cut_mm for tail in design.loom.tails) / 1000, "m")
    caption = f"{len(rows)} tails, {total} in all. Cut square, polish the LED's end; trim the lamp's end after paint."
    return Table("tails", "Fibre tails", columns, rows, caption)


def _joint_words(joint: LedJoint) -> str:
    """What is not as usual where the bundle meets its LED."""
    told = (
        (joint.inlet != USUAL_JOINT.inlet, f"ends {joint.inlet.replace('_', ' ')}"), (joint.gel, "clear gel"),
        (joint.filed, "dome filed flat"), (joint.gap_mm > 0, f"{joint.gap_mm:g} mm of gap"),
    )
    return ", ".join(words for counts, words in told if counts) or "polished, dry"


# --- splices and tubes --------------------------------------------------------------------------------------------


def splice_table(design: Design) -> Table:
    """Which leads meet where."""
    columns = (
        Column("splice", "Splice"), Column("part", "Part"), Column("x_mm", "x", "mm", "right", 0),
        Column("y_mm", "y", "mm", "right", 0), Column("net", "Net"), Column("leads", "Joins", wide=True),
        Column("stagger_mm", "Next one", "mm", "right", 0), Column("tube", "Tube"),
        Column("tube_mm", "Tube's cut", "mm", "right", 0),
    )
    rows = tuple(
        (row.name, row.spot.part, row.spot.x_mm, row.spot.y_mm, f"{row.net} {row.circuit or ''}".strip(),
         ", ".join(row.leads), row.stagger_mm if math.isfinite(row.stagger_mm) else None, row.sleeve.tube,
         row.sleeve.cut_mm)
        for row in design.loom.splices
    )
    caption = ("Next one: how far the nearest other splice of the part lies. Where that is less than a sleeve, shift "
               "one along its leads, so that sleeves do not heap up.")
    return Table("splices", "Splices", columns, rows, caption)


def plug_table(design: Design) -> Table:
    """Plugs with the lead of every contact."""
    columns = (
        Column("plug", "Plug"), Column("crossing", "At crossing"), Column("connector", "Connector", wide=True),
        Column("contacts", "Contacts", align="right", decimals=0),
        Column("leads", "Leads, contact by contact", wide=True),
    )
    rows = tuple(
        (row.name, row.crossing, row.connector, row.contacts,
         ", ".join(f"{number} {lead}" for number, lead in enumerate(row.leads, start=1)))
        for row in design.loom.plugs
    )
    caption = ("Wire both halves alike and mark contact 1 on each; where a plug has too few ways, several of it are "
               "used.")
    return Table("plugs", "Plugs", columns, rows, caption)


def unrouted_table(design: Design) -> Table:
    """What found no way on its part, and why."""
    columns = (Column("item", "What"), Column("part", "Part"), Column("why", "Why", wide=True))
    rows = tuple((row.item, row.part, sentence(row.why)) for row in design.loom.unrouted)
    return Table("not-laid", "", columns, rows, "These are in no list: cure the plan first.")


def tube_table(design: Design) -> Table:
    """Every piece of tube in the order in which it is slid on."""
    columns = (
        Column("order", "Slide on", align="right", decimals=0), Column("over", "Over"),
        Column("where", "Where", wide=True),
        Column("tube", "Tube"), Column("cut_mm", "Cut", "mm", "right", 0),
        Column("grips_mm", "Grips", "mm", "right", 2),
        Column("done", "On"),
    )
    rows = tuple(
        (number, over, f"{sleeve.name}, {sleeve.where}" if sleeve.where != over else sleeve.name, sleeve.tube,
         sleeve.cut_mm, sleeve.grips_mm, "")
        for number, (over, sleeve) in enumerate(design.loom.tubes, start=1)
    )
    return Table("tubes", "Tubes, in the order in which they are slid on", columns, rows)
