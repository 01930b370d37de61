"""LED at the hole or fibre tail: both weighed by light, evenness, size and pieces, for lamps that are left open."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rushlight.model.design import PlacedLamp, Source
from rushlight.model.drawer import Drawer, LedPart
from rushlight.model.place import Spot
from rushlight.model.plan import MadeBy, Plan
from rushlight.optics.emitter import junction_factor
from rushlight.stages.aside import BEAD
from rushlight.stages.bundle_choice import OPEN_COST_MM, TailKind, feed_for, leds_for, tail_cd_per_a
from rushlight.stages.fibre_light import led_joint
from rushlight.stages.led_currents import DERATE, MOST_A, least_a
from rushlight.stages.parts_law import led_light_a, led_peak_cd
from rushlight.stages.sources import fibre, led
from rushlight.stages.sources.common import matching_leds
from rushlight.tables import row_by

EVEN = 1.5
"""Lamps of a row differ by no more than this, and a lamp may miss what is wanted by as much (habit `equal`)."""

TAIL_PIECES = 0.5
"""A tail is half the work of an LED with its resistor and leads: 200 mm of fibre, an illuminator being worth 400 mm
(see `OPEN_COST_MM`; project rule)."""

CLEARLY = 2.0
"""What the size suggests is left where the other way takes so many times fewer pieces (project rule)."""

FAR_BETTER = 4.0
"""Of two ways that both lack something the other is taken where it is so many times nearer (project rule)."""

EVEN_LIMIT = 1 + 1e-9

MOST_FACE = 1.5
"""Another LED than the one that suits the size is at most so many times as wide or as narrow as the lamp, or so many
times as wide as that one where the lamp's size is not known (project rule)."""

NEARER = 1.2
"""Where every LED is too dim, or too bright, another than the usual one is taken if it is so many times nearer (project
rule)."""

WARM_K = 25.0
"""How much warmer than its data sheet has it an LED at its most current is taken to be (project rule: 50 degC)."""

STIFF_MM = 1.5
"""Wider fibre bends to 30 mm and more (habit `fibre_bend`): it is not taken in place of an LED by itself."""

LEAST_SAVED = 3
"""So many lamps at least are worth tails of one LED in place of an LED each (project rule)."""

SIZE_PLAY = 1.3
"""A lamp may look so many times wider or narrower than it is at scale, where that saves an LED (project rule)."""

"""The finish of a fibre's end that is seen from its side (fibre_finish.csv)."""

