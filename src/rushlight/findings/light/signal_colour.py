"""A light of the rule whose LED lies outside the colour that the rule lays down."""

from __future__ import annotations

from statistics import fmean

from rushlight.errors import UnknownName
from rushlight.findings._words import by_group
from rushlight.model.design import Design, PlacedLamp
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.optics.colour import dominant_nm
from rushlight.optics.signal_colour import inside_signal_colour, signal_corners
from rushlight.stages.lamps import colour_of
from rushlight.stages.subjects.check import colour_family

SYSTEMS = {"ship": "ship", "aircraft": "aircraft", "road vehicle": "road"}


def _look(design: Design) -> tuple[Trouble, ...]:
    system = SYSTEMS.get(design.plan.subject.kind)
    if system is None:
        return ()
    made = {source.lamp: source for source in design.sources}
    found = []
    for lamps in by_group(lamp for lamp in design.lamps if lamp.rule and lamp.states).values():
        lamp = lamps[0]
        source = made[lamp.name]
        row = design.drawer.strip(source.led) if source.kind == "strip" else design.drawer.led(source.led)
        if not _inside(row.colour, system, colour_family(lamp.colour.name)):
            found.append(_trouble(lamp, row.name, row.colour, system=system))
    return tuple(found)


def _inside(colour: str, system: str, wanted: str) -> bool:
    """Whether an LED's usual colour lies in the area; a colour that the system does not know is let pass."""
    seen = colour_of(colour)
    try:
        return inside_signal_colour((seen.x, seen.y), system, wanted)
    except UnknownName:
        return True


def _middle_nm(system: str, colour: str) -> float | None:
    """Dominant wavelength of the middle of a signal colour; None for white and where no corners are laid down."""
    if colour == "white":
        return None
    try:
        corners = signal_corners(system, colour)
    except UnknownName:
        return None
    return dominant_nm((fmean(x for x, _ in corners), fmean(y for _, y in corners)))


def _trouble(lamp: PlacedLamp, row: str, colour: str, *, system: str) -> Trouble:
    wanted = colour_family(lamp.colour.name)
    middle = _middle_nm(system, wanted)
    return Trouble(
        item=lamp.group, spot=lamp.spot,
        cure=f"Take an LED of about {middle:.0f} nm, or put clear {wanted} over a white one." if middle else "",
        says=f"The LED of '{lamp.group}' ({row}, {colour}) lies outside the {wanted} that the rules lay down for "
             f"{'an aircraft' if system == 'aircraft' else f'a {system}'}'s signal lights.",
    )


RULE = Rule(
    key="light.signal-colour",
    grade=Grade.COULD_BE_BETTER,
    title="LED outside the signal colour",
    unit="",
    why="Beside a photograph the tint will look wrong, although its name is right.",
    cure="Take an LED of the middle of that colour, or put clear colour over a white one.",
    source="COLREGs 1972 Annex I 7, 14 CFR 25.1397, UN R48 2.29: for a model only",
    look=_look,
)
