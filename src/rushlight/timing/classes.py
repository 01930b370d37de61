"""What makes a rhythm one of its class, and what keeps two rhythms apart."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import combinations, pairwise

from rushlight.errors import UnknownName
from rushlight.tables import Row, number, rows
from rushlight.timing.rhythm import Rhythm, flash_onsets_s, lit_runs_s, step_starts_s
from rushlight.timing.words import default

_NEAR_S = 1e-6
_SHORT_GREEN_S = 0.3
"""A green flash shorter than this counts as very short (VQ and UQ lie under it); from memory."""


@dataclass(frozen=True, slots=True)
class Breach:
    """One way in which a rhythm breaks a rule: rule key, what was found, what the rule asks, source."""

    rule: str
    found: str
    expected: str
    source: str


@dataclass(frozen=True, slots=True)
class NamedRhythm:
    """A rhythm with the name of its light, its colour as a word, and its delay."""

    name: str
    rhythm: Rhythm
    colour: str = "white"
    delay_s: float = 0.0


def class_rows() -> tuple[Row, ...]:
    """The classes of aton_characters, one row each."""
    return rows("aton_characters")


def obeys_class(rhythm: Rhythm, abbr: str | None = None) -> bool:
    """Whether a rhythm is what its class (or the class named) asks; True for plain words."""
    return not class_breaches(rhythm, abbr)


def class_breaches(rhythm: Rhythm, abbr: str | None = None) -> tuple[Breach, ...]:
    """Every way in which a rhythm breaks the definition of its class.

    Parameters
    ----------
    rhythm : Rhythm
        One period of steps [s].
    abbr : str, optional
        Class to test against, such as `Fl(n)`; by default the rhythm's own kind. A plain word has no class.
    Returns
    -------
    tuple of Breach
        Empty when the rhythm obeys.
    Raises
    ------
    UnknownName
        If `abbr` is given and is no class.
    Notes
    -----
    Rates of Fl count flashes of the whole period; rates of Q, VQ and UQ count the spacing inside a group.
    Source
    ------
    aton_characters (IHO S-57/S-101 definitions, hydrographic Chart 1 section P).
    """
    test = _TESTS.get(abbr or rhythm.kind)
    if test is None:
        if abbr is not None:
            raise UnknownName("light class", abbr, _TESTS)
        return ()
    row = _row_of(abbr or rhythm.kind)
    asked = test(rhythm, row)
    return tuple(Breach(row["abbr"], found, expected, row["source"]) for ok, found, expected in asked if not ok)


Asked = tuple[tuple[bool, str, str], ...]


def _fixed(rhythm: Rhythm, row: Row) -> Asked:
    return ((rhythm.on_share == 1.0, f"lit {100 * rhythm.on_share:.0f} % of the time", "never dark"),)


def _flashing(rhythm: Rhythm, row: Row) -> Asked:
    limit = number(row, "rate_max_per_min") or 50.0
    on = lit_runs_s(rhythm, True)
    return (
        (rhythm.on_share < 0.5, f"lit {100 * rhythm.on_share:.0f} % of the time", "less light than dark"),
        (_alike(on) or "+" in row["abbr"], f"flashes of {min(on):g} to {max(on):g} s", "flashes all alike"),
        (rhythm.rate_per_min < limit, f"{rhythm.rate_per_min:.1f} flashes a minute", f"under {limit:g} a minute"),
    )


def _group(rhythm: Rhythm, row: Row) -> Asked:
    inside, between = _gaps_s(rhythm, lit=False)
    return (
        *_flashing(rhythm, row),
        _gap_rule(inside, between),
    )


def _gap_rule(inside: tuple[float, ...], between: tuple[float, ...]) -> tuple[bool, str, str]:
    found = f"{min(between, default=0.0):g} s between groups"
    return _larger(between, inside), found, f"more than the {max(inside, default=0.0):g} s inside"


def _composite(rhythm: Rhythm, row: Row) -> Asked:
    return (*_group(rhythm, row), _counted(rhythm, lit=False))


def _flash_and_long(rhythm: Rhythm, row: Row) -> Asked:
    on, least_s = lit_runs_s(rhythm, True), default("long_flash_s")
    return (
        (rhythm.on_share < 0.5, f"lit {100 * rhythm.on_share:.0f} % of the time", "less light than dark"),
        (max(on) >= least_s - _NEAR_S, f"long flash of {max(on):g} s", f"{least_s:g} s or more"),
        (min(on) <= max(on) / 3 + _NEAR_S, f"short flash of {min(on):g} s", f"at most {max(on) / 3:.3g} s"),
    )


def _long(rhythm: Rhythm, row: Row) -> Asked:
    on, least_s = lit_runs_s(rhythm, True), default("long_flash_s")
    return (
        (len(on) == 1, f"{len(on)} flashes", "a single flash"),
        (min(on) >= least_s - _NEAR_S, f"a flash of {min(on):g} s", f"{least_s:g} s or more"),
        (rhythm.on_share < 1.0, "never dark", "a dark stretch"),
    )


def _occulting(rhythm: Rhythm, row: Row) -> Asked:
    off = lit_runs_s(rhythm, False)
    dark_share = 1 - rhythm.on_share
    return (
        (dark_share < 0.5 and dark_share > 0, f"dark {100 * dark_share:.0f} % of the time", "more light than dark"),
        (_alike(off), f"eclipses of {min(off):g} to {max(off):g} s", "eclipses all alike"),
    )


def _occulting_group(rhythm: Rhythm, row: Row) -> Asked:
    off = lit_runs_s(rhythm, False)
    inside, between = _gaps_s(rhythm, lit=True)
    dark_share = 1 - rhythm.on_share
    return (
        (0 < dark_share <= 0.5 + _NEAR_S, f"dark {100 * dark_share:.0f} % of the time", "no more dark than light"),
        (_alike(off), f"eclipses of {min(off):g} to {max(off):g} s", "eclipses all alike"),
        _gap_rule(inside, between),
    )


def _isophase(rhythm: Rhythm, row: Row) -> Asked:
    times = lit_runs_s(rhythm, True) + lit_runs_s(rhythm, False)
    ok = 0 < rhythm.on_share < 1 and _alike(times)
    return ((ok, f"stretches of {min(times):g} to {max(times):g} s", "all lit and dark stretches alike"),)


def _quick(rhythm: Rhythm, row: Row) -> Asked:
    low, high = number(row, "rate_min_per_min") or 0.0, number(row, "rate_max_per_min") or float("inf")
    rate = _rate_inside(rhythm)
    below = rate <= high if row["abbr"] == "UQ" else rate < high
    return ((low - _NEAR_S <= rate and below, f"{rate:.1f} flashes a minute", f"{low:g} to {high:g} a minute"),)


def _interrupted(rhythm: Rhythm, row: Row) -> Asked:
    gaps = lit_runs_s(rhythm, False)
    return ((max(gaps) > 2 * min(gaps), f"longest eclipse {max(gaps):g} s", "one long eclipse in the period"),)


def _morse(rhythm: Rhythm, row: Row) -> Asked:
    lit = lit_runs_s(rhythm, True)
    short, long = min(lit), max(lit)
    alike = all(abs(t - short) < 0.1 * short or abs(t - long) < 0.1 * long for t in lit)
    ratio = long / short
    ok = alike and (ratio < 1.1 or 2.4 <= ratio <= 3.6)
    return ((ok, f"long {long:g} s, short {short:g} s", "long flashes about three times the short ones"),)


def _fixed_flashing(rhythm: Rhythm, row: Row) -> Asked:
    levels = {step.level for step in rhythm.steps}
    ok = rhythm.on_share == 1.0 and len(levels) > 1
    return ((ok, f"levels {min(levels):g} to {max(levels):g}", "never dark, with brighter flashes"),)


def _alternating(rhythm: Rhythm, row: Row) -> Asked:
    seen = {step.colour for step in rhythm.steps if step.level > 0 and step.colour}
    return ((len(seen) >= 2, f"{len(seen)} colours", "at least two colours in the period"),)


_TESTS: dict[str, Callable[[Rhythm, Row], Asked]] = {
    "F": _fixed, "Fl": _flashing, "Fl(n)": _group, "Fl(a+b)": _composite, "LFl": _long, "Fl+LFl": _flash_and_long,
    "Oc": _occulting, "Oc(n)": _occulting_group, "Oc(a+b)": _occulting_group, "Iso": _isophase,
    "Q": _quick, "Q(n)": _quick, "VQ": _quick, "VQ(n)": _quick, "UQ": _quick, "UQ(n)": _quick,
    "IQ": _interrupted, "IVQ": _interrupted, "IUQ": _interrupted,
    "IQ(n)": _interrupted, "IVQ(n)": _interrupted, "IUQ(n)": _interrupted,
    "Mo(x)": _morse, "FFl": _fixed_flashing, "FFl(n)": _fixed_flashing, "Al": _alternating,
}


def _row_of(abbr: str) -> Row:
    plain = abbr.replace("(a+b)", "(n)") if abbr.startswith("Oc") else abbr.replace("Fl+LFl", "LFl")
    listed = {name.strip(): row for row in class_rows() for name in row["abbr"].split(",")}
    return listed.get(plain) or listed[plain.removesuffix("(n)")]


def _gaps_s(rhythm: Rhythm, *, lit: bool) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Stretches inside the groups, and between them, by the counts that the text gives."""
    gaps = _runs_after_each(rhythm, gap_lit=lit)
    if len(gaps) != sum(rhythm.groups):
        return (), gaps
    ends = {sum(rhythm.groups[: k + 1]) - 1 for k in range(len(rhythm.groups))}
    inside = tuple(gap for k, gap in enumerate(gaps) if k not in ends)
    return inside, tuple(gap for k, gap in enumerate(gaps) if k in ends)


