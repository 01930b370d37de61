"""Small plans for tests: one part, a few lamps; text, so that tests read like plans."""

from __future__ import annotations

BOARD = """\
rushlight: 1
subject: {title: test board, scale: "1:100", viewing_distance_mm: 400, invented: true}
states: [{name: day}, {name: night}]
parts:
  - name: board
    outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]]
    relief: {flat: true}
    bays: [{name: bay, rect_mm: [120, 0, 60, 48], depth_mm: 20, access: open}]
"""

SUPPLY_12V = "supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: bay}\n"
SUPPLY_AA = "supply: {kind: cells, cell: AA, in_series: 3, bay: bay, run_h: 2}\n"


def board(lamps: str = "", rows: str = "", *, supply: str = SUPPLY_12V, more: str = "") -> str:
    """A plan on the board: each line of `lamps` and `rows` is one entry in flow style."""
    text = BOARD + supply + more
    if lamps:
        text += "lamps:\n" + "".join(f"  - {line}\n" for line in lamps.strip().splitlines())
    if rows:
        text += "rows:\n" + "".join(f"  - {line}\n" for line in rows.strip().splitlines())
    return text


STANDING = """
rushlight: 1
subject: {title: yard, scale: 100}
states: [{name: night}, {name: dusk}]
parts:
  - {name: yard, outline_mm: [[0, 0], [200, 0], [200, 100], [0, 100]], relief: {flat: true}, faces: up,
     bays: [{name: bay, rect_mm: [5, 80, 40, 15], depth_mm: 20, access: open}]}
  - {name: wall, outline_mm: [[0, 0], [60, 0], [60, 20], [0, 20]], relief: {flat: true},
     stands: {over: yard, points_mm: [[0, 0], [60, 0]], at_mm: [[70, 30], [130, 30]]}}
crossings: [{name: c, kind: plug, ends: [{part: yard, at_mm: [100, 32]}, {part: wall, at_mm: [30, 1]}]}]
supply: {kind: adapter, adapter_v: 5, limit_a: 2, bay: bay}
lamps:
  - {name: on yard, part: yard, at_mm: [100, 50], colour: red, model_mm: 3, states: [night], source: {kind: led}}
  - {name: too, part: yard, at_mm: [150, 50], colour: green, model_mm: 3, states: [dusk], source: {kind: led}}
"""
"""A wall that stands on a yard, in two states."""


def windows(count: int, *, wide_mm: float = 12, sheet: str = "opal diffusing film", more: str = "") -> str:
    """So many alike windows in a line, a lamp tied to each; above them one more, lit by day alone."""
    pitch = 150 / count
    places = [25 + pitch * n for n in range(count)]
    sheets = f", diffusers: [{{sheet: {sheet}, gap_mm: 1}}]" if sheet else ""
    openings = [f"{{name: w{n}, rect_mm: [{x:g}, 40, {wide_mm:g}, 9]{sheets}}}" for n, x in enumerate(places)]
    text = BOARD.replace("    relief:", f"    openings: [{', '.join(openings)}]\n    relief:") + SUPPLY_12V + "lamps:\n"
    return text + "".join(
        f"  - {{name: lamp {chr(97 + n)}, part: board, at_mm: [{x + wide_mm / 2:g}, 44.5], colour: warm white, "
        f"opening: w{n}, states: night, brightness: {{seen_in: lit room}}{more}}}\n" for n, x in enumerate(places))
