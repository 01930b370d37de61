"""Power on parts that belong to no space, so that nobody knows how warm it gets there."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import StatePower
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.heat import emitter_w

MOST_W = 1.0
"""A watt warms the air of the smallest hull in hull_examples.csv by about 13 K."""


def _look(design: Design) -> tuple[Trouble, ...]:
    known = {part for space in design.plan.spaces for part in space.parts}
    open_states = [(_open_w(design, state, known), state) for state in design.power.states]
    if not open_states:
        return ()
    watts, state = max(open_states, key=lambda pair: pair[0])
    return (_trouble(design, state, watts, known),) if watts > MOST_W else ()


def _open_w(design: Design, state: StatePower, known: set[str]) -> float:
    emitters = {row.name: row for row in design.loom.emitters}
    return sum(
        emitter_w(emitters[row.emitter], row) for row in state.lit if emitters[row.emitter].spot.part not in known
    )


def _trouble(design: Design, state: StatePower, watts: float, known: set[str]) -> Trouble:
    own = [design.loom.emitter(row.emitter) for row in state.lit]
    outside = [row for row in own if row.spot.part not in known]
    parts = list(dict.fromkeys(f"'{row.spot.part}'" for row in outside))
    return Trouble(
        item=outside[0].spot.part, spot=outside[0].spot, number=watts, limit=MOST_W,
        says=f"In '{state.state}' {plain(watts)} W are spent on {listed(parts)}, which belong to no space: how warm it "
             "gets in there is not worked out.",
    )


RULE = Rule(
    key="heat.space-missing",
    grade=Grade.COULD_BE_BETTER,
    title="Warmth of a part is not worked out",
    unit="W",
    why="From about a watt on, a closed hull gets noticeably warm; the size of the room decides how warm.",
    cure="Add a space with these parts and its size under spaces.",
    source="hull_examples.csv: 120 x 50 x 30 mm, 1 W, 13 K",
    look=_look,
)
