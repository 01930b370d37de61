"""A post between a strip and its window that throws a shadow on the sheet."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.geometry.outline import Shape, shape_from_outline
from rushlight.geometry.region import distance_to_region_mm
from rushlight.model.design import Design
from rushlight.model.design_light import StripLight
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.strip_cures import StripCures, post_shows, strip_cures
from rushlight.stages.strip_words import cure_words
from rushlight.stages.strips import LOOKING, find_opening, run_of


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for row in design.light.strips:
        if post_shows(row):
            emitter = design.loom.emitter(row.strip)
            shape = shape_from_outline(find_opening(design.plan, emitter, row.lamp).shape_mm)
            away = distance_to_region_mm([shape], row.shadows) if isinstance(shape, Shape) else [0.0] * len(row.shadows)
            near = min(range(len(row.shadows)), key=lambda k: (float(away[k]), k))
            cures = strip_cures(design, row.strip, goal="posts")
            found.append(_trouble(row, cures, Spot(run_of(emitter).part, *row.shadows[near]), float(away[near])))
    return tuple(found)


def _trouble(row: StripLight, cures: StripCures, post: Spot, away: float) -> Trouble:
    where = "in front of" if away == 0 else f"{plain(away, 3)} mm beside"
    return Trouble(
        item=row.lamp, spot=post, number=row.times_posts, limit=LOOKING,
        says=f"A post {where} '{row.opening}' stands in the light: where its shadow is darkest "
             f"{plain(100 * row.posts_share)} % of the light is left. The window swings {plain(row.times_posts)} times "
             f"as much as a trained eye just sees, and {plain(row.times_spots)} without it.",
        cure=cure_words(cures),
    )


RULE = Rule(
    key="light.post-shadow",
    grade=Grade.DOUBTFUL,
    title="Post throws a shadow on a window",
    unit="times",
    why="Light that reaches the sheet aslant is cut off by the post, and its shadow shows on the window.",
    cure="Move the post or the light.",
    source="straight rays past a round post, evened by the sheets, weighed by what contrast an eye sees; each cure "
           "tried so",
    look=_look,
)
