"""The simplest real switch that lights each circuit in its states and in no other.

Four families: poles whose throws are tied to circuits (no diodes), one pole or more with steering diodes, one plain
switch for each circuit, and a controller's channels. Circuits that are lit in the same states count as one net.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rushlight.electric.switch_even import even_layout
from rushlight.errors import OutOfRange, UnknownName
from rushlight.tables import rows

ONE_EACH = ("plain", "channels")
"""Families in which each net has a contact of its own that is worked by itself."""

STEP_SEEN = 1.1
"""A lamp whose current steps by less between states is taken to be steady (project proposal)."""

FAMILIES = ("poles", "diodes", "plain", "channels")

BUTTONS = {"button": "push button", "reed": "reed contact"}
"""What may step the states of a controller, in words."""


@dataclass(frozen=True, slots=True)
class Net:
    """Circuits that are lit in the same states, and so share a feed."""

    circuits: tuple[str, ...]
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tie:
    """A throw that is joined to a net's feed; pole and throw count from 1."""

    pole: int
    throw: int
    net: int


@dataclass(frozen=True, slots=True)
class SteeringDiode:
    """A diode from a throw into a net's feed; its stripe is on the net's side."""

    throw: int
    net: int
    pole: int = 1


@dataclass(frozen=True, slots=True)
class SwitchKind:
    """A kind of switch that is on sale."""

    key: str
    name: str
    style: str
    poles: int
    throws: int
    centre_off: bool
    contact_a: float
    source: str


@dataclass(frozen=True, slots=True)
class SolderRow:
    """What is soldered to one terminal."""

    terminal: str
    goes_to: str


@dataclass(frozen=True, slots=True)
class SwitchPlan:
    """One way to realise the states.

    positions: the state of throw 1, 2, ...; nets: feeds in order; always: the net that is lit in every
    state and goes behind the master switch alone (or no net); kind None: no such switch is on sale.
    """

    family: str
    poles: int
    throws: int
    positions: tuple[str, ...]
    nets: tuple[Net, ...]
    ties: tuple[Tie, ...]
    diodes: tuple[SteeringDiode, ...]
    always: tuple[str, ...]
    never: tuple[str, ...]
    master: bool
    kind: SwitchKind | None

    @property
    def joints(self) -> int:
        """Soldered joints at the switch: the measure of what is simplest."""
        return self.poles + len(self.ties) + 2 * len(self.diodes) + (2 if self.master else 0)


def switch_kinds() -> tuple[SwitchKind, ...]:
    """Every tabled kind of switch, simplest first."""
    return tuple(
        SwitchKind(
            row["key"], row["name"], row["style"], int(row["poles"]), int(row["throws"]),
            row["centre_off"] == "yes", float(row["contact_a"]), row["source"],
        )
        for row in rows("switch_kinds")
    )


def switch_plans(
    states: Sequence[str], circuits: Mapping[str, Collection[str]], *, kinds: Sequence[SwitchKind] | None = None,
    steps: Mapping[str, float] | None = None,
) -> tuple[SwitchPlan, ...]:
    """Every family's way to realise some states, the simplest real one first.

    Parameters
    ----------
    states : sequence of str
        States, in the order of the switch's positions; 1 to 12. Off need not be listed.
    circuits : mapping
        For each circuit the states that light it.
    kinds : sequence of SwitchKind, optional
        Switches at hand; the table when left out.
    steps : mapping, optional
        How many times brighter each circuit is without a steering diode in its feed than with one. Given, plans are
        sought too in which each net has a diode in all of its states or in none, on as many poles as a switch has.
    Returns
    -------
    tuple of SwitchPlan
        Poles without diodes, one pole with steering diodes where that differs, a plain switch for each
        net; those that a switch at hand can do come first, then those in which no lamp's light steps by more than
        STEP_SEEN between states, then those without diodes, then by joints.
    Raises
    ------
    OutOfRange
        If there are no states, more than 12, or more than 24 different nets.
    UnknownName
        If a circuit names a state that is not listed.
    Notes
    -----
    Nets may share a pole where no state lights both: least poles = least colouring of the "share a
    state" graph. With diodes, a throw is tied straight to net X only where every net that the throw
    feeds is lit in all of X's states. Least within these families; switching both sides is not tried.
    Source
    ------
    The project's own study; each plan is proved by `proof` on the network's solve.
    """
    if not 1 <= len(states) <= 12 or len(set(states)) != len(states):
        raise OutOfRange("states", len(states), "1 to 12 different states")
    nets, always, never = _nets(states, circuits)
    if len(nets) > 24:
        raise OutOfRange("nets", len(nets), "24 or fewer different sets of states")
    at_hand = tuple(kinds) if kinds is not None else switch_kinds()
    found = [_by_poles(states, nets), _by_diodes(states, nets), _plain(nets)]
    plans = [_finished(plan, always, never, at_hand) for plan in found]
    if not plans[1].diodes:
        plans.pop(1)
    elif steps is not None:
        plans += [_finished(plan, always, never, at_hand) for plan in _evened(states, nets, at_hand)]
    return tuple(sorted(plans, key=lambda plan: _simplicity(plan, steps or {})))


