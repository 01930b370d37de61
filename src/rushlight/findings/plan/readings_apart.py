"""LEDs of one bag, or lamps of one LED, whose light was read so far apart that one of the two readings is wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rushlight.findings._lights import emitters_of
from rushlight.findings._words import plain, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.led_light import light_laws
from rushlight.stages.measured_usual import usual_readings

APART = 4.0
"""LEDs of one bag lie within 1.5 times of each other, by a phone 1.7 more, and 1.5 for how their light goes with
current: farther apart one reading is doubted (sister_spread.csv; project rule)."""

INTENSITY, LAMP = "led intensity", "lamp"


@dataclass(frozen=True, slots=True)
class _Read:
    """One reading: of what, what it comes to over what others of the bag should [any unit], and in words."""

    of: str
    value: float
    words: str


def _look(design: Design) -> tuple[Trouble, ...]:
    bags: dict[str, list[_Read]] = {}
    for bag, read in (*_leds(design), *_lamps(design)):
        bags.setdefault(bag, []).append(read)
    return tuple(trouble for bag, reads in bags.items() if (trouble := _trouble(design, bag, reads)))


def _leds(design: Design) -> Iterator[tuple[str, _Read]]:
    """Each reading of an LED's light, as it would be at its test current."""
    for one in design.plan.measured:
        led = next((row for row in design.drawer.leds if row.name == one.of), None)
        if one.what != INTENSITY or led is None:
            continue
        at_ma = one.at_ma or led.test_ma
        share = light_laws(led.law).usual.times(at_ma / led.test_ma)
        for lux in one.readings:
            candela = lux * ((one.distance_mm or 0.0) / 1000.0) ** 2
            if candela > 0.0 and share > 0.0:
                words = f"{plain(lux, 3)} lx from {plain(one.distance_mm or 0.0, 4)} mm at {plain(at_ma)} mA, " \
                        f"{plain(1000 * candela / share)} mcd at {plain(led.test_ma)} mA"
                yield f"LEDs '{led.name}'", _Read(led.name, candela / share, words)


def _lamps(design: Design) -> Iterator[tuple[str, _Read]]:
    """Each lamp that was read as it is built, over what is reckoned of it."""
    read = [row for row in design.drawer.bench if row.what == LAMP]
    feeds, usual = emitters_of(design), usual_readings(design) if len(read) > 1 else {}
    for row in read:
        lamp, believed = row.of.rpartition(" in ")[0], usual.get((row.what, row.of))
        if believed is not None and believed.typical > 0 and lamp in feeds:
            emitter, source = feeds[lamp], design.source(lamp)
            made = emitter.part_row if source.fibre_mm is None else (
                f"{emitter.part_row} by fibre of {plain(source.fibre_mm)} mm, {source.tip}")
            times = row.value.typical / believed.typical
            yield f"lamps by '{made}'", _Read(
                lamp, times, f"'{row.of}' {plain(1000 * row.value.typical)} mcd, {plain(times)} times what is reckoned")


def _trouble(design: Design, bag: str, reads: list[_Read]) -> Trouble | None:
    low, high = (pick(reads, key=lambda read: read.value) for pick in (min, max))
    if low.value <= 0.0 or high.value <= APART * low.value:
        return None
    times = high.value / low.value
    return Trouble(
        item=low.of, spot=spot_of(design, low.of), number=times, limit=APART,
        says=f"Two {bag} were read {plain(times)} times apart: {low.words}; {high.words}. Of one bag they differ by up "
             "to 1.5 times.",
    )


RULE = Rule(
    key="plan.readings-apart",
    grade=Grade.DOUBTFUL,
    title="Readings of one bag far apart",
    unit="times",
    why="All lamps of the bag are reckoned with what was read, so one wrong reading makes each of them too bright or "
        "too dim.",
    cure="Read both once more, in one go: from one distance, at one current, in the dark, straight before the lamp "
         "(one that is looked at from its side: there). Strike the entry that slipped; if both stand, they are "
         "two kinds of LED: give one a row of its own.",
    source="how far LEDs of one bag differ, from memory; the limit is a project rule",
    look=_look,
)
