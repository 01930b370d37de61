"""A new plan from a few answers: subject, scale, size of the first part, states, and lamps that the rules ask for."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from rushlight.errors import OutOfRange
from rushlight.files.drawer_csv import own_folder, read_drawer
from rushlight.files.plan_edit import lamp_of
from rushlight.files.plan_write import dump_plan, write_text
from rushlight.model.plan import Lamp, Plan, State, Subject
from rushlight.model.plan_bench import Supply
from rushlight.model.plan_part import Part
from rushlight.sheets.words import slug
from rushlight.web.asked_lights import lamp_entries, request_of

MOST_STATES = 12
PLAN_KINDS = {"ship": "ship", "aircraft": "aircraft", "road": "road vehicle", "rail": "rail vehicle",
              "obstruction": "building", "sea mark": "sea mark"}
"""A plan's word for the kinds of subject that the tables know."""


def new_plan(home: Path, answers: Mapping[str, Any]) -> Path:
    """Write a new plan into a folder of its own.

    Parameters
    ----------
    home : Path
        Folder that holds the plans.
    answers : mapping
        `title`, `kind`, `scale`, `part`, `length_mm`, `height_mm`, `states` (list of names); or `lights`,
        a mapping of `kind`, `states` and the facts of `asked_lights.ASKS`: the plan then begins with the rule's lamps.
    Returns
    -------
    Path
        The plan's folder; an existing one is never overwritten.
    Raises
    ------
    OutOfRange
        If an answer is missing or of the wrong kind.
    DocumentProblem
        If the plan that they give has problems.
    """
    plan = _plan(answers)
    folder = free_folder(home, plan.subject.title)
    write_text(folder, dump_plan(plan), drawer=read_drawer(own_folder()), expected_revision=None, what="begun")
    return folder


def free_folder(home: Path, title: str) -> Path:
    """A folder that does not exist yet, named after the title."""
    name = slug(title)
    number, folder = 2, home / name
    while folder.exists():
        number, folder = number + 1, home / f"{name}-{number}"
    return folder


def _plan(answers: Mapping[str, Any]) -> Plan:
    part = Part(name=_word(answers, "part"), outline_mm=_box(_size(answers, "length_mm"), _size(answers, "height_mm")))
    title, scale = _word(answers, "title"), _size(answers, "scale")
    lights = answers.get("lights")
    if isinstance(lights, Mapping):
        subject, states, lamps = _from_rules(title, scale, lights)
    else:
        subject, states, lamps = Subject(title=title, kind=str(answers.get("kind", "other")), scale=scale), (), ()
        names = [str(name).strip() for name in answers.get("states") or ["lit"]][:MOST_STATES]
        states = tuple(State(name=name) for name in names if name) or (State(name="lit"),)
    return Plan(subject=subject, states=states, parts=(part,), supply=Supply(kind="cells"), lamps=lamps)


def _from_rules(
    title: str, scale: float, lights: Mapping[str, Any]
) -> tuple[Subject, tuple[State, ...], tuple[Lamp, ...]]:
    """Subject, states and lamps as the rules have them; the lamps are left to be placed."""
    entries = lamp_entries(lights)
    asked = request_of(lights, "")
    moved_by = asked.propulsion if asked.kind == "ship" else "power"
    subject = Subject(
        title=title, kind=PLAN_KINDS[asked.kind], scale=scale, length_m=asked.length_m, breadth_m=asked.breadth_m,
        propulsion={"sailing": "sail"}.get(moved_by, moved_by),
    )
    states = tuple(State(name=str(state), rule=str(state)) for state in lights["states"])
    return subject, states, tuple(lamp_of(entry) for entry in entries)


def _box(length_mm: float, height_mm: float) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (length_mm, 0.0), (length_mm, height_mm), (0.0, height_mm))


def _word(answers: Mapping[str, Any], key: str) -> str:
    value = str(answers.get(key) or "").strip()
    if not value:
        raise OutOfRange(key, "empty", "a word or two")
    return value


def _size(answers: Mapping[str, Any], key: str) -> float:
    try:
        value = float(answers.get(key, ""))
    except (TypeError, ValueError):
        value = 0.0
    if not 0 < value <= 100_000:
        raise OutOfRange(key, answers.get(key), "a number above 0")
    return value
