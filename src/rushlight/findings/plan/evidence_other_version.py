"""A lamp that only pictures of another version show."""

from __future__ import annotations

from rushlight.findings._words import Entry, entries, listed, spot_of
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble


def _look(design: Design) -> tuple[Trouble, ...]:
    version = design.plan.version
    if version is None:
        return ()
    others = {row.name for row in design.plan.references if row.versions and version not in row.versions}
    return tuple(
        _trouble(design, entry, version) for entry in entries(design)
        if (told := [row.of for row in entry.evidence if row.says == "for"]) and all(of in others for of in told)
    )


def _trouble(design: Design, entry: Entry, version: str) -> Trouble:
    pictures = list(dict.fromkeys(f"'{row.of}'" for row in entry.evidence if row.says == "for"))
    return Trouble(
        item=entry.name, spot=spot_of(design, entry.name),
        says=f"'{entry.name}' is built in the version '{version}', and only {listed(pictures)} of another version "
             f"{'shows' if len(pictures) == 1 else 'show'} it.",
    )


RULE = Rule(
    key="plan.evidence-other-version",
    grade=Grade.DOUBTFUL,
    title="Evidence from another version",
    unit="",
    why="Subjects are refitted: a lamp of the old days may be gone, or a new one not yet there.",
    cure="Find evidence of the version that you build, or name the lamp's versions.",
    source="common practice, no source",
    look=_look,
)
