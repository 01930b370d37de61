"""Wiring: for each circuit a tree of leads and splices from the bay to its emitters, and one shared return."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

from rushlight.geometry.bundle import NoTube, choose_tube
from rushlight.geometry.circles import first_packing
from rushlight.geometry.lay import splice_sites
from rushlight.geometry.layout import Place, RouteMap
from rushlight.geometry.outline import FloatArray
from rushlight.geometry.region import contains
from rushlight.geometry.routes import NoRoute, Route, distances, shortest_routes
from rushlight.geometry.tree import MOST_ROUNDS, SplicePrices, SpliceTree, search_rounds, splice_tree
from rushlight.model.design_loom import Circuit, Emitter, Lead, LedString, Loom, Sleeve, Splice, Unrouted
from rushlight.model.drawer import Drawer, TubePart, WirePart
from rushlight.model.place import Leg, Point, Spot
from rushlight.model.plan import Crossing, Plan
from rushlight.model.plan_part import Part
from rushlight.stages.bundles import tube_size
from rushlight.stages.layouts import relief_mm
from rushlight.stages.pins import held_number
from rushlight.units import Range

RETURN_COLOUR = "black"
PLUS_COLOURS = ("red", "yellow", "blue", "white", "green", "orange", "violet", "brown", "grey", "pink")
"""One colour for the return, others for the switched lines (habit `colour_code`)."""

GRID_MM, MOST_GRID = 25.0, 240
"""Grid of further places for splices, and how many of them at most (as many as ends, where a net has more)."""

WIRE_HEADROOM = 1.35
"""Wire is chosen for so much more than the aim: a fresh supply and LEDs of low voltage take more (project proposal)."""

BARE_JOINT_MM = 8.0
"""Length of a soldered joint of small leads (common practice, no source)."""

TUBE_OVERLAP_MM = 3.0
"""Tube reaches past each end of the bare joint (parts_heat_shrink_rules.csv)."""


@dataclass(frozen=True, slots=True)
class Wiring:
    """Leads and splices, and what could not be reached."""

    leads: tuple[Lead, ...]
    splices: tuple[Splice, ...]
    unrouted: tuple[Unrouted, ...]


@dataclass(frozen=True, slots=True)
class Net:
    """One net to be wired: all plus ends of a circuit, or all returns."""

    label: str
    circuit: str | None
    emitters: tuple[Emitter, ...]
    colour: str
    current_a: float

    @property
    def name(self) -> str:
        """plus or return."""
        return "return" if self.circuit is None else "plus"


def wire_all(
    plan: Plan, drawer: Drawer, *, route_map: RouteMap, feed: Spot, emitters: tuple[Emitter, ...],
    circuits: tuple[Circuit, ...],
) -> Wiring:
    """The whole loom: plus tree of each circuit and the shared return.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts.
    route_map : RouteMap
        Where leads may run.
    feed : Spot
        Where the trunk enters the bay.
    emitters, circuits
        What is to be fed.
    Returns
    -------
    Wiring
        Emitters that cannot be reached are told, not left out in silence.
    Source
    ------
    Splice tree: see `geometry.tree.splice_tree`; habits `splice_size`, `wire_spare`, `colour_code`.
    """
    reached, lost = _reached(route_map, feed, emitters)
    nets = _nets(reached, circuits)
    made: list[Wiring] = []
    for net, share in zip(nets, rounds_of(nets), strict=True):
        taken = [splice.spot for one in made for splice in one.splices]
        made.append(_wire_net(plan, drawer, route_map, feed, net, taken=taken, rounds=share))
    whole = _gathered(made)
    return replace(whole, unrouted=lost + whole.unrouted)


def wire_strings(
    plan: Plan, drawer: Drawer, loom: Loom, *, route_map: RouteMap, feed: Spot, circuits: tuple[Circuit, ...],
    strings: tuple[LedString, ...], effort: float = 1.0,
) -> Wiring:
    """A loom of LEDs with a lead each wired anew with strings: their circuits and the return, the others stay.

    Parameters
    ----------
    plan, drawer, route_map, feed, circuits
        As the loom was wired with.
    loom : Loom
        Without strings.
    strings : tuple of LedString
        What stands in series.
    effort : float
        Share of the rounds that each tree is searched for.
    Returns
    -------
    Wiring
        The whole loom's; of what could not be reached only what is new.
    """
    ends = {end for lead in loom.leads for end in (lead.start, lead.end)}
    wired = tuple(emitter for emitter in loom.emitters if emitter.name in ends)
    changed = {row.circuit for row in strings}
    nets = _nets(wired, circuits, strings)
    stays = {net.label: _as_it_is(loom, net) for net in nets if net.circuit is not None and net.circuit not in changed}
    made: list[Wiring] = []
    taken = [splice.spot for one in stays.values() for splice in one.splices]
    for net, share in zip(nets, rounds_of(nets), strict=True):
        if net.label not in stays:
            made.append(_wire_net(plan, drawer, route_map, feed, net, taken=taken,
                                  rounds=int(effort * share)))
            taken += [splice.spot for splice in made[-1].splices]
        else:
            made.append(stays[net.label])
    links = [_links(plan, drawer, route_map, net, emitters=wired, strings=strings) for net in nets if net.circuit]
    made += [Wiring(leads, (), missed) for leads, missed in links if leads or missed]
    return _gathered(made)


def _as_it_is(loom: Loom, net: Net) -> Wiring:
    """The plus of one circuit as a loom has it."""
    return Wiring(
        tuple(lead for lead in loom.leads if lead.circuit == net.circuit),
        tuple(splice for splice in loom.splices if splice.circuit == net.circuit), (),
    )


def _gathered(made: list[Wiring]) -> Wiring:
    return Wiring(
        leads=tuple(lead for one in made for lead in one.leads),
        splices=tuple(splice for one in made for splice in one.splices),
        unrouted=tuple(row for one in made for row in one.unrouted),
    )


def place_of(spot: Spot) -> Place:
    """A spot as the routes take it."""
    return Place(spot.part, spot.x_mm, spot.y_mm)


def _reached(
    route_map: RouteMap, feed: Spot, emitters: tuple[Emitter, ...]
) -> tuple[tuple[Emitter, ...], tuple[Unrouted, ...]]:
    """Emitters that a lead can reach from the bay, and the others with the reason."""
    if not emitters:
        return (), ()
    from_feed = distances(route_map, [place_of(feed)], [place_of(emitter.spot) for emitter in emitters])[0]
    reached = tuple(emitter for emitter, far in zip(emitters, from_feed, strict=True) if math.isfinite(far))
    lost = [emitter for emitter, far in zip(emitters, from_feed, strict=True) if not math.isfinite(far)]
    whys = shortest_routes(route_map, [(place_of(feed), place_of(emitter.spot)) for emitter in lost])
    return reached, tuple(
        Unrouted(item=emitter.name, part=why.part, why=why.text)
        for emitter, why in zip(lost, whys, strict=True)
        if isinstance(why, NoRoute)
    )


def _nets(
    emitters: tuple[Emitter, ...], circuits: tuple[Circuit, ...], strings: tuple[LedString, ...] = ()
) -> list[Net]:
    """Plus of every circuit and the return; of a string the first LED hangs on the one, the last on the other."""
    later = {name for row in strings for name in row.emitters[1:]}
    before = {name for row in strings for name in row.emitters[:-1]}
    heads = tuple(emitter for emitter in emitters if emitter.name not in later)
    tails = tuple(emitter for emitter in emitters if emitter.name not in before)
    nets = []
    for number, circuit in enumerate(circuits):
        own = tuple(emitter for emitter in heads if emitter.circuit == circuit.name)
        if own:
            amps = sum(emitter.aim_current_a for emitter in own)
            nets.append(Net(circuit.name, circuit.name, own, PLUS_COLOURS[number % len(PLUS_COLOURS)], amps))
    if emitters:
        most = max(
            sum(emitter.aim_current_a for emitter in tails if state in circuit_states(circuits, emitter.circuit))
            for state in {state for circuit in circuits for state in circuit.states}
        )
        nets.append(Net("R", None, tails, RETURN_COLOUR, most))
    return nets


def rounds_of(nets: list[Net]) -> list[int]:
    """Search rounds of each net: as many as its own tree deserves, all nets together no more than one large tree."""
    asked = [search_rounds(len(net.emitters)) for net in nets]
    share = min(1.0, MOST_ROUNDS / max(1, sum(asked)))
    return [int(share * rounds) for rounds in asked]


def circuit_states(circuits: tuple[Circuit, ...], name: str) -> tuple[str, ...]:
    """States in which a circuit is lit."""
    return next((circuit.states for circuit in circuits if circuit.name == name), ())


def grid_points(outline: tuple[tuple[float, float], ...], pitch_mm: float) -> list[tuple[float, float]]:
    """Points of a square grid over the bounds of an outline, half a pitch in from its lower left corner."""
    xs, ys = zip(*outline, strict=True)
    columns = max(int((max(xs) - min(xs)) / pitch_mm), 1)
    rows = max(int((max(ys) - min(ys)) / pitch_mm), 1)
    step_x, step_y = (max(xs) - min(xs)) / columns, (max(ys) - min(ys)) / rows
    return [
        (min(xs) + (i + 0.5) * step_x, min(ys) + (j + 0.5) * step_y) for j in range(rows) for i in range(columns)
    ]


# --- one net ------------------------------------------------------------------------------------------------------


def _wire_net(
    plan: Plan, drawer: Drawer, route_map: RouteMap, feed: Spot, net: Net, *, taken: list[Spot], rounds: int
) -> Wiring:
    ends = (place_of(feed), *(place_of(emitter.spot) for emitter in net.emitters))
    laid = _laid(_Asked(plan.parts, plan.crossings, drawer, ends, tuple(taken), rounds, route_map))
    tree, routes = laid.tree, laid.routes
    names = _node_names(tree, net, plan)
    flow = _flow(tree, net)
    leads = tuple(
        _lead(plan, drawer, net, tree, number=number, route=route, names=names, current_a=flow[number])
        for number, route in enumerate(routes)
        if isinstance(route, Route)
    )
    lost = tuple(
        Unrouted(item=f"{net.label}{number + 1}", part=route.part, why=route.text)
        for number, route in enumerate(routes)
        if isinstance(route, NoRoute)
    )
    return Wiring(leads, _splices(drawer, net, tree, names=names, leads=leads, sites=laid.sites), lost)


@dataclass(frozen=True, slots=True)
class _Asked:
    """All that the tree of a net hangs on: the ground, the feed and its ends, splices of other nets, the search.

    The map of the ground is made of the parts and crossings alone, so it is not compared.
    """

    parts: tuple[Part, ...]
    crossings: tuple[Crossing, ...]
    drawer: Drawer
    ends: tuple[Place, ...]
    taken: tuple[Spot, ...]
    rounds: int
    route_map: RouteMap = field(compare=False)


@dataclass(frozen=True, slots=True)
class _Laid:
    """The tree of a net, the places that its nodes are chosen from, and the route of each of its edges."""

    tree: SpliceTree
    sites: tuple[Place, ...]
    routes: tuple[Route | NoRoute, ...]


@lru_cache(maxsize=64)
def _laid(asked: _Asked) -> _Laid:
    """Kept, because another supply or another brightness leaves every lamp where it is, and so the trees."""
    drawer, route_map, ends = asked.drawer, asked.route_map, list(asked.ends)
    sites = [*ends, *_free_sites(drawer, route_map, ends, asked.taken)]
    matrix = distances(route_map, sites)
    tree = splice_tree(
        matrix, range(1, len(ends)), 0, prices=_prices(drawer), splice_sites=range(len(ends), len(sites)),
        rounds=asked.rounds,
    )
    tree = _spread(tree, matrix, sites, first=len(ends), apart=_apart_mm(drawer))
    pairs = [(sites[tree.nodes[edge.a].site], sites[tree.nodes[edge.b].site]) for edge in tree.edges]
    return _Laid(tree, tuple(sites), tuple(shortest_routes(route_map, pairs)))


def _apart_mm(drawer: Drawer) -> float:
    """How far splices keep from each other (habit `stagger`, and a little)."""
    return (drawer.habit("stagger").low or 15.0) + 0.5


def _spread(tree: SpliceTree, matrix: FloatArray, sites: list[Place], *, first: int, apart: float) -> SpliceTree:
    """Splices of one net that crowd each other moved to the free site nearest to what they join."""
    neighbours: dict[int, list[int]] = {}
    for edge in tree.edges:
        neighbours.setdefault(edge.a, []).append(edge.b)
        neighbours.setdefault(edge.b, []).append(edge.a)
    nodes = list(tree.nodes)
    free = list(range(first, len(sites)))
    kept: list[Place] = []
    for number, node in enumerate(nodes):
        if node.kind != "splice":
            continue
        if not _clear_of(sites[node.site], kept, apart):
            ends = [nodes[other].site for other in neighbours[number]]
            nodes[number] = replace(node, site=_nearest(free, ends, matrix, otherwise=node.site))
        kept.append(sites[nodes[number].site])
        free = [k for k in free if _clear_of(sites[k], kept[-1:], apart)]
    return replace(tree, nodes=tuple(nodes))


def _nearest(free: list[int], ends: list[int], matrix: FloatArray, *, otherwise: int) -> int:
    """The free site with the least summed way to some ends."""
    return min(free, key=lambda k: (float(sum(matrix[k, end] for end in ends)), k), default=otherwise)


def _clear_of(place: Place, others: list[Place], apart: float) -> bool:
    return all(other.part != place.part or math.dist(other[1:], place[1:]) >= apart for other in others)


def _free_sites(drawer: Drawer, route_map: RouteMap, ends: list[Place], taken: Sequence[Spot]) -> list[Place]:
    """Where splices may lie: beside ends and between them, or on a grid, away from splices of nets made before."""
    apart = _apart_mm(drawer)
    beside = list(splice_sites(route_map, ends))
    on_part: dict[str, list[Point]] = {}
    for spot in taken:
        on_part.setdefault(spot.part, []).append(spot.at_mm)
    clear = [
        place for place in (*beside, *_grid(route_map, ends))
        if all(math.dist(place[1:], at) >= apart for at in on_part.get(place.part, ()))
    ]
    return clear or beside


def _grid(route_map: RouteMap, ends: list[Place]) -> list[Place]:
    """A grid of places in the free space of the parts that this net touches, reached from its feed."""
    parts = {end.part for end in ends}
    sheets = [sheet for sheet in route_map.sheets if sheet.sheet.name in parts]
    area_mm2 = sum(piece.area_mm2 for sheet in sheets for piece in sheet.space.pieces)
    pitch_mm = max(GRID_MM, math.sqrt(area_mm2 / max(MOST_GRID, len(ends))))  # spread over all parts alike
    places: list[Place] = []
    for sheet in sheets:
        points = grid_points(sheet.sheet.outline_mm, pitch_mm)
        free = contains([piece.shape for piece in sheet.space.pieces], points)
        places += [Place(sheet.sheet.name, x, y) for (x, y), inside in zip(points, free, strict=True) if inside]
    far = distances(route_map, [ends[0]], places)[0] if places else []
    return [place for place, away in zip(places, far, strict=True) if math.isfinite(away)]


def _prices(drawer: Drawer) -> SplicePrices:
    """The habit's three leads a splice, plus the feed."""
    return SplicePrices(max_leads=int(drawer.habit("splice_size").high or 3) + 1)


