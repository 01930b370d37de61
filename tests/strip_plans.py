"""Invented walls with a strip behind their windows in odd positions."""

from __future__ import annotations

WALL = """rushlight: 1
subject: {title: invented wall, scale: 72, invented: true}
states: [{name: "on"}]
parts:
  - {name: wall, outline_mm: [[0, 0], [%(wide)s, 0], [%(wide)s, 200], [0, 200]], wall: black styrene, wall_mm: 2,
     relief: {flat: true}%(part)s,
     openings: [%(openings)s]}
%(spaces)sstrips:
  - {name: glow, part: wall, openings: [%(names)s], along_mm: %(along)s, gap_mm: %(gap)s, colour: warm white,
     states: ["on"], strip: "12 V warm white 3528, %(leds)s a metre", walls_reflect: %(walls)s,
     evidence: [{kind: guess, certainty: 0.6}]}
supply: {kind: adapter, adapter_v: 12, limit_a: 1, run_h: 10, fuse_a: 1}
"""
SHEET = "diffusers: [{sheet: opal acrylic 2 mm, gap_mm: 1}]"
LOW = "[60, 23, 40, 6]"


def wall(
    rects: tuple[str, ...] = (LOW,), *, along: str = "[[30, 26], [130, 26]]", gap: float = 25, leds: int = 60,
    walls: float = 0.5, wide: int = 300, part: str = "", spaces: str = "", more: str = SHEET,
) -> str:
    """A wall's plan: windows 'w0', 'w1' ... and the strip 'glow' behind them."""
    names = [f"w{number}" for number in range(len(rects))]
    openings = ", ".join(f"{{name: {name}, rect_mm: {rect}, {more}}}" for name, rect in zip(names, rects, strict=True))
    return WALL % {"wide": wide, "part": part, "openings": openings, "names": ", ".join(names), "along": along,
                   "gap": gap, "leds": leds, "walls": walls, "spaces": spaces}


def white_house(wall_mm: float) -> str:
    """White styrene with two coats of black and a strip too short for its window: a longer one shines more of itself
    at the wall."""
    return wall(along="[[55, 26], [105, 26]]").replace(
        "wall: black styrene, wall_mm: 2", f"wall: white styrene, wall_mm: {wall_mm}, coats: [black lacquer, black lacquer]")


POST = SHEET + ", posts_mm: [[80, 26]]"
ODD = {
    "near": wall(gap=12),
    "aside": wall(along="[[30, 39], [130, 39]]"),
    "aside and long enough": wall(along="[[20, 33], [170, 33]]", gap=18),
    "too short": wall(along="[[55, 26], [105, 26]]"),
    "too short on one side": wall(along="[[0, 26], [75, 26]]", leds=120),
    "too far": wall(along="[[120, 26], [220, 26]]"),
    "at the part's edge": wall(along="[[30, 26], [80, 26]]", wide=105),
    "turned": wall(("[60, 20, 40, 12]",), along="[[80, 0], [80, 100]]"),
    "slanting": wall(along="[[40, 5], [126.6, 55]]"),
    "black": wall(gap=16, walls=0.05),
    "white": wall(gap=13, walls=0.85),
    "tall": wall(("[60, 20, 40, 60]",), along="[[30, 50], [130, 50]]", gap=12),
    "two windows": wall(("[60, 23, 20, 6]", "[100, 23, 20, 6]"), along="[[55, 26], [105, 26]]"),
    "two sheets": wall(gap=7, more="diffusers: [{sheet: opal acrylic 2 mm, gap_mm: 1}, {sheet: opal acrylic 2 mm, gap_mm: 5}]"),
    "bent": wall((LOW, "[150, 40, 6, 40]"), along="[[30, 26], [153, 26], [153, 100]]", gap=12),
    "bent and aside": wall((LOW, "[150, 40, 6, 40]"), along="[[16, 38], [165, 38], [165, 190]]", gap=28),
    "a room behind of 24 mm": wall(gap=12, spaces="spaces: [{name: room, parts: [wall], size_mm: [100, 24, 60]}]\n"),
}
