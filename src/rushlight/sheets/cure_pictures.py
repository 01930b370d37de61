"""A strip's windows as they are and as the told cure would leave them: luminance, both at one scale."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from rushlight.model.design import Design
from rushlight.model.sheet import EDGE, Drawing, Layer, Mark, Picture, Polyline, Text
from rushlight.optics.display import encoded
from rushlight.sheets.amounts import amount, sentence
from rushlight.sheets.glow import png_of
from rushlight.sheets.place import fit_scale, framed
from rushlight.sheets.words import shortened, slug
from rushlight.stages.strip_cures import StripCures, Trial, strip_cures, uneven_strips
from rushlight.stages.strip_looks import Pattern, patterns_of
from rushlight.stages.strip_words import left_words, ratio_words, trial_words

MOST_SHOWN = 4
"""Windows of one picture: the least even, the brightest, the dimmest, and those that come first."""

ROW_MM, TALL_MM = 150.0, 30.0
"""Width of a row of windows on paper, and its height."""

APART_MM, LINE_MM = 4.0, 3.5
"""Space between windows, and the height of a line of words above them."""

LINES = 2
"""What the row shows, and the windows' names."""

TITLES = {"spots": " made even", "posts": " without the post's shadow", "alike": ": windows made alike"}

KEYS = {"spots": "even", "posts": "post", "alike": "alike"}


def cure_pictures(design: Design) -> list[Drawing]:
    """For each strip that was searched its windows before and after: by the first cure that does, else the nearest."""
    made = []
    for name, goal in uneven_strips(design):
        cures = strip_cures(design, name, goal=goal)
        trial = next(iter(cures.reaching), cures.best)
        if trial is not None:
            made.append(_drawing(cures, trial))
    return made


@lru_cache(maxsize=64)
def _drawing(cures: StripCures, trial: Trial) -> Drawing:
    """Kept, because most edits leave a strip as it is."""
    shown = _shown(cures)
    before, after = _patterns(cures, trial, shown)
    most = max(float(row.cd_m2.max()) for row in (*before, *after))
    wide, high = sum(row.size_mm[0] for row in before), max(row.size_mm[1] for row in before)
    room = ROW_MM - APART_MM * (len(before) - 1)
    scale = fit_scale(wide, high, page_width_mm=room, page_height_mm=TALL_MM, largest=5.0)
    lower = high * scale + APART_MM + LINES * LINE_MM
    layers = [*_row(before, "now", most=most, scale=scale, up_mm=lower),
              *_row(after, "tried" if trial.reaches else "tried, not enough", most=most, scale=scale, up_mm=0.0)]
    some = "" if len(shown) == len(cures.now.openings) else f" {len(shown)} of {len(cures.now.openings)} windows."
    apart = "" if cures.goal == "alike" or len(cures.now.openings) == 1 else (
        f" Brightest window to dimmest {ratio_words(cures.apart)}, then {ratio_words(trial.apart)}.")
    caption = (f"Above as it is, below as tried: {trial_words(cures, trial)} ({left_words(cures, trial)}). White is "
               f"{amount(most)} cd/m2 in both, black none.{apart}{some}")
    return framed(layers, key=f"cure-{KEYS[cures.goal]}-{slug(cures.strip)}"[:80],
                  title=sentence(f"{shortened(cures.strip, 40)}{TITLES[cures.goal]}, now and as tried"), scale=scale,
                  caption=caption)


def _shown(cures: StripCures) -> tuple[int, ...]:
    """Numbers of the windows that are drawn."""
    count = len(cures.now.openings)
    if count <= MOST_SHOWN:
        return tuple(range(count))
    return tuple(sorted(list(dict.fromkeys([*cures.worst, *range(count)]))[:MOST_SHOWN]))


def _patterns(
    cures: StripCures, trial: Trial, shown: tuple[int, ...]
) -> tuple[tuple[Pattern, ...], tuple[Pattern, ...]]:
    posts = cures.goal != "spots"
    return (patterns_of(cures.room, cures.now, shown, posts=posts),
            patterns_of(cures.room, trial.laid, shown, posts=posts))


def _row(rows: Sequence[Pattern], label: str, *, most: float, scale: float, up_mm: float) -> list[Layer]:
    """Windows side by side, each with its name, the label over the first."""
    pictures: list[Mark] = []
    outlines: list[Mark] = []
    texts: list[Mark] = []
    left = 0.0
    for row in rows:
        wide, high = (scale * size for size in row.size_mm)
        codes = encoded(np.clip(row.cd_m2[::-1] / most, 0.0, 1.0))
        pictures.append(Picture((left, up_mm), wide, high, png_of(codes)))
        outline = tuple((left + scale * (x - row.corner_mm[0]), up_mm + scale * (y - row.corner_mm[1]))
                        for x, y in row.opening.shape_mm)
        outlines.append(Polyline(outline, EDGE, closed=True))
        texts.append(Text((left, up_mm + high + 1.0), shortened(row.opening.name, max(int(wide / 1.6), 8)), 2, "sw"))
        left += wide + APART_MM
    highest = max(scale * row.size_mm[1] for row in rows)
    texts.append(Text((0.0, up_mm + highest + 1.0 + LINE_MM), label, 2, "sw", bold=True))
    return [Layer("picture", tuple(pictures)), Layer("outline", tuple(outlines)), Layer("text", tuple(texts))]