def _runs_after_each(rhythm: Rhythm, *, gap_lit: bool) -> tuple[float, ...]:
    """The gap after each flash (or the lit stretch after each eclipse), in the order of the period."""
    states = [(step.level > 0) == gap_lit for step in rhythm.steps]
    runs = lit_runs_s(rhythm, gap_lit)
    # lit_runs_s starts after the first non-gap step; a gap that opens the period therefore comes last, as it should.
    return runs if not all(states) else ()


def _counted(rhythm: Rhythm, *, lit: bool) -> tuple[bool, str, str]:
    gaps = _runs_after_each(rhythm, gap_lit=lit)
    asked = "+".join(str(count) for count in rhythm.groups)
    return len(gaps) == sum(rhythm.groups), f"{len(gaps)} flashes", f"flashes in groups of {asked}"


def _rate_inside(rhythm: Rhythm) -> float:
    starts = flash_onsets_s(rhythm)
    if len(starts) < 2:
        return rhythm.rate_per_min
    return 60.0 / min(later - first for first, later in pairwise(starts))


def _alike(times: tuple[float, ...]) -> bool:
    return max(times) - min(times) <= 1e-3 * max(times) + _NEAR_S


def _larger(between: tuple[float, ...], inside: tuple[float, ...]) -> bool:
    return not inside or (bool(between) and min(between) > max(inside) + _NEAR_S)


