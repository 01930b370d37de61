"""An offered edit tried before it is made: what it takes away, what it brings, and what does without."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import islice

from rushlight.errors import RushlightError
from rushlight.findings import find
from rushlight.findings.cures import cure_of, others_of
from rushlight.model.change import Edit
from rushlight.model.design import Design
from rushlight.model.drawer import Drawer
from rushlight.model.finding import Finding
from rushlight.model.plan import Plan
from rushlight.stages.pipeline import Progress, design
from rushlight.working_plan import changed

MOST_OTHERS = 2
"""So many other edits are tried where the offered one brings a finding (project rule)."""

MOST_TOLD = 3
"""So many findings that an edit brings are told one by one."""

DrawerOf = Callable[[Plan], Drawer]
"""The drawer with a plan's own values in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """An edit as it was tried: whether the finding goes, its grade where it stays, how many go in all, and those that
    come."""

    edit: Edit
    stays: Finding | None
    was: Finding
    gone: int
    brings: tuple[Finding, ...]

    @property
    def cures(self) -> bool:
        """Whether the finding goes."""
        return self.stays is None

    @property
    def clean(self) -> bool:
        """Whether it cures and brings nothing."""
        return self.cures and not self.brings

    @property
    def says(self) -> str:
        """What was found, in one or two sentences."""
        rest = f" {self.gone - 1} more {'goes' if self.gone == 2 else 'go'} with it." if self.gone > 1 else ""
        if self.stays is not None:
            return f"Tried: the finding stays{self._as_left(self.stays)}.{self._brought()}"
        return f"Tried: the finding goes{' and nothing new comes.' if not self.brings else '.'}{rest}{self._brought()}"

    def _as_left(self, left: Finding) -> str:
        """How a finding that stays is told then."""
        if left.grade < self.was.grade:
            return f", but only as {left.grade.words}"
        if left.number is not None and self.was.number is not None and left.number != self.was.number:
            return f" ({left.number:.3g} {left.unit} instead of {self.was.number:.3g}; the limit is {left.limit:.3g})"
        return ""

    def _brought(self) -> str:
        if not self.brings:
            return ""
        told = [f"{row.says} ({row.grade.words})" for row in self.brings[:MOST_TOLD]]
        more = f" And {len(self.brings) - MOST_TOLD} more." if len(self.brings) > MOST_TOLD else ""
        return f" But then comes, so see to it as well: {' '.join(told)}{more}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """The edit that a finding offers, as it was tried; where it brings another finding, one that does not."""

    first: Tried
    other: Tried | None


def tried_offer(
    made: Design, found: Sequence[Finding], finding: Finding, drawer_of: DrawerOf, *, progress: Progress | None = None
) -> Offer | None:
    """What a finding's edit would bring, found by making it.

    Parameters
    ----------
    made : Design
        The design as it is.
    found : sequence of Finding
        All that is found of it.
    finding : Finding
        One of them.
    drawer_of : callable
        The drawer with the values of a plan.
    progress : callable, optional
        Told the stages of each trial.
    Returns
    -------
    Offer or None
        None where no edit is offered. `other` is the first that cures and brings nothing: another edit for the same
        finding, else the offered one with the cure of what it brings. Each trial is a whole design, so this is asked
        for one finding at a time.
    Source
    ------
    The engine itself, on the changed plan; which others are tried is a project rule.
    """
    edit = cure_of(made, finding)
    trial = None if edit is None else _tried(made, found, finding, edit, (drawer_of, progress))
    if trial is None:
        return None
    first, after = trial
    if first.clean:
        return Offer(first=first, other=None)
    for other in _others(made, finding, first, after):
        another = _tried(made, found, finding, other, (drawer_of, progress))
        if another is not None and another[0].clean:
            return Offer(first=first, other=another[0])
    return Offer(first=first, other=None)


def _others(made: Design, finding: Finding, first: Tried, after: Design) -> list[Edit]:
    """Other edits for the same finding, then the offered one with that of the one finding which it brings."""
    others = [edit for edit in islice(others_of(made, finding), MOST_OTHERS + 1) if edit != first.edit][:MOST_OTHERS]
    too = cure_of(after, first.brings[0]) if len(first.brings) == 1 and first.cures else None
    both = [Edit((*first.edit.changes, *too.changes), f"{first.edit.says.rstrip('.')}; and {_low(too.says)}")] \
        if too is not None else []
    return [*others, *both]


def _low(text: str) -> str:
    return text[:1].lower() + text[1:]


def _tried(
    made: Design, found: Sequence[Finding], finding: Finding, edit: Edit, how: tuple[DrawerOf, Progress | None]
) -> tuple[Tried, Design] | None:
    """An edit made on the plan and judged; None where it makes no plan that can be designed."""
    drawer_of, progress = how
    try:
        plan = changed(made.plan, edit.changes)
        after = design(plan, drawer_of(plan), previous=made, progress=progress)
    except RushlightError:
        return None
    left = find(after)
    known = {(row.key, row.item): row.grade for row in found}
    still = {(row.key, row.item) for row in left}
    gone = [row for row in found if (row.key, row.item) not in still]
    brings = tuple(row for row in left if row.grade > known.get((row.key, row.item), 0)
                   and not _renamed(row, gone, finding))
    stays = next((row for row in left if (row.key, row.item) == (finding.key, finding.item)), None)
    return Tried(edit=edit, stays=stays, was=finding, gone=len(gone), brings=brings), after


def _renamed(row: Finding, gone: Sequence[Finding], finding: Finding) -> bool:
    """Whether another finding of the same thing goes for it that weighs as much: the same trouble under a name that
    was left untold beside it."""
    return any(old.item == row.item and old.grade >= row.grade for old in gone if old.key != finding.key)
