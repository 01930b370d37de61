"""The switch: the simplest real one that brings up the states, in the network and as a table to solder by."""

from __future__ import annotations

from dataclasses import dataclass, replace

from rushlight.electric.elements import Element, string, switch, wire
from rushlight.electric.led import law_spread, voltage_at_current
from rushlight.electric.switch import (
    BUTTONS,
    ONE_EACH,
    SwitchKind,
    button_table,
    channel_plan,
    mixed_nets,
    solder_table,
    switch_plans,
)
from rushlight.electric.switch import SwitchPlan as Wanted
from rushlight.electric.switch_nearest import AtHand, fewest_lamps_out, fewest_states_out, plan_at_hand
from rushlight.electric.switch_proof import proof
from rushlight.electric.switch_stuck import shown, stuck_contacts
from rushlight.model.design_loom import Circuit, Emitter, Loom
from rushlight.model.design_power import ChannelsOffer, SolderPoint, StuckContact, SwitchPlan, SwitchShort
from rushlight.model.drawer import Drawer, SwitchPart
from rushlight.model.plan import Plan
from rushlight.model.plan_bench import Controller
from rushlight.stages.at_hand import pieces
from rushlight.stages.network import emitter_law
from rushlight.stages.regulators import regulators_held
from rushlight.stages.supplies import supply_ages

MOST_STATES, MOST_NETS = 12, 24
"""Beyond these a hand-wired switch is not sought."""

CONTACT_HEADROOM = 1.25
"""Contacts are chosen for so much more than the aimed current (common practice, no source)."""

DIALS = ("toggle", "slide", "rotary")
"""Kinds of switch that bring up a state in each position."""

ON_OFF = ("toggle", "slide", "rocker", "push", "reed")
"""Kinds that can feed one set of lamps each; one of two throws does it with one of them. A reed only when at hand."""

DIODE_V = 0.65
"""What a silicon diode takes at some 10 mA (the usual 1N4148 law); the solve has the law itself."""

MOST_STEP = 10.0
"""A lamp to which a steering diode leaves next to nothing."""

MOST_TAKEN = 1.5
"""A diode that leaves less than one over this of a lamp's current is worth another way (habit equal: hardly seen)."""

TIE_OHM = 0.01
"""A short link with two joints (from memory: a few milliohm)."""


@dataclass(frozen=True, slots=True)
class Switching:
    """The switch as it is wired into the network.

    `elements` lead from the node `bus` to each circuit's terminal; `closed` names the contacts of each state.
    """

    wanted: Wanted | None
    elements: tuple[Element, ...]
    closed: dict[str, tuple[str, ...]]


def terminal_of(circuit: str) -> str:
    """The node from which a circuit's trunk leaves the bay."""
    return f"node bay {circuit}"


def board_of(plan: Plan) -> Controller:
    """The controller as the plan says, or a usual one."""
    return plan.controller or Controller()


def stepped_by(plan: Plan) -> str:
    """'button' or 'reed' where the controller brings up the states; empty where a switch does."""
    word = board_of(plan).states_by
    return word if word in BUTTONS else ""


def switching(plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], *, loom: Loom) -> Switching:
    """The simplest switch at hand for these circuits, else of the drawer; one contact a circuit where there is none.

    Where the plan has a controller step the states, each wired circuit has its own channel.
    """
    states = tuple(state.name for state in plan.states)
    if stepped_by(plan):
        return _channels(plan, circuits, states, loom)
    wanted = _wanted(plan, drawer, circuits, states, loom=loom)
    if wanted is None:
        return _one_contact_each(circuits, states)
    return Switching(wanted, _elements(wanted), _closed(wanted, states))


def _channels(plan: Plan, circuits: tuple[Circuit, ...], states: tuple[str, ...], loom: Loom) -> Switching:
    wired = wired_circuits(circuits, loom)
    wanted = channel_plan(states, _lit(wired), master=plan.supply is not None and plan.supply.master)
    each = _one_contact_each(wired, states, word="channel")
    return replace(each, wanted=wanted)


def wired_circuits(circuits: tuple[Circuit, ...], loom: Loom) -> tuple[Circuit, ...]:
    """Circuits that have an emitter, in order."""
    named = {emitter.circuit for emitter in loom.emitters}
    return tuple(circuit for circuit in circuits if circuit.name in named)


