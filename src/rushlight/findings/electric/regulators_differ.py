"""LEDs of one kind whose regulators may differ visibly from part to part."""

from __future__ import annotations

from rushlight.findings._words import capital, listed, plain
from rushlight.findings.electric._words import NETWORK
from rushlight.model.design import Design
from rushlight.model.design_power import Regulator
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.parts_law import light_ratio, most_apart


def _look(design: Design) -> tuple[Trouble, ...]:
    limit = most_apart(design.drawer)
    alike: dict[tuple[str, str], list[Regulator]] = {}
    for row in design.power.regulators:
        alike.setdefault((design.loom.emitter(row.emitter).circuit, row.part), []).append(row)
    found = []
    for rows in alike.values():
        amps, emitter = rows[0].current_a, design.loom.emitter(rows[0].emitter)
        times = light_ratio(design.drawer, emitter, amps.high, amps.low)
        if len(rows) > 1 and times > limit:
            found.append(Trouble(
                item=emitter.name, spot=emitter.spot, number=times, limit=limit,
                says=capital(f"{listed([row.emitter for row in rows])}: one {rows[0].part} may give "
                             f"{plain(amps.high / amps.low, 3)} times the current of another and make its LED "
                             f"{plain(times, 3)} times as bright; {plain(limit)} times is the most for lamps that "
                             "should look alike."),
            ))
    return tuple(found)


RULE = Rule(
    key="electric.regulators-differ",
    grade=Grade.DOUBTFUL,
    title="Regulators of one kind may differ",
    unit="times",
    why="Small regulators come with a wide spread of current, and the eye sees a third of a stop side by side.",
    cure="Buy a few more and sort them with a meter, take a part of a narrower spread, or put like LEDs in "
         "series on one.",
    source=NETWORK + "; spread of the part's data sheet",
    look=_look,
)
