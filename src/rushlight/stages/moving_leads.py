"""How far the two ends of a crossing come apart while the parts between them move through their poses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rushlight.geometry.folded import moved_by
from rushlight.geometry.slack import chord_mm
from rushlight.model.design import Design
from rushlight.model.plan import Crossing, Plan
from rushlight.model.plan_part import Part
from rushlight.stages.poses import movers_under
from rushlight.stages.stands import frame_to_root

STEPS = 73
"""Places of a swing that are looked at: every 5 degrees of a full turn, so that chords are short by 0.1 % at most."""


@dataclass(frozen=True, slots=True)
class Swing:
    """What moves between the two ends of a crossing, from one end of its poses to the other.

    `turn_deg` and `travel_mm` are the whole way of the part; `apart_mm` is the greatest distance of the two ends on it,
    None where their stands do not tell. Where the plan does not say if it turns or slides (not `said`), it turns.
    """

    part: str
    turn_deg: float
    travel_mm: float
    apart_mm: float | None
    said: bool = True


def swing_of(plan: Plan, crossing: Crossing) -> Swing | None:
    """What moves between the ends of a crossing; None where nothing does, as far as the plan says.

    Two parts that ride on one that moves do not move against one another.
    """
    first, second = (plan.part(end.part) for end in crossing.ends)
    moving = [name for name in _between(plan, first, second) if _way(plan.part(name)) > 0.0]
    if not moving:
        return None
    part = max((plan.part(name) for name in moving), key=_way)
    slides = part.stands.slide_deg is not None if part.stands else crossing.kind == "sliding"
    way = _way(part)
    said = bool(part.stands and part.stands.moves) or crossing.kind in ("pivoting", "sliding")
    return Swing(part.name, 0.0 if slides else way, way if slides else 0.0, _apart_mm(plan, crossing, moving), said)


@dataclass(frozen=True, slots=True)
class Loop:
    """The loop that leads want at a crossing into a part that moves.

    `apart_mm` is how far its ends, or the anchors beside them, come apart; `spare_mm` what the habit adds.
    """

    crossing: str
    moves: str
    apart_mm: float
    spare_mm: float

    @property
    def wanted_mm(self) -> float:
        """Length of the loop."""
        return self.apart_mm + self.spare_mm


def loop_of(design: Design, crossing: Crossing) -> Loop:
    """What a crossing asks for: by its own numbers, by the poses of what moves, by where both of its ends stand."""
    swing = swing_of(design.plan, crossing)
    spare = design.drawer.habit("book_slack").low or 20.0
    apart = swing.apart_mm if swing and swing.apart_mm is not None else 0.0
    if crossing.kind == "sliding" or (swing and swing.travel_mm):
        own = crossing.travel_mm if crossing.kind == "sliding" else 0.0
        travel = max(own, swing.travel_mm if swing else 0.0)
        return Loop(crossing.name, f"slides {_number(travel)} mm", max(travel, apart), spare)
    turn = max(crossing.opening_deg if crossing.kind == "pivoting" else 0.0, swing.turn_deg if swing else 0.0)
    anchors = chord_mm(design.drawer.habit("strain").high or 15.0, min(turn, 360.0))
    return Loop(crossing.name, f"turns {_number(turn)} deg", max(anchors, apart), spare)


def _number(value: float) -> str:
    return f"{value:.4g}"


def _way(part: Part) -> float:
    """From the least to the greatest value of its poses."""
    values = [pose.value for pose in part.poses]
    return max(values) - min(values) if values else 0.0


def _between(plan: Plan, first: Part, second: Part) -> tuple[str, ...]:
    """Parts that move between two: those under one and not under the other; the two themselves where no stand says."""
    if _root(plan, first) != _root(plan, second):
        return (first.name, second.name)
    one, other = movers_under(plan, first.name), movers_under(plan, second.name)
    silent = [part.name for part in (first, second) if part.stands is None or not part.stands.moves]
    known = [name for name in (*one, *other) if (name in one) != (name in other)]
    return tuple(dict.fromkeys((*known, *(name for name in silent if name not in (*one, *other)))))


def _root(plan: Plan, part: Part) -> str:
    while part.stands is not None:
        part = plan.part(part.stands.over)
    return part.name


def _apart_mm(plan: Plan, crossing: Crossing, moving: list[str]) -> float | None:
    """The greatest distance of the two ends, every mover on its way from one end of its poses to the other."""
    stands = [plan.part(name).stands for name in moving]
    roots = {_root(plan, plan.part(end.part)) for end in crossing.ends}
    if len(roots) > 1 or any(stand is None or not stand.moves for stand in stands):
        return None
    greatest = 0.0
    for share in np.linspace(0.0, 1.0, STEPS):
        values = {name: _at(plan.part(name), float(share)) for name in moving}
        ends = []
        for end in crossing.ends:
            frame, _ = frame_to_root(plan, end.part, end.at_mm, values)
            ends.append(moved_by(frame, end.at_mm)[0])
        greatest = max(greatest, float(np.linalg.norm(ends[0] - ends[1])))
    return greatest


def _at(part: Part, share: float) -> float:
    values = [pose.value for pose in part.poses]
    return min(values) + share * (max(values) - min(values))
