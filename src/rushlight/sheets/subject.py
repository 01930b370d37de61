"""What the book is about: facts, states, what was assumed, how to use it."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.sheet import Column, Note, Sheet, Table
from rushlight.sheets.amounts import amount, compressed, range_words, run_words, sentence

HOW_TO = (
    "Read the findings first and cure them in the plan: paper is cheaper than plastic. Then buy, and build in the "
    "order of the build order, one sitting at a time, ticking each box. Every lamp has one number in the whole book: "
    "in the lamp list, on the part's drawing and on its drilling template.\n\n"
    "Print the templates at 100 % and lay a ruler on the 50 mm bar of each before you drill. At a gate, write down "
    "what the meter shows beside what is expected; go on only when it agrees, for what follows a gate cannot be "
    "undone.\n\n"
    "A number given as an interval is as sure as the parts are: if your reading lies inside it, all is well."
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """Facts, states, assumptions, and how to use the book."""
    blocks = (Note(HOW_TO, "How to use this book"), facts_table(design), states_table(design), assumed_table(design))
    return (Sheet("subject", "The subject", blocks),)


def facts(design: Design) -> tuple[tuple[str, str], ...]:
    """The build in a few lines."""
    subject, loom = design.plan.subject, design.loom
    rows = (
        ("Scale", f"1:{amount(subject.scale, digits=4)}"),
        ("Length", _length(design)),
        ("Looked at from", f"{amount(subject.viewing_distance_mm, 'mm', 3)}, in a {subject.viewing_room}"),
        ("Lamps", _lamp_words(design)),
        ("States", compressed(state.name for state in design.plan.states)),
        ("LEDs and strips", f"{len(loom.emitters)} wired, in {len(design.circuits)} circuits"),
        ("Fibres", _fibre_words(design)),
        ("Wire", f"{amount(sum(lead.cut_mm for lead in loom.leads) / 1000, 'm')} in {len(loom.leads)} leads"),
        ("Supply", _supply_words(design)),
        ("Work", f"{len(design.order.steps)} steps in {design.order.sittings} sittings"),
        ("Cost", f"roughly {range_words(design.shopping.total_eur, 'euro')}"),
    )
    return tuple(row for row in rows if row[1])


def _length(design: Design) -> str:
    subject = design.plan.subject
    if subject.length_m is None:
        return ""
    model_mm = subject.length_m * 1000 / subject.scale
    return f"{amount(subject.length_m, 'm', 3)}, {amount(model_mm, 'mm', 3)} on the model"


def _lamp_words(design: Design) -> str:
    dark = sum(lamp.dark for lamp in design.lamps)
    return f"{len(design.lamps)}" + (f", of which {dark} stay dark" if dark else "")


def _fibre_words(design: Design) -> str:
    tails = design.loom.tails
    if not tails:
        return ""
    metres = amount(sum(tail.cut_mm for tail in tails) / 1000, "m")
    return f"{len(tails)} tails, {metres}, in {len(design.loom.bundles)} bundles"


def _supply_words(design: Design) -> str:
    supply = design.power.supply
    if supply is None:
        return "none chosen yet"
    evening = run_words(design.power.evening_h)
    return f"{supply.name}, {amount(supply.nominal_v, 'V')}; an evening's states run {evening}"


def facts_table(design: Design) -> Table:
    """The facts as a table."""
    columns = (Column("fact", "What"), Column("value", "Value", wide=True))
    return Table("subject-facts", "Facts", columns, facts(design))


def states_table(design: Design) -> Table:
    """What each state is, how many lamps are lit, how moving parts stand."""
    columns = (
        Column("state", "State"), Column("rule", "By the rule"),
        Column("lamps", "Lamps lit", align="right", decimals=0),
        Column("minutes", "On an evening", "min", "right", 0), Column("poses", "Moving parts"),
        Column("note", "Note", wide=True),
    )
    rows = tuple(
        (
            state.name, state.rule or "", sum(state.name in lamp.states and not lamp.dark for lamp in design.lamps),
            state.minutes, compressed(f"{pose.part} {pose.at}" for pose in state.poses), state.note,
        )
        for state in design.plan.states
    )
    return Table("subject-states", "States", columns, rows)


def assumed_table(design: Design) -> Table:
    """What was assumed and how to measure it instead."""
    columns = (
        Column("assumed", "What is assumed", wide=True), Column("spread", "How far it may be off", wide=True),
        Column("effect", "What hangs on it", wide=True), Column("measure", "How to measure it", wide=True),
    )
    rows = tuple(
        (sentence(row.what), row.value, sentence(row.effect), sentence(row.measure)) for row in design.assumptions
    )
    caption = ("What the meter showed goes into the plan under 'measured', a value that you know under 'drawer'; the "
               "design is then worked out from it. The sheet of light says which reading to take first.")
    return Table("subject-assumed", "What is assumed", columns, rows, caption)
