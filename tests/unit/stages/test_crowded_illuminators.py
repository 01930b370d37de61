"""More illuminators than a part has room for: they stay where their fibres reach, however near a free place elsewhere is."""

from __future__ import annotations

from designed import designed

PLAN = """
rushlight: 1
subject: {title: Launch (invented), kind: ship, scale: 1:50, viewing_distance_mm: 400, invented: true}
states: [{name: night}]
parts:
  - name: hull
    outline_mm: [[0, 0], [60, 0], [60, 30], [0, 30]]
    relief: {flat: true}
    bays: [{name: socket, rect_mm: [2, 2, 10, 10], depth_mm: 30, access: open}]
  - {name: lid, outline_mm: [[0, 0], [200, 0], [200, 80], [0, 80]], relief: {flat: true}}
rows:
  - {name: ports, part: hull, along_mm: [[5, 26], [55, 26]], count: 12, colour: warm white, size_mm: 25, states: night, source: {kind: fibre}}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, bay: socket, run_h: 4}
pinned: [{of: ports, choice: fibres_per_led, value: "2"}]
measured: [{what: fibre joint, of: "5 mm warm white, flat top 120 deg", readings: [0.2], against: [1050], fibre_mm: 0.5, length_mm: 200}]
"""


def test_an_illuminator_is_never_moved_where_its_fibre_finds_no_way() -> None:
    made = designed(PLAN)
    lit = [row for row in made.loom.emitters if row.kind == "illuminator"]
    assert len(lit) >= 6 and {row.spot.part for row in lit} == {"hull"}
    assert {tail.lamp for tail in made.loom.tails} == {lamp for row in lit for lamp in row.lamps}
