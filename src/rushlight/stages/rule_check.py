"""A plan against the rule for its subject: the lamps that each state must show, and those that it does show."""

from __future__ import annotations

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.plan import Lamp, Plan, State
from rushlight.model.subject_light import Difference, ShownLamp, SubjectRequest
from rushlight.stages.subject_lights import check_against, required_lights

RULED = ("ship", "aircraft", "road vehicle", "rail vehicle", "sea mark")
"""Kinds of subject whose rule tables a plan can be checked against."""

PROPULSIONS = {"sail": "sailing", "none": "power"}
"""The plan's words for the rules'."""


def differences(plan: Plan) -> tuple[tuple[str, tuple[Difference, ...]], ...]:
    """For each state that names a rule: what is missing, extra, of a wrong colour or arc.

    Parameters
    ----------
    plan : Plan
        The checked plan. States without `rule` are left out.
    Returns
    -------
    tuple of (state, differences)
        A state whose rule is not known for this subject is left out too: `unknown_rules` names it.
    """
    if plan.subject.kind not in RULED:
        return ()
    found = []
    for state in plan.states:
        if state.rule is None:
            continue
        try:
            required = required_lights(_request(plan, state))
        except (UnknownName, OutOfRange):
            continue
        found.append((state.name, check_against(required, _shown(plan), state=state.name)))
    return tuple(found)


def unknown_rules(plan: Plan) -> tuple[tuple[str, str], ...]:
    """States whose `rule` the tables do not know for this subject, with the reason."""
    if plan.subject.kind not in RULED:
        return ()
    found = []
    for state in plan.states:
        if state.rule is not None:
            try:
                required_lights(_request(plan, state))
            except (UnknownName, OutOfRange) as trouble:
                found.append((state.name, str(trouble)))
    return tuple(found)


def _request(plan: Plan, state: State) -> SubjectRequest:
    subject = plan.subject
    return SubjectRequest(
        kind=subject.kind, state=state.rule or "", length_m=subject.length_m, breadth_m=subject.breadth_m,
        propulsion=PROPULSIONS.get(subject.propulsion, subject.propulsion),
    )


def _shown(plan: Plan) -> tuple[ShownLamp, ...]:
    return tuple(_one(lamp) for lamp in plan.lamps if _built(plan, lamp))


def _built(plan: Plan, lamp: Lamp) -> bool:
    in_version = not lamp.versions or plan.version is None or plan.version in lamp.versions
    return in_version and lamp.worth != "left out"


def _one(lamp: Lamp) -> ShownLamp:
    start, end = lamp.arc_deg or (None, None)
    return ShownLamp(
        name=lamp.name, colour=lamp.colour, rule_key=lamp.rule, arc_from_deg=start, arc_to_deg=end,
        states=lamp.states,
    )
