"""What a model shows against what its rule asks: missing, extra, wrong colour, wrong arc."""

from __future__ import annotations

import re
from dataclasses import replace

from rushlight.errors import OutOfRange
from rushlight.model.subject_light import Difference, RequiredLamp, ShownLamp, SubjectLights

FAMILIES = {"amber": "yellow", "orange": "yellow", "golden": "white", "incandescent": "white", "lime": "green"}
"""Colour words that pass for another of the rules."""

SIGNAL = ("red", "green", "yellow", "blue")
"""Colours that on a model without a rule key still read as a signal light."""

_BANDS_NM = ((440.0, 490.0, "blue"), (490.0, 565.0, "green"), (565.0, 612.0, "yellow"), (612.0, 700.0, "red"))


def check_against(
    required: SubjectLights, lamps: tuple[ShownLamp, ...], *, state: str | None = None, tolerance_deg: float = 5.0
) -> tuple[Difference, ...]:
    """Differences between what a rule asks in one state and the lamps that a model shows.

    Parameters
    ----------
    required : SubjectLights
        Answer of `required_lights` for one state.
    lamps : tuple of ShownLamp
        The model's lamps, all of them or those of one state.
    state : str, optional
        The model's own name of the state; lamps that are not lit in it are left out. None takes all lamps.
    tolerance_deg : float
        How far a sector's edge may lie off [deg], 0 to 45.
    Returns
    -------
    tuple of Difference
        Missing first, then wrong colours and arcs, then extra lamps, each in the order of its list.
    Raises
    ------
    OutOfRange
        If the tolerance lies outside 0 to 45.
    Notes
    -----
    A lamp with a rule key stands for that light; others are matched by colour and sector. A lamp without key that is
    white without a sector (a portlight, a floodlight) is never called extra.
    Source
    ------
    The rules named in `required`; 5 degrees: COLREGs 1972 Annex I 9(a).
    """
    if not 0.0 <= tolerance_deg <= 45.0:
        raise OutOfRange("tolerance_deg", tolerance_deg, "0 to 45 deg")
    lit = [lamp for lamp in lamps if state is None or state in lamp.states]
    single = [replace(lamp, count=1) for lamp in lit for _ in range(lamp.count)]
    wanted = [replace(lamp, count=1) for lamp in required.lamps for _ in range(lamp.count)]
    wanted.sort(key=lambda lamp: lamp.requirement not in _BINDING)
    pairs, missing, extra = _paired(wanted, single, tolerance_deg)
    return (
        *_missing(missing),
        *(found for want, show in pairs for found in _compared(want, show, tolerance_deg)),
        *_extra(extra, required),
    )


_BINDING = ("must", "if practicable")

Pairs = list[tuple[RequiredLamp, ShownLamp]]


def _paired(
    wanted: list[RequiredLamp], shown: list[ShownLamp], tolerance_deg: float
) -> tuple[Pairs, list[RequiredLamp], list[ShownLamp]]:
    """Pair by rule key, then colour and sector, then sector alone, then colour alone."""
    pairs: Pairs = []
    left, rest = list(wanted), list(shown)
    for likeness in (_full_key, _bare_key, _colour_and_arc, _arc_only, _colour_only):
        for show in list(rest):
            match = next((want for want in left if likeness(want, show, tolerance_deg)), None)
            if match is not None:
                pairs.append((match, show))
                left.remove(match)
                rest.remove(show)
    pairs.sort(key=lambda pair: shown.index(pair[1]))
    return pairs, left, rest


