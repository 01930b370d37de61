"""A plan against the rule for its subject: the lamps that each state must show, and those that it does show."""

from __future__ import annotations

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.plan import Lamp, Plan, Row, State
from rushlight.model.subject_light import Difference, RequiredLamp, ShownLamp, SubjectLights, SubjectRequest
from rushlight.stages.lamps import row_places
from rushlight.stages.subject_lights import check_against, required_lights
from rushlight.timing.character import parse_rhythm

RULED = ("ship", "aircraft", "road vehicle", "rail vehicle", "sea mark")
"""Kinds of subject whose rule tables a plan can be checked against."""


OPEN_CLASSES = ("lateral", "special")
"""Sea marks that may have any rhythm not used for another mark; the table names a usual one."""


def differences(plan: Plan) -> tuple[tuple[str, tuple[Difference, ...]], ...]:
    """For each state that names a rule: what is missing, extra, of a wrong colour, arc or rhythm.

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
            required = required_of(plan, state)
        except (UnknownName, OutOfRange):
            continue
        lamps = check_against(required, _shown(plan), state=state.name)
        found.append((state.name, (*lamps, *_wrong_rhythms(plan, required, state.name))))
    return tuple(found)


def unknown_rules(plan: Plan) -> tuple[tuple[str, str], ...]:
    """States whose `rule` the tables do not know for this subject, with the reason."""
    if plan.subject.kind not in RULED:
        return ()
    found = []
    for state in plan.states:
        if state.rule is not None:
            try:
                required_of(plan, state)
            except (UnknownName, OutOfRange) as trouble:
                found.append((state.name, str(trouble)))
    return tuple(found)


def required_of(plan: Plan, state: State) -> SubjectLights:
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


def _wrong_rhythms(plan: Plan, required: SubjectLights, state: str) -> tuple[Difference, ...]:
    """Lamps that name their rule's light and flash otherwise than it asks."""
    written: tuple[Lamp | Row, ...] = (*plan.lamps, *plan.rows)
    found = []
    for lamp in written:
        want = next((row for row in required.lamps if lamp.rule in (row.rule_key, row.light)), None)
        if want is None or state not in lamp.states or not _built(plan, lamp):
            continue
        asked = _asked_rhythm(want, lamp.rhythm)
        if asked:
            found.append(Difference("wrong rhythm", want.rule_key, lamp.name, asked, lamp.rhythm, want.source))
    return tuple(found)


def _asked_rhythm(want: RequiredLamp, text: str) -> str:
    """What the rule asks of a rhythm that breaks it; empty where it is kept, or where the rule leaves it open."""
    rhythm = parse_rhythm(text)
    steady, must_be_steady = not rhythm.flashes, want.rhythm == "steady"
    if steady or must_be_steady:
        return "" if steady and must_be_steady else want.rhythm
    low, high = want.rate_min_per_min, want.rate_max_per_min
    if (low is not None and rhythm.patterns_per_min < low * 0.999) or (
        high is not None and rhythm.patterns_per_min > high * 1.001
    ):
        return _rate_words(low, high)
    classes = [parse_rhythm(choice) for choice in want.rhythm_choices]
    open_class = want.light.startswith(OPEN_CLASSES) or not classes
    if open_class or any((row.kind, row.groups) == (rhythm.kind, rhythm.groups) for row in classes):
        return ""
    return " or ".join(want.rhythm_choices)


def _rate_words(low: float | None, high: float | None) -> str:
    if high is None:
        return f"{low:g} a minute or more"
    return f"{low:g} to {high:g} a minute" if low is not None else f"{high:g} a minute at most"


def _whole(row: Row) -> ShownLamp:
    count = len(row_places(row)) * (2 if row.mirror else 1)
    return ShownLamp(name=row.name, colour=row.colour, rule_key=row.rule, states=row.states, count=count)


def _one(lamp: Lamp) -> ShownLamp:
    start, end = lamp.arc_deg or (None, None)
    return ShownLamp(
        name=lamp.name, colour=lamp.colour, rule_key=lamp.rule, arc_from_deg=start, arc_to_deg=end,
        states=lamp.states,
    )
