"""A bundle held by too few pieces of tube."""

from __future__ import annotations

from rushlight.findings._words import capital, plain
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble

WHOLE = "from the LED to the fan-out"
"""One piece over the whole of a short bundle stands for all three."""


def _look(design: Design) -> tuple[Trouble, ...]:
    least = design.drawer.habit("bundle_sleeves").low or 3.0
    found = []
    for bundle in design.loom.bundles:
        held = [sleeve for sleeve in bundle.sleeves if not sleeve.name.startswith("black")]
        if len(held) < least and not any(sleeve.name == WHOLE for sleeve in held):
            found.append(_trouble(design, bundle, len(held), least))
    return tuple(found)


def _trouble(design: Design, bundle: Bundle, held: int, least: float) -> Trouble:
    pieces = "piece" if held == 1 else "pieces"
    return Trouble(
        item=bundle.name, spot=design.loom.emitter(bundle.emitter).spot, number=held, limit=least,
        says=capital(f"{bundle.name} is held by {held} {pieces} of tube; {plain(least)} hold it well."),
    )


RULE = Rule(
    key="loom.bundle-sleeves",
    grade=Grade.COULD_BE_BETTER,
    title="Bundle held in too few places",
    unit="sleeves",
    why="Between its sleeves a bundle spreads, and its end no longer sits square on the LED.",
    cure="Put one piece at the LED, one at the middle, one where the fibres part.",
    source=PRACTICE,
    practice="bundle_sleeves",
    look=_look,
)
