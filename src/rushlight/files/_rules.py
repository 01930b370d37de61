"""Rules of the document that no single key can break: one of two, at most one, names inside another item."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from rushlight.files._drafts import Draft, build
from rushlight.files._faults import Faults, shown
from rushlight.files._pins import check_pins, lamp_of_row, lamps_of_rows, lamps_of_strips
from rushlight.files._refs import Names, walk
from rushlight.files.own_values import measured_faults, own_value_fault, practice_fault, together_faults, with_own
from rushlight.geometry.bearing import WAYS, direction, leaned
from rushlight.model.drawer import Drawer
from rushlight.model.plan_bench import Controller

STAND_OFF, STAND_OFF_MM = 0.02, 0.5
"""How far the two distances of a stand may differ, as a share and at least [mm]: a reading error."""

ALONG = 0.996
"""Cosine of the least angle, 5 degrees, between the top of a part's drawing and where its face looks."""

MOST_V = 24.0
"""The highest voltage of any supply, as of an adapter."""


def check_rules(plan: Draft, names: Names, drawer: Drawer, faults: Faults) -> None:
    """Check every rule of every item."""
    for draft in walk(plan):
        rule = _RULES.get(draft.kind.__name__)
        if rule:
            rule(draft, faults)
    _check_rhythms(plan, faults)
    _check_stands(plan, faults)
    _check_insides(plan, names, faults)
    _check_drawer(plan, drawer, names, faults)
    check_pins(plan, names, drawer, faults)


def _exactly_one(draft: Draft, faults: Faults, *keys: str) -> None:
    given = [key for key in keys if draft.given(key)]
    if len(given) != 1:
        found = f"{' and '.join(given)} are given" if given else "none is given"
        faults.add(draft.place(given[1]) if given else draft.node, draft.label, found,
                   "exactly one of " + ", ".join(keys))


def _at_most_one(draft: Draft, faults: Faults, *keys: str) -> None:
    given = [key for key in keys if draft.given(key)]
    if len(given) > 1:
        faults.add(draft.place(given[1]), draft.label, f"{' and '.join(given)} are given",
                   "at most one of " + ", ".join(keys))


def _opening(draft: Draft, faults: Faults) -> None:
    _shape(draft, faults, "opening")
    for foot in draft.get("posts_mm") or ():
        wide, far_mm = draft.get("posts_width_mm"), _farthest_mm(draft, foot)
        if wide is not None and 0.0 < far_mm <= wide / 2.0:
            faults.add(draft.place("posts_width_mm"), draft.label,
                       f"posts_width_mm is {wide:g}, and a post so wide covers all of the opening",
                       f"under {2.0 * far_mm:.4g} mm, or no post there")
            return


def _farthest_mm(draft: Draft, at: tuple[float, float]) -> float:
    """The farthest that an opening reaches from a place."""
    centre, radius, rect = draft.get("centre_mm"), draft.get("radius_mm"), draft.get("rect_mm")
    if centre is not None and radius is not None:
        return math.dist(at, centre) + float(radius)
    x, y, wide, high = rect or (0.0, 0.0, 0.0, 0.0)
    box = ((x, y), (x + wide, y), (x, y + high), (x + wide, y + high)) if rect else ()
    return max((math.dist(at, corner) for corner in draft.get("outline_mm") or box), default=0.0)


def _shape(draft: Draft, faults: Faults, what: str) -> None:
    _exactly_one(draft, faults, "outline_mm", "rect_mm", "centre_mm")
    if draft.given("centre_mm") != draft.given("radius_mm"):
        faults.add(draft.node, draft.label, f"a round {what} with half its numbers", "centre_mm and radius_mm")


def _keep_out(draft: Draft, faults: Faults) -> None:
    _shape(draft, faults, "keep-out")


