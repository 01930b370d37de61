"""Strobes and beacons whose flashes are longer or shorter than real ones look."""

from __future__ import annotations

from rushlight.findings._lights import rhythm_groups, rhythm_of
from rushlight.findings._words import listed, plain, spot_of
from rushlight.model.design import Design
from rushlight.model.drawer import Habit
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.timing.rhythm import lit_runs_s

KINDS = {"strobe": "flicker_strobe", "double strobe": "flicker_strobe", "beacon": "flicker_beacon"}


def _look(design: Design) -> tuple[Trouble, ...]:
    found = []
    for text, groups in rhythm_groups(design).items():
        rhythm = rhythm_of(text)
        if rhythm is None or rhythm.kind not in KINDS:
            continue
        habit = design.drawer.habit(KINDS[rhythm.kind])
        for seconds in sorted(set(lit_runs_s(rhythm, True))):
            if limit := _broken(habit, seconds):
                found.append(_trouble(design, groups, text, seconds=seconds, limit=limit, kind=rhythm.kind))
                break
    return tuple(found)


def _broken(habit: Habit, seconds: float) -> float | None:
    low, high = habit.low or 0.0, habit.high or float("inf")
    if low - 1e-6 <= seconds <= high + 1e-6:
        return None
    return low if seconds < low else high


def _trouble(
    design: Design, groups: list[str], text: str, *, seconds: float, limit: float, kind: str
) -> Trouble:
    names = [f"'{name}'" for name in groups]
    word = "shorter" if seconds < limit else "longer"
    return Trouble(
        item=groups[0], spot=spot_of(design, groups[0]), number=seconds, limit=limit,
        says=f"{listed(names)} ({text}) is lit for {plain(seconds)} s, {word} than the {plain(limit)} s of a {kind}.",
        cure=f"Write its length into the rhythm: on {plain(limit)} s.",
    )


RULE = Rule(
    key="light.flash-length",
    grade=Grade.COULD_BE_BETTER,
    title="Flash of an unreal length",
    unit="s",
    why="Strobes are short and bright, turning beacons soft and longer; the eye knows the difference.",
    cure="Give the flash its usual length.",
    source="habit flicker_real, with its two parts: common practice, no source",
    practice="flicker_real",
    look=_look,
)
