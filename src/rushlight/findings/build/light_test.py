"""Closed without a test of every state against predicted readings."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return (*_no_readings(design), *pair_troubles(design, "fit_test", "close"))


def _no_readings(design: Design) -> tuple[Trouble, ...]:
    """Whether the order holds no gate with readings before the closing, though something is to be lit."""
    close = next((step.number for step in design.order.steps if step.key == "close"), None)
    told = [step for step in design.order.steps if step.readings and close and step.number < close]
    if close is None or told or not design.loom.emitters or design.plan.supply is None:
        return ()
    return (Trouble(item="close", says="No test before close-up has a reading to compare with.", grade=Grade.DOUBTFUL,
                    cure="See why nothing is wired; the readings follow from the solved network."),)


RULE = Rule(
    key="build.light-test",
    grade=Grade.WILL_FAIL,
    title="Closed without lighting every circuit",
    unit="",
    why="After close-up nothing inside can be reached; every state must have shown its readings before.",
    cure="Test every state after fitting, with a meter, and note the readings.",
    source=PRACTICE,
    practice="test_light",
    look=_look,
)
