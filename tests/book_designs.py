"""Small designs for the tests of sheets: each is worked out once in a run."""

from __future__ import annotations

from functools import cache

from designed import designed
from rushlight.model.design import Design

SMALL = """
rushlight: 1
subject: {title: "Punt <invented> & co", kind: other, scale: 1:50, length_m: 10, invented: true, note: Made up for a test.}
states:
  - {name: dusk, minutes: 30}
  - {name: night, minutes: 60}
parts:
  - name: hull
    outline_mm: [[0, 0], [200, 0], [200, 60], [0, 60]]
    coats: [black lacquer]
    keep_outs:
      - {name: post, why: post, centre_mm: [100, 30], radius_mm: 3}
    bays:
      - {name: bay, rect_mm: [5, 5, 60, 35], depth_mm: 20, access: screwed hatch}
    relief: {flat: true}
    note: The only hull.
  - name: House
    drawn_from: inside
    outline_mm: [[0, 0], [80, 0], [80, 40], [0, 40]]
    openings:
      - {name: pane, rect_mm: [10, 20, 12, 10], diffusers: [{sheet: opal acrylic 2 mm, gap_mm: 1}]}
      - {name: pane two, rect_mm: [30, 20, 12, 10], diffusers: [{sheet: opal acrylic 2 mm, gap_mm: 1}]}
    relief: {flat: true}
crossings:
  - {name: foot, kind: fixed, hole_mm: 4, ends: [{part: hull, at_mm: [150, 20]}, {part: House, at_mm: [60, 5]}]}
spaces:
  - {name: inside, parts: [hull, House], size_mm: [200, 60, 40]}
lamps:
  - {name: bow, part: hull, at_mm: [190, 50], colour: red, size_mm: 100, states: [dusk, night],
     evidence: [{kind: guess, certainty: 0.5}]}
  - {name: stern, part: hull, at_mm: [70, 50], colour: white, size_mm: 100, states: dusk, rhythm: Fl 4s}
rows:
  - {name: port, part: hull, along_mm: [[80, 45], [180, 45]], count: 6, colour: warm white, size_mm: 40, states: night}
strips:
  - {name: deckhouse, part: House, openings: [pane, pane two], along_mm: [[4, 25], [54, 25]], gap_mm: 18, states: night}
supply: {kind: cells, cell: AA, in_series: 4, bay: bay, fuse_a: 0.5}
"""

BARE = """
rushlight: 1
subject: {title: bare, scale: 1:72}
states: [{name: on}]
parts:
  - {name: plate, outline_mm: [[0, 0], [100, 0], [100, 50], [0, 50]]}
"""

UNFED = BARE + "lamps: [{name: a, part: plate, at_mm: [10, 10], colour: red, states: on}]\n"
UNPLACED = BARE + "lamps: [{name: a, colour: red, states: on}]\nsupply: {kind: usb power bank}\n"
NEVER_LIT = BARE + "lamps: [{name: a, part: plate, at_mm: [10, 10], colour: red, states: []}]\nsupply: {kind: cells}\n"
LIKE_NAMES = """
rushlight: 1
subject: {title: alike, scale: 1:72}
states: [{name: on}, {name: On!}]
parts:
  - {name: plate, outline_mm: [[0, 0], [100, 0], [100, 50], [0, 50]], relief: {flat: true}}
  - {name: plate!, outline_mm: [[0, 0], [100, 0], [100, 50], [0, 50]], relief: {flat: true}}
lamps:
  - {name: a, part: plate, at_mm: [10, 10], colour: red, states: on}
  - {name: b, part: plate!, at_mm: [10, 10], colour: red, states: On!}
supply: {kind: cells}
"""
HUGE = """
rushlight: 1
subject: {title: huge, scale: 1:2}
states: [{name: on}]
parts:
  - {name: plate, outline_mm: [[0, 0], [3000, 0], [3000, 1500], [0, 1500]]}
lamps: [{name: a, part: plate, at_mm: [10, 10], colour: red, states: on}]
supply: {kind: cells}
"""


@cache
def of(text: str) -> Design:
    """The design of a plan's text."""
    return designed(text)


def small() -> Design:
    """A hull with a fibre row and two LEDs, a house drawn from inside with a strip behind two panes."""
    return of(SMALL)
