"""A splice of more leads than one joint holds well."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("splice_size").high or 3.0
    return tuple(
        Trouble(
            item=splice.name, spot=splice.spot, number=len(splice.leads) - 1, limit=limit,
            says=capital(f"{splice.name} joins {len(splice.leads) - 1} leads to its feed; {limit:g} is the most."),
            cure="Pin a splice of its own to some of these lamps, or run one more lead from the bay.",
        )
        for splice in design.loom.splices if len(splice.leads) - 1 > limit
    )


RULE = Rule(
    key="loom.splice-size",
    grade=Grade.COULD_BE_BETTER,
    title="Too many leads in a splice",
    unit="leads",
    why="Solder does not reach the inner strands of a thick joint, and the sleeve over it grows fat and stiff.",
    cure="Divide the splice into two.",
    source=PRACTICE,
    practice="splice_size",
    look=_look,
)