def _obstacle(draft: Draft, faults: Faults) -> None:
    _keep_out(draft, faults)
    under, over = draft.get("above_mm") or 0.0, draft.get("height_mm")
    if over is not None and under >= over:
        faults.add(draft.place("above_mm"), draft.label, f"above_mm {under:g} is not below height_mm {over:g}",
                   "the free height under it, less than that of its top")
    ways = [key for key in ("pivot_mm", "slide_deg") if draft.given(key)]
    if draft.given("moves_with") and len(ways) != 1:
        found = f"moves_with is given with {' and '.join(ways)}" if ways else "moves_with is given alone"
        faults.add(draft.place("moves_with"), draft.label, found,
                   "pivot_mm, the point it turns about, or slide_deg, the way it slides")
    elif ways and not draft.given("moves_with"):
        faults.add(draft.place(ways[0]), draft.label, f"{ways[0]} is given without moves_with",
                   "moves_with, the moving part that it is")


def _controller(draft: Draft, faults: Faults) -> None:
    pins = draft.get("pins") or ()
    for pin in dict.fromkeys(pins):
        if pin != int(pin):
            faults.add(draft.place("pins"), draft.label, f"pin {pin:g}", "whole numbers, as the board's maker has them")
        elif pins.count(pin) > 1:
            faults.add(draft.place("pins"), draft.label, f"pin {pin:g} is named twice", "a pin for each channel")
    _button_pin(draft, faults, pins)


def _button_pin(draft: Draft, faults: Faults, pins: Sequence[float]) -> None:
    """The button's own pin, where the board steps the states."""
    if (draft.get("states_by") or "switch") == "switch":
        return
    given = draft.get("button_pin")
    pin = Controller().button_pin if given is None else given
    if pin in (pins or Controller().pins):
        faults.add(draft.place("button_pin"), draft.label, f"pin {pin:g} is a channel's and the button's",
                   "a pin of its own for the button")


def _lamp(draft: Draft, faults: Faults) -> None:
    _at_most_one(draft, faults, "size_mm", "model_mm")
    for key in ("at_mm", "opening"):
        if draft.given(key) and not draft.given("part"):
            faults.add(draft.place(key), draft.label, f"{key} is given without a part", "the part that it is on")
    _source(draft, faults)
    _floodlight(draft, faults)


def _source(draft: Draft, faults: Faults) -> None:
    """A strip lights openings, and is no single LED."""
    source = draft.get("source")
    if not isinstance(source, Draft) or source.get("kind") != "strip":
        return
    if not draft.given("opening"):
        faults.add(source.place("kind"), draft.label, "a strip is to make it, and it has no opening",
                   "a lamp with the opening that it is seen through, or an entry under strips")
    elif source.given("led"):
        faults.add(source.place("led"), draft.label, "an LED is named for a strip",
                   "no led: the strip of the lamp's colour is taken; an entry under strips names another")


def _floodlight(draft: Draft, faults: Faults) -> None:
    """What a floodlight lights is known whole or not at all, and its aim is told once."""
    needs = {"lights_part": "lights_mm", "foot_mm": "lights_part", "aim_mm": "foot_mm"}
    for key, other in needs.items():
        if draft.given(key) and not draft.given(other):
            faults.add(draft.place(key), draft.label, f"{key} is given without {other}",
                       "lights_mm, lights_part and foot_mm together, aim_mm if it is tilted")
    if draft.given("lights_part") and not draft.given("foot_mm"):
        faults.add(draft.place("lights_part"), draft.label, "lights_part is given without foot_mm",
                   "foot_mm, the point of that part straight below the lamp")
    if draft.given("foot_mm") and draft.given("tilt_deg"):
        faults.add(draft.place("tilt_deg"), draft.label, "tilt_deg and foot_mm are given",
                   "aim_mm, the point aimed at, in place of the tilt")


def _part(draft: Draft, faults: Faults) -> None:
    _faces(draft, faults)
    for stand in draft.items("stands"):
        _stand(draft, stand, faults)


