"""`rushlight bench`: from what was seen and read to where the fault is, and what to measure next."""

from __future__ import annotations

import argparse
import csv
import io
import re
from collections.abc import Collection, Iterable
from pathlib import Path

from rushlight.errors import OutOfRange, UnknownName
from rushlight.files._atomic import write_atomic
from rushlight.model.design import Design
from rushlight.sheets.by_eye import KIND_WORDS, eye_words, hidden_words, sum_words
from rushlight.sheets.probe_use import probe_use
from rushlight.stages.fault_by_eye import eye_test
from rushlight.stages.fault_finding import KnownFaults, Probe, Seen, Verdict, known_faults, verdict
from rushlight.stages.fault_log import Evidence, dial_meter, evidence, named
from rushlight.stages.fault_mended import Rest, after_mends, mend_name
from rushlight.stages.fault_names import MENDED, probe_named
from rushlight.stages.fault_probe import OL
from rushlight.stages.fault_rows import fault_rows
from rushlight.stages.fault_seen import KINDS
from rushlight.stages.fault_words import fault_words, outcome_words, probe_words, why_words

EYE = ("look", "beside")
"""What is proposed without a meter."""

MOST_SHOWN = 6
ALIKE_SHOWN = 4
BESIDE_WORDS = {"dimmer than": -1.0, "as bright as": 0.0, "brighter than": 1.0}
NUMBER = r"([-+]?[\d.]+)\s*(?:mA|V)?"


def answer(design: Design, asked: argparse.Namespace) -> tuple[list[str], int]:
    """What is said, and 0 when nothing shows, 1 when something is wrong.

    Raises
    ------
    OutOfRange, UnknownName
        If there is nothing to measure, or what was seen cannot be read.
    """
    if design.power.supply is None or not design.loom.leads:
        raise OutOfRange("the plan", "without a supply or without leads", "a loom that can be measured")
    if asked.table is not None:
        return _table(design, asked.table), 0
    whole = known_faults(design)
    reach, ways = "bay" if asked.closed else "all", EYE if asked.no_meter else KINDS
    rows = () if asked.only_these else evidence(design)
    for before, number in asked.mended or ():
        rows = (*rows, *_rows(design, before))
        _, found = _judged(whole, rows, reach, ways)
        rows = (*rows, _mend(found, number))
    rows = (*rows, *_rows(design, asked))
    rest, found = _judged(whole, rows, reach, ways)
    wrong = rest.seen or rest.mended
    if asked.no_meter and not wrong:
        return _by_eye(design), 0
    said = _after(rest, rows) + lines(whole, found, len(rest.seen), after_mend=bool(rest.mended))
    return said, 0 if not wrong or found.sound else 1


def _by_eye(design: Design) -> list[str]:
    """The whole test without a meter, a look and what it means at a time."""
    known = known_faults(design, usual=True)
    test = eye_test(known)
    said, kind = [sum_words(test), *filter(None, [hidden_words(test)])], ""
    for number, (row, (see, places, enough, left)) in enumerate(zip(test.rows, eye_words(known, test), strict=True), 1):
        said += ["", f"{KIND_WORDS[row.kind]}:"] if row.kind != kind else []
        kind = row.kind
        said += [f"{number}. {see}", f"   it is: {places}", *([] if enough == "place" else [f"   left: {left}"])]
    return said


def _judged(whole: KnownFaults, rows: tuple[Evidence, ...], reach: str, ways: Collection[str]) -> tuple[Rest, Verdict]:
    meter = dial_meter(whole.design)
    rest = after_mends(whole, rows, meter)
    return rest, verdict(whole, rest.seen, meter=meter, reach=reach, ways=ways, gone=rest.gone)


def _rows(design: Design, asked: argparse.Namespace) -> tuple[Evidence, ...]:
    return tuple(Evidence("", "", seen.value, seen) for seen in _typed(design, asked))


def _mend(found: Verdict, number: int) -> Evidence:
    """The mend of one of the suspects, by its number in the answer."""
    if not 1 <= number <= len(found.suspects):
        raise OutOfRange("--mended", str(number), f"a number of the answer, 1 to {len(found.suspects)}")
    name = mend_name(found.suspects[number - 1].faults[0])
    return Evidence("", name, 1.0, None, mended=name)


def _after(rest: Rest, rows: tuple[Evidence, ...]) -> list[str]:
    """What the mends took away."""
    if not rest.mended:
        return []
    lost = sum(row.seen is not None for row in rows) - len(rest.seen)
    names = [row.mended.removeprefix(MENDED) for row in rest.rows if row.mended]
    return [f"Taken as mended: {'; '.join(names)}.",
            f"Of what was found before, {lost} may have changed with it and count{'s' if lost == 1 else ''} no longer: "
            "look and read those again.", ""]


