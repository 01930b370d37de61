"""A USB power bank that switches itself off because the lamps take too little."""

from __future__ import annotations

from rushlight.electric.supply import BankVerdict
from rushlight.findings._words import plain
from rushlight.findings.electric._words import NETWORK, ma
from rushlight.model.design import Design
from rushlight.model.design_power import StatePower
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.supplies import BANK, BANK_LOAD, bank_awake, load_a

READ_IT = "Read the load under which yours switches off (measured: bank load). Or use"


def _look(design: Design) -> tuple[Trouble, ...]:
    supply = design.plan.supply
    lit = [state for state in design.power.states if state.lit]
    if supply is None or supply.kind != "usb power bank" or not lit:
        return ()
    least = min(lit, key=lambda state: state.mean_a)
    load = load_a(design.drawer, least).typical
    verdict, read = bank_awake(design.drawer, load), design.drawer.measured(BANK_LOAD, BANK) is not None
    return () if verdict.verdict == "awake" else (_trouble(least, load, verdict, read=read),)


def _trouble(state: StatePower, load: float, verdict: BankVerdict, *, read: bool) -> Trouble:
    sleeps = verdict.verdict == "sleeps"
    word = "it will switch off" if sleeps else "yours may switch off" if read else "many a bank switches off"
    after = f"{plain(verdict.time_out_s.low)} to {plain(verdict.time_out_s.high)} s"
    return Trouble(
        item=state.state, number=load * 1000, limit=verdict.threshold_a.high * 1000,
        grade=Grade.WILL_FAIL if sleeps else None,
        says=f"In '{state.state}' the lamps take {ma(load)}; under {ma(verdict.threshold_a.high)} {word} "
             f"after {after}.",
        cure=f"{READ_IT if not read else 'Use'} cells in a holder; or a bank that is sold as always on; or a resistor "
             f"of {plain(verdict.bleed_ohm)} ohm ({plain(verdict.bleed_w)} W of heat) across the 5 V, which leaves "
             f"{plain(100 * verdict.bleed_time_factor)} % of the run time.",
    )


RULE = Rule(
    key="electric.bank-sleeps",
    grade=Grade.DOUBTFUL,
    title="Power bank goes to sleep",
    unit="mA",
    why="A power bank takes a small load for a charged telephone and switches off.",
    cure="Use cells, a bank that stays on, or a bleed resistor.",
    source=NETWORK + "; public measurements of power banks",
    look=_look,
)
