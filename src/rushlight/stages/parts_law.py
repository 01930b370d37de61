"""From rows of the drawer to the plain values that the laws take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from rushlight.electric.led import DiodeLaw, LawSpread, law_spread, shifted, voltage_at_current
from rushlight.likely import Guesses, known_apart
from rushlight.model.design_loom import Emitter
from rushlight.model.drawer import Drawer, FibrePart, LedPart, StripPart
from rushlight.optics.emitter import flux_lm, pattern_order
from rushlight.optics.fibre import Launch
from rushlight.optics.fibre_loss import Fibre
from rushlight.optics.led_light import Index, LightLaw, light_laws, light_times
from rushlight.tables import row_by
from rushlight.units import Range

Array = NDArray[np.float64]

WIDEST_DEG = 85.0
"""Widest half angle that the cos^m law takes."""

INTENSITY, HALF_ANGLE = "the LED's intensity", "the LED's half angle"
"""Guesses of an LED."""

USUALLY_ALIKE = 1.5
"""How far like lamps may be apart where a drawer leaves the habit without an upper end (common practice, no source)."""


def led_order(led: LedPart) -> float:
    """Exponent of an LED's intensity pattern."""
    return pattern_order(led.half_angle_deg)


def led_light_a(led: LedPart, current_a: float) -> Range:
    """What would be the current if an LED's light went with current all the way down from its test current [A].

    Without width where the light is known: at the test current, or at the current of a reading.
    """
    laws, rated_a = light_laws(led.law), led.test_ma / 1000
    read = 1.0 if led.read_ma is None else led.read_ma / led.test_ma
    return laws.times(max(current_a, 0.0) / rated_a, read).times(rated_a * laws.usual.times(read))


def led_current_a(led: LedPart, light_a: float) -> float:
    """The current that gives as much light as a typical LED of proportional light would at `light_a` [A]."""
    rated_a = led.test_ma / 1000
    return rated_a * light_laws(led.law).usual.current_share(light_a / rated_a)


def strip_light_a(strip: StripPart, segment_a: float) -> Range:
    """The same of a segment of a strip, from its rated current down [A]."""
    rated_a = strip.segment_ma / 1000
    return light_laws(strip.law).times(max(segment_a, 0.0) / rated_a).times(rated_a)


def strip_current_a(strip: StripPart, light_a: float) -> float:
    """The same of a segment of a strip [A]."""
    rated_a = strip.segment_ma / 1000
    return rated_a * light_laws(strip.law).usual.current_share(light_a / rated_a)


def emitter_light_a(drawer: Drawer, emitter: Emitter, branch_a: float) -> Range:
    """The same of an LED, or of each segment of a strip [A]."""
    if emitter.kind == "strip":
        return strip_light_a(drawer.strip(emitter.part_row), branch_a)
    return led_light_a(drawer.led(emitter.part_row), branch_a)


def emitter_current_a(drawer: Drawer, emitter: Emitter, light_a: float) -> float:
    """The current that gives as much light as a typical one of proportional light would at `light_a`, a segment [A]."""
    if emitter.kind == "strip":
        return strip_current_a(drawer.strip(emitter.part_row), light_a)
    return led_current_a(drawer.led(emitter.part_row), light_a)


def light_law(drawer: Drawer, emitter: Emitter, end: str = "usual") -> tuple[LightLaw, float]:
    """The law of an LED's or a segment's light, usual or at its best early or late, and its rated current [A]."""
    if emitter.kind == "strip":
        strip = drawer.strip(emitter.part_row)
        return getattr(light_laws(strip.law), end), strip.segment_ma / 1000
    led = drawer.led(emitter.part_row)
    return getattr(light_laws(led.law), end), led.test_ma / 1000


def usual_light_a(
    drawer: Drawer, emitters: Sequence[Emitter], branch_a: Array, *, end: str = "usual", at: Index | None = None
) -> Array:
    """Typical light of many emitters at many currents, as `emitter_light_a` counts it [A]; shape (..., emitters).

    At its best early or late it is that of such LEDs, as bright as usual ones at the rated current. `at` says which
    emitter each current is of, where they do not stand in columns.
    """
    if not emitters:
        return np.array(branch_a, dtype=float)
    laws = [light_law(drawer, one, end) for one in emitters]
    rated_a = np.array([rated for _, rated in laws])
    rated_a = rated_a if at is None else rated_a[at]
    return np.asarray(rated_a * light_times(np.maximum(branch_a, 0.0) / rated_a, [law for law, _ in laws], at))


def light_ratio(drawer: Drawer, emitter: Emitter, over_a: float, under_a: float) -> float:
    """How many times as bright an LED or strip usually is at one current as at another [-]; infinite over none."""
    law, rated_a = light_law(drawer, emitter)
    under = law.carriers(under_a / rated_a)
    return (law.carriers(over_a / rated_a) / under) ** 2 if under > 0 else math.inf


def lit_range_a(drawer: Drawer, emitter: Emitter, branch_a: Range) -> Range:
    """The same over a range of currents: the least light of the least current to the most of the most [A]."""
    low, typical, high = (emitter_light_a(drawer, emitter, amps) for amps in (branch_a.low, branch_a.typical,
                                                                              branch_a.high))
    return Range(min(low.low, typical.low), typical.typical, max(high.high, typical.high))


