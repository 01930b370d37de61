"""A bundle wider than its LED's face, or so narrow that its lamps fall short."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.loom._words import PRACTICE
from rushlight.model.design import Design
from rushlight.model.design_loom import Bundle
from rushlight.model.finding import Grade, Rule, Trouble

SHORT_SHARE = 0.7
"""A lamp counts as short of light under this share of what is wanted (half a stop)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    habit = design.drawer.habit("bundle_led_width")
    low, high = habit.low or 0.8, habit.high or 1.1
    wide = [bundle for bundle in design.loom.bundles if _share(bundle) > high]
    dim = _short(design)
    narrow = [
        bundle for bundle in design.loom.bundles
        if _share(bundle) < low and dim & set(design.loom.emitter(bundle.emitter).lamps)
    ]
    return (*_troubles(design, wide, high, over=True), *_troubles(design, narrow, low, over=False))


def _share(bundle: Bundle) -> float:
    return bundle.hand_made_mm.typical / bundle.led_face_mm


def _short(design: Design) -> set[str]:
    """Lamps that get clearly less than what is wanted."""
    return {
        row.lamp for row in design.light.lamps if row.intensity_cd.typical < SHORT_SHARE * row.wanted_cd
    }


def _troubles(design: Design, bundles: list[Bundle], limit: float, *, over: bool) -> tuple[Trouble, ...]:
    if not bundles:
        return ()
    worst = max(bundles, key=_share) if over else min(bundles, key=_share)
    share, face = _share(worst), plain(worst.led_face_mm)
    effect = "its outer fibres stay dim" if over else "and its lamps are short of light"
    return (Trouble(
        item=worst.name, spot=design.loom.emitter(worst.emitter).spot, number=share, limit=limit,
        grade=Grade.DOUBTFUL if over else None,
        says=capital(f"{listed([bundle.name for bundle in bundles])}: {plain(worst.hand_made_mm.typical)} mm wide on a "
                     f"face of {face} mm, {plain(share)} of it; {plain(limit)} is the {'most' if over else 'least'}, "
                     f"{effect}."),
        cure="Take some tails to another LED." if over else "Use an LED with a smaller face or a narrower beam.",
    ),)


RULE = Rule(
    key="loom.bundle-width",
    grade=Grade.COULD_BE_BETTER,
    title="Bundle does not match its LED",
    unit="share",
    why="Light that falls beside the bundle is lost, and fibres beside the LED's face get little of it.",
    cure="Match bundle and LED.",
    source=PRACTICE + "; checked against the light that really arrives",
    practice="bundle_led_width",
    look=_look,
)
