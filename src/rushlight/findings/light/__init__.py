"""Findings about light: brightness, evenness, leaks, colour, rhythm."""

from __future__ import annotations

from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = ()
