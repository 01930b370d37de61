"""One use of a meter: dial, sockets, where the probes go, what the display should show."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from rushlight.errors import UnknownName
from rushlight.model.design import PredictedReading
from rushlight.sheets.amounts import amount, sentence, span
from rushlight.tables import number, rows

VOLT_SHARE = 0.95
"""Above this share of a range's end the next higher one is set."""


@dataclass(frozen=True, slots=True)
class DialSetting:
    """One position of the dial: full scale in `unit`, `per_unit` of what the display counts in, the red lead's socket.

    Source
    ------
    meter_dial.csv.
    """

    key: str
    group: str
    mark: str
    words: str
    full_scale: float
    unit: str
    per_unit: float
    decimals: int
    socket: str


@dataclass(frozen=True, slots=True)
class MeterUse:
    """What to set and hold, and what should show. `where` is a kind of PLACES; `shows` the digits of the display.

    `lower` is the range to go down to where it shows little enough; None where the range set holds all that is likely.
    `head` stands over the probes where no switch is set, on the bench.
    """

    setting: DialSetting
    where: str
    red: str
    black: str
    state: str | None
    expect: str
    shows: str
    lower: DialSetting | None = None
    head: str = ""


PLACES = ("led", "lit led", "its resistor", "no short", "in the lead", "resistor", "regulator", "a part", "between",
          "apart")
"""An LED's legs; an LED and its resistor on a supply, one and the other read; plus and return with the supply out; a
lead that is opened; a resistor; a regulator; the gap in the lead of a single part on the bench; two places of the loom,
with the supply on or out."""


@cache
def dial_settings() -> tuple[DialSetting, ...]:
    """Every position, clockwise from OFF at the top."""
    return tuple(
        DialSetting(
            key=row["key"], group=row["group"], mark=row["mark"], words=row["words"],
            full_scale=number(row, "full_scale") or 0.0, unit=row["unit"],
            per_unit=number(row, "shown_per_unit") or 1.0, decimals=int(number(row, "decimals") or 0),
            socket=row["socket"],
        )
        for row in rows("meter_dial")
    )


def setting_of(dial: str) -> DialSetting:
    """The position that a gate's dial names ('20 kohm, supply taken out').

    Raises
    ------
    UnknownName
        If the dial has no such position.
    """
    found = [row for row in dial_settings() if row.words == dial.partition(",")[0]]
    if not found:
        raise UnknownName("dial", dial, [row.words for row in dial_settings()])
    return found[0]


def volt_setting(most_v: float) -> DialSetting:
    """The lowest DC range, 20 V or more, that holds a voltage."""
    usual = [row for row in dial_settings() if row.group == "V DC" and row.full_scale >= 20]
    ranges = sorted(usual, key=lambda row: row.full_scale)
    return next((row for row in ranges if abs(most_v) <= VOLT_SHARE * row.full_scale), ranges[-1])


def use_of_reading(reading: PredictedReading) -> MeterUse:
    """How a gate's reading is taken."""
    setting = setting_of(reading.dial)
    value = reading.reading
    shows = display(setting, value.typical if math.isfinite(value.high) else math.inf)
    return MeterUse(
        setting, _where(reading), sentence(reading.red_probe), sentence(reading.black_probe), reading.state,
        expect_words(value.low, value.high, reading.unit), shows,
    )


def _where(reading: PredictedReading) -> str:
    if reading.dial == "diode test":
        return "led"
    starts = {"across the lit": "lit led", "across its resistor": "its resistor", "no short": "no short",
              "supply current": "in the lead", "across the resistor": "resistor",
              "across the regulator": "regulator", "current of one": "a part"}
    return next((kind for start, kind in starts.items() if reading.name.startswith(start)), "between")


