"""A hole that is very deep for its drill."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain, spot_of
from rushlight.model.design import Design, Source
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = design.drawer.habit("drill_depth").high or 8.0
    spots = {lamp.name: lamp.spot for lamp in design.lamps}
    walls = {part.name: part.wall_mm for part in design.plan.parts}
    deep: dict[tuple[str, str], list[tuple[float, Source]]] = {}
    for source in design.sources:
        spot = spots.get(source.lamp)
        if source.hole_mm and spot is not None and walls[spot.part] / source.hole_mm > limit:
            row = (walls[spot.part] / source.hole_mm, source)
            deep.setdefault((spot.part, design.lamp(source.lamp).group), []).append(row)
    return tuple(_trouble(design, rows, part, limit) for (part, _), rows in deep.items())


def _trouble(design: Design, rows: list[tuple[float, Source]], part: str, limit: float) -> Trouble:
    times, source = max(rows, key=lambda row: row[0])
    return Trouble(
        item=source.lamp, spot=spot_of(design, design.lamp(source.lamp).group), number=times, limit=limit,
        says=capital(f"{listed([row.lamp for _, row in rows])}: a hole of {plain(source.hole_mm or 0.0)} mm through "
                     f"the {plain(design.plan.part(part).wall_mm)} mm wall of '{part}' is {plain(times)} times as deep "
                     "as wide."),
        cure=f"Thin the wall from inside to {plain(limit * (source.hole_mm or 0.0))} mm at the hole, drill from "
             "both sides, or use thicker fibre.",
    )


RULE = Rule(
    key="build.fine-drill",
    grade=Grade.COULD_BE_BETTER,
    title="Hole too deep for its drill",
    unit="times",
    why="A fine drill snaps or wanders in a deep hole; eye protection, a pin vice by hand, backing behind the part.",
    cure="Thin the wall behind it, or drill from both sides.",
    source="habit drill_depth (from memory, typical of twist drills)",
    look=_look,
)
