"""Edits that cure findings on light: gaps, sheets, coats, whites, rhythms, sources."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from rushlight.findings._brighter import brighter_led
from rushlight.findings._lights import current_a, current_for_a, dimmest_of_groups, emitters_of
from rushlight.findings._one_led import FEEDS_OTHERS, softer_of
from rushlight.findings._words import entries, listed, plain
from rushlight.findings.cures._edits import (
    edit,
    entry_of,
    moved_mm,
    names_of,
    openings_set,
    part_of,
    pin_in,
    pins_out,
    up,
    written,
)
from rushlight.findings.cures._electric import more_volts
from rushlight.findings.light import bare_led_seen as bare
from rushlight.findings.light.bare_wall import spot_coats
from rushlight.findings.light.brighter_than_wanted import too_bright
from rushlight.findings.light.coat_order import brighter_holes
from rushlight.findings.light.diffuser_gap import back_to_mm
from rushlight.findings.light.too_dim import white_way
from rushlight.model.change import Change, Edit
from rushlight.model.design import Design
from rushlight.model.finding import Finding
from rushlight.model.place import Point
from rushlight.model.plan import MadeBy
from rushlight.model.plan_part import KeepOut, Opening, Part
from rushlight.stages.coats import WHITE as WHITE_PAINT
from rushlight.stages.coats import order_words
from rushlight.stages.floods import hung_floods, stands_at_mm
from rushlight.stages.led_currents import DERATE
from rushlight.stages.painted_wall import wall_through
from rushlight.stages.parts_law import most_apart
from rushlight.stages.room_match import tried_sheets
from rushlight.stages.room_places import place_words, tried_places
from rushlight.stages.row_proposals import offered_tails
from rushlight.stages.row_words import counted
from rushlight.stages.strip_cures import StripCures, Trial, strip_cures
from rushlight.stages.strip_words import capital, sheets_words, trial_words
from rushlight.stages.ways_out import TAPE
from rushlight.stages.window_panes import foot_in
from rushlight.stages.window_sheets import with_sheet

BLACK, WHITE = "black lacquer", "white primer"
MARGIN = 1.1
"""So much more than the least is given, as light does not grow quite as the current does (project proposal)."""

GOALS = {"light.hot-spots": "spots", "light.post-shadow": "posts", "light.windows-differ": "alike"}
"""What a strip's cure is made for, by its finding."""

HELD = ("current_ma", "resistor_ohm")
BEARS_NOT = "The LED cannot bear "
RATE = re.compile(r"([0-9.]+)( ?Hz| ?/ ?min)")


def held_current(design: Design, finding: Finding) -> Edit | None:
    """A current or resistor that is held is let go, so that the design sets it by what is wanted."""
    entry = entry_of(design, finding.item)
    group = entry[1].name if entry else finding.item
    like = entry[1].brightness.like if entry and finding.key == "light.like-mismatch" else None
    lamps = {lamp.name for lamp in design.lamps if lamp.group in (group, like)}
    own = [row for row in design.loom.emitters if row.name == finding.item or lamps & set(row.lamps)]
    return pins_out(design, HELD, names_of(design, own))


def current(design: Design, finding: Finding) -> Edit | None:
    """More volts where those are lacking; an LED of its own; a held current let go; white in the room; a thinner fibre
    or a sanded end; the current that is named."""
    if finding.cure.startswith("More volts"):
        return more_volts(design, finding)
    if finding.cure.startswith(FEEDS_OTHERS):
        return own_led(design, finding)
    if BEARS_NOT in finding.cure and (brighter := another_led(design, finding)):
        return brighter
    out = held_current(design, finding)
    if out is not None:
        return out
    if finding.key == "light.too-dim" and f"of {WHITE_PAINT} in the room (tried: " in finding.cure:
        return _white_room(design, finding)
    if finding.key == "light.brighter-than-wanted" and "times what is wanted then" in finding.cure:
        return softer(design, finding)
    found = re.search(r"Give '(.+)' ([0-9.]+) mA, held", finding.cure)
    return pin_in(design, found.group(1), "current_ma", float(found.group(2))) if found else None


