"""Where the fault is, as plain data: what counts, likely faults in words and on the model, what to measure next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rushlight.electric.fault import Fault
from rushlight.errors import RushlightError
from rushlight.model.design import Design
from rushlight.sheets.by_eye import KIND_WORDS, eye_words, hidden_words, sum_words
from rushlight.sheets.gates import SIGNS
from rushlight.sheets.meter import meter_drawing
from rushlight.sheets.meter_use import mind
from rushlight.sheets.numbering import lamp_numbers
from rushlight.sheets.pins import Pin, pin_drawings
from rushlight.sheets.probe_use import probe_use, unsigned
from rushlight.sheets.svg import PAPER, to_svg
from rushlight.stages.fault_by_eye import eye_test
from rushlight.stages.fault_finding import PRIORS, KnownFaults, Probe, Seen, Suspects, Verdict, known_faults, verdict
from rushlight.stages.fault_log import Evidence, dial_meter, evidence, lit_lamps, name_of
from rushlight.stages.fault_mended import Rest, after_mends, mend_name
from rushlight.stages.fault_place import fault_places, probe_places
from rushlight.stages.fault_probe import OL
from rushlight.stages.fault_seen import BETWEEN, KINDS, SUPPLY_OFF
from rushlight.stages.fault_words import fault_words, outcome_words, probe_words, why_words
from rushlight.web.plain import plain

MOST_SHOWN = 8
MOST_ALIKE = 6

USUAL, SELDOM = 3, 6
"""Of PRIORS the first kinds are usual, the last seldom (common practice, no source)."""


@dataclass
class _Held:
    """The last loom with all its faults solved: readings and ticks do not change it."""

    of: tuple[Any, ...] = ()
    known: KnownFaults | None = None
    by_eye: dict[str, Any] | None = None


_HELD = _Held()


def fault_json(design: Design) -> dict[str, Any]:
    """Everything that the screen of faults shows.

    Parameters
    ----------
    design : Design
        With the plan's log.
    Returns
    -------
    dict
        `none` in words where nothing can be measured yet; else `states` with the lamps that should be lit, `parts` to
        tap on, `evidence`, `verdict`, `next`, `how`, and `by_eye`, the whole test without a meter.
    """
    if design.power.supply is None or not design.loom.leads:
        return {"none": "There is no loom to measure yet: place lamps and a supply first."}
    rows = evidence(design)
    known = _known(design)
    try:
        rest = after_mends(known, rows, dial_meter(design))
        rows = rest.rows
        found = _judged(known, design, rest)
    except RushlightError as error:
        return {**_to_look_at(design), "evidence": _evidence_json(rows), "none": str(error)}
    return {
        **_to_look_at(design), "evidence": _evidence_json(rows), "verdict": _verdict_json(design, found, rows),
        "next": _next_json(design, found), "how": SIGNS.split("\n\n"), "by_eye": _by_eye_json(design),
    }


def _known(design: Design) -> KnownFaults:
    of = (design.loom, design.power, design.circuits, design.drawer, design.plan.supply)
    if _HELD.known is None or _HELD.of != of:
        _HELD.of, _HELD.known, _HELD.by_eye = of, known_faults(design), None
    return _HELD.known


def _by_eye_json(design: Design) -> dict[str, Any]:
    """Every look that a single usual fault gives: what is seen, where it is, what is left; kept with the loom."""
    if _HELD.by_eye is None:
        known = known_faults(design, usual=True)
        test = eye_test(known)
        rows = [{"see": see, "is": places, "left": "" if enough == "place" else left, "kind": KIND_WORDS[row.kind]}
                for row, (see, places, enough, left) in zip(test.rows, eye_words(known, test), strict=True)]
        _HELD.by_eye = {"says": sum_words(test), "hidden": hidden_words(test), "rows": rows}
    return _HELD.by_eye


def _judged(known: KnownFaults, design: Design, rest: Rest) -> Verdict:
    closed = any(done.sealed for done in design.plan.as_built)
    return verdict(known, rest.seen, meter=dial_meter(design), reach="bay" if closed else "all", ways=KINDS,
                   gone=rest.gone)


# --- what to look at ----------------------------------------------------------------------------------------------


def _to_look_at(design: Design) -> dict[str, Any]:
    """For each state the lamps that should be lit; the parts with their edges, to be tapped on."""
    numbers = lamp_numbers(design)
    lit = {state.name: sorted({lamp for own in lit_lamps(design, state.name).values() for lamp in own},
                              key=lambda name: numbers[name]) for state in design.plan.states}
    placed = {lamp.name: lamp for lamp in design.lamps if lamp.spot}
    return {
        "states": [{"state": name, "lamps": lamps} for name, lamps in lit.items() if lamps],
        "parts": [
            {"part": part.name, "outline": plain(part.outline_mm),
             "openings": [plain(row.shape_mm) for row in part.openings]} for part in design.plan.parts
        ],
        "lamps": {
            name: {"number": numbers[name], "group": lamp.group, "part": lamp.spot.part if lamp.spot else None,
                   "at": plain(lamp.spot.at_mm) if lamp.spot else None} for name, lamp in placed.items()
        },
    }


def _evidence_json(rows: Sequence[Evidence]) -> list[dict[str, Any]]:
    return [
        {"step": row.step, "what": row.what, "value": row.value, "counts": row.seen is not None or bool(row.mended),
         "why": row.why, "unit": _unit(row.seen.probe) if row.seen else "", "odd": list(row.odd),
         "says": _seen_words(row)}
        for row in rows
    ]


def _unit(probe: Probe) -> str:
    return {"supply": "mA", "look": "", "beside": "", "ohms": "ohm"}.get(probe.kind, "V")


def _seen_words(row: Evidence) -> str:
    if row.mended:
        return "taken as a fact"
    if row.seen is None:
        return ""
    if row.seen.probe.kind == "look":
        return _look_words(row.seen)
    if row.seen.probe.kind == "beside":
        return outcome_words(row.seen.probe, (row.seen.value, row.seen.value))
    return "OL" if row.seen.probe.kind in SUPPLY_OFF and row.seen.value >= OL else ""


def _look_words(seen: Seen) -> str:
    rows = (("dark", seen.dark), ("dim", seen.dim), ("lit though it should be dark", getattr(seen, "lit", None) or ()))
    return "; ".join(f"{word}: {', '.join(sorted(names))}" for word, names in rows if names) or "all as they should be"


# --- what is wrong ------------------------------------------------------------------------------------------------


def _verdict_json(design: Design, found: Verdict, rows: Sequence[Evidence]) -> dict[str, Any]:
    counted = sum(row.seen is not None or bool(row.mended) for row in rows)
    shown = found.suspects[:MOST_SHOWN] if counted else ()
    sound = any(fault.kind == "none" for group in found.suspects for fault in group.faults)
    pins = [pin for number, group in enumerate(shown, 1) for pin in _pins(design, number, group)]
    pairs = any(fault.kind == "two" for group in found.suspects for fault in group.faults)
    kind = ("nothing yet" if not counted else "no fit" if not found.suspects else "sound" if sound else
            "two" if pairs else "found")
    listed = shown if kind in ("found", "two") else ()
    many = len(found.suspects) + len(getattr(found, "further", ()))
    return {
        "kind": kind, "counted": counted, "more": many - len(listed) if listed else 0,
        "caution": _caution(found), "hidden": _hidden(found) if kind == "sound" else "",
        "suspects": [_suspect_json(design, group, alone=len(found.suspects) == 1) for group in listed],
        "drawings": _drawings(design, pins if listed else [], "suspects"), "odd": _odd(design, rows),
    }


def _caution(found: Verdict) -> str:
    """A short that blew the fuse may still be there."""
    faults = [one for group in found.suspects for fault in group.faults for one in (fault, *_parts(fault))]
    if not any(getattr(fault, "blown", False) for fault in faults):
        return ""
    return "It may be a short: take the supply off before you touch or measure, and fit no larger fuse."


def _parts(fault: Fault) -> tuple[Fault, ...]:
    """The faults that a pair is made of; the fault itself where it is one."""
    return tuple(getattr(fault, "singles", (fault,)))


def _hidden(found: Verdict) -> str:
    """What a cold joint could still be without having shown."""
    joints = getattr(found, "hidden_joints", ())
    if not joints:
        return ""
    most = max(fault.ohm[1] for fault in joints)
    return (f"What that cannot show: at {len(joints)} places a cold joint of up to {most:g} ohm. Pull at every lead; a "
            "joint that is dull and lumpy is one to heat again.")


def _suspect_json(design: Design, group: Suspects, *, alone: bool) -> dict[str, Any]:
    return {
        "says": fault_words(design, group.faults[0]),
        "alike": [fault_words(design, other) for other in group.faults[1:MOST_ALIKE]],
        "mend": mend_name(group.faults[0]),
        "sure": _sure(group, alone=alone),
    }


def _sure(group: Suspects, *, alone: bool) -> str:
    """How sure, in words: whether anything else fits, how well, how usual the fault is."""
    kinds = [one.kind for one in _parts(group.faults[0])]
    rank = max(PRIORS.index(kind) if kind in PRIORS else len(PRIORS) for kind in kinds)
    usual = "a usual fault" if rank <= USUAL else "seldom" if rank >= SELDOM else "it happens"
    fits = "the only one that fits" if alone else "fits" if group.misfit <= 0.5 else "just fits, at the meter's edge"
    return f"{fits}; {usual}"


def _pins(design: Design, number: int, group: Suspects) -> list[Pin]:
    return [Pin(place.part, place.at_mm, str(number), lead=place.lead) for fault in group.faults[:MOST_ALIKE]
            for place in fault_places(design, fault)]


def _odd(design: Design, rows: Sequence[Evidence]) -> list[str]:
    """What may be wrong beside the loom: fibres, bundles, cut lengths of a strip."""
    strips = {lamp for row in design.loom.emitters if row.kind == "strip" for lamp in row.lamps}
    lamps = dict.fromkeys(lamp for row in rows if row.seen for lamp in row.odd)
    fibre = [lamp for lamp in lamps if lamp not in strips]
    strip = [lamp for lamp in lamps if lamp in strips]
    told = []
    if fibre:
        told.append(f"{', '.join(fibre)}: other fibres of the same LED are lit, so look at the fibre: broken, bent too "
                    "tightly, out of its bundle, or glue over its end.")
    dark = {name for row in rows if row.seen for name in row.seen.dark}
    for emitter in design.loom.emitters:
        if emitter.name in dark and emitter.kind == "illuminator":
            told.append(f"{emitter.name} shines through fibres: see first whether the LED itself is lit. If it is, the "
                        "bundle has slipped off it, or the fibre is broken.")
    if strip:
        told.append(f"{', '.join(strip)}: other lengths of the same strip are lit, so look at that cut length of the "
                    "strip and the joints to it.")
    return told


# --- what next ----------------------------------------------------------------------------------------------------


def _next_json(design: Design, found: Verdict) -> dict[str, Any] | None:
    probe = found.next_probe
    if probe is None:
        return None
    told: dict[str, list[int]] = {}
    for value, place in found.outcomes:
        told.setdefault(outcome_words(probe, unsigned(value)), []).append(place + 1)
    use = probe_use(probe, [value for value, _ in found.outcomes])
    return {
        "kind": probe.kind, "state": probe.state, "what": name_of(probe), "unit": _unit(probe),
        "says": probe_words(probe, use.setting.words) if use else probe_words(probe), "why": why_words(found),
        "red": "" if use is None else use.red, "black": "" if use is None else use.black,
        "dial": "" if use is None else use.setting.words, "mind": [] if use is None else list(mind(use)),
        "outcomes": [{"shows": words, "means": numbers} for words, numbers in list(told.items())[:MOST_SHOWN]],
        "meter": None if use is None else to_svg(meter_drawing(use, key="next", title="The meter"), PAPER),
        "drawings": _drawings(design, _probe_pins(design, probe), "probes"),
    }


def _probe_pins(design: Design, probe: Probe) -> list[Pin]:
    if probe.kind == "beside":
        return [Pin(place.part, place.at_mm, name) for name in (probe.plus, probe.back)
                for place in probe_places(design, f"{name}+")[:1]]
    if probe.kind not in BETWEEN:
        return []
    ends = ((probe.plus, "red"), (probe.back, "black"))
    return [Pin(place.part, place.at_mm, colour, colour)
            for name, colour in ends for place in probe_places(design, name)[:1]]


def _drawings(design: Design, pins: Sequence[Pin], key: str) -> list[dict[str, Any]]:
    return [{"title": drawing.title, "caption": drawing.caption, "svg": to_svg(drawing, PAPER)}
            for drawing in pin_drawings(design, pins, key=key)]
