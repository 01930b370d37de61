"""Too little slack for two halves to open like a book."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import PRACTICE, crossing_spot, used
from rushlight.geometry.slack import chord_mm
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Crossing


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble for crossing in design.plan.crossings
        if crossing.kind == "hinged" and crossing.hinge_distance_mm is not None and used(design, crossing)
        and (trouble := _short(design, crossing, crossing.hinge_distance_mm)) is not None
    )


def _short(design: Design, crossing: Crossing, distance_mm: float) -> Trouble | None:
    spare = design.drawer.habit("book_slack").low or 20.0
    apart = chord_mm(distance_mm, crossing.opening_deg)
    needed = apart + spare
    if crossing.slack_mm >= needed - 1e-9:
        return None
    return Trouble(
        item=crossing.name, spot=crossing_spot(crossing), number=crossing.slack_mm, limit=needed,
        grade=Grade.WILL_FAIL if crossing.slack_mm < apart else None,
        says=capital(f"{crossing.name}: {plain(crossing.slack_mm)} mm of slack; to open by "
                     f"{plain(crossing.opening_deg, 3)} deg asks for {plain(apart)} mm and {plain(spare)} mm to "
                     "spare."),
        cure=f"Give the crossing {plain(needed)} mm of slack, or bring it nearer to the hinge edge.",
    )


RULE = Rule(
    key="loom.book-slack",
    grade=Grade.DOUBTFUL,
    title="Too little slack to open the halves",
    unit="mm",
    why="Without a loop the halves cannot be laid open for the last tests, or the lead tears off when they are.",
    cure="Leave a longer loop.",
    source=PRACTICE + "; chord of the opening",
    practice="book_slack",
    look=_look,
)
