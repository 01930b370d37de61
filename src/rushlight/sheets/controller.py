"""What makes the rhythms: channels and how they are wired, how the program gets onto the board, the program itself."""

from __future__ import annotations

from rushlight.model.design import Design
from rushlight.model.design_loom import Circuit
from rushlight.model.sheet import Block, Cell, Column, Listing, Note, Sheet, Step, Steps, Table
from rushlight.sheets.amounts import amount
from rushlight.sheets.maker_wiring import wiring_table
from rushlight.stages.drivers import driver_of
from rushlight.stages.rhythms import MadeRhythm, button_of, channels, made_rhythms
from rushlight.stages.switching import board_of, stepped_by
from rushlight.timing.character import parse_rhythm
from rushlight.timing.program import Button, pin_test_text, program_text

WIRING = (
    "A driver sits in the plus of its circuit, between {before} and the feed that leaves the bay, so that the shared "
    "return stays as it is. Q1 is a {kind}; R1 holds it off. Q2, an NPN transistor, pulls its gate down when the pin "
    "is high; R3 keeps Q2 off while the board starts. {ohm}A ready-made high-side driver with the same four terminals "
    "does the same. The sheet of the circuit draws it."
)
ON = "With this supply Q1 has {typical} while it is on, {most} at most, and bears {bears} without a cooling face. "

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


STEP_WIRING = (
    "The drivers are the switch too: their plus comes straight from the plus line, and the board lights each circuit "
    "in its states. The {words} joins its pin to the return while it is closed; else the board itself holds the pin "
    "up. Two thin leads are all that it takes. After the last state comes {after}."
)

TRIED = {
    "push button": (
        Step("Press the button, still with pin_test.py on the board",
             "While it is pressed all go dark; let go, and all are lit again. If nothing changes, its two leads are "
             "not on its pin and the return.", gate=True),
        Step("Press the button through all states and round to the first",
             "Each press is one step. If a press makes two, its contact bounces long: set DEBOUNCE_MS in the program "
             "to 60.", gate=True),
    ),
    "reed contact": (
        Step("Hold the magnet to the reed, still with pin_test.py on the board",
             "While it is near all go dark; take it away, and all are lit again. If nothing changes, its two leads are "
             "not on its pin and the return, or the magnet is too far.", gate=True),
        Step("Pass the magnet by through all states and round to the first",
             "Each pass is one step. If a pass makes two, the magnet went by with both its poles: turn it, so that one "
             "pole goes by alone, or set DEBOUNCE_MS in the program to 200.", gate=True),
    ),
}
"""How the button or the reed is tried: in the pin test, and with the program."""


def loading_steps(button: Button | None) -> tuple[Step, ...]:
    """How the programs get onto the board; what steps the states is tried in the pin test, and at the end."""
    if button is None:
        return LOADING
    in_test, at_end = TRIED[button.words]
    return (*LOADING[:3], in_test, *LOADING[3:], at_end)


def driver_words(design: Design, button: Button | None) -> str:
    """How a driver is wired, with which transistor, and what that leaves and bears on this supply."""
    driver = driver_of(design.plan, design.drawer)
    before = "the switch" if button is None else "the plus line"
    if driver is None:
        return WIRING.format(before=before, kind="P-channel MOSFET", ohm="")
    told = ON.format(typical=f"{1000 * driver.ohm:.0f} milliohm", most=f"{1000 * driver.most_ohm:.0f}",
                     bears=amount(driver.bears_a, "A"))
    return WIRING.format(before=before, kind=driver.kind.name, ohm=told if driver.fits else "")


def step_wiring(button: Button | None) -> tuple[Note, ...]:
    """How the drivers bring up the states; nothing where a switch does."""
    if button is None:
        return ()
    after = "all dark, then the first again" if "off" in button.states else "the first again"
    return (Note(STEP_WIRING.format(words=button.words, after=after), "States"),)


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
        title, hz, button = design.plan.subject.title, board_of(design.plan).pwm_hz, button_of(design.plan)
        blocks += [
            Note(driver_words(design, button), "Wiring of the drivers"), *step_wiring(button), *wired,
            Steps(loading_steps(button), "The program"),
            Listing("pin_test", "Pin test", pin_test_text(title, driven, pwm_hz=hz, button=button)),
            Listing("main", "Program", program_text(title, driven, pwm_hz=hz, button=button)),
        ]
    stepped = " and steps the states" if stepped_by(design.plan) else ""
    return (Sheet("rhythms", f"What makes the rhythms{stepped}", tuple(blocks)),)


def rhythm_table(design: Design, made: tuple[MadeRhythm, ...]) -> Table:
    """Each circuit with a rhythm and what makes it."""
    stepped = bool(stepped_by(design.plan))
    columns = (
        Column("circuit", "Circuit"), *((Column("states", "Lit in", wide=True),) if stepped else ()),
        Column("rhythm", "Rhythm", wide=True),
        Column("period_s", "Period", "s", "right", 2), Column("lit_percent", "Lit", "%", "right", 0),
        Column("by", "Made by"), Column("pin", "Pin"), Column("current", "At most", "", "right"),
        Column("lamps", "Lamps", align="right", decimals=0),
    )
    rows = tuple((row.circuit.name, *((_lit_in(design, row),) if stepped else ()), *_row(design, row)) for row in made)
    board = board_of(design.plan)
    driven = any(row.driven for row in made)
    caption = (f"The board takes about {amount(board.idle_ma, 'mA')} by itself, in every state, and must get "
               f"{amount(board.least_v, 'V')} to {amount(board.most_v, 'V')}. Pin numbers are its maker's.")
    return Table("rhythms", "Rhythms", columns, rows, caption if driven else "")


def _lit_in(design: Design, row: MadeRhythm) -> str:
    return ", ".join(state.name for state in design.plan.states if state.name in row.circuit.states)


def _row(design: Design, row: MadeRhythm) -> tuple[Cell, ...]:
    """Rhythm, period and share lit, what makes it, pin, current, lamps; one that burns steadily has no period."""
    rhythm, pin = parse_rhythm(row.circuit.rhythm), "" if row.pin is None else str(row.pin)
    current = amount(1000 * _most_a(design, row.circuit), "mA")
    if not row.flashes:
        return ("steady", "", 100.0, "", pin, current, len(row.circuit.lamps))
    return (row.circuit.rhythm, rhythm.period_s * row.stretch, 100 * rhythm.on_share, row.by or "nothing yet", pin,
            current, len(row.circuit.lamps))


def _most_a(design: Design, circuit: Circuit) -> float:
    """The most that a circuit draws while lit, over all states and the spread of its LEDs."""
    own = {row.name: max(row.segments, 1) for row in design.loom.emitters if row.circuit == circuit.name}
    sums = [sum(row.current_a.high * own[row.emitter] for row in state.lit if row.emitter in own)
            for state in design.power.states]
    return max(sums, default=0.0)
