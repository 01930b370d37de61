"""Shopping: what to buy, in the packs it is sold in, with spares, and roughly what it costs."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable

from rushlight.electric.resistor_bands import usual_bands
from rushlight.errors import RushlightError
from rushlight.model.design import Shopping, ShoppingLine, Source
from rushlight.model.design_loom import Circuit, Loom, Sleeve
from rushlight.model.design_power import Power, Resistor
from rushlight.model.drawer import Drawer
from rushlight.model.plan import Plan
from rushlight.stages.at_hand import pieces, resistors_at_hand
from rushlight.stages.drivers import driver_of
from rushlight.stages.rhythms import MadeRhythm, made_rhythms, value
from rushlight.stages.supply_units import holder_price_eur, supply_price_eur
from rushlight.stages.switching import board_of
from rushlight.units import Range

PRICE_LOW, PRICE_HIGH = 0.6, 1.8
"""Street prices differ about so much (from memory, typical)."""

FIBRE_SPARE, TUBE_SPARE = 0.15, 0.20
"""Fibre breaks and is cut anew; tube is cut too short (common practice, no source)."""


def shopping_list(
    plan: Plan, drawer: Drawer, *, sources: tuple[Source, ...], circuits: tuple[Circuit, ...], loom: Loom, power: Power
) -> Shopping:
    """Everything that the loom, the bundles and the supply take.

    Parameters
    ----------
    plan, drawer : Plan, Drawer
        The checked plan and the parts with their packs and prices.
    sources, circuits, loom, power
        Results of the stages before.
    Returns
    -------
    Shopping
        Lines in the order of the drawer's tables; costs are rough.
    """
    lines = [
        *_leds(drawer, loom), *_fibres(drawer, loom), *_strips(drawer, loom), *_wires(drawer, loom),
        *_tubes(drawer, loom), *_resistors(plan, drawer, power), *_regulators(plan, drawer, power),
        *_supply(plan, drawer, power), *_switch(plan, drawer, power), *_makers(plan, drawer, circuits, loom),
        *_plugs(drawer, loom), *_drills(drawer, sources), *_sheets(plan, drawer), *_coats(plan),
    ]
    costs = [line.cost_eur for line in lines]
    total = Range(sum(c.low for c in costs), sum(c.typical for c in costs), sum(c.high for c in costs))
    return Shopping(lines=tuple(lines), total_eur=total)


def _line(
    group: str, name: str, needed: float, *, spare: float, unit: str, pack: float, price_eur: float, note: str = "",
    at_hand: int = 0,
) -> ShoppingLine:
    """A line; what is at hand is not bought, and of what is at hand no spare is bought either."""
    wanted = needed - at_hand if at_hand >= needed else needed + spare - at_hand
    packs = max(math.ceil(wanted / pack - 1e-9), 0 if at_hand else 1)
    note = "; ".join(filter(None, (note, f"{at_hand} at hand" if at_hand else "")))
    return ShoppingLine(
        group=group, name=name, needed=needed, spare=spare, unit=unit, pack=pack, packs=packs,
        cost_eur=Range.spread(packs * price_eur, PRICE_LOW, PRICE_HIGH), note=note,
    )


def _counted(names: Iterable[str]) -> dict[str, int]:
    counts: dict[str, int] = defaultdict(int)
    for name in names:
        counts[name] += 1
    return dict(sorted(counts.items()))


def spare_count(drawer: Drawer, needed: int) -> int:
    """How many spares: a share of the need, but never under a few (habit `spare_leds`)."""
    share = drawer.habit("spare_leds").low or 0.1
    least = drawer.habit("spare_leds_least").low or 2
    return max(math.ceil(needed * share - 1e-9), int(least))


def _leds(drawer: Drawer, loom: Loom) -> list[ShoppingLine]:
    counts = _counted(emitter.part_row for emitter in loom.emitters if emitter.kind != "strip")
    lines = []
    for name, count in counts.items():
        part = drawer.led(name)
        lines.append(
            _line("LEDs", name, count, spare=spare_count(drawer, count), unit="pieces", pack=part.pack,
                  price_eur=part.price_eur)
        )
    return lines


def _fibres(drawer: Drawer, loom: Loom) -> list[ShoppingLine]:
    lengths: dict[float, float] = defaultdict(float)
    for tail in loom.tails:
        lengths[tail.fibre_mm] += tail.cut_mm / 1000
    return [
        _line("fibre", drawer.fibre(mm).name, length, spare=length * FIBRE_SPARE, unit="m",
              pack=drawer.fibre(mm).pack_m, price_eur=drawer.fibre(mm).price_eur)
        for mm, length in sorted(lengths.items())
    ]


def _strips(drawer: Drawer, loom: Loom) -> list[ShoppingLine]:
    lengths: dict[str, float] = defaultdict(float)
    for emitter in loom.emitters:
        if emitter.kind == "strip":
            lengths[emitter.part_row] += emitter.segments * drawer.strip(emitter.part_row).segment_mm / 1000
    lines = []
    for name, length in sorted(lengths.items()):
        part = drawer.strip(name)
        lines.append(
            _line("strip", name, length, spare=part.segment_mm / 1000, unit="m", pack=part.pack_m,
                  price_eur=part.price_eur, note=f"cut only at its marks, every {part.segment_mm:g} mm")
        )
    return lines


def _wires(drawer: Drawer, loom: Loom) -> list[ShoppingLine]:
    lengths: dict[tuple[str, str], float] = defaultdict(float)
    for lead in loom.leads:
        lengths[lead.wire, lead.colour] += lead.cut_mm / 1000
    return [
        _line("wire", f"{name}, {colour}", length, spare=length * 0.1, unit="m", pack=drawer.wire(name).pack_m,
              price_eur=drawer.wire(name).price_eur)
        for (name, colour), length in sorted(lengths.items())
    ]


def _tubes(drawer: Drawer, loom: Loom) -> list[ShoppingLine]:
    lengths: dict[str, float] = defaultdict(float)
    for sleeve in _sleeves(loom):
        lengths[sleeve.tube] += sleeve.cut_mm / 1000
    known = {tube.name for tube in drawer.tubes}
    return [
        _line("tube", name, length, spare=length * TUBE_SPARE, unit="m", pack=drawer.tube(name).pack_m,
              price_eur=drawer.tube(name).price_eur)
        for name, length in sorted(lengths.items())
        if name in known
    ]


def _sleeves(loom: Loom) -> list[Sleeve]:
    return [splice.sleeve for splice in loom.splices] + [
        sleeve for bundle in loom.bundles for sleeve in bundle.sleeves
    ]


def _resistors(plan: Plan, drawer: Drawer, power: Power) -> list[ShoppingLine]:
    own = {row.part.name: row for row in resistors_at_hand(plan, drawer)}
    counts = _counted(f"{row.size}|{row.value_ohm:g}" for row in power.resistors if not row.made_of_ohm)
    lines = []
    for text, count in sorted(counts.items(), key=lambda pair: float(pair[0].split("|")[1])):
        size, ohm = text.split("|")
        part = next(row for row in drawer.resistors if row.name == size)
        lines.append(
            _line("resistors", f"{ohm_text(float(ohm))}, {size}", count, spare=spare_count(drawer, count),
                  unit="pieces", pack=part.pack, price_eur=part.price_eur, note=_bands(float(ohm), part.tolerance),
                  at_hand=count if size in own and (not own[size].only_ohm or own[size].has(float(ohm))) else 0)
        )
    pairs = _counted(f"{resistor_text(row)}, {row.size}" for row in power.resistors if row.made_of_ohm)
    lines += [_line("resistors", text, count, spare=0, unit="pairs", pack=1, price_eur=0, at_hand=count)
              for text, count in pairs.items()]
    return lines


def _regulators(plan: Plan, drawer: Drawer, power: Power) -> list[ShoppingLine]:
    own = pieces(plan, "regulators")
    counts = _counted(row.part for row in power.regulators for _ in range(row.count))
    return [
        _line("regulators", name, count, spare=spare_count(drawer, count), unit="pieces",
              pack=drawer.regulator(name).pack, price_eur=drawer.regulator(name).price_eur,
              note=f"{drawer.regulator(name).package}, two leads, the ring marks the cathode",
              at_hand=own.get(name, 0))
        for name, count in sorted(counts.items())
    ]


def _bands(ohm: float, tolerance: float) -> str:
    """The colours by which a value is known in the drawer; none for an odd one."""
    try:
        return f"bands {', '.join(usual_bands(ohm, tolerance))}"
    except RushlightError:
        return ""


def resistor_text(resistor: Resistor) -> str:
    """A resistor as it is said, with the two that it is made of: 120 ohm, 100 ohm + 22 ohm in a row."""
    if not resistor.made_of_ohm:
        return ohm_text(resistor.value_ohm)
    how = "side by side" if resistor.side_by_side else "in a row"
    return f"{' + '.join(map(ohm_text, resistor.made_of_ohm))} {how}"


def ohm_text(ohm: float) -> str:
    """A resistance as it is said: 470 ohm, 4.7 kohm."""
    return f"{ohm / 1000:g} kohm" if ohm >= 1000 else f"{ohm:g} ohm"


def _supply(plan: Plan, drawer: Drawer, power: Power) -> list[ShoppingLine]:
    supply = plan.supply
    if supply is None or power.supply is None:
        return []
    if supply.kind == "cells":
        count = supply.in_series * supply.in_parallel
        lines = [
            _line("supply", f"{supply.cell} cell", count, spare=count, unit="pieces", pack=1,
                  price_eur=drawer.cell(supply.cell).price_eur, note="a second set for the show"),
            _line("supply", f"holder for {count} x {supply.cell}", 1, spare=0, unit="pieces", pack=1,
                  price_eur=holder_price_eur()),
        ]
    else:
        lines = [
            _line("supply", power.supply.name, 1, spare=0, unit="pieces", pack=1,
                  price_eur=supply_price_eur(drawer, supply), note="a finished, approved unit; mains is never wired")
        ]
    fuse = next((row for row in drawer.fuses if row.name == power.supply.fuse), None)
    if fuse is not None:
        lines.append(_line("supply", fuse.name, 1, spare=1, unit="pieces", pack=1, price_eur=fuse.price_eur))
    return lines


def _switch(plan: Plan, drawer: Drawer, power: Power) -> list[ShoppingLine]:
    if power.switch is None:
        return []
    own = pieces(plan, "switches")
    prices = {row.name: row.price_eur for row in drawer.switches}
    lines = [
        _line("switch", name, count, spare=0, unit="pieces", pack=1, price_eur=prices[name],
              at_hand=own.get(name, 0))
        for name, count in _counted(power.switch.parts).items()
    ]
    if power.switch.diodes:
        lines.append(
            _line("switch", "small silicon diode", power.switch.diodes, spare=2, unit="pieces", pack=10, price_eur=1.5)
        )
    return lines


def _makers(plan: Plan, drawer: Drawer, circuits: tuple[Circuit, ...], loom: Loom) -> list[ShoppingLine]:
    """What makes the rhythms: the board, its drivers, flashers, and what LEDs that time themselves cost more."""
    made = made_rhythms(plan, circuits, loom)
    driven = [row for row in made if row.driven]
    lines = []
    if driven:
        board = board_of(plan)
        note = f"for {board.least_v:g} to {board.most_v:g} V, {len(driven)} pins with PWM"
        lines.append(_piece("small controller board that runs MicroPython", 1, value("board_eur"), note))
        driver = driver_of(plan, drawer)
        transistor = driver.kind.name if driver else "P-channel MOSFET"
        note = f"{transistor}, NPN transistor, 2 x 10 kohm, 4.7 kohm each; circuits {_names(driven)}"
        lines.append(_piece("driver for one channel, in the plus", len(driven), value("driver_eur"), note))
    for row in made:
        name, rhythm = row.circuit.name, row.circuit.rhythm
        if row.by in ("flasher", None):
            what = "flasher" if row.by else "flasher or small controller channel"
            lines.append(_piece(f"{what}, circuit {name}", 1, value("flasher_eur"), f"makes {rhythm}"))
        elif row.by == "self-timed led":
            count = sum(emitter.circuit == name for emitter in loom.emitters)
            note = f"in place of the plain LEDs of circuit {name}; makes {rhythm}"
            lines.append(_piece(f"LED that times itself, circuit {name}", count, value("self_timed_eur"), note))
    return lines


def _piece(name: str, count: int, price_eur: float, note: str) -> ShoppingLine:
    return _line("switch", name, count, spare=0, unit="pieces", pack=1, price_eur=price_eur, note=note)


def _names(made: list[MadeRhythm]) -> str:
    return ", ".join(row.circuit.name for row in made)


def _plugs(drawer: Drawer, loom: Loom) -> list[ShoppingLine]:
    counts = _counted(plug.connector for plug in loom.plugs)
    prices = {row.name: row.price_eur for row in drawer.connectors}
    return [
        _line("plugs", name, count, spare=1, unit="pairs", pack=1, price_eur=prices.get(name, 2.0))
        for name, count in counts.items()
    ]


def _drills(drawer: Drawer, sources: tuple[Source, ...]) -> list[ShoppingLine]:
    counts = _counted(source.drill for source in sources if source.drill)
    return [
        _line("tools", f"drill {name}", 1, spare=1, unit="pieces", pack=1, price_eur=1.5,
              note=f"{count} hole{'' if count == 1 else 's'}")
        for name, count in counts.items()
    ]


def _sheets(plan: Plan, drawer: Drawer) -> list[ShoppingLine]:
    counts = _counted(
        sheet.sheet for part in plan.parts for opening in part.openings for sheet in opening.diffusers
    )
    return [
        _line("sheets", name, count, spare=0, unit="cut pieces", pack=max(count, 1),
              price_eur=drawer.diffuser(name).price_eur)
        for name, count in counts.items()
    ]


def _coats(plan: Plan) -> list[ShoppingLine]:
    counts = _counted(coat for part in plan.parts for coat in part.coats)
    return [
        _line("paint", name, 1, spare=0, unit="tins", pack=1, price_eur=4.0, note=f"{count} coats in all")
        for name, count in counts.items()
    ]
