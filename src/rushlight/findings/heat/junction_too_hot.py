"""An LED whose junction gets too hot."""

from __future__ import annotations

from rushlight.findings._lights import current_a
from rushlight.findings._words import plain
from rushlight.model.design import Design, LedHeat
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.thermal.led_rise import limit_of


def _look(design: Design) -> tuple[Trouble, ...]:
    advise = limit_of("LED junction").advise_c
    return tuple(_trouble(design, row, advise) for row in design.heat.leds if row.junction_c.high > advise)


def _trouble(design: Design, row: LedHeat, advise: float) -> Trouble:
    stop = row.junction_limit_c
    over = row.junction_c.high > stop
    milliamps = 1000 * current_a(design, row.emitter)
    each = " a segment" if design.loom.emitter(row.emitter).kind == "strip" else ""
    return Trouble(
        item=row.emitter, spot=design.loom.emitter(row.emitter).spot, number=row.junction_c.high,
        limit=stop if over else advise, grade=Grade.WILL_FAIL if over else None,
        says=f"In '{row.state}' the junction of '{row.emitter}' reaches {plain(row.junction_c.high, 3)} degC at most, "
             f"with {plain(milliamps)} mA{each}; {plain(stop if over else advise, 3)} degC is the limit.",
    )


RULE = Rule(
    key="heat.junction-too-hot",
    grade=Grade.DOUBTFUL,
    title="LED too hot inside",
    unit="degC",
    why="A hot LED fades, shifts its colour and dies early, and it cannot be reached any more.",
    cure="Lower its current, share the light among more LEDs, or give its leads copper to carry the heat away.",
    source="thermal resistance of the package, 0.8 to 1.3 of its figure (see thermal); thermal_limits.csv",
    look=_look,
)