def _faces(draft: Draft, faults: Faults) -> None:
    """Where a part faces is told once, and the top of its drawing lies across that."""
    _at_most_one(draft, faults, "faces", "faces_deg")
    upright = draft.get("faces") not in ("up", "down")
    for key in ("leans_deg", "top_edge"):
        if draft.given(key) and not (draft.given("faces") or draft.given("faces_deg")):
            faults.add(draft.place(key), draft.label, f"{key} is given without faces",
                       "faces, where its outer face looks")
    if draft.get("leans_deg") and not upright:
        faults.add(draft.place("leans_deg"), draft.label, f"leans_deg of a part that faces {draft.get('faces')}",
                   "faces or faces_deg, the side to which it leans, and how far it leans up from there")
    elif draft.get("top_edge") and _along_its_face(draft):
        faults.add(draft.place("top_edge"), draft.label, f"the top of its drawing points {draft.get('top_edge')}, "
                   "as its face does or straight against it", "a way across its face")


def _along_its_face(draft: Draft) -> bool:
    """Whether the top of a part's drawing lies within some degrees of where its face looks, or straight against."""
    word, bearing = draft.get("faces"), draft.get("faces_deg")
    if word is None and bearing is None:
        return False
    face = leaned(np.array(WAYS[word]) if word else direction(bearing), draft.get("leans_deg") or 0.0)
    return abs(float(face @ np.array(WAYS[draft.get("top_edge")]))) > ALONG


def _stand(part: Draft, stand: Draft, faults: Faults) -> None:
    """Two points here and two there, as far apart; one way of moving; not on itself."""
    ends = [stand.get(key) for key in ("points_mm", "at_mm")]
    for key, line in zip(("points_mm", "at_mm"), ends, strict=True):
        if line is not None and (len(line) != 2 or line[0] == line[1]):
            faults.add(stand.place(key), part.label, f"{key} of its stand holds {len(set(line))} points",
                       "two points that differ")
            return
    if None not in ends:
        own, there = (math.dist(*line) for line in ends)
        if abs(own - there) > max(STAND_OFF_MM, STAND_OFF * own):
            faults.add(stand.place("at_mm"), part.label,
                       f"its two points lie {own:.4g} mm apart on its drawing, {there:.4g} mm where it stands",
                       "the same distance; one of the four is wrong")
    ways = [key for key in ("pivot_mm", "slide_deg", "tips") if stand.get(key) not in (None, False)]
    if len(ways) > 1:
        faults.add(stand.place(ways[1]), part.label, f"{' and '.join(ways)} are given", "one way in which it moves")
    if stand.get("over") is not None and stand.get("over") == part.name:
        faults.add(stand.place("over"), part.label, "it stands on itself", "the part that it stands on")


def _check_stands(plan: Draft, faults: Faults) -> None:
    """No part stands on what stands on it."""
    on = {part.name: stand.get("over") for part in plan.items("parts") for stand in part.items("stands")}
    for part in plan.items("parts"):
        seen, at = [part.name], on.get(part.name)
        while at is not None and at not in seen:
            seen.append(at)
            at = on.get(at)
        if at is not None and at == part.name and len(seen) > 1:
            chain = ", which stands on ".join(map(shown, [*seen[1:], at]))
            faults.add(part.place("stands"), part.label, f"it stands on {chain}",
                       "parts that stand one on another, the last on none")


def _row(draft: Draft, faults: Faults) -> None:
    _exactly_one(draft, faults, "count", "pitch_mm")
    _at_most_one(draft, faults, "size_mm", "model_mm")
    flood = ("lights_mm", "lights_part", "feet_mm")
    given = [key for key in flood if draft.given(key)]
    if given and len(given) < len(flood):
        faults.add(draft.place(given[0]), draft.label, f"{given[0]} is given without {_left_out(given, flood)}",
                   "lights_mm, lights_part and feet_mm together, aim_by_mm if they are tilted")
    elif draft.given("aim_by_mm") and not given:
        faults.add(draft.place("aim_by_mm"), draft.label, "aim_by_mm is given without lights_mm",
                   "lights_mm, lights_part and feet_mm")
    _source(draft, faults)
    _row_mirror(draft, faults)
    line = draft.get("along_mm")
    if line and len(set(line)) == 1 and draft.get("count") != 1:
        faults.add(draft.place("along_mm"), draft.label, "a line without length", "two points that differ")


def _strip(draft: Draft, faults: Faults) -> None:
    line = draft.get("along_mm")
    if line and len(set(line)) == 1:
        faults.add(draft.place("along_mm"), draft.label, "a line without length", "two points that differ")


