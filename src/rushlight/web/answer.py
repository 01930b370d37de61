"""The whole answer as plain data: all that follows from a plan and is drawn or said on the screens."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Lead, Tail
from rushlight.model.finding import Finding
from rushlight.model.place import Leg
from rushlight.sheets.amounts import amount, range_words, run_words
from rushlight.sheets.shown import shown_picture, shown_rhythms
from rushlight.web.bands_plain import band_code
from rushlight.web.plain import plain

NAMED = 2
"""Rows of lamps that the heading of a finding names."""


def answer_json(design: Design, findings: tuple[Finding, ...]) -> dict[str, Any]:
    """All that follows from the plan and is drawn or said on the screens."""
    from rushlight.findings.cures import cure_of  # the server itself needs none of the findings

    return {
        "findings": [{**finding_json(finding, cure_of(design, finding)), "of": whose(design, finding.item)}
                     for finding in findings],
        "glow": glow_json(design),
        "loom": loom_json(design),
        "picture": asdict(shown_picture(design)),
        "pools": pools_json(design),
        "power": power_json(design),
        "rhythms": rhythms_json(design),
    }


def finding_json(finding: Finding, edit: Edit | None = None) -> dict[str, Any]:
    """A finding with its grade as a word, its place, and the edit that cures it."""
    spot = finding.spot
    same = ("key", "item", "number", "limit", "unit", "says", "why", "cure", "source")
    return {
        **{name: getattr(finding, name) for name in same},
        "grade": finding.grade.words, "rank": int(finding.grade),
        "part": spot.part if spot else None, "at_mm": plain(spot.at_mm) if spot else None,
        "edit": {"says": edit.says, "changes": [change_json(change) for change in edit.changes]} if edit else None,
    }


def whose(design: Design, item: str) -> str:
    """What a finding speaks of, in words: an LED that feeds fibres has a name that only the book's lists know."""
    own = next((row for row in design.loom.emitters if row.name == item and row.kind == "illuminator"), None)
    if own is None:
        return item
    group = {lamp.name: lamp.group for lamp in design.lamps}
    lights = list(dict.fromkeys(group[name] for name in own.lamps if name in group))
    more = f" and {len(lights) - NAMED} more" if len(lights) > NAMED else ""
    return f"{item}, the LED behind {', '.join(lights[:NAMED])}{more}"


def change_json(change: Change) -> dict[str, Any]:
    """A change as the API takes it back."""
    return {"action": change.action, "kind": change.kind, "name": change.name, "values": plain(dict(change.values))}


def glow_json(design: Design) -> dict[str, Any]:
    """For each state the lamps that are lit and how strong they are."""
    states: dict[str, dict[str, Any]] = {state.name: {} for state in design.plan.states}
    for row in design.light.lamps:
        mcd = float(f"{1000 * row.intensity_cd.typical:.5g}")
        states[row.state][row.lamp] = {"mcd": mcd, "told": _told(row.looked_at)}
    return states


def _told(light: LampLight) -> str:
    """What a lamp gives, in words."""
    inner, outer = (range_words(value, "mcd", times=1000) for value in (light.likely_cd, light.intensity_cd))
    outside = "" if inner == outer else f", {outer} at the outside"
    return f"about {amount(1000 * light.intensity_cd.typical, 'mcd')}; likely (19 times in 20) {inner}{outside}"


def loom_json(design: Design) -> dict[str, Any]:
    """Leads, fibres, joints and LEDs as they lie on the parts."""
    loom = design.loom
    wires = {row.name: row.outer_mm for row in design.drawer.wires}
    return {
        "leads": [_lead_json(lead, wires.get(lead.wire, 0.6)) for lead in loom.leads],
        "tails": [_tail_json(tail) for tail in loom.tails],
        "splices": [
            {"name": row.name, "net": row.net, "part": row.spot.part, "at_mm": plain(row.spot.at_mm),
             "length_mm": row.sleeve.cut_mm} for row in loom.splices
        ],
        "emitters": [
            {"name": row.name, "kind": row.kind, "part": row.spot.part, "at_mm": plain(row.spot.at_mm),
             "circuit": row.circuit, "lamps": plain(row.lamps), "strip_mm": plain(row.strip_points_mm)}
            for row in loom.emitters
        ],
        "unrouted": plain(loom.unrouted),
        "lead_mm": sum(lead.cut_mm for lead in loom.leads), "tail_mm": sum(tail.cut_mm for tail in loom.tails),
    }


