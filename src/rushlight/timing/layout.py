"""Usual lengths of flashes and eclipses for each class of rhythm, fitted into a period."""

from __future__ import annotations

import math

from rushlight.errors import OutOfRange
from rushlight.timing.rhythm import Step
from rushlight.timing.words import MORSE_DASH_UNITS, default, morse

_QUICK = {"Q": "quick", "VQ": "very_quick", "UQ": "ultra_quick"}
_INTERRUPTED = {"IQ": "Q", "IVQ": "VQ", "IUQ": "UQ"}


def needs_period(kind: str, group: str, alternating: bool) -> bool:
    """Whether a class says nothing of time without a period."""
    return alternating or bool(group) or kind not in ("F", *_QUICK)


def class_name(kind: str, group: str, *, long_after: bool = False) -> str:
    """The class that class letters and their group make, such as `Fl(n)`; `Fl+LFl` with a long flash after Fl."""
    if kind == "Mo":
        return "Mo(x)"
    if kind == "Fl" and long_after:
        return "Fl+LFl"
    if not group:
        return kind
    return f"{kind}(a+b)" if "+" in group else f"{kind}(n)"


def counts(group: str) -> tuple[int, ...]:
    """Flashes in each group of a text such as `2+1`.

    Raises
    ------
    OutOfRange
        If a count is no whole number from 1 to 20, or there are more than 4 groups.
    """
    pieces = group.split("+")
    if len(pieces) > 4 or not all(piece.isdecimal() and 1 <= int(piece) <= 20 for piece in pieces):
        raise OutOfRange("group", f"({group})", "counts of 1 to 20, such as (2) or (2+1)")
    return tuple(int(piece) for piece in pieces)


def lay_out(kind: str, group: str, period_s: float | None, *, long_after: bool = False) -> tuple[Step, ...]:
    """Steps of one period of a class, with usual lengths.

    Parameters
    ----------
    kind : str
        Class letters without a group, such as `Fl`, `VQ`, `Al Oc` (one colour's share of an alternating light).
    group : str
        `2`, `2+1`, a Morse text, or empty.
    period_s : float or None
        Period [s], over 0; None where the class has its own spacing.
    long_after : bool
        Whether a long flash follows the group (`+LFl`).
    Returns
    -------
    tuple of Step
        Steps that add up to the period [s]; colours are left out.
    Raises
    ------
    OutOfRange
        If the period is too short.
    Notes
    -----
    A group that does not fit is shortened in proportion until the dark (or lit) rest is twice the stretch inside it.
    Source
    ------
    aton_characters for the classes, rhythm_defaults for lengths.
    """
    if kind in _INTERRUPTED:
        return _interrupted(_INTERRUPTED[kind], group, _known(period_s))
    if kind in _QUICK:
        return _quick(kind, group, period_s, long_after)
    if kind == "Mo":
        return _morse(group, _known(period_s))
    if kind == "F":
        return (Step(None, 1.0, period_s or 1.0),)
    if kind == "FFl":
        fixed = default("fixed_level")
        return tuple(Step(None, max(s.level, fixed), s.seconds) for s in lay_out("Fl", group, period_s))
    return _with_period(kind, group, _known(period_s), long_after)


def _with_period(kind: str, group: str, period_s: float, long_after: bool) -> tuple[Step, ...]:
    if kind == "Iso":
        return Step(None, 1.0, period_s / 2), Step(None, 0.0, period_s / 2)
    if kind == "LFl":
        return _ending_dark((Step(None, 1.0, default("long_flash_s")),), period_s)
    if kind == "Al Oc":
        dark_s = default("alternating_dark_share") * period_s
        return Step(None, 1.0, period_s - dark_s), Step(None, 0.0, dark_s)
    if kind == "Oc":
        return _occulting(counts(group or "1"), period_s)
    return _flashing(counts(group or "1"), period_s, long_after)


