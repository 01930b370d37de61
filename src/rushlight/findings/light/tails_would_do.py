"""An LED in each hole of a row where tails of shared LEDs would do."""

from __future__ import annotations

from rushlight.findings._words import listed
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.row_proposals import Proposal, offered_tails
from rushlight.stages.row_words import counted, saved_words, tail_numbers, tails_words


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, row) for row in offered_tails(design))


def _trouble(design: Design, row: Proposal) -> Trouble:
    tails = row.tails
    assert tails is not None
    lamp = next(lamp for lamp in design.lamps if lamp.group == row.groups[0])
    names = listed([f"'{name}'" for name in row.groups])
    own = f", {', '.join(row.led_lacks)}" if row.led_lacks else ""
    return Trouble(
        item=row.groups[0], spot=lamp.spot,
        says=f"{names}: {counted(row.led.leds, 'LED')} in the holes{own}. {tails_words(row)} would do: "
             f"{saved_words(row)}.",
        cure=f"Make {'it' if len(row.groups) == 1 else 'them'} by fibre of {tails.fibre_mm:g} mm, fed by "
             f"{counted(tails.leds, 'LED')} ({tails.led}, {1000 * tails.current_a:.2g} mA). {tail_numbers(tails)} "
             f"To keep an LED in each hole, hold the LED, {row.led.part}.",
    )


RULE = Rule(
    key="light.tails-would-do",
    grade=Grade.COULD_BE_BETTER,
    title="Tails of one LED would do",
    unit="",
    why="Each LED in a hole has a resistor and leads of its own, and is usually too bright for a small lamp; one LED "
        "feeds many fibres, and no joint at a lamp can come loose.",
    cure="Feed the lamps through fibre from a shared LED.",
    source="the tails laid, bundled and lit as they would be built; half the LEDs and fewer pieces in all: project "
           "rule",
    look=_look,
)
