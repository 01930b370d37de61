"""`rushlight bench`: from what was seen and read to where the fault is, and what to measure next."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable
from pathlib import Path

from rushlight.errors import OutOfRange, UnknownName
from rushlight.model.design import Design
from rushlight.stages.fault_finding import KnownFaults, Probe, Seen, Verdict, known_faults, verdict
from rushlight.stages.fault_log import dial_meter, evidence, named
from rushlight.stages.fault_names import probe_named
from rushlight.stages.fault_words import fault_words, outcome_words, probe_words

MOST_SHOWN = 6
NUMBER = r"([-+]?[\d.]+)\s*(?:mA|V)?"


def add_arguments(command: argparse.ArgumentParser) -> None:
    """The words of `rushlight bench`."""
    command.add_argument("plan", type=Path, help="folder of the plan")
    command.add_argument("--read", action="append", default=[], metavar="'WHAT=NUMBER'",
                         help="a reading as a gate names it: 'supply current, under way=85'")
    command.add_argument("--volts", action="append", default=[], metavar="'STATE: PLACE to PLACE=NUMBER'",
                         help="a voltage between two places: 'under way: SA1 to bay R=4.1'")
    command.add_argument("--dark", action="append", default=[], metavar="'STATE: LAMP, LAMP'",
                         help="every lamp that is dark in a state though it should be lit")
    command.add_argument("--dim", action="append", default=[], metavar="'STATE: LAMP, LAMP'",
                         help="lamps that are much dimmer than their like")
    command.add_argument("--fine", action="append", default=[], metavar="STATE",
                         help="a state in which all is as it should be")
    command.add_argument("--closed", action="store_true", help="the model is closed: only the bay can be reached")
    command.add_argument("--only-these", action="store_true", help="leave out the readings that the plan's log holds")


def answer(design: Design, asked: argparse.Namespace) -> tuple[list[str], int]:
    """What is said, and 0 when nothing shows, 1 when something is wrong.

    Raises
    ------
    OutOfRange, UnknownName
        If there is nothing to measure, or what was seen cannot be read.
    """
    if design.power.supply is None or not design.loom.leads:
        raise OutOfRange("the plan", "without a supply or without leads", "a loom that can be measured")
    seen = [*([] if asked.only_these else logged(design)), *_typed(design, asked)]
    whole = known_faults(design)
    found = verdict(whole, seen, meter=dial_meter(design), reach="bay" if asked.closed else "all")
    return lines(whole, found, len(seen)), 0 if not seen or _sound(found) else 1


def logged(design: Design) -> list[Seen]:
    """What the plan's log says of the loom as it stands now."""
    return [row.seen for row in evidence(design) if row.seen]


def _reading(design: Design, what: str, value: float) -> Seen | None:
    meant = probe_named(what, named(design))
    return None if meant is None else Seen(Probe(*meant), value)


def _typed(design: Design, asked: argparse.Namespace) -> list[Seen]:
    found = []
    for text in asked.read:
        what, value = _split(text, r"(.+?)\s*=\s*" + NUMBER, "WHAT=NUMBER")
        one = _reading(design, what, float(value))
        if one is None:
            raise UnknownName("reading", what, [f"supply current, {row.name}" for row in design.plan.states])
        found.append(one)
    for text in asked.volts:
        state, plus, back, value = _split(
            text, r"(.+?):\s*(.+?)\s+to\s+(.+?)\s*=\s*" + NUMBER, "STATE: PLACE to PLACE=NUMBER")
        found.append(Seen(Probe("volts", state, plus, back), float(value)))
    return found + _looks(design, asked)


def _looks(design: Design, asked: argparse.Namespace) -> list[Seen]:
    """One look for each state named; lamps by their own name, their row's, or their LED's."""
    dark, dim = _by_state(asked.dark), _by_state(asked.dim)
    states = dict.fromkeys([*dark, *dim, *asked.fine])
    return [
        Seen(Probe("look", state), dark=_emitters(design, dark.get(state, ())),
             dim=_emitters(design, dim.get(state, ())))
        for state in states
    ]


def _by_state(texts: Iterable[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for text in texts:
        state, names = _split(text, r"(.+?):\s*(.+)", "STATE: LAMP, LAMP")
        found.setdefault(state, []).extend(name.strip() for name in names.split(",") if name.strip())
    return found


def _emitters(design: Design, names: Iterable[str]) -> frozenset[str]:
    known: dict[str, set[str]] = {}
    group = {lamp.name: lamp.group for lamp in design.lamps}
    for emitter in design.loom.emitters:
        for name in (emitter.name, *emitter.lamps, *(group[lamp] for lamp in emitter.lamps)):
            known.setdefault(name, set()).add(emitter.name)
    found: set[str] = set()
    for name in names:
        if name not in known:
            raise UnknownName("lamp", name, known)
        found |= known[name]
    return frozenset(found)


def _split(text: str, pattern: str, form: str) -> tuple[str, ...]:
    match = re.fullmatch(pattern, text.strip())
    if match is None:
        raise OutOfRange("what was seen", repr(text), f"written as '{form}'")
    return tuple(part.strip() for part in match.groups())


# --- what is said -------------------------------------------------------------------------------------------------


def _sound(found: Verdict) -> bool:
    return any(fault.kind == "none" for group in found.suspects for fault in group.faults)


def lines(whole: KnownFaults, found: Verdict, count: int) -> list[str]:
    """The verdict on the terminal."""
    if not count:
        return ["Nothing was read or seen yet.", "", "Begin with: " + probe_words(Probe("look", whole.table.states[0])),
                "Then tell it: --dark 'STATE: LAMP, LAMP', --fine STATE, --read 'supply current, STATE=MILLIAMPERES'."]
    if not found.suspects:
        return ["No single fault fits all that was read and seen.",
                "Read again, slowly; then think of two faults at once, a wrong lead in a splice, a bridge of solder,",
                "or a joint that holds and lets go as it is moved."]
    if _sound(found):
        return [f"Nothing is wrong as far as {count} finding{'' if count == 1 else 's'} show."]
    said = [f"What fits {count} finding{'' if count == 1 else 's'}, the most usual first:", ""]
    for number, group in enumerate(found.suspects[:MOST_SHOWN], 1):
        said.append(f"{number}. {fault_words(whole.design, group.faults[0])}")
        said += [f"   or, which reads alike: {fault_words(whole.design, other)}" for other in group.faults[1:4]]
    more = len(found.suspects) - MOST_SHOWN
    said += [f"   and {more} more"] if more > 0 else []
    return [*said, *_next(found)]


def _next(found: Verdict) -> list[str]:
    if found.next_probe is None:
        return []
    probe = found.next_probe
    shown = [f"   {outcome_words(probe, value)}: number {place + 1}" for value, place in found.outcomes[:MOST_SHOWN]]
    return ["", "Measure next: " + probe_words(probe), *shown]