def another_led(design: Design, finding: Finding) -> Edit | None:
    """The brighter LED that is named, for the lamp and for those that are as it is: like it, of the same LED, and as
    dim."""
    light = dimmest_of_groups(design).get(finding.item)
    emitter = emitters_of(design).get(light.lamp) if light else None
    best = brighter_led(design, light.lamp) if light and emitter and emitter.kind == "led" else None
    if best is None or emitter is None:
        return None
    follow = [finding.item, *_followers(design, finding.item, emitter.part_row)]
    out = pins_out(design, ("led", *HELD), follow)
    changes = [Change("set", kind, name, {"source": {"kind": "led", "led": best.led}})
               for name in follow if (found := entry_of(design, name)) and (kind := found[0]) != "strips"]
    names = listed([f"'{name}'" for name in follow])
    return Edit((*changes, *(out.changes if out else ())), f"Make {names} by the {best.led} LED.")


def _followers(design: Design, group: str, part_row: str) -> list[str]:
    """Lamps and rows that are as bright as one, each by itself or by others, and made by the same LED."""
    feeds = emitters_of(design)
    rows = {lamp.group for lamp in design.lamps if lamp.name in feeds and feeds[lamp.name].kind == "led"
            and feeds[lamp.name].part_row == part_row}
    found, likes = [group], {entry.name: entry.brightness.like for entry in entries(design)}
    for _ in likes:
        found += [name for name, like in likes.items() if like in found and name in rows and name not in found]
    return found[1:]


def own_led(design: Design, finding: Finding) -> Edit | None:
    """A held bundle let go, with the current held for its LED, so that its lamps get an LED of their own; where no
    bundle is held, one by their own name."""
    names = {finding.item, *(lamp.name for lamp in design.lamps if lamp.group == finding.item)}
    if any(pin.choice == "bundle" and pin.of in names for pin in design.plan.pinned):
        return pins_out(design, ("bundle", *HELD), names)
    return pin_in(design, finding.item, "bundle", finding.item)


def softer(design: Design, finding: Finding) -> Edit | None:
    """The thinner fibre or the sanded end of all that are told together; None where one of them stays too bright."""
    told = next((lights for lights in too_bright(design)
                 if finding.item in {design.lamp(light.lamp).group for light in lights}), [])
    groups = [design.lamp(light.lamp).group for light in told]
    ways = {group: softer_of(design, group) for group in groups}
    even = most_apart(design.drawer)
    made: list[Edit] = []
    for group, way in ways.items():
        entry = entry_of(design, group)
        if way is None or way.left > even or entry is None:
            return None
        own = getattr(entry[1], "source", None)
        source = {**written(own or MadeBy(kind="fibre")), **({"tip": way.tip} if way.tip else {}),
                  **({"fibre_mm": way.fibre_mm} if way.fibre_mm else {})}
        made.append(edit(entry[0], group, {"source": source}, f"{way.words.replace('its', 'the')} of '{group}'"))
    out = pins_out(design, ("fibre_mm",), {group for group in groups if (way := ways[group]) and way.fibre_mm})
    changes = (*(change for row in made for change in row.changes), *(out.changes if out else ()))
    return Edit(changes, f"{'; '.join(row.says for row in made)}.") if made else None


def _white_room(design: Design, finding: Finding) -> Edit | None:
    """As many more coats of white in a dim window's room as were tried, where they are enough."""
    light = dimmest_of_groups(design).get(finding.item)
    emitter = emitters_of(design).get(light.lamp) if light else None
    way = white_way(design, light, emitter) if light and emitter else None
    if way is None or finding.number is None or finding.limit is None or finding.number * way.times < finding.limit:
        return None
    made = [Change("set", "parts", part.name, {"coats": [*part.coats, *(WHITE_PAINT,) * way.count]})
            for part in design.plan.parts if part.name in way.parts]
    names, coats = [f"'{name}'" for name in way.parts], f"{way.count} more coat{'s' if way.count > 1 else ''}"
    return Edit(tuple(made), f"Paint {listed(names)} inside with {coats} of {WHITE_PAINT}.")