def _node_names(tree: SpliceTree, net: Net, plan: Plan) -> list[str]:
    """Feed, emitters and splices by name."""
    names, splices = [], 0
    for node in tree.nodes:
        if node.kind == "feed":
            names.append(f"bay {net.label}")
        elif node.kind == "lamp":
            names.append(net.emitters[node.lamp].name)
        else:
            splices += 1
            names.append(f"S{net.label}{splices}")
    return names


def _flow(tree: SpliceTree, net: Net) -> list[float]:
    """Aimed current through each edge: all that lies beyond it."""
    children: dict[int, list[int]] = {}
    for number, edge in enumerate(tree.edges):
        children.setdefault(edge.a, []).append(number)
    beyond = [0.0] * len(tree.edges)
    for number in _from_the_tips(tree, children):
        node = tree.nodes[tree.edges[number].b]
        own = net.emitters[node.lamp].aim_current_a if node.kind == "lamp" else 0.0
        beyond[number] = own + sum(beyond[child] for child in children.get(tree.edges[number].b, []))
    return beyond


def _from_the_tips(tree: SpliceTree, children: dict[int, list[int]]) -> list[int]:
    """Edge numbers, every edge after all that lie beyond it."""
    order = list(children.get(0, []))
    for number in order:
        order.extend(children.get(tree.edges[number].b, []))
    return order[::-1]


