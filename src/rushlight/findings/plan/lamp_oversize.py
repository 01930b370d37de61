"""A lamp that will look too large on the subject."""

from __future__ import annotations

from rushlight.errors import OutOfRange
from rushlight.findings._words import plain
from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.scale import oversize


def _look(design: Design) -> tuple[Trouble, ...]:
    most = design.drawer.habit("oversize").high or 2.0
    least = design.drawer.habit("scale_dia").low or 0.0
    told: dict[str, Trouble] = {}
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if source.hole_mm is None or lamp.model_mm is None or lamp.model_mm < least or lamp.group in told:
            continue
        times = _times(design, lamp, source)
        if times > most * (1 + 1e-9):
            told[lamp.group] = _trouble(design, lamp, source, times=times, most=most)
    return tuple(told.values())


def _times(design: Design, lamp: PlacedLamp, source: Source) -> float:
    try:
        return oversize(source.seen_mm, subject_mm=lamp.subject_mm or 0.0, scale=design.plan.subject.scale)
    except OutOfRange:
        return 0.0


def _trouble(design: Design, lamp: PlacedLamp, source: Source, *, times: float, most: float) -> Trouble:
    part = f"the {source.led}" if source.kind == "led" else f"{plain(source.fibre_mm or 0)} mm fibre"
    return Trouble(
        item=lamp.group, spot=lamp.spot, number=times, limit=most,
        says=f"'{lamp.group}' would look {plain(source.seen_mm)} mm wide ({part}), {plain(times)} times its "
             f"{plain(lamp.model_mm or 0)} mm at scale; {plain(most)} times at most.",
        cure=f"Let the LED feed a fibre of {plain(_fibre_mm(design, lamp), 3)} mm, or put it behind a bezel of "
             f"{plain(lamp.model_mm or 0)} mm.",
    )


def _fibre_mm(design: Design, lamp: PlacedLamp) -> float:
    return min((row.diameter_mm for row in design.drawer.fibres), key=lambda mm: abs(mm - (lamp.model_mm or mm)))


RULE = Rule(
    key="plan.lamp-oversize",
    grade=Grade.COULD_BE_BETTER,
    title="Lamp too large on the subject",
    unit="times",
    why="An oversize lamp is what first gives a model away.",
    cure="Take a fibre of the lamp's size instead.",
    source="habit oversize (from memory, typical); scale",
    look=_look,
)
