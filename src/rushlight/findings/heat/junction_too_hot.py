"""An LED whose junction gets too hot."""

from __future__ import annotations

from rushlight.findings._lights import current_a
from rushlight.findings._words import listed, plain
from rushlight.model.design import Design
from rushlight.model.design_light import LedHeat
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.thermal.led_rise import limit_of


def _look(design: Design) -> tuple[Trouble, ...]:
    advise = limit_of("LED junction").advise_c
    hot: dict[tuple[str, bool], list[LedHeat]] = {}
    for row in design.heat.leds:
        if row.junction_c.high > advise:
            hot.setdefault((row.state, row.junction_c.high > row.junction_limit_c), []).append(row)
    return tuple(_trouble(design, rows, advise) for rows in hot.values())


def _trouble(design: Design, rows: list[LedHeat], advise: float) -> Trouble:
    """The hottest of those that are alike."""
    row = max(rows, key=lambda row: row.junction_c.high)
    stop = row.junction_limit_c
    over = row.junction_c.high > stop
    milliamps = 1000 * current_a(design, row.emitter)
    emitter = design.loom.emitter(row.emitter)
    each = " a segment" if emitter.kind == "strip" else ""
    names = [f"'{row.emitter}'" for row in rows]
    return Trouble(
        item=row.emitter, spot=emitter.spot, number=row.junction_c.high, limit=stop if over else advise,
        grade=Grade.WILL_FAIL if over else None,
        says=f"In '{row.state}' the junction of {listed(names)} reaches {plain(row.junction_c.high, 3)} degC at most, "
             f"with {plain(milliamps)} mA{each}; {plain(stop if over else advise, 3)} degC is the limit.",
    )


RULE = Rule(
    key="heat.junction-too-hot",
    grade=Grade.DOUBTFUL,
    title="LED too hot inside",
    unit="degC",
    why="A hot LED fades, shifts its colour and dies early, and it cannot be reached any more.",
    cure="Lower its current, share the light among more LEDs, or give its leads copper to carry the heat away.",
    source="thermal resistance of the package, 0.8 to 1.3 of its figure; usual junction limits of LEDs",
    look=_look,
)
