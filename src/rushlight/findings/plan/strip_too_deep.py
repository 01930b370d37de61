"""A strip that reaches farther back, with its gap and its sheets, than there is room behind its windows."""

from __future__ import annotations

from collections.abc import Iterator

from rushlight.findings._words import capital, plain
from rushlight.model.design import Design
from rushlight.model.design_loom import Emitter
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.strip_depth import STRIP_TALL_MM, Depth, depth_behind, sheets_mm, wants_mm
from rushlight.stages.strip_nearer import Nearer, nearer
from rushlight.stages.strip_words import ratio_words, times_words
from rushlight.stages.strips import find_opening, run_of


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, emitter, depth) for emitter, depth in too_deep(design))


def too_deep(design: Design) -> Iterator[tuple[Emitter, Depth]]:
    """Strips that want more than the least that may lie behind their windows."""
    for emitter in design.loom.emitters:
        if emitter.kind == "strip":
            openings = [find_opening(design.plan, emitter, lamp) for lamp in emitter.lamps]
            depth = depth_behind(design.plan, run_of(emitter), openings)
            wants = wants_mm(design.drawer, run_of(emitter), openings)
            if depth is not None and wants > depth.sides_mm[0] + 1e-9:
                yield emitter, depth


def limit_mm(wants: float, depth: Depth) -> float:
    """The widest of what may lie behind that is too little."""
    return max(side for side in depth.sides_mm if wants > side)


def _trouble(design: Design, emitter: Emitter, depth: Depth) -> Trouble:
    run = run_of(emitter)
    openings = [find_opening(design.plan, emitter, lamp) for lamp in emitter.lamps]
    wants, sheets = wants_mm(design.drawer, run, openings), sheets_mm(design.drawer, openings)
    sure = wants > depth.sides_mm[-1]
    behind = f", {plain(sheets, 3)} for what stands in the windows" if sheets else ""
    return Trouble(
        item=emitter.name, spot=emitter.spot, number=wants, limit=limit_mm(wants, depth),
        grade=Grade.WILL_FAIL if sure else None,
        says=f"'{emitter.name}' reaches {plain(wants, 3)} mm behind its windows ({plain(run.gap_mm, 3)} for the "
             f"gap{behind}, {plain(STRIP_TALL_MM)} for strip and LEDs); {_there(depth, wants, sure)}.",
        cure=_cure(design, emitter, depth, sure),
    )


def _there(depth: Depth, wants: float, sure: bool) -> str:
    if depth.space is None:
        return f"{plain(depth.sides_mm[0], 3)} mm are free there"
    name = f"'{depth.space.name}' behind them is"
    if sure:
        return f"{name} {plain(depth.sides_mm[-1], 3)} mm deep{'' if len(depth.sides_mm) == 1 else ' at the most'}"
    some = [f"the {plain(side, 3)} mm" for side in depth.sides_mm if side < wants]
    size = " x ".join(plain(side, 4) for side in depth.space.size_mm)
    return f"{name} {size} mm, and it does not go in if {' or '.join(some)} lie that way"


def _cure(design: Design, emitter: Emitter, depth: Depth, sure: bool) -> str:
    if sure:
        return f"{capital(_nearer_words(design, emitter, depth.sides_mm[-1]))}."
    least = depth.sides_mm[0]
    return (f"Measure how deep it is there and say so (plan file: depth_mm of the strip). If it is "
            f"{plain(least, 3)} mm, {_nearer_words(design, emitter, least)}.")


def _nearer_words(design: Design, emitter: Emitter, depth_mm: float) -> str:
    found = nearer(design, emitter.name, depth_mm)
    if not found:
        return "no strip goes in: light the windows by an LED in the room behind each, or by fibre"
    best, now = found[0], run_of(emitter).gap_mm
    told = f"bring it nearer, from {plain(now, 3)} to {plain(best.laid.run.gap_mm, 3)} mm"
    if best.laid.row != emitter.part_row:
        pitch = plain(design.drawer.strip(best.laid.row).pitch_mm, 3)
        told += f", and take '{best.laid.row}' (LEDs {pitch} mm apart)"
    return f"{told} ({left_words(best)})"


def left_words(row: Nearer) -> str:
    """What a strip that was brought nearer leaves."""
    seen = f"tried: brightest to darkest {ratio_words(row.ratio)}, {times_words(row.times)} times what a trained eye " \
           "just sees"
    return seen if row.even else f"{seen}: its LEDs show then, so see to that too; else light the windows by LEDs in " \
                                 "rooms or by fibre"


RULE = Rule(
    key="plan.strip-too-deep",
    grade=Grade.COULD_BE_BETTER,
    title="Strip deeper than the room behind",
    unit="mm",
    why="What does not go in keeps the model from closing, or comes to lie nearer to the windows than was reckoned.",
    cure="Bring the strip nearer to its windows, of a finer pitch where its LEDs would show.",
    source="gap, sheets and thickness against the depth in the plan; thickness of a strip from memory; each cure lit "
           "anew on the plan",
    look=_look,
)
