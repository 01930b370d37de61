"""Two windows that overlap, so that their diffuser sheets lie over each other."""

from __future__ import annotations

from itertools import combinations

from rushlight.findings._words import plain
from rushlight.geometry.outline import Shape, shape_from_outline
from rushlight.geometry.region import geometry
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.model.plan_part import Opening, Part
from rushlight.stages.rooms import overlap_share
from rushlight.stages.strip_words import ratio_words
from rushlight.stages.window_panes import LEAST_SHARE

SMOOTH = 0.02
"""A step in brightness that only a critical eye sees (project proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    lit = {(lamp.spot.part, lamp.opening) for lamp in design.lamps if lamp.spot and lamp.opening and lamp.states}
    found = []
    for part in design.plan.parts:
        sheeted = [row for row in part.openings if row.diffusers and (part.name, row.name) in lit]
        for first, second in combinations(sheeted, 2):
            if _overlap(first, second) and (trouble := _trouble(design, part, first, second)):
                found.append(trouble)
    return tuple(found)


def _overlap(first: Opening, second: Opening) -> bool:
    return _boxes_meet(first, second) and _areas_meet(first, second)


def _boxes_meet(first: Opening, second: Opening) -> bool:
    (ax, ay), (bx, by) = (zip(*row.shape_mm, strict=True) for row in (first, second))
    return bool(min(ax) < max(bx) and min(bx) < max(ax) and min(ay) < max(by) and min(by) < max(ay))


def _areas_meet(first: Opening, second: Opening) -> bool:
    shapes = [shape_from_outline(row.shape_mm) for row in (first, second)]
    if not all(isinstance(shape, Shape) for shape in shapes):
        return False
    areas = [geometry([shape]) for shape in shapes if isinstance(shape, Shape)]
    return float(areas[0].intersection(areas[1]).area) > 1e-6


def _trouble(design: Design, part: Part, first: Opening, second: Opening) -> Trouble | None:
    darkest = min((overlap_share(design.drawer, *pair), pair[0].name) for pair in ((first, second), (second, first)))
    (share, beside), least = darkest, 1 - SMOOTH
    if share >= least:
        return None
    unlike = [row.sheet for row in first.diffusers] != [row.sheet for row in second.diffusers]
    of_it = f" of '{beside}'" if unlike else ""
    return Trouble(
        item=f"{first.name} and {second.name}", spot=Spot(part.name, *second.middle_mm),
        number=100 * share, limit=100 * least,
        cure=_cure(design, part, first, second),
        says=f"The sheets of '{first.name}' and '{second.name}' on '{part.name}' overlap: the band where they do is "
             f"{plain(100 * share)} % as bright as the rest{of_it}.",
    )


def _cure(design: Design, part: Part, first: Opening, second: Opening) -> str:
    """How far a sheet is to be cut back; where a strip lights both, what the windows then look like."""
    back = _under_both_mm(first, second)
    spots = {row.lamp: design.lamp(row.lamp).spot for row in design.light.strips}
    lit = [row for row in design.light.strips if row.opening in (first.name, second.name)
           and getattr(spots[row.lamp], "part", None) == part.name]
    tried = ""
    if lit:
        now = max(row.most_share / max(row.least_share, LEAST_SHARE) for row in lit)
        then = max(row.ratio_posts for row in lit)
        tried = f" (tried: brightest to darkest {ratio_words(then)} instead of {ratio_words(now)})"
    return (f"Butt the sheets edge to edge: cut that of '{second.name}' back by {plain(back, 3)} mm{tried}. Or put one "
            "sheet behind both windows.")


def _under_both_mm(first: Opening, second: Opening) -> float:
    """How far they overlap, the way that they lie apart."""
    (ax, ay), (bx, by) = ([(min(at), max(at)) for at in zip(*row.shape_mm, strict=True)] for row in (first, second))
    one, other = max(((ax, bx), (ay, by)), key=lambda pair: abs(sum(pair[0]) - sum(pair[1])))
    return float(min(one[1], other[1]) - max(one[0], other[0]))


RULE = Rule(
    key="light.overlap-band",
    grade=Grade.DOUBTFUL,
    title="Sheets overlap in a dark band",
    unit="%",
    why="Two sheets let through less than one, and the edge of the overlap is sharp.",
    cure="Butt the sheets edge to edge, or put one sheet behind both windows.",
    source="Kubelka, J. Opt. Soc. Am. 44 (1954) 330",
    look=_look,
)
