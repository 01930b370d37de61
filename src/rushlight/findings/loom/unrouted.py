"""Something that no lead or fibre reaches."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.plan.lamp_in_keep_out import taken
from rushlight.geometry.outline import Shape, shape_from_outline
from rushlight.geometry.region import distance_to_region_mm
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.sources.common import matching_leds


def _look(design: Design) -> tuple[Trouble, ...]:
    alike: dict[tuple[str, str], list[str]] = {}
    for row in design.loom.unrouted:
        alike.setdefault((row.part, row.why), []).append(row.item)
    return tuple(_trouble(design, part, why.rstrip("."), items) for (part, why), items in alike.items())


def _trouble(design: Design, part: str, why: str, items: list[str]) -> Trouble:
    says = capital(f"{listed(items)} on '{part}': {why}.")
    ends = _shut_ends(design, part) if why.startswith("no crossing") else []
    if not ends:
        return Trouble(item=items[0], says=says, cure=_instead(design, items))
    told = listed([f"'{name}' ends in the {place}" for name, place in ends])
    return Trouble(item=items[0], says=f"{says} {told}, where nothing may run.",
                   cure=f"Move that end out of the {ends[0][1]}, or make the {ends[0][1].split(' ')[0]} smaller.")


def _shut_ends(design: Design, part: str) -> list[tuple[str, str]]:
    """Crossings of a part that no lead gets to, as one end lies in a keep-out or bay, and that place."""
    found = []
    for crossing in design.plan.crossings:
        for end in crossing.ends if part in {end.part for end in crossing.ends} else ():
            for name, _, corners in taken(design.plan.part(end.part)):
                shape = shape_from_outline(corners)
                if isinstance(shape, Shape) and distance_to_region_mm([shape], [end.at_mm])[0] <= 0.0:
                    found.append((crossing.name, f"{name} of '{end.part}'"))
    return found


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
