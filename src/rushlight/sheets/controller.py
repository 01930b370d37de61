"""What makes the rhythms: channels and how they are wired, how the program gets onto the board, the program itself."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.design_loom import Circuit
from rushlight.model.sheet import Block, Column, Listing, Note, Sheet, Step, Steps, Table
from rushlight.sheets.amounts import amount
from rushlight.sheets.maker_wiring import wiring_table
from rushlight.stages.rhythms import MadeRhythm, board_of, channels, made_rhythms
from rushlight.timing.character import parse_rhythm
from rushlight.timing.program import pin_test_text, program_text

WIRING = (
    "A driver sits in the plus of its circuit, between the switch and the feed that leaves the bay, so that the shared "
    "return stays as it is. Q1 is a P-channel MOSFET with a logic-level gate; R1 holds it off. Q2, an NPN transistor, "
    "pulls its gate down when the pin is high; R3 keeps Q2 off while the board starts. A ready-made high-side driver "
    "with the same four terminals does the same. The sheet of the circuit draws it."
)

LOADING = (
    Step("Put MicroPython on the board, as its maker tells", "Do this before anything is soldered to it."),
    Step("Join the board to the computer by its USB lead, and save pin_test.py on it under the name main.py",
         "Any editor that can speak to such boards will do. Take the model's own supply off first: two supplies at "
         "once can harm both."),
    Step("Take the USB lead off and switch the model's supply on",
         "Each circuit lights alone for one second, in the order of the table; then all stay lit, and the meter may be "
         "read. A wrong lamp or none: mend the wire now.", gate=True),
    Step("Take the supply off, join the USB lead again, and save the real main.py in its place",
         "From now on it starts by itself whenever the board gets power."),
    Step("Take the USB lead off, switch the supply on, and watch one whole period of the slowest rhythm", gate=True),
)


def draw(design: Design) -> tuple[Sheet, ...]:
    """One sheet where the plan has rhythms."""
    made = made_rhythms(design.plan, design.circuits, design.loom)
    if not made:
        return ()
    blocks: list[Block] = [rhythm_table(design, made)]
    table = wiring_table(design)
    wired = (table,) if table.rows else ()
    driven = channels(made)
    if not driven:
        blocks += wired
    else:
        title, hz = design.plan.subject.title, board_of(design.plan).pwm_hz
        blocks += [
            Note(WIRING, "Wiring of the drivers"), *wired, Steps(LOADING, "The program"),
            Listing("pin_test", "Pin test", pin_test_text(title, driven, pwm_hz=hz)),
            Listing("main", "Program", program_text(title, driven, pwm_hz=hz)),
        ]
    return (Sheet("rhythms", "What makes the rhythms", tuple(blocks)),)


def rhythm_table(design: Design, made: tuple[MadeRhythm, ...]) -> Table:
    """Each circuit with a rhythm and what makes it."""
    columns = (
        Column("circuit", "Circuit"), Column("rhythm", "Rhythm", wide=True),
        Column("period_s", "Period", "s", "right", 2), Column("lit_percent", "Lit", "%", "right", 0),
        Column("by", "Made by"), Column("pin", "Pin"), Column("current", "At most", "", "right"),
        Column("lamps", "Lamps", align="right", decimals=0),
    )
    rows = tuple(
        (row.circuit.name, row.circuit.rhythm, parse_rhythm(row.circuit.rhythm).period_s * row.stretch,
         100 * parse_rhythm(row.circuit.rhythm).on_share, row.by or "nothing yet",
         "" if row.pin is None else str(row.pin), amount(1000 * _most_a(design, row.circuit), "mA"),
         len(row.circuit.lamps))
        for row in made
    )
    board = board_of(design.plan)
    driven = any(row.by == "controller" for row in made)
    caption = (f"The board takes about {amount(board.idle_ma, 'mA')} by itself, in every state, and must get "
               f"{amount(board.least_v, 'V')} to {amount(board.most_v, 'V')}. Pin numbers are its maker's.")
    return Table("rhythms", "Rhythms", columns, rows, caption if driven else "")


def _most_a(design: Design, circuit: Circuit) -> float:
    """The most that a circuit draws while lit, over all states and the spread of its LEDs."""
    own = {row.name: max(row.segments, 1) for row in design.loom.emitters if row.circuit == circuit.name}
    sums = [sum(row.current_a.high * own[row.emitter] for row in state.lit if row.emitter in own)
            for state in design.power.states]
    return max(sums, default=0.0)
