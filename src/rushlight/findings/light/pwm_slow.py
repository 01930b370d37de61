"""Dimming pulses that are slow enough to be seen or filmed."""

from __future__ import annotations

import math

from rushlight.findings._words import plain
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.filming import pulse_rate_hz
from rushlight.stages.rhythms import channels, made_rhythms
from rushlight.timing.dimming import lowest_pwm_hz


def _look(design: Design) -> tuple[Trouble, ...]:
    dimmed = [
        row.name for row in channels(made_rhythms(design.plan, design.circuits, design.loom))
        if any(0 < step.level < 1 for step in row.rhythm.steps)
    ]
    limit, hz = lowest_pwm_hz(), pulse_rate_hz(design).typical
    if not dimmed or hz >= limit:
        return ()
    least = math.ceil(limit / 50) * 50
    return (Trouble(
        item="controller", number=hz, limit=limit,
        says=f"The controller dims with {plain(hz)} pulses a second; {plain(limit)} and more are low risk for eyes and "
             "films.",
        cure=f"Dim at {least} Hz (plan file: pwm_hz under controller).",
    ),)


RULE = Rule(
    key="light.pwm-slow",
    grade=Grade.DOUBTFUL,
    title="Dimming that may be seen to flicker",
    unit="Hz",
    why="Slow pulses trouble some people, and show as bands in a film or as a row of dots when the eye moves.",
    cure="Let the controller pulse faster.",
    source="IEEE Std 1789-2015 clause 8.1.1 (low risk, 100 % modulation)",
    look=_look,
)
