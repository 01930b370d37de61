"""Lamps dimmed by pulses that show as bands in a film."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.filming import BAND_SHARE, MOST_PULSE_HZ, Pulsed, pulsed_of, shutter_words


def _look(design: Design) -> tuple[Trouble, ...]:
    seen = [row for row in pulsed_of(design) if row.contrast > BAND_SHARE]
    if not seen:
        return ()
    worst = max(seen, key=lambda row: row.contrast)
    times = listed([f"{shutter_words(row.exposure_s)} s" for row in seen])
    return (Trouble(
        item="controller", number=100 * worst.contrast, limit=100 * BAND_SHARE,
        says=f"Filmed with {times}, what the controller dims shows bands of up to {plain(100 * worst.contrast)} %.",
        cure=_cure(max(row.safe_hz for row in seen), worst),
    ),)


def _cure(hz: float, worst: Pulsed) -> str:
    times = " or ".join(f"{shutter_words(each)} s" for each in worst.whole_s)
    if hz > MOST_PULSE_HZ:
        return f"Film with {times}." if times else "Film with a longer exposure."
    return f"Dim at {plain(hz, 5)} Hz (plan file: pwm_hz under controller)" + (
        f", or film with {times}." if times else ".")


RULE = Rule(
    key="light.pwm-bands",
    grade=Grade.COULD_BE_BETTER,
    title="Dimming that shows in a film",
    unit="%",
    why="A picture's lines are exposed one after the other; a shutter time that does not hold whole pulses gives each "
        "line another share of light.",
    cure="Faster pulses, or a shutter time that holds whole ones.",
    source="share of pulses in an exposure, by its closed form; 2 % is not noticed (from memory)",
    look=_look,
)
