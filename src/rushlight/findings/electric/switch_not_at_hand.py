"""States that no switch at hand brings up, and the nearest set of states or lamps that one does."""

from __future__ import annotations

from rushlight.findings._words import capital, listed
from rushlight.model.design import Design
from rushlight.model.design_power import SwitchPlan, SwitchShort
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.at_hand import switches_to_buy


def _look(design: Design) -> tuple[Trouble, ...]:
    switch = design.power.switch
    if switch is None or switch.short is None:
        return ()
    return (Trouble(item="switch", cure=_cure(design, switch, switch.short),
                    says=capital(f"what is at hand ({listed(switch.short.at_hand)}) does not bring up these states: "
                                 f"{switch.short.why}.")),)


def _cure(design: Design, switch: SwitchPlan, short: SwitchShort) -> str:
    buy = listed([f"{count} x {part}" for part, count in switches_to_buy(design.plan, switch.parts).items()])
    ways = [f"Buy {buy}, which this design takes."] if buy else []
    if short.states_out:
        dark = [lamp.name for lamp in design.lamps if lamp.states and set(lamp.states) <= set(short.states_out)]
        lost = f" (then {listed(dark)} would never be lit)" if dark else ""
        ways.append(f"Or leave out {_states(short.states_out)}{lost}: {short.by} at hand does the rest.")
    if short.lamps_out:
        ways.append(f"Or leave out {listed(short.lamps_out)} and keep every state: {short.lamps_by} at hand "
                    f"{'does' if short.lamps_by.startswith('1 ') else 'do'} the rest.")
    return " ".join(ways)


def _states(names: tuple[str, ...]) -> str:
    return f"the state{'' if len(names) == 1 else 's'} {listed([repr(name) for name in names])}"


RULE = Rule(
    key="electric.switch-not-at-hand",
    grade=Grade.COULD_BE_BETTER,
    title="No switch at hand for these states",
    unit="",
    why="Every state needs one position of the switch, or its own set of on-off switches.",
    cure="Buy a switch that does, or leave a state out.",
    source="every set of states from the largest down, proved by the network's solve",
    look=_look,
)
