"""Flashing so fast that it can trigger fits in some people."""

from __future__ import annotations

from rushlight.findings._lights import rhythm_groups, rhythm_of
from rushlight.findings._words import by_group, listed, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.eye import disc_sr
from rushlight.timing.flash import FlashSafety, flash_safety


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for text, groups in rhythm_groups(design).items():
        rhythm = rhythm_of(text)
        if rhythm is None:
            continue
        safety = flash_safety(rhythm, (1.0, 1.0, 1.0), area_sr=_area_sr(design, groups))
        small_flame = rhythm.kind == "flicker" and safety.passes
        if safety.general_per_s > safety.limit_per_s and not small_flame:
            found.append(_trouble(design, text, groups, safety))
    return tuple(found)


def _area_sr(design: Design, groups: list[str]) -> float:
    """Solid angle of all that flashes in step, from the viewing distance."""
    seen = {source.lamp: source.seen_mm for source in design.sources}
    lamps = [lamp for name, own in by_group(design.lamps).items() if name in groups for lamp in own if lamp.states]
    distance = design.plan.subject.viewing_distance_mm
    return sum(disc_sr(seen[lamp.name], distance) for lamp in lamps)


def _trouble(design: Design, text: str, groups: list[str], safety: FlashSafety) -> Trouble:
    names = [f"'{name}'" for name in groups]
    return Trouble(
        item=groups[0], spot=spot_of(design, groups[0]), number=float(safety.general_per_s), limit=safety.limit_per_s,
        grade=None if not safety.passes else Grade.DOUBTFUL,
        says=f"{listed(names)} ({text}) flashes {safety.general_per_s} times a second; {plain(safety.limit_per_s)} is "
             f"the most for all eyes{', unless it stays as small as this' if safety.passes else ''}.",
    )


RULE = Rule(
    key="light.fast-flashing",
    grade=Grade.DANGEROUS,
    title="Flashing too fast",
    unit="flashes a second",
    why="Fast flashing can trigger fits in some people; about ten a second is the worst, and a large area is worse.",
    cure="Slow it to three flashes a second or fewer, or put a warning and a switch of its own with it.",
    source="WCAG 2.x success criterion 2.3.1, made for screens and taken here as a guide",
    caution="photosensitive",
    look=_look,
)
