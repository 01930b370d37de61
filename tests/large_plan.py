"""A made-up plan with any number of lamps: rows of fibre, single LEDs, strips, keep-outs and crossings.

Nothing in it stands for a real thing. A large plan has more parts, not one crowded part: each holds 100 lamps.
"""

from __future__ import annotations

LAMPS_A_PART = 100
LENGTH_MM, WIDTH_MM = 700, 160
STATES = ("alongside", "under way", "at work", "at anchor")

HEAD = """\
rushlight: 1
subject: {title: made-up ship (invented), scale: "1:96", viewing_distance_mm: 450, invented: true}
states: [{name: alongside}, {name: under way}, {name: at work}, {name: at anchor}]
supply: {kind: adapter, adapter_v: 12, limit_a: 20, bay: bay, run_h: 4}
"""

KEEP_OUTS = """\
    keep_outs:
      - {name: web aft, why: mating edge, rect_mm: [112, 50, 4, 60]}
      - {name: web mid, why: mating edge, rect_mm: [352, 44, 4, 50]}
      - {name: web fore, why: mating edge, rect_mm: [592, 50, 4, 60]}
      - {name: post aft, why: post, centre_mm: [60, 80], radius_mm: 5}
      - {name: post fore, why: post, centre_mm: [640, 80], radius_mm: 5}
      - {name: block, why: mechanism, outline_mm: [[300, 96], [330, 100], [336, 116], [318, 122], [298, 112]]}
"""


def large_plan(lamps: int) -> str:
    """The plan's text: of each hundred lamps about 70 on fibre, 20 single LEDs, 10 openings lit by a strip."""
    shares = [min(LAMPS_A_PART, lamps - start) for start in range(0, lamps, LAMPS_A_PART)]
    numbered = list(enumerate(shares, 1))
    sections = {
        "parts": [_part(number, share) for number, share in numbered],
        "crossings": [_crossing(number) for number, _ in numbered[1:]],
        "rows": [row for number, share in numbered for row in _rows(number, _fibres(share))],
        "strips": [_strip(number, _panes(share)) for number, share in numbered if _panes(share)],
        "lamps": [lamp for number, share in numbered for lamp in _leds(number, share)],
    }
    return HEAD + "".join(f"{name}:\n{''.join(rows)}" for name, rows in sections.items() if rows)


def _panes(share: int) -> int:
    return share // 10


def _fibres(share: int) -> int:
    return share * 7 // 10


def _part(number: int, share: int) -> str:
    panes = "".join(
        f"      - {{name: pane {k}, rect_mm: [{150 + 14 * k}, 76, 9, 10], diffusers: [{{sheet: opal acrylic 2 mm, gap_mm: 1}}]}}\n"
        for k in range(1, _panes(share) + 1)
    )
    bay = "    bays: [{name: bay, rect_mm: [430, 60, 60, 36], depth_mm: 30, access: screwed hatch}]\n"
    outline = f"[[0, 30], [40, 0], [{LENGTH_MM - 30}, 0], [{LENGTH_MM}, 60], [{LENGTH_MM}, {WIDTH_MM}], [0, {WIDTH_MM}]]"
    return (
        f"  - name: part {number}\n    outline_mm: {outline}\n    relief: {{flat: true}}\n"
        + (f"    openings:\n{panes}" if panes else "") + KEEP_OUTS + (bay if number == 1 else "")
    )


def _crossing(number: int) -> str:
    """Each part hangs on the one before it, now at the stern, now at the bow."""
    x = 20 if number % 2 else LENGTH_MM - 20
    ends = f"[{{part: part {number - 1}, at_mm: [{x}, 90]}}, {{part: part {number}, at_mm: [{x}, 90]}}]"
    return f"  - {{name: crossing {number}, kind: fixed, ends: {ends}, slack_mm: 30, hole_mm: 8}}\n"


def _rows(number: int, fibres: int) -> list[str]:
    """Two rows of fibre, one above the other, lit in different states."""
    upper = fibres // 2
    rows = [(upper, 140, f"[{STATES[number % 4]}, {STATES[(number + 1) % 4]}]"), (fibres - upper, 22, f"[{STATES[number % 2]}]")]
    return [
        f"  - {{name: row {number} at {y}, part: part {number}, along_mm: [[60, {y}], [640, {y}]], count: {count}, "
        f"colour: warm white, size_mm: 60, source: {{kind: fibre}}, states: {states}}}\n"
        for count, y, states in rows if count
    ]


def _strip(number: int, panes: int) -> str:
    names = ", ".join(f"pane {k}" for k in range(1, panes + 1))
    return (
        f"  - {{name: strip {number}, part: part {number}, openings: [{names}], along_mm: [[155, 81], [{165 + 14 * panes}, 81]], "
        f"gap_mm: 15, colour: warm white, states: [{STATES[0]}, {STATES[3]}]}}\n"
    )


def _leds(number: int, share: int) -> list[str]:
    count = share - _fibres(share) - _panes(share)
    return [
        f"  - {{name: lamp {number}.{k}, part: part {number}, at_mm: [{70 + 27.5 * k:g}, {116 + 5 * (k % 3)}], colour: white, "
        f"size_mm: 190, states: [{STATES[k % 4]}], source: {{kind: led}}}}\n"
        for k in range(1, count + 1)
    ]
