"""What feeds the lamps of a plan, and what the modeller knows better, holds fast and did. Keys of plan.yaml."""

from __future__ import annotations

from dataclasses import dataclass

from rushlight.model.schema import (
    FLAG,
    NAMES,
    NOTE,
    POSITIVE_MM,
    TEXT,
    Kind,
    choice,
    items,
    key,
    quantity,
    ref,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What feeds the lamps."""

    kind: str = key(
        choice("cells", "adapter", "usb power bank", "usb adapter"), "Cells, or a finished low-voltage unit."
    )
    cell: str = key(ref("drawer.cells"), "Row of the drawer's cells.", "AA")
    in_series: int = key(Kind("count", low=1, high=20), "Cells in series (24 V at most in all).", 3)
    in_parallel: int = key(Kind("count", low=1, high=12), "Strings of cells in parallel.", 1)
    adapter_v: float = key(quantity("v", 3, 24), "Voltage of the adapter (24 V at most: never mains).", 12.0)
    limit_a: float = key(quantity("a", 0.01, 20), "Rated current of the adapter.", 1.0)
    bank_mah: float = key(
        quantity("mah", 100, 100_000), "Capacity printed on a power bank, counted at its cells' 3.7 V.", 5000.0
    )
    bay: str | None = key(ref("bays"), "The bay that it sits in.", None)
    run_h: float = key(quantity("h", 0.01, 10_000), "How long it should run.", 4.0)
    fuse_a: float | None = key(quantity("a", 0.005, 20), "Fuse, if you have one.", None)
    master: bool = key(FLAG, "True if a master switch is wanted.", True)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningPart:
    """A stretch of an evening: one state, shown for a while."""

    state: str = key(ref("states"), "The state that is shown.")
    minutes: float = key(quantity("min", 0.1, 100_000), "For how long.")
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class RhythmMaker:
    """What makes the lamps of one rhythm keep it."""

    rhythm: str = key(Kind("rhythm"), "The rhythm, as its lamps have it.")
    by: str = key(
        choice("controller", "flasher", "self-timed led"),
        "A small controller with a program, a ready-made flasher in the circuit's feed, or LEDs that time themselves.",
    )
    drift_share: float = key(
        Kind("number", low=0, high=0.2), "How far circuits of this rhythm stray from one another, as a share.", 0.0
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller:
    """The small board that makes rhythms, and may step the states: measure yours, or read its paper."""

    pins: tuple[float, ...] = key(
        Kind("numbers", low=0, high=99, least=1, most=40), "Its pins for channels, as its maker numbers them.",
        (0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0),
    )
    idle_ma: float = key(quantity("ma", 0, 1000), "What it takes by itself.", 25.0)
    least_v: float = key(quantity("v", 1, 24), "Lowest supply voltage that it bears.", 2.5)
    most_v: float = key(quantity("v", 1, 24), "Highest supply voltage that it bears.", 5.5)
    pwm_hz: float = key(Kind("number", low=50, high=20_000), "Pulses a second with which it dims.", 2000.0)
    states_by: str = key(
        choice("switch", "button", "reed"),
        "What brings up the states: a switch, or the board itself, one step at each press of a button or each pass of "
        "a magnet by a reed.", "switch",
    )
    button_pin: int = key(Kind("count", low=0, high=99), "Its pin for that button or reed.", 8)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """What the model is to be photographed or filmed with."""

    f_number: float = key(Kind("number", low=0.5, high=64), "Aperture: the number after f/.", 4.0)
    iso: float = key(Kind("number", low=10, high=1_000_000), "Speed.", 400.0)
    frames_per_s: float = key(Kind("number", low=1, high=1000), "Film: pictures a second.", 25.0)
    shutter_deg: float = key(quantity("deg", 1, 360), "Film: shutter angle; 180 lets in half of each picture's time.",
                             180.0)
    exposure_s: float | None = key(
        quantity("s", 1e-6, 3600), "Exposure time, as 1/60 s; without it that of the shutter angle.", None
    )
    from_mm: float | None = key(
        quantity("mm", 20, 20_000), "From how far; without it the viewing distance.", None
    )
    view_deg: float = key(quantity("deg", 1, 179), "How much the picture shows from left to right.", 60.0)
    across_px: float = key(Kind("number", low=100, high=100_000), "Pixels from left to right.", 3840.0)
    readout_ms: float | None = key(
        quantity("ms", 0, 1000), "Time from the picture's first to its last line; without it 5 to 30 ms.", None
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """The modeller's own number for a habit of the trade."""

    habit: str = key(TEXT, "Row of practice_rules.csv.")
    value: float = key(Kind("number", low=-1e9, high=1e9), "Your number (the lower end, where it is an interval).")
    to: float | None = key(Kind("number", low=-1e9, high=1e9), "Upper end of an interval.", None)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnValue:
    """One value of a drawer row that the modeller measured or knows better."""

    table: str = key(
        choice("leds", "fibres", "strips", "wires", "tubes", "cells", "switches", "diffusers", "walls", "coats",
               "regulators"),
        "Table of the drawer.",
    )
    row: str = key(TEXT, "Name of the row.")
    column: str = key(TEXT, "Column.")
    value: float = key(Kind("number", low=-1e12, high=1e12), "The value, in the column's unit.")
    measured: bool = key(FLAG, "True if you measured it.", False)
    note: str = key(TEXT, NOTE, "")


BENCH_METHODS = (
    "led intensity", "led half angle", "light aside", "led voltage", "strip flux", "diffuser", "wall", "coat",
    "reflectance", "fibre end", "fibre length", "fibre bend", "fibre joint", "stray light", "seam gap", "lip lap",
    "post gap", "post root", "post paint", "hole play", "lamp", "hull warmth", "adapter volts", "feed power",
    "bundle width", "cell capacity", "cell resistance", "bank energy", "bank load", "pulse rate", "camera readout",
    "room light",
)
"""What can be measured at the bench: the rows of bench_methods.csv, in the order in which they are reckoned."""

READINGS = Kind("numbers", low=0, high=1e7, least=1, most=100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Readings at the bench that take a guess's place; each method of bench_methods.csv says which keys it needs."""

    what: str = key(choice(*BENCH_METHODS), "What was measured, and so by which method.")
    of: str = key(
        TEXT, "Of which row of the drawer; for a fibre's end: hot_cut, cut, domed or sanded; for light aside: an LED "
        "or domed; for stray light: illuminator, led, room or strip; for pulses controller, for readout camera, "
        "for the room's light room, for how much wider than their drill holes are: holes; for a power bank: power "
        "bank; for volts of a finished unit: adapter, usb adapter or power bank; else a lamp, a part, a space or a "
        "state of this plan."
    )
    readings: tuple[float, ...] = key(READINGS, "What the meter showed: several pieces, or the same one again.")
    against: tuple[float, ...] = key(
        Kind("numbers", low=0, high=1e7, most=100),
        "The same meter at the same place without it; of an adapter with the model on it.", ()
    )
    two: tuple[float, ...] = key(
        Kind("numbers", low=0, high=1e7, most=100), "Diffuser: the same through two sheets.", ()
    )
    distance_mm: float | None = key(quantity("mm", 5, 20_000), "From the lamp to the meter.", None)
    at_ma: float | None = key(
        quantity("ma", 0.01, 2000), "Current through the LED; without it the current that its row is told for. Cell: "
        "the current that it gave; bank: the current at its 5 V port; adapter: what the model took of it.", None
    )
    printed_v: float | None = key(quantity("v", 3, 24), "Adapter: the volts printed on it (USB: 5).", None)
    printed_mah: float | None = key(quantity("mah", 100, 100_000), "Power bank: the capacity printed on it.", None)
    series_ohm: tuple[float, ...] = key(
        Kind("numbers", "ohm", low=1, high=1e6, most=100),
        "LED's voltage: the resistor of each reading, in their order.", (),
    )
    fibre_mm: float | None = key(quantity("mm", 0.1, 3), "Joint: width of the test piece.", None)
    length_mm: float | None = key(
        quantity("mm", 1, 100_000), "Length of the piece; of a fibre cut back: what was cut off.", None
    )
    led: str | None = key(TEXT, "Fibre: the LED that lit it.", None)
    radius_mm: float | None = key(quantity("mm", 1, 1000), "Fibre's bend: radius to its middle.", None)
    turn_deg: float | None = key(quantity("deg", 1, 3600), "Fibre's bend: how far it turned, 360 a whole turn.", None)
    thickness_mm: float | None = key(quantity("mm", 0.01, 50), "Wall: thickness of the piece.", None)
    count: int | None = key(
        Kind("count", low=1, high=200), "Coat: how many coats; bundle, and a joint read of a whole bundle: how many "
        "fibres.", None
    )
    state: str | None = key(ref("states"), "Lamp: the state that it was read in.", None)
    pulse_hz: float | None = key(
        Kind("number", low=50, high=100_000), "Camera's readout: pulses a second of the lamp that it saw.", None
    )
    readout_ms: float | None = key(
        quantity("ms", 0.1, 1000), "Pulse rate: if bands were counted, the camera's time from first to last line.", None
    )
    power_w: float | None = key(
        quantity("w", 0.001, 200), "Hull's warmth: what was burnt inside, volts times amperes of the feed.", None
    )
    off_share: float | None = key(
        Kind("number", low=0, high=0.9), "How far the meter may be off; without it what the method says.", None
    )
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class AtHand:
    """A part that the modeller owns, of a kind that the design chooses by itself."""

    table: str = key(choice("switches", "regulators", "resistors"), "Table of the drawer.")
    row: str = key(TEXT, "Name of the row; of resistors an assortment, so all values of its series.", "")
    values_ohm: tuple[float, ...] = key(
        Kind("numbers", "ohm", low=0.1, high=1e7, least=1, most=200),
        "Resistors: only these values, such as 470 or 4k7; without a row they are of 0.25 W, 5 %.", ()
    )
    count: int = key(Kind("count", low=1, high=1000), "How many pieces.", 1)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """A choice of the design that the modeller holds fast."""

    of: str = key(TEXT, "Lamp, row, strip, illuminator (I1), circuit (A), return or all.")
    choice: str = key(
        choice(
            "current_ma", "resistor_ohm", "led", "illuminator_part", "fibres_per_led", "gauge_awg", "leds_in_series",
            "regulator", "fibre_mm", "bundle", "fibre_inlet", "bundle_joint", "led_dome", "bundle_gap_mm",
        ),
        "What is held.",
    )
    value: str = key(TEXT, "To what, in the unit that the choice's name says.")
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a meter showed at the bench."""

    gate: str = key(TEXT, "The gate, as named in the book.")
    what: str = key(TEXT, "The reading, as named in the book.")
    value: float = key(Kind("number", low=-1e9, high=1e9), "What the meter showed, in the unit of the book.")
    when: str | None = key(TEXT, "Date and time.", None)
    by: str | None = key(TEXT, "Who, or on which device it was entered.", None)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What was seen when a fault was looked for, with the switch at one state."""

    state: str = key(TEXT, "The state that the switch was at.")
    dark: tuple[str, ...] = key(NAMES, "Lamps that were dark though they should be lit.", ())
    dim: tuple[str, ...] = key(NAMES, "Lamps much dimmer than their like.", ())
    lit: tuple[str, ...] = key(NAMES, "Lamps that were lit though they should be dark.", ())
    when: str | None = key(TEXT, "Date and time.", None)
    by: str | None = key(TEXT, "Who, or on which device it was entered.", None)
    note: str = key(TEXT, NOTE, "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """One step of the work that is done."""

    step: str = key(TEXT, "The step's key or name, as in the book; find_fault for what was seen and read there.")
    part: str | None = key(ref("parts"), "On which part.", None)
    how: str = key(
        choice("done", "by eye", "begun"),
        "done; by eye: a gate passed without its readings; begun: not done yet, what is known is noted.", "done",
    )
    when: str | None = key(TEXT, "Date and time.", None)
    by: str | None = key(TEXT, "Who, or on which device it was entered.", None)
    used: str | None = key(TEXT, "What was really used.", None)
    length_mm: float | None = key(POSITIVE_MM, "A length as cut.", None)
    photo: str | None = key(Kind("file"), "Photograph in pictures/.", None)
    readings: tuple[Reading, ...] = key(items(Reading), "Meter readings.", ())
    looks: tuple[Look, ...] = key(items(Look), "What was dark or dim when a fault was looked for.", ())
    sealed: bool = key(FLAG, "True if this step closed the model.", False)
    note: str = key(TEXT, NOTE, "")

    @property
    def name(self) -> str:
        """The step, with its part where it has one: what an entry is called when it is changed."""
        return self.step if self.part is None else f"{self.step} on {self.part}"
