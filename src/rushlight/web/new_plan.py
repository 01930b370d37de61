"""A new plan from a few answers: subject, scale, size of the first part, states."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from rushlight.errors import OutOfRange
from rushlight.files.drawer_csv import own_folder, read_drawer
from rushlight.files.plan_write import dump_plan, write_text
from rushlight.model.plan import Part, Plan, State, Subject, Supply
from rushlight.sheets.words import slug

MOST_STATES = 12


def new_plan(home: Path, answers: Mapping[str, Any]) -> Path:
    """Write a new plan into a folder of its own.

    Parameters
    ----------
    home : Path
        Folder that holds the plans.
    answers : mapping
        `title`, `kind`, `scale`, `part`, `length_mm`, `height_mm`, `states` (list of names).
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
    states = [str(name).strip() for name in answers.get("states") or ["lit"]][:MOST_STATES]
    part = Part(name=_word(answers, "part"), outline_mm=_box(_size(answers, "length_mm"), _size(answers, "height_mm")))
    kind, scale = str(answers.get("kind", "other")), _size(answers, "scale")
    return Plan(
        subject=Subject(title=_word(answers, "title"), kind=kind, scale=scale),
        states=tuple(State(name=name) for name in states if name) or (State(name="lit"),),
        parts=(part,), supply=Supply(kind="cells"),
    )


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
