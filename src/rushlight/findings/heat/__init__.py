"""Findings about heat."""

from __future__ import annotations

from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = ()
