"""Readings of one entry at the bench that scatter far more than their method allows."""

from __future__ import annotations

import statistics

from rushlight.findings._words import plain, spot_of, times_words
from rushlight.findings.plan.readings_apart import APART, INTENSITY
from rushlight.model.design import Design
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.model.plan_bench import Measured
from rushlight.stages.scattered import Scatter, scatters

MOST_TOLD = 6
"""So many readings are told one by one."""


def _look(design: Design) -> tuple[Trouble, ...]:
    return tuple(_trouble(design, one, found) for one in design.plan.measured for found in scatters(one)
                 if not _told_else(one, found))


def _told_else(one: Measured, found: Scatter) -> bool:
    """LEDs of one bag that lie farther apart still have a finding of their own."""
    return one.what == INTENSITY and found.times > APART


def _trouble(design: Design, one: Measured, found: Scatter) -> Trouble:
    return Trouble(
        item=one.of, spot=spot_of(design, one.of), number=found.times, limit=found.limit,
        says=f"Your readings of '{one.of}' ({one.what}{', ' + found.told if found.told else ''}) in one entry do not "
             f"agree: {_values(found)}{_by(one, found)}, {plain(found.times)} times apart. Good to "
             f"{plain(100 * found.share)} % either way they may lie {plain(found.limit)} times apart at the most.",
        cure=_cure(one, found),
    )


def _values(found: Scatter) -> str:
    told = [plain(value, 4) for value in found.values]
    if len(told) > MOST_TOLD:
        low, high = min(found.values), max(found.values)
        return f"{len(told)} from {plain(low, 4)} to {plain(high, 4)}"
    return f"{', '.join(told[:-1])} and {told[-1]}"


def _by(one: Measured, found: Scatter) -> str:
    """What they are compared by, where it is not they themselves."""
    if found.key == "readings" and one.what == "hull warmth":
        return ", by their rise over the room"
    if found.key == "readings" and one.what == "cell resistance":
        return ", by what the volts fall by"
    return ""


def _cure(one: Measured, found: Scatter) -> str:
    if found.odd_value is None:
        every = "both" if len(found.values) == 2 else "all of them"
        return (f"Read {every} once more in one go, from one place, and nothing else moved. If they stand, the "
                "pieces are so unlike: sort them, and give each kind an entry of its own.")
    more = found.odd_times > 1
    far = f"{times_words(found.odd_times)} times"
    nought = f" It has a nought too {'many' if more else 'few'}, perhaps." if found.nought else ""
    with_it, without = (plain(statistics.fmean(values), 3) for values in (found.values, found.others))
    return (f"Read the one of {plain(found.odd_value, 4)} once more: it is {far} the middle of the "
            f"others{_by(one, found)}, and takes their mean from {without} to {with_it}.{nought} If it slipped, strike "
            "it; if it stands, leave it: it widens the range that is reckoned with.")


RULE = Rule(
    key="plan.readings-scatter",
    grade=Grade.DOUBTFUL,
    title="Readings of one entry that do not agree",
    unit="times",
    why="Their mean is reckoned with, so one that slipped shifts it, and widens every range that hangs on it.",
    cure="Read the odd one once more; strike it if it slipped.",
    source="error of the bench method or of the entry; twice as far, as logarithms, is a project rule",
    look=_look,
)