def more_current(design: Design, finding: Finding) -> Edit | None:
    """So much more current as light lacks, where the LED bears it; more volts where those are lacking."""
    if finding.cure.startswith("More volts"):
        return more_volts(design, finding)
    if BEARS_NOT in finding.cure:
        return another_led(design, finding)
    entry = entry_of(design, finding.item)
    if entry is None or not finding.number or finding.limit is None:
        return None
    names = {lamp.name for lamp in design.lamps if lamp.group == entry[1].name}
    own = [row for row in design.loom.emitters if names & set(row.lamps) and row.kind in ("led", "illuminator")]
    now = max((1000 * current_a(design, row.name) for row in own), default=0.0)
    wanted = up(1000 * current_for_a(design, own[0], finding.limit / finding.number * MARGIN), 0.1) if own else 0.0
    if len(own) != 1 or now <= 0 or wanted > design.drawer.led(own[0].part_row).max_ma * DERATE:
        return None
    return pin_in(design, own[0].name, "current_ma", wanted)


def held_fibres(design: Design, finding: Finding) -> Edit | None:
    """A held number of fibres an LED, a held width or bundle is let go."""
    own = [row for row in design.loom.emitters if any(lamp.startswith(finding.item) for lamp in row.lamps)]
    return pins_out(design, ("fibres_per_led", "fibre_mm", "bundle"), {finding.item, *names_of(design, own)})


def strip_gap(design: Design, finding: Finding) -> Edit | None:
    """The strip set back as the finding says, where the plan writes it."""
    strip = next((row for row in design.plan.strips if row.name == finding.item), None)
    lit = next((row for row in design.light.strips if row.strip == finding.item), None)
    if strip is None or lit is None:
        return None
    back_mm, _ = back_to_mm(design, lit)
    return moved_mm(("strips", strip.name, "gap_mm"), strip.gap_mm, back_mm, "the gap behind the window")


def strip_as_tried(design: Design, finding: Finding) -> Edit | None:
    """The strip, its sheets or its post as the first way that does was tried."""
    return next(strip_otherwise(design, finding), None)


def strip_otherwise(design: Design, finding: Finding) -> Iterator[Edit]:
    """Every way that does, least work first."""
    emitter = next((row for row in design.loom.emitters if finding.item in (row.name, *row.lamps)), None)
    if emitter is None or emitter.kind != "strip":
        return
    cures = strip_cures(design, emitter.name, goal=GOALS[finding.key])
    for trial in cures.reaching:
        edit = tried_edit(design, cures, trial)
        if edit is not None:
            yield edit


def windows_as_tried(design: Design, finding: Finding) -> Edit | None:
    """Windows that are unlike each other made alike as the first way that does was tried."""
    row = next((row for row in design.light.alike if row.name == finding.item and row.ratio == finding.number), None)
    if row is None or row.kind != "room":
        return strip_as_tried(design, finding) if row is not None and row.kind == "strip" else None
    trial = tried_sheets(design, row)
    place = next((one for one in tried_places(design, row) if one.reaches and len(one.places_mm) == 1), None)
    if place is not None and (trial is None or not trial.reaches or place.apart < trial.apart):
        return edit("spaces", place.space, {"led_mm": list(place.places_mm[0])}, f"{place_words(place)}.")
    if trial is None or not trial.reaches:
        return None
    made: list[Change] = []
    for part in design.plan.parts:
        sheets = {opening: sheet for on, opening, sheet in trial.sheets if on == part.name}
        renewed = {opening.name: {"diffusers": written(with_sheet(opening, sheets[opening.name]).diffusers)}
                   for opening in part.openings if opening.name in sheets}
        made += openings_set(part, renewed, "").changes if renewed else ()
    return Edit(tuple(made), capital(sheets_words({opening: sheet for _, opening, sheet in trial.sheets})) + ".")


def tried_edit(design: Design, cures: StripCures, trial: Trial) -> Edit | None:
    """The plan changed as a trial was; None where it does not write the strip."""
    strip = next((row for row in design.plan.strips if row.name == cures.strip), None)
    if strip is None:
        return None
    was, now = cures.now, trial.laid
    told = capital(trial_words(cures, trial)) + "."
    values = {name: written(getattr(now.run, name)) for name in ("along_mm", "gap_mm", "walls_reflect", "channel_walls")
              if getattr(now.run, name) != getattr(was.run, name)}
    if now.row != was.row:
        values["strip"] = now.row
    changes = [Change("set", "strips", strip.name, values)] if values else []
    renewed = {after.name: {name: written(getattr(after, name)) for name in ("diffusers", "posts_mm")
                            if getattr(after, name) != getattr(before, name)}
               for before, after in zip(was.openings, now.openings, strict=True) if after != before}
    part = part_of(design, strip.part)
    if renewed and part is not None:
        changes += openings_set(part, renewed, "").changes
        changes += _posts_moved(part, was.openings, now.openings)
    return Edit(tuple(changes), told) if changes else None


