"""More tails on an LED than fit its face."""

from __future__ import annotations

from bisect import bisect_right

from rushlight.findings._words import capital
from rushlight.findings.loom._words import PRACTICE
from rushlight.geometry.capacity import HAND_MADE, fibres_that_fit
from rushlight.geometry.circles import fits_within
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(
        _trouble(design, bundle, fit) for bundle in design.loom.bundles
        if len(bundle.tails) > (fit := _fit(design, bundle))
    )


def _fit(design: Design, bundle: Bundle) -> int:
    """How many of its fibres go on the widest bundle that the habit allows: of mixed ones the widest are left out."""
    face = bundle.led_face_mm * (design.drawer.habit("bundle_led_width").high or 1.0)
    widths = sorted(bundle.fibre_mm) or [0.5]
    if widths[0] == widths[-1]:
        return max(fibres_that_fit(face, widths[-1], looseness=HAND_MADE), 1)
    if bundle.ideal_mm * HAND_MADE <= face:
        return len(widths)
    # Each count holds the one before it, so that halving the range finds the last that fits.
    counts = range(2, len(widths))
    return 1 + bisect_right(counts, False, key=lambda count: not fits_within(widths[:count], face / HAND_MADE))


def _trouble(design: Design, bundle: Bundle, fit: int) -> Trouble:
    count, widths = len(bundle.tails), sorted({*bundle.fibre_mm})
    mixed = len(widths) > 1
    left = "the widest" if mixed else "them"
    return Trouble(
        item=bundle.name, spot=design.loom.emitter(bundle.emitter).spot, number=count, limit=fit,
        says=capital(f"{bundle.name} has {count} tails{f' of {_listed_mm(widths)}' if mixed else ''}; {fit} "
                     f"{'of them, the widest left out, ' if mixed else ''}fit the LED's face of "
                     f"{bundle.led_face_mm:g} mm."),
        cure=f"Take {count - fit} of {left} to another LED, or use thinner fibre.",
    )


def _listed_mm(widths_mm: list[float]) -> str:
    """Widths in words."""
    return f"{', '.join(f'{mm:g}' for mm in widths_mm[:-1])} and {widths_mm[-1]:g} mm"


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
