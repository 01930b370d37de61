"""LEDs soldered or fitted without a test."""

from __future__ import annotations

from rushlight.findings.build._order import PRACTICE, pair_troubles
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    return (*pair_troubles(design, "test_parts", "cut_wire"), *pair_troubles(design, "bench_test", "fit_led"))


RULE = Rule(
    key="build.led-untested",
    grade=Grade.DOUBTFUL,
    title="LED not tested",
    unit="",
    why="A dead or weak LED is a minute's work on the bench and a lost model after close-up.",
    cure="Test each LED on arrival, after soldering and after fitting.",
    source=PRACTICE,
    practice="test_each",
    look=_look,
)
