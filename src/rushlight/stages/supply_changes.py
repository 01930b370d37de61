"""What another supply changes in the parts: strings, resistors, strips, switch, fuse, wire, how the bay is reached."""

from __future__ import annotations

from collections.abc import Iterator

from rushlight.model.design import Design

LEAST_WIRE_M = 0.1
"""Wire that is told of."""


def changes_of(before: Design, now: Design) -> tuple[str, ...]:
    """What has to be built or bought otherwise, in words.

    Parameters
    ----------
    before, now : Design
        The design as it stands, and with the other supply.
    Returns
    -------
    tuple of str
        Empty where only the supply changes.
    """
    return (
        *_kind(before, now),
        *_strips(before, now),
        *_strings(before, now),
        *_resistors(before, now),
        *_regulators(before, now),
        *_switch(before, now),
        *_fuse(before, now),
        *_wire(before, now),
    )


def _kind(before: Design, now: Design) -> Iterator[str]:
    """What another kind of supply asks for."""
    was, new = before.plan.supply, now.plan.supply
    if new is None or was is None or (new.kind, new.cell) == (was.kind, was.cell):
        return
    cell = now.drawer.cell(new.cell)
    if new.kind == "cells" and cell.rechargeable and cell.chemistry.startswith("lithium"):
        yield "a cell with its own protection, charged outside the model"
    elif new.kind in ("adapter", "usb adapter"):
        yield "a finished, approved unit that stays at the wall"


def _strips(before: Design, now: Design) -> Iterator[str]:
    was, new = (
        {one.lamps: one.part_row for one in made.loom.emitters if one.kind == "strip"} for made in (before, now)
    )
    for row in dict.fromkeys(row for lamps, row in new.items() if was.get(lamps) != row):
        yield f"strip '{row}'"
    gone = [lamps for lamps in was if lamps not in new]
    if gone:
        yield f"no strip for '{gone[0][0]}'"


def _strings(before: Design, now: Design) -> Iterator[str]:
    was, new = before.loom.strings, now.loom.strings
    if [row.emitters for row in was] == [row.emitters for row in new]:
        return
    if not new:
        yield f"{sum(len(row.emitters) for row in was)} LEDs one by one instead of in strings"
        return
    counts: dict[int, int] = {}
    for row in new:
        counts[len(row.emitters)] = counts.get(len(row.emitters), 0) + 1
    told = " and ".join(f"{count} {'string' if count == 1 else 'strings'} of {n}" for n, count in counts.items())
    yield f"{told} LEDs in series{' instead of single ones' if not was else ''}"


def _resistors(before: Design, now: Design) -> Iterator[str]:
    was, new = ({row.emitter: row.value_ohm for row in made.power.resistors} for made in (before, now))
    other = sum(was.get(name) not in (None, ohm) for name, ohm in new.items())
    if other:
        yield f"{other} of {len(new)} resistors of another value"
    if len(was) != len(new):
        yield f"{len(new)} resistors instead of {len(was)}"


def _regulators(before: Design, now: Design) -> Iterator[str]:
    was, new = ({row.emitter: (row.part, row.count) for row in made.power.regulators} for made in (before, now))
    if was != new:
        yield f"{sum(count for _, count in new.values())} regulators instead of {sum(n for _, n in was.values())}"


def _switch(before: Design, now: Design) -> Iterator[str]:
    was, new = before.power.switch, now.power.switch
    if was and new and was.parts != new.parts:
        yield f"as switch {new.name}"
    elif was and new and was.diodes != new.diodes:
        yield f"{new.diodes} steering diodes instead of {was.diodes}"


def _fuse(before: Design, now: Design) -> Iterator[str]:
    was, new = (made.power.supply.fuse if made.power.supply else None for made in (before, now))
    if was != new:
        yield f"fuse {new}" if new else "no fuse of the drawer bears it"


def _wire(before: Design, now: Design) -> Iterator[str]:
    more_m = (sum(lead.cut_mm for lead in now.loom.leads) - sum(lead.cut_mm for lead in before.loom.leads)) / 1000
    if abs(more_m) >= LEAST_WIRE_M:
        yield f"{abs(more_m):.1f} m {'more' if more_m > 0 else 'less'} wire"
