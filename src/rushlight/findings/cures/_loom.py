"""Edits that cure findings on the loom: slack, holes, names, what a crossing carries."""

from __future__ import annotations

from dataclasses import replace

from rushlight.findings._words import Entry, plain
from rushlight.findings.cures._edits import edit, moved_mm, names_of, pins_out, up
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.model.plan import Crossing
from rushlight.stages.moving_leads import loop_of, swing_of


def _crossing(design: Design, finding: Finding) -> Crossing | None:
    return next((row for row in design.plan.crossings if row.name == finding.item), None)


def slack(design: Design, finding: Finding) -> Edit | None:
    """As long a loop as the opening or the move asks."""
    row = _crossing(design, finding)
    if row is None or finding.limit is None:
        return None
    return moved_mm(("crossings", row.name, "slack_mm"), row.slack_mm, up(finding.limit, 1), "the slack")


def follows(design: Design, finding: Finding) -> Edit | None:
    """A crossing that turns or slides with the part, and as long a loop as that asks."""
    row = _crossing(design, finding)
    swing = swing_of(design.plan, row) if row else None
    if row is None or swing is None or not swing.said or swing.turn_deg > 360.0:
        return None
    values: dict[str, object] = {"kind": "pivoting", "opening_deg": swing.turn_deg, "hinge_distance_mm": None}
    if swing.travel_mm:
        values = {"kind": "sliding", "travel_mm": swing.travel_mm, "hinge_distance_mm": None}
    made = replace(row, kind=str(values["kind"]), opening_deg=swing.turn_deg, travel_mm=swing.travel_mm)
    loop = max(row.slack_mm, up(loop_of(design, made).wanted_mm, 1))
    way = f"slide {plain(swing.travel_mm, 4)} mm" if swing.travel_mm else f"turn {plain(swing.turn_deg, 4)} deg"
    return edit("crossings", row.name, {**values, "slack_mm": loop},
                f"let '{row.name}' {way} with '{swing.part}', with a loop of {plain(loop, 4)} mm.")


def pass_hole(design: Design, finding: Finding) -> Edit | None:
    """A hole that passes the bundle or the plug."""
    row = _crossing(design, finding)
    if row is None or row.hole_mm is None or finding.limit is None:
        return None
    return moved_mm(("crossings", row.name, "hole_mm"), row.hole_mm, up(finding.limit, 0.1), "the pass hole")


def comes_off(design: Design, finding: Finding) -> Edit | None:
    """A plug for the leads; or leads alone, and room for an LED of fibres on the part that comes off."""
    row = _crossing(design, finding)
    if row is None:
        return None
    if "without a plug" in finding.says:
        return edit("crossings", row.name, {"kind": "plug"}, f"make the crossing '{row.name}' a plug.")
    apart = [end.part for end in row.ends if design.plan.part(end.part).removable]
    part = apart[0] if apart else row.ends[1].part
    changes = (Change("set", "crossings", row.name, {"carries": "leads"}),
               Change("set", "parts", part, {"room_for_illuminators": True}))
    return Edit(changes, f"Let '{row.name}' carry leads alone, and give '{part}' LEDs of its own for its fibres.")


def other_name(design: Design, finding: Finding) -> Edit | None:
    """A lamp's name that no lead has, where nothing else in the plan calls the lamp by it."""
    plan = design.plan
    written: tuple[Entry, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    lamp = next((row for row in plan.lamps if row.name == finding.item), None)
    named = [row.brightness.like for row in written]
    named += [mark.lamp for picture in plan.references for mark in picture.marks] + [pin.of for pin in plan.pinned]
    if lamp is None or lamp.name in named:
        return None
    new = f"lamp {lamp.name}"
    return edit("lamps", lamp.name, {"name": new}, f"call the lamp '{lamp.name}' '{new}'.")


def no_held_bundle(design: Design, finding: Finding) -> Edit | None:
    """The lamps of a bundle that one LED cannot feed are let go."""
    return pins_out(design, ("bundle",), {pin.of for pin in design.plan.pinned if pin.value == finding.item})


def held_tails(design: Design, finding: Finding) -> Edit | None:
    """What is held of a bundle that is wider than its LED's face is let go."""
    own = [design.loom.emitter(row.emitter) for row in design.loom.bundles if row.name == finding.item]
    return pins_out(design, ("bundle", "fibres_per_led"), names_of(design, own))
