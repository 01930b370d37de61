"""A reading at the bench that comes to much more or less than any such thing usually has."""

from __future__ import annotations

from rushlight.findings._words import spot_of
from rushlight.model.design import Design
from rushlight.model.drawer import BenchValue
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.heat import FEED_POWER, feed_power_w
from rushlight.units import Range

FAR = 2.0
"""How many times beyond the believed range a reading is doubted (project rule)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    feeds_w = {state.state: feed_power_w(state) for state in design.power.states}
    for read in design.drawer.bench:
        feed = read.what == FEED_POWER
        times = _beyond(read, feeds_w.get(read.of) if feed else read.believed)
        if times > FAR:
            found.append(Trouble(
                item=read.of, spot=spot_of(design, read.of), number=times, limit=FAR,
                says=f"What you read of '{read.of}' ({read.what.replace('_', ' ')}) comes to {read.value.typical:.3g}"
                     f"{' W' if feed else ''}, "
                     f"{times:.2g} times beyond what is usual.",
            ))
    return tuple(found)


def _beyond(read: BenchValue, usual: Range | None) -> float:
    """How many times the reading, at its nearer end, lies beyond what is usual or reckoned; 1 within it."""
    if usual is None or usual.low <= 0 or read.value.high <= 0:
        return 1.0
    return max(1.0, read.value.low / usual.high, usual.low / read.value.high)


RULE = Rule(
    key="plan.measured-far-off",
    grade=Grade.DOUBTFUL,
    title="Reading far from what is usual",
    unit="times",
    why="A slip at the bench (a wrong distance, light creeping in at the side, another current) now decides how the "
        "model is built.",
    cure="Read it once more, the distance and the current too. If it is so, leave it: it is yours.",
    source="the ranges of the drawer and the tables, a feed's reckoned power; twice beyond them is a project rule",
    look=_look,
)
