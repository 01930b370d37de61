"""A plan's own values over the drawer: measured values of parts, own numbers for habits."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from rushlight.errors import DocumentProblem, nearest_word
from rushlight.files._drawer_bounds import Breach, bounds, disagreements, number_breach
from rushlight.files._drawer_rows import Field, Table, table_named, with_rows
from rushlight.model.drawer import Drawer, Habit
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Measured, OwnValue, Practice
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
        A measured value has no range; one that is not measured keeps the row's relative range. Readings at the bench
        come last: each value then has the range that they leave it.
    Raises
    ------
    DocumentProblem
        With every row, column or habit that is not known, and every value out of place.
    """
    problems = [_problem(item, fault) for item, fault in _faults(drawer, plan)]
    if problems:
        raise DocumentProblem(problems)
    changed = with_own(drawer, plan.drawer)
    habits = tuple(_with_practice(habit, plan.practice) for habit in drawer.habits)
    usual = with_rows(changed, "habits", habits)
    if not plan.measured:
        return usual
    from rushlight.stages.measured import with_measured  # brings in most of the engine: only where something was read

    return with_measured(usual, plan.measured)


def _faults(drawer: Drawer, plan: Plan) -> Iterator[tuple[str, Fault]]:
    for place, own in enumerate(plan.drawer, 1):
        fault = own_value_fault(drawer, own)
        if fault:
            yield f"drawer {place}", fault
    for place, practice in enumerate(plan.practice, 1):
        fault = practice_fault(drawer, practice)
        if fault:
            yield f"practice {place}", fault
    if not any(own_value_fault(drawer, own) for own in plan.drawer):
        changed = with_own(drawer, plan.drawer)
        yield from ((f"measured {place + 1}", fault) for place, fault in measured_faults(changed, plan.measured))
        yield from ((f"drawer {place + 1}", fault) for place, fault in together_faults(drawer, plan.drawer))


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
    if kind is int and own.value % 1:
        return Fault("value", f"is {own.value:g}", "a whole number")
    breach = None if kind is bool else number_breach(table.name, field_of(table, own.column).name, own.value)
    return None if breach is None else _as_fault("value", breach)


def _as_fault(key: str, breach: Breach) -> Fault:
    return Fault(key, f"is {breach.found}", breach.expected, breach.nearest)


def practice_fault(drawer: Drawer, practice: Practice) -> Fault | None:
    """What is wrong with an own habit, or None."""
    names = [habit.name for habit in drawer.habits]
    if practice.habit not in names:
        return Fault("habit", f"'{practice.habit}' is not known", "a habit that has a number",
                     nearest_word(practice.habit, names))
    for key, value in (("value", practice.value), ("to", practice.to)):
        breach = None if value is None else number_breach("habits", practice.habit, value)
        if breach:
            return _as_fault(key, breach)
    if practice.to is not None and practice.to < practice.value:
        return Fault("to", f"is {practice.to:g}", f"{practice.value:g} or more, the upper end")
    return None


def measured_faults(drawer: Drawer, measured: Sequence[Measured]) -> Iterator[tuple[int, Fault]]:
    """Readings at the bench that cannot be, or that come to what no such thing can have.

    Parameters
    ----------
    drawer : Drawer
        With the plan's own values.
    measured : sequence of Measured
        Readings of the plan.

    Yields
    ------
    tuple
        Place in the sequence, and what is wrong.
    """
    if not measured:
        return
    from rushlight.stages.measured import come_to, found_by, reckoned_in_order
    from rushlight.stages.measured_found import MeasuredFault
    from rushlight.stages.measured_places import put_in

    for place in reckoned_in_order(measured):
        try:
            found = found_by(drawer, measured[place])
        except MeasuredFault as wrong:
            yield place, Fault(wrong.key, wrong.found, wrong.expected, wrong.nearest)
            continue
        for value in found:
            name = value.row if value.table == "habits" else value.column
            breach = number_breach(value.table, name, value.value.typical)
            if breach:
                told = come_to(measured[place].what, value.column, value.value.typical)
                yield place, Fault("readings", f"come to {told}", breach.expected)
                break
            drawer = put_in(drawer, value)


def together_faults(drawer: Drawer, owns: Sequence[OwnValue]) -> Iterator[tuple[int, Fault]]:
    """Own values that contradict their row once all of them are put in: the place of each in the list, and the fault.

    Parameters
    ----------
    drawer : Drawer
        As read.
    owns : sequence of OwnValue
        Each of them right by itself.

    Yields
    ------
    tuple
        Place, and what is wrong.
    """
    changed = with_own(drawer, owns)
    for place, own in enumerate(owns):
        row = next(row for row in getattr(changed, own.table) if row.name == own.row)
        for breach in disagreements(own.table, row):
            if own.column in (breach.column, breach.against):
                yield place, Fault("value", f"makes {breach.column} {breach.found}", breach.expected)


def with_own(drawer: Drawer, owns: Sequence[OwnValue]) -> Drawer:
    """The drawer with own values put in, one after the other."""
    for own in owns:
        rows = tuple(_with(row, own) if row.name == own.row else row for row in getattr(drawer, own.table))
        drawer = with_rows(drawer, own.table, rows)
    return drawer


def number_columns(table: Table) -> tuple[str, ...]:
    """Columns of a table that a plan may override."""
    return tuple(column for field in table.fields if field.kind is not str for column in field.columns)


def field_of(table: Table, column: str) -> Field:
    """The field that a column belongs to."""
    return next(field for field in table.fields if column in field.columns)


def _with(row: Any, own: OwnValue) -> Any:
    field = field_of(table_named(own.table), own.column)
    if field.kind is Range:
        value: Any = _within(_range(getattr(row, field.name), field, own), own.table, field.name)
    else:
        value = field.kind(own.value)
    if field.name == "half_angle_deg" and own.measured:
        row = dataclasses.replace(row, angle_share=0.0)
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


def _within(spread: Range, table: str, field: str) -> Range:
    """A range whose ends are kept within the column's bounds; a share is never over 1."""
    bound = bounds().get((table, field))
    if bound is None:
        return spread
    return Range(bound.nearest(spread.low), spread.typical, bound.nearest(spread.high))


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