ALIKE, MOST_TIMES = 1.05, 1000.0
"""A row within so much is told as alike; ratios are told up to so much."""

Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One way to make the lamps of a lamp or row, weighed as if they were alone.

    `kind` is led, fibre, room or strip; `part` the LED or strip. `enough` is what it gives at the most current over
    what is wanted, `least` the same at the least current, `uneven` the brightest lamp over the dimmest, `oversize` its
    lit width over the lamp's at scale (0 where nobody knows that), `pieces` the work in LEDs with their leads,
    `amps` what rooms and strips draw as bright as wanted.
    """

    kind: str
    part: str
    fibre_mm: float | None
    leds: int
    tails: int
    holes: int
    enough: float
    least: float
    uneven: float
    oversize: float
    pieces: float
    amps: float = 0.0
    dark: bool = False
    """Whether it shows nothing where the lamps are looked at from: a chip that stands tip up."""
    room_mm: float = 0.0
    """Room behind that it wants, and has: the narrowest side of the shallowest closed space there, if one is known."""
    depth_mm: float = math.inf

    def lacks(self, most_oversize: float) -> tuple[str, ...]:
        """What speaks against it, in words."""
        against = ["dark from beside its axis, where it is looked at from"] if self.dark else []
        if self.oversize > most_oversize * (1 + 1e-9):
            against.append(f"{times(self.oversize)} times as wide as at scale")
        if self.enough < 1 / EVEN and not self.dark:
            against.append(f"{times(self.enough)} times the wanted light at most")
        if self.least > EVEN * (1 + 1e-9):
            against.append(f"{times(self.least)} times the wanted light at the least current")
        if self.uneven > EVEN * (1 + 1e-9):
            against.append(f"uneven, {times(self.uneven)} times")
        if self.kind == "fibre" and (self.fibre_mm or 0.0) > STIFF_MM:
            against.append(f"fibre of {self.fibre_mm:g} mm hardly bends")
        if self.room_mm > self.depth_mm:
            against.append(f"wants {self.room_mm:.3g} mm of room behind, there are {self.depth_mm:.3g}")
        return tuple(against)

    def badness(self, most_oversize: float) -> float:
        """The worst of it over what is let pass: above 1 something speaks against it; endless for what cannot bend."""
        if self.dark or (self.kind == "fibre" and (self.fibre_mm or 0.0) > STIFF_MM) or self.room_mm > self.depth_mm:
            return math.inf
        dim = 1 / (EVEN * self.enough) if self.enough > 0 else math.inf
        return max(self.oversize / most_oversize, dim, self.least / EVEN, self.uneven / EVEN)

    def spares(self, own: Way) -> bool:
        """Whether tails of shared LEDs are clearly less to buy and to solder than an LED in each hole."""
        return (self.kind, own.kind) == ("fibre", "led") and self.holes >= LEAST_SAVED and (
            self.leds * CLEARLY <= own.leds and self.pieces < own.pieces)

    def count(self) -> str:
        """What it takes, in words."""
        if self.kind == "strip":
            return f"one strip of {self.leds} LED{'s' if self.leds != 1 else ''}"
        tails = f" and {self.tails} tail{'s' if self.tails != 1 else ''}" if self.tails else ""
        return f"{self.leds} LED{'s' if self.leds != 1 else ''}{tails}"

    def numbers(self) -> str:
        """Its count, light and evenness in words."""
        alike = "" if self.holes == 1 else ", all alike" if self.uneven < ALIKE else (
            f", alike within {times(self.uneven)} times")
        return f"{self.count()}, up to {times(self.enough)} times the wanted light{alike}"


def times(ratio: float) -> str:
    """A ratio in words, to two digits; far off, its bound."""
    if ratio > MOST_TIMES:
        return f"over {MOST_TIMES:.0f}"
    return f"{float(f'{ratio:.2g}'):g}"


@dataclass(frozen=True, slots=True)
class Weighing:
    """What lamps are weighed with: `want_cd` says how bright [cd] along its axis a lamp is wanted if a source makes it,
    `shows` whether that shows anything where the lamp is looked at from."""

    plan: Plan
    drawer: Drawer
    want_cd: Callable[[PlacedLamp, Source], float]
    shows: Callable[[PlacedLamp, Source], bool]

    @property
    def most_oversize(self) -> float:
        """How many times as wide as at scale a lamp may look (habit `oversize`)."""
        return self.drawer.habit("oversize").high or 2.0

    def by_led(self, lamps: Sequence[PlacedLamp], source: Source) -> Way:
        """An LED in each hole."""
        part = self.drawer.led(source.led)
        most_a = part.test_ma / 1000 if part.pre_wired_v is not None else part.max_ma * DERATE / 1000
        least = most_a if part.pre_wired_v is not None else min(least_a(self.drawer), most_a)
        most_light_a, least_light_a = (led_light_a(part, amps).typical for amps in (most_a, least))
        dark, count = self._dark(lamps, source), len(lamps)
        cold = 0.0 if dark else led_peak_cd(part, most_light_a).typical / max(self._most_cd(lamps, source), 1e-12)
        return Way("led", source.led, None, leds=count, tails=0, holes=count, enough=cold * warm_share(part),
                   least=cold * least_light_a / most_light_a, uneven=1.0, oversize=_oversize(lamps, source),
                   pieces=float(count), dark=dark)

    def by_fibre(self, lamps: Sequence[PlacedLamp], source: Source) -> Way:
        """A tail to each hole, as many on an LED as fit and look alike."""
        fibre_mm, count = source.fibre_mm or 0.0, len(lamps)
        kinds = (TailKind(fibre_mm, source.tip, self._most_cd(lamps, source)),) * count
        feed = feed_for(self.plan, self.drawer, list(lamps), kinds=kinds, most_a=MOST_A * DERATE)
        joint = led_joint(self.plan, self.drawer, lamps[0].group, lamps[0].name)
        middle = tail_cd_per_a(self.drawer, feed.led, fibre_mm, tip=source.tip, joint=joint).typical
        usual = feed.tail_cd_per_a[fibre_mm, source.tip].typical
        wanted_a, leds = feed.light_a_for(kinds[0]), leds_for(kinds, feed)
        most_a, least = (led_light_a(feed.led, amps).typical
                         for amps in (feed.led.max_ma * DERATE / 1000, least_a(self.drawer)))
        dark = self._dark(lamps, source)
        per_want = 0.0 if dark else 1.0 / wanted_a if wanted_a > 0 else math.inf
        return Way(
            "fibre", feed.led.name, fibre_mm, leds=leds, tails=count, holes=count,
            enough=most_a * warm_share(feed.led) * per_want, least=least * per_want,
            uneven=(middle / usual) ** 2 if usual > 0 and count > 1 and feed.capacity > 1 else 1.0,
            oversize=_oversize(lamps, source), pieces=leds + TAIL_PIECES * count, dark=dark,
        )

    def _dark(self, lamps: Sequence[PlacedLamp], source: Source) -> bool:
        return not all(self.shows(lamp, source) for lamp in lamps)

    def _most_cd(self, lamps: Sequence[PlacedLamp], source: Source) -> float:
        return max(self.want_cd(lamp, source) for lamp in lamps)


@lru_cache(maxsize=512)
def warm_share(part: LedPart) -> float:
    """Share of its data sheet's light that an LED keeps at its most current, WARM_K warmer [-].

    Source: `optics.emitter.junction_factor`; what it really keeps is known when its loom is laid.
    """
    return junction_factor(WARM_K, row_by("led_voltage_temperature", "key", part.law)["chemistry"]).typical


def _oversize(lamps: Sequence[PlacedLamp], source: Source) -> float:
    sizes = [lamp.model_mm for lamp in lamps if lamp.model_mm is not None]
    return source.seen_mm / min(sizes) if sizes else 0.0


def choose_by_numbers(
    weighing: Weighing, lamps: Sequence[PlacedLamp], sources: Mapping[str, Source]
) -> dict[str, Source]:
    """Sources of the lamps that were left open, with their numbers; LED and tail exchanged where that serves.

    Parameters
    ----------
    weighing : Weighing
        Plan, parts, and how bright each lamp is wanted.
    lamps : sequence of PlacedLamp
        Lamps that are lit.
    sources : mapping of str to Source
        What their size and use suggest, by lamp.
    Returns
    -------
    dict of str to Source
        By lamp, of those alone that were left open to LED or fibre. The size's way is left where it lacks light,
        evenness or the right width and the other does not, or by far less; or where both serve and the other takes
        CLEARLY fewer pieces.
    Source
    ------
    Project rule; light by `optics.fibre` and the LEDs' data, evenness by the habit `equal`, width by `oversize`.
    """
    free = [lamp for lamp in lamps if _is_open(weighing.plan, lamp, sources[lamp.name])]
    known: dict[Key, Source] = {}
    made: dict[str, Source] = {}
    holds = held_names(weighing.plan)
    for row in like_lamps(weighing, free, sources):
        first = row[0]
        source, held = sources[first.name], any(holds & {lamp.group, lamp.name} for lamp in row)
        key = (held, *_key(weighing, row, source))
        if key not in known:
            known[key] = _weighed(weighing, row, source, held=held)
        chosen = known[key]
        made.update({lamp.name: replace(chosen, lamp=lamp.name) for lamp in row})
    return made


def like_lamps(
    weighing: Weighing, lamps: Sequence[PlacedLamp], sources: Mapping[str, Source]
) -> tuple[tuple[PlacedLamp, ...], ...]:
    """Lamps that are weighed together: each row, and single lamps that are alike and near each other on one part.

    Parameters
    ----------
    weighing : Weighing
        Plan, and how bright each lamp is wanted.
    lamps : sequence of PlacedLamp
        Lamps in holes.
    sources : mapping of str to Source
        What makes each.
    Returns
    -------
    tuple of tuple of PlacedLamp
        In the order of the first of each. Alike are colour, size, states, rhythm, wanted light, source and joint. Near
        is what lies within OPEN_COST_MM of the first: farther, a fibre costs more than an LED. Who holds something of
        a lamp has it weighed alone.
    """
    holds = held_names(weighing.plan)
    groups: dict[object, list[list[PlacedLamp]]] = {}
    for lamp in lamps:
        alone = lamp.made_of != "lamps" or lamp.name in holds or lamp.spot is None
        part = lamp.spot.part if lamp.spot else ""
        key: object = lamp.group if alone else (part, *_like(weighing, lamp, sources[lamp.name]))
        heaps = groups.setdefault(key, [])
        heap = next((heap for heap in heaps if alone or _near(heap[0].spot, lamp.spot)), None)
        heaps.append([lamp]) if heap is None else heap.append(lamp)
    order = {lamp.name: number for number, lamp in enumerate(lamps)}
    found = [tuple(heap) for heaps in groups.values() for heap in heaps]
    return tuple(sorted(found, key=lambda heap: order[heap[0].name]))


def held_names(plan: Plan) -> set[str]:
    """Names of which the modeller holds something: who does has chosen what makes those lamps too."""
    return {pin.of for pin in plan.pinned}


def _like(weighing: Weighing, lamp: PlacedLamp, source: Source) -> Key:
    """What single lamps have in common that are weighed together."""
    return (lamp.colour, lamp.model_mm, lamp.states, lamp.rhythm, lamp.arc_deg, lamp.opening, source.kind, source.led,
            source.fibre_mm, source.tip, source.insisted, weighing.want_cd(lamp, source),
            led_joint(weighing.plan, weighing.drawer, lamp.name))


def _near(one: Spot | None, other: Spot | None) -> bool:
    return one is not None and other is not None and math.dist(one.at_mm, other.at_mm) <= OPEN_COST_MM


def _is_open(plan: Plan, lamp: PlacedLamp, source: Source) -> bool:
    """Whether LED or fibre is the tool's to choose: a floodlight needs an LED."""
    return not source.insisted and source.kind in ("led", "fibre") and not led.is_flood(plan, lamp)


