"""Findings about what the plan says of the subject: evidence, marks, rules, sizes."""

from __future__ import annotations

from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = ()
