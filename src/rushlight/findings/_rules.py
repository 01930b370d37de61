"""What the findings about a subject's rule share."""

from __future__ import annotations

import re

from rushlight.findings._words import listed, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Trouble
from rushlight.model.subject_light import Difference
from rushlight.stages.rule_check import differences

SOURCE = "the rule named, as read into the tables of lights; for models only, and the rule's own text decides"


def rule_troubles(design: Design, kind: str) -> tuple[Trouble, ...]:
    """Differences of one kind, each told once with all its states.

    Kinds: missing, extra, wrong colour, wrong arc, wrong rhythm.
    """
    states: dict[Difference, list[str]] = {}
    for state, found in differences(design.plan):
        for difference in found:
            if difference.kind == kind:
                states.setdefault(_same(difference), []).append(state)
    return tuple(_trouble(design, difference, list(dict.fromkeys(own))) for difference, own in states.items())


def _cited(rule: str) -> str:
    """The rule's number alone, without how its text was read."""
    return re.split(r" \((?:public|from)|;| quoted", rule)[0]


def _same(difference: Difference) -> Difference:
    """One lamp that is extra under two rules is told once."""
    if difference.kind == "extra":
        return Difference("extra", difference.rule_key, difference.lamp, "", difference.found, "")
    return difference


def _trouble(design: Design, found: Difference, states: list[str]) -> Trouble:
    quoted = [f"'{state}'" for state in states]
    where = f"In {listed(quoted)}"
    rule = f" ({_cited(found.rule)})" if found.rule else ""
    lamp = f"{where} '{found.lamp}'"
    says = {
        "missing": f"{where} the rule asks for {found.expected}{rule}; the plan has none.",
        "extra": f"{lamp} ({found.found}) is lit, and the rule has no such light.",
        "wrong colour": f"{lamp} is {found.found}; the rule asks for {found.expected}{rule}.",
        "wrong rhythm": f"{lamp} has the rhythm '{found.found}'; the rule asks for {found.expected}{rule}.",
        "wrong arc": f"{lamp} shows {found.found}; the rule asks for {found.expected}{rule}.",
    }
    spot = spot_of(design, found.lamp) if found.lamp else None
    cure = _command(design, states[0]) if found.kind == "missing" else ""
    return Trouble(item=found.lamp or found.rule_key, spot=spot, says=says[found.kind], cure=cure)


def _command(design: Design, state: str) -> str:
    """What puts a missing lamp into the plan: those that stand there already are left alone."""
    subject, rule = design.plan.subject, next((row.rule for row in design.plan.states if row.name == state), None)
    kind = f'"{subject.kind}"' if " " in subject.kind else subject.kind
    moved = f' --propulsion "{subject.propulsion}"' if subject.kind == "ship" and subject.propulsion != "power" else ""
    sizes = moved + "".join(f" --{name} {value:g}" for name, value in (
        ("length", subject.length_m), ("breadth", subject.breadth_m)) if value is not None)
    return (f"Add the lamp, with what its rule says under 'Made and seen'; or let the terminal put in what lacks: "
            f"rushlight lights {kind} --state \"{rule or state}\"{sizes} --into and the plan's folder. Or correct the "
            "state's rule, length or propulsion.")
