"""A splice for which no tube of the drawer both slips on and grips."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    known = {tube.name for tube in design.drawer.tubes}
    bare = [splice for splice in design.loom.splices if splice.sleeve.tube not in known]
    if not bare:
        return ()
    names = listed([splice.name for splice in bare])
    return (Trouble(item=bare[0].name, spot=bare[0].spot,
                    says=capital(f"{names}: no tube slips over the leads and grips the lone one; {bare[0].sleeve.tube} "
                                 "stands in.")),)


RULE = Rule(
    key="loom.splice-tube",
    grade=Grade.COULD_BE_BETTER,
    title="No tube for a splice",
    unit="",
    why="Tape lets go in the warmth of a closed model, and then the joint lies bare.",
    cure="Use wires that differ less in thickness, or a 3:1 tube that your drawer does not list yet.",
    source="geometry: supplied and recovered bores of the drawer's tubes",
    look=_look,
)
