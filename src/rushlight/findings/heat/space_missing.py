"""Power on parts that belong to no space, so that nobody knows how warm it gets there."""

from __future__ import annotations

from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_power import StatePower
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.place import Spot
from rushlight.stages.heat import feed_inside_w
from rushlight.stages.layouts import find_bay

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
    """At most, on a fresh supply; what feeds the lamps counts where its bay is in no space."""
    outside = {part.name for part in design.plan.parts} - known
    lamps = sum(row.power_w.high for row in state.lit if design.loom.emitter(row.emitter).spot.part in outside)
    return lamps + feed_inside_w(design.plan, state, outside).high


def _trouble(design: Design, state: StatePower, watts: float, known: set[str]) -> Trouble:
    own = [design.loom.emitter(row.emitter) for row in state.lit]
    spots = [row.spot for row in own if row.spot.part not in known] or [_bay_spot(design)]
    parts = list(dict.fromkeys(f"'{spot.part}'" for spot in spots))
    return Trouble(
        item=spots[0].part, spot=spots[0], number=watts, limit=MOST_W,
        says=f"In '{state.state}' up to {plain(watts)} W are spent on {listed(parts)}, which belong to no space: how "
             "warm it gets in there is not worked out.",
    )


def _bay_spot(design: Design) -> Spot:
    found = find_bay(design.plan)
    assert found is not None
    part, bay = found
    x, y, width, height = bay.rect_mm
    return Spot(part.name, x + width / 2, y + height / 2)


RULE = Rule(
    key="heat.space-missing",
    grade=Grade.COULD_BE_BETTER,
    title="Warmth of a part is not worked out",
    unit="W",
    why="From about a watt on, a closed model gets noticeably warm; the size of the room decides how warm.",
    cure="Add a space with these parts and its size under spaces.",
    source="a worked example: a box of 120 x 50 x 30 mm, 1 W, 13 K",
    look=_look,
)