def _key(weighing: Weighing, row: Sequence[PlacedLamp], source: Source) -> Key:
    """Rows that are weighed alike."""
    first, other = row[0], _made_by(weighing, row[0], _other(source.kind))
    return (first.model_mm, first.colour, len(row), source.kind, source.led, source.fibre_mm,
            led_joint(weighing.plan, weighing.drawer, first.group, first.name),
            weighing.want_cd(first, source), weighing.want_cd(first, other))


def _other(kind: str) -> str:
    return "fibre" if kind == "led" else "led"


def _made_by(weighing: Weighing, lamp: PlacedLamp, kind: str) -> Source:
    choose = led.choose if kind == "led" else fibre.choose
    return choose(weighing.plan, weighing.drawer, lamp, None)


def _weighed(weighing: Weighing, row: Sequence[PlacedLamp], source: Source, *, held: bool) -> Source:
    """What makes the row, and why in numbers; who holds something of these lamps has chosen their kind too."""
    sources = [seen_aside(weighing, row[0], one) for one in (source, _made_by(weighing, row[0], _other(source.kind)))]
    if not held:
        sources = [right_led(weighing, row, one) if one.kind == "led" else one for one in sources]
    own, other = (_way(weighing, row, one) for one in sources)
    single = len({lamp.group for lamp in row}) > 1
    like = f"weighed with {len(row) - 1} like it near by: " if single else ""
    against, against_other = own.lacks(weighing.most_oversize), other.lacks(weighing.most_oversize)
    if not held and _better(own, other, weighing.most_oversize):
        why = ", ".join((own.count(), *against)) if against else own.numbers()
        numbers = ", ".join((other.numbers(), *against_other))
        why = f"{like}{kind_words(own)} would be: {why}; {kind_words(other)}: {numbers}{_bead_words(sources[1])}"
        return replace(sources[1], why=why)
    told = ", ".join((other.count(), *against_other)) if against_other else other.numbers()
    why = f"{_suits(row[0], sources[0])}: {like}{own.numbers()}; {kind_words(other)} would be: {told}"
    return replace(sources[0], why=f"{why}{_bead_words(sources[0])}")