def wire_for(drawer: Drawer, current_a: float) -> WirePart:
    """The thinnest stranded hook-up wire whose loom limit bears a current; of one gauge the thinnest skin.

    Solid wire is left out: it breaks where a loom is bent more than once.
    """
    hook_up = [wire for wire in drawer.wires if wire.kind == "hook-up" and wire.awg <= 30 and "solid" not in wire.name]
    bearing = [wire for wire in hook_up if wire.loom_limit_a >= current_a]
    return max(bearing or hook_up, key=lambda wire: (wire.awg if bearing else -wire.awg, -wire.outer_mm, wire.name))


def _held_gauge(plan: Plan, drawer: Drawer, net: Net) -> WirePart | None:
    """The gauge that the modeller holds fast for a circuit, or for the return."""
    value = held_number(plan, "gauge_awg", "all", net.circuit or "return")
    gauge = None if value is None else int(value)
    same = [wire for wire in drawer.wires if wire.awg == gauge and "solid" not in wire.name]
    return min(same, key=lambda wire: (wire.kind != "hook-up", wire.outer_mm, wire.name)) if same else None


def _lead(
    plan: Plan, drawer: Drawer, net: Net, tree: SpliceTree, *, number: int, route: Route, names: list[str],
    current_a: float,
) -> Lead:
    edge = tree.edges[number]
    kinds = {tree.nodes[edge.a].kind, tree.nodes[edge.b].kind}
    role = "trunk" if "feed" in kinds else ("lead" if "lamp" in kinds else "branch")
    return _wired(plan, drawer, net, route, ends=(names[edge.a], names[edge.b]), name=f"{net.label}{number + 1}",
                  role=role, current_a=current_a)