def _posts_moved(part: Part, before: Sequence[Opening], after: Sequence[Opening]) -> list[Change]:
    """The part's posts among its keep-outs where those of its openings now stand; none is left of what is cut away."""
    to: dict[Point, Point | None] = {}
    for old, new in zip(before, after, strict=True):
        feet = new.posts_mm if len(new.posts_mm) == len(old.posts_mm) else (None,) * len(old.posts_mm)
        to.update(dict(zip(old.posts_mm, feet, strict=True)))
    kept = [_stood_at(row, to) for row in part.keep_outs]
    if kept == [written(row) for row in part.keep_outs]:
        return []
    return [Change("set", "parts", part.name, {"keep_outs": [row for row in kept if row is not None] or None})]


def _stood_at(row: KeepOut, to: Mapping[Point, Point | None]) -> dict[str, Any] | None:
    """A keep-out moved along with the post's foot in it; None where that is cut away."""
    values: dict[str, Any] = written(row)
    foot = foot_in(row, to) if row.why == "post" else None
    if foot is None:
        return values
    new = to[foot]
    if new is None:
        return None
    by = (new[0] - foot[0], new[1] - foot[1])
    if row.centre_mm is not None:
        values["centre_mm"] = [round(row.centre_mm[k] + by[k], 2) for k in (0, 1)]
    elif row.rect_mm is not None:
        x, y, wide, high = row.rect_mm
        values["rect_mm"] = [round(x + by[0], 2), round(y + by[1], 2), wide, high]
    else:
        values["outline_mm"] = [[round(x + by[0], 2), round(y + by[1], 2)] for x, y in row.outline_mm]
    return values


def opal_sheet(design: Design, finding: Finding) -> Edit | None:
    """Opal sheet instead of the first sheet, or where there is none, behind every window that shows the LED."""
    sheets = [row for row in design.drawer.diffusers if row.hides_source]
    best = max(sheets, key=lambda row: (row.transmittance.typical, row.name), default=None)
    part = part_of(design, finding.spot.part) if finding.spot else None
    if best is None or part is None:
        return None
    entry = entry_of(design, finding.item)
    lamps = [lamp for lamp in design.lamps if lamp.spot and lamp.spot.part == part.name and lamp.opening]
    if entry and entry[0] == "strips":
        lamps = [lamp for lamp in lamps if lamp.group == finding.item]
    door = any(lamp.name == finding.item and bare.has_door(design, lamp) for lamp in lamps)
    seen = {} if door else {opening.name: opening for lamp in lamps if not bare.has_door(design, lamp)
                            and (opening := bare._opening(design, lamp)) and not bare._hidden(design, opening)}
    renewed = {
        name: {"diffusers": [{"sheet": best.name, "gap_mm": opening.diffusers[0].gap_mm if opening.diffusers else 1.0}]}
        for name, opening in seen.items()
    }
    names = ", ".join(f"'{name}'" for name in renewed)
    return openings_set(part, renewed, f"put {best.name} behind {names}.") if renewed else None


def coats_in_order(design: Design, finding: Finding) -> Edit | None:
    """Dark coats first, then the light ones; white last where light shines in and nothing throws it about."""
    part = part_of(design, finding.item)
    if part is None:
        return None
    light = [name for name in part.coats if design.drawer.coat(name).kind in ("white", "metallic", "silver")]
    dark = [name for name in part.coats if name not in light]
    made = _coats(part, (*dark, *(light or [WHITE])))
    return _sealed(made, brighter_holes(design, part, (*dark, *(light or [WHITE])))) if made else None


def black_coats(design: Design, finding: Finding) -> Edit | None:
    """As many black coats as the wall's glow and the spot beside a source need; foil where no paint does it."""
    part = part_of(design, finding.item)
    if part is None:
        return None
    leak = next((row for row in design.light.leaks if row.part == part.name), None)
    spot = spot_coats(design, part)
    orders = [leak.order] if leak and finding.key == "light.leak" else []
    orders += [spot[2]] if spot else []
    passes = {order: wall_through(design.drawer, replace(part, coats=order)).typical for order in orders if order}
    return _coats(part, min(passes, key=lambda order: passes[order])) if passes else None


