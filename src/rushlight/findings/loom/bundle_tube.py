"""A bundle that no tube of the drawer holds."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble


def _taped(bundle: Bundle) -> bool:
    return any(sleeve.tube == "tape" for sleeve in bundle.sleeves if not sleeve.name.startswith("black"))


def _look(design: Design) -> tuple[Trouble, ...]:
    taped = [bundle for bundle in design.loom.bundles if _taped(bundle)]
    if not taped:
        return ()
    width = taped[0].hand_made_mm
    return (Trouble(
        item=taped[0].name, spot=design.loom.emitter(taped[0].emitter).spot,
        says=capital(f"{listed([bundle.name for bundle in taped])}: no tube slips over {plain(width.high)} mm and "
                     "grips "
                     f"{plain(taped[0].ideal_mm)} mm; tape stands in."),
    ),)


RULE = Rule(
    key="loom.bundle-tube",
    grade=Grade.COULD_BE_BETTER,
    title="No tube for a bundle",
    unit="",
    why="A bundle that is only taped twists, and its fibres slide back from the LED.",
    cure="Add or leave out a fibre, or get a 3:1 tube that your drawer does not list yet.",
    source="geometry: supplied and recovered bores of the drawer's tubes",
    look=_look,
)