def _wired(
    plan: Plan, drawer: Drawer, net: Net, route: Route, *, ends: tuple[str, str], name: str, role: str,
    current_a: float,
) -> Lead:
    """One lead along its route, with wire, slack and cut."""
    wire = _held_gauge(plan, drawer, net) or wire_for(drawer, current_a * WIRE_HEADROOM)
    slack = sum(crossing.slack_mm for crossing in plan.crossings if crossing.name in route.crossings)
    carried = sum(relief_mm(plan.part(leg.part), leg.points_mm) for leg in route.legs)
    length = route.length_mm + carried
    share, extra = drawer.habit("wire_spare").low or 0.1, drawer.habit("wire_spare_mm").low or 30.0
    return Lead(
        name=name, net="link" if role == "link" else net.name, circuit=net.circuit, start=ends[0], end=ends[1],
        wire=wire.name, colour=net.colour, legs=tuple(Leg(leg.part, leg.points_mm) for leg in route.legs),
        crossings=route.crossings, length_mm=length, slack_mm=slack + carried,
        cut_mm=math.ceil((length * (1 + share) + extra) / 5) * 5.0, role=role,
    )


def _links(
    plan: Plan, drawer: Drawer, route_map: RouteMap, net: Net, *, emitters: tuple[Emitter, ...],
    strings: tuple[LedString, ...],
) -> tuple[tuple[Lead, ...], tuple[Unrouted, ...]]:
    """From LED to LED along each string of a circuit; they are numbered on after the leads of its plus."""
    by_name = {emitter.name: emitter for emitter in emitters}
    pairs = [pair for row in strings if row.circuit == net.circuit for pair in pairwise(row.emitters)]
    routes = shortest_routes(route_map, [(place_of(by_name[a].spot), place_of(by_name[b].spot)) for a, b in pairs])
    leads, lost = [], []
    for number, (pair, route) in enumerate(zip(pairs, routes, strict=True), start=1):
        name = f"{net.label}-{number}"
        if isinstance(route, Route):
            leads.append(_wired(plan, drawer, net, route, ends=pair, name=name, role="link",
                                current_a=by_name[pair[0]].aim_current_a))
        else:
            lost.append(Unrouted(item=name, part=route.part, why=route.text))
    return tuple(leads), tuple(lost)


