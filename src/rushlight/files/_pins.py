"""Choices that the modeller holds fast: of something that is there, and to a value that the choice can have."""

from __future__ import annotations

import re
from collections.abc import Iterable

from rushlight.files._drafts import Draft
from rushlight.files._faults import Faults, shown
from rushlight.files._refs import Names
from rushlight.model.drawer import Drawer

NUMBERS: dict[str, tuple[float, float, bool, str]] = {
    "current_ma": (0.01, 1000, False, "20"),
    "resistor_ohm": (0.1, 10_000_000, False, "330"),
    "fibres_per_led": (1, 200, True, "7"),
    "leds_in_series": (1, 12, True, "3"),
    "bundle_gap_mm": (0.0, 20, False, "0.5"),
}
"""For each choice of a number: least, most, whether it is whole, an example. The laws hold so far, or farther."""

WORDS: dict[str, tuple[str, ...]] = {
    "fibre_inlet": ("polished", "hot_cut", "cut"),
    "bundle_joint": ("dry", "gel"),
    "led_dome": ("as sold", "filed"),
}
"""For each choice of a few words, those; the finishes of fibres are rows of fibre_finish.csv."""

REGULATOR_WORDS = ("nearest", "none")
WHOLE_LOOM = ("all", "return")
MOST_NAMED = 50
"""So many lamps of one row are looked through for the nearest name."""
_PLAIN = re.compile(r"[+]?\d{1,12}(\.\d{0,12})?")
_ILLUMINATOR = re.compile(r"I[1-9]\d{0,5}")
_CIRCUIT = re.compile(r"[A-Z]{1,2}")
_OF_ROW = re.compile(r"(.+) (m?)([1-9]\d{0,5})")


def check_pins(plan: Draft, names: Names, drawer: Drawer, faults: Faults) -> None:
    """Check what each pin is of, and its value."""
    known: list[str] | None = None
    for pin in plan.items("pinned"):
        of = pin.get("of")
        if of is not None and not plan.failed.intersection(("lamps", "rows", "strips")) and not _is_there(of, names):
            known = known or [*names["lamps"], *lamps_of_strips(names), *WHOLE_LOOM]
            faults.add(pin.place("of"), pin.label, f"of {shown(of)} is not known",
                       "a lamp, row, strip, illuminator (I1), circuit (A), return or all", word=of, known=known)
        if pin.get("choice") is not None and pin.get("value") is not None:
            _check_value(pin, names, drawer, faults)


def _is_there(of: str, names: Names) -> bool:
    """Illuminators and circuits are named by the design, so their form alone is known."""
    if of in names["lamps"] or of in WHOLE_LOOM or _ILLUMINATOR.fullmatch(of) or _CIRCUIT.fullmatch(of):
        return True
    return lamp_of_row(of, names) or of in lamps_of_strips(names)


def lamp_of_row(of: str, names: Names) -> bool:
    """'row 3', 'row m3': a lamp of a row that has so many."""
    match = _OF_ROW.fullmatch(of)
    row = names["lamps"].get(match[1]) if match else None
    if match is None or row is None or row.kind.__name__ != "Row" or (match[2] and not row.given("mirror")):
        return False
    count = row.get("count")
    return count is None or int(match[3]) <= count


def lamps_of_rows(names: Names) -> list[str]:
    """'row 1', 'row 2' and so on of every row; without a count the first alone is sure to be there."""
    return [f"{name} {number}" for name, draft in names["lamps"].items() if draft.kind.__name__ == "Row"
            for number in range(1, min(draft.get("count") or 1, MOST_NAMED) + 1)]


def lamps_of_strips(names: Names) -> list[str]:
    """'strip: opening', the lamps of strips."""
    return [
        f"{name}: {opening}" for name, draft in names["lamps"].items() if draft.kind.__name__ == "Strip"
        for opening in draft.get("openings") or ()
    ]


def _check_value(pin: Draft, names: Names, drawer: Drawer, faults: Faults) -> None:
    choice, value = pin.get("choice"), pin.get("value")
    known: Iterable[str] = ()
    word = value
    if choice == "led":
        known, expected = [row.name for row in drawer.leds], "a row of the drawer's leds"
        right = value in known
    elif choice == "illuminator_part":
        known, expected = names["parts"], "a part of this plan"
        right = value in known
    elif choice == "gauge_awg":
        known = sorted({str(row.awg) for row in drawer.wires})
        expected, right = f"a gauge of the drawer's wires: {', '.join(known)}", value in known
    elif choice == "fibre_mm":
        known = [f"{row.diameter_mm:g}" for row in drawer.fibres]
        expected, right = f"a diameter of the drawer's fibres: {', '.join(known)}", _number(value) in _fibres_mm(drawer)
        word = _nearest(value, known)
    elif choice == "bundle":
        expected, right = "a name for the bundle", bool(value.strip())
    elif choice in WORDS:
        known = WORDS[choice]
        expected, right = f"one of {', '.join(known)}", value in known
    elif choice == "regulator":
        known = [*REGULATOR_WORDS, *(row.name for row in drawer.regulators)]
        expected, right = "nearest, none or a row of the drawer's regulators", value in known
    else:
        expected, right = _number_in_words(choice), _is_number(choice, value)
    if not right:
        faults.add(pin.place("value"), pin.label, f"value is {shown(value)} for {choice}", expected,
                   word=word if known else None, known=known)


def _fibres_mm(drawer: Drawer) -> set[float]:
    return {row.diameter_mm for row in drawer.fibres}


def _number(text: str) -> float | None:
    return float(text) if _PLAIN.fullmatch(text) else None


def _nearest(text: str, known: list[str]) -> str:
    """Of numbers the nearest, which is not the one that is spelled most alike."""
    value = _number(text)
    return text if value is None else min(known, key=lambda one: abs(float(one) - value))


def _number_in_words(choice: str) -> str:
    low, high, whole, example = NUMBERS[choice]
    return f"a {'whole ' if whole else ''}number from {low:.9g} to {high:.9g}, written plainly as {example}"


def _is_number(choice: str, text: str) -> bool:
    low, high, whole, _ = NUMBERS[choice]
    if not _PLAIN.fullmatch(text):
        return False
    value = float(text)
    return low <= value <= high and (not whole or value.is_integer())