def _bead_words(source: Source) -> str:
    return "; its end a matted bead, since it is seen from beside its axis" if source.tip == BEAD else ""


def right_led(weighing: Weighing, row: Sequence[PlacedLamp], source: Source) -> Source:
    """The LED that the size suggests; where that is too dim at its most or too bright at its least another of the
    colour that is neither nor too wide, the broadest beam first; where all are, the one that is plainly nearer. A chip
    may give way to an LED with a lens, which sits in a hole as well; the other way round the hole would stay empty."""
    most = weighing.most_oversize
    lacks = weighing.by_led(row, source).lacks(most)
    if not lacks:
        return source
    usual = weighing.drawer.led(source.led)
    widest_mm = MOST_FACE * (row[0].model_mm or usual.face_mm)
    least_mm = min((row[0].model_mm or 0.0) / MOST_FACE, usual.face_mm) - 1e-9
    parts = [part for part in matching_leds(weighing.drawer, row[0].colour)
             if (usual.hole_mm is None or part.hole_mm is not None) and least_mm <= part.face_mm <= widest_mm]
    others = {
        part: led.choose(weighing.plan, weighing.drawer, row[0], MadeBy(kind="led", led=part.name)) for part in parts
    }
    bad = {part: weighing.by_led(row, others[part]).badness(most) for part in parts}
    nearest = min(bad.values(), default=math.inf)
    if nearest > EVEN_LIMIT and nearest * NEARER >= weighing.by_led(row, source).badness(most):
        return source
    right = [part for part in parts if bad[part] <= max(nearest, 1.0) * EVEN_LIMIT]
    best = min(right, key=lambda part: (-part.half_angle_deg, abs(math.log(part.face_mm / usual.face_mm)), part.name))
    why = f"{best.name} in place of {usual.name}, which would give {', '.join(lacks)}"
    if nearest > EVEN_LIMIT:
        why += "; no LED of its colour and size gives what is wanted"
    return replace(others[best], insisted=False, why=why)


