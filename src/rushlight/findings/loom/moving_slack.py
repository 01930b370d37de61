"""Too little slack where leads follow a part that turns or slides."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import crossing_spot, used
from rushlight.geometry.slack import chord_mm
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Crossing


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble for crossing in design.plan.crossings
        if crossing.kind in ("pivoting", "sliding") and used(design, crossing)
        and (trouble := _short(design, crossing)) is not None
    )


def _short(design: Design, crossing: Crossing) -> Trouble | None:
    spare = design.drawer.habit("book_slack").low or 20.0
    moves = _moves_mm(design, crossing)
    needed = moves + spare
    if crossing.slack_mm >= needed - 1e-9:
        return None
    what = f"slides {plain(moves)} mm" if crossing.kind == "sliding" else f"turns {plain(crossing.opening_deg)} deg"
    pulls = crossing.slack_mm < moves
    return Trouble(
        item=crossing.name, spot=crossing_spot(crossing), number=crossing.slack_mm, limit=needed,
        grade=Grade.WILL_FAIL if pulls else None,
        says=capital(f"{crossing.name}: {plain(crossing.slack_mm)} mm of slack, and the part {what}, which asks for "
                     f"{plain(moves)} mm and {plain(spare)} mm to spare."),
        cure=f"Give the crossing {plain(needed)} mm of slack, or fasten the leads nearer to the pivot.",
    )


def _moves_mm(design: Design, crossing: Crossing) -> float:
    """How far the last anchors on both sides move apart; a pivot's anchors may lie the habit's distance from it."""
    if crossing.kind == "sliding":
        return crossing.travel_mm
    return chord_mm(design.drawer.habit("strain").high or 15.0, crossing.opening_deg)


RULE = Rule(
    key="loom.moving-slack",
    grade=Grade.DOUBTFUL,
    title="Too little slack at a moving part",
    unit="mm",
    why="A lead that pulls at every turn breaks at its anchor after some dozens of them.",
    cure="Leave a longer loop.",
    source="geometry.slack: chord of the turn, with anchors 15 mm from the pivot (habit strain)",
    look=_look,
)
