"""What would go wrong: one file for each kind of finding, in groups; `find` looks for all of them."""

from __future__ import annotations

from rushlight.findings.build import RULES as BUILD
from rushlight.findings.electric import RULES as ELECTRIC
from rushlight.findings.heat import RULES as HEAT
from rushlight.findings.light import RULES as LIGHT
from rushlight.findings.loom import RULES as LOOM
from rushlight.findings.plan import RULES as PLAN
from rushlight.model.design import Design
from rushlight.model.finding import Finding, Rule

FINDINGS: tuple[Rule, ...] = PLAN + LIGHT + ELECTRIC + LOOM + HEAT + BUILD
"""Every kind of finding, in the order of the groups."""


def find(design: Design) -> tuple[Finding, ...]:
    """All findings of a design, worst first, then by kind, then in the plan's order.

    Parameters
    ----------
    design : Design
        The whole design.
    Returns
    -------
    tuple of Finding
        Values; nothing is printed and nothing is changed.
    """
    order = {rule.key: number for number, rule in enumerate(FINDINGS)}
    found = [finding for rule in FINDINGS for finding in rule.find(design)]
    return tuple(sorted(found, key=lambda finding: (-finding.grade, order[finding.key])))