def channel_plan(states: Sequence[str], circuits: Mapping[str, Collection[str]], *, master: bool) -> SwitchPlan:
    """The states by a controller's channels, one for each circuit, whatever states it is lit in.

    Parameters
    ----------
    states : sequence of str
        In the order in which the button steps them.
    circuits : mapping
        For each circuit the states that light it.
    master : bool
        True if a master switch stands before it all.
    Returns
    -------
    SwitchPlan
        Family 'channels': each circuit a net of its own behind a contact of its own, which is its driver.
    Raises
    ------
    UnknownName
        If a circuit names a state that is not listed.
    Source
    ------
    A transistor in each feed needs neither poles nor steering diodes.
    """
    for name, lit in circuits.items():
        for state in lit:
            if state not in states:
                raise UnknownName(f"state of circuit '{name}'", state, states)
    nets = tuple(Net((name,), tuple(state for state in states if state in lit)) for name, lit in circuits.items())
    ties = tuple(Tie(at + 1, 1, at) for at in range(len(nets)))
    return SwitchPlan("channels", len(nets), 1, ("on",), nets, ties, (), (), (), master, None)


def _simplicity(plan: SwitchPlan, steps: Mapping[str, float]) -> tuple[bool, bool, bool, bool, int]:
    return (plan.kind is None, plan.family == "plain" and len(plan.nets) > 1, step_of(plan, steps) > STEP_SEEN,
            bool(plan.diodes), plan.joints)


def mixed_nets(plan: SwitchPlan) -> tuple[Net, ...]:
    """Nets that are fed straight in some of their states and through a diode in others: their lamps step."""
    straight, steered = {tie.net for tie in plan.ties}, {diode.net for diode in plan.diodes}
    return tuple(plan.nets[at] for at in sorted(straight & steered))


def step_of(plan: SwitchPlan, steps: Mapping[str, float]) -> float:
    """The most that a lamp's current steps between states, as a ratio; 1 where every net is fed alike throughout."""
    return max((steps.get(name, 1.0) for net in mixed_nets(plan) for name in net.circuits), default=1.0)


def _evened(states: Sequence[str], nets: tuple[Net, ...], kinds: Sequence[SwitchKind]) -> Iterator[_Draft]:
    """Layouts without such nets, for each number of poles that a switch at hand has."""
    lit = tuple(frozenset(states.index(state) + 1 for state in net.states) for net in nets)
    for poles in sorted({kind.poles for kind in kinds if kind.throws >= len(states)}):
        layout = even_layout(lit, poles)
        if layout is not None and layout.diodes:
            ties = tuple(Tie(*tie) for tie in layout.ties)
            diodes = tuple(SteeringDiode(throw, net, pole) for pole, throw, net in layout.diodes)
            used = max(pole for pole, _, _ in (*layout.ties, *layout.diodes))
            yield "diodes", used, tuple(states), nets, ties, diodes


def _nets(
    states: Sequence[str], circuits: Mapping[str, Collection[str]]
) -> tuple[tuple[Net, ...], tuple[str, ...], tuple[str, ...]]:
    """Switched nets, circuits lit in every state, circuits lit in none."""
    by_set: dict[tuple[str, ...], list[str]] = {}
    for name, lit in circuits.items():
        for state in lit:
            if state not in states:
                raise UnknownName(f"state of circuit '{name}'", state, states)
        by_set.setdefault(tuple(state for state in states if state in lit), []).append(name)
    never = tuple(by_set.pop((), ()))
    always = tuple(by_set.pop(tuple(states), ()))
    return tuple(Net(tuple(names), lit) for lit, names in by_set.items()), always, never