def aimed_most_a(plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], loom: Loom) -> float:
    """Aimed current of the heaviest state: what the fuse, and one contact, may have to pass.

    Regulators count with the most that their spread lets through, whatever is aimed at.
    """
    amps = {circuit.name: 0.0 for circuit in circuits}
    held = {name: own.current_a.high for name, own in regulators_held(plan, drawer, loom).items()}
    for emitter in loom.emitters:
        amps[emitter.circuit] += 0.0 if loom.beyond(emitter.name) else held.get(emitter.name, emitter.aim_current_a)
    return max(sum(amps[c.name] for c in circuits if state.name in c.states) for state in plan.states)


def _wanted(
    plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], states: tuple[str, ...], *, loom: Loom
) -> Wanted | None:
    lit = _lit(circuits)
    if not _sought(lit, states):
        return None
    most_a = aimed_most_a(plan, drawer, circuits, loom)
    steps = diode_steps(plan, drawer, circuits, loom)
    at_hand = _at_hand(plan, drawer, most_a)
    own = plan_at_hand(states, lit, at_hand=at_hand, steps=steps) if at_hand else None
    if own is not None:
        return own
    bearing = switch_plans(states, lit, kinds=_kinds(drawer, most_a * CONTACT_HEADROOM), steps=steps)[0]
    if bearing.kind is not None:
        return bearing
    return switch_plans(states, lit, kinds=_kinds(drawer, 0.0), steps=steps)[0]


def diode_steps(plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], loom: Loom) -> dict[str, float]:
    """How many times brighter each circuit would be without a steering diode in its feed than with one.

    What the LEDs leave of the supply's nominal voltage stands across their resistors, and a diode takes some of that;
    the circuit's worst emitter counts. Regulators hold their current.
    """
    ages = supply_ages(plan, drawer)
    volts = ages[1].emf_v if ages else 0.0
    found = {circuit.name: 1.0 for circuit in circuits}
    held = regulators_held(plan, drawer, loom)
    for emitter in loom.emitters:
        if emitter.circuit in found and emitter.name not in held and not loom.beyond(emitter.name):
            step = _step(volts - _drop_v(drawer, loom, emitter))
            found[emitter.circuit] = max(found[emitter.circuit], step)
    return found


def _step(left_v: float) -> float:
    """Current without over current with a diode, of an emitter to which the LEDs leave so much."""
    return left_v / (left_v - DIODE_V) if left_v > 1.1 * DIODE_V else MOST_STEP


def _drop_v(drawer: Drawer, loom: Loom, emitter: Emitter) -> float:
    """Voltage over the diodes of an emitter, and over those that its current goes on through, at its aim."""
    string = loom.string_of(emitter.name)
    members = (emitter,) if string is None else tuple(loom.emitter(name) for name in string.emitters)
    law = emitter_law(drawer, emitter)
    amps = max(emitter.aim_current_a / law.branches, 1e-6)
    return sum(float(voltage_at_current(one, amps)) for member in members for one in emitter_law(drawer, member).laws)


def _lit(circuits: tuple[Circuit, ...]) -> dict[str, tuple[str, ...]]:
    return {circuit.name: circuit.states for circuit in circuits}


def _sought(lit: dict[str, tuple[str, ...]], states: tuple[str, ...]) -> bool:
    """Whether there are few enough states and sets of lamps to look for a switch."""
    return bool(lit) and len(states) <= MOST_STATES and len({tuple(sorted(own)) for own in lit.values()}) <= MOST_NETS


def _kinds(drawer: Drawer, least_a: float) -> list[SwitchKind]:
    """Switches whose contacts bear a current, simplest first."""
    bearing = [part for part in drawer.switches if part.contact_a >= least_a]
    return [_kind(part) for part in sorted(bearing, key=_plainness) if _is_dial(part)]


def _plainness(part: SwitchPart) -> tuple[bool, int, float, str]:
    """Plainest first; a reed, which takes a magnet to work it, after every switch that a finger works."""
    return part.kind == "reed", part.poles * part.throws, part.price_eur, part.name


def _kind(part: SwitchPart) -> SwitchKind:
    style = part.kind if part.kind in ("toggle", "slide", "reed") else "rotary"
    return SwitchKind(part.name, part.name, style, part.poles, part.throws, part.off, part.contact_a, part.source)


def _at_hand(plan: Plan, drawer: Drawer, most_a: float) -> AtHand | None:
    """The pieces at hand that bear the current, simplest first; None where the plan names none.

    A button that is closed only while it is pressed steps a controller; it holds no state by itself.
    """
    buttons = {part.name for part in drawer.switches if part.kind == "button"}
    own = {name: count for name, count in pieces(plan, "switches").items() if name not in buttons}
    if not own:
        return None
    bearing = [part for part in sorted(drawer.switches, key=_plainness)
               if part.name in own and part.contact_a >= most_a * CONTACT_HEADROOM]
    return AtHand(
        tuple(_kind(part) for part in bearing if _is_dial(part)),
        tuple(_kind(part) for part in bearing if _is_on_off(part) for _ in range(own[part.name])),
    )


