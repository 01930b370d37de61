"""An illuminator without an opaque sleeve of tube over LED and bundle."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble

TAPE = "black tape"


def _black(bundle: Bundle) -> str:
    """What makes the joint dark; empty for nothing."""
    return next((sleeve.tube for sleeve in bundle.sleeves if sleeve.name.startswith("black")), "")


def _look(design: Design) -> tuple[Trouble, ...]:
    none = [bundle for bundle in design.loom.bundles if not _black(bundle)]
    taped = [bundle for bundle in design.loom.bundles if _black(bundle) == TAPE]
    found = []
    if none:
        found.append(_trouble(design, none, "no opaque sleeve over LED and bundle.", "", None))
    if taped:
        text = "no tube goes over the LED and still grips the bundle; black tape stands in."
        cure = "Wind black tape twice round LED and bundle, or fill the bundle up with spare fibres."
        found.append(_trouble(design, taped, text, cure, Grade.COULD_BE_BETTER))
    return tuple(found)


def _trouble(design: Design, bundles: list[Bundle], text: str, cure: str, grade: Grade | None) -> Trouble:
    names = listed([bundle.name for bundle in bundles])
    return Trouble(item=bundles[0].name, spot=design.loom.emitter(bundles[0].emitter).spot, grade=grade, cure=cure,
                   says=capital(f"{names}: {text}"))


RULE = Rule(
    key="loom.light-tight-joint",
    grade=Grade.WILL_FAIL,
    title="LED and bundle not joined in the dark",
    unit="",
    why="Most of an LED's light misses the fibres; without a black sleeve it floods the inside and leaks through its "
        "walls.",
    cure="Put a black, opaque sleeve over LED and bundle.",
    source=PRACTICE,
    practice="light_tight_joint",
    look=_look,
)
