"""A plan's own values over the drawer: measured values of parts, own numbers for habits."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from rushlight.errors import DocumentProblem, nearest_word
from rushlight.files._drawer_rows import Field, Table, table_named, with_rows
from rushlight.model.drawer import Drawer, Habit
from rushlight.model.plan import OwnValue, Plan, Practice
from rushlight.model.problem import Problem
from rushlight.units import Range


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one own value: at which key, what stands there, what was expected."""

    key: str
    found: str
    expected: str
    nearest: str | None = None


def own_values(drawer: Drawer, plan: Plan) -> Drawer:
    """The drawer with the plan's own values and habits put over it.

    Parameters
    ----------
    drawer : Drawer
        As read; it is not changed.
    plan : Plan
        Its `drawer` and `practice` are used.
    Returns
    -------
    Drawer
        A measured value has no range; one that is not measured keeps the row's relative range.
    Raises
    ------
    DocumentProblem
        With every row, column or habit that is not known, and every value out of place.
    """
    problems = [_problem(item, fault) for item, fault in _faults(drawer, plan)]
    if problems:
        raise DocumentProblem(problems)
    for own in plan.drawer:
        rows = tuple(_with(row, own) if row.name == own.row else row for row in getattr(drawer, own.table))
        drawer = with_rows(drawer, own.table, rows)
    return with_rows(drawer, "habits", tuple(_with_practice(habit, plan.practice) for habit in drawer.habits))


def _faults(drawer: Drawer, plan: Plan) -> Iterator[tuple[str, Fault]]:
    for place, own in enumerate(plan.drawer, 1):
        fault = own_value_fault(drawer, own)
        if fault:
            yield f"drawer {place}", fault
    for place, practice in enumerate(plan.practice, 1):
        fault = practice_fault(drawer, practice)
        if fault:
            yield f"practice {place}", fault


def _problem(item: str, fault: Fault) -> Problem:
    return Problem(file="plan.yaml", line=0, column=0, item=item, found=f"{fault.key} {fault.found}",
                   expected=fault.expected, nearest=fault.nearest)


def own_value_fault(drawer: Drawer, own: OwnValue) -> Fault | None:
    """What is wrong with an own value, or None."""
    names = [row.name for row in getattr(drawer, own.table)]
    if own.row not in names:
        return Fault("row", f"'{own.row}' is not known", f"a row of the drawer's {own.table}",
                     nearest_word(own.row, names))
    table = table_named(own.table)
    columns = number_columns(table)
    if own.column not in columns:
        return Fault("column", f"'{own.column}' is not known", f"a column of {own.table} that holds a number",
                     nearest_word(own.column, columns))
    return _value_fault(table, own)


def _value_fault(table: Table, own: OwnValue) -> Fault | None:
    kind = field_of(table, own.column).kind
    if kind is bool and own.value not in (0, 1):
        return Fault("value", f"is {own.value:g}", "1 for yes, 0 for no")
    if own.value < 0:
        return Fault("value", f"is {own.value:g}", "a number that is not negative")
    if kind is int and own.value % 1:
        return Fault("value", f"is {own.value:g}", "a whole number")
    return None


def practice_fault(drawer: Drawer, practice: Practice) -> Fault | None:
    """What is wrong with an own habit, or None."""
    names = [habit.name for habit in drawer.habits]
    if practice.habit not in names:
        return Fault("habit", f"'{practice.habit}' is not known", "a habit that has a number",
                     nearest_word(practice.habit, names))
    if practice.to is not None and practice.to < practice.value:
        return Fault("to", f"is {practice.to:g}", f"{practice.value:g} or more, the upper end")
    return None


def number_columns(table: Table) -> tuple[str, ...]:
    """Columns of a table that a plan may override."""
    return tuple(column for field in table.fields if field.kind is not str for column in field.columns)


def field_of(table: Table, column: str) -> Field:
    """The field that a column belongs to."""
    return next(field for field in table.fields if column in field.columns)


def _with(row: Any, own: OwnValue) -> Any:
    field = field_of(table_named(own.table), own.column)
    value: Any = field.kind(own.value) if field.kind is not Range else _range(getattr(row, field.name), field, own)
    source = f"{row.source}; {own.column} is your own{', measured' if own.measured else ''}"
    return dataclasses.replace(row, **{field.name: value, "source": source})


def _range(old: Range, field: Field, own: OwnValue) -> Range:
    """An end of the range moves that end; the middle moves all of it, and has no width when measured."""
    end = field.columns.index(own.column)
    if end == 0:
        return Range(own.value, max(own.value, old.typical), max(own.value, old.high))
    if end == 2:
        return Range(min(own.value, old.low), min(own.value, old.typical), own.value)
    if own.measured or old.typical == 0:
        return Range.exactly(own.value)
    return Range.spread(own.value, old.low / old.typical, old.high / old.typical)


def _with_practice(habit: Habit, own: tuple[Practice, ...]) -> Habit:
    for practice in own:
        if practice.habit == habit.name:
            habit = _own_habit(habit, practice)
    return habit


def _own_habit(habit: Habit, practice: Practice) -> Habit:
    """An interval takes both ends; a habit with an upper end alone takes the value as that end."""
    if practice.to is not None:
        return dataclasses.replace(habit, low=practice.value, high=practice.to, own=True)
    if habit.low is None:
        return dataclasses.replace(habit, high=practice.value, own=True)
    high = None if habit.high is None else max(habit.high, practice.value)
    return dataclasses.replace(habit, low=practice.value, high=high, own=True)
