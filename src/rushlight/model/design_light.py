"""What the design says of light and heat: lamps, rows, strips, pools, leaks, temperatures. Frozen values only."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rushlight.likely import likely_range
from rushlight.model.place import Point
from rushlight.units import Range

# --- light ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """One named loss on the way of the light, in decibel."""

    name: str
    loss_db: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside:
    """What a lamp shows where it is looked at from, beside its axis: `share` of what it sends along it [-].

    `likely_times` says how many times the typical value is likely of what it sends there, all guesses together.
    """

    share: Range
    likely_times: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LampLight:
    """What one lamp will give.

    The ranges run from all guesses at their low ends to all at their high ends; the likely ones lie inside them (see
    `rushlight.likely`: about 19 in 20). Off its axis its intensity falls as cos^m with the exponent `beam_order`, and
    is 0 from `beam_edge_deg` on. All is of LEDs as warm as they get; in the first moment it gives `first_times` as
    much. Intensities and luminances, the wanted one too, are along the axis; `aside` is set where it is looked at from
    beside it.
    """

    lamp: str
    state: str
    flux_lm: Range
    intensity_cd: Range
    luminance_cd_m2: Range
    likely_lm: Range
    likely_cd: Range
    likely_cd_m2: Range
    effective_cd: float
    wanted_cd: float
    losses: tuple[Loss, ...]
    beam_order: float = 1.0
    beam_edge_deg: float = 90.0
    first_times: float = 1.0
    aside: Aside | None = None

    @property
    def seen_share(self) -> float:
        """What it typically shows where it is looked at from, over what it sends along its axis [-]."""
        return 1.0 if self.aside is None else self.aside.share.typical

    @property
    def looked_at(self) -> LampLight:
        """The same with intensities and luminances towards where it is looked at from, for words and tables [cd]."""
        if self.aside is None:
            return self
        share, times = self.aside.share, self.aside.likely_times
        candela, luminance = self.intensity_cd.times(share), self.luminance_cd_m2.times(share)
        return replace(
            self, intensity_cd=candela, luminance_cd_m2=luminance, likely_cd=likely_range(candela, times),
            likely_cd_m2=likely_range(luminance, times), effective_cd=self.effective_cd * share.typical,
            wanted_cd=self.wanted_cd * share.typical, aside=None,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLight:
    """How equal the lamps of one row look: brightest over dimmest, which they are, and the state where it is most.

    `first_ratio` is brightest over dimmest there in the first moment after switching on, whichever those are.
    """

    group: str
    state: str
    brightest: str
    dimmest: str
    ratio: float
    first_ratio: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowsAlike:
    """How alike windows look that should: `ratio` is the mean luminance of the brightest over that of the dimmest, each
    over what is asked of it, in the state where it is most.

    `kind` is strip or room for the windows of one source, of which `name` is the name; like for windows of several
    sources that should all be as bright as the entry `name`. `over_dimmest` holds every window that is lit then.
    """

    name: str
    kind: str
    state: str
    brightest: str
    dimmest: str
    ratio: float
    over_dimmest: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowMap:
    """Luminance over one lit opening, over its mean, in the frame of its strip: along and across, in mm.

    `relative` has rows across and columns along from `corner_mm` on, `step_mm` apart; `posts_mm` are feet and radius.
    """

    corner_mm: Point
    step_mm: float
    relative: tuple[tuple[float, ...], ...]
    outline_mm: tuple[Point, ...]
    leds_mm: tuple[Point, ...]
    posts_mm: tuple[tuple[float, float, float], ...]
    overlaps_mm: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StripLight:
    """A strip behind one opening.

    `contrast` is that along its middle, `needed_gap_mm` the least gap at which the eye passes over its LEDs, None where
    none does, `least_share` and `most_share` the luminance over the mean of all the opening;
    `times_seen` is how many times its pattern exceeds what a trained eye just sees from the viewing distance;
    `times_spots` counts the LEDs alone, `times_posts` them and the posts, neither the sheets that overlap;
    `ratio_spots` and `ratio_posts` are the brightest over the darkest spot (no darker than 0.0001 of the mean) of the
    same two. `posts_share` is how much of the light without them posts leave where their shadow is darkest (1 without
    posts). `aside_mm` is how far its strip lies beside the opening's middle.
    """

    lamp: str
    strip: str
    opening: str
    pitch_mm: float
    gap_mm: float
    contrast: float
    needed_gap_mm: float | None
    luminance_cd_m2: Range
    likely_cd_m2: Range
    cycles_per_deg: float
    profile: tuple[tuple[float, float], ...]
    """Place along the opening in mm, luminance relative to its mean."""
    shadows: tuple[Point, ...]
    least_share: float
    most_share: float
    times_seen: float
    times_spots: float
    times_posts: float
    ratio_spots: float
    ratio_posts: float
    posts_share: float
    aside_mm: float
    window: WindowMap
    ends_mm: tuple[Point, Point] = ((0.0, 0.0), (0.0, 0.0))
    """Where on the part the profile begins and ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """What a floodlight does on the ground; `likely_lx` is what of its middle's light is likely."""

    lamp: str
    height_mm: float
    tilt_deg: float
    centre_lx: Range
    likely_lx: Range
    half_radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Caster:
    """What throws a shadow on a part, as it stands in one state: its ground, top and the free height under it."""

    name: str
    shape_mm: tuple[Point, ...]
    height_mm: float
    above_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A flat piece of the model that stands over a ground in one state.

    `rings_mm` are its outer corners on its part's drawing, then those of holes through which light passes; `frame` is
    three rows of four numbers that give places on the ground's drawing, and the height over it, from (x, y, distance
    from its outer face, 1).
    """

    name: str
    rings_mm: tuple[tuple[Point, ...], ...]
    frame: tuple[tuple[float, ...], ...]

    @property
    def corners_mm(self) -> tuple[tuple[float, float, float], ...]:
        """Its outer corners: x, y on the ground's drawing and the height over it."""
        made = (tuple(round(row[0] * x + row[1] * y + row[3], 6) for row in self.frame) for x, y in self.rings_mm[0])
        return tuple((row[0], row[1], row[2]) for row in made)


