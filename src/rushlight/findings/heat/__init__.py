"""Findings about heat."""

from __future__ import annotations

from rushlight.findings.heat.fibre_too_warm import RULE as FIBRE_TOO_WARM
from rushlight.findings.heat.junction_too_hot import RULE as JUNCTION_TOO_HOT
from rushlight.findings.heat.regulator_too_hot import RULE as REGULATOR_TOO_HOT
from rushlight.findings.heat.resistor_on_styrene import RULE as RESISTOR_ON_STYRENE
from rushlight.findings.heat.resistor_over_rating import RULE as RESISTOR_OVER_RATING
from rushlight.findings.heat.shrink_near_wall import RULE as SHRINK_NEAR_WALL
from rushlight.findings.heat.shrink_too_hot import RULE as SHRINK_TOO_HOT
from rushlight.findings.heat.space_missing import RULE as SPACE_MISSING
from rushlight.findings.heat.wall_too_warm import RULE as WALL_TOO_WARM
from rushlight.findings.heat.wall_under_strip import RULE as WALL_UNDER_STRIP
from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = (
    WALL_TOO_WARM,
    WALL_UNDER_STRIP,
    JUNCTION_TOO_HOT,
    FIBRE_TOO_WARM,
    SHRINK_TOO_HOT,
    SHRINK_NEAR_WALL,
    RESISTOR_OVER_RATING,
    RESISTOR_ON_STYRENE,
    REGULATOR_TOO_HOT,
    SPACE_MISSING,
)
