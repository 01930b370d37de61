"""An entry under `rhythms` for a rhythm that no wired lamp has."""

from __future__ import annotations

from rushlight.errors import nearest_word
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.circuits import flashing_circuits


def _look(design: Design) -> tuple[Trouble, ...]:
    kept = dict.fromkeys(circuit.rhythm for circuit in flashing_circuits(design.circuits, design.loom))
    return tuple(_trouble(maker.rhythm, list(kept)) for maker in design.plan.rhythms if maker.rhythm not in kept)


def _trouble(rhythm: str, kept: list[str]) -> Trouble:
    near = nearest_word(rhythm, kept)
    hint = f" Write it as the lamps have it: '{near}'." if near else ""
    return Trouble(
        item=f"rhythm {rhythm}", says=f"The rhythm '{rhythm}' is in the plan, and no wired lamp has it.",
        cure=f"Take the entry out.{hint}",
    )


RULE = Rule(
    key="plan.rhythm-unused",
    grade=Grade.COULD_BE_BETTER,
    title="Maker of a rhythm that no lamp has",
    unit="",
    why="The entry does nothing; perhaps the rhythm of the lamps is written otherwise, and they burn steadily.",
    cure="Take the entry out, or write the rhythm as the lamps have it.",
    source="the plan's `rhythms` and its lamps",
    look=_look,
)