def seen_aside(weighing: Weighing, lamp: PlacedLamp, source: Source) -> Source:
    """A fibre that would show nothing where its lamp is looked at from gets a matted bead, where that does."""
    beaded = replace(source, tip=BEAD)
    own = source.kind == "fibre" and not source.insisted and not weighing.shows(lamp, source)
    return beaded if own and weighing.shows(lamp, beaded) else source


def right_fibre(weighing: Weighing, lamp: PlacedLamp, source: Source) -> Source:
    """The fibre that the size suggests; where that hardly bends the widest that does, if it is nearly of the lamp's
    size."""
    if (source.fibre_mm or 0.0) <= STIFF_MM or lamp.model_mm is None:
        return source
    near = [row.diameter_mm for row in weighing.drawer.fibres
            if row.diameter_mm <= STIFF_MM and lamp.model_mm / row.core_mm <= SIZE_PLAY]
    if not near:
        return source
    made = fibre.of_width(weighing.plan, weighing.drawer, source, max(near))
    return replace(made, why=f"{made.fibre_mm:g} mm, which bends, in place of {source.fibre_mm:g} mm")


def _better(own: Way, other: Way, most_oversize: float) -> bool:
    """Whether the other way than the size suggests is taken."""
    bad, bad_other = own.badness(most_oversize), other.badness(most_oversize)
    unknown = other.kind == "led" and not other.oversize  # an LED may be far too wide: only for want of light
    if other.oversize > most_oversize * EVEN_LIMIT or (unknown and own.enough >= 1 / EVEN):
        return False
    if bad > EVEN_LIMIT:
        return bad_other <= EVEN_LIMIT or bad_other * FAR_BETTER < bad
    return not unknown and bad_other <= EVEN_LIMIT and other.pieces * CLEARLY < own.pieces


def _suits(lamp: PlacedLamp, source: Source) -> str:
    if source.kind == "fibre" and lamp.model_mm is not None:
        return f"{lamp.model_mm:.2f} mm at scale, nearest fibre {source.fibre_mm:g} mm"
    return source.why


KIND_WORDS = {"led": "LEDs in the holes", "fibre": "fibre", "room": "LEDs in the rooms", "strip": "a strip behind"}
SINGLE_WORDS = {"led": "an LED in the hole", "room": "an LED in the room"}


def kind_words(way: Way) -> str:
    """What it is, in words."""
    return SINGLE_WORDS.get(way.kind, KIND_WORDS[way.kind]) if way.holes == 1 else KIND_WORDS[way.kind]


def _way(weighing: Weighing, row: Sequence[PlacedLamp], source: Source) -> Way:
    return weighing.by_led(row, source) if source.kind == "led" else weighing.by_fibre(row, source)