def expect_words(low: float, high: float, unit: str) -> str:
    """An interval in words: '152 to 231 mA', 'more than 20 kohm'."""
    if unit == "ohm" and low >= 1000:
        return span(low / 1000, high / 1000, "kohm", 3)
    if math.isinf(high):
        return f"more than {amount(low, unit, 3)}"
    return span(low, high, unit, 3)


def display(setting: DialSetting, value: float) -> str:
    """What the display shows at a value in the setting's unit; OL beyond the range (some meters show a 1 alone)."""
    if not math.isfinite(value) or abs(value) > setting.full_scale:
        return "OL"
    return f"{value * setting.per_unit:.{setting.decimals}f}"


def shown_unit(setting: DialSetting) -> str:
    """The unit that the display counts in: a 10 A range shows ampere, a 20 kohm range kilohm."""
    prefix = {1.0: "", 0.001: "k", 0.000001: "M"}[setting.per_unit]
    return {"mA": "A" if prefix else "mA", "ohm": f"{prefix}ohm"}.get(setting.unit, setting.unit)


# --- what to mind -------------------------------------------------------------------------------------------------

SOCKETS = {
    "V": "Red lead in the socket V, black lead in COM.",
    "mA": "Red lead in the socket mA (on a meter with three sockets it is the one marked V mA), black lead in COM.",
    "10 A": "Red lead in the socket 10 A, black lead in COM.",
}

CURRENT = (
    "Switch off, open the lead, put the meter into the gap, switch on. If you do not know how much flows, begin "
    "with 10 A and its socket, and go lower only when it shows less than the lower range holds.",
    "Set to a current the meter is as good as a bare wire: never hold it across the supply or a battery. In the "
    "socket mA a fuse in the meter blows; the socket 10 A has none in many meters, and the leads burn.",
    "When you have read it, put the red lead back into the socket V at once, before the dial is turned.",
)


def mind(use: MeterUse) -> tuple[str, ...]:
    """What to do and to mind with one use, a sentence or two each.

    Source
    ------
    Common practice, no source; the meter's own paper comes first.
    """
    told = [SOCKETS[use.setting.socket]]
    if use.where in ("in the lead", "a part"):
        told += CURRENT
    if use.lower is not None:
        told.append(f"It may be much or little: begin so. If it shows less than {_short_of(use.lower)}, switch off, "
                    f"turn down to {use.lower.words}, red lead in the socket {use.lower.socket}, and read again.")
    if use.where == "no short":
        told.append("Take the supply out first. The red probe goes on return, so that no LED conducts.")
    if use.where == "apart":
        told.append("Take the supply off first: neither ohms nor the diode test in a loom that is fed. Hold the probes "
                    "together: what shows then are their own leads, take it off.")
    if use.where == "apart" and use.setting.group == "diode":
        told.append("Red and black count here: the other way round a diode shows OL. About nothing is copper, a few "
                    "tenths of a volt one diode of the switch, more or OL an LED or no way through; lamps may glow.")
    if use.where == "led":
        told.append("It glows a little. Many meters stop at 2 V or 3 V here and show OL for a sound white, blue or "
                    "true green LED: try that one on a 3 V coin cell through 470 ohm.")
    if use.where == "regulator":
        told.append("Less than its drop-out means that the supply leaves it too little, or that it is bridged; with a "
                    "minus sign red and black are swapped. Nearly nothing, and an LED far too bright: it is the wrong "
                    "way round, switch off at once.")
    if use.where in ("lit led", "its resistor"):
        told.append("On the bench, not in the model: plus of the supply, resistor, long leg, short leg, minus of the "
                    "supply, twisted or clipped together. Switch off before you change the resistor; never an LED "
                    "without one.")
    if use.where in ("resistor", "between", "lit led", "its resistor"):
        told.append("A minus sign means that red and black are swapped; the figure counts all the same.")
    return tuple(told)


def _short_of(setting: DialSetting) -> str:
    """Nine tenths of a current range, as the range of 10 A shows it."""
    return f"{0.9 * setting.full_scale / 1000:g} A"
