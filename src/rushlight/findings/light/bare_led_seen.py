"""Windows through which the LEDs themselves are seen."""

from __future__ import annotations

from rushlight.findings._lights import emitters_of
from rushlight.findings._words import by_group, listed
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_part import Opening


def _look(design: Design) -> tuple[Trouble, ...]:
    feeds = emitters_of(design)
    behind = [lamp for lamp in design.lamps if (emitter := feeds.get(lamp.name)) and emitter.kind in ("strip", "room")]
    bare = [lamp for lamp in behind if (opening := _opening(design, lamp)) and not _hidden(design, opening)]
    strips = by_group(lamp for lamp in bare if lamp.made_of == "strips")
    rooms: dict[tuple[str, bool], list[PlacedLamp]] = {}
    for lamp in bare:
        if lamp.made_of != "strips" and lamp.spot:
            rooms.setdefault((lamp.spot.part, has_door(design, lamp)), []).append(lamp)
    return tuple(_trouble(lamps, door=has_door(design, lamps[0])) for lamps in (*strips.values(), *rooms.values()))


def has_door(design: Design, lamp: PlacedLamp) -> bool:
    """Whether one looks in by a door or hatch: nobody hangs a sheet there."""
    opening = _opening(design, lamp)
    return opening is not None and opening.door is not None


def _opening(design: Design, lamp: PlacedLamp) -> Opening | None:
    part = lamp.spot.part if lamp.spot else ""
    return next((row for own in design.plan.parts if own.name == part for row in own.openings
                 if row.name == lamp.opening), None)


def _hidden(design: Design, opening: Opening) -> bool:
    return any(design.drawer.diffuser(row.sheet).hides_source for row in opening.diffusers)


def _trouble(lamps: list[PlacedLamp], *, door: bool) -> Trouble:
    names = [f"'{lamp.opening}'" for lamp in lamps]
    strip = lamps[0].made_of == "strips"
    return Trouble(
        item=lamps[0].group if strip else lamps[0].name, spot=lamps[0].spot,
        says=f"Through {listed(names)} on '{lamps[0].spot.part if lamps[0].spot else ''}' one looks straight at the "
             f"{'LEDs of the strip' if strip else 'LED'}.",
        cure="Move the LED out of sight: above the door, beside it behind the wall, or behind a ceiling of opal sheet; "
             "a sheet in an open door looks like one." if door else "",
    )


RULE = Rule(
    key="light.bare-led-seen",
    grade=Grade.DOUBTFUL,
    title="Bare LED seen through a window",
    unit="",
    why="A bright dot instead of a lit room: tracing paper and frosted film soften it, but light passes straight "
        "through.",
    cure="Put opal sheet, white paper or opal film behind the window, or move the LED out of sight (above, behind a "
         "wall).",
    source="habit bare_led_seen: common practice, no source; which sheets hide the source stands in the drawer",
    practice="bare_led_seen",
    look=_look,
)
