"""Edits that cure findings on the plan itself: places, sizes, rules, held choices, states."""

from __future__ import annotations

import math
from itertools import pairwise

from rushlight.errors import nearest_word
from rushlight.findings._words import Entry, plain
from rushlight.findings.cures._edits import edit, entry_of, moved_mm, pins_out, up, written
from rushlight.findings.plan.strip_too_deep import too_deep
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.model.place import Point
from rushlight.model.plan import Lamp, Row
from rushlight.stages.measured_found import LED_VOLTAGE
from rushlight.stages.rule_check import differences, required_of
from rushlight.stages.scattered import scatters
from rushlight.stages.strip_choice import cut_lengths
from rushlight.stages.strip_cut import OffCut, along_of, off_cut_strips, shorter_cut
from rushlight.stages.strip_nearer import nearer

CLEAR_MM = 0.2
"""A lamp that is moved out of a keep-out stands so far from it (project proposal)."""


def lamp_in_keep_out(design: Design, finding: Finding) -> Edit | None:
    """One lamp moved to the nearest free place on its part."""
    from rushlight.findings.plan import lamp_in_keep_out as rule

    lamp = next((row for row in design.plan.lamps if row.name == finding.item), None)
    placed = [row for row in rule.RULE.find(design) if row.item == finding.item]
    if lamp is None or lamp.part is None or lamp.at_mm is None or len(placed) != 1 or " lies in " not in finding.says:
        return None
    hole = next((source.hole_mm for source in design.sources if source.lamp == lamp.name), None)
    place = _free_place(design, lamp, (hole or 1.0) / 2 + CLEAR_MM)
    if place is None:
        return None
    by = math.dist(place, lamp.at_mm)
    return edit("lamps", lamp.name, {"at_mm": list(place)},
                f"move '{lamp.name}' {plain(by)} mm, from {_place(lamp.at_mm)} to {_place(place)} mm.")


def _free_place(design: Design, lamp: Lamp, clear_mm: float) -> Point | None:
    """The nearest place that lies on the part and clear of all that is taken."""
    from shapely import Point as Dot
    from shapely import Polygon, union_all
    from shapely.ops import nearest_points

    from rushlight.findings.plan import lamp_in_keep_out as rule

    part = design.plan.part(lamp.part or "")
    taken = [Polygon(corners).buffer(clear_mm) for _, _, corners in rule.taken(part)]
    free = Polygon(part.outline_mm).buffer(-clear_mm).difference(union_all(taken))
    if free.is_empty or lamp.at_mm is None:
        return None
    near = nearest_points(free, Dot(lamp.at_mm))[0]
    return (round(near.x, 2), round(near.y, 2))


def _place(point: Point) -> str:
    return f"{point[0]:g}, {point[1]:g}"


def lamps_too_close(design: Design, finding: Finding) -> Edit | None:
    """A row drawn out evenly until enough wall stays between its holes; a straight or bent line keeps its shape."""
    found = entry_of(design, finding.item)
    if found is None or finding.number is None or finding.limit is None or not isinstance(found[1], Row):
        return None
    row = found[1]
    lamps = [lamp for lamp in design.lamps if lamp.group == row.name]
    second = finding.says.split("'")[3] if finding.says.count("'") >= 4 else ""
    pitch = _pitch_mm(row)
    if second not in {lamp.name for lamp in lamps} or pitch is None:
        return None
    needed = pitch + finding.limit - finding.number
    if row.pitch_mm is not None:
        return moved_mm(("rows", row.name, "pitch_mm"), row.pitch_mm, up(needed, 0.05), "the pitch")
    return _drawn_out(row, needed / pitch)


def _pitch_mm(row: Row) -> float | None:
    if row.pitch_mm is not None:
        return row.pitch_mm
    return _length_mm(row.along_mm) / (row.count - 1) if row.count and row.count > 1 else None


def _length_mm(line: tuple[Point, ...]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(line))


def _drawn_out(row: Row, times: float) -> Edit:
    middle = ((row.along_mm[0][0] + row.along_mm[-1][0]) / 2, (row.along_mm[0][1] + row.along_mm[-1][1]) / 2)
    grown = times + 0.02 / _length_mm(row.along_mm)  # places are written to a hundredth of a millimetre
    line = [
        [round(m + grown * (value - m), 2) for value, m in zip(point, middle, strict=True)] for point in row.along_mm
    ]
    new = _length_mm(tuple((x, y) for x, y in line))
    return edit("rows", row.name, {"along_mm": line},
                f"draw '{row.name}' out from {_length_mm(row.along_mm):.2f} to {new:.2f} mm, its middle in place.")


