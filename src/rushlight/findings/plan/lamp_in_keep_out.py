"""A hole or an LED where the part has a post, a bay or a mechanism."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.geometry.outline import Shape, shape_from_outline
from rushlight.geometry.region import distance_to_region_mm
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Point
from rushlight.model.plan_part import Part
from rushlight.stages.layouts import bay_shape, keep_out_shape


def _look(design: Design) -> tuple[Trouble, ...]:
    hole_mm = {source.lamp: source.hole_mm for source in design.sources if source.hole_mm}
    found = []
    for part in design.plan.parts:
        own = [lamp for lamp in design.lamps if lamp.name in hole_mm and lamp.spot and lamp.spot.part == part.name]
        for name, why, corners in taken(part):
            within = _within(own, corners, hole_mm)
            if within:
                found.append(_trouble(within, name, why))
    return tuple(found)


def _within(lamps: list[PlacedLamp], corners: tuple[Point, ...], hole_mm: dict[str, float]) -> list[PlacedLamp]:
    """Lamps whose hole reaches into a region."""
    shape = shape_from_outline(corners)
    if not lamps or not isinstance(shape, Shape):
        return []
    away = distance_to_region_mm([shape], [lamp.spot.at_mm for lamp in lamps if lamp.spot])
    return [lamp for lamp, mm in zip(lamps, away, strict=True) if mm < hole_mm[lamp.name] / 2]


def taken(part: Part) -> list[tuple[str, str, tuple[Point, ...]]]:
    """Name, reason and corners of each keep-out and bay of a part."""
    keep_outs = [(f"keep-out '{row.name}'", row.why, keep_out_shape(row)) for row in part.keep_outs]
    return keep_outs + [(f"bay '{bay.name}'", "bay", bay_shape(bay)) for bay in part.bays]


def _trouble(within: list[PlacedLamp], name: str, why: str) -> Trouble:
    names = [lamp.name for lamp in within]
    verb = "lies" if len(names) == 1 else "lie"
    reason = "" if why in ("other", "bay") else f" ({why})"
    return Trouble(
        item=names[0], spot=within[0].spot, says=capital(f"{listed(names)} {verb} in the {name}{reason}.")
    )


RULE = Rule(
    key="plan.lamp-in-keep-out",
    grade=Grade.WILL_FAIL,
    title="Lamp where nothing may sit",
    unit="",
    why="Behind that place something else is in the way of the fibre or the LED.",
    cure="Move the lamp out of it, or correct the keep-out or bay.",
    source="the plan's own keep-outs",
    look=_look,
)
