"""A finding: the document is fine, the build would not be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING

from rushlight.model.place import Spot

if TYPE_CHECKING:
    from rushlight.model.design import Design


class Grade(IntEnum):
    """How bad it is; the words are what the user reads, the number is the command's exit status."""

    COULD_BE_BETTER = 10
    DOUBTFUL = 20
    WILL_FAIL = 30
    DANGEROUS = 40

    @property
    def words(self) -> str:
        """The grade as the user reads it."""
        return self.name.lower().replace("_", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing that is wrong, doubtful or dangerous, where it is, why, and what cures it.

    `number` and `limit` are in `unit`; both are None for a logical rule.
    """

    key: str
    grade: Grade
    item: str
    spot: Spot | None
    number: float | None
    limit: float | None
    unit: str
    says: str
    why: str
    cure: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What a rule's function returns for one item; the rule adds the rest."""

    item: str
    says: str
    cure: str = ""
    spot: Spot | None = None
    number: float | None = None
    limit: float | None = None
    grade: Grade | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A kind of finding.

    `practice` names the row of practice_rules.csv that it checks, `caution` the row of safety_cautions.csv
    whose step it guards, `limit_of` the method's limit; `look` returns the troubles of a design.
    """

    key: str
    grade: Grade
    title: str
    unit: str
    why: str
    cure: str
    source: str
    look: Callable[[Design], tuple[Trouble, ...]]
    practice: str | None = None
    caution: str | None = None

    def find(self, design: Design) -> tuple[Finding, ...]:
        """Every finding of this kind in a design."""
        return tuple(
            Finding(
                key=self.key, grade=trouble.grade or self.grade, item=trouble.item, spot=trouble.spot,
                number=trouble.number, limit=trouble.limit, unit=self.unit, says=trouble.says,
                why=self.why, cure=trouble.cure or self.cure, source=self.source,
            )
            for trouble in self.look(design)
        )