_Draft = tuple[str, int, tuple[str, ...], tuple[Net, ...], tuple[Tie, ...], tuple[SteeringDiode, ...]]


def _by_poles(states: Sequence[str], nets: tuple[Net, ...]) -> _Draft:
    clash = [{k for k, other in enumerate(nets) if k != at and set(other.states) & set(net.states)}
             for at, net in enumerate(nets)]
    colours = least_colouring(clash)
    ties = tuple(
        Tie(colours[at] + 1, list(states).index(state) + 1, at) for at, net in enumerate(nets) for state in net.states
    )
    return "poles", max(colours, default=-1) + 1, tuple(states), nets, tuple(sorted(ties, key=_by_terminal)), ()


def _by_terminal(tie: Tie) -> tuple[int, int, int]:
    return tie.pole, tie.throw, tie.net


def least_colouring(clash: Sequence[Collection[int]]) -> tuple[int, ...]:
    """Colours 0, 1, ... of a graph's vertices, neighbours apart, as few colours as possible.

    Parameters
    ----------
    clash : sequence of collections of int
        Neighbours of each vertex.
    Returns
    -------
    tuple of int
        One colour for each vertex.
    Notes
    -----
    Exact: tries 1, 2, ... colours by backtracking, vertices of most neighbours first.
    Source
    ------
    Any text on graph colouring.
    """
    order = sorted(range(len(clash)), key=lambda v: (-len(clash[v]), v))
    for count in range(1, len(clash) + 1):
        found = _coloured(order, clash, count)
        if found:
            return tuple(found[v] for v in range(len(clash)))
    return ()


def _coloured(order: Sequence[int], clash: Sequence[Collection[int]], count: int) -> dict[int, int]:
    """A colouring with `count` colours; empty when there is none."""
    chosen: dict[int, int] = {}

    def place(at: int) -> bool:
        if at == len(order):
            return True
        vertex = order[at]
        taken = {chosen[other] for other in clash[vertex] if other in chosen}
        # A colour not yet used is as good as any other such: try only the first of them.
        for colour in range(min(count, max(chosen.values(), default=-1) + 2)):
            if colour not in taken:
                chosen[vertex] = colour
                if place(at + 1):
                    return True
                del chosen[vertex]
        return False

    return chosen if place(0) else {}


def _by_diodes(states: Sequence[str], nets: tuple[Net, ...]) -> _Draft:
    ties, diodes = [], []
    node_of: dict[str, int] = {}
    for throw, state in enumerate(states, 1):
        fed = [at for at, net in enumerate(nets) if state in net.states]
        inner = [at for at in fed if all(set(nets[at].states) <= set(nets[other].states) for other in fed)]
        if inner:
            ties.append(Tie(1, throw, inner[0]))
            node_of[state] = inner[0]
    for at, net in enumerate(nets):
        feeders: set[object] = {at}
        for throw, state in enumerate(states, 1):
            node: object = node_of.get(state, state)
            if state in net.states and node not in feeders:
                feeders.add(node)
                diodes.append(SteeringDiode(throw, at))
    return "diodes", 1 if nets else 0, tuple(states), nets, tuple(ties), tuple(diodes)


def _plain(nets: tuple[Net, ...]) -> _Draft:
    ties = tuple(Tie(at + 1, 1, at) for at in range(len(nets)))
    return "plain", len(nets), ("on",), nets, ties, ()


def _finished(
    draft: _Draft, always: tuple[str, ...], never: tuple[str, ...], kinds: Sequence[SwitchKind]
) -> SwitchPlan:
    family, poles, positions, nets, ties, diodes = draft
    plain = family == "plain"
    kind = _kind_for(1 if plain else poles, len(positions), kinds, bool(always))
    goes_dark = plain or (poles > 0 and kind is not None and (kind.centre_off or kind.throws > len(positions)))
    master = bool(always) or not goes_dark
    return SwitchPlan(
        family, poles, len(positions), positions, nets, ties, diodes, always, never, master, kind
    )


def _kind_for(poles: int, throws: int, kinds: Sequence[SwitchKind], has_master: bool) -> SwitchKind | None:
    """The first kind that fits; one that also goes dark is preferred when there is no master switch."""
    fit = [kind for kind in kinds if kind.poles >= max(poles, 1) and kind.throws >= throws]
    if not fit:
        return None
    least = min(kind.poles * kind.throws for kind in fit)
    dark = [k for k in fit if (k.centre_off or k.throws > throws) and k.poles * k.throws <= least + k.poles]
    return dark[0] if dark and not has_master else next(k for k in fit if k.poles * k.throws == least)


