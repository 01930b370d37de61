"""A lamp that is smaller at scale than the smallest fibre."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    least = design.drawer.habit("scale_dia").low or 0.0
    first: dict[str, PlacedLamp] = {}
    for lamp in design.lamps:
        if lamp.model_mm is not None and lamp.model_mm < least and lamp.made_of != "strips" and lamp.opening is None:
            first.setdefault(lamp.group, lamp)
    return tuple(_trouble(design, lamp, lamp.model_mm or 0.0, least) for lamp in first.values())


def _trouble(design: Design, lamp: PlacedLamp, size: float, least: float) -> Trouble:
    fibre = min(row.diameter_mm for row in design.drawer.fibres)
    looks = fibre * design.plan.subject.scale
    return Trouble(
        item=lamp.group, spot=lamp.spot, number=size, limit=least,
        says=f"'{lamp.group}' would be {plain(size)} mm at scale; the smallest lamp that is made is {plain(least)} mm.",
        cure=f"Take the {plain(fibre)} mm fibre: it looks like {plain(looks, 3)} mm on the subject. Trim it flush, and "
             "keep its current low.",
    )


RULE = Rule(
    key="plan.lamp-under-fibre",
    grade=Grade.COULD_BE_BETTER,
    title="Lamp smaller than the smallest fibre",
    unit="mm",
    why="Thinner fibre is hardly sold and breaks in the hand, so the lamp will look a little large.",
    cure="Take the smallest fibre.",
    source="habit scale_dia: common practice, no source; sizes of fibre on sale",
    practice="scale_dia",
    look=_look,
)
