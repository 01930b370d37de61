"""Findings about supply, resistors, currents, switch."""

from __future__ import annotations

from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = ()
