"""A reading at the bench that comes to much more or less than any such thing usually has."""

from __future__ import annotations

from rushlight.findings._words import plain, spot_of
from rushlight.model.design import Design
from rushlight.model.drawer import BenchValue
from rushlight.model.finding import Grade, Rule, Trouble
from rushlight.stages.bundles import BUNDLE_WIDTH
from rushlight.stages.measured_found import USUAL_GAPS
from rushlight.stages.measured_usual import usual_readings
from rushlight.stages.supplies import FEED_POWER, UNIT_OHM, UNIT_VOLTS
from rushlight.units import Range

FAR = 2.0
"""How many times beyond the believed range a reading is doubted (project rule)."""


FAR_V = 1.05
"""The same of an adapter's volts: a regulated one that is a tenth off is none, or another (project rule)."""

FAR_WIDE = 1.2
"""The same of a tied bundle's width: who ties a fifth looser than any hand has counted the fibres wrongly, or read
across the wrong way (project rule)."""

CURES = {
    UNIT_VOLTS: "Read what is printed on it, and whether the meter stands at DC volts. Far more with nothing on it: it "
    "is an old one that is not regulated; take a regulated one, as under a few lamps it gives far too much. Far less: "
    "it does not do, or it is another.",
    UNIT_OHM: "Read the current again. If it is so, its lead is long and thin or it is not regulated: lamps will dim "
    "as others are lit; take another one.",
}
"""Where the rule's own cure says too little."""

UNITS = {
    FEED_POWER: "W", "hull power": "W", "hull warmth": "K", "lamp": "cd", "room light": "lx", "pulse rate": "Hz",
    "intensity_mcd": "mcd", "flux_lm_per_m": "lm/m", "half_angle_deg": "degrees", "camera readout": "ms",
    "bank load": "mA", "fibre end": "dB", "fibre length": "dB/m", BUNDLE_WIDTH: "times the ideal bundle",
    UNIT_VOLTS: "V", UNIT_OHM: "ohm",
    **dict.fromkeys(USUAL_GAPS, "mm"),
}
"""Units of what readings come to; the others are shares, or times of what is usual."""


AT_CURRENTS = ("intensity_mcd", "led voltage")
"""Read at several currents, these make a law together."""

FARS = {UNIT_VOLTS: FAR_V, BUNDLE_WIDTH: FAR_WIDE}
"""Where another bound holds."""


def _look(design: Design) -> tuple[Trouble, ...]:
    reckoned, found = usual_readings(design), []
    for read in design.drawer.bench:
        if read.before is not None and (times := _beyond(read, read.before)) > FAR and read.what not in AT_CURRENTS:
            found.append(_apart(design, read, read.before, times))
            continue
        usual = reckoned.get((read.what, read.of), read.believed)
        times = _beyond(read, usual)
        far = FARS.get(read.what, FAR)
        if times > far and usual is not None:
            item = read.of.rpartition(" in ")[0] if read.what == "lamp" else read.of
            unit = f" {UNITS[read.what]}" if read.what in UNITS else ""
            found.append(Trouble(
                item=item, spot=spot_of(design, item), number=times, limit=far, cure=CURES.get(read.what, ""),
                says=f"What you read of '{read.of}' ({read.what.replace('_', ' ')}) comes to "
                     f"{plain(read.value.typical, 3)}{unit}, {plain(times)} times beyond what is usual: "
                     f"{plain(usual.low)} to {plain(usual.high)}{unit}.",
            ))
    return tuple(found)


def _apart(design: Design, read: BenchValue, before: Range, times: float) -> Trouble:
    """Two entries of one thing that contradict each other."""
    unit = f" {UNITS[read.what]}" if read.what in UNITS else ""
    return Trouble(
        item=read.of, spot=spot_of(design, read.of), number=times, limit=FAR,
        says=f"You entered '{read.of}' ({read.what.replace('_', ' ')}) more than once: {plain(before.typical, 3)} and "
             f"then {plain(read.value.typical, 3)}{unit}, {plain(times)} times apart. The last one holds.",
        cure="Read it once more and leave one entry; several readings in one entry make a range.",
    )


def _beyond(read: BenchValue, usual: Range | None) -> float:
    """How many times the reading, at its nearer end, lies beyond what is usual or reckoned; 1 within it."""
    if usual is None or usual.low <= 0 or read.value.high <= 0:
        return 1.0
    return max(1.0, read.value.low / usual.high, usual.low / read.value.high)


RULE = Rule(
    key="plan.measured-far-off",
    grade=Grade.DOUBTFUL,
    title="Reading far from what is usual",
    unit="times",
    why="A slip at the bench (a wrong distance, light creeping in at the side, another current) now decides how the "
        "model is built.",
    cure="Read it once more, the distance and the current too. If it is so, leave it: it is yours.",
    source="the ranges of the drawer and the tables; of lamps, spaces, feeds, pulses and the room what is reckoned "
           "without the reading; twice beyond them is a project rule",
    look=_look,
)
