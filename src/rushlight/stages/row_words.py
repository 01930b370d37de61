"""What is proposed for a row or a group of like lamps, as a modeller would read it."""

from __future__ import annotations

import math

from rushlight.stages.row_proposals import Proposal
from rushlight.stages.row_tails import TailTrial
from rushlight.stages.source_choice import ALIKE, times

JOINTS = 4
"""Joints to solder for an LED with its resistor: two legs, both ends of the resistor (common practice, no source)."""

NAMES = {"led": "LED each", "fibre": "Tails", "strip": "Strip"}

AS_WIDE = 0.15
"""A bundle is called as wide as its LED within so much (project rule)."""


def pick_words(row: Proposal) -> str:
    """The pick with its numbers, and what became of the other ways."""
    told = {"fibre": _tails_picked, "led": _led_picked, "strip": _strip_picked}[row.proposed](row)
    head = "Taken" if row.proposed == row.built else "Proposed"
    if row.proposed == row.built and _lacking(row):
        head = "Taken for want of better"
    return " ".join((f"{head}: {told}", *_strip_told(row)))


def short_words(row: Proposal) -> str:
    """What speaks against the ways that are not proposed, and what the pick wants, without the numbers of a table."""
    against = {"led": row.led_lacks, "fibre": row.tails_lack, "strip": row.strip_lacks}
    others = [f"{NAMES[way]}: {', '.join(words)}." for way, words in against.items() if words]
    wants = []
    if row.tails is not None and row.proposed == "fibre":
        wants = [f"Its bends are {row.tails.turn_mm:.3g} mm{_room(row.tails)}."]
    if row.strip is not None and not row.strip_lacks:
        wants.append(f"A strip would want {row.strip.room_mm:.3g} mm behind and an opal sheet.")
    return " ".join((*others, *wants))


def tails_words(row: Proposal) -> str:
    """How tails are named: of one LED or of several, each with how many."""
    tails = row.tails
    assert tails is not None
    return f"{tails.tails} tails of {tails.fibre_mm:g} mm on {counted(tails.leds, 'LED')}"


def counted(count: int, what: str) -> str:
    """So many of a thing."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def tail_numbers(tails: TailTrial) -> str:
    """Bundle, light and bends of tails in words."""
    alike = "all alike" if tails.uneven < ALIKE else f"alike within {times(tails.uneven)} times"
    bundle, light = tails.bundle_mm, tails.light
    return (f"By hand the bundle is {bundle.typical:.2g} mm wide ({bundle.low:.2g} to {bundle.high:.2g}), the LED "
            f"{tails.face_mm:.2g} mm: {_covers(tails)}. The lamps get {times(light.typical)} times what is wanted "
            f"({times(light.low)} to {times(light.high)}), {alike}. The fibre turns in {tails.turn_mm:.3g} mm"
            f"{_room(tails)}.")


def _covers(tails: TailTrial) -> str:
    """Whether the bundle is as wide as the LED, in words."""
    share = tails.bundle_mm.typical / tails.face_mm
    if share > 1 + AS_WIDE:
        return "wider than the LED, its rim gets less"
    past = f"the LED is {times(1 / share)} times as wide, some light goes past"
    return "as wide as the LED" if share >= 1 - AS_WIDE else past


def saved_words(row: Proposal) -> str:
    """What tails save, and what fibre they take."""
    tails = row.tails
    assert tails is not None
    saved = row.leds_saved
    less = (f"{counted(saved, 'LED')} with {'its resistor' if saved == 1 else 'their resistors'} and {JOINTS * saved} "
            "solder joints fewer" if saved > 0 else "no LED fewer")
    return f"{less}, for {tails.cut_mm / 1000:.2g} m of fibre, the longest piece {tails.longest_mm:.0f} mm"


def _tails_picked(row: Proposal) -> str:
    tails = row.tails
    assert tails is not None
    others = f", which {'feeds' if tails.leds == 1 else 'feed'} {tails.feeds_others} more" if tails.feeds_others else ""
    each = " each" if tails.leds > 1 else ""
    return (f"{tails_words(row)} ({tails.led}, {1000 * tails.current_a:.2g} mA{each}{others}), each through a hole "
            f"of {row.fibre.hole_mm:.3g} mm{_beside(row)}: {saved_words(row)}. {tail_numbers(tails)} "
            f"{_why_not_led(row)}")


def _beside(row: Proposal) -> str:
    """What is seen of a tail beside the lamp at scale."""
    if not row.oversize:
        return ""
    return f", {row.fibre.seen_mm:.2g} mm lit where {row.fibre.seen_mm / row.oversize:.2g} mm are at scale"


def _why_not_led(row: Proposal) -> str:
    if row.led_lacks:
        return f"An LED in each hole: {', '.join(row.led_lacks)}."
    return f"{counted(row.led.leds, 'LED')} in the holes would serve too."


def _led_picked(row: Proposal) -> str:
    if row.tails_lack:
        return f"{row.led.numbers()}. Tails: {', '.join(row.tails_lack)}."
    return f"{row.led.numbers()}. {tails_words(row)} would serve too: {saved_words(row)}."


def _strip_picked(row: Proposal) -> str:
    assert row.strip is not None
    return (f"{row.strip.numbers()}. An LED in each hole: {', '.join(row.led_lacks)}. Tails: "
            f"{', '.join(row.tails_lack)}.")


def _strip_told(row: Proposal) -> tuple[str, ...]:
    """What a strip would take, where one could lie behind."""
    if row.strip is None:
        return ()
    if row.strip_lacks and row.proposed != "strip":
        return (f"A strip behind: {', '.join(row.strip_lacks)}.",)
    takes = row.strip.count()
    too = f"{takes[:1].upper()}{takes[1:]} behind would serve too: it wants"
    serves = "It wants" if row.proposed == "strip" else too
    return (f"{serves} {row.strip.room_mm:.3g} mm of room behind and an opal sheet, and lights all of the wall there.",)


def _lacking(row: Proposal) -> bool:
    return bool({"led": row.led_lacks, "fibre": row.tails_lack, "strip": row.strip_lacks}[row.proposed])


def _room(tails: TailTrial) -> str:
    return f", and has {tails.depth_mm:.3g} mm" if math.isfinite(tails.depth_mm) else ""