def _row_mirror(draft: Draft, faults: Faults) -> None:
    """What the mirrored half of floodlights lights is told only of floodlights, and its line has a direction."""
    for mirror in draft.items("mirror"):
        given = [key for key in ("lights_part", "lights_line_mm") if mirror.get(key)]
        if given and not draft.given("lights_part"):
            faults.add(mirror.place(given[0]), draft.label, f"{given[0]} of the mirror is given without lights_part",
                       "lights_mm, lights_part and feet_mm of the row")
        line = mirror.get("lights_line_mm")
        if line and (len(line) != 2 or line[0] == line[1]):
            faults.add(mirror.place("lights_line_mm"), draft.label, f"a line of {len(set(line))} points",
                       "two points that differ")


def _left_out(given: list[str], wanted: tuple[str, ...]) -> str:
    return " and ".join(key for key in wanted if key not in given)


def _brightness(draft: Draft, faults: Faults) -> None:
    _at_most_one(draft, faults, "like", "intensity_mcd", "subject_intensity_cd", "seen_in")
    if draft.given("ratio") and not draft.given("like"):
        faults.add(draft.place("ratio"), draft.label, "ratio is given without like", "like, the lamp to compare with")
    if draft.given("carry") and not draft.given("subject_intensity_cd"):
        faults.add(draft.place("carry"), draft.label, "carry is given without subject_intensity_cd",
                   "the intensity to carry")


def _picture(draft: Draft, faults: Faults) -> None:
    points = draft.get("points") or ()
    if len(points) in (1, 3):
        faults.add(draft.place("points"), draft.label, f"{len(points)} points", "2 points, or 4 and more to rectify")
    for check in draft.items("checks"):
        if check.get("from_px") is not None and check.get("from_px") == check.get("to_px"):
            faults.add(check.place("to_px"), check.label, "a check without length", "two points that differ")


def _crossing(draft: Draft, faults: Faults) -> None:
    parts = [end.get("part") for end in draft.items("ends")]
    if len(parts) == 2 and parts[0] is not None and parts[0] == parts[1]:
        faults.add(draft.place("ends"), draft.label, f"both ends are on {shown(parts[0])}", "ends on two parts")


_RULES: dict[str, Callable[[Draft, Faults], None]] = {
    "Opening": _opening, "KeepOut": _keep_out, "Obstacle": _obstacle, "Lamp": _lamp, "Row": _row, "Part": _part,
    "Strip": _strip,
    "Brightness": _brightness,
    "Picture": _picture, "Crossing": _crossing, "Controller": _controller,
}


def _check_rhythms(plan: Draft, faults: Faults) -> None:
    """Each rhythm has one maker."""
    seen: set[str] = set()
    for maker in plan.items("rhythms"):
        rhythm = maker.get("rhythm")
        if rhythm in seen:
            faults.add(maker.place("rhythm"), maker.label, f"'{rhythm}' stands there twice", "one maker a rhythm")
        seen |= {rhythm} if rhythm else set()


def _check_insides(plan: Draft, names: Names, faults: Faults) -> None:
    """Names that live inside another item: openings and poses of a part, marks of a picture."""
    for lamp in plan.items("lamps"):
        _check_words(lamp, "opening", _inner(names, "parts", lamp.get("part"), "openings"), faults)
    for strip in plan.items("strips"):
        _check_words(strip, "openings", _inner(names, "parts", strip.get("part"), "openings"), faults)
    for state in plan.items("states"):
        for pose in state.items("poses"):
            _check_words(pose, "at", _inner(names, "parts", pose.get("part"), "poses"), faults)
    _check_windows(plan, names, faults)
    _check_movers(plan, names, faults)
    for target in ("lamps", "rows", "strips"):
        for item in plan.items(target):
            for evidence in item.items("evidence"):
                _check_evidence(evidence, names, faults)