def told_apart(first: Rhythm, second: Rhythm) -> bool:
    """Whether two rhythms of one family are told apart: rates 3 to 1, or unlike groups; other families always are.

    Source
    ------
    aton_rules, row ratio.
    """
    if _family(first) != _family(second) or first.groups != second.groups:
        return True
    if first.kind in ("Mo(x)", "Al", "F", "FFl"):
        return first.steps != second.steps
    rates = sorted((_rate_inside(first), _rate_inside(second)))
    return rates[0] > 0 and rates[1] / rates[0] >= 3.0 - _NEAR_S


def rules_broken(lights: tuple[NamedRhythm, ...]) -> tuple[Breach, ...]:
    """Rules of aton_rules that a set of sea lights breaks; names of the lights stand in `found`.

    Source
    ------
    aton_rules (national translation of the IALA recommendation on rhythmic characters).
    """
    alone = [breach for light in lights for breach in (*_long_short(light), *_green_short(light))]
    pairs = [breach for a, b in combinations(lights, 2) for breach in (*_ratio(a, b), *_yellow_white(a, b))]
    return tuple(alone + pairs)


def _rule(key: str, found: str) -> Breach:
    row = next(row for row in rows("aton_rules") if row["key"] == key)
    return Breach(key, found, row["rule"], row["source"])


