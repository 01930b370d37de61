"""A constant-current regulator whose current is far from what the LED is meant to take."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._words import ma
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import Regulator
from rushlight.model.drawer import Drawer
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.at_hand import pieces, regulators_offered
from rushlight.stages.parts_law import light_ratio
from rushlight.stages.regulators import Chosen, nearest

MOST_TIMES = 1.25
"""So many times as bright or as dim as meant a regulator's nominal current may make an LED: a third of a stop (project
proposal)."""


def _look(design: Design) -> tuple[Trouble, ...]:
    far: dict[tuple[str, int, float], list[Regulator]] = {}
    for row in design.power.regulators:
        if _times(design, row) > MOST_TIMES * (1 + 1e-9):
            aim = round(design.loom.emitter(row.emitter).aim_current_a, 5)
            far.setdefault((row.part, row.count, aim), []).append(row)
    return tuple(_trouble(design, rows) for rows in far.values())


def _times(design: Design, row: Regulator) -> float:
    emitter = design.loom.emitter(row.emitter)
    return times_off(design.drawer, emitter, row.current_a.typical)


def times_off(drawer: Drawer, emitter: Emitter, current_a: float) -> float:
    """How many times as bright or as dim as meant a current makes an LED [-]."""
    ratio = light_ratio(drawer, emitter, current_a, emitter.aim_current_a)
    return max(ratio, 1 / ratio)


def _trouble(design: Design, rows: list[Regulator]) -> Trouble:
    row, times = rows[0], _times(design, rows[0])
    aim = design.loom.emitter(row.emitter).aim_current_a
    return Trouble(
        item=row.emitter, spot=design.loom.emitter(row.emitter).spot, number=times, limit=MOST_TIMES,
        says=capital(f"{listed([one.emitter for one in rows])}: {row.count} x {row.part} give "
                     f"{ma(row.current_a.typical)}, and {ma(aim)} are meant: {plain(times, 2)} times as "
                     f"{'bright' if row.current_a.typical > aim else 'dim'}."),
        cure=_cure(design, row, aim),
    )


def _cure(design: Design, row: Regulator, aim_a: float) -> str:
    held, named = (row.part, row.count), pieces(design.plan, "regulators")
    best = nearest(regulators_offered(design.plan, design.drawer), aim_a)
    if (best.part.name, best.count) != held:
        return f"The nearest {'at hand' if named else 'in the drawer'}: {_said(best)}."
    sold = nearest(design.drawer.regulators, aim_a)
    keep = f"hold {plain(1000 * row.current_a.typical)} mA (plan file: current_ma) or keep a resistor."
    if (sold.part.name, sold.count) != held:
        return f"Nothing at hand comes nearer: buy {_said(sold)}; else {keep}"
    return f"The drawer has no nearer one: {keep}"


def _said(best: Chosen) -> str:
    return f"{best.count} x {best.part.name}, {ma(best.current_a.typical)}"


RULE = Rule(
    key="electric.regulator-current",
    grade=Grade.DOUBTFUL,
    title="Regulator of another current than meant",
    unit="times",
    why="A regulator gives its own current, whatever the LED is meant to take: the lamp is brighter or dimmer than "
        "planned.",
    cure="Take one of the right current, several side by side, or a resistor.",
    source="currents of the drawer; a quarter off is the project's proposal",
    look=_look,
)