def _coats(part: Part, coats: tuple[str, ...]) -> Edit | None:
    if coats == part.coats:
        return None
    was = f" instead of {order_words(part.coats)}" if part.coats else ""
    says = f"paint '{part.name}' inside with {order_words(coats)}{was}."
    return edit("parts", part.name, {"coats": list(coats)}, says)


def seam_coat(design: Design, finding: Finding) -> Edit | None:
    """A black coat first of all."""
    part = part_of(design, finding.item)
    return _coats(part, (BLACK, *part.coats)) if part else None


def seam_closed(design: Design, finding: Finding) -> Edit | None:
    """Tape behind it where that is enough, else filled."""
    if not finding.number or not finding.limit:
        return None
    taped = finding.number * 10 ** -design.drawer.coat(TAPE).density.low < finding.limit
    how, words = ("taped inside", "lay black tape over its seams inside") if taped else ("filled", "fill its seams")
    return edit("parts", finding.item, {"seams_closed": how}, f"{words} ('{finding.item}').")


def holes_sealed(design: Design, finding: Finding) -> Edit:
    """All of a part's holes and feet of posts."""
    says = f"seal the holes and the feet of posts of '{finding.item}' with black."
    return edit("parts", finding.item, {"holes_sealed": True}, says)


def _sealed(made: Edit, parts: Sequence[str]) -> Edit:
    """An edit that seals the holes of some parts too, since more light would show in them."""
    if not parts:
        return made
    names = listed([f"'{name}'" for name in parts])
    changes = [Change("set", "parts", name, {"holes_sealed": True}) for name in parts]
    return Edit((*made.changes, *changes), f"{made.says.rstrip('.')}, and seal the holes and the feet of posts of "
                f"{names} with black.")


def foil_cover(design: Design, finding: Finding) -> Edit | None:
    """White over the foil, so that no joint touches it."""
    part = part_of(design, finding.item)
    return _coats(part, (*part.coats, WHITE)) if part else None


def warm_white(design: Design, finding: Finding) -> Edit | None:
    """The white that the finding names: one on sale in the habit's range."""
    found, named = entry_of(design, finding.item), re.match(r"Take (.+?), unless", finding.cure)
    if found is None or named is None:
        return None
    colour = named.group(1)
    name, was = found[1].name, found[1].colour
    return edit(found[0], name, {"colour": colour}, f"make '{name}' {colour} instead of {was}.")


def windows_lit(design: Design, finding: Finding) -> Edit | None:
    """The middle of the habit's range."""
    row = next((row for row in design.plan.rows if row.name == finding.item), None)
    found = re.search(r"Leave ([0-9.]+) % of them dark", finding.cure)
    if row is None or found is None:
        return None
    share = float(found.group(1)) / 100
    made = edit("rows", row.name, {"dark_share": share},
                f"leave {plain(100 * share)} % of '{row.name}' dark instead of {plain(100 * row.dark_share)} %."
                .replace("of 0 %", "of none"))
    # Their holes are shut from behind with black, as the cure says: else the light inside would show in them.
    parts = {lamp.spot.part for lamp in design.lamps if lamp.group == row.name and lamp.spot}
    inside = {leak.part for leak in design.light.leaks}
    return _sealed(made, [part.name for part in design.plan.parts
                          if part.name in parts & inside and not part.holes_sealed])


def rhythm_length(design: Design, finding: Finding) -> Edit | None:
    """The usual length of a flash, written into the rhythm of every lamp that has it."""
    found = entry_of(design, finding.item)
    if found is None or finding.limit is None:
        return None
    text = re.sub(r"\s+on [0-9.]+ s$", "", found[1].rhythm)
    return _rhythm(design, found[1].rhythm, f"{text} on {finding.limit:g} s")


def slow_flashes(design: Design, finding: Finding) -> Edit | None:
    """Three flashes a second at most."""
    found = entry_of(design, finding.item)
    if found is None or finding.limit is None:
        return None
    rhythm = slowed(found[1].rhythm, finding.limit)
    return _rhythm(design, found[1].rhythm, rhythm) if rhythm else None


