"""What is proposed for a row or a group of like lamps in holes: an LED each, tails of shared LEDs or a strip behind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rushlight.model.design import Design, PlacedLamp, Source
from rushlight.stages.aim import weighing_of
from rushlight.stages.row_tails import TailTrial, tails_built, tried_tails
from rushlight.stages.source_choice import CLEARLY, LEAST_SAVED, TAIL_PIECES, Way, Weighing, held_names
from rushlight.stages.source_ways import Weighed, hole_ways, lit_groups, source_ways, tail_source

NO_WAY = "no fibre reaches any of them"


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """What is proposed for lamps in holes that are weighed together.

    `groups` are their rows or names; `built` and `proposed` are led, fibre or strip; `tails` is what tails of shared
    LEDs would take and give (None where no fibre reaches any lamp); `led` and `strip` are those ways as weighed
    (`strip` None where none could lie behind them), `oversize` the lit width of a tail over that at scale (0 where
    nobody knows it); `insisted`: the modeller says what makes them.
    """

    groups: tuple[str, ...]
    built: str
    proposed: str
    led: Way
    tails: TailTrial | None
    strip: Way | None
    oversize: float
    insisted: bool
    led_badness: float
    """The worst of an LED each over what is let pass."""
    led_lacks: tuple[str, ...]
    tails_lack: tuple[str, ...]
    strip_lacks: tuple[str, ...]
    fibre: Source
    """The fibre of each tail, and its hole."""

    @property
    def leds_saved(self) -> int:
        """LEDs fewer with tails than with an LED in each hole."""
        return self.led.leds - self.tails.leds if self.tails else 0

    @property
    def spares(self) -> bool:
        """Whether the tails as laid take CLEARLY fewer LEDs and fewer pieces than an LED in each hole."""
        tails, own = self.tails, self.led.leds
        return tails is not None and own >= LEAST_SAVED and tails.leds * CLEARLY <= own and (
            tails.leds + TAIL_PIECES * tails.tails < own)


def row_proposals(design: Design, ways: Sequence[Weighed] | None = None) -> tuple[Proposal, ...]:
    """What is proposed for each row, and each group of like lamps near each other, of two lit lamps in holes or more.

    Parameters
    ----------
    design : Design
        The whole design.
    ways : sequence of Weighed, optional
        What `source_ways` gave for it, if that is at hand.
    Returns
    -------
    tuple of Proposal
        In the order of the lamps. Tails are proposed where they lack nothing, and an LED each lacks something or takes
        CLEARLY as many LEDs and more pieces in all; a strip where both lack something, an LED each CLEARLY more than is
        let pass, and the strip nothing; else what is built stays.
    Source
    ------
    Project rules; every number of the tails as they would be built, see `stages.row_tails`.
    """
    weighing = _weighing(design)
    sources = {row.lamp: row for row in design.sources}
    return tuple(
        _proposal(design, weighing, _Ways(row.groups, row.lamps, row.ways, sources[row.lamps[0].name]))
        for row in (source_ways(design) if ways is None else ways)
        if len(row.lamps) > 1 and row.ways[0].kind in ("led", "fibre"))


def offered_tails(design: Design) -> tuple[Proposal, ...]:
    """Lamps that are LEDs in their holes where tails of shared LEDs are proposed.

    Parameters
    ----------
    design : Design
        The whole design.
    Returns
    -------
    tuple of Proposal
        Without lamps of which the modeller holds something, and those whose LED they insist on where no number speaks
        against it. Tails are laid and lit only where the quick weighing lets one hope.
    """
    weighing = _weighing(design)
    rows = [_Ways(tuple(dict.fromkeys(lamp.group for lamp, _ in row)), tuple(lamp for lamp, _ in row), (), row[0][1])
            for row in lit_groups(design, weighing).values() if len(row) >= LEAST_SAVED and row[0][1].kind == "led"]
    free = [row for row in rows if not any(held_names(design.plan) & {lamp.group, lamp.name} for lamp in row.lamps)]
    weighed = [replace(row, ways=hole_ways(weighing, row.lamps, row.source)) for row in free]
    made = [_proposal(design, weighing, row) for row in weighed if _hopes(weighing, row)]
    return tuple(row for row in made if row.proposed == "fibre")


def _weighing(design: Design) -> Weighing:
    return weighing_of(design.plan, design.drawer, design.lamps, {row.lamp: row for row in design.sources})


@dataclass(frozen=True, slots=True)
class _Ways:
    """Lamps that are weighed together, with their ways and what makes them now."""

    groups: tuple[str, ...]
    lamps: tuple[PlacedLamp, ...]
    ways: tuple[Way, ...]
    source: Source


def _hopes(weighing: Weighing, row: _Ways) -> bool:
    own, tails = row.ways
    lacking = bool(own.lacks(weighing.most_oversize))
    return not tails.lacks(weighing.most_oversize) and (lacking or (tails.spares(own) and not row.source.insisted))


def _proposal(design: Design, weighing: Weighing, row: _Ways) -> Proposal:
    by, most = {way.kind: way for way in row.ways}, weighing.most_oversize
    source = row.source if row.source.kind == "fibre" else tail_source(weighing, row.lamps[0])
    tails = tails_built(design, row.lamps) if row.source.kind == "fibre" else tried_tails(
        design, weighing, row.lamps, source)
    made = Proposal(
        groups=row.groups, built=row.source.kind, proposed=row.source.kind, led=by["led"], tails=tails,
        strip=by.get("strip"), insisted=row.source.insisted, oversize=by["fibre"].oversize,
        led_badness=by["led"].badness(most), led_lacks=by["led"].lacks(most),
        strip_lacks=by["strip"].lacks(most) if "strip" in by else (),
        tails_lack=(*_width_lacks(by["fibre"], most), *(tails.lacks if tails else (NO_WAY,))), fibre=source,
    )
    return replace(made, proposed=_proposed(made))


def _width_lacks(way: Way, most_oversize: float) -> tuple[str, ...]:
    """What speaks against the fibre itself, whatever its light."""
    bare = replace(way, enough=1.0, least=1.0, uneven=1.0)
    return bare.lacks(most_oversize)


def _proposed(row: Proposal) -> str:
    """The way that lacks nothing: tails where that spares LEDs, else what is built; a strip where both lack."""
    tails_serve = row.tails is not None and not row.tails_lack
    if tails_serve and (row.led_lacks or row.spares or row.built == "fibre"):
        return "fibre"
    if not row.led_lacks:
        return "led"
    far_off = row.built != "led" or row.led_badness > CLEARLY
    return "strip" if row.strip is not None and not row.strip_lacks and far_off else row.built
