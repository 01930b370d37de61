"""Order of work: which steps this build needs, what comes before what, gates with predicted readings, sittings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rushlight.model.design import Order, Step
from rushlight.model.plan_part import Part
from rushlight.stages.build import Build
from rushlight.stages.gates import gate_readings
from rushlight.stages.rhythms import made_rhythms
from rushlight.stages.step_details import step_details, step_items
from rushlight.tables import rows

NEXT_SITTING_H = 3.0
"""A wait this long or longer ends a sitting (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class _Draft:
    """A step that is needed, before it has a number."""

    key: str
    part: str | None
    rank: int

    @property
    def name(self) -> tuple[str, str]:
        return (self.key, self.part or "")


def order_of_work(build: Build) -> Order:
    """All steps that this build needs, in an order that keeps every hard and soft constraint of the tables.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    Returns
    -------
    Order
        Numbered steps; those that wait for nothing go before those that would start a new sitting.
    Source
    ------
    build_steps.csv, build_precedence.csv, build_after_close.csv, step_rules.csv (common practice, no source).
    """
    drafts = _needed(build)
    before = _before(drafts)
    chosen = _scheduled(drafts, before)
    number = {draft.name: place for place, (draft, _) in enumerate(chosen, 1)}
    steps = tuple(
        _step(build, draft, sitting=sitting, number=number, before=before[draft.name]) for draft, sitting in chosen
    )
    return Order(steps=steps, sittings=max(step.sitting for step in steps), wait_h=sum(step.wait_h for step in steps))


# --- which steps --------------------------------------------------------------------------------------------------


def _needed(build: Build) -> list[_Draft]:
    drafts = []
    for rank, row in enumerate(rows("step_rules")):
        if row["per_part"] == "yes":
            drafts += [
                _Draft(row["step"], part.name, rank)
                for part in build.plan.parts
                if _part_needs(build, part, row["needs"])
            ]
        elif _build_needs(build, row["needs"]):
            drafts.append(_Draft(row["step"], None, rank))
    return drafts


def _build_needs(build: Build, needs: str) -> bool:
    plan = build.plan
    facts = {
        "": True,
        "tails": bool(build.loom.tails),
        "leads": bool(build.loom.leads),
        "splices": bool(build.loom.splices or build.loom.strings),
        "emitters": bool(build.loom.emitters),
        "regulators": bool(build.power.regulators),
        "crossings": bool(plan.crossings),
        "supply": plan.supply is not None,
        "controller": any(row.driven for row in made_rhythms(plan, build.circuits, build.loom)),
        "clear_openings": any(opening.clear for part in plan.parts for opening in part.openings),
        "removable": any(part.removable for part in plan.parts),
    }
    return facts[needs]


def _part_needs(build: Build, part: Part, needs: str) -> bool:
    holes = any(
        source.hole_mm for lamp, source in zip(build.lamps, build.sources, strict=True)
        if lamp.spot and lamp.spot.part == part.name
    )
    ends = {lamp.name for lamp in build.lamps if lamp.spot and lamp.spot.part == part.name}
    facts = {
        "holes": holes,
        "openings": bool(part.openings),
        "holes_or_openings": holes or bool(part.openings),
        "lit_part": _is_lit(build, part),
        "clear_openings": any(opening.clear for opening in part.openings),
        "tinted": False,
        "diffusers": any(opening.diffusers for opening in part.openings),
        "emitters_on_part": any(emitter.spot.part == part.name for emitter in build.loom.emitters),
        "tails_on_part": any(tail.lamp in ends for tail in build.loom.tails),
        "leads_on_part": any(leg.part == part.name for lead in build.loom.leads for leg in lead.legs),
    }
    return facts[needs]


def _is_lit(build: Build, part: Part) -> bool:
    """A part whose inside sees light: it carries an emitter, or belongs to a space with one, or has coats planned."""
    lit_parts = {emitter.spot.part for emitter in build.loom.emitters}
    together = {name for space in build.plan.spaces if lit_parts & set(space.parts) for name in space.parts}
    return bool(part.coats) or part.name in lit_parts | together


# --- what comes before what ---------------------------------------------------------------------------------------


def _before(drafts: list[_Draft]) -> dict[tuple[str, str], set[tuple[str, str]]]:
    """For each step those that must come before it; one that a part does not need hands its own on for that part."""
    direct: dict[str, set[str]] = {}
    for row in rows("build_precedence"):
        direct.setdefault(row["after"], set()).add(row["before"])
    by_key: dict[str, list[_Draft]] = {}
    for draft in drafts:
        by_key.setdefault(draft.key, []).append(draft)
    parts = {draft.part for draft in drafts if draft.part is not None}
    known: dict[tuple[str, str | None], set[tuple[str, str]]] = {}

    def earlier(key: str, part: str | None) -> set[tuple[str, str]]:
        if (key, part) not in known:
            known[key, part] = set().union(*(handed(step, part) for step in direct.get(key, ())))
        return known[key, part]

    def handed(step: str, part: str | None) -> set[tuple[str, str]]:
        there = by_key.get(step, [])
        own = {other.name for other in there if part is None or other.part is None or other.part == part}
        bare = parts - {other.part for other in there} if part is None else {part} if not own else set()
        if there and there[0].part is None:
            return own
        return own.union(*(earlier(step, name) for name in bare), earlier(step, part) if not own else set())

    return {draft.name: earlier(draft.key, draft.part) for draft in drafts}


def _scheduled(
    drafts: list[_Draft], before: Mapping[tuple[str, str], set[tuple[str, str]]]
) -> list[tuple[_Draft, int]]:
    """List scheduling: of the steps that may start, the one in the earliest sitting, then in the tables' order."""
    wait = {row["key"]: _wait_h(row["time"]) for row in rows("build_steps")}
    sitting: dict[tuple[str, str], int] = {}
    done: list[tuple[_Draft, int]] = []
    left = list(drafts)
    while left:
        ready = [
            (max((sitting[name] + (wait[name[0]] >= NEXT_SITTING_H) for name in before[draft.name]), default=1), draft)
            for draft in left
            if before[draft.name] <= sitting.keys()
        ]
        earliest, draft = min(ready, key=lambda pair: (pair[0], pair[1].rank, pair[1].part or ""))
        now = max(earliest, done[-1][1]) if done else earliest
        sitting[draft.name] = now
        done.append((draft, now))
        left.remove(draft)
    return done


def _wait_h(text: str) -> float:
    return float(text) if text else 0.0


# --- the step itself ----------------------------------------------------------------------------------------------


def _step(
    build: Build, draft: _Draft, *, sitting: int, number: Mapping[tuple[str, str], int],
    before: set[tuple[str, str]],
) -> Step:
    facts = next(row for row in rows("build_steps") if row["key"] == draft.key)
    rule = next(row for row in rows("step_rules") if row["step"] == draft.key)
    after_close = next((row["after_close"] for row in rows("build_after_close") if row["step"] == draft.key), None)
    return Step(
        number=number[draft.name], key=draft.key, title=facts["step"], kind=facts["kind"], part=draft.part,
        items=step_items(build, draft.key, draft.part), details=step_details(build, draft.key, draft.part),
        after=tuple(sorted(number[name] for name in before)), undo=facts["undo"], wait_h=_wait_h(facts["time"]),
        sitting=sitting, cautions=_cautions(build, rule["cautions"]),
        readings=gate_readings(build, draft.key) if facts["kind"] == "gate" else (),
        after_close=after_close, photograph=rule["hides"] == "yes",
    )


def _cautions(build: Build, places: str) -> tuple[str, ...]:
    """Keys of the cautions that belong to a step, those for things that this build lacks left out."""
    wanted = set(places.split(";")) - {""}
    return tuple(
        row["key"] for row in rows("safety_cautions") if row["where_shown"] in wanted and _applies(build, row["key"])
    )


def _applies(build: Build, caution: str) -> bool:
    supply = build.plan.supply
    cell = build.drawer.cell(supply.cell) if supply and supply.kind == "cells" else None
    facts = {
        "button_cell": cell is not None and cell.coin,
        "liion_charge": cell is not None and "ion" in cell.chemistry,
        "liion_enclosure": cell is not None and "lithium ion" in cell.chemistry,
        "mains": supply is not None and "adapter" in supply.kind,
        "mixed_cells": cell is not None,
        "no_recharge": cell is not None and not cell.rechargeable,
        "heat_gun": True,
    }
    return facts.get(caution, True)
