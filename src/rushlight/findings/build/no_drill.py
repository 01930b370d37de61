"""A hole that no drill of the drawer makes."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design, Source
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    none = [source for source in design.sources if source.hole_mm is not None and source.drill is None]
    if not none:
        return ()
    widest: Source = max(none, key=lambda source: source.hole_mm or 0.0)
    largest = max((drill.diameter_mm for drill in design.drawer.drills), default=0.0)
    return (Trouble(
        item=widest.lamp, spot=design.lamp(widest.lamp).spot, number=widest.hole_mm, limit=largest,
        says=capital(f"{listed([source.lamp for source in none])}: a hole of {plain(widest.hole_mm or 0.0, 3)} mm; the "
                     f"largest drill of the drawer makes {plain(largest, 3)} mm."),
    ),)


RULE = Rule(
    key="build.no-drill",
    grade=Grade.COULD_BE_BETTER,
    title="No drill for a hole",
    unit="mm",
    why="A hole opened up by knife is seldom round, and light passes beside the LED.",
    cure="Open it with a taper reamer or a round file, step by step, until the LED just goes in.",
    source="the drills of the drawer",
    look=_look,
)
