"""Findings about leads, splices, fibres, bundles, routes."""

from __future__ import annotations

from rushlight.model.finding import Rule

RULES: tuple[Rule, ...] = ()