def slowed(text: str, per_s: float) -> str | None:
    """A rhythm's text with another rate, where it names one."""
    found = RATE.search(text)
    if found is None:
        return None
    rate = per_s * 60 if "min" in found.group(2) else per_s
    return f"{text[:found.start()]}{rate:g}{found.group(2)}{text[found.end():]}"


def _rhythm(design: Design, was: str, new: str) -> Edit | None:
    """A rhythm in place of another, in every lamp, row and strip that has it: what is meant alike stays alike."""
    if was == new:
        return None
    own = [(kind, entry.name) for kind in ("lamps", "rows", "strips")
           for entry in getattr(design.plan, kind) if entry.rhythm == was]
    changes = tuple(change for kind, name in own for change in edit(kind, name, {"rhythm": new}, "").changes)
    names = ", ".join(f"'{name}'" for _, name in own[:3]) + (f" and {len(own) - 3} more" if len(own) > 3 else "")
    return Edit(changes, f"Give {names} the rhythm '{new}' instead of '{was}'.")


def strobes_together(design: Design, finding: Finding) -> Edit | None:
    """The second strobe flashes as the first does."""
    found = re.match(r"The strobes '(.+)' \((.+)\) and '(.+)' \(", finding.says)
    entry = entry_of(design, finding.item)
    if found is None or entry is None:
        return None
    rhythm = found.group(2)
    says = f"give '{finding.item}' the rhythm of '{found.group(1)}': {rhythm}."
    return edit(entry[0], finding.item, {"rhythm": rhythm}, says)


def wider_source(design: Design, finding: Finding) -> Edit | None:
    """The part of the drawer that is wide enough."""
    found = entry_of(design, finding.item)
    led = re.search(r"or take the (.+) LED\.$", finding.cure)
    fibre = re.search(r"or take ([0-9.]+) mm fibre\.$", finding.cure)
    if found is None or not (led or fibre):
        return None
    if led:
        return edit(found[0], found[1].name, {"source": {"kind": "led", "led": led.group(1)}},
                    f"make '{finding.item}' by the {led.group(1)} LED.")
    size = float(fibre.group(1)) if fibre else 0.0
    return edit(found[0], found[1].name, {"source": {"kind": "fibre", "fibre_mm": size}},
                f"make '{finding.item}' by a fibre of {size:g} mm.")


def tails(design: Design, finding: Finding) -> Edit | None:
    """The lamps made by the fibre that was tried."""
    row = next((row for row in offered_tails(design) if row.groups[0] == finding.item), None)
    found = [entry_of(design, name) for name in row.groups] if row else []
    if row is None or row.tails is None or not all(found):
        return None
    source = {"kind": "fibre", "fibre_mm": row.tails.fibre_mm}
    changes = tuple(Change("set", entry[0], entry[1].name, {"source": source}) for entry in found if entry)
    names = listed([f"'{name}'" for name in row.groups])
    return Edit(changes, f"Make {names} by fibre of {row.tails.fibre_mm:g} mm from {counted(row.tails.leds, 'LED')}.")


def own_colour(design: Design, finding: Finding) -> Edit | None:
    """The LED that was insisted on is let go, so that one of the lamp's colour is taken."""
    found = entry_of(design, finding.item)
    source = getattr(found[1], "source", None) if found else None
    if found is None or source is None or source.led is None:
        return pins_out(design, ("led",), {finding.item})
    kept = {"kind": source.kind, **({"fibre_mm": source.fibre_mm} if source.fibre_mm else {})}
    says = f"no longer insist on {source.led} for '{finding.item}': one of its colour is taken."
    return edit(found[0], found[1].name, {"source": kept}, says)


def foot_below(design: Design, finding: Finding) -> Edit | None:
    """A floodlight's foot and height as the part that it sits on has them."""
    entry = entry_of(design, finding.item)
    how = hung_floods(design.plan).get(finding.item)
    lamp = next((lamp for lamp in design.lamps if lamp.name == finding.item), None)
    there = stands_at_mm(design.plan, how, lamp.spot) if how and lamp else None
    if entry is None or entry[0] != "lamps" or there is None or there[2] <= 0.0:
        return None
    x, y, height = (round(value, 1) for value in there)
    return edit("lamps", finding.item, {"foot_mm": [x, y], "lights_mm": height},
                f"set the foot of '{finding.item}' to [{x:g}, {y:g}], {height:g} mm below it.")