def _long_short(light: NamedRhythm) -> tuple[Breach, ...]:
    lit = lit_runs_s(light.rhythm, True)
    mixed = len(lit) > 1 and not _alike(lit) and light.rhythm.kind not in ("Mo(x)", "Al", "steps")
    bad = mixed and not (max(lit) >= default("long_flash_s") - _NEAR_S and min(lit) <= max(lit) / 3 + _NEAR_S)
    if not bad or light.rhythm.kind.startswith("Oc"):
        return ()
    return (_rule("long_short", f"{light.name}: long {max(lit):g} s, short {min(lit):g} s"),)


def _green_short(light: NamedRhythm) -> tuple[Breach, ...]:
    lit = lit_runs_s(light.rhythm, True)
    if light.colour != "green" or light.rhythm.on_share == 1.0 or min(lit) >= _SHORT_GREEN_S:
        return ()
    return (_rule("green_short", f"{light.name}: green flashes of {min(lit):g} s"),)


def _ratio(a: NamedRhythm, b: NamedRhythm) -> tuple[Breach, ...]:
    if a.colour != b.colour or told_apart(a.rhythm, b.rhythm):
        return ()
    return (_rule("ratio", f"{a.name} and {b.name}: {a.rhythm.text}, {b.rhythm.text}"),)


def _yellow_white(a: NamedRhythm, b: NamedRhythm) -> tuple[Breach, ...]:
    if {a.colour, b.colour} != {"yellow", "white"} or told_apart(a.rhythm, b.rhythm):
        return ()
    return (_rule("yellow_white", f"{a.name} and {b.name}: {a.rhythm.text}, {b.rhythm.text}"),)


def _family(rhythm: Rhythm) -> str:
    bare = rhythm.kind.split("(")[0]
    return "flashing" if bare in ("Fl", "Q", "VQ", "UQ", "IQ", "IVQ", "IUQ", "flash", "strobe") else bare


def unlike_phase(lights: tuple[NamedRhythm, ...], *, tolerance_s: float = 0.02) -> tuple[Breach, ...]:
    """Pairs of lights meant to flash together (same rhythm) whose flashes do not begin together.

    Parameters
    ----------
    lights : tuple of NamedRhythm
        Lights with their delays [s], such as the left and right strobes of one aircraft.
    tolerance_s : float
        Largest difference of onset that the eye takes as together [s].
    Returns
    -------
    tuple of Breach
        One for each pair out of step.
    Source
    ------
    practice_rules two_strobes (common practice, no source); tolerance from memory.
    """
    return tuple(
        Breach("two_strobes", f"{a.name}, {b.name}: {off:.3g} s apart", f"at most {tolerance_s:g} s", _practice())
        for a, b in combinations(lights, 2)
        if (off := apart_s(a, b)) > tolerance_s
    )


def apart_s(first: NamedRhythm, second: NamedRhythm) -> float:
    """Smallest shift [s] that would bring two rhythms of equal period together; infinite for unequal periods."""
    period_s = first.rhythm.period_s
    if abs(period_s - second.rhythm.period_s) > _NEAR_S:
        return float("inf")
    starts = [
        (light.delay_s + (flash_onsets_s(light.rhythm) or step_starts_s(light.rhythm.steps))[0]) % period_s
        for light in (first, second)
    ]
    off = abs(starts[0] - starts[1])
    return min(off, period_s - off)


def _practice() -> str:
    return next(row["source"] for row in rows("practice_rules") if row["key"] == "two_strobes")
