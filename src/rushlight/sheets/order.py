"""The build order: steps by sitting, cautions at the step where they matter."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.design import Step as Work
from rushlight.model.sheet import Block, Caution, Note, Sheet, Step, Steps
from rushlight.sheets.amounts import amount, compressed, sentence
from rushlight.sheets.numbering import lamp_numbers
from rushlight.tables import row_by

HOW = (
    "Steps in an order that keeps everything reachable until it is tested. A sitting ends where glue or paint must "
    "dry. Tick a box when the step is done. A step marked 'photograph' hides something: take a picture of it first."
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """All steps, one block a sitting."""
    sittings = sorted({step.sitting for step in design.order.steps})
    blocks: tuple[Block, ...] = tuple(_sitting(design, number) for number in sittings)
    return (Sheet("order", "Build order", (Note(HOW), *blocks)),)


def _sitting(design: Design, number: int) -> Steps:
    own = [step for step in design.order.steps if step.sitting == number]
    title = f"Sitting {number} of {design.order.sittings}: steps {own[0].number} to {own[-1].number}"
    return Steps(tuple(_step(design, step) for step in own), title)


def _step(design: Design, step: Work) -> Step:
    where = f": {step.part}" if step.part else ""
    return Step(
        text=f"{sentence(step.title)}{where}", detail="\n\n".join(_details(design, step)), label=str(step.number),
        gate=step.kind == "gate", cautions=cautions_at(design, step),
    )


def _details(design: Design, step: Work) -> list[str]:
    """What to do, then what to mind, each as one paragraph."""
    work = [f"{sentence('; '.join(step.details))}." if step.details else "", _items(design, step),
            f"Write the readings into the form of step {step.number}." if step.readings else "", _done(design, step)]
    mind = ["Photograph this before you go on: it will be hidden." if step.photograph else "",
            f"Wait {amount(step.wait_h, 'h')}." if step.wait_h else "", _undo(step)]
    said = (" ".join(part for part in parts if part) for parts in (work, mind))
    return [part for part in said if part]


def _done(design: Design, step: Work) -> str:
    """What the plan says was done already."""
    rows = [row for row in design.plan.as_built
            if row.step.casefold() in (step.key.casefold(), step.title.casefold()) and row.part in (None, step.part)
            and row.how != "begun"]
    told = (compressed(word for word in (row.when, row.used and f"with {row.used}", row.note) if word) for row in rows)
    return " ".join(f"Done: {words}." if words else "Done." for words in told)


def _items(design: Design, step: Work) -> str:
    """What the step handles; lamps in the order of the lamp list."""
    numbers = lamp_numbers(design)
    items = sorted(step.items, key=lambda name: numbers.get(name, 0))
    return f"For: {compressed(items)}." if items else ""


def _undo(step: Work) -> str:
    undo = "" if step.undo == "can be undone" else f"{sentence(step.undo)}."
    later = f"After close-up: {step.after_close}." if step.after_close else ""
    return f"{undo} {later}".strip()


def cautions_at(design: Design, step: Work) -> tuple[Caution, ...]:
    """Cautions of a step; the same work on the next part does not repeat them."""
    first = next(row for row in design.order.steps if row.key == step.key)
    if first.number != step.number:
        return ()
    return tuple(caution_of(key) for key in step.cautions)


def caution_of(key: str) -> Caution:
    """A caution of the table, as the book prints it."""
    row = row_by("safety_cautions", "key", key)
    return Caution(row["hazard"], row["caution"], row["standard_named"])
