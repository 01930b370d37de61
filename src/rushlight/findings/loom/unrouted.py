"""Something that no lead or fibre reaches."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.sources.common import matching_leds


def _look(design: Design) -> tuple[Trouble, ...]:
    alike: dict[tuple[str, str], list[str]] = {}
    for row in design.loom.unrouted:
        alike.setdefault((row.part, row.why), []).append(row.item)
    return tuple(
        Trouble(item=items[0], says=capital(f"{listed(items)} on '{part}': {why.rstrip('.')}."),
                cure=_instead(design, items))
        for (part, why), items in alike.items()
    )


def _instead(design: Design, items: list[str]) -> str:
    """For a lone lamp that no fibre reaches the smallest LED that lies at it; the rule's own cure else."""
    source = next((row for row in design.sources if row.lamp == items[0]), None)
    if len(items) > 1 or source is None or source.kind != "fibre":
        return ""
    leds = matching_leds(design.drawer, design.lamp(items[0]).colour)
    if not leds:
        return ""
    least = min(leds, key=lambda led: (led.body_mm, led.height_mm, led.name))
    size = f"{plain(least.body_mm)} mm wide and {plain(least.height_mm)} mm high"
    return (f"{OPEN_A_WAY} Or light it without fibre, where two wires get to it: '{least.name}', {size}, lies in or "
            f"behind its hole (plan file: source: {{kind: led, led: {least.name}}}).")


OPEN_A_WAY = "Open a way: make a keep-out smaller, move the lamp, or add a crossing that carries what is needed."


RULE = Rule(
    key="loom.unrouted",
    grade=Grade.WILL_FAIL,
    title="Not reached by lead or fibre",
    unit="",
    why="Without a way from the bay it stays dark.",
    cure=OPEN_A_WAY,
    source="geometry: routes among keep-outs",
    look=_look,
)