def led_peak_cd(led: LedPart, light_a: float) -> Range:
    """Axial intensity at a current, were light in proportion to it (`led_light_a`)."""
    return led.intensity_mcd.times(light_a * 1000 / led.test_ma / 1000)


def led_flux_lm(led: LedPart, light_a: float) -> Range:
    """Flux at such a current; its ends carry the spread of the intensity and that of the half angle."""
    peak = led_peak_cd(led, light_a)
    angle = Range.spread(led.half_angle_deg, 1 - led.angle_share, 1 + led.angle_share)
    ends = (angle.low, angle.typical, angle.high)
    low, typical, high = (pattern_order(min(max(end, 1.0), WIDEST_DEG)) for end in ends)
    return Range(flux_lm(peak.low, low), flux_lm(peak.typical, typical), flux_lm(peak.high, high))


@lru_cache(maxsize=256)
def led_guesses(led: LedPart) -> tuple[Guesses, Guesses]:
    """What an LED's intensity hangs on, and what its flux does besides: intensity and half angle, each by itself."""
    flux = led_flux_lm(replace(led, intensity_mcd=Range.exactly(led.intensity_mcd.typical)), 1.0)
    return known_apart([(INTENSITY, led.intensity_mcd)]), known_apart([(HALF_ANGLE, flux)])


def led_launch(led: LedPart, light_a: float) -> Launch:
    """How an LED faces the bundle that is sleeved onto it: by its face, evenly bright, with its own pattern.

    At a current as `led_light_a` counts it.
    """
    lens = row_by("led_launch", "lens", led.lens)
    low, share, high = (float(lens[f"face_{end}"]) for end in ("low", "share", "high"))
    return Launch(
        flux_lm=led_flux_lm(led, light_a), order=led_order(led), by_face=share,
        face_spread=Range(low / share, 1.0, high / share),
        gap_mm=float(lens["gap_over_body"]) * led.face_mm,
        source_diameter_mm=float(lens["patch_over_body"]) * led.face_mm, lensed=False,
    )


def joint_of(drawer: Drawer) -> Range | None:
    """What a joint of LED and bundle keeps, as measured or by the modeller's own number; None: the table's range."""
    measured = drawer.measured("fibre joint", "fibre_joint")
    if measured is not None:
        return measured
    habit = drawer.habit("fibre_joint")
    if not habit.own or habit.low is None or habit.high is None:
        return None
    return Range(habit.low, math.sqrt(habit.low * habit.high), habit.high)


def fibre_of(part: FibrePart) -> Fibre:
    """A fibre's widths and aperture."""
    return Fibre(part.diameter_mm, part.core_mm, part.numerical_aperture)


def most_apart(drawer: Drawer) -> float:
    """So many times as bright as another a lamp may be that should be like it (habit `equal`)."""
    return drawer.habit("equal").high or USUALLY_ALIKE


def lens_rank(led: LedPart, use: str) -> int:
    """How well a lens suits a use (bundle, hole, deck): 1 is best."""
    return int(row_by("led_launch", "lens", led.lens)[f"rank_{'on' if use == 'deck' else 'in'}_{use}"])


def disc_mm2(diameter_mm: float) -> float:
    """Area of a disc."""
    return math.pi * diameter_mm**2 / 4


def fibre_part(drawer: Drawer, diameter_mm: float) -> FibrePart:
    """The fibre on sale that is nearest in ratio to a diameter."""
    known = _fibres_of(drawer.fibres)
    if diameter_mm not in known:
        ratio = {row: abs(math.log(row.diameter_mm / diameter_mm)) for row in drawer.fibres}
        known[diameter_mm] = min(drawer.fibres, key=lambda row: (ratio[row], row.diameter_mm))
    return known[diameter_mm]


_nearest: list[tuple[tuple[FibrePart, ...], dict[float, FibrePart]]] = [((), {})]


def _fibres_of(fibres: tuple[FibrePart, ...]) -> dict[float, FibrePart]:
    """What was found already among these fibres: many lamps of a plan ask for the same."""
    if _nearest[0][0] is not fibres:
        _nearest[0] = (fibres, {})
    return _nearest[0][1]


def led_law_range(led: LedPart, current_a: float) -> Range:
    """Forward voltage of an LED at a current, over the spread from part to part."""
    spread = led_spread(led)
    laws = (spread.low, spread.typical, spread.high)
    low, typical, high = (float(voltage_at_current(law, current_a)) for law in laws)
    return Range(low, typical, high)


def led_spread(led: LedPart) -> LawSpread:
    """Low, typical and high law of an LED: as read at the bench, else its colour's from the table."""
    usual, own = law_spread(led.law), led.own_law
    if own is None:
        return usual
    law = DiodeLaw(own.saturation_a, own.ideality, own.series_ohm)
    return LawSpread(shifted(law, own.low_v), law, shifted(law, own.high_v), usual.max_a, "read at your bench")