def _is_dial(part: SwitchPart) -> bool:
    """Whether each of its positions can bring up a state: a reed does it where it changes over and stays so."""
    return part.kind in DIALS or (part.kind == "reed" and part.throws == 2 and "latching" in part.name)


def _is_on_off(part: SwitchPart) -> bool:
    return part.kind in ON_OFF and part.poles == 1 and part.throws <= 2


def _one_contact_each(
    circuits: tuple[Circuit, ...], states: tuple[str, ...], *, word: str = "contact"
) -> Switching:
    elements = tuple(switch(f"{word} {circuit.name}", "bus", terminal_of(circuit.name)) for circuit in circuits)
    closed = {
        state: tuple(f"{word} {circuit.name}" for circuit in circuits if state in circuit.states) for state in states
    }
    return Switching(None, elements, closed)


def _elements(wanted: Wanted) -> tuple[Element, ...]:
    """Contacts, links and steering diodes from the bus to every circuit's terminal."""
    diode = law_spread("silicon_diode").typical
    made = [
        switch(f"contact {pole}.{throw}", "bus", f"throw {pole}.{throw}")
        for pole in range(1, wanted.poles + 1)
        for throw in range(1, wanted.throws + 1)
        if any(tie.pole == pole and tie.throw == throw for tie in wanted.ties)
        or any(d.pole == pole and d.throw == throw for d in wanted.diodes)
    ]
    feeds = ["+".join(net.circuits) for net in wanted.nets]
    made += [
        wire(f"tie {tie.pole}.{tie.throw}.{feeds[tie.net]}", f"throw {tie.pole}.{tie.throw}", f"net {tie.net}",
             ohm=TIE_OHM)
        for tie in wanted.ties
    ]
    made += [
        string(f"diode {d.throw}.{feeds[d.net]}", f"throw {d.pole}.{d.throw}", f"net {d.net}", laws=[diode])
        for d in wanted.diodes
    ]
    made += [
        wire(f"feed {name}", f"net {number}", terminal_of(name), ohm=TIE_OHM)
        for number, net in enumerate(wanted.nets)
        for name in net.circuits
    ]
    made += [wire(f"feed {name}", "bus", terminal_of(name), ohm=TIE_OHM) for name in wanted.always]
    return tuple(made)