def _check_windows(plan: Draft, names: Names, faults: Faults) -> None:
    """Windows of a room are openings of its parts, and of one room alone."""
    room_of: dict[str, str] = {}
    for space in plan.items("spaces"):
        inner = [_inner(names, "parts", part, "openings") for part in space.get("parts") or ()]
        known = {name: draft for rows in inner if rows for name, draft in rows.items()}
        if all(rows is not None for rows in inner):
            _check_words(space, "windows", known, faults)
        _check_led(space, faults)
        for place, name in enumerate(space.get("windows") or ()):
            if room_of.setdefault(name, space.name or "") != (space.name or ""):
                faults.add(space.place("windows", place), space.label, f"{shown(name)} is a window of two rooms",
                           f"one room, as {shown(room_of[name])} is")


def _check_led(space: Draft, faults: Faults) -> None:
    """A room's LED hangs inside it, and is seen through windows of it."""
    at, size = space.get("led_mm"), space.get("size_mm")
    if at is None or size is None:
        return
    if not space.get("windows"):
        faults.add(space.place("led_mm"), space.label, "led_mm is given without windows",
                   "the windows through which that LED is seen")
    elif not all(0.0 <= at[k] <= size[k] for k in (0, 1)):
        faults.add(space.place("led_mm"), space.label, f"led_mm is {at[0]:g}, {at[1]:g}",
                   f"a place within the {size[0]:g} mm from the left and {size[1]:g} mm from the front")


def _check_movers(plan: Draft, names: Names, faults: Faults) -> None:
    """What shuts an opening or moves an obstacle is another part, and has poses."""
    for part in plan.items("parts"):
        doors = [row.get("door") for row in part.items("openings") if row.given("door")]
        movers = [(door, "part") for door in doors if isinstance(door, Draft)]
        movers += [(row, "moves_with") for row in part.items("obstacles") if row.given("moves_with")]
        for draft, key in movers:
            mover = str(draft.get(key))
            poses = _inner(names, "parts", mover, "poses")
            if mover == part.name:
                faults.add(draft.place(key), draft.label, f"{shown(mover)} is the part itself", "another part")
            elif poses is not None and not poses:
                faults.add(draft.place(key), draft.label, f"{shown(mover)} has no poses",
                           "a part with poses: a name and a value for each")


def _inner(names: Names, target: str, name: str | None, inner: str) -> dict[str, Draft] | None:
    """The inner items by name; None where the outer item is not known (that was said already)."""
    outer = names[target].get(name) if name else None
    return None if outer is None else {item.name: item for item in outer.items(inner) if item.name}


def _check_words(draft: Draft, key: str, known: dict[str, Draft] | None, faults: Faults) -> None:
    value = draft.get(key)
    if known is None or value is None:
        return
    words = (value,) if isinstance(value, str) else value
    for place, word in enumerate(words):
        if word not in known:
            what = {"opening": "an opening of that part", "openings": "an opening of that part",
                    "windows": "an opening of the space's parts",
                    "at": "a named pose of that part", "mark": "a mark of that picture"}[key]
            faults.add(draft.place(key, place), draft.label, f"{key} {shown(word)} is not known", what,
                       word=word, known=known)


def _check_evidence(evidence: Draft, names: Names, faults: Faults) -> None:
    of = evidence.get("of")
    if evidence.get("kind") != "picture" or of is None:
        return
    if of not in names["references"]:
        faults.add(evidence.place("of"), evidence.label, f"the picture {shown(of)} is not known",
                   "the name of one of this plan's references", word=of, known=names["references"])
    _check_words(evidence, "mark", _inner(names, "references", of, "marks"), faults)


def _check_drawer(plan: Draft, drawer: Drawer, names: Names, faults: Faults) -> None:
    owns = [own for own in plan.items("drawer") if _check_own(own, drawer, faults)]
    for place, found in together_faults(drawer, [build(own) for own in owns]):
        faults.add(owns[place].place(found.key), owns[place].label, f"{found.key} {found.found}", found.expected)
    changed = with_own(drawer, [build(own) for own in owns])
    _check_volts(plan, changed, faults)
    _check_measured(plan, changed, names, faults)
    for own in plan.items("at_hand"):
        _check_at_hand(own, drawer, faults)
    for practice in plan.items("practice"):
        fault = None if practice.failed or not _whole(practice) else practice_fault(drawer, build(practice))
        if fault:
            faults.add(practice.place(fault.key), practice.label, f"{fault.key} {fault.found}", fault.expected,
                       word=fault.nearest, known=(fault.nearest or "",))


