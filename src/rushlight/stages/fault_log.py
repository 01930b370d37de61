"""What the plan's log says about a fault: readings and looks that count, and why others do not."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rushlight.model.design import Design, PredictedReading
from rushlight.model.plan_bench import Done, Look, Reading
from rushlight.stages.fault_finding import Meter, Probe, Seen
from rushlight.stages.fault_names import DIODE_TEST, FIND_STEP, MENDED, OHMS, Named, probe_named

TEN_AMPERE_MA = 180.0
"""Above this a supply current is read in the range of 10 A, as the gates say."""


TWENTY_VOLT_V = 19.0
"""Above this a voltage is read in the range of 200 V, as the drawn meter is set."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing seen or read. `seen` is None where it does not count, `why` says why then; `what` names it.

    `odd` are lamps that are dark or dim while others of the same LED are not: a fibre or a segment, not the loom.
    `mended` names what was mended to no end; `when` is the local time, empty where none was noted.
    """

    step: str
    what: str
    value: float | None
    seen: Seen | None
    why: str = ""
    odd: tuple[str, ...] = ()
    when: str = ""
    mended: str = ""


def named(design: Design) -> Named:
    """Names of a design that a reading may hold, without a solve."""
    lit = {row.state: {one.emitter for one in row.lit} for row in design.power.states}
    fitted = {row.emitter: tuple(state for state, on in lit.items() if row.emitter in on)
              for row in design.power.resistors}
    ends = (f"{row.name}{side}" for row in design.loom.emitters for side in "+-")
    bay = (f"bay {name}" for name in ("R", "+", *(row.name for row in design.circuits)))
    return Named(tuple(row.name for row in design.plan.states), fitted,
                 frozenset((*(row.name for row in design.loom.splices), *ends, *bay)))


def name_of(probe: Probe) -> str:
    """What a reading of this probe is called in the log."""
    if probe.kind == "supply":
        return f"supply current, {probe.state}"
    if probe.kind == "resistor":
        return f"across the resistor of {probe.plus}, {probe.state}"
    if probe.kind == "beside":
        return f"{probe.state}: {probe.plus} beside {probe.back}"
    off = {"ohms": OHMS, "diode": DIODE_TEST}.get(probe.kind, "")
    return f"{probe.state}{off}: {probe.plus} to {probe.back}"


def dial_meter(design: Design) -> Meter:
    """The meter's error bound, each current in the range that it was, or may have been, read in (never too narrow)."""
    most = max((row.bench_a.high for row in design.power.states), default=0.0) * 1000
    supply = design.power.supply
    fresh_v = supply.fresh_v if supply is not None else 0.0
    high_v = TWENTY_VOLT_V if fresh_v > TWENTY_VOLT_V else math.inf
    return Meter(high_from_ma=TEN_AMPERE_MA, nought_is_high=most >= TEN_AMPERE_MA, high_from_v=high_v)


# --- what counts --------------------------------------------------------------------------------------------------


def evidence(design: Design) -> tuple[Evidence, ...]:
    """Everything in the log that could speak of a fault, in the log's order.

    Returns
    -------
    tuple of Evidence
        A gate that was passed with every reading within shows that the loom was sound then: what is older does not
        count. Of two readings of one thing the later counts.
    """
    names = named(design)
    sound_at, sound_when = _last_sound(design)
    found: list[Evidence] = []
    for number, done in enumerate(design.plan.as_built):
        own = [_of_reading(done, row, names) for row in done.readings]
        looks = [_of_look(design, done, look) for look in done.looks]
        times = [*(row.when for row in done.readings), *(look.when for look in done.looks)]
        for row, when in zip((*own, *looks), times, strict=True):
            old = _is_older(done, number, when, sound=(sound_at, sound_when))
            timed = replace(row, when=when or "")
            found.append(_not(timed, "older than the last gate that was passed with all within") if old else timed)
    return tuple(_latest(row for row in found if row.what))


