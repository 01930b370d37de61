"""A lamp much wider than the bright spot that the eye will see."""

from __future__ import annotations

from rushlight.findings._words import plain
from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.sources.common import matching_leds

MOST_TIMES = 1.5
"""A bright spot on a lamp so much wider looks like a spot, not like the lamp (from memory, typical)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    told: dict[str, Trouble] = {}
    for lamp, source in zip(design.lamps, design.sources, strict=True):
        if source.kind not in ("led", "fibre") or not lamp.states or lamp.model_mm is None or lamp.group in told:
            continue
        if lamp.model_mm > MOST_TIMES * source.seen_mm * (1 + 1e-9):
            told[lamp.group] = _trouble(design, lamp, source, lamp.model_mm)
    return tuple(told.values())


def _trouble(design: Design, lamp: PlacedLamp, source: Source, wanted_mm: float) -> Trouble:
    made = "its LED" if source.kind == "led" else "its fibre"
    times = wanted_mm / source.seen_mm
    return Trouble(
        item=lamp.group, spot=lamp.spot, number=times, limit=MOST_TIMES,
        says=f"'{lamp.group}' is {plain(wanted_mm, 3)} mm wide at scale, {plain(times, 3)} times the "
             f"{plain(source.seen_mm, 3)} mm of {made}; {plain(MOST_TIMES)} times at most.",
        cure=f"Put a dome or a disc of diffuser {plain(wanted_mm, 3)} mm wide over it"
             f"{_wider(design, lamp, source, wanted_mm)}.",
    )


def _wider(design: Design, lamp: PlacedLamp, source: Source, wanted_mm: float) -> str:
    """The part of the drawer that is wide enough, if there is one."""
    if source.kind == "fibre":
        sizes = [row.diameter_mm for row in design.drawer.fibres if _fits(row.diameter_mm, wanted_mm)]
        return f", or take {plain(min(sizes, key=lambda mm: abs(mm - wanted_mm)))} mm fibre" if sizes else ""
    leds = [row for row in matching_leds(design.drawer, lamp.colour) if _fits(row.face_mm, wanted_mm)]
    best = min(leds, key=lambda row: (abs(row.face_mm - wanted_mm), row.name), default=None)
    return f", or take the {best.name} LED" if best else ""


def _fits(face_mm: float, wanted_mm: float) -> bool:
    return wanted_mm / MOST_TIMES <= face_mm <= wanted_mm * MOST_TIMES


RULE = Rule(
    key="light.lamp-wider-than-source",
    grade=Grade.COULD_BE_BETTER,
    title="Lamp wider than what lights it",
    unit="times",
    why="The eye sees the LED's face or the end of the fibre: a small bright spot in a lamp that stays dark around it.",
    cure="Put a dome or a disc of diffuser over it.",
    source="faces of the drawer's LEDs and fibres; the limit from memory, typical",
    look=_look,
)
