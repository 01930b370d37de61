"""A drill that leaves a fibre too little or too much room."""

from __future__ import annotations

from rushlight.findings._words import capital, plain, spot_of
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design, Source
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    habit = design.drawer.habit("fibre_hole")
    low, high = habit.low or 0.03, habit.high or 0.15
    drills = {drill.name: drill.diameter_mm for drill in design.drawer.drills}
    kinds: dict[tuple[str, float], list[Source]] = {}
    for source in design.sources:
        if source.kind == "fibre" and source.fibre_mm and source.drill in drills:
            kinds.setdefault((source.drill or "", source.fibre_mm), []).append(source)
    found = []
    for (drill, fibre_mm), sources in kinds.items():
        over_mm, most_mm = drills[drill] - fibre_mm, high + _thicker_mm(design, fibre_mm)
        if over_mm < low - 1e-9 or over_mm > most_mm + 1e-9:
            found.append(_trouble(design, sources, over_mm, low=low, high=most_mm))
    return tuple(found)


def _thicker_mm(design: Design, fibre_mm: float) -> float:
    """How much thicker than its name a fibre may be: its hole is drilled for the thickest, so that it may be as much
    wider."""
    return design.drawer.fibre(fibre_mm).tolerance_mm


def _trouble(design: Design, sources: list[Source], over_mm: float, *, low: float, high: float) -> Trouble:
    first = sources[0]
    tight = over_mm < low
    group = design.lamp(first.lamp).group
    limit = low if tight else high
    word = "only" if tight else "as much as"
    return Trouble(
        item=first.lamp, spot=spot_of(design, group), number=over_mm, limit=limit,
        says=capital(f"{'1 hole' if len(sources) == 1 else f'{len(sources)} holes'} with the {first.drill} drill "
                     f"{'leaves' if len(sources) == 1 else 'leave'} the {plain(first.fibre_mm or 0)} mm fibre {word} "
                     f"{plain(over_mm)} mm; {plain(low)} to {plain(high)} mm is right."),
        cure=f"Use {_drill(design, first.fibre_mm or 0.0, low, high)}, or measure your fibre.",
    )


def _drill(design: Design, fibre_mm: float, low: float, high: float) -> str:
    """The drill on sale that leaves a fibre about the middle of what is right; its size where none does."""
    middle = fibre_mm + (low + high) / 2
    right = [drill for drill in design.drawer.drills if low - 1e-9 <= drill.diameter_mm - fibre_mm <= high + 1e-9]
    best = min(right, key=lambda drill: (abs(drill.diameter_mm - middle), drill.name), default=None)
    return f"the {best.name} drill" if best else f"a drill of {plain(middle, 3)} mm"


RULE = Rule(
    key="loom.fibre-hole",
    grade=Grade.COULD_BE_BETTER,
    title="Hole does not suit its fibre",
    unit="mm",
    why="A tight hole strips the fibre's skin or will not take it; a wide one lets light and glue past it.",
    cure="Use the drill next to it.",
    source=PRACTICE,
    practice="fibre_hole",
    look=_look,
)