def _not(row: Evidence, why: str) -> Evidence:
    return replace(row, seen=None, why=row.why or why, mended="")


def _is_older(done: Done, number: int, when: str | None, *, sound: tuple[int, str]) -> bool:
    at, sound_when = sound
    if done.step == FIND_STEP:
        return bool(when and sound_when and when <= sound_when)
    return number <= at


def _last_sound(design: Design) -> tuple[int, str]:
    """Place and time of the last gate that was passed with all its readings within; -1 if there is none."""
    told = {(step.key, row.name.casefold()): row for step in design.order.steps for row in step.readings}
    keys = {name.casefold(): step.key for step in design.order.steps for name in (step.key, step.title)}
    found = (-1, "")
    for number, done in enumerate(design.plan.as_built):
        gate = keys.get(done.step.casefold(), "")
        rows = [(row.value, told.get((gate, row.what.casefold()))) for row in done.readings]
        if done.how == "done" and _all_within(rows):
            found = (number, done.when or "")
    return found


def _all_within(rows: Sequence[tuple[float, PredictedReading | None]]) -> bool:
    """Whether every reading is as foretold, and one of them was taken with the loom switched on."""
    within = all(told is not None and told.reading.low <= value <= told.reading.high for value, told in rows)
    return within and any(told is not None and told.state for _, told in rows)


def _latest(found: Iterable[Evidence]) -> list[Evidence]:
    listed = list(found)
    last = {row.seen.probe: number for number, row in enumerate(listed) if row.seen}
    return [_not(row, "read again later") if row.seen and last[row.seen.probe] != number else row
            for number, row in enumerate(listed)]


def _of_reading(done: Done, reading: Reading, names: Named) -> Evidence:
    if reading.what.startswith(MENDED):
        return Evidence(done.step, reading.what, reading.value, None, mended=reading.what)
    probe = probe_named(reading.what, names)
    if probe is None:
        searched = done.step == FIND_STEP
        return Evidence(done.step, reading.what if searched else "", reading.value, None,
                        "names nothing of the loom as it is now")
    return Evidence(done.step, reading.what, reading.value, Seen(Probe(*probe), reading.value))


def _of_look(design: Design, done: Done, look: Look) -> Evidence:
    what = f"look, {look.state}"
    if look.state not in {row.name for row in design.plan.states}:
        return Evidence(done.step, what, None, None, "the plan has no such state now")
    gone = sorted({*look.dark, *look.dim, *look.lit} - {lamp.name for lamp in design.lamps})
    if gone:
        return Evidence(done.step, what, None, None, f"the plan has no lamp '{gone[0]}' now")
    dark, odd_dark = emitters_of(design, look.state, look.dark)
    dim, odd_dim = emitters_of(design, look.state, look.dim)
    return Evidence(done.step, what, None, Seen(Probe("look", look.state), dark=dark, dim=dim), "",
                    (*odd_dark, *odd_dim))


def emitters_of(design: Design, state: str, lamps: Sequence[str]) -> tuple[frozenset[str], tuple[str, ...]]:
    """LEDs and strips all of whose lamps of a state are named, and the named lamps of the others."""
    said = set(lamps)
    lit = lit_lamps(design, state)
    whole = {name for name, own in lit.items() if own and set(own) <= said}
    odd = tuple(lamp for name, own in lit.items() if name not in whole for lamp in own if lamp in said)
    return frozenset(whole), odd


def lit_lamps(design: Design, state: str) -> dict[str, tuple[str, ...]]:
    """For each LED or strip that is lit in a state, its lamps that should be lit then."""
    on = {one.emitter for row in design.power.states if row.state == state for one in row.lit}
    shown = {lamp.name for lamp in design.lamps if state in lamp.states and not lamp.dark}
    return {row.name: tuple(lamp for lamp in row.lamps if lamp in shown)
            for row in design.loom.emitters if row.name in on}