def lamp_under_fibre(design: Design, finding: Finding) -> Edit | None:
    """The size set to the smallest that is made."""
    found = entry_of(design, finding.item)
    if found is None or finding.limit is None:
        return None
    kind, entry = found
    size_mm, model_mm = getattr(entry, "size_mm", None), getattr(entry, "model_mm", None)
    if model_mm is not None:
        return moved_mm((kind, entry.name, "model_mm"), model_mm, up(finding.limit, 0.01), "the size on the model")
    if size_mm is None:
        return None
    least = up(finding.limit * design.plan.subject.scale, 0.1)
    return moved_mm((kind, entry.name, "size_mm"), size_mm, least, "the size on the subject")


def count_disputed(design: Design, finding: Finding) -> Edit | None:
    """The number that all evidence shows."""
    found = entry_of(design, finding.item)
    if found is None or not isinstance(found[1], Row) or found[1].count is None:
        return None
    counts = [row.count for row in found[1].evidence if row.count and row.says == "for"]
    if len({*counts}) != 1 or counts[0][0] != counts[0][1]:
        return None
    pair = (float(found[1].count), float(counts[0][0]))
    return Edit((Change("set", "rows", found[1].name, {"count": counts[0][0]}),),
                f"Build {pair[1]:g} of '{found[1].name}' instead of {pair[0]:g}, as the evidence shows.")


def state_dark(design: Design, finding: Finding) -> Edit | None:
    """A state that no lamp knows, taken out."""
    plan = design.plan
    written: tuple[Entry, ...] = (*plan.lamps, *plan.rows, *plan.strips)
    named = any(finding.item in entry.states for entry in written)
    if named or len(plan.states) < 2:
        return None
    says = f"Take the state '{finding.item}' out; no lamp names it."
    return Edit((Change("remove", "states", finding.item, {}),), says)


def like_not_built(design: Design, finding: Finding) -> Edit | None:
    """What is worked out now, written down."""
    found, room = entry_of(design, finding.item), design.plan.subject.viewing_room
    if found is None:
        return None
    return edit(found[0], found[1].name, {"brightness": {"seen_in": room}},
                f"aim '{finding.item}' to be plainly seen in a {room}, not by a lamp that is not built.")


def pin_without_effect(design: Design, finding: Finding) -> Edit | None:
    """The choice that nothing can use, taken out."""
    pin = next((row for row in design.plan.pinned
                if row.of == finding.item and f"The choice {row.choice} {row.value} is held" in finding.says), None)
    return None if pin is None else pins_out(design, (pin.choice,), (pin.of,))


# --- rules --------------------------------------------------------------------------------------------------------


def rule_light(design: Design, finding: Finding) -> Edit | None:
    """Colour or arc as the rule asks; a lamp that the rule has not, taken off the state."""
    kind = {"plan.rule-light-colour": "wrong colour", "plan.rule-light-arc": "wrong arc",
            "plan.rule-light-extra": "extra"}[finding.key]
    found, rows = entry_of(design, finding.item), differences(design.plan)
    states = [state for state, own in rows for row in own if row.kind == kind and row.lamp == finding.item]
    if found is None or not states:
        return None
    if kind == "extra":
        return _off(found[0], found[1].name, found[1].states, states)
    asked = next(row.rule_key for _, own in rows for row in own if row.kind == kind and row.lamp == finding.item)
    state = next(row for row in design.plan.states if row.name == states[0])
    want = next(row for row in required_of(design.plan, state).lamps if row.rule_key == asked)
    if kind == "wrong colour":
        return edit(found[0], finding.item, {"colour": want.colour},
                    f"make '{finding.item}' {want.colour} instead of {found[1].colour}.")
    if want.bearing_from_deg is None or want.bearing_to_deg is None:
        return None
    arc = [want.bearing_from_deg, want.bearing_to_deg]
    return edit(found[0], finding.item, {"arc_deg": arc},
                f"let '{finding.item}' show from {arc[0]:g} to {arc[1]:g} degrees.")


def _off(kind: str, name: str, lit: tuple[str, ...], states: list[str]) -> Edit:
    told = ", ".join(f"'{state}'" for state in dict.fromkeys(states))
    kept = [state for state in lit if state not in states]
    return edit(kind, name, {"states": kept}, f"let '{name}' stay dark in {told}.")