# --- splices ------------------------------------------------------------------------------------------------------


def _splices(
    drawer: Drawer, net: Net, tree: SpliceTree, *, names: list[str], leads: tuple[Lead, ...], sites: Sequence[Place]
) -> tuple[Splice, ...]:
    ending: dict[str, list[Lead]] = {}
    for lead in leads:
        for end in (lead.start, lead.end):
            ending.setdefault(end, []).append(lead)
    made = []
    for name, node in zip(names, tree.nodes, strict=True):
        if node.kind != "splice":
            continue
        own = tuple(ending.get(name, ()))
        made.append(
            Splice(
                name=name, net=net.name, circuit=net.circuit, spot=Spot(*sites[node.site]),
                leads=tuple(lead.name for lead in own), sleeve=_sleeve(drawer, name, own), stagger_mm=math.inf,
            )
        )
    return tuple(made)


def _sleeve(drawer: Drawer, name: str, leads: tuple[Lead, ...]) -> Sleeve:
    """Tube over a joint: it must pass over the side with more leads, and grip the lone lead on the other."""
    widths = sorted((drawer.wire(lead.wire).outer_mm for lead in leads), reverse=True)
    many = first_packing(tuple(widths[1:] or widths)).diameter_mm
    lone = widths[-1]
    tube = _tube_over(drawer.tubes, max(many, widths[0]), lone)
    overlap = max(TUBE_OVERLAP_MM, many)
    return Sleeve(name=f"over {name}", where=name, tube=tube, cut_mm=math.ceil((BARE_JOINT_MM + 2 * overlap) / 0.85),
                  grips_mm=lone)


@lru_cache(maxsize=256)
def _tube_over(tubes: tuple[TubePart, ...], widest_mm: float, grips_mm: float) -> str:
    """Kept, because most joints of a loom are alike."""
    fit = choose_tube([tube_size(tube) for tube in tubes], Range.exactly(widest_mm), grips_mm)
    return "insulating tape" if isinstance(fit, NoTube) else fit.tube.name


def staggered(splices: tuple[Splice, ...]) -> tuple[Splice, ...]:
    """Splices with the distance to the nearest other one on the same part."""
    on_part: dict[str, list[Splice]] = {}
    for splice in splices:
        on_part.setdefault(splice.spot.part, []).append(splice)
    made = []
    for splice in splices:
        near = (
            math.dist(splice.spot.at_mm, other.spot.at_mm)
            for other in on_part[splice.spot.part] if other.name != splice.name
        )
        made.append(replace(splice, stagger_mm=min(near, default=math.inf)))
    return tuple(made)