def _closed(wanted: Wanted, states: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    used = {(tie.pole, tie.throw) for tie in wanted.ties} | {(d.pole, d.throw) for d in wanted.diodes}
    if wanted.family == "plain":
        return {
            state: tuple(f"contact {k + 1}.1" for k, net in enumerate(wanted.nets) if state in net.states)
            for state in states
        }
    return {
        state: tuple(f"contact {pole}.{throw}" for pole, throw in sorted(used) if throw == number)
        for number, state in enumerate(wanted.positions, 1)
    }


def described(
    plan: Plan, drawer: Drawer, found: Switching, *, circuits: tuple[Circuit, ...], loom: Loom
) -> SwitchPlan:
    """The switch as the book tells it, proved by a solve of every position.

    Without `supply.master` there is no master switch: dark is made by taking the supply out.
    """
    states = tuple(state.name for state in plan.states)
    if found.wanted is None:
        return SwitchPlan(
            name="one switch for each circuit", part_row=None, poles=0, throws=0, positions=states, solder=(),
            parts=(), diodes=0, proved=False,
            why=f"more than {MOST_STATES} states or {MOST_NETS} different sets of lamps",
        )
    if found.wanted.family == "channels":
        return _stepped(plan, drawer, found.wanted, states)
    wanted = found.wanted if plan.supply and plan.supply.master else replace(found.wanted, master=False)
    wrong = proof(wanted).wrong
    solder = tuple(SolderPoint(terminal=row.terminal, to=row.goes_to, through="") for row in solder_table(wanted))
    kind = wanted.kind if wanted.nets else None
    short = _short(plan, drawer, circuits, most_a=aimed_most_a(plan, drawer, circuits, loom))
    return SwitchPlan(
        name=_name(wanted), part_row=kind.key if kind else None, poles=wanted.poles, throws=wanted.throws,
        positions=_positions(wanted, states), solder=solder, parts=_parts(plan, drawer, wanted),
        diodes=len(wanted.diodes), proved=not wrong, why="; ".join(wrong) or _why(wanted),
        mixed=tuple(name for net in mixed_nets(wanted) for name in net.circuits), short=short,
        stuck=_stuck(wanted),
        offer=_offer(plan, circuits, loom, wanted, short, steps=diode_steps(plan, drawer, circuits, loom)),
    )


def _stepped(plan: Plan, drawer: Drawer, wanted: Wanted, states: tuple[str, ...]) -> SwitchPlan:
    """A controller's channels: a press of the button, or a pass of the magnet, is a step to the next state."""
    kind, wrong = stepped_by(plan), proof(wanted).wrong
    rows = button_table(wanted, pin=board_of(plan).button_pin)
    button = _button(plan, drawer, kind)
    own = (button.name,) if button else ()
    master = " and a master on-off switch" if wanted.master else ""
    return SwitchPlan(
        name=f"the controller's channels, stepped by a {BUTTONS[kind]}{master}",
        part_row=button.name if button else None, poles=0, throws=0,
        positions=states if wanted.master else (*states, "off"),
        solder=tuple(SolderPoint(terminal=row.terminal, to=row.goes_to, through="") for row in rows),
        parts=own + _on_off_parts(plan, drawer, int(wanted.master), taken=own), diodes=0, proved=not wrong,
        why="; ".join(wrong) or "as the plan says: each circuit has a driver of its own, so neither poles nor diodes "
        "are needed", stuck=_stuck(wanted), stepped_by=kind,
    )


def _button(plan: Plan, drawer: Drawer, kind: str) -> SwitchPart | None:
    """The button, or the reed that closes while a magnet is near: one at hand, else the cheapest."""
    own = pieces(plan, "switches")
    fit = [part for part in drawer.switches if part.kind == kind and part.poles == part.throws == 1
           and "latching" not in part.name]
    return min(fit, key=lambda part: (part.name not in own, part.price_eur, part.name), default=None)


def _starved(wanted: Wanted, steps: dict[str, float]) -> tuple[str, ...]:
    """Circuits that a steering diode takes more than a third of their current from: they fade soon, too."""
    behind = {diode.net for diode in wanted.diodes}
    names = (name for at, net in enumerate(wanted.nets) if at in behind for name in net.circuits)
    return tuple(name for name in names if steps[name] > MOST_TAKEN)


def _offer(
    plan: Plan, circuits: tuple[Circuit, ...], loom: Loom, wanted: Wanted, short: SwitchShort | None, *,
    steps: dict[str, float],
) -> ChannelsOffer | None:
    """Whether the controller that the plan has anyway could step the states where no plain switch does it well."""
    by_board = {maker.rhythm for maker in plan.rhythms if maker.by == "controller"}
    wired = wired_circuits(circuits, loom)
    driven = sum(circuit.rhythm in by_board for circuit in wired)
    if not wanted.nets or (plan.controller is None and not driven):
        return None
    if short is not None:
        why = f"what is at hand does not bring up the states ({short.why})"
    elif wanted.kind is None:
        why = "no switch of the drawer brings up the states"
    elif starved := _starved(wanted, steps):
        why = (f"the switch takes {len(wanted.diodes)} steering diodes, and each takes some 0.7 V of the little "
               f"that is left for the resistors of circuit{'' if len(starved) == 1 else 's'} {', '.join(starved)}")
    else:
        return None
    return ChannelsOffer(why=why, channels=len(wired), more=len(wired) - driven, pins=len(board_of(plan).pins))


def _stuck(wanted: Wanted) -> tuple[StuckContact, ...]:
    """Every contact in use stuck, solved; nothing for a switch that no drawer holds."""
    if wanted.kind is None and wanted.family not in ONE_EACH:
        return ()
    return tuple(
        StuckContact(terminal=row.terminal, pole=row.pole, welded=row.welded, shows=shown(row),
                     lit=tuple((position, lit) for position, _, lit in row.lit),
                     wrong=(*(f"in '{position}' circuit {name} glows by a sneak path" for position, name in row.sneaks),
                            *(f"in '{position}' the supply is shorted" for position in row.shorts)))
        for row in stuck_contacts(wanted)
    )


def _positions(wanted: Wanted, states: tuple[str, ...]) -> tuple[str, ...]:
    """States by position, and off where the master or the switch itself can make it dark."""
    if wanted.family == "plain":
        return states
    goes_dark = wanted.kind is not None and (wanted.kind.centre_off or wanted.kind.throws > len(wanted.positions))
    return (*wanted.positions, "off") if wanted.master or (wanted.nets and goes_dark) else wanted.positions


def _parts(plan: Plan, drawer: Drawer, wanted: Wanted) -> tuple[str, ...]:
    """What it takes: the switch, or one on-off switch for each net, and the master; what is at hand first."""
    count = len(wanted.nets) if wanted.family == "plain" else 0
    own = (wanted.kind.key,) if wanted.kind and wanted.nets and not count else ()
    return own + _on_off_parts(plan, drawer, count + wanted.master, taken=own)


def _on_off_parts(plan: Plan, drawer: Drawer, count: int, *, taken: tuple[str, ...]) -> tuple[str, ...]:
    sold = [part for part in drawer.switches if part.poles == part.throws == 1 and part.kind in ("slide", "toggle")]
    plain = min(sold, key=lambda part: (part.price_eur, part.name)).name if sold else None
    own = pieces(plan, "switches")
    left = [part.name for part in sorted(drawer.switches, key=_plainness) if part.name in own and _is_on_off(part)
            for _ in range(own[part.name] - taken.count(part.name))]
    return tuple(name for name in [*left[:count], *[plain] * (count - len(left))] if name is not None)


def _name(wanted: Wanted) -> str:
    if not wanted.nets:
        return "a master on-off switch" if wanted.master else "no switch: the lamps burn while the supply is in"
    master = " and a master on-off switch" if wanted.master else ""
    if wanted.family == "plain":
        return f"{len(wanted.nets)} on-off switch{'' if len(wanted.nets) == 1 else 'es'}{master}"
    return f"{wanted.kind.name if wanted.kind else 'no switch of the drawer'}{master}"


def _why(wanted: Wanted) -> str:
    if not wanted.nets:
        return "every circuit is lit in every state"
    if wanted.kind is None:
        return f"it needs {wanted.poles} poles and {wanted.throws} throws; no switch of the drawer has them"
    if wanted.diodes:
        return _why_diodes(wanted)
    return "least poles without diodes"


def _why_diodes(wanted: Wanted) -> str:
    poles = "one pole" if wanted.poles == 1 else f"{wanted.poles} poles"
    short = "no switch of the drawer has poles enough without"
    mixed = [name for net in mixed_nets(wanted) for name in net.circuits]
    even = (f"circuit{'' if len(mixed) == 1 else 's'} {', '.join(mixed)} pass one in some states only" if mixed else
            "each circuit passes one in all of its states or in none, so that no lamp's light steps between them")
    return f"{poles} with {len(wanted.diodes)} steering diodes: {short}; {even}"


# --- what is at hand ----------------------------------------------------------------------------------------------


def _short(plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], *, most_a: float) -> SwitchShort | None:
    """Why nothing at hand does it, and the nearest sets; None where something does, or nothing is named."""
    states, lit = tuple(state.name for state in plan.states), _lit(circuits)
    at_hand = _at_hand(plan, drawer, most_a)
    if at_hand is None or not _sought(lit, states) or plan_at_hand(states, lit, at_hand=at_hand) is not None:
        return None
    lamps = {circuit.name: len(circuit.lamps) for circuit in circuits}
    fewer = fewest_states_out(states, lit, at_hand=at_hand, lamps=lamps)
    dark = fewest_lamps_out(states, lit, at_hand=at_hand, lamps=lamps)
    gone = dark.left_out if dark else ()
    return SwitchShort(
        at_hand=tuple(pieces(plan, "switches")), why=_lack(states, at_hand, most_a),
        states_out=fewer.left_out if fewer else (), by=_name(replace(fewer.plan, master=False)) if fewer else "",
        lamps_out=tuple(lamp for circuit in circuits if circuit.name in gone for lamp in circuit.lamps),
        lamps_by=_name(replace(dark.plan, master=False)) if dark else "",
    )


def _lack(states: tuple[str, ...], at_hand: AtHand, most_a: float) -> str:
    """What nothing at hand has."""
    if not at_hand.dials and not at_hand.on_off:
        return f"no contact at hand bears the {1000 * most_a:.2g} mA of the heaviest state with a quarter to spare"
    most = max((kind.throws for kind in at_hand.dials), default=0)
    if len(states) > most > 0:
        return f"{len(states)} states take {len(states)} throws, and the most at hand is {most}"
    return f"{len(at_hand.on_off)} on-off switch{'' if len(at_hand.on_off) == 1 else 'es'} cannot part all circuits"
