"""What becomes of each group of like LEDs as they warm: current and light, just switched on and settled."""

from __future__ import annotations

from collections.abc import Iterable

from rushlight.model.design import Design
from rushlight.model.design_power import EmitterCurrent
from rushlight.model.sheet import Cell, Column, Table
from rushlight.sheets.amounts import compressed, range_words, sentence, span
from rushlight.units import Range

CAPTION = (
    "An LED takes a little more current as it warms, and gives less light at the same current. Meant: the current that "
    "makes up for what warmth takes, so that the lamp is as bright as wanted once it has settled; the resistor is "
    "chosen for it. Just on and settled: typical LEDs on the nominal supply, in all states that light them. Junction: "
    "from an LED that takes little, well mounted, in a cool room to one that takes much, badly mounted, in a warm one. "
    "Loses: light from the first moment on. A line is one kind of LED of one circuit on one part."
)

BOUNDS = {
    "rating": "its rating keeps it from more", "junction": "its junction bears no more", "held": "held by you",
    "least": "least current: brighter than wanted", "built in": "its built-in resistor settles it",
}
"""What keeps a current from making up for warmth, in words."""


def warming_table(design: Design) -> Table:
    """One line for each group of like LEDs or strips.

    Parameters
    ----------
    design : Design
        Solved.
    Returns
    -------
    Table
        Without rows where nothing is lit.
    """
    columns = (
        Column("circuit", "Circuit"), Column("leds", "LED or strip", wide=True), Column("on", "On"),
        Column("meant", "Meant", "mA", "right"), Column("first", "Just on", "mA", "right"),
        Column("settled", "Settled", "mA", "right"), Column("junction", "Junction", "°C", "right"),
        Column("loses", "Loses", align="right"), Column("bound", "Note", wide=True),
    )
    lit: dict[str, list[EmitterCurrent]] = {}
    for row in (row for state in design.power.states for row in state.lit):
        lit.setdefault(row.emitter, []).append(row)
    groups: dict[tuple[str, str, str], list[str]] = {}
    for emitter in design.loom.emitters:
        if emitter.name in lit:
            groups.setdefault((emitter.circuit, emitter.part_row, emitter.spot.part), []).append(emitter.name)
    rows = tuple(_row(design, key, names, [row for name in names for row in lit[name]])
                 for key, names in groups.items())
    return Table("leds-warming", "As LEDs warm", columns, rows, CAPTION)


def _row(design: Design, key: tuple[str, str, str], names: list[str], lit: list[EmitterCurrent]) -> tuple[Cell, ...]:
    aims = [aim for aim in design.power.aims if aim.emitter in set(names)]
    branches = {one.name: max(one.segments, 1) for one in design.loom.emitters}
    bounds = dict.fromkeys(aim.bound for aim in aims if aim.bound)
    return (
        key[0], compressed(names), key[2], _ma(aim.aim_a / branches[aim.emitter] for aim in aims),
        _ma(row.first_a for row in lit), _ma(row.current_a.typical for row in lit),
        range_words(Range(min(row.junction_c.low for row in lit), lit[0].junction_c.typical,
                          max(row.junction_c.high for row in lit))),
        lost_words(lit), sentence("; ".join(BOUNDS[bound] for bound in bounds)),
    )


def lost_words(lit: Iterable[EmitterCurrent]) -> str:
    """What share of its first moment's light each loses as it settles; a gain has a plus."""
    shares = [round(100 * (1 - 1 / row.first_times)) for row in lit if row.first_times > 0]
    if not shares:
        return ""
    least, most = min(shares), max(shares)
    if most < 0:
        return f"gains {-most} %" if least == most else f"gains {-most} to {-least} %"
    return f"{most} %" if least == most else f"{max(least, 0)} to {most} %"


def _ma(amps: Iterable[float]) -> str:
    found = list(amps)
    return span(1000 * min(found), 1000 * max(found), digits=3) if found else ""
