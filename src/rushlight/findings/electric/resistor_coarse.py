"""A series at hand whose next value lies far over what a lamp asks for."""

from __future__ import annotations

from rushlight.electric.resistor import value_not_below
from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.at_hand import pieces, resistors_offered
from rushlight.stages.resistors import LEAST_OHM, steps_of

MOST_OVER = 0.15
"""So far may the next value lie over the wanted one: E24 steps by a tenth, and an eye tells a sixth at best (project
rule)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    if not pieces(design.plan, "resistors"):
        return ()
    offered = resistors_offered(design.plan, design.drawer)
    far = {}
    for row in design.power.resistors:
        if row.exact_ohm > LEAST_OHM:
            chosen = min(value_not_below(row.exact_ohm, steps_of(part)) for part in offered)
            over = row.value_ohm / row.exact_ohm - 1.0
            if row.value_ohm == chosen and over > MOST_OVER:
                far[row.emitter] = (over, row)
    if not far:
        return ()
    over, worst = max(far.values(), key=lambda pair: pair[0])
    fine = value_not_below(worst.exact_ohm, 24)
    spot = next((one.spot for one in design.loom.emitters if one.name == worst.emitter), None)
    return (Trouble(
        item=worst.emitter, spot=spot, number=over, limit=MOST_OVER,
        says=capital(f"{listed(list(far))}: the next value at hand, {plain(worst.value_ohm, 3)} ohm, is "
                     f"{100 * over:.0f} % over what {worst.emitter} asks for."),
        cure=f"Buy {plain(fine, 3)} ohm of E24, or set two of yours in a row that come to about "
             f"{plain(worst.exact_ohm, 3)} ohm and hold that value.",
    ),)


RULE = Rule(
    key="electric.resistor-coarse",
    grade=Grade.DOUBTFUL,
    title="Resistor at hand far over the wanted one",
    unit="share",
    why="The lamp gets so much less current, and lamps that should match get unlike shares of what they ask for.",
    cure="Take a finer series.",
    source="IEC 60063 (from memory): steps of E6 are 47 %, of E12 21 %, of E24 10 %; the limit is a project rule",
    look=_look,
)