def _lead_json(lead: Lead, outer_mm: float) -> dict[str, Any]:
    return {"name": lead.name, "net": lead.net, "role": lead.role, "circuit": lead.circuit, "outer_mm": outer_mm,
            "cut_mm": lead.cut_mm, "legs": _legs(lead.legs)}


def _tail_json(tail: Tail) -> dict[str, Any]:
    return {"name": tail.name, "lamp": tail.lamp, "emitter": tail.emitter, "fibre_mm": tail.fibre_mm,
            "cut_mm": tail.cut_mm, "legs": _legs(tail.legs)}


def _legs(legs: tuple[Leg, ...]) -> list[dict[str, Any]]:
    return [{"part": leg.part, "points": [[round(x, 2), round(y, 2)] for x, y in leg.points_mm]} for leg in legs]


def pools_json(design: Design) -> list[dict[str, Any]]:
    """Lines of equal light on every part that floodlights light, with the states in which they do."""
    if not design.light.grounds:
        return []
    from rushlight.sheets.pools import LEVELS, level_lines_of, walls_seen  # loaded where there is a floodlight

    parts = {part.name: part for part in design.plan.parts}
    found = []
    for ground in design.light.grounds:
        if ground.part is None:
            continue
        lines = level_lines_of(ground, parts[ground.part])
        levels = [{"share": share, "lx": float(f"{level:.2g}"), "lines": [_rounded(points) for points in each]}
                  for (share, _), (level, each) in zip(LEVELS, lines, strict=True)]
        walls = [{"corners": _rounded(ring), "hangs": hangs} for _, ring, hangs in walls_seen(ground)]
        found.append({"part": ground.part, "states": plain(ground.states), "levels": levels, "walls": walls,
                      "feet": _rounded(ground.feet_mm)})
    return found


def _rounded(points: tuple[tuple[float, float], ...]) -> list[list[float]]:
    return [[round(x, 1), round(y, 1)] for x, y in points]


def power_json(design: Design) -> dict[str, Any]:
    """Currents and run times of each state."""
    power = design.power
    return {
        "supply": power.supply.name if power.supply else None,
        "switch": {"name": power.switch.name, "part_row": power.switch.part_row,
                   "positions": plain(power.switch.positions)} if power.switch else None,
        "evening_h": plain(power.evening_h), "faults": plain(power.faults),
        "states": [
            {"state": row.state, "position": row.position, "supply_ma": 1000 * row.supply_a.typical,
             "mean_ma": 1000 * row.mean_a, "power_w": row.power_w, "lit": len(row.lit),
             "runs": run_words(row.run_time_h)}
            for row in power.states
        ],
        "series": _series_json(design),
        "feeds": [
            {"circuit": row.circuit, "kind": row.kind, "part": row.part, "count": row.count,
             "fresh_ma": 1000 * row.fresh_a, "flat_ma": 1000 * row.flat_a, "heat_mw": 1000 * row.heat_w,
             "built": row.built}
            for row in power.feeds
        ],
        "regulators": [row.name for row in design.drawer.regulators],
        "switches": [row.name for row in design.drawer.switches],
        "bands": band_code(),
        "assortments": [row.name for row in design.drawer.resistors],
    }


def _series_json(design: Design) -> list[dict[str, Any]]:
    """What was weighed, and further lengths that may be held though they were not."""
    from rushlight.stages.series import like_leds  # the server itself designs nothing
    from rushlight.stages.series_trade import lengths_of

    rows: list[dict[str, Any]] = [
        {"circuit": row.circuit, "leds": len(row.emitters), "in_series": row.in_series, "best": row.best,
         "built": row.built, "by": row.by, "why": row.why}
        for row in design.series
    ]
    weighed = {(row.emitters[0], row.in_series) for row in design.series}
    by = {row.circuit: row.by for row in design.series}
    alike = like_leds(design.plan, design.drawer, design.circuits, design.loom.emitters) if design.series else ()
    return rows + [
        {"circuit": like.circuit, "leds": len(like.emitters), "in_series": most, "best": False, "built": False,
         "by": by.get(like.circuit, "resistor"), "why": ""}
        for like in alike for most in lengths_of(design.plan, design.drawer, like)
        if (like.emitters[0].name, most) not in weighed
    ]


def rhythms_json(design: Design) -> dict[str, Any]:
    """Rhythms of the plan as a screen may show them: slowed where they would flash too often."""
    return {text: plain(rhythm) for text, rhythm in shown_rhythms(design).items()}
