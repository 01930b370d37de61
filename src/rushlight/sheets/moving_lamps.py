"""Lamps on parts that move: where each hangs over the part at the foot of it all, in every state that lights it."""

from __future__ import annotations

from rushlight.geometry.folded import moved_by
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.plan import Plan
from rushlight.model.sheet import Block, Cell, Column, Table
from rushlight.sheets.amounts import amount
from rushlight.stages.poses import movers_under, pose_in
from rushlight.stages.stands import frame_to_root, outward, values_in


def moving_lamp_blocks(design: Design) -> list[Block]:
    """One table; nothing where no lamp moves with a part of which the plan says where it stands."""
    rows: dict[tuple[Cell, ...], list[str]] = {}
    for lamp in design.lamps:
        for state in lamp.states if lamp.spot and not lamp.dark else ():
            moving = _moving(design.plan, lamp)
            if moving:
                rows.setdefault(_row(design.plan, lamp, moving, state), []).append(state)
    if not rows:
        return []
    columns = (
        Column("lamp", "Lamp", wide=True), Column("states", "In", wide=True),
        Column("stands", "As it stands", wide=True), Column("over", "Over"),
        Column("x_mm", "x", "mm", "right", 1), Column("y_mm", "y", "mm", "right", 1),
        Column("height_mm", "Height", "mm", "right", 1),
    )
    cells = tuple((key[0], ", ".join(states), *key[1:]) for key, states in rows.items())
    caption = ("Its place on the part, carried along; x and y as the part below is drawn. Leads follow by the loops of "
               "the cut list.")
    return [Table("light-moving", "Lamps on moving parts", columns, cells, caption)]


def _moving(plan: Plan, lamp: PlacedLamp) -> tuple[str, ...]:
    assert lamp.spot is not None
    under = movers_under(plan, lamp.spot.part)
    return tuple(name for name in under if len({pose.value for pose in plan.part(name).poses}) > 1)


def _row(plan: Plan, lamp: PlacedLamp, moving: tuple[str, ...], state: str) -> tuple[Cell, ...]:
    assert lamp.spot is not None
    frame, root = frame_to_root(plan, lamp.spot.part, lamp.spot.at_mm, values_in(plan, state))
    x, y, z = moved_by(frame, lamp.spot.at_mm)[0]
    stands = ", ".join(_stands(plan, name, state) for name in moving)
    height = z * outward(plan.part(root))
    return (lamp.name, stands, root, *(round(float(value), 1) for value in (x, y, height)))


def _stands(plan: Plan, part: str, state: str) -> str:
    pose, stand = pose_in(plan, part, state), plan.part(part).stands
    assert pose is not None and stand is not None
    return f"{part}: {pose.name}, {amount(pose.value, 'mm' if stand.slide_deg is not None else 'deg', 3)}"
