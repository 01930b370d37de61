"""What lit emitters throw about inside, where and in which state: stray light, and all of lamps that shine inward."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rushlight.likely import Guesses, guess_of, joined, ln_apart
from rushlight.model.design_light import LampLight
from rushlight.model.design_loom import Emitter
from rushlight.model.design_power import EmitterCurrent
from rushlight.model.drawer import Drawer
from rushlight.model.place import Point
from rushlight.model.plan import Plan
from rushlight.stages.build import Build
from rushlight.stages.lamps import colour_of
from rushlight.stages.parts_law import led_flux_lm, led_guesses
from rushlight.tables import row_by, rows
from rushlight.units import Range


@dataclass(frozen=True, slots=True)
class Stray:
    """Flux set free inside: whose, on which part, of which lamps, in which colour (x, y)."""

    emitter: str
    part: str
    lamps: tuple[str, ...]
    flux_lm: Range
    xy: Point
    guesses: Guesses = ()
    """What the flux hangs on; what all sources of a kind share bears one name."""
    tail: bool = False
    """What leaves a fibre's tail inside, not what strays from its emitter."""


STRAY = "stray light of "
"""With a kind of source: the guess of the share that it sets free inside."""

Strays = Mapping[str, Mapping[str, tuple[Stray, ...]]]
"""By state, then by part."""


def strays_of(build: Build, lamps: Iterable[LampLight]) -> Strays:
    """All stray light of a build.

    Parameters
    ----------
    build : Build
        Plan, drawer and the results of the stages before.
    lamps : iterable of LampLight
        What every lamp gives; read of fibre tails that shine inward.
    Returns
    -------
    mapping
        By state and part. An LED that faces inward sets its whole flux free, and so does a fibre's tail that does, on
        the part of its lamp; every other source a share.
    Source
    ------
    `stray_share`: stray_share.csv (orders of magnitude) until it is measured.
    """
    known = _Known(build)
    tails = [row for row in lamps if row.lamp in known.inward and known.kinds[row.lamp] == "fibre"]
    return {
        state.state: _by_part((
            *(_of_emitter(build, known, row) for row in state.lit),
            *(_of_tail(known, row) for row in tails if row.state == state.state),
        ))
        for state in build.power.states
    }


def stray_share(drawer: Drawer, kind: str) -> Range:
    """Share of its light that a kind of emitter sets free inside: as measured at the bench, else of stray_share.csv."""
    row = row_by("stray_share", "kind", kind)
    return drawer.measured("stray light", kind) or Range(*(float(row[end]) for end in ("low", "typical", "high")))


class _Known:
    """What is asked of every emitter, by name."""

    def __init__(self, build: Build) -> None:
        self.shares = {row["kind"]: stray_share(build.drawer, row["kind"]) for row in rows("stray_share")}
        self.inward = frozenset(lamp.name for lamp in build.lamps if lamp.facing == "inward")
        self.kinds = {source.lamp: source.kind for source in build.sources}
        self.lamps = {lamp.name: lamp for lamp in build.lamps}
        self.drawer = build.drawer
        self.feeds = {lamp: emitter for emitter in build.loom.emitters for lamp in emitter.lamps}

    def xy(self, emitter: Emitter) -> Point:
        """The colour of the LED itself."""
        strip = emitter.kind == "strip"
        part = self.drawer.strip(emitter.part_row) if strip else self.drawer.led(emitter.part_row)
        colour = colour_of(part.colour)
        return (colour.x, colour.y)


def _by_part(strays: Iterable[Stray]) -> dict[str, tuple[Stray, ...]]:
    found: dict[str, list[Stray]] = {}
    for stray in strays:
        found.setdefault(stray.part, []).append(stray)
    return {part: tuple(own) for part, own in found.items()}


def _of_emitter(build: Build, known: _Known, lit: EmitterCurrent) -> Stray:
    emitter = build.loom.emitter(lit.emitter)
    kind = "inward" if emitter.kind == "led" and known.inward.intersection(emitter.lamps) else emitter.kind
    flux = emitter_flux_lm(build, emitter, lit.light_a).times(lit.light_range).times(known.shares[kind])
    share = (f"{STRAY}{kind}", ln_apart(known.shares[kind]))
    return Stray(emitter.name, emitter.spot.part, emitter.lamps, flux, known.xy(emitter),
                 joined(_emitter_guesses(build.drawer, emitter), lit.light_guesses, (share,)))


def _of_tail(known: _Known, light: LampLight) -> Stray:
    """The light of a tail that ends inside."""
    spot = known.lamps[light.lamp].spot
    assert spot is not None
    feed = known.feeds[light.lamp]
    return Stray(feed.name, spot.part, (light.lamp,), light.flux_lm, known.xy(feed),
                 (("tails that end inside", guess_of(light.likely_lm)),), tail=True)


def _emitter_guesses(drawer: Drawer, emitter: Emitter) -> Guesses:
    """What the light of an LED or a strip hangs on besides its current; those of one bag err together."""
    if emitter.kind == "strip":
        return ((f"light of {emitter.part_row}", ln_apart(drawer.strip(emitter.part_row).flux_lm_per_m)),)
    own = joined(*led_guesses(drawer.led(emitter.part_row)))
    return tuple((f"{name}: {emitter.part_row}", wide) for name, wide in own)


def emitter_flux_lm(build: Build, emitter: Emitter, light_a: float) -> Range:
    """All light of an LED, or of a strip, at a current as `led_light_a` counts it."""
    if emitter.kind == "strip":
        strip = build.drawer.strip(emitter.part_row)
        length_m = emitter.segments * strip.segment_mm / 1000
        return strip.flux_lm_per_m.times(length_m * max(light_a, 0.0) * 1000 / strip.segment_ma)
    return led_flux_lm(build.drawer.led(emitter.part_row), max(light_a, 0.0))


def together(plan: Plan, part: str) -> frozenset[str]:
    """The parts that share a space with a part."""
    names = [set(space.parts) for space in plan.spaces if part in space.parts]
    return frozenset({part}.union(*names))


def within(strays: Strays, state: str, parts: frozenset[str]) -> tuple[Stray, ...]:
    """What is set free on some parts in one state, without what gives nothing."""
    found = strays.get(state, {})
    return tuple(row for part in sorted(parts & found.keys()) for row in found[part] if row.flux_lm.typical > 0)


def flux_of(strays: Iterable[Stray]) -> Range:
    """Flux of all together [lm]."""
    total = Range.exactly(0.0)
    for stray in strays:
        total = total.plus(stray.flux_lm)
    return total


def mixed_xy(strays: Iterable[Stray]) -> Point:
    """Colour of all together, each by its flux."""
    rows_ = [(stray.flux_lm.typical, *stray.xy) for stray in strays]
    total = sum(flux / y for flux, _, y in rows_)
    return (round(sum(flux * x / y for flux, x, y in rows_) / total, 6),
            round(sum(flux for flux, _, _ in rows_) / total, 6))