def _check_own(own: Draft, drawer: Drawer, faults: Faults) -> bool:
    """Whether an own value is right by itself."""
    if own.failed or not _whole(own):
        return False
    fault = own_value_fault(drawer, build(own))
    if fault:
        faults.add(own.place(fault.key), own.label, f"{fault.key} {fault.found}", fault.expected,
                   word=fault.nearest, known=(fault.nearest or "",))
    return fault is None


def _check_measured_name(one: Draft, names: Names, faults: Faults) -> None:
    """A reading of a lamp or a space is of one that this plan has; of a row's lamp by its number."""
    target = {"lamp": "lamps", "hull warmth": "spaces", "feed power": "states",
              **dict.fromkeys(("seam gap", "lip lap", "post gap", "post root", "post paint"), "parts")}.get(
                  one.values["what"])
    if target is None:
        return
    of = one.values["of"]
    known = [name for name, draft in names[target].items() if draft.kind.__name__ in ("Lamp", "Space", "State", "Part")]
    if target == "lamps":
        known += [*lamps_of_rows(names), *lamps_of_strips(names)]
    if of in known or (target == "lamps" and lamp_of_row(of, names)):
        return
    lamp = "a lamp of this plan; of a row or strip as 'row 3', 'strip: opening'"
    faults.add(one.place("of"), one.label, f"of {shown(of)} is not known",
               lamp if target == "lamps" else f"a {target.removesuffix('s')} of this plan", word=of, known=known)


def _check_measured(plan: Draft, drawer: Drawer, names: Names, faults: Faults) -> None:
    whole = [one for one in plan.items("measured")
             if not one.failed and all(key in one.values for key in ("what", "of", "readings"))]
    for one in whole:
        _check_measured_name(one, names, faults)
    for place, fault in measured_faults(drawer, [build(one) for one in whole]):
        faults.add(whole[place].place(fault.key), whole[place].label, f"{fault.key} {fault.found}", fault.expected,
                   word=fault.nearest, known=(fault.nearest or "",))


def _check_at_hand(own: Draft, drawer: Drawer, faults: Faults) -> None:
    table, row = own.get("table"), own.get("row")
    if own.failed or table is None:
        return
    if own.get("values_ohm") and table != "resistors":
        faults.add(own.place("values_ohm"), own.label, f"values_ohm stands with table {table}", "table resistors")
    if not row:
        if table != "resistors" or not own.get("values_ohm"):
            faults.add(own.place("table"), own.label, "row is left out",
                       f"a row of the drawer's {table}{', or values_ohm' if table == 'resistors' else ''}")
        return
    known = [part.name for part in getattr(drawer, table)]
    if row not in known:
        faults.add(own.place("row"), own.label, f"row {shown(row)} is not known", f"a row of the drawer's {table}",
                   word=row, known=known)


def _check_volts(plan: Draft, drawer: Drawer, faults: Faults) -> None:
    """Cells in series give no more than an adapter may."""
    supply = plan.get("supply")
    if not isinstance(supply, Draft) or supply.failed or supply.get("kind") != "cells":
        return
    cell = next((row for row in drawer.cells if row.name == (supply.get("cell") or "AA")), None)
    count = supply.get("in_series") or 3
    if cell is None or cell.nominal_v * count <= MOST_V:
        return
    faults.add(supply.place("in_series"), supply.label, f"{count} cells of {cell.nominal_v:g} V give "
               f"{cell.nominal_v * count:g} V", f"at most {MOST_V:g} V in all, {int(MOST_V / cell.nominal_v)} of them")


def _whole(draft: Draft) -> bool:
    """Whether the keys that must stand are there."""
    must = ("table", "row", "column", "value") if draft.kind.__name__ == "OwnValue" else ("habit", "value")
    return all(key in draft.values for key in must)