def _flashing(groups: tuple[int, ...], period_s: float, long_after: bool) -> tuple[Step, ...]:
    on_s, gap_s = default("flash_s"), default("flash_gap_s")
    long_s = default("long_flash_s") if long_after else 0.0
    between_s = default("group_gap_factor") * gap_s
    lit_s = sum(groups) * on_s
    inside_s = sum(count - 1 for count in groups) * gap_s + (len(groups) - 1) * between_s + (gap_s if long_after else 0)
    rest_s = lit_s * 1.5 if groups == (1,) else 1.5 * between_s if len(groups) > 1 else 2 * gap_s
    scale = min(1.0, (period_s - long_s) / (lit_s + inside_s + rest_s))
    if scale <= 0:
        raise OutOfRange("rhythm period", f"{period_s:g} s", f"more than the long flash, {long_s:g} s")
    steps: list[Step] = []
    for index, count in enumerate(groups):
        steps += [Step(None, 0.0, between_s * scale)] if index else []
        steps += _repeat(count, on_s * scale, gap_s * scale)
    if long_after:
        steps += [Step(None, 0.0, gap_s * scale), Step(None, 1.0, long_s)]
    return _ending_dark(tuple(steps), period_s)


def _occulting(groups: tuple[int, ...], period_s: float) -> tuple[Step, ...]:
    if groups == (1,):
        dark_s = default("eclipse_share") * period_s
        return Step(None, 0.0, dark_s), Step(None, 1.0, period_s - dark_s)
    eclipse_s = default("eclipse_s")
    total = sum(groups)
    inside = total - len(groups)
    scale = min(1.0, period_s / (eclipse_s * (total + inside + 2.0 * len(groups))))
    unit_s = eclipse_s * scale
    outer_s = (period_s - unit_s * (total + inside)) / len(groups)
    steps: list[Step] = []
    for count in groups:
        steps += [step for k in range(count) for step in (Step(None, 0.0, unit_s), Step(None, 1.0, unit_s))]
        steps[-1] = Step(None, 1.0, outer_s)
    return tuple(steps)


def _quick(kind: str, group: str, period_s: float | None, long_after: bool) -> tuple[Step, ...]:
    spacing_s, on_s = default(f"{_QUICK[kind]}_s"), default(f"{_QUICK[kind]}_on_s")
    pair = (Step(None, 1.0, on_s), Step(None, 0.0, spacing_s - on_s))
    if not group:
        if period_s is None:
            return pair
        return Step(None, 1.0, period_s * on_s / spacing_s), Step(None, 0.0, period_s * (1 - on_s / spacing_s))
    (count,) = counts(group) if "+" not in group else (0,)
    if count == 0:
        raise OutOfRange("group", f"({group})", "one count, such as (6)")
    steps = pair * count
    if long_after:
        return _ending_dark((*steps, Step(None, 1.0, default("long_flash_s"))), _known(period_s))
    return _ending_dark(steps[:-1], _known(period_s))


def _interrupted(kind: str, group: str, period_s: float) -> tuple[Step, ...]:
    spacing_s = default(f"{_QUICK[kind]}_s")
    count = counts(group)[0] if group else int(default("interrupted_share") * period_s / spacing_s)
    if count < 2:
        raise OutOfRange("rhythm period", f"{period_s:g} s", f"at least {2 * spacing_s / 0.6:.3g} s")
    return _quick(kind, str(count), period_s, False)


def _morse(text: str, period_s: float) -> tuple[Step, ...]:
    if not text:
        raise OutOfRange("Morse light", "no letter", "a letter in brackets, such as Mo(A)")
    unit = [piece for sign in text for piece in (*_sign(sign), (False, MORSE_DASH_UNITS))][:-1]
    units = sum(length for _, length in unit)
    unit_s = min(default("morse_dot_s"), period_s / (units + 2 * MORSE_DASH_UNITS))
    return _ending_dark(tuple(Step(None, 1.0 if lit else 0.0, length * unit_s) for lit, length in unit), period_s)


def _sign(sign: str) -> tuple[tuple[bool, int], ...]:
    marks = [(True, MORSE_DASH_UNITS if mark == "-" else 1) for mark in morse(sign)]
    return tuple(piece for mark in marks for piece in (mark, (False, 1)))[:-1]


def _repeat(count: int, on_s: float, gap_s: float) -> list[Step]:
    pieces = [step for _ in range(count) for step in (Step(None, 1.0, on_s), Step(None, 0.0, gap_s))]
    return pieces[:-1]


def _ending_dark(steps: tuple[Step, ...], period_s: float) -> tuple[Step, ...]:
    lit_s = math.fsum(step.seconds for step in steps)
    if period_s <= lit_s:
        raise OutOfRange("rhythm period", f"{period_s:g} s", f"more than its flashes need, {lit_s:g} s")
    return (*steps, Step(None, 0.0, period_s - lit_s))


def _known(period_s: float | None) -> float:
    if period_s is None:
        raise OutOfRange("rhythm period", "missing", "a period in s")
    return period_s
