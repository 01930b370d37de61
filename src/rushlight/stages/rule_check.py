"""A plan against the rule for its subject: the lamps that each state must show, and those that it does show."""

from __future__ import annotations

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.plan import Lamp, Plan, Row, State
from rushlight.model.subject_light import Difference, ShownLamp, SubjectLights, SubjectRequest
from rushlight.stages.lamps import row_places
from rushlight.stages.subject_lights import check_against, required_lights

RULED = ("ship", "aircraft", "road vehicle", "rail vehicle", "sea mark")
"""Kinds of subject whose rule tables a plan can be checked against."""


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
            required = _required(plan, state)
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
                _required(plan, state)
            except (UnknownName, OutOfRange) as trouble:
                found.append((state.name, str(trouble)))
    return tuple(found)


def _required(plan: Plan, state: State) -> SubjectLights:
    """What the rule asks of the subject as it moves; any vessel, whatever moves it, may also be towed."""
    try:
        return required_lights(_request(plan, state, plan.subject.propulsion))
    except UnknownName:
        if plan.subject.kind != "ship":
            raise
        try:
            return required_lights(_request(plan, state, "being towed"))
        except UnknownName:
            pass
        raise


def _request(plan: Plan, state: State, propulsion: str) -> SubjectRequest:
    subject = plan.subject
    return SubjectRequest(
        kind=subject.kind, state=state.rule or "", length_m=subject.length_m, breadth_m=subject.breadth_m,
        propulsion=propulsion,
    )


def _shown(plan: Plan) -> tuple[ShownLamp, ...]:
    """Lamps that could be taken for lights of the rule: a lamp in a room, or a row, only if it names its rule."""
    singles = [_one(lamp) for lamp in plan.lamps if _built(plan, lamp) and (lamp.rule or lamp.opening is None)]
    rowed = [_whole(row) for row in plan.rows if _built(plan, row) and row.rule]
    return tuple(singles + rowed)


def _built(plan: Plan, lamp: Lamp | Row) -> bool:
    in_version = not lamp.versions or plan.version is None or plan.version in lamp.versions
    return in_version and lamp.worth != "left out"


def _whole(row: Row) -> ShownLamp:
    count = len(row_places(row)) * (2 if row.mirror else 1)
    return ShownLamp(name=row.name, colour=row.colour, rule_key=row.rule, states=row.states, count=count)


def _one(lamp: Lamp) -> ShownLamp:
    start, end = lamp.arc_deg or (None, None)
    return ShownLamp(
        name=lamp.name, colour=lamp.colour, rule_key=lamp.rule, arc_from_deg=start, arc_to_deg=end,
        states=lamp.states,
    )
