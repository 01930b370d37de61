"""More tails on an LED than fit its face."""

from __future__ import annotations

from rushlight.findings._words import capital
from rushlight.findings.loom._words import PRACTICE
from rushlight.geometry.capacity import HAND_MADE, fibres_that_fit
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(design, bundle, fit) for bundle in design.loom.bundles
        if len(bundle.tails) > (fit := _fit(design, bundle))
    )


def _fit(design: Design, bundle: Bundle) -> int:
    """How many fibres of the bundle's widest kind go on the widest bundle that the habit allows."""
    widest = max(bundle.fibre_mm, default=0.5)
    face = bundle.led_face_mm * (design.drawer.habit("bundle_led_width").high or 1.0)
    return max(fibres_that_fit(face, widest, looseness=HAND_MADE), 1)


def _trouble(design: Design, bundle: Bundle, fit: int) -> Trouble:
    count = len(bundle.tails)
    return Trouble(
        item=bundle.name, spot=design.loom.emitter(bundle.emitter).spot, number=count, limit=fit,
        says=capital(f"{bundle.name} has {count} tails; {fit} fit the LED's face of {bundle.led_face_mm:g} mm."),
        cure=f"Take {count - fit} of them to another LED, or use thinner fibre.",
    )


RULE = Rule(
    key="loom.fibres-per-led",
    grade=Grade.WILL_FAIL,
    title="Too many tails on one LED",
    unit="tails",
    why="A fibre that does not lie on the LED's face gets hardly any light.",
    cure="Share the tails among more LEDs.",
    source=PRACTICE + "; what fits is worked out from the packing of the bundle",
    practice="fibres_per_led",
    look=_look,
)