def _table(design: Design, path: Path) -> list[str]:
    rows = list(fault_rows(known_faults(design)))
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    write_atomic(path, text.getvalue().encode("utf-8"))
    return [f"Written: {path}, {len(rows) - 1} faults with what each would show in every state."]


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
    for kind, text in [*(("ohms", one) for one in asked.ohms), *(("diode", one) for one in asked.diode)]:
        state, plus, back, value = _split(
            text, r"(.+?):\s*(.+?)\s+to\s+(.+?)\s*=\s*([\d.]+|OL)\s*(?:ohm|V)?", "STATE: PLACE to PLACE=NUMBER or OL")
        found.append(Seen(Probe(kind, state, plus, back), OL if value == "OL" else float(value)))
    return [*found, *(_beside(design, text) for text in asked.beside), *_looks(design, asked)]


def _beside(design: Design, text: str) -> Seen:
    form = "STATE: LAMP dimmer than LAMP (or: as bright as, brighter than)"
    words = "|".join(BESIDE_WORDS)
    state, one, how, two = _split(text, rf"(.+?):\s*(.+?)\s+({words})\s+(.+)", form)
    first, second = (sorted(_emitters(design, [name]))[0] for name in (one, two))
    return Seen(Probe("beside", state, first, second), BESIDE_WORDS[how])


def _looks(design: Design, asked: argparse.Namespace) -> list[Seen]:
    """One look for each state named; lamps by their own name, their row's, or their LED's."""
    dark, dim, lit = _by_state(asked.dark), _by_state(asked.dim), _by_state(asked.lit)
    states = dict.fromkeys([*dark, *dim, *lit, *asked.fine])
    return [
        Seen(Probe("look", state), dark=_emitters(design, dark.get(state, ())),
             dim=_emitters(design, dim.get(state, ())),
             lit=_emitters(design, lit.get(state, ())) if state in lit or state in asked.fine else None)
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


def lines(whole: KnownFaults, found: Verdict, count: int, *, after_mend: bool = False) -> list[str]:
    """The verdict on the terminal."""
    if not count and not after_mend:
        return ["Nothing was read or seen yet.", "", "Begin with: " + probe_words(Probe("look", whole.table.states[0])),
                "Then tell it: --dark 'STATE: LAMP, LAMP', --fine STATE, --read 'supply current, STATE=MILLIAMPERES'."]
    if not found.suspects:
        return ["Neither one fault nor two of the likely ones together fit all that was read and seen.",
                "Read again, slowly; then think of a joint that holds and lets go as it is moved, or of three at once."]
    if found.sound:
        return [f"Nothing is wrong as far as {_findings(count)} show{'s' if count == 1 else ''}.", *_hidden(found)]
    said = [f"What fits {_findings(count)}, the most usual first:", ""]
    if found.double:
        said = [f"No single fault fits {_findings(count)}. Two at once would:", ""]
    for number, group in enumerate(found.suspects[:MOST_SHOWN], 1):
        said.append(f"{number}. {fault_words(whole.design, group.faults[0])}")
        others = group.faults[1:ALIKE_SHOWN]
        said += [f"   or, which reads alike: {fault_words(whole.design, other)}" for other in others]
        alike = len(group.faults) - ALIKE_SHOWN
        said += [f"   or, alike too, {alike} more like these"] if alike > 0 else []
    more = len(found.suspects) - MOST_SHOWN + len(found.further)
    said += [f"   and {more} more"] if more > 0 else []
    return [*said, *_caution(found), *_next(found)]


def _findings(count: int) -> str:
    return f"{count} finding{'' if count == 1 else 's'}"


def _hidden(found: Verdict) -> list[str]:
    """What a cold joint could still be without having shown."""
    if not found.hidden_joints:
        return []
    most = max(fault.ohm[1] for fault in found.hidden_joints)
    return ["", f"What that cannot show: a cold joint of a few ohm. At {len(found.hidden_joints)} places one of up to "
            f"{most:g} ohm would not have shown yet.",
            "Pull at every lead; a joint that is dull and lumpy is one to heat again."]


def _caution(found: Verdict) -> list[str]:
    faults = [one for group in found.suspects for fault in group.faults for one in (fault, *fault.parts)]
    if not any(fault.blown for fault in faults):
        return []
    return ["", "It may be a short: fit no new fuse before it is found, never a larger one, and take the supply off",
            "before you touch the loom."]


def _next(found: Verdict) -> list[str]:
    if found.next_probe is None:
        return []
    probe, told = found.next_probe, dict[str, list[str]]()
    for value, place in found.outcomes[:MOST_SHOWN]:
        told.setdefault(outcome_words(probe, value), []).append(str(place + 1))
    use = probe_use(probe, [value for value, _ in found.outcomes])
    what = probe_words(probe, use.setting.words) if use else probe_words(probe)
    return ["", "Measure next: " + what, *(f"   {words}: number {', '.join(own)}" for words, own in told.items()),
            why_words(found)]