@dataclass(frozen=True, slots=True, kw_only=True)
class PoolShadow:
    """Ground that one floodlight would light and something that stands there keeps dark.

    `share` is the shadow's part of that lamp's pool, `outlines_mm` its edges there, `reach_mm` how far it falls behind
    what casts it (None: to the end of the part), `left_share` the light that other lamps leave in it over the light
    without it. The dark side of the wall that the lamp sits on is not among them.
    """

    lamp: str
    of: str
    tall_mm: float
    lamp_mm: float
    share: float
    reach_mm: float | None
    left_share: float
    outlines_mm: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PoolDip:
    """The darkest place between two neighbouring pools, over the lesser of the two."""

    lamps: tuple[str, str]
    share: float
    at_mm: Point
    apart_mm: float
    even_apart_mm: float
    even_height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PoolMap:
    """The light of all floodlights on one ground, in states that light the same ones alike.

    `part` is None for a lamp whose ground the plan does not name; its foot is then (0, 0) and it is aimed along x.
    `lx` holds typical values, rows from below upwards from `corner_mm`, as if the ground went on beyond its edge; the
    mean and the evenness (least over mean) are those of the ground that gets a tenth of the peak or more. Luminance of
    matt ground: lx x reflectance / pi. What is likely of peak and mean takes lamps to err together, as those of a bag.
    """

    part: str | None
    states: tuple[str, ...]
    lamps: tuple[str, ...]
    feet_mm: tuple[Point, ...]
    aims_mm: tuple[Point, ...]
    corner_mm: Point
    step_mm: float
    lx: tuple[tuple[float, ...], ...]
    peak_lx: Range
    peak_at_mm: Point
    mean_lx: Range
    likely_peak_lx: Range
    likely_mean_lx: Range
    evenness: float
    pool_mm2: float
    reflectance: float
    shadows: tuple[PoolShadow, ...]
    dips: tuple[PoolDip, ...]
    standing: tuple[Caster, ...] = ()
    walls: tuple[Wall, ...] = ()
    """The model's own parts that stand over it, as far as the plan says."""
    unknown: tuple[str, ...] = ()
    """Parts of which it does not say where they stand: their shadows are missing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallGlow:
    """What a part's wall shows outside in one state: luminance, colour as x and y, the lamps that light it inside."""

    state: str
    luminance_cd_m2: Range
    xy: Point
    lamps: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatsIn:
    """More coats of one paint after which a wall's glow is not seen in a viewing room of the plan's words.

    `usual` by typical figures, `sure` at the worst of light, wall and paint; None where paint alone does not do it.
    """

    room: str
    usual: int | None
    sure: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Paint:
    """One paint against a wall's glow: more coats of it, room by room; all coats of the plan's own room, first to last.

    `order` is empty where this paint alone does not do it.
    """

    coat: str
    rooms: tuple[CoatsIn, ...]
    order: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak:
    """Stray light through one part's wall in the state in which it is brightest; `glows` are all states with light.

    `coats_needed` more coats of `coat`, as in `order`, hide it in the plan's room: the part's own black, else foil
    where no paint does it. `paints` weighs black, silver and white in every room, where at the outside it may be seen
    in one. `seen_in` holds the rooms in which it is seen, `may_in` those in which it is likely that it may be.
    """

    part: str
    state: str
    inside_lx: Range
    transmittance: Range
    luminance_cd_m2: Range
    likely_cd_m2: Range
    allowed_cd_m2: float
    brightest_near: str
    coats_needed: int = 0
    coat: str = ""
    order: tuple[str, ...] = ()
    paints: tuple[Paint, ...] = ()
    seen_in: tuple[str, ...] = ()
    may_in: tuple[str, ...] = ()
    glows: tuple[WallGlow, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WallSpot:
    """The spot that an emitter's direct light makes on the part that it sits on, seen from outside.

    The luminance is that where the wall begins, `from_mm` from the place next to the source, which sits `off_mm` behind
    the wall; `points_mm` are the places next to its LEDs.
    """

    part: str
    emitter: str
    state: str
    luminance_cd_m2: Range
    likely_cd_m2: Range
    off_mm: float
    from_mm: float
    glows: tuple[WallGlow, ...]
    points_mm: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """Slits, rings or holes of one kind on one part through which light gets out, in their brightest state.

    `kind` is seam, post, post root, fibre, LED, dark hole or opening; `name` the seams, the post, the row or lamp, the
    opening. `width_mm` is that of slit or ring, or a hole's diameter; `depth_mm` how deep it is. `seen_in` holds the
    rooms of the plan's words in which it is seen, `may_in` those in which it is likely that it may be; `seen_as_cd_m2`
    is the luminance of a wide patch that is noticed as easily in the plan's room (`likely_seen_as_cd_m2`: what of it is
    likely), `allowed_cd_m2` what is just seen there. `outlines_mm` are its edges as drawn, each one closed line.
    """

    part: str
    kind: str
    name: str
    count: int
    state: str
    width_mm: Range
    depth_mm: float
    luminance_cd_m2: Range
    likely_cd_m2: Range
    seen_as_cd_m2: Range
    likely_seen_as_cd_m2: Range
    allowed_cd_m2: float
    seen_in: tuple[str, ...]
    may_in: tuple[str, ...]
    glows: tuple[WallGlow, ...]
    outlines_mm: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """All that the eye will see."""

    lamps: tuple[LampLight, ...]
    rows: tuple[RowLight, ...]
    strips: tuple[StripLight, ...]
    pools: tuple[Pool, ...]
    leaks: tuple[Leak, ...]
    alike: tuple[WindowsAlike, ...] = ()
    grounds: tuple[PoolMap, ...] = ()
    ways_out: tuple[WayOut, ...] = ()
    spots: tuple[WallSpot, ...] = ()


# --- heat ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceHeat:
    """One closed space in its hottest state.

    `power_w` runs from LEDs and a flat supply that give least to a fresh supply and LEDs that give most, over rhythms
    in the mean; `feed_w` is what switch, steering diodes, drivers, board, fuse, leads and cells turn into heat of it.
    """

    space: str
    state: str
    power_w: Range
    feed_w: Range
    air_rise_k: Range
    wall_c: Range
    advise_c: float
    stop_c: float
    hold_h: float | None = None
    """How long that state may stay on from cold until the walls' safe end, at the most power, passes what is advised;
    None for ever."""
    vents_for_mm2: float | None = None
    """Vents in all with which it could stay on, where it cannot and vents would help."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LedEvening:
    """The hottest moment of an emitter in the described evening, at the safe end of the law."""

    hour_h: float
    state: str
    junction_c: float
    wall_under_c: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LedHeat:
    """One emitter's junction, and the wall under a strip: in its hottest state left on, and over the evening.

    `evening` is None where no evening is described or the emitter is not lit in it.
    """

    emitter: str
    state: str
    junction_c: Range
    junction_limit_c: float
    wall_under_c: Range | None
    evening: LedEvening | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatPoint:
    """Wall and air of a space at one moment of the evening, typical and at the safe end of the law."""

    hour_h: float
    state: str
    wall_c: float
    wall_high_c: float
    air_c: float
    air_high_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SpaceEvening:
    """A closed space over the described evening.

    `settles_h`: until its wall has come to nine tenths of its steady rise in its hottest state. `advise_h`, `stop_h`:
    when the wall's safe end passes what its plastic bears; None if it does not.
    """

    space: str
    points: tuple[HeatPoint, ...]
    settles_h: float
    advise_h: float | None
    stop_h: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """How warm it gets, in a room whose air is at `room_c`."""

    room_c: Range
    spaces: tuple[SpaceHeat, ...]
    leds: tuple[LedHeat, ...]
    evening: tuple[SpaceEvening, ...]