def terminal(plan: SwitchPlan, pole: int, throw: int) -> str:
    """Name of a terminal; throw 0 is the common.

    Parameters
    ----------
    plan : SwitchPlan
        The plan.
    pole, throw : int
        From 1; throw 0 for the pole's common.
    Returns
    -------
    str
        Toggle: three in a row for each pole, the middle one is the common (1-2-3, 4-5-6). Rotary: commons
        A, B, C, D inside, throws numbered round the outside. Slide: C and the throw for each pole. Reed: C at
        the end of one lead, 1 and 2 at the other. A controller's
        channel: plus in 1 and feed 3 of its driver.
    Raises
    ------
    OutOfRange
        If the plan has no such terminal.
    Source
    ------
    Common practice; the book asks for a check with the meter before soldering.
    """
    if not (1 <= pole <= plan.poles and 0 <= throw <= plan.throws):
        raise OutOfRange("terminal", (pole, throw), f"pole 1 to {plan.poles}, throw 0 to {plan.throws}")
    style = plan.kind.style if plan.kind else "rotary"
    if plan.family == "plain":
        return f"switch {pole}: {throw + 1}"
    if plan.family == "channels":
        return f"driver of {plan.nets[pole - 1].circuits[0]}: {3 if throw else 1}"
    if style == "toggle":
        return str(3 * pole - 1) if throw == 0 else str(3 * pole - 2 if throw == 1 else 3 * pole)
    if style == "reed":
        return "C" if throw == 0 else str(throw)
    if style == "slide":
        return f"{'abcd'[pole - 1]}C" if throw == 0 else f"{'abcd'[pole - 1]}{throw}"
    ways = plan.kind.throws if plan.kind else plan.throws
    return "ABCDEFGHIJKLMNOPQRSTUVWX"[pole - 1] if throw == 0 else str((pole - 1) * ways + throw)


def solder_table(plan: SwitchPlan) -> tuple[SolderRow, ...]:
    """What to solder to each terminal of a switch.

    Parameters
    ----------
    plan : SwitchPlan
        The plan.
    Returns
    -------
    tuple of SolderRow
        The master switch first, then each pole's common and throws in order, then diodes.
    Source
    ------
    The plan's ties and diodes.
    """
    plus = "master switch, terminal 2" if plan.master else "supply plus"
    out = []
    if plan.master:
        out.append(SolderRow("master switch: 1", "supply plus"))
        feeds = [*plan.always, *(["commons of the switch"] if plan.poles else [])]
        out.append(SolderRow("master switch: 2", ", ".join(feeds)))
    for pole in range(1, plan.poles + 1):
        out.append(SolderRow(terminal(plan, pole, 0), plus))
        out += list(_throw_rows(plan, pole))
    return tuple(out)


def button_table(plan: SwitchPlan, *, pin: int) -> tuple[SolderRow, ...]:
    """What to solder to the master switch and to the button or reed that steps a controller's states.

    Parameters
    ----------
    plan : SwitchPlan
        Of the family 'channels'.
    pin : int
        The board's pin for the button.
    Returns
    -------
    tuple of SolderRow
        The board pulls its pin up by itself, so that the button only joins it to the return.
    Source
    ------
    MicroPython documentation: machine.Pin, PULL_UP.
    """
    feeds = ", ".join(name for net in plan.nets for name in net.circuits)
    master = (SolderRow("master switch: 1", "supply plus"), SolderRow("master switch: 2", feeds)) if plan.master else ()
    return (*master, SolderRow("button: 1", f"board: pin {pin}"), SolderRow("button: 2", "return"))


def _throw_rows(plan: SwitchPlan, pole: int) -> Iterator[SolderRow]:
    for throw in range(1, plan.throws + 1):
        tied = [t.net for t in plan.ties if (t.pole, t.throw) == (pole, throw)]
        fed = [f"feed of {', '.join(plan.nets[net].circuits)}" for net in tied]
        fed += [
            f"diode to the feed of {', '.join(plan.nets[d.net].circuits)}, stripe to the feed"
            for d in plan.diodes if (d.pole, d.throw) == (pole, throw)
        ]
        yield SolderRow(terminal(plan, pole, throw), "; ".join(fed) or "nothing")
