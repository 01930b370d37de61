"""Too little slack where leads follow a part that turns or slides."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import crossing_spot, used
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan import Crossing
from rushlight.stages.moving_leads import loop_of, swing_of


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        trouble for crossing in design.plan.crossings
        if _follows(design, crossing) and used(design, crossing)
        and (trouble := _short(design, crossing)) is not None
    )


def _follows(design: Design, crossing: Crossing) -> bool:
    """Whether its leads follow a move: a pivot, a slide, or a plug into a part that has poses."""
    return crossing.kind in ("pivoting", "sliding") or (
        crossing.kind == "plug" and swing_of(design.plan, crossing) is not None)


def _short(design: Design, crossing: Crossing) -> Trouble | None:
    loop = loop_of(design, crossing)
    moves, spare, needed = loop.apart_mm, loop.spare_mm, loop.wanted_mm
    if crossing.slack_mm >= needed - 1e-9:
        return None
    what = loop.moves
    pulls = crossing.slack_mm < moves
    return Trouble(
        item=crossing.name, spot=crossing_spot(crossing), number=crossing.slack_mm, limit=needed,
        grade=Grade.WILL_FAIL if pulls else None,
        says=capital(f"{crossing.name}: {plain(crossing.slack_mm)} mm of slack, and the part {what}, which asks for "
                     f"{plain(moves)} mm and {plain(spare)} mm to spare."),
        cure=f"Give the crossing {plain(needed)} mm of slack, or fasten the leads nearer to the pivot.",
    )


RULE = Rule(
    key="loom.moving-slack",
    grade=Grade.DOUBTFUL,
    title="Too little slack at a moving part",
    unit="mm",
    why="A lead that pulls at every turn breaks at its anchor after some dozens of them.",
    cure="Leave a longer loop.",
    source="greatest distance of the crossing's ends over its poses, where stands tell it; chord of "
           "the turn, with anchors 15 mm from the pivot (habit strain)",
    look=_look,
)