def _full_key(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> bool:
    return show.rule_key is not None and show.rule_key == want.rule_key


def _bare_key(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> bool:
    return show.rule_key is not None and show.rule_key.split("/")[0] == want.light


def _colour_and_arc(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> bool:
    return show.rule_key is None and _right_colour(want, show) and _same_arc(want, show, tolerance_deg)


def _arc_only(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> bool:
    return show.rule_key is None and want.arc_deg not in (None, 360.0) and _same_arc(want, show, tolerance_deg)


def _colour_only(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> bool:
    sure = show.arc_from_deg is not None or colour_family(show.colour) in SIGNAL
    return show.rule_key is None and sure and _right_colour(want, show)


def _compared(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> tuple[Difference, ...]:
    found: list[Difference] = []
    if not _right_colour(want, show):
        expected = " or ".join(want.colours)
        found.append(Difference("wrong colour", want.rule_key, show.name, expected, show.colour, want.source))
    known = show.arc_from_deg is not None and want.bearing_from_deg is not None
    if known and not _same_arc(want, show, tolerance_deg):
        found.append(Difference("wrong arc", want.rule_key, show.name, _arc_text(want), _shown_arc(show), want.source))
    return tuple(found)


def _missing(left: list[RequiredLamp]) -> tuple[Difference, ...]:
    return tuple(
        Difference("missing", lamp.rule_key, "", f"{lamp.name}, {lamp.colour}, {_arc_text(lamp)}", "none", lamp.source)
        for lamp in left
        if lamp.requirement in _BINDING
    )


def _extra(rest: list[ShownLamp], required: SubjectLights) -> tuple[Difference, ...]:
    rule = f"{required.state}: {'; '.join(required.sources) or 'no light asked for'}"
    return tuple(
        Difference("extra", lamp.rule_key or "", lamp.name, "not shown", f"{lamp.colour}, {_shown_arc(lamp)}", rule)
        for lamp in rest
        if lamp.rule_key is not None or lamp.arc_from_deg is not None or colour_family(lamp.colour) in SIGNAL
    )


def _right_colour(want: RequiredLamp, show: ShownLamp) -> bool:
    return colour_family(show.colour) in {colour_family(colour) for colour in want.colours}


def colour_family(colour: str) -> str:
    """The rules' colour that a plan's colour passes for: `warm white` and 3000 K are white, 525 nm is green.

    Source
    ------
    Bands of dominant wavelength from memory; the exact bounds of signal colours are checked elsewhere.
    """
    text = colour.casefold().strip()
    if found := re.fullmatch(r"(\d+(?:\.\d+)?) ?nm", text):
        wave = float(found.group(1))
        return next((name for low, high, name in _BANDS_NM if low <= wave < high), text)
    if re.fullmatch(r"\d+(?:\.\d+)? ?k", text):
        return "white"
    word = next((word for word in reversed(text.split()) if word), text)
    return FAMILIES.get(word, word)


def _same_arc(want: RequiredLamp, show: ShownLamp, tolerance_deg: float) -> bool:
    if want.bearing_from_deg is None or show.arc_from_deg is None:
        return want.bearing_from_deg is None and show.arc_from_deg is None
    asked = _edges(want.bearing_from_deg, want.bearing_to_deg)
    return _near(asked, _edges(show.arc_from_deg, show.arc_to_deg), tolerance_deg)


def _edges(from_deg: float, to_deg: float | None) -> tuple[float, float]:
    """Start and width of a sector [deg]; equal edges are all round."""
    width_deg = ((to_deg if to_deg is not None else from_deg) - from_deg) % 360.0
    return from_deg % 360.0, width_deg or 360.0


def _near(first: tuple[float, float], second: tuple[float, float], tolerance_deg: float) -> bool:
    if first[1] == 360.0 or second[1] == 360.0:
        return abs(first[1] - second[1]) <= tolerance_deg
    ends = [(start, (start + width) % 360.0) for start, width in (first, second)]
    return all(abs((a - b + 180.0) % 360.0 - 180.0) <= tolerance_deg for a, b in zip(*ends, strict=True))


def _arc_text(lamp: RequiredLamp) -> str:
    if lamp.bearing_from_deg is None or lamp.bearing_to_deg is None:
        return "no sector laid down"
    return f"{lamp.bearing_from_deg:g} to {lamp.bearing_to_deg:g} deg"


def _shown_arc(lamp: ShownLamp) -> str:
    if lamp.arc_from_deg is None or lamp.arc_to_deg is None:
        return "sector not given"
    return f"{lamp.arc_from_deg:g} to {lamp.arc_to_deg:g} deg"
