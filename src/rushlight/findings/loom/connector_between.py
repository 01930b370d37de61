"""A removable part that hangs on a fibre or on leads without a plug."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.loom._words import PRACTICE, crossing_spot, runs_through
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Crossing


def _look(design: Design) -> tuple[Trouble, ...]:
    removable = {part.name for part in design.plan.parts if part.removable}
    found = []
    for crossing in design.plan.crossings:
        apart = [end.part for end in crossing.ends if end.part in removable]
        if apart or crossing.kind == "plug":
            found += _troubles(design, crossing, apart[0] if apart else crossing.ends[1].part)
    return tuple(found)


def _troubles(design: Design, crossing: Crossing, part: str) -> list[Trouble]:
    leads, tails = runs_through(design, crossing)
    plugged = any(plug.crossing == crossing.name for plug in design.loom.plugs)
    found = []
    if tails:
        verb = "passes" if len(tails) == 1 else "pass"
        found.append(Trouble(
            item=crossing.name, spot=crossing_spot(crossing),
            says=capital(f"{listed([tail.name for tail in tails])} {verb} {crossing.name}, at which '{part}' comes "
                         "off; a "
                         "fibre cannot be unplugged."),
            cure="Let the crossing carry leads only and give the part room for an illuminator of its own."))
    if leads and not plugged:
        found.append(Trouble(
            item=crossing.name, spot=crossing_spot(crossing),
            says=capital(f"{listed([lead.name for lead in leads])} lead to '{part}', which comes off, without a plug."),
            cure="Put a plug into the crossing."))
    return found


RULE = Rule(
    key="loom.connector-between",
    grade=Grade.WILL_FAIL,
    title="A part that comes off is tied on",
    unit="",
    why="Each removable part needs a plug of its own, or it is torn off its leads the first time.",
    cure="Give each removable part its own plug.",
    source=PRACTICE,
    practice="connector_between",
    look=_look,
)