def rule_rhythm(design: Design, finding: Finding) -> Edit | None:
    """The rule's steady light, or the rate at the near end of its range."""
    from rushlight.findings.cures._light import slowed

    found = entry_of(design, finding.item)
    wanted = finding.says.partition("the rule asks for ")[2].rstrip(".").split(" (")[0]
    if found is None:
        return None
    if wanted == "steady":
        return edit(found[0], finding.item, {"rhythm": "steady"}, f"let '{finding.item}' burn steadily.")
    words = wanted.split()
    rates = [float(word) for word in words if word.replace(".", "").isdigit()]
    rhythm = slowed(found[1].rhythm, max(rates) / 60) if rates and "minute" in wanted else None
    if rhythm is None:
        return None
    return edit(found[0], finding.item, {"rhythm": rhythm}, f"give '{finding.item}' the rhythm '{rhythm}'.")


def rule_unknown(design: Design, finding: Finding) -> Edit | None:
    """The state of the tables that is spelled nearly so."""
    from rushlight.errors import UnknownName

    state = next((row for row in design.plan.states if row.name == finding.item), None)
    if state is None or not state.rule:
        return None
    try:
        required_of(design.plan, state)
    except UnknownName as error:
        near = error.nearest
    except Exception:  # the length is missing: no word cures that
        return None
    else:
        return None
    if not near:
        return None
    return edit("states", state.name, {"rule": near}, f"read the rule of '{state.name}' as '{near}'.")


def log_word(design: Design, finding: Finding) -> Edit | None:
    """An entry of the log under the name of the step that is spelled nearly so."""
    from rushlight.tables import rows

    near = nearest_word(finding.item, [row["key"] for row in rows("build_steps")])
    if near is None:
        return None
    wrong = [done.name for done in design.plan.as_built if done.step == finding.item]
    changes = tuple(Change("set", "as_built", name, {"step": near}) for name in wrong)
    return Edit(changes, f"Call '{finding.item}' in the log '{near}'.")


def strip_whole(design: Design, finding: Finding) -> Edit | None:
    """A strip drawn as long as the nearest whole number of cut lengths that fits; where one cut length is too long
    already, a strip of shorter ones."""
    row = next((row for row in off_cut_strips(design) if row.strip.name == finding.item), None)
    if row is None:
        return None
    if row.offered_mm is not None:
        return _drawn_long(row, row.offered_mm, {}, "")
    part = shorter_cut(design.drawer, row)
    if part is None:
        return None
    length = cut_lengths(row.drawn_mm, part.segment_mm) * part.segment_mm
    return _drawn_long(row, length, {"strip": part.name}, f", and take '{part.name}'")


def _drawn_long(row: OffCut, length_mm: float, values: dict[str, str], more: str) -> Edit:
    along = along_of(row, length_mm)
    return edit("strips", row.strip.name, {"along_mm": [list(at) for at in along], **values},
                f"draw '{row.strip.name}' {plain(length_mm, 4)} mm long instead of {plain(row.drawn_mm, 4)}, to end at "
                f"{_place(along[-1])}{more}.")


def strip_nearer(design: Design, finding: Finding) -> Edit | None:
    """A strip brought so near to its windows that it goes into what is behind them, of a finer pitch where that is
    more even; none where its depth is still to be measured."""
    found = next((row for row in too_deep(design) if row[0].name == finding.item), None)
    strip = next((row for row in design.plan.strips if row.name == finding.item), None)
    if found is None or strip is None or finding.number is None or finding.number <= found[1].sides_mm[-1]:
        return None
    best = next(iter(nearer(design, strip.name, found[1].sides_mm[-1])), None)
    if best is None:
        return None
    gap, other = best.laid.run.gap_mm, best.laid.row != found[0].part_row
    return edit("strips", strip.name, {"gap_mm": gap, **({"strip": best.laid.row} if other else {})},
                f"bring '{strip.name}' nearer to its windows, from {strip.gap_mm:g} to {gap:g} mm"
                f"{f', and take {best.laid.row!r}' if other else ''}"
                f"{'' if best.even else '; its LEDs show in the windows then'}.")


def odd_reading(design: Design, finding: Finding) -> Edit | None:
    """The one reading of an entry without which the others agree is struck; none where only reading anew can tell."""
    entries = list(design.plan.measured)
    for number, one in enumerate(entries):
        found = next((row for row in scatters(one) if one.of == finding.item and row.times == finding.number), None)
        if found is None or found.odd is None or found.odd_value is None:
            continue
        kept = written(one)
        for key in LISTS_OF.get(one.what, (found.key,)):
            kept[key] = [value for place, value in enumerate(kept[key]) if place != found.odd]
        rows = [kept if place == number else written(row) for place, row in enumerate(entries)]
        return edit("plan", "", {"measured": rows},
                    f"strike the reading of {plain(found.odd_value, 4)} from those of '{one.of}' ({one.what}).")
    return None


LISTS_OF = {LED_VOLTAGE: ("readings", "against", "series_ohm")}
"""Methods whose lists belong together, one by one."""
