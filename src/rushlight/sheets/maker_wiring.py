"""What makes the rhythms, as things to solder: board, drivers and flashers, each terminal with what it goes to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rushlight.model.design import Design
from rushlight.model.design_power import SolderPoint
from rushlight.model.sheet import Column, Table
from rushlight.sheets.amounts import ohm_text
from rushlight.stages.rhythms import button_of, made_rhythms, value

RETURN = "return"
NO_PIN = "no pin left: the board needs one more"


@dataclass(frozen=True, slots=True)
class Stage:
    """What stands in the plus of one circuit: a driver ('D1') or a flasher ('F1'), and what feeds it."""

    mark: str
    circuit: str
    rhythm: str
    fed_from: str
    """A terminal of the switch, in words."""

    pin: int | None = None
    goes_to: str = ""
    """Where its output goes, in words: the feed of its circuit, or a flasher that stands behind it."""

    @property
    def is_driver(self) -> bool:
        """Whether the board drives it."""
        return self.mark.startswith("D")


def stages_of(design: Design) -> tuple[Stage, ...]:
    """Drivers and flashers in the order of the circuits, each kind numbered from 1."""
    count = {"D": 0, "F": 0}
    found = []
    for row in made_rhythms(design.plan, design.circuits, design.loom):
        name, before = row.circuit.name, None
        letters = ("D" if row.driven else "") + ("F" if row.by == "flasher" else "")
        for letter in letters:
            count[letter] += 1
            fed = f"{before}: 3" if before else _fed_from(design, name)
            before = f"{letter}{count[letter]}"
            goes = f"F{count['F'] + 1}: 1" if letter == "D" and "F" in letters else f"feed of {name}"
            pin = row.pin if letter == "D" else None
            found.append(Stage(before, name, row.circuit.rhythm, fed, pin, goes))
    return tuple(found)


def plus_line(design: Design) -> str:
    """Where the plus line leaves for what is on in every state."""
    switch = design.power.switch
    mastered = switch is not None and any(row.terminal == "master switch: 2" for row in switch.solder)
    return "master switch: 2" if mastered else _supply_plus(design)


def _supply_plus(design: Design) -> str:
    supply = design.power.supply
    return "fuse, far end" if supply is not None and supply.fuse else "supply plus"


def _fed_from(design: Design, circuit: str) -> str:
    """The terminals of the switch that feed a circuit; where there is none, the plus line."""
    solder = design.power.switch.solder if design.power.switch else ()
    found = [_of_switch(row.terminal) + _by_diode(row.to, circuit) for row in solder
             if circuit in _fed(row.to, row.terminal)]
    if found:
        return " and ".join(found)
    return plus_line(design) if solder else f"switch of circuit {circuit}"


def _of_switch(terminal: str) -> str:
    return terminal if "switch" in terminal else f"switch: {terminal}"


def _by_diode(to: str, circuit: str) -> str:
    """Words for a circuit that a steering diode feeds."""
    items = (item for item in to.split(";") if circuit in _fed(item, ""))
    return " (diode)" if any("diode to" in item for item in items) else ""


def _fed(to: str, terminal: str) -> set[str]:
    """Circuits that a row of the solder table feeds."""
    if terminal == "master switch: 2":
        return {name.strip() for name in to.split(",")}
    items = (item.split("feed of ", 1)[1] for item in to.split(";") if "feed of " in item)
    return {name.removesuffix("stripe to the feed").strip(" ,") for item in items for name in item.split(",")}


def through_stages(words: str, stages: tuple[Stage, ...]) -> str:
    """What a terminal of the switch goes to, told with the drivers and flashers that stand before a feed.

    'feed of A, B' becomes 'feed of A through D1: 1, B' where the driver D1 keeps circuit A's rhythm.
    """
    before = {stage.circuit: f"{stage.circuit} through {stage.mark}: 1" for stage in reversed(stages)}
    return "; ".join(_through(item, before) for item in words.split("; "))


def solder_words(row: SolderPoint, stages: tuple[Stage, ...]) -> str:
    """What a row of the solder table says, with the board, drivers and flashers that hang on it."""
    if row.terminal != "master switch: 2":
        return through_stages(row.to, stages)
    board = ["supply in of the controller board"] if any(stage.is_driver for stage in stages) else []
    fed = through_stages(f"feed of {row.to}", stages).removeprefix("feed of ")
    return ", ".join([*board, *([fed] if fed else [])])


def _through(item: str, before: dict[str, str]) -> str:
    head, found, names = item.rpartition("feed of ")
    return head + found + ", ".join(before.get(name, name) for name in names.split(", ")) if found else item


# --- the table ----------------------------------------------------------------------------------------------------


def wiring_table(design: Design) -> Table:
    """Every terminal of board, drivers and flashers and what it is soldered to; no rows where nothing is in a feed."""
    stages = stages_of(design)
    columns = (Column("part", "Part"), Column("terminal", "Terminal"), Column("is", "What it is", wide=True),
               Column("to", "Goes to", wide=True))
    rows = [*_board(design, stages), *(row for stage in stages for row in _stage(stage))]
    caption = ("The numbers are those of the circuit drawing. Legs of transistors and flashers differ from type to "
               "type: take them from the data sheet.")
    return Table("makers-solder", "What to solder to board, drivers and flashers", columns, tuple(rows), caption)


_Row = tuple[str, str, str, str]


def _board(design: Design, stages: tuple[Stage, ...]) -> Iterator[_Row]:
    driven = [stage for stage in stages if stage.is_driver]
    if driven:
        yield "board", "supply in", "its input for the supply, not the USB plug", plus_line(design)
        yield "board", "ground", "GND", RETURN
    for stage in driven:
        if stage.pin is not None:
            yield "board", f"pin {stage.pin}", "as its maker numbers them", f"{stage.mark}: 2"
    button = button_of(design.plan)
    if button is not None:
        yield "board", f"pin {button.pin}", "as its maker numbers them", "button: 1"
        yield "button", "1", f"either end of the {button.words}", f"board: pin {button.pin}"
        yield "button", "2", "the other end", RETURN


def _stage(stage: Stage) -> Iterator[_Row]:
    feed = stage.goes_to or f"feed of {stage.circuit}"
    if not stage.is_driver:
        yield stage.mark, "1", "plus", stage.fed_from
        yield stage.mark, "2", "output", feed
        yield stage.mark, "3", "minus", RETURN
        return
    gate, base, down = (ohm_text(value(f"driver_{key}_ohm")) for key in ("gate", "base", "base_down"))
    yield stage.mark, "1", f"source of Q1; one end of R1, {gate}", stage.fed_from
    yield stage.mark, "2", f"one end of R2, {base}", NO_PIN if stage.pin is None else f"board: pin {stage.pin}"
    yield stage.mark, "3", "drain of Q1", feed
    yield stage.mark, "4", f"emitter of Q2; one end of R3, {down}", RETURN
    yield stage.mark, "inside", "gate of Q1", "collector of Q2; other end of R1"
    yield stage.mark, "inside", "base of Q2", "other ends of R2 and R3"
