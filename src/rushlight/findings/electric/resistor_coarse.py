"""Resistors at hand whose next value lies far over what a lamp asks for, or so far that one is bought."""

from __future__ import annotations

from rushlight.electric.resistor import value_not_below
from rushlight.findings._words import capital, listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import Resistor
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.at_hand import NEAR_SHARE, Offered, pair_offered, resistors_at_hand, value_offered
from rushlight.stages.resistors import LEAST_OHM


def _look(design: Design) -> tuple[Trouble, ...]:
    held = resistors_at_hand(design.plan, design.drawer)
    far, bought = dict[str, Resistor](), dict[str, Resistor]()
    for row in design.power.resistors:
        if held and row.exact_ohm > LEAST_OHM and row.value_ohm == value_offered(held, row.exact_ohm):
            if not any(own.has(row.value_ohm) for own in held):
                bought[row.emitter] = row
            elif _over(row) > NEAR_SHARE:
                far[row.emitter] = row
    return (*_far(design, far, held), *_bought(design, bought, held))


def _over(row: Resistor) -> float:
    return row.value_ohm / row.exact_ohm - 1.0


def _of_two(worst: Resistor, held: tuple[Offered, ...]) -> str:
    two = pair_offered(held, worst.exact_ohm)
    if two is None:
        return "."
    how = "side by side" if two[1].side_by_side else "in a row"
    return (f", or set two of yours {how}, {' and '.join(f'{plain(ohm, 3)} ohm' for ohm in two[1].ohms)}, and hold "
            f"{plain(two[1].ohm, 4)} ohm for {worst.emitter}.")


def _far(design: Design, far: dict[str, Resistor], held: tuple[Offered, ...]) -> tuple[Trouble, ...]:
    if not far:
        return ()
    worst = max(far.values(), key=_over)
    fine = value_not_below(worst.exact_ohm, 24)
    return (Trouble(
        item=worst.emitter, spot=_spot(design, worst), number=_over(worst), limit=NEAR_SHARE,
        says=capital(f"{listed(list(far))}: the next value at hand, {plain(worst.value_ohm, 3)} ohm, is "
                     f"{100 * _over(worst):.0f} % over what {worst.emitter} asks for."),
        cure=f"Buy {plain(fine, 3)} ohm of E24{_of_two(worst, held)}",
    ),)


def _bought(design: Design, bought: dict[str, Resistor], held: tuple[Offered, ...]) -> tuple[Trouble, ...]:
    if not bought:
        return ()
    first = next(iter(bought.values()))
    over = [ohm for own in held if (ohm := own.not_below(first.exact_ohm)) is not None]
    under = [ohm for own in held if (ohm := own.not_above(first.exact_ohm)) is not None]
    near = [f"{plain(ohm, 3)} ohm would {what}"
            for ohm, what in ((max(under, default=0.0), "let too much through"),
                              (min(over, default=0.0), "leave it under half of its light")) if ohm]
    values = sorted({row.value_ohm for row in bought.values()})
    return (Trouble(
        item=first.emitter, spot=_spot(design, first), limit=NEAR_SHARE,
        number=(min(over) / first.exact_ohm if over else first.exact_ohm / max(under)) - 1.0,
        says=capital(f"{listed(list(bought))}: no resistor at hand is near enough. {capital(first.emitter)} asks for "
                     f"{plain(first.exact_ohm, 3)} ohm; of yours {' and '.join(near)}."),
        cure=f"Buy {listed([f'{plain(ohm, 3)} ohm' for ohm in values])}, as the shopping list has it; the design "
             f"reckons with that{_of_two(first, held)}",
    ),)


def _spot(design: Design, row: Resistor) -> Spot | None:
    return next((one.spot for one in design.loom.emitters if one.name == row.emitter), None)


RULE = Rule(
    key="electric.resistor-coarse",
    grade=Grade.DOUBTFUL,
    title="Resistor at hand far over the wanted one",
    unit="share",
    why="The lamp gets so much less current, and lamps that should match get unlike shares of what they ask for.",
    cure="Take a finer series, or buy the value that is missing.",
    source="IEC 60063 (from memory): steps of E6 are 47 %, of E12 21 %, of E24 10 %; the limit is a project rule",
    look=_look,
)
