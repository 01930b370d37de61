"""Wiring: for each circuit a tree of leads and splices from the bay to its emitters, and one shared return."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from rushlight.geometry.layout import RouteMap
from rushlight.geometry.routes import NoRoute, Route, distances, shortest_routes
from rushlight.geometry.tree import MOST_ROUNDS, SpliceTree, search_rounds
from rushlight.model.design_loom import Circuit, Emitter, Lead, LedString, Loom, Splice, Unrouted
from rushlight.model.drawer import Drawer, WirePart
from rushlight.model.place import Leg, Spot
from rushlight.model.plan import Plan
from rushlight.stages.layouts import relief_mm
from rushlight.stages.net_tree import AskedTree, laid_tree, place_of
from rushlight.stages.pins import held_number
from rushlight.stages.splices import splices_of

RETURN_COLOUR = "black"
PLUS_COLOURS = ("red", "yellow", "blue", "white", "green", "orange", "violet", "brown", "grey", "pink")
"""One colour for the return, others for the switched lines (habit `colour_code`)."""

WIRE_HEADROOM = 1.35
"""Wire is chosen for so much more than the aim: a fresh supply and LEDs of low voltage take more (project proposal)."""


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


# --- one net ------------------------------------------------------------------------------------------------------


def _wire_net(
    plan: Plan, drawer: Drawer, route_map: RouteMap, feed: Spot, net: Net, *, taken: list[Spot], rounds: int
) -> Wiring:
    ends = (place_of(feed), *(place_of(emitter.spot) for emitter in net.emitters))
    laid = laid_tree(AskedTree(plan.parts, plan.crossings, drawer, ends, tuple(taken), rounds, route_map))
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
    splices = splices_of(drawer, (net.name, net.circuit), tree, names=names, leads=leads, sites=laid.sites)
    return Wiring(leads, splices, lost)


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
